"""Reading a handed-in notebook as text, without running anything in it.

Inside: `read_notebook` (bytes to cells, every kind of damage a sentence), `questions_in` (which questions
a cell answers), `typed_answers` (answers that are plain values, read as they stand).

Only sources of cells and two words of metadata are taken over. Outputs, attachments and every other
piece of metadata are left where they are.
"""

from __future__ import annotations

import ast
import json
import re
from collections import Counter
from dataclasses import dataclass, replace

from coldbench.errors import CannotRead
from coldbench.grading.plain_values import HALF_LETTER, cut, is_blank, is_plain, is_question

LARGEST = 20_000_000
"""Largest notebook that is read [bytes]: a filled-in homework has some 30 kB."""

MOST_CELLS, LONGEST_SOURCE = 2_000, 100_000
"""Most cells of a notebook, and characters of the longest cell that is read without running it."""

QUESTION = re.compile(r"""\banswer\s*\(\s*(["'])(\d\d\.\d{1,2})\1""")
STUDENT = re.compile(r"""\bstudent\s*\(\s*(["'])([^"'\n]{1,60})\1\s*\)""")
CALL = re.compile(r"\b(answer|student)\s*\(")
CELL_ID = re.compile(r"question-(\d\d)-(\d{1,2})")


@dataclass(frozen=True)
class Cell:
    """One cell of a handed-in notebook.

    Parameters
    ----------
    name : str
        The cell's id, or nothing in files that have none
    kind : str
        "code", "markdown" or "raw"
    source : str
        Its text

    Source
    ------
    The notebook format's own description, version 4.
    """

    name: str
    kind: str
    source: str


@dataclass(frozen=True)
class Notebook:
    """A handed-in notebook, reduced to what marking may look at.

    Parameters
    ----------
    cells : tuple of Cell
        In their order
    homework : str or None
        Number of the homework it says it is, for example "05"
    edition : str or None
        The edition of the homework it was made from
    remarks : tuple of str
        Sentences about oddities that did no harm

    Source
    ------
    Arrangement of this project.
    """

    cells: tuple[Cell, ...]
    homework: str | None = None
    edition: str | None = None
    remarks: tuple[str, ...] = ()

    @property
    def code(self) -> tuple[Cell, ...]:
        """The code cells, in their order."""
        return tuple(cell for cell in self.cells if cell.kind == "code")

    @property
    def questions(self) -> tuple[str, ...]:
        """Every question that some code cell answers or is named after, each once."""
        found = dict.fromkeys(question for cell in self.code for question in questions_in(cell))
        return tuple(found)


def questions_in(cell: Cell) -> tuple[str, ...]:
    """Name the questions that a cell answers, by its text or else by its id.

    Parameters
    ----------
    cell : Cell
        A code cell

    Returns
    -------
    tuple of str
        For example ("05.3",)

    Source
    ------
    Arrangement of this project: a question's cell holds ``answer("05.3", …)`` and is named
    ``question-05-3``.
    """
    written = tuple(dict.fromkeys(match[2] for match in QUESTION.finditer(cell.source)))
    named = CELL_ID.fullmatch(cell.name)
    return written or ((f"{named[1]}.{named[2]}",) if named else ())


def homework_of(notebook: Notebook) -> str | None:
    """Tell which homework a notebook is: by most of its questions, or else by what it says of itself.

    Parameters
    ----------
    notebook : Notebook
        A handed-in notebook

    Returns
    -------
    str or None
        For example "05"; None when nothing tells

    Source
    ------
    Arrangement of this project.
    """
    counted = Counter(question[:2] for question in notebook.questions)
    return counted.most_common(1)[0][0] if counted else notebook.homework


