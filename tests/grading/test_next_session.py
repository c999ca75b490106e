"""What to show next: ideas that are still held, the latest homework's first, then hard questions."""

from dataclasses import replace

import pytest
from coldbench.grading import next_session as sessions
from coldbench.grading.next_session import latest_homework, next_session
from coldbench.grading.results import ClassResults, HandIn
from grading import invented_marks
from grading.invented_marks import ROSTER, hand_in, homework, mark

OHMS, GAUGE = ("ohms_rise_with_temperature",), ("gauge_as_absolute",)


def of(*hand_ins, homeworks=("01", "05"), roster=ROSTER) -> ClassResults:
    return ClassResults([homework(number) for number in homeworks], list(hand_ins), roster)


def shows(student: str, question: str, idea: tuple) -> HandIn:
    return HandIn(student, ROSTER[student], question[:2], [mark(question, "wrong_idea", 0.25, idea)])


def test_it_fills_up_with_hard_questions():
    """Ideas come first; a hard question that none of them explains takes a free place."""
    marks = [
        mark("01.1", "wrong_idea", 0.25, GAUGE),
        mark("01.4", "wrong"),
        mark("01.5", "right", 1.0),
    ]
    idea, hard = next_session(of(HandIn("s01", "Ada Birch", "01", marks), homeworks=("01",)))
    assert (idea.idea.id, idea.holders, hard.question.question) == ("gauge_as_absolute", ("s01",), "01.4")
    assert idea.question is hard.idea is None


def test_each_thing_names_the_bench_sheet_of_the_homework_that_showed_it():
    """A path in the project's folder; the sheets that lessons really have lie there."""
    gauge, ohms = shows("s01", "01.1", GAUGE), shows("s01", "05.2", OHMS)
    sheets = {thing.idea.id: thing.bench_sheet for thing in next_session(of(gauge, ohms))}
    assert sheets["gauge_as_absolute"] == "course/01-pressure-tells-temperature/bench-sheet.html"
    assert sheets["ohms_rise_with_temperature"] == "course/05-resistance-tells-temperature/bench-sheet.html"
    assert (
        sessions._bench_sheet(replace(homework("01"), lesson="course/01-a")) == "course/01-a/bench-sheet.html"
    )


def test_the_latest_homework_comes_first():
    """Three in the earlier homework weigh less than two in the latest, but more than one."""
    earlier = [shows(student, "01.1", GAUGE) for student in ("s01", "s02", "s03")]
    two = [shows(student, "05.2", OHMS) for student in ("s04", "s05")]
    roster = dict(list(ROSTER.items())[:5])
    ids = [thing.idea.id for thing in next_session(of(*earlier, *two, roster=roster)) if thing.idea]
    assert ids == ["ohms_rise_with_temperature", "gauge_as_absolute"]
    roster = dict(list(ROSTER.items())[:4])
    ids = [thing.idea.id for thing in next_session(of(*earlier, two[0], roster=roster)) if thing.idea]
    assert ids == ["gauge_as_absolute", "ohms_rise_with_temperature"]


def test_an_idea_that_is_gone_is_not_shown_again(monkeypatch):
    """Nobody's later work shows it: its place is free."""
    held = shows("s01", "01.1", GAUGE)
    assert [thing.holders for thing in next_session(of(held)) if thing.idea] == [("s01",)]
    monkeypatch.setattr(sessions, "current_holders", lambda holding: {})
    assert [thing for thing in next_session(of(held)) if thing.idea] == []


def test_three_things_of_the_invented_class():
    """Three, heaviest first, none of them without a holder."""
    things = next_session(invented_marks.invented_class())
    assert len(things) == 3
    assert [thing.weight for thing in things] == sorted((thing.weight for thing in things), reverse=True)
    assert all(thing.holders for thing in things)


@pytest.mark.parametrize(("count", "latest"), [(0, "01"), (5, "01"), (6, "05")])
def test_the_latest_homework_is_one_that_many_handed_in(count, latest):
    """A few early birds do not make it the class's latest."""
    early = [hand_in(student, "05") for student in list(ROSTER)[:count]]
    assert latest_homework(of(*(hand_in(student, "01") for student in ROSTER), *early)) == latest


def test_where_few_handed_in_at_all_the_last_one_counts():
    """And with nothing handed in there is none."""
    assert latest_homework(of(hand_in("s01", "01"), hand_in("s01", "05"))) == "05"
    assert latest_homework(of()) is None
    assert next_session(of()) == []
