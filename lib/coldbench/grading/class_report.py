"""The class report: what the instructor reads before the next session.

Inside: `page` (one printed page first, the details after it) and `tables` (the same as CSV). Names can
be hidden, for showing the report in class; then whatever concerns single students is left out.
"""

from __future__ import annotations

import csv
import io
from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from coldbench.grading import statistics
from coldbench.grading.page import OUTCOMES, counted, listed, points, render
from coldbench.grading.statistics import HeldIdea, QuestionStatistics, Total

if TYPE_CHECKING:
    from coldbench.grading.results import ClassResults, HandIn
    from coldbench.homework.marking import Mark

NAMES_IN_SUMMARY = 12
FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")
"""A spreadsheet takes a text that begins so for a formula."""

BAR_ROW, FACILITY_LEFT, FACILITY_WIDTH = 26, 62, 260
DISCRIMINATION_ZERO, DISCRIMINATION_WIDTH = 460, 130
"""Sizes of the picture of bars [its own units]; the widths stand for 100 % and for a correlation of 1."""


@dataclass(frozen=True)
class _Names:
    """How students are called on this page; where names are hidden, only how many they are."""

    roster: dict[str, str]
    hidden: bool

    def one(self, student: str) -> str:
        name = self.roster.get(student, student)
        return f"{name} ({student})" if self._count[name] > 1 else name

    @property
    def _count(self) -> Counter:
        return Counter(self.roster.values())

    def some(self, students, most: int = 1_000) -> str:
        students = list(students)
        if self.hidden:
            return counted(len(students), "student")
        return listed([self.one(student) for student in students], most)


def page(results: ClassResults, ideas: dict[str, dict[str, str]], names: bool = True) -> str:
    """Write the class report.

    Parameters: ``results`` of the class; ``ideas`` the catalogue of wrong ideas; ``names`` whether students
    are named (without names, what concerns single students is left out).
    Returns: a page of HTML that stands alone, without script; everything put into it is escaped.
    """
    called = _Names(_roster(results), hidden=not names)
    held = statistics.held_ideas(results)
    return render(
        "class_report.html",
        results=results,
        names=called,
        students=len(called.roster),
        things=[_thing(thing, ideas) for thing in statistics.next_session(results)],
        word=statistics.needs_a_word(results),
        homeworks=[_homework(results, homework, ideas, called) for homework in results.homeworks],
        ideas=[_idea(idea, ideas) for idea in held],
        fits=[hand_in for hand_in in results.hand_ins if hand_in.fits_student],
        troubled=[hand_in for hand_in in results.hand_ins if hand_in.troubles],
        outcomes=OUTCOMES,
        most=NAMES_IN_SUMMARY,
        fewest=statistics.FEWEST_FOR_DISCRIMINATION,
        weak=statistics.WEAK_DISCRIMINATION,
        low=statistics.LOW_SHARE,
        fall=statistics.FALL_SHARE,
    )


def _roster(results: ClassResults) -> dict[str, str]:
    """Everybody of the roster, and whoever handed in without being on it."""
    strangers = {hand_in.student: hand_in.name for hand_in in results.hand_ins}
    return {**results.roster, **{who: name for who, name in strangers.items() if who not in results.roster}}


def _row(idea: str, ideas: dict) -> dict[str, str]:
    """The catalogue's row; an idea that is no longer in it keeps its id as its sentence."""
    row = dict.fromkeys(("right", "read_again", "show_at_the_bench", "safety"), "")
    row["sentence"] = idea.replace("_", " ")
    return row | {word: text for word, text in ideas.get(idea, {}).items() if text}


def _idea(idea: HeldIdea, ideas: dict) -> dict:
    return {"held": idea, "row": _row(idea.id, ideas)}


def _thing(thing: HeldIdea | QuestionStatistics, ideas: dict) -> dict:
    if isinstance(thing, HeldIdea):
        return _idea(thing, ideas)
    return {"held": None, "question": thing}


def _homework(results: ClassResults, homework, ideas: dict, called: _Names) -> dict:
    hand_ins = statistics.of_homework(results, homework.number)
    questions = statistics.question_statistics(results, homework.number)
    totals = {hand_in.student: statistics.total(hand_in) for hand_in in hand_ins}
    shares = [total.share for total in totals.values() if total.out_of]
    return {
        "number": homework.number,
        "title": homework.title,
        "hand_ins": hand_ins,
        "missing": [student for student in results.roster if student not in totals],
        "late": [hand_in.student for hand_in in hand_ins if hand_in.late],
        "other_edition": [hand_in.student for hand_in in hand_ins if not hand_in.edition_ok],
        "waiting": sum(total.waiting for total in totals.values()),
        "mean": sum(shares) / len(shares) if shares else None,
        "questions": questions,
        "bars": [_bar(question, row) for row, question in enumerate(questions)],
        "bars_height": 34 + BAR_ROW * len(questions),
        "ideas": [_idea(idea, ideas) for idea in statistics.held_ideas(results, homework.number)],
        "undecided": [
            {"at": each, "sentences": [_row(idea, ideas)["sentence"] for idea in each.ideas]}
            for each in statistics.not_told_apart(results, homework.number)
        ],
        "matrix": _matrix(hand_ins, totals, called),
    }


