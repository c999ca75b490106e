"""An invented class: 24 students who hand in homework 01 and 05, filled in and executed.

Inside: who they are (`CLASS`), `work` (one student, one question), `make_hand_ins` (their notebooks, the
roster, and the truth about every answer), two ways to execute a notebook. Answers come from
`invented_study.py`, whose functions are found here too; sentences from `invented_sentences.py`. Everything
is invented and comes out the same each time.
"""

from __future__ import annotations

import ast
import contextlib
import copy
import csv
import json
import sys
import traceback
import zipfile
from collections.abc import Callable
from importlib import import_module
from pathlib import Path
from random import Random
from typing import NamedTuple

from coldbench.homework import answers, sheet

sys.path.append(str(Path(__file__).parent))
thinking = import_module("invented_thinking")
study = import_module("invented_study")
sentence = import_module("invented_sentences").sentence
STRATA, study_answer, ideas_for = study.STRATA, study.study_answer, study.ideas_for
answer_right, answer_with_idea, as_value = study.answer_right, study.answer_with_idea, study.as_value

HOMEWORKS = ("01", "05")


class Student(NamedTuple):
    """One invented student: a manner of working, ideas held throughout, ways of typing, a trouble."""

    number: str
    name: str
    manner: str
    ideas: tuple[str, ...] = ()
    typing: str = "text"
    trouble: str = ""


MANNERS = {  # how often, where no idea held bears on the question
    "strong": {"right": 0.94, "right, rounded": 0.06},
    "steady": {"right": 0.74, "right, rounded": 0.1, "unit slip": 0.04, "random slip": 0.06, STRATA[4]: 0.06},
    "careless": {"right": 0.3, "right, rounded": 0.25, "unit slip": 0.2, "random slip": 0.2, "blank": 0.05},
    "lost": {"right": 0.22, "exact idea": 0.33, "two ideas": 0.1, STRATA[4]: 0.2, "blank": 0.15},
    "absent": {"right": 0.35, "blank": 0.65},
}
GAUGE, VACUUM, BOX = "gauge_as_absolute", "vacuum_as_pressure_above", "superheat_from_box"
KELVIN, OPEN, RISE = "celsius_for_kelvin", "open_hot_short_cold", "ohms_rise_with_temperature"
EXCHANGED = "superheat_subcooling_exchanged"
CLASS = (
    Student("s01", "Mirembe Katoola", "strong"),
    Student("s02", "Jonas Hallberget", "steady", (GAUGE, OPEN)),
    Student("s03", "Linh Duongvan", "strong", typing="plain"),
    Student("s04", "Rosalía Quintabar", "steady", (VACUUM,), trouble="syntax error"),
    Student("s05", "Tomasz Wierzbinek", "careless"),
    Student("s06", "Aylin Karademirel", "steady", (KELVIN, GAUGE)),
    Student("s07", "Noa Bentavor", "strong", ("divider_upside_down",)),
    Student("s08", "Hiroto Mizukane", "strong", typing="python"),
    Student("s09", "Chidi Nwabuoku", "steady", (OPEN,), trouble="endless loop"),
    Student("s10", "Lupe Tamarisco", "lost"),
    Student("s11", "Sione Falepapa", "steady", ("difference_with_32", OPEN)),
    Student("s12", "Parisa Golabdar", "steady", (VACUUM, "far_straight_line")),
    Student("s13", "Deepika Ranavelu", "strong", trouble="deleted question cell"),
    Student("s14", "Eamon Garraleigh", "careless", (GAUGE,)),
    Student("s15", "Yusra Hattabiya", "steady", ("altitude_ignored", "log10_for_ln")),
    Student("s16", "Marek Drobnik-Sava", "steady", (RISE,), typing="comma"),
    Student("s17", "Soo-min Baekdam", "strong", ("ohms_percent_is_degree_percent",)),
    Student("s18", "Tala Redwillow", "absent"),
    Student("s19", "Ikaika Kanehalu", "lost", (GAUGE, OPEN)),
    Student("s20", "Fatou Diabassy", "steady", (BOX,), trouble="wrong homework"),
    Student("s21", "Viktor Zelenchuk", "steady", ("wrong_refrigerant_curve", "parallel_path_ignored")),
    Student("s22", "Bruna Caldeirinha", "careless", (BOX,), trouble="broken JSON"),
    Student("s23", "Wenshao Liqiu", "steady", (VACUUM, "offset_32_forgotten")),
    Student("s24", "Anneke Vosmeerin", "strong", (EXCHANGED,), trouble="wrong student number"),
)
WRONG_NUMBER = "s42"
ZIPPED = "s16"  # hands in a zip with renamed notebooks: odd, but nothing is wrong with it
TROUBLED, LOST = "05", "05.4"  # troubles befall this homework, and where it is one cell, this question
SPELLINGS = {
    "degF": ("degF", "°F", "F"),
    "kohm": ("kohm", "kΩ", "k"),
    "V": ("V", "volts"),
    "K": ("K", "kelvin"),
    "inHg vacuum": ("inHg vacuum", "inches of mercury vacuum"),
}
UNIT_ASKED = {"01.4": "K", "05.2": "kohm", "05.4": "V"}  # degF elsewhere
CARRIED = ("right", "right, rounded", "right, on an earlier answer", "exact idea", "two ideas", STRATA[4])
QUALITIES = {
    "strong": ("good",),
    "steady": ("good", "mixed"),
    "careless": ("mixed", "poor"),
    "lost": ("poor",),
}


