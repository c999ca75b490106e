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
from coldbench.grading.idea_history import GONE, NOT_ASKED_AGAIN, STILL_THERE, Holding, holdings
from coldbench.grading.next_session import Thing, latest_homework, next_session
from coldbench.grading.page import OUTCOMES, counted, listed, outcome_shown, points, render
from coldbench.grading.statistics import HeldIdea, QuestionStatistics, Total
from coldbench.grading.suspect_questions import suspects

if TYPE_CHECKING:
    from coldbench.grading.results import ClassResults, HandIn
    from coldbench.homework.marking import Mark

NAMES_IN_SUMMARY, SUSPICIONS_IN_SUMMARY = 12, 3
WITH_NAMES, WITHOUT_NAMES = "class-report.html", "class-report-without-names.html"
TABLES = ("questions.csv", "wrong-ideas.csv", "students.csv", "idea-history.csv", "gradebook.csv")
"""The report's own files, in the folder of the report."""

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
    history = holdings(results)
    return render(
        "class_report.html",
        results=results,
        names=called,
        students=len(called.roster),
        things=[_thing(thing, ideas, history) for thing in next_session(results)],
        word=statistics.needs_a_word(results),
        homeworks=[_homework(results, homework, ideas, called) for homework in results.homeworks],
        ideas=[
            _idea(idea, ideas) | {"since": _since(idea.id, history, latest_homework(results))}
            for idea in statistics.held_ideas(results)
        ],
        doubtful=_doubtful(results),
        few=SUSPICIONS_IN_SUMMARY,
        still=_still_held(history, ideas),
        students_rows=_students(results, history, ideas),
        fits=[hand_in for hand_in in results.hand_ins if hand_in.fits_student],
        troubled=[hand_in for hand_in in results.hand_ins if hand_in.troubles],
        outcomes=OUTCOMES,
        without_names=WITHOUT_NAMES,
        tables=TABLES,
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


def _thing(thing: Thing, ideas: dict, history: list[Holding]) -> dict:
    row = _row(thing.idea.id, ideas) if thing.idea else None
    still = [
        each.student for each in history if thing.idea and each.idea == thing.idea.id and _is_still(each)
    ]
    return {"thing": thing, "row": row, "still": still}


def _is_still(holding: Holding) -> bool:
    return holding.now == STILL_THERE


def _still_held(history: list[Holding], ideas: dict) -> list[dict]:
    """Ideas that a later homework showed again, those that most students hold first, with who they are."""
    held: dict[str, list[str]] = {}
    for holding in filter(_is_still, history):
        held.setdefault(holding.idea, []).append(holding.student)
    rows = [{"sentence": _row(idea, ideas)["sentence"], "students": who} for idea, who in held.items()]
    return sorted(rows, key=lambda row: -len(row["students"]))


def _doubtful(results: ClassResults) -> list[dict]:
    """Questions to look at again, the latest homework's first, each with its reasons in a few words."""
    latest, reasons = latest_homework(results), {}
    for homework in sorted(results.homeworks, key=lambda each: each.number != latest):
        for one in suspects(results, homework.number):
            key = (one.homework, one.question, one.title)
            reasons.setdefault(key, []).append(one.in_short)
    return [
        {"homework": number, "question": question, "title": title, "reasons": "; ".join(words)}
        for (number, question, title), words in reasons.items()
    ]


def _since(idea: str, history: list[Holding], latest: str | None) -> dict[str, list[str]]:
    """Who held an idea, by what came of it; nothing can have come yet of what the latest homework showed."""
    first_seen = f"new in {latest}"
    groups: dict[str, list[str]] = {STILL_THERE: [], GONE: [], NOT_ASKED_AGAIN: [], first_seen: []}
    for holding in history:
        if holding.idea == idea:
            is_new = holding.now == NOT_ASKED_AGAIN and latest in holding.shown
            groups[first_seen if is_new else holding.now].append(holding.student)
    return {now: students for now, students in groups.items() if students}


def _students(results: ClassResults, history: list[Holding], ideas: dict) -> list[dict]:
    """One row a student: share of the points in each homework, and ideas that are not known to be gone."""
    totals = statistics.totals(results)
    return [
        {
            "student": student,
            "totals": [totals[homework.number].get(student) for homework in results.homeworks],
            "ideas": [
                {"sentence": _row(holding.idea, ideas)["sentence"], "still": _is_still(holding)}
                for holding in history
                if holding.student == student and holding.now != GONE
            ],
        }
        for student in sorted(_roster(results), key=lambda each: (_roster(results)[each].casefold(), each))
    ]


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
        "only_says": [hand_in.student for hand_in in hand_ins if hand_in.only_says],
        "other_edition": [hand_in.student for hand_in in hand_ins if not hand_in.edition_ok],
        "waiting": sum(total.waiting for total in totals.values()),
        "mean": sum(shares) / len(shares) if shares else None,
        "questions": questions,
        "doubtful": suspects(results, homework.number),
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
    shown = outcome_shown(mark)
    return shown, "" if shown in ("waiting", "dropped") else points(mark.points)


def tables(results: ClassResults, ideas: dict[str, dict[str, str]], names: bool = True) -> dict[str, str]:
    """Write the class report's tables as CSV.

    Parameters: ``results`` of the class; ``ideas`` the catalogue of wrong ideas; ``names`` whether students
    are named (without names, tables of single students are left out).
    Returns: file name to text: ``questions.csv``, ``wrong-ideas.csv``, and, with names, ``students.csv``,
    ``idea-history.csv`` and ``gradebook.csv``, which is plain enough for a school's own gradebook.
    """
    files = {
        "questions.csv": _questions_table(results),
        "wrong-ideas.csv": _ideas_table(results, ideas, names),
    }
    if names:
        files["students.csv"] = _students_table(results)
        files["idea-history.csv"] = _history_table(results)
        files["gradebook.csv"] = _gradebook_table(results)
    return files


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
            "look_again",
        ]
    ]
    for homework in results.homeworks:
        doubtful = suspects(results, homework.number)
        for each in statistics.question_statistics(results, homework.number):
            kinds = " ".join(one.kind for one in doubtful if one.question == each.question)
            figures = [_figure(each.facility), _figure(each.discrimination)]
            counts = [each.outcomes[outcome] for outcome in _marked_outcomes()]
            row = [each.homework, each.question, each.title, each.marked, each.waiting]
            rows.append([*row, *figures, *counts, kinds])
    return _csv(rows)


