"""Declaring a homework: draws, tolerance, chains, loading, the catalogue."""

from random import Random

import pytest
from coldbench import units
from coldbench.errors import CannotStart
from coldbench.homework import declare
from coldbench.homework.declare import Derived, OneOf, Steps, Tolerance
from hypothesis import given
from hypothesis import strategies as st


@given(st.integers(0, 10_000))
def test_steps_are_evenly_spaced_ends_included(seed):
    """From 5 to 6 by 0.1: eleven values, no others."""
    source = Random(seed)  # noqa: S311 - a draw to be repeated
    values = {Steps("p", 5.0, 6.0, 0.1, "psig").draw(source, None) for _ in range(20)}
    assert values <= {5.0, 5.1, 5.2, 5.3, 5.4, 5.5, 5.6, 5.7, 5.8, 5.9, 6.0}


def test_one_of_draws_every_listed_value():
    """And nothing else."""
    source = Random(1)  # noqa: S311
    assert {OneOf("v", (3.3, 5.0), "V", "").draw(source, None) for _ in range(50)} == {3.3, 5.0}


def test_derived_number_is_rounded_as_a_meter_shows_it():
    """20 °C on a meter with half degrees of °F (68.0 °F by definition of the scales)."""
    assert Derived("t", 0.5, "degF", "{}", lambda drawn: 293.3).draw(None, None) == 68.5


def test_larger_of_the_two_tolerances_holds():
    """2 absolute beside 1 percent, on either side of 200."""
    tolerance = Tolerance("why", within=2.0, percent=1.0)
    assert tolerance.width(100) == 2.0
    assert tolerance.width(-400) == 4.0


def test_questions_that_use_or_share_make_one_chain(small):
    """99.2 uses 99.1; a third that shares 99.2 joins them."""
    small.question("99.7", title="", points=1, kind=None, wording="", read_again="", shares=("99.2",))
    chains = {chain: [question.id for question in held] for chain, held in small.chains().items()}
    assert chains["99.1"] == ["99.1", "99.2", "99.7"]


def test_hidden_numbers_are_not_given(small):
    """Only what the student sees is in the sheet's table."""
    names = [variable.name for variable in small.questions["99.1"].given()]
    assert names == ["heater", "second", "plate"]
    assert small.name == "homework-99"


def test_wrong_ideas_are_declared_by_value_or_by_function(small):
    """Both ways give a function of (numbers, earlier); a slip has a hint."""
    assert [mistake.id for mistake in small.questions["99.1"].mistakes if mistake.is_slip] == ["doubled"]
    assert small.questions["99.3"].mistakes[0].function(None, None) == "C"


def test_load_runs_the_declaration_of_a_folder(tmp_path):
    """A folder with a questions.py that declares one."""
    folder = tmp_path / "homework-42"
    folder.mkdir()
    (folder / "questions.py").write_text(
        "from coldbench.homework.declare import Homework\n"
        "homework = Homework('42', 'T', 'course/42', 's', '')\n"
    )
    assert declare.load(folder).number == "42"


def test_load_says_where_the_solutions_should_be(tmp_path):
    """Students have no solutions; marking says so."""
    with pytest.raises(CannotStart, match="needs the instructor's solutions folder"):
        declare.load(tmp_path)


def test_catalogue_is_read_by_id(tmp_path):
    """A row by its id; without a file a sentence."""
    with pytest.raises(CannotStart, match=r"There is no .*wrong_ideas\.csv"):
        declare.wrong_ideas(tmp_path)
    (tmp_path / "wrong_ideas.csv").write_text("id,sentence\nup,Up is down.\n", encoding="utf-8")
    assert declare.wrong_ideas(tmp_path) == {"up": {"id": "up", "sentence": "Up is down."}}


def test_units_of_draws_are_known(small):
    """Every unit of a personal number can be turned into SI."""
    for question in small.questions.values():
        for part in question.draw:
            assert units.to_si(1.0, part.unit) is not None