class Answer(NamedTuple):
    """What one student typed at one question, and what was really behind it."""

    question: str
    text: str | None
    stratum: str
    idea: str = ""


def work(student: Student, item: sheet.Item, numbers: sheet.Numbers, before: dict, random: Random) -> Answer:
    """Let a student answer one question.

    Parameters: ``student`` who; ``item`` the question; ``numbers`` the student's numbers for it; ``before``
    earlier questions to their `Answer`; ``random`` the student's own generator.
    Returns: the `Answer`; its text is None when left blank.
    """
    question, typed = item.id, numbers.typed
    if question not in thinking.WAYS:
        if student.manner == "absent":
            return Answer(question, None, "blank")
        place, qualities = CLASS.index(student), QUALITIES[student.manner]
        text, quality, idea = sentence(question, place, qualities, student.ideas)
        return Answer(question, text, f"sentence, {quality}", idea)
    earlier = {
        name: float(done.text.split()[0])
        for name, done in before.items()
        if name in thinking.CHAINS.get(question, ()) and done.stratum in CARRIED
    }
    stratum = random.choices(list(MANNERS[student.manner]), list(MANNERS[student.manner].values()))[0]
    held = [idea for idea in student.ideas if answer_with_idea(question, idea, typed, earlier)]
    if held and random.random() < 0.92:
        return Answer(question, answer_with_idea(question, held[0], typed, earlier), "exact idea", held[0])
    if stratum == "blank":
        return Answer(question, None, stratum)
    found = study_answer(stratum, question, typed, earlier, random) if stratum in STRATA else None
    if found:
        return Answer(question, found[0], stratum, found[1] or "")
    right = thinking.worked(question, typed, earlier)
    if stratum == "right, rounded" and not isinstance(right, str):
        return Answer(question, thinking.written(question, right, random.choice((2, 3))), stratum)
    text = answer_right(question, numbers.shown, typed, earlier)
    wrong_before = any("right" not in before[name].stratum for name in earlier)
    follows = wrong_before and text != answer_right(question, numbers.shown, typed, {})
    return Answer(question, text, "right, on an earlier answer" if follows else "right")


