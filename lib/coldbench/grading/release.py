"""From a homework's declaration to its notebooks: the source with worked answers, the release with blanks.

``python -m coldbench.grading.release`` writes, for every ``solutions/homework-NN/questions.py``: beside it
``sheet.json`` and the source notebook, and into ``exercises/`` what students get. With ``--check`` it
writes nothing and says what differs. The same input gives the same bytes.
"""

from __future__ import annotations

import json
import sys
import textwrap
from pathlib import Path

import nbformat
from nbformat.v4 import new_code_cell, new_markdown_cell, new_notebook
from nbgrader.utils import compute_checksum

from coldbench.grading.blank_answers import blank
from coldbench.homework.declare import Homework, Question, load
from coldbench.homework.drawing import accepted_draws
from coldbench.homework.kinds import Choice, Number, Order, Sentence, Table
from coldbench.homework.sheet import FILE_NAME, Sheet

SAMPLE_STUDENT = "s00"
"""The student of the worked answers; nobody in a roster has this number."""

HOW_TO = """\
**How it goes.** Type your student number in the next cell, between quotation marks. Choose *Run*, then
*Run All Cells*: below each answer cell its question appears, with numbers that are yours alone. Put your
answer in place of the three dots `...` and run the cell again: it says what it understood, not whether it is
right.
Work on paper, with a calculator or in extra cells, as you like.
"""

HAND_IN = """\
## Hand in

Run all cells once more, save (Ctrl+S), and hand in this notebook file. A question without an answer earns
nothing; an unsure one may: a known slip still earns half, a known wrong idea a quarter.
"""


def source_notebook(homework: Homework, sheet: Sheet) -> nbformat.NotebookNode:
    """Write the source notebook of a homework, worked answers of the sample student included.

    Parameters: ``homework`` its declaration; ``sheet`` the half that students hold.
    Returns: the notebook, with fixed cell ids.
    """
    opening = [f"# Homework {homework.number}: {homework.title}", homework.story, HOW_TO]
    if homework.cautions:
        opening.insert(2, f"**Where people are hurt.** {homework.cautions}")
    begin = 'from coldbench.homework import answer, student\n\nstudent({})  # for example student("s07")'
    cells = [
        new_markdown_cell("\n\n".join(opening).rstrip(), id="opening"),
        _code("student-number", begin.format(json.dumps(SAMPLE_STUDENT)), begin.format("...")),
    ]
    right: dict[str, object] = {}
    for question in homework.questions.values():
        numbers = sheet.numbers(SAMPLE_STUDENT, question.id)
        if question.key_function is not None:
            right[question.id] = question.key_function(numbers, right)
        cells += _question_cells(question, right.get(question.id))
    cells.append(new_markdown_cell(HAND_IN.rstrip(), id="hand-in"))
    metadata = {
        "coldbench": {"homework": homework.number, "edition": sheet.edition},
        "kernelspec": {"display_name": "Python 3", "language": "python", "name": "python3"},
        "language_info": {"name": "python"},
    }
    return new_notebook(cells=cells, metadata=metadata)


def _question_cells(question: Question, key: object) -> list:
    name = cell_id(question.id)
    points = f"{question.points:g} point{'' if question.points == 1 else 's'}"
    text = f"## {question.id} · {question.title} ({points})"
    hint = question.kind.hint()
    head = f"# {question.id}: {hint}\n" if len(hint) < 90 else f"# {question.id}\n"
    worked, empty = _typed(question, key)
    grade = {
        "grade": True,
        "grade_id": name,
        "locked": False,
        "points": question.points,
        "schema_version": 3,
        "solution": True,
        "task": False,
    }
    call = f'{head}answer("{question.id}", {{}})'
    cell = _code(name, call.format(worked), call.format(empty))
    cell.metadata["nbgrader"] = grade
    return [new_markdown_cell(text, id=f"{name}-title"), cell]