def _bar(question: QuestionStatistics, row: int) -> dict:
    """Where the bars of a question begin and how long they are."""
    correlation = question.discrimination
    width = None if correlation is None else DISCRIMINATION_WIDTH * abs(correlation)
    return {
        "question": question,
        "top": 30 + BAR_ROW * row,
        "facility": None if question.facility is None else FACILITY_WIDTH * question.facility,
        "start": DISCRIMINATION_ZERO - (width if width and correlation < 0 else 0),
        "width": width,
    }


def _matrix(hand_ins: list[HandIn], totals: dict[str, Total], called: _Names) -> list[dict]:
    """Rows of the marks matrix: by name, or, where names are hidden, by total and numbered."""
    rows = []
    for hand_in in hand_ins:
        cells = {mark.question: _cell(mark) for mark in hand_in.marks}
        rows.append({"name": called.one(hand_in.student), "cells": cells, "total": totals[hand_in.student]})
    if called.hidden:
        rows.sort(key=lambda row: -row["total"].share)
        return [{**row, "name": f"Hand-in {place}"} for place, row in enumerate(rows, start=1)]
    return sorted(rows, key=lambda row: row["name"].casefold())


def _cell(mark: Mark) -> tuple[str, str]:
    return ("waiting", "") if mark.waiting else (mark.outcome, points(mark.points))


def tables(results: ClassResults, ideas: dict[str, dict[str, str]], names: bool = True) -> dict[str, str]:
    """Write the class report's tables as CSV.

    Parameters: ``results`` of the class; ``ideas`` the catalogue of wrong ideas; ``names`` whether students
    are named (without names, the table of students is left out).
    Returns: file name to text: ``questions.csv``, ``wrong-ideas.csv`` and ``students.csv``.
    """
    files = {
        "questions.csv": _questions_table(results),
        "wrong-ideas.csv": _ideas_table(results, ideas, names),
    }
    return files | ({"students.csv": _students_table(results)} if names else {})


def _questions_table(results: ClassResults) -> str:
    rows = [
        [
            "homework",
            "question",
            "title",
            "marked",
            "waiting",
            "facility",
            "discrimination",
            *_marked_outcomes(),
        ]
    ]
    for homework in results.homeworks:
        for each in statistics.question_statistics(results, homework.number):
            figures = [_figure(each.facility), _figure(each.discrimination)]
            counts = [each.outcomes[outcome] for outcome in _marked_outcomes()]
            rows.append(
                [each.homework, each.question, each.title, each.marked, each.waiting, *figures, *counts]
            )
    return _csv(rows)


def _marked_outcomes() -> list[str]:
    return [outcome for outcome in OUTCOMES if outcome != "waiting"]


def _ideas_table(results: ClassResults, ideas: dict, names: bool) -> str:
    rows = [["wrong_idea", "sentence", "students", "points_lost", "weight", "homeworks", "questions"]]
    rows[0] += ["held_by"] if names else []
    for idea in statistics.held_ideas(results):
        row = [idea.id, _row(idea.id, ideas)["sentence"], len(idea.holders)]
        row += [_figure(idea.points_lost), _figure(idea.weight), " ".join(idea.homeworks)]
        rows.append([*row, " ".join(idea.questions), *([" ".join(idea.holders)] if names else [])])
    return _csv(rows)


def _students_table(results: ClassResults) -> str:
    rows = [
        [
            "student",
            "name",
            "homework",
            "handed_in",
            "points",
            "out_of",
            "share",
            "waiting",
            "late",
            "troubles",
        ]
    ]
    roster, handed_in = _roster(results), {(each.student, each.homework): each for each in results.hand_ins}
    for homework in results.homeworks:
        for student, name in roster.items():
            hand_in = handed_in.get((student, homework.number))
            row = [student, name, homework.number]
            if hand_in is None:
                rows.append([*row, "no", "", "", "", "", "", ""])
                continue
            total = statistics.total(hand_in)
            row += ["yes", points(total.points), points(total.out_of), _figure(total.share), total.waiting]
            rows.append([*row, "yes" if hand_in.late else "no", len(hand_in.troubles)])
    return _csv(rows)


def _figure(number: float | None) -> str:
    return "" if number is None else f"{number + 0.0:.3f}"


def _csv(rows: list[list]) -> str:
    """Write rows as CSV; a text that a spreadsheet would take for a formula gets an apostrophe before it."""
    file = io.StringIO()
    csv.writer(file, lineterminator="\n").writerows([[_plain(cell) for cell in row] for row in rows])
    return file.getvalue().encode("utf-8", "replace").decode("utf-8")


def _plain(cell: object) -> object:
    is_number = not isinstance(cell, str) or cell.lstrip("-").replace(".", "", 1).isdigit()
    return cell if is_number or not cell.startswith(FORMULA_STARTS) else f"'{cell}"