def in_cell(student: Student, item: sheet.Item, text: str, random: Random) -> str:
    """Write an answer as the code of a cell, in the student's way of typing."""
    figure, _, unit = text.partition(" ")
    if item.kind.name == "sentence":
        return f'"""\n{text}\n"""'
    if item.kind.name != "number":
        return json.dumps(random.choice((text, text.replace(" ", ""), text.replace(" ", " < "))))
    if student.typing in ("plain", "python") and unit == UNIT_ASKED.get(item.id, "degF"):
        return figure if student.typing == "plain" else f"round({float(figure)!r} * 1.0, 2)"
    if student.typing == "comma":
        figure = figure.replace(".", ",").replace("-", "\u2212")
    return json.dumps(f"{figure} {random.choice(SPELLINGS.get(unit, (unit,)))}", ensure_ascii=False)


def fill(cell: dict, blank: str, written: str) -> None:
    """Put something in place of a blank in a cell.

    Parameters: ``cell`` of the notebook, changed in place; ``blank`` what the exercise has; ``written`` what
    is to stand there.
    Raises: `ValueError` when the exercise has no such blank.
    """
    source = "".join(cell["source"])
    if blank not in source:
        raise ValueError(f"The cell {cell['id']} has no {blank!r} to fill in. Has the exercise changed?")
    cell["source"] = source.replace(blank, written, 1).splitlines(keepends=True)


def cell_of(notebook: dict, question: str) -> dict:
    """Find the answer cell of a question."""
    return next(cell for cell in notebook["cells"] if cell["id"] == "question-" + question.replace(".", "-"))


def fill_in(student: Student, notebook: dict, page: sheet.Sheet, random: Random) -> list[Answer]:
    """Fill in a released notebook.

    Parameters: ``student`` who; ``notebook`` changed in place; ``page`` the sheet; ``random`` a generator.
    Returns: an `Answer` for every question.
    """
    troubled = student.trouble == "wrong student number" and page.homework == TROUBLED
    number = WRONG_NUMBER if troubled else student.number
    start = next(cell for cell in notebook["cells"] if cell["id"] == "student-number")
    fill(start, "student(...)", f'student("{number}")')
    done = {}
    for question, item in page.items.items():
        found = done[question] = work(student, item, page.numbers(number, question), done, random)
        if found.text is None:
            continue
        if item.kind.name == "table":
            for row, letter in as_value(question, found.text).items():
                fill(cell_of(notebook, question), f'"{row}": ...', f'"{row}": "{letter}"')
        else:
            blank = '"""\n\n"""' if item.kind.name == "sentence" else "..."
            fill(
                cell_of(notebook, question),
                f'answer("{question}", {blank}',
                f'answer("{question}", {in_cell(student, item, found.text, random)}',
            )
    return list(done.values())


def make_trouble(trouble: str, notebook: dict) -> list[str]:
    """Do to a notebook what some hand-ins have suffered.

    Parameters: ``trouble`` its name; ``notebook`` changed in place.
    Returns: the questions that are lost by it.
    """
    if trouble == "syntax error":
        cell = cell_of(notebook, LOST)
        cell["source"] = ["".join(cell["source"]).rstrip().removesuffix(")")]
        return [LOST]
    if trouble == "deleted question cell":
        notebook["cells"].remove(cell_of(notebook, LOST))
        return [LOST]
    if trouble == "endless loop":
        loop = {"cell_type": "code", "id": "own-try", "metadata": {}, "outputs": [], "execution_count": None}
        notebook["cells"].insert(2, loop | {"source": ["while True:\n", "    pass"]})
    return []