def read_notebook(content: bytes) -> Notebook:
    """Read a notebook file of any format version, running nothing.

    Parameters
    ----------
    content : bytes
        The file as handed in; a byte-order mark is accepted

    Returns
    -------
    Notebook
        Its cells, and remarks about harmless oddities

    Raises
    ------
    CannotRead
        Too large, empty, not text, broken JSON, or not a notebook: the sentence says which.

    Source
    ------
    The notebook format's own description; older versions are converted by its library.
    """
    if len(content) > LARGEST:
        raise CannotRead(
            f"The file has {len(content) / 1e6:.0f} MB; a homework has far less than {LARGEST / 1e6:.0f} MB. "
            "Ask the student to clear the outputs (Edit, Clear Outputs of All Cells), save and hand in again."
        )
    if not content.strip():
        raise CannotRead("The file is empty. Ask the student to save the notebook and hand it in again.")
    try:
        text, remarks = _text(content)
        tree = json.loads(text)
    except (ValueError, RecursionError):
        raise CannotRead(
            "The file is damaged: it breaks off or is not a notebook's text. "
            "Ask the student to open it, save it and hand it in again, or to hand in an earlier copy."
        ) from None
    if not isinstance(tree, dict) or not isinstance(tree.get("nbformat"), int):
        raise CannotRead("The file is not a notebook. Ask the student for the .ipynb file of the homework.")
    if tree["nbformat"] < 4:
        tree = _newer_format(tree)
        remarks.append("The notebook had an old format; a converted copy was read.")
    elif tree["nbformat"] > 4:
        remarks.append("The notebook has a newer format than this program knows; it was read all the same.")
    cells = tree.get("cells")
    if not isinstance(cells, list) or not all(isinstance(cell, dict) for cell in cells):
        raise CannotRead("The notebook has no cells. Ask the student to hand in the notebook they filled in.")
    if len(cells) > MOST_CELLS:
        raise CannotRead(
            f"The notebook has {len(cells):,} cells; a homework has far less than {MOST_CELLS:,} cells. "
            "Ask the student for the notebook they filled in."
        )
    ours = _inner(_inner(tree, "metadata"), "coldbench")
    read = [_cell(cell) for cell in cells]
    turned = _turned_back(read)
    if turned != read:
        remarks.append("An answer stood in a cell of text; it was read as if in a cell of code.")
    return Notebook(
        cells=tuple(turned),
        homework=_short_text(ours.get("homework")),
        edition=_short_text(ours.get("edition")),
        remarks=tuple(remarks),
    )


def _text(content: bytes) -> tuple[str, list[str]]:
    """Turn a file's bytes into text, and say so where an editor saved it in an old way."""
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        return content.decode("utf-16"), []
    if content[:2] in (b"{\0", b"\0{"):
        return content.decode("utf-16-le" if content[0] else "utf-16-be"), []
    try:
        return content.decode("utf-8-sig"), []
    except UnicodeDecodeError:
        return content.decode("cp1252", "replace"), [
            "The file was saved in an old way, so that letters other than A to Z may have changed."
        ]


def typed_answers(notebook: Notebook) -> tuple[dict[str, object], str | None, tuple[str, ...]]:
    """Read the answers that are plain values, exactly as typed; nothing is run.

    Parameters
    ----------
    notebook : Notebook
        A handed-in notebook

    Returns
    -------
    tuple
        Answers by question (None where not answered), the student number typed or None, and the
        questions whose answer is worked out by code and so could not be read

    Source
    ------
    Arrangement of this project; values by ``ast.literal_eval`` of the standard library.
    """
    answers: dict[str, object] = {}
    worked_out: dict[str, None] = {}
    typed = None
    for cell in notebook.code:
        for call in _calls(cell.source):
            parts = _arguments(call)
            try:
                values = [_typed_value(part) for part in parts]
            except (ValueError, TypeError, SyntaxError, MemoryError, RecursionError):
                values = [part.value if isinstance(part, ast.Constant) else part for part in parts[:1]]
            if call.func.id == "student" and len(values) == 1 and isinstance(values[0], str | int):
                typed = str(values[0]).strip()
            elif call.func.id == "answer" and values and is_question(values[0]):
                if len(values) == 2:
                    if not is_blank(values[1]) or values[0] not in answers:
                        answers[values[0]] = values[1]
                else:
                    worked_out[values[0]] = None
    return answers, typed, tuple(question for question in worked_out if is_blank(answers.get(question)))


