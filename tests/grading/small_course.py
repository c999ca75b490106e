"""A small invented course and class for the tests of grading: one homework, three students."""

from __future__ import annotations

import json
from pathlib import Path

from coldbench.grading import release

QUESTIONS = """
from coldbench.homework.declare import Homework, Steps, Tolerance
from coldbench.homework.kinds import Choice, Number, Sentence

homework = Homework("05", "Small", "05-small", "A bench.", "Unplug first.")

drop = homework.question(
    "05.1", title="Drop", points=2, kind=Number("temperature", "degF", 1, "61.5 degF"),
    wording="The box stands at {start}. It falls by 10 degF. Where does it stand?", read_again="Falling",
    draw=(Steps("start", 40, 80, 0.5, "degF", "{:g} °F"),), tolerance=Tolerance("the meter", within=0.2),
)
drop.key(lambda numbers, earlier: numbers.start - 50 / 9)
drop.worked(lambda numbers, earlier: f"From {numbers.shown['start']} down by 10.")
drop.wrong("up_for_down")(lambda numbers, earlier: numbers.start + 50 / 9)

again = homework.question(
    "05.2", title="Again", points=2, kind=Number("temperature", "degF", 1, "51.5 degF"),
    wording="And after 10 degF more?", read_again="Falling", tolerance=Tolerance("the meter", within=0.2),
    uses=("05.1",),
)
again.key(lambda numbers, earlier: earlier["05.1"] - 50 / 9)

pick = homework.question(
    "05.3", title="Pick", points=1, kind=Choice({"A": "fan", "B": "valve"}),
    wording="What moves air?", read_again="Fans",
)
pick.key(lambda numbers, earlier: "A")

say = homework.question(
    "05.4", title="Say", points=3, kind=Sentence(), wording="Why?", read_again="Why", full_marks="A reason.",
)
"""
IDEAS = (
    "id,sentence,right,why_it_is_tempting,read_again,show_at_the_bench,safety\n"
    "up_for_down,Falling adds.,Falling takes away.,It is a habit,Falling,Two thermometers,\n"
)
ROSTER = {"s07": "Mia Example", "s08": "Jörg Sample", "s09": "Ann Instance"}
EDITION = "e1"


def make_course(folder: Path) -> Path:
    """Write the course's project folder, its exercises made by our own release."""
    home = folder / "solutions" / "homework-05"
    home.mkdir(parents=True)
    (home / "questions.py").write_text(QUESTIONS, encoding="utf-8")
    (folder / "solutions" / "wrong_ideas.csv").write_text(IDEAS, encoding="utf-8")
    release.main([str(folder)])
    return folder


def make_class(folder: Path) -> Path:
    """Write the class folder with its roster."""
    folder.mkdir(parents=True, exist_ok=True)
    lines = [f"{number},{name}" for number, name in ROSTER.items()]
    (folder / "roster.csv").write_text("\n".join(["student,name", *lines]), encoding="utf-8")
    return folder


def numbers(course: Path, student: str) -> float:
    """The student's own start temperature, in °F."""
    from coldbench.homework.sheet import load

    return load(course / "exercises" / "homework-05").numbers(student, "05.1").typed["start"]


def right(course: Path, student: str, sentence: str = "Because.") -> dict:
    """Right answers of a student, and a sentence."""
    start = numbers(course, student)
    return {"05.1": f"{start - 10:g} degF", "05.2": f"{start - 20:g} degF", "05.3": "A", "05.4": sentence}


def fill_in(course: Path, student: str, answers: dict) -> bytes:
    """The released notebook, filled in."""
    path = course / "exercises" / "homework-05" / "homework-05.ipynb"
    tree = json.loads(path.read_text(encoding="utf-8"))
    for cell in tree["cells"]:
        question = cell["id"].removeprefix("question-").replace("-", ".")
        if cell["id"] == "student-number":
            cell["source"] = f"from coldbench.homework import answer, student\n\nstudent({student!r})"
        elif cell["cell_type"] == "code" and question in answers:
            value = answers[question]
            cell["source"] = value if callable(value) else f"answer({question!r}, {value!r})"
    return json.dumps(tree).encode()


def hand_in(folder: Path, name: str, content: bytes) -> Path:
    """Put a file among the hand-ins."""
    path = folder / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(content)
    return path