def _typed(question: Question, key: object) -> tuple[str, str]:
    """The worked answer and the blank one, as they stand in the call."""
    kind = question.kind
    if isinstance(kind, Number):
        return json.dumps(kind.show(key), ensure_ascii=False), "..."
    if isinstance(kind, Choice):
        return json.dumps(key), "..."
    if isinstance(kind, Order):
        return json.dumps(kind.show(key)), "..."
    if isinstance(kind, Table):
        rows = [(json.dumps(row, ensure_ascii=False), json.dumps(key[row])) for row in kind.rows]
        filled, empty = (
            "".join(f"    {row}: {cell},\n" for row, cell in pairs)
            for pairs in (rows, [(row, "...") for row, _ in rows])
        )
        return f"{{\n{filled}}}", f"{{\n{empty}}}"
    assert isinstance(kind, Sentence)  # noqa: S101 - the last of the five kinds
    return f'"""\n{textwrap.fill(question.full_marks, 100)}\n"""', '"""\n\n"""'


def _code(name: str, worked: str, empty: str) -> nbformat.NotebookNode:
    return new_code_cell(worked, id=name, metadata={"coldbench": {"blank": empty}})


def cell_id(question: str) -> str:
    """Name the cell of a question.

    Parameters: ``question`` its id, such as "05.3".
    Returns: its fixed cell id and nbgrader grade id, such as ``"question-05-3"``.
    """
    return "question-" + question.replace(".", "-")


def release_notebook(source: nbformat.NotebookNode) -> nbformat.NotebookNode:
    """Make what students get from a source notebook: worked answers blanked, checksums set.

    Parameters: ``source`` the source notebook; it stays as it is.
    Returns: the release notebook.
    """
    released = blank(source)
    for cell in released.cells:
        if "nbgrader" in cell.metadata:
            cell.metadata["deletable"] = False
            cell.metadata.nbgrader["cell_type"] = cell.cell_type
            cell.metadata.nbgrader["checksum"] = compute_checksum(cell)
    return released


def files_of(folder: Path) -> dict[Path, str]:
    """Work out every generated file of a homework.

    Parameters: ``folder`` such as ``solutions/homework-05``; ``exercises`` lies beside ``solutions``.
    Returns: path to the text it should hold.
    """
    homework = load(folder)
    plain = homework.sheet(accepted_draws(homework))
    source = source_notebook(homework, Sheet(plain))
    sheet = json.dumps(plain, ensure_ascii=False, indent=None, separators=(",", ":"))
    sheet = sheet.replace('{"id":', '\n{"id":').replace('"rows":', '\n"rows":') + "\n"
    exercises = folder.parent.parent / "exercises" / homework.name
    return {
        folder / FILE_NAME: sheet,
        folder / f"{homework.name}.ipynb": _text(source),
        exercises / FILE_NAME: sheet,
        exercises / f"{homework.name}.ipynb": _text(release_notebook(source)),
    }


def _text(notebook: nbformat.NotebookNode) -> str:
    nbformat.validate(notebook)
    return nbformat.writes(notebook, indent=1) + "\n"


def main(arguments: list[str]) -> int:
    """Write all generated files, or with ``--check`` say which differ.

    Parameters: ``arguments`` the folder of the clone (the current one when left out) and ``--check``.
    Returns: 0 when all is (now) as it should be, 1 when a check found differences.
    """
    folders = [word for word in arguments if word != "--check"]
    root = Path(folders[0] if folders else ".").resolve()
    differing = []
    for declaration in sorted((root / "solutions").glob("homework-*/questions.py")):
        for path, text in files_of(declaration.parent).items():
            if not path.is_file() or path.read_text(encoding="utf-8") != text:
                differing.append(path)
                if "--check" not in arguments:
                    path.parent.mkdir(parents=True, exist_ok=True)
                    path.write_text(text, encoding="utf-8", newline="\n")
    for path in differing:
        print(f"{'differs' if '--check' in arguments else 'written'}: {path.relative_to(root)}")
    return 1 if differing and "--check" in arguments else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
