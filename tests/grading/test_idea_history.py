"""What became of wrong ideas: still there, gone, or not asked again."""

import pytest
from coldbench.grading.idea_history import GONE, NOT_ASKED_AGAIN, STILL_THERE, current_holders, holdings
from coldbench.grading.results import ClassResults, HandIn
from grading.invented_marks import ROSTER, homework, mark

IDEA, OTHER = "vacuum_as_pressure_above", "gauge_as_absolute"


def declared(number: str, *questions: str):
    """An invented homework of which these questions could show the idea."""
    one = homework(number)
    for question in questions:
        one.questions[question].wrong(IDEA, 0.0)
    return one


def of(first: list, *later: list, asked=("05.1",)) -> ClassResults:
    """A class of one student, whose hand-ins of homework 01 and 05 have these marks."""
    homeworks = [declared("01", "01.1"), declared("05", *asked)]
    hand_ins = [
        HandIn("s01", "Ada Birch", number, marks)
        for number, marks in zip(("01", "05"), (first, *later), strict=False)
    ]
    return ClassResults(homeworks, hand_ins, ROSTER)


HELD = [mark("01.1", "wrong_idea", 0.25, (IDEA,))]


@pytest.mark.parametrize(
    ("later", "now"),
    [
        ([mark("05.1", "wrong_idea", 0.25, (IDEA,))], STILL_THERE),
        ([mark("05.1", "right", 1.0), mark("05.2", "wrong_idea", 0.25, (IDEA,))], STILL_THERE),
        ([mark("05.1", "right", 1.0)], GONE),
        ([mark("05.1", "follow_through", 1.0)], GONE),
        ([mark("05.1", "wrong")], NOT_ASKED_AGAIN),
        ([mark("05.1", "not_answered")], NOT_ASKED_AGAIN),
        ([mark("05.2", "right", 1.0)], NOT_ASKED_AGAIN),
        ([mark("05.1", "right", 1.0), mark("05.2", "wrong_idea", 0.25, (IDEA, OTHER))], NOT_ASKED_AGAIN),
    ],
)
def test_the_next_homework_says_what_became_of_it(later, now):
    """Shown again; thought rightly where it could show; anything else does not tell."""
    (holding,) = [each for each in holdings(of(HELD, later)) if each.idea == IDEA]
    assert (holding.student, holding.shown[0], holding.now) == ("s01", "01", now)


def test_without_a_later_homework_it_was_not_asked_again():
    """Nothing later, nothing known."""
    assert [each.now for each in holdings(of(HELD))] == [NOT_ASKED_AGAIN]


def test_an_idea_first_seen_in_the_latest_homework_is_not_judged_by_earlier_ones():
    """A right answer before does not make it gone."""
    (holding,) = holdings(of([mark("01.1", "right", 1.0)], [mark("05.1", "wrong_idea", 0.25, (IDEA,))]))
    assert (holding.shown, holding.now) == (("05",), NOT_ASKED_AGAIN)


def test_the_latest_that_tells_counts():
    """Held, gone, held again: it is still there; and a silent homework after that changes nothing."""
    homeworks = [declared(number, f"{number}.1") for number in ("01", "05")]
    later = [homework("05") for _ in range(2)]
    for number, one in zip(("09", "11"), later, strict=True):
        one.number = number
    marks = [
        HELD[0],
        mark("05.1", "right", 1.0),
        mark("05.1", "wrong_idea", 0.25, (IDEA,)),
        mark("05.1", "wrong"),
    ]
    hand_ins = [
        HandIn("s01", "Ada Birch", number, [one])
        for number, one in zip(("01", "05", "09", "11"), marks, strict=True)
    ]
    (holding,) = holdings(ClassResults([*homeworks, *later], hand_ins, ROSTER))
    assert (holding.shown, holding.now) == (("01", "09"), STILL_THERE)


def test_who_may_still_hold_it():
    """Everybody but those whose later work is free of it."""
    gone = of(HELD, [mark("05.1", "right", 1.0)])
    assert current_holders(holdings(gone)) == {}
    both = [*gone.hand_ins, HandIn("s02", "Ben Cove", "01", HELD)]
    assert current_holders(holdings(ClassResults(gone.homeworks, both, ROSTER))) == {IDEA: ("s02",)}


def test_ideas_that_cannot_be_told_apart_are_nobodys():
    """As everywhere: an answer that fits two ideas makes no holder."""
    assert holdings(of([mark("01.1", "wrong_idea", 0.25, (IDEA, OTHER))])) == []