def typed_student(notebook: Notebook) -> str | None:
    """Find the student number typed in ``student("…")``, without running anything.

    Parameters
    ----------
    notebook : Notebook
        A handed-in notebook

    Returns
    -------
    str or None
        The last one typed

    Source
    ------
    Arrangement of this project.
    """
    typed = typed_answers(notebook)[1]
    if typed is None:  # perhaps in a cell that is not written as Python can read it
        bare = (line.split("#")[0] for cell in notebook.code for line in cell.source.splitlines())
        found = [match[2].strip() for line in bare for match in STUDENT.finditer(line)]
        typed = found[-1] if found else None
    return typed


def _arguments(call: ast.Call) -> list[ast.expr]:
    """What is given to ``answer`` or ``student``, in their order, by place or by name."""
    named = {keyword.arg: keyword.value for keyword in call.keywords}
    return [*call.args, *(named[name] for name in ("number", "question", "value") if name in named)]


def _calls(source: str) -> list[ast.Call]:
    """Every call of ``answer`` or ``student`` that stands as a line of its own."""
    if len(source) > LONGEST_SOURCE or not CALL.search(source):
        return []
    plain = "\n".join("" if line.lstrip().startswith(("%", "!")) else line for line in source.splitlines())
    try:
        body = ast.parse(plain).body
    except (SyntaxError, ValueError, MemoryError, RecursionError):
        return []
    calls = [line.value for line in body if isinstance(line, ast.Expr) and isinstance(line.value, ast.Call)]
    return [
        call for call in calls if isinstance(call.func, ast.Name) and call.func.id in ("answer", "student")
    ]


def _typed_value(part: ast.expr) -> object:
    value = cut(_without_dots(ast.literal_eval(part)))
    if not is_plain(value):
        raise ValueError
    return value


def _without_dots(value: object) -> object:
    if isinstance(value, dict):
        return {row: _without_dots(cell) for row, cell in value.items()}
    if isinstance(value, list | tuple):
        return [_without_dots(cell) for cell in value]
    return None if value is ... else value


def _newer_format(tree: dict) -> dict:
    """Convert a notebook of format 1, 2 or 3, in memory."""
    import nbformat

    try:
        return nbformat.convert(nbformat.from_dict(tree), 4)
    except Exception:  # the converter fails in many ways on damaged files
        raise CannotRead(
            "The notebook has an old format that could not be converted. "
            "Ask the student to open it in the course's JupyterLab, save it and hand it in again."
        ) from None


def _cell(cell: dict) -> Cell:
    source = cell.get("source", "")
    if isinstance(source, list):
        source = "".join(part for part in source if isinstance(part, str))
    name, kind = cell.get("id"), cell.get("cell_type")
    return Cell(
        name=_short_text(name) or "",
        kind=kind if kind in ("code", "markdown") else "raw",
        source=HALF_LETTER.sub("�", source) if isinstance(source, str) else "",
    )


def _turned_back(cells: list[Cell]) -> list[Cell]:
    """Take answer cells that became text by a wrong key for code, where no other cell has the answer."""
    answered = {question for cell in cells if cell.kind == "code" for question in questions_in(cell)}
    return [
        replace(cell, kind="code")
        if cell.kind != "code" and _calls(cell.source) and not answered.intersection(questions_in(cell))
        else cell
        for cell in cells
    ]


def _inner(tree: dict, key: str) -> dict:
    inner = tree.get(key)
    return inner if isinstance(inner, dict) else {}


def _short_text(value: object) -> str | None:
    return value if isinstance(value, str) and 0 < len(value) <= 100 else None
