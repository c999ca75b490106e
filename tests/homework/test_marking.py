"""Marking: points by outcome, follow-through, the idea behind a wrong answer, and comments that read well."""

import pytest
from coldbench.homework.drawing import accepted_draws
from coldbench.homework.marking import SAME_THOUGHT, SHARES, mark_homework, rounded
from coldbench.homework.sheet import Sheet
from hypothesis import given
from hypothesis import strategies as st

JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(), inner, max_size=4),
    max_leaves=8,
)
OUTCOMES = {
    "right", "follow_through", "nearly", "slip", "wrong_idea", "partly", "wrong", "not_answered",
    "not_understood", "by_hand",
}  # fmt: skip


class Marker:
    """Marks the small homework for one student and knows the numbers of that student."""

    def __init__(self, homework, sheet, ideas):
        self.homework, self.sheet, self.ideas = homework, sheet, ideas
        typed = sheet.numbers("s07", "99.1").typed
        self.heater, self.second, self.hours = typed["heater"], typed["second"], typed["hours"]
        self.watts = self.heater + self.second

    def __call__(self, **answers):
        """Mark answers given as q1 for 99.1 and so on; the last one's mark is returned."""
        given = {f"99.{name[1:]}": value for name, value in answers.items()}
        marks = mark_homework(self.homework, self.sheet, self.ideas, "s07", given)
        return next(mark for mark in marks if mark.question == list(given)[-1])


@pytest.fixture
def mark(small, small_sheet, small_ideas):
    """A marker of the small homework for student s07."""
    return Marker(small, small_sheet, small_ideas)


def test_shares_are_those_of_the_course():
    """Right 1, by follow-through 1, nearly 0.5, a slip 0.5, a known wrong idea 0.25."""
    assert SHARES == {"right": 1.0, "follow_through": 1.0, "nearly": 0.5, "slip": 0.5, "wrong_idea": 0.25}


def test_right_within_the_tolerance(mark):
    """The key, its edge, and another unit."""
    width = max(2.0, 0.01 * mark.watts)
    for answer in (f"{mark.watts} W", f"{mark.watts + width:.6f} W", f"{mark.watts / 1000} kW", mark.watts):
        found = mark(q1=answer)
        assert (found.outcome, found.points, found.out_of) == ("right", 2, 2)
    assert found.comment.startswith(f"Right. Expected: {mark.watts:.1f} W, give or take ")
    assert found.comment.endswith("(a meter is good to a watt or so).")
    assert found.worked == f"{mark.heater:.0f} W and {mark.second:.0f} W."
    assert found.read_again == "course/99-small: Watts"


def test_slightly_outside_earns_half(mark):
    """One and a half tolerances away, not more."""
    width = max(2.0, 0.01 * mark.watts)
    found = mark(q1=f"{mark.watts + 1.4 * width} W")
    assert (found.outcome, found.points) == ("nearly", 1)
    assert found.comment.startswith("Just outside, so half the points. Expected: ")
    assert mark(q1=f"{mark.watts + 1.6 * width} W").outcome == "wrong"


def test_wrong_idea_is_named_with_its_reasons(mark):
    """A quarter of the points, the idea, why it tempts, what holds instead."""
    found = mark(q1=f"{mark.heater} W")
    assert (found.outcome, found.points, found.wrong_ideas) == ("wrong_idea", 0.5, ("sum_forgotten",))
    assert found.comment.endswith(
        "Your answer follows from the idea “The sum_forgotten.” "
        "It is tempting because it is near. What holds instead: not the sum_forgotten."
    )


@pytest.mark.parametrize("figures", [2, 3])
def test_wrong_idea_is_seen_through_rounding(mark, figures):
    """An idea's answer rounded to two or three figures is that idea."""
    found = mark(q1=f"{rounded(mark.heater - mark.second, figures)} W")
    assert found.wrong_ideas == ("sign_lost",)