def _marked_outcomes() -> list[str]:
    return [outcome for outcome in OUTCOMES if outcome not in ("waiting", "dropped")]


def _ideas_table(results: ClassResults, ideas: dict, names: bool) -> str:
    rows = [["wrong_idea", "sentence", "students", "points_lost", "weight", "homeworks", "questions"]]
    rows[0] += ["still_there", "gone", "not_asked_again", *(["held_by"] if names else [])]
    now = Counter((holding.idea, holding.now) for holding in holdings(results))
    for idea in statistics.held_ideas(results):
        row = [idea.id, _row(idea.id, ideas)["sentence"], len(idea.holders)]
        row += [_figure(idea.points_lost), _figure(idea.weight), " ".join(idea.homeworks)]
        row += [
            " ".join(idea.questions),
            *(now[idea.id, word] for word in (STILL_THERE, GONE, NOT_ASKED_AGAIN)),
        ]
        rows.append([*row, *([" ".join(idea.holders)] if names else [])])
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


def _history_table(results: ClassResults) -> str:
    rows = [["student", "wrong_idea", "shown_in", "now"]]
    rows += [[each.student, each.idea, " ".join(each.shown), each.now] for each in holdings(results)]
    return _csv(rows)


def _gradebook_table(results: ClassResults) -> str:
    """One line a hand-in; answers that wait to be read are left out on both sides until they are."""
    rows = [["student", "homework", "points", "out_of", "percent", "late"]]
    for hand_in in results.hand_ins:
        total = statistics.total(hand_in)
        figures = [points(total.points), points(total.out_of), f"{100 * total.share:.1f}"]
        rows.append([hand_in.student, hand_in.homework, *figures, "yes" if hand_in.late else "no"])
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
