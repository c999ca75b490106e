"""Accepted draws: the same on every run, and every wrong idea shows itself in each."""

from itertools import combinations

import pytest
from coldbench import units
from coldbench.errors import CannotStart
from coldbench.homework.declare import Homework, Steps, Tolerance
from coldbench.homework.drawing import CLEAR, accepted_draws, faults
from coldbench.homework.kinds import Number
from coldbench.homework.sheet import Numbers


def declare_one(*draw, width=1.0, unit="W", quantity="power", alike=()) -> tuple[Homework, object]:
    """Declare a homework of one question whose key is twice its number."""
    homework = Homework("98", "One", "course/98", "", "")
    question = homework.question(
        "98.1",
        title="One",
        points=1,
        kind=Number(quantity, unit, 1, "1 W"),
        wording="",
        read_again="",
        draw=draw,
        tolerance=Tolerance("so", within=width),
        alike=alike,
    )
    question.key(lambda numbers, earlier: 2 * numbers.first)
    return homework, question


FIRST = Steps("first", 10, 60, 0.1, "W", "{:.1f} W")


def test_draws_are_the_same_on_every_run_and_unique(small):
    """Two runs, one table; no row twice."""
    draws = accepted_draws(small)
    assert draws == accepted_draws(small)
    assert len({tuple(row) for row in draws["99.1"]}) == len(draws["99.1"]) == 300
    assert draws["99.3"] == [[]]


def test_condition_of_the_question_holds(small):
    """A heater of 150 W is refused by the declaration."""
    assert all(row[0] != 150 for row in accepted_draws(small)["99.1"])


def test_rows_where_an_idea_lands_on_the_key_are_refused():
    """An idea that answers 50 W: no accepted key lies within 1.5 tolerances of it."""
    homework, question = declare_one(FIRST)
    question.wrong("fifty")(lambda numbers, earlier: 50.0)
    keys = [2 * row[0] for row in accepted_draws(homework)["98.1"]]
    assert all(abs(key - 50) > CLEAR for key in keys)
    assert any(abs(key - 50) < 3 * CLEAR for key in keys)


@pytest.mark.parametrize(("alike", "closest"), [((), CLEAR), ((frozenset(("one", "other")),), 0.0)])
def test_ideas_stand_apart_unless_declared_alike(alike, closest):
    """Two ideas that meet at a key of 80 W: refused there, unless the question says so."""
    homework, question = declare_one(FIRST, alike=alike)
    question.wrong("one")(lambda numbers, earlier: 4 * numbers.first)
    question.wrong("other")(lambda numbers, earlier: 120 + numbers.first)
    apart = [abs(4 * row[0] - 120 - row[0]) for row in accepted_draws(homework)["98.1"]]
    assert min(apart) >= closest
    assert (min(apart) < CLEAR) == bool(alike)


def test_ideas_stand_apart_from_the_right_number_with_another_unit():
    """Joules for watt-hours is a slip; an idea may not answer the same, or marking could not tell."""
    homework, question = declare_one(
        Steps("first", 10, 60, 0.1, "Wh", "{:.1f}"), unit="Wh", quantity="energy", width=0.5
    )
    question.wrong("third")(lambda numbers, earlier: units.to_si(150.0, "Wh"))
    rows = accepted_draws(homework)["98.1"]
    assert all(abs(2 * row[0] * 3.6 - 150) > CLEAR * 0.5 for row in rows)


def test_two_ways_of_one_idea_and_two_slips_may_meet():
    """One id twice, or slip and slip, need not be told apart."""
    homework, question = declare_one(FIRST)
    question.wrong("half")(lambda numbers, earlier: numbers.first)
    question.wrong("half")(lambda numbers, earlier: numbers.first + 0.1)
    question.slip("a", "A.")(lambda numbers, earlier: 300.0)
    question.slip("b", "B.")(lambda numbers, earlier: 300.0)
    assert len(accepted_draws(homework)["98.1"]) == 300


@pytest.mark.parametrize(
    "fault", [ValueError("no curve here"), ZeroDivisionError("none"), OverflowError("huge")]
)
def test_rows_where_an_equation_does_not_hold_are_refused(fault):
    """An idea whose equation fails for some numbers: those numbers are not handed out."""
    homework, question = declare_one(FIRST)

    def fails_above_40(numbers, earlier):
        if numbers.first > 40:
            raise fault
        return -1000.0

    question.wrong("failing")(fails_above_40)
    assert max(row[0] for row in accepted_draws(homework)["98.1"]) <= 40
    row = [50.0]
    assert str(fault) in faults([question], question.given(), row)[0]


def test_too_few_accepted_rows_are_said():
    """Twelve values cannot serve a class."""
    homework, _ = declare_one(Steps("first", 10, 21, 1, "W", "{}"))
    with pytest.raises(CannotStart, match=r"Chain 98\.1 gives only 12 accepted draws"):
        accepted_draws(homework)


@pytest.mark.parametrize("names", [("first", "first"), ("first", "shown"), ("first", "typed")])
def test_names_of_numbers_are_unique(names):
    """A name that is taken would hide another number."""
    homework, _ = declare_one(*(Steps(name, 10, 60, 0.1, "W", "{}") for name in names))
    with pytest.raises(CannotStart, match="the name is taken"):
        accepted_draws(homework)


@pytest.mark.parametrize("number", ["01", "05"])
def test_any_two_wrong_ideas_stand_apart_in_every_accepted_draw(real, number):
    """Every chain, every row, every pair: 1.5 tolerances apart, or declared alike; and none on the key."""
    course = real(number)
    for chain, questions in course.homework.chains().items():
        variables = [variable for question in questions for variable in question.given()]
        for row in course.draws[chain]:
            numbers, earlier = Numbers(variables, row), {}
            for question in questions:
                if question.key_function is None:
                    continue
                key = earlier[question.id] = question.key_function(numbers, earlier)
                answers = [("key", key)]
                answers += [(mistake.id, mistake.function(numbers, earlier)) for mistake in question.mistakes]
                for (one, first), (other, second) in combinations(answers, 2):
                    if one != other and frozenset((one, other)) not in question.alike:
                        assert _apart(question, key, first, second), (question.id, one, other, row)


def _apart(question, key, first, second) -> bool:
    if not isinstance(question.kind, Number):
        return first != second
    in_unit = question.kind.in_unit
    return abs(in_unit(first) - in_unit(second)) > CLEAR * question.tolerance.width(in_unit(key))


@pytest.mark.parametrize("number", ["01", "05"])
def test_chains_have_many_rows(real, number):
    """At least 200 different rows for every chain with personal numbers."""
    for chain, rows in real(number).draws.items():
        assert rows == [[]] or len({tuple(row) for row in rows}) >= 200, chain