def test_idea_beyond_its_reach_is_not_guessed(mark):
    """Half a tolerance away from an idea's answer, and no rounding of it: plain wrong."""
    width = max(2.0, 0.01 * mark.watts)
    found = mark(q1=f"{mark.heater + 1.1 * width:.3f} W")
    assert SAME_THOUGHT < 1.1
    assert (found.outcome, found.wrong_ideas, found.points) == ("wrong", (), 0)
    assert found.comment.endswith("Compare your steps with the worked answer.")


def test_slip_has_its_hint_and_no_idea(mark):
    """Twice the right number: half the points and one line."""
    found = mark(q1=f"{2 * mark.watts} W")
    assert (found.outcome, found.points, found.wrong_ideas) == ("slip", 1, ())
    assert found.comment.endswith("(a meter is good to a watt or so). You took it twice.")


def test_slip_of_unit_is_named(mark):
    """The right figure with another unit; a figure without a unit was taken in the question's."""
    assert mark(q1=f"{mark.watts} kW").comment.endswith(
        "The number is right if its unit is W, but you wrote kW."
    )
    found = mark(q1=mark.watts / 1000)
    assert found.outcome == "slip"
    assert found.comment.endswith("The number is right if its unit is kW, but it was taken as W.")


def test_follow_through_earns_full_points(mark):
    """A wrong 99.1 carried rightly into 99.2, exactly and rounded."""
    own = mark.heater + 17.3
    found = mark(q1=f"{own} W", q2=f"{own * mark.hours:.0f} Wh")
    assert (found.outcome, found.points) == ("follow_through", 3)
    assert found.comment.startswith("Right from your own earlier answer, so full points. Expected: ")


def test_wrong_idea_is_seen_from_an_own_earlier_answer(mark):
    """A wrong 99.1 and then a wrong idea in 99.2 on top of it."""
    own = mark.heater + 17.3
    found = mark(q1=f"{own} W", q2=f"{own / mark.hours} Wh")
    assert (found.outcome, found.wrong_ideas) == ("wrong_idea", ("upside_down",))


def test_slip_of_unit_after_an_own_earlier_answer(mark):
    """The figure that follows, with another unit."""
    own = mark.heater + 17.3
    found = mark(q1=f"{own} W", q2=f"{own * mark.hours / 1000} Wh")
    assert found.comment.endswith("The number is right if its unit is kWh, but you wrote Wh.")


def test_impossible_earlier_answer_is_not_carried_on(mark):
    """9,000 W is outside of what the question calls possible: said, and nothing follows from it."""
    found = mark(q1="9000 W", q2=f"{9000 * mark.hours} Wh")
    assert (found.outcome, found.points) == ("wrong", 0)
    assert "Your answer to 99.1 cannot be, so it was not carried on." in found.comment


def test_missing_earlier_answer_leaves_the_right_one(mark):
    """Without 99.1, 99.2 is marked by its key."""
    assert mark(q2=f"{mark.watts * mark.hours} Wh").outcome == "right"


def test_key_that_does_not_hold_for_an_own_answer(small, small_ideas):
    """Where the equations fail for a carried answer, nothing follows and nothing breaks."""
    small.questions["99.2"].key(lambda numbers, earlier: _above_100(earlier["99.1"]) * numbers.hours)
    sheet = Sheet(small.sheet(accepted_draws(small)))
    marks = mark_homework(small, sheet, small_ideas, "s07", {"99.1": "50 W", "99.2": "123.4 Wh"})
    assert marks[1].outcome == "wrong"


def _above_100(power: float) -> float:
    if power < 100:
        raise ValueError("too little")
    return power


def test_choice_order_and_table(mark):
    """Right letters; the idea behind others; parts of an order and of a table."""
    assert mark(q3="B").comment == "Right. Expected: B (less)."
    assert mark(q3="C").wrong_ideas == ("all_alike",)
    assert mark(q3="A").outcome == "wrong"
    assert mark(q4="ABCD").points == 2
    assert (mark(q4="DABC").outcome, mark(q4="DABC").points) == ("partly", 1.33)
    assert (mark(q4="DCBA").outcome, mark(q4="DCBA").points) == ("wrong_idea", 0.5)
    assert mark(q4="BDAC").outcome == "wrong"
    assert (mark(q5={"fan": "A", "lamp": "C"}).outcome, mark(q5={"fan": "A"}).points) == ("partly", 0.67)


