"""One evening on the small course, for tests: answers are read as typed, which is quick, and marked."""

from __future__ import annotations

import csv
import json

import coldbench.grading.box as box
from coldbench.grading import evening
from coldbench.grading.form import DATABASE
from grading.small_course import fill_in, hand_in, make_class, right
from nbgrader.api import Gradebook

NAME = "homework-05"


def read_only(monkeypatch):
    """Where a test is not about the box, nothing is executed."""
    monkeypatch.setattr(box, "_not_executed", lambda *_: "not run")
    monkeypatch.setattr(box, "find_places", lambda: [])


class SmallClass:
    """A folder of hand-ins and a class folder; `run` marks, and keeps what was said."""

    def __init__(self, place, course):
        (place / "in").mkdir()
        self.hand_ins, self.folder, self.course = place / "in", make_class(place / "class"), course
        self.said = ""

    def hand_in(self, student, **other):
        """Hand in right answers, with others in place of some: question_3="B"."""
        answers = right(self.course, student) | {f"05.{name[-1]}": value for name, value in other.items()}
        return hand_in(self.hand_ins, f"{student}/{NAME}.ipynb", fill_in(self.course, student, answers))

    def run(self):
        lines = []
        code = evening.mark(self.hand_ins, self.folder, self.course, lines.append)
        self.said = "\n".join(lines)
        return code

    def marks(self):
        """(student, question) to its row in marks.csv."""
        with (self.folder / "marks.csv").open(encoding="utf-8") as file:
            return {(row["student"], row["question"]): row for row in csv.DictReader(file)}

    def points(self, student, question):
        row = self.marks()[student, question]
        return float(row["points"]), float(row["out_of"])

    def page(self, student):
        return (self.folder / "feedback" / student / NAME / f"{NAME}.html").read_text(encoding="utf-8")

    def log(self):
        """The log's entries, as anybody can read them."""
        return [json.loads(line) for line in (self.folder / "log.jsonl").read_text("utf-8").splitlines()]

    def open_gradebook(self):
        return Gradebook(f"sqlite:///{self.folder / DATABASE}")

    def grade(self, student, question):
        """What the gradebook has: automatic and manual points, whether it is open, points to be had."""
        with self.open_gradebook() as book:
            cell = "question-" + question.replace(".", "-")
            found = book.find_grade(cell, NAME, NAME, student)
            return found.auto_score, found.manual_score, found.needs_manual_grade, found.max_score

    def give(self, student, question, points, words=None):
        """Give points by hand, as the form does."""
        with self.open_gradebook() as book:
            cell = "question-" + question.replace(".", "-")
            found = book.find_grade(cell, NAME, NAME, student)
            found.manual_score, found.needs_manual_grade = points, False
            book.find_comment(cell, NAME, NAME, student).manual_comment = words
            book.db.commit()


def explained(entries):
    """The marks that the log's entries lead to: (student, question) to points, out of and outcome."""
    marks = {}
    for entry in entries:
        if entry["kind"] == "mark":
            key = entry["student"], entry["question"]
            assert entry["old"] is None or marks[key] == tuple(
                entry["old"][name] for name in ("points", "out_of", "outcome")
            )
            new = entry["new"]
            marks[key] = new and (new["points"], new["out_of"], new["outcome"])
            assert entry["reason"] and entry["time"] and entry["who"]
    return {key: mark for key, mark in marks.items() if mark}


def as_in_table(small):
    """The same from marks.csv."""
    return {
        key: (float(row["points"]), float(row["out_of"]), row["outcome"])
        for key, row in small.marks().items()
    }