def make_hand_ins(exercises: Path, target: Path, execute: Callable[[dict, Path], dict] | None = None) -> None:
    """Make what the class hands in.

    Parameters: ``exercises`` folder of the released homeworks; ``target`` folder for one folder a student,
    ``roster.csv`` (student, name) and ``truth.csv`` (student, homework, question, stratum, idea: what was
    really behind each answer; a line without question says what is odd about the whole hand-in);
    ``execute`` takes a notebook and the folder to run it in, and gives it back with outputs; a kernel for
    each when left out.
    """
    truth = []
    for student in CLASS:
        folder = target / student.number
        folder.mkdir(parents=True)
        random, files = Random(student.number), {}  # noqa: S311
        for homework in HOMEWORKS:
            home = exercises / f"homework-{homework}"
            notebook = json.loads((home / f"homework-{homework}.ipynb").read_text(encoding="utf-8"))
            done = fill_in(student, notebook, sheet.load(home), random)
            trouble = student.trouble if homework == TROUBLED else ""
            lost = make_trouble(trouble, notebook)
            if trouble != "endless loop":
                notebook = (execute or in_a_kernel)(notebook, home)
            text = json.dumps(notebook, indent=1, ensure_ascii=False) + "\n"
            if trouble == "broken JSON":
                text = text[: len(text) * 6 // 10]
            if trouble == "wrong homework":
                text = files["homework-01.ipynb"]
            if trouble in ("broken JSON", "wrong homework"):
                lost = [answer.question for answer in done]
            files[f"homework-{homework}.ipynb"] = text
            truth += [[student.number, homework, "", f"trouble: {trouble}", ""]] * bool(trouble)
            truth += [
                [student.number, homework, one.question, *(("lost", "") if one.question in lost else one[2:])]
                for one in done
            ]
        if student.number == ZIPPED:
            truth.append([student.number, "", "", "odd: zip with renamed notebooks", ""])
            zip_up(folder / "my homework.zip", files)
            continue
        for name, text in files.items():
            (folder / name).write_text(text, encoding="utf-8")
    write_table(target / "roster.csv", ["student", "name"], [student[:2] for student in CLASS])
    write_table(target / "truth.csv", ["student", "homework", "question", "stratum", "idea"], truth)


def zip_up(path: Path, files: dict[str, str]) -> None:
    """Pack notebooks under other names, with a fixed time so that the bytes are the same each time."""
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as pack:
        for name, text in files.items():
            pack.writestr(zipfile.ZipInfo(f"final version/{name[:-6]} (2).ipynb"), text)


def write_table(path: Path, header: list[str], rows: list) -> None:
    """Write a CSV file."""
    with path.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file, lineterminator="\n").writerows([header, *rows])


def in_a_kernel(notebook: dict, folder: Path) -> dict:
    """Execute a notebook in a kernel of its own, as Jupyter does; errors stay in its outputs."""
    import nbformat
    from nbclient import NotebookClient

    client = NotebookClient(
        nbformat.reads(json.dumps(notebook), as_version=4),
        timeout=60,
        kernel_name="python3",
        allow_errors=True,
        record_timing=False,
        extra_arguments=["--log-level=ERROR"],
        resources={"metadata": {"path": str(folder)}},
    )
    return json.loads(nbformat.writes(client.execute()))


def in_this_process(notebook: dict, folder: Path) -> dict:
    """Execute a notebook here and now: quicker, for notebooks that we filled in ourselves."""
    notebook, space = copy.deepcopy(notebook), {}
    answers.desk.sheet = None
    with contextlib.chdir(folder):
        for count, cell in enumerate((cell for cell in notebook["cells"] if cell["cell_type"] == "code"), 1):
            cell["execution_count"], cell["outputs"] = count, run_cell("".join(cell["source"]), space, count)
    answers.desk.sheet, answers.desk.student = None, ""
    return notebook


def run_cell(source: str, space: dict, count: int) -> list[dict]:
    """Run one cell and give its outputs in the notebook's format."""
    try:
        tree = ast.parse(source)
        last = tree.body.pop() if tree.body and isinstance(tree.body[-1], ast.Expr) else None
        exec(compile(tree, "<cell>", "exec"), space)  # noqa: S102
        value = last and eval(compile(ast.Expression(last.value), "<cell>", "eval"), space)  # noqa: S307
    except Exception as error:
        lines = traceback.format_exception_only(error)
        kind = type(error).__name__
        return [{"output_type": "error", "ename": kind, "evalue": str(error), "traceback": lines}]
    if value is None:
        return []
    data = {"text/plain": repr(value).splitlines(keepends=True)}
    if hasattr(value, "_repr_html_"):
        data["text/html"] = value._repr_html_().splitlines(keepends=True)
    return [{"output_type": "execute_result", "execution_count": count, "metadata": {}, "data": data}]
