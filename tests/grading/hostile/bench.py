"""A small class in which every student hands in one attack or one oddity, marked through the real command.

Inside: `Case` (what is handed in and what must come of it), `Bench` (course, class and canaries), and
`Evening` (what the command said and wrote).
"""

from __future__ import annotations

import contextlib
import csv
import io
import json
import os
import re
import zipfile
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path

from coldbench import command
from coldbench.grading import box, class_marking
from coldbench.grading.box import Limits
from grading.short_limits import short_limits
from grading.small_course import fill_in, make_course, right

CANARY = "canary-{}-83613"
"""Where one of these comes to light, something was seen that nobody in the box may see."""

SUBJECT = r"s\d{3}\b.*: "
"""How a line that is about somebody begins."""

RIGHT = {"05.1": "right", "05.2": "right", "05.3": "right", "05.4": "by_hand"}


@dataclass(frozen=True)
class Case:
    """One hand-in.

    Attributes
    ----------
    name, outcome : str
        What it is, and what must come of it, in one line
    make : callable
        Takes the bench and the student number, and puts files among the hand-ins
    marks : dict
        Question to the outcome that marks.csv must have; empty: nothing of it may be marked
    says : str or None
        Words that must be told to the instructor about it; empty: nothing may be told; None: no matter
    attack : bool
        Meant ill, or an honest student's trouble
    """

    name: str
    outcome: str
    make: Callable[[Bench, str], object]
    marks: dict[str, str] = field(default_factory=lambda: dict(RIGHT))
    says: str | None = ""
    attack: bool = True


class Bench:
    """Course, class folder and hand-ins, with canaries wherever a hand-in may not look."""

    def __init__(self, folder: Path):
        self.folder = folder
        self.hand_ins, self.class_folder = folder / "in", folder / "class"
        self.course = make_course(folder / "course")
        (self.course / "course").mkdir()
        (self.course / "lib").mkdir()
        (self.course / "lib" / "start.py").touch()
        home = self.course / "solutions" / "homework-05" / "questions.py"
        home.write_text(
            home.read_text(encoding="utf-8").replace(
                "down by 10.", f"down by 10 ({CANARY.format('worked')})."
            )
            + f'\nSECRET = "{CANARY.format("key")}"\n',
            encoding="utf-8",
        )
        ideas = self.course / "solutions" / "wrong_ideas.csv"
        ideas.write_text(ideas.read_text().replace("Falling adds.", f"Falling adds {CANARY.format('idea')}."))
        self.hand_ins.mkdir()
        self.class_folder.mkdir()
        (folder / "home").mkdir()
        (folder / "home" / "letter.txt").write_text(CANARY.format("home"))

    def roster(self, students: list[str]) -> None:
        """Write the roster; every name holds a canary."""
        lines = [f"{number},{CANARY.format('roster')} {number}" for number in students]
        (self.class_folder / "roster.csv").write_text("\n".join(["student,name", *lines]), encoding="utf-8")

    def right(self, student: str) -> dict:
        """Right answers of a student."""
        return right(self.course, student)

    def filled(self, student: str, **cells: str) -> dict:
        """The released notebook as a tree, filled in rightly; ``q2="…"`` puts a source into a cell."""
        tree = json.loads(fill_in(self.course, student, self.right(student)))
        for name, source in cells.items():
            wanted = "student-number" if name == "start" else f"question-05-{name.removeprefix('q')}"
            next(cell for cell in tree["cells"] if cell["id"] == wanted)["source"] = source
        return tree

    def put(self, student: str, content: dict | bytes, name: str = "homework-05.ipynb") -> Path:
        """Hand a notebook in, in the student's folder."""
        path = self.hand_ins / student / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content if isinstance(content, bytes) else json.dumps(content).encode())
        return path

    def evening(self, students: dict[str, str], limits: Limits) -> Evening:
        """Mark everything through the command."""
        out, own = io.StringIO(), class_marking.run_in_box
        words = ["mark", str(self.hand_ins), "--class-folder", str(self.class_folder)]
        class_marking.run_in_box = lambda *files: box.run_in_box(*files, limits)
        os.environ["COLDBENCH_SECRET"] = CANARY.format("environment")
        try:
            with contextlib.redirect_stdout(out), contextlib.redirect_stderr(out):
                code = command.main([*words, "--source", str(self.course)])
        finally:
            class_marking.run_in_box = own
            del os.environ["COLDBENCH_SECRET"]
        return Evening(self, code, out.getvalue(), students)


@dataclass(frozen=True)
class Evening:
    """What came of it.

    Attributes
    ----------
    bench : Bench
        What it was done with
    code : int
        Exit code
    said : str
        Everything that was said
    students : dict
        Student to the name of the case
    """

    bench: Bench
    code: int
    said: str
    students: dict[str, str]

    @cached_property
    def marks(self) -> dict[str, dict[str, str]]:
        """Student to question to outcome, as in marks.csv."""
        found: dict[str, dict[str, str]] = {}
        with (self.bench.class_folder / "marks.csv").open(encoding="utf-8", newline="") as file:
            for row in csv.DictReader(file):
                found.setdefault(row["student"], {})[row["question"]] = row["outcome"]
        return found

    def told(self, student: str) -> str:
        """Everything that was told about a student."""
        lines = [line for line in self.said.split("\n") if student in line and line.startswith("  - ")]
        about = [
            line for line in lines if student in line.split(": ")[0] or not re.search(r"s\d{3}\b.*: ", line)
        ]
        return "\n".join(line for line in about if "nothing could be marked" not in line)

    def record(self, student: str) -> dict:
        """What was kept of a student's hand-in."""
        path = self.bench.class_folder / "marks" / student / "05.json"
        return json.loads(path.read_text(encoding="utf-8")) if path.is_file() else {}

    def falls_short(self, case: Case, student: str) -> str:
        """Say in what a case came out other than it must; nothing when all is as it must be."""
        marks, told = self.marks.get(student, {}), self.told(student)
        if any(marks.get(question) != outcome for question, outcome in case.marks.items()):
            return f"marks {marks} instead of {case.marks}; told: {told}"
        if not case.marks and marks:
            return f"it was marked: {marks}"
        if case.says is not None and (case.says not in told or (not case.says and told)):
            return f"told “{told}” instead of “{case.says}”"
        answers = json.dumps([self.record(student).get(part) for part in ("answers", "box", "troubles")])
        return f"a canary came out: {answers}" if "-83613" in answers else ""


def run_cases(folder: Path, cases: list[Case]) -> tuple[Evening, dict[str, str]]:
    """Mark a class that hands in these cases; give the evening, and case to what was wrong with it.

    Honest students have the time that everybody has; an attack that uses up its time shall do so soon.
    """
    bench, limits = Bench(folder), short_limits() if any(case.attack for case in cases) else Limits()
    students = {f"s{100 + place}": case for place, case in enumerate(cases)}
    bench.roster(list(students))
    for student, case in students.items():
        case.make(bench, student)
    evening = bench.evening({student: case.name for student, case in students.items()}, limits)
    return evening, {case.name: evening.falls_short(case, student) for student, case in students.items()}


def zipped(**entries: bytes | str) -> bytes:
    """A zip file of the given entries; a key ending in ``=`` names a file with ``/`` written as ``|``."""
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in entries.items():
            archive.writestr(name.replace("|", "/"), content)
    return packed.getvalue()