def test_table_shows_the_idea_that_explains_most_rows(mark):
    """Two ideas fit three wrong rows, one of them only two: the fuller one is meant."""
    assert mark(q5={"fan": "B", "lamp": "B", "coil": "B"}).wrong_ideas == ("all_alike",)
    found = mark(q5={"fan": "B", "lamp": "B", "coil": "A"})
    assert (found.wrong_ideas, found.points) == (("upside_down",), 0.67)


def test_ideas_that_cannot_be_told_apart_are_both_named(small, small_ideas):
    """One answer, two ideas: the comment names both and guesses neither."""
    small.questions["99.3"].wrong("sign_lost", gives="C")
    sheet = Sheet(small.sheet(accepted_draws(small)))
    found = mark_homework(small, sheet, small_ideas, "s07", {"99.3": "C"})[2]
    assert found.wrong_ideas == ("all_alike", "sign_lost")
    assert found.comment.endswith("cannot tell which: “The all_alike.” or “The sign_lost.”")


def test_sentence_waits_for_the_instructor(mark):
    """No points yet, the sentence as it is."""
    found = mark(q6=" It burns.\n")
    assert (found.outcome, found.points, found.answered) == ("by_hand", 0, "It burns.")
    assert found.expected == "" and found.comment == "Your instructor reads this one and gives its points."


@pytest.mark.parametrize("blank", [None, "", " ", "...", {"fan": None, "lamp": None, "coil": None}])
def test_blank_is_said_to_be_blank(mark, blank):
    """Whatever kind of nothing it is."""
    for question in ("q1", "q3", "q4", "q5", "q6"):
        if not isinstance(blank, dict) or question == "q5":
            found = mark(**{question: blank})
            assert (found.outcome, found.points, found.answered) == ("not_answered", 0, "")
    assert mark(q3=None).comment == "Not answered. Expected: B (less)."
    assert mark(q6=None).comment == "Not answered."
    assert mark(q5={}).outcome == "not_answered"


def test_not_understood_says_why_and_shows_what_was_typed(mark):
    """The refusal of the reading is the comment."""
    found = mark(q1="200 psig")
    assert (found.outcome, found.points, found.answered) == ("not_understood", 0, '"200 psig"')
    assert found.comment.startswith('Not understood: You typed "200 psig": that is a pressure')


@given(
    answers=st.dictionaries(st.sampled_from([f"99.{n}" for n in range(1, 8)]), JSON),
    student=st.sampled_from(["s01", "s02"]),
)
def test_marking_never_fails_and_points_stay_in_range(answers, student, small_declared):
    """Any plain values: a mark for each question in order, points from none to full, a sentence."""
    declared, sheet, ideas = small_declared
    marks = mark_homework(declared, sheet, ideas, student, answers)
    assert [found.question for found in marks] == list(declared.questions)
    for found in marks:
        assert 0 <= found.points <= found.out_of
        assert found.outcome in OUTCOMES
        assert found.comment.endswith((".", "”"))
        assert (found.outcome == "wrong_idea") == bool(found.wrong_ideas)


@given(watts=st.floats(-1e4, 1e4), energy=st.floats(-1e6, 1e6))
def test_numbers_of_any_size_are_marked(watts, energy, small_declared):
    """Chained numbers, sensible or not, never fail."""
    declared, sheet, ideas = small_declared
    answers = {"99.1": f"{watts!r} W", "99.2": f"{energy!r} Wh"}
    marks = mark_homework(declared, sheet, ideas, "s01", answers)
    assert all(found.points in (0, 0.25 * found.out_of, 0.5 * found.out_of, found.out_of) for found in marks)


@pytest.mark.parametrize(
    ("number", "figures", "expected"),
    [
        (19.83, 2, 20.0),
        (0.14567, 3, 0.146),
        (-37.44, 2, -37.0),
        (0.0, 2, 0.0),
        (float("inf"), 2, float("inf")),
    ],
)
def test_rounding_to_figures(number, figures, expected):
    """Figures, not decimals; zero and infinity stay."""
    assert rounded(number, figures) == expected
