"""Questions that deserve a look: each reason shows where it is there, and not where it is not."""

import pytest
from coldbench.grading.results import ClassResults, HandIn
from coldbench.grading.suspect_questions import IN_SHORT, suspects
from coldbench.homework.kinds import Choice
from grading.invented_marks import ROSTER, homework, mark


def of(*marks, declared=None) -> ClassResults:
    """A class in which each student answered one question."""
    hand_ins = [HandIn(s, ROSTER[s], "01", [one]) for s, one in zip(ROSTER, marks, strict=False)]
    return ClassResults([declared or homework("01")], hand_ins, ROSTER)


def kinds(*marks, **parts) -> list[str]:
    return [one.kind for one in suspects(of(*marks, **parts), "01")]


def right(count: int) -> list:
    return [mark("01.5", "right", 1.0)] * count


def wrong(*answers: str, outcome: str = "wrong") -> list:
    return [mark("01.5", outcome, answered=answer) for answer in answers]


def test_a_good_question_is_not_suspected():
    """Right answers, blanks, wrong ones that lie apart."""
    assert kinds(*right(12), *wrong("40 °F", "-10 °F", "71 °F", "8 °F"), mark("01.5", "not_answered")) == []


def test_wrong_answers_that_lie_together_are_told():
    """Three of four within one tolerance of each other; where, and how many, is said; 3.0 °F is the key."""
    together = wrong("13.4 °F", "13.9 °F", "14.2 °F", "40 °F")
    (one,) = suspects(of(*right(8), *together), "01")
    assert one.kind == "together"
    assert "3 of 4 wrong answers" in one.words
    assert "about 10.9 tolerances above the key (for example 13.9 °F where 3.0 °F was expected)" in one.words


@pytest.mark.parametrize(
    "answers",
    [
        ["13.4 °F", "13.9 °F", "40 °F"],
        ["13.4 °F", "14.0 °F", "14.5 °F", "40 °F"],
        ["13.4 °F", "13.9 °F", "14.2 °F", "40 °F", "50 °F", "60 °F", "70 °F"],
        ["nothing", "nothing", "nothing"],
    ],
)
def test_too_few_too_far_or_unreadable_answers_are_no_cluster(answers):
    """Two; three in more than one tolerance; three of seven; answers without a number."""
    assert kinds(*wrong(*answers)) == []


def test_answers_that_an_idea_explains_are_no_cluster():
    """Alike because of a known idea is what ideas are for."""
    assert kinds(*[mark("01.5", "wrong_idea", 0.25, ("gauge_as_absolute",))] * 6) == []


def test_the_same_wrong_letter_is_told():
    """A choice that no idea explains, chosen by many."""
    declared = homework("01")
    declared.questions["01.5"].kind = Choice({"A": "one", "B": "two", "C": "three"})
    (one,) = suspects(of(*right(5), *wrong("B", "B", "B", "C"), declared=declared), "01")
    assert "3 of 4" in one.words and "“B”" in one.words


def test_ideas_that_its_numbers_do_not_tell_apart_are_told():
    """Three answers that follow from more than one idea; two are too few."""
    both = mark("01.5", "wrong_idea", 0.25, ("gauge_as_absolute", "vacuum_as_pressure_above"))
    assert kinds(*right(8), both, both, both) == ["not_told_apart"]
    assert kinds(*right(8), both, both) == []
    assert kinds(*right(20), both, both, both) == []


def test_many_just_outside_are_told():
    """Three just outside beside eight within; beside eighteen they are few."""
    assert kinds(*right(8), *wrong("4.2 °F", "4.3 °F", "1.8 °F", outcome="nearly")) == ["tight"]
    assert kinds(*right(18), *wrong("4.2 °F", "4.3 °F", "1.8 °F", outcome="nearly")) == []


def test_many_that_could_not_be_read_are_told():
    """Three of eleven; three of twenty-three are few."""
    assert kinds(*right(8), *wrong("8", "9", "7", outcome="not_understood")) == ["not_understood"]
    assert kinds(*right(20), *wrong("8", "9", "7", outcome="not_understood")) == []


def test_a_question_at_which_good_students_did_no_better_is_told():
    """The figure stands in the sentence."""
    hand_ins = [
        HandIn(s, ROSTER[s], "01", [mark("01.1", "right", (n % 2) / 1), mark("01.4", "right", n / 10)])
        for n, s in enumerate(list(ROSTER)[:10])
    ]
    results = ClassResults([homework("01")], hand_ins, ROSTER)
    one = suspects(results, "01")[0]
    assert (one.question, one.kind) == ("01.1", "weak")
    assert "discrimination 0.17" in one.words


def test_every_kind_has_a_few_words_and_a_title():
    """What the first page says of it."""
    (one,) = suspects(of(*right(8), *wrong("8", "9", "7", outcome="not_understood")), "01")
    assert (one.in_short, one.title) == (IN_SHORT["not_understood"], "Subcooling")
    assert suspects(of(), "01") == []
