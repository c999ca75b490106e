"""Statistics of a class: facility, discrimination, ideas per student, what to show, who needs a word."""

from dataclasses import replace

import pytest
from coldbench.grading import statistics
from coldbench.grading.gradebook import GivenByHand
from coldbench.grading.idea_history import holdings
from coldbench.grading.next_session import next_session
from coldbench.grading.results import ClassResults, HandIn
from coldbench.grading.suspect_questions import suspects
from coldbench.homework.declare import Homework
from coldbench.homework.kinds import Sentence
from coldbench.homework.marking import mark_homework
from coldbench.homework.sheet import Sheet
from grading import invented_marks
from grading.invented_marks import ROSTER, hand_in, homework, mark
from hypothesis import given
from hypothesis import strategies as some

# A published table of 32 rows with four columns that the software's example treats as questions of one test,
# and the correlation of each with the sum of the other three, as printed to two decimals.
# Source: reference page of `item_discrimination` in the R package "performance", example on the data set
# "mtcars" (columns cyl, gear, carb, hp) that comes with R; the columns are typed from memory, and the four
# printed figures would not all come out if one were wrong by much.
CYL = [6, 6, 4, 6, 8, 6, 8, 4, 4, 6, 6, 8, 8, 8, 8, 8, 8, 4, 4, 4, 4, 8, 8, 8, 8, 4, 4, 4, 8, 6, 8, 4]
GEAR = [4, 4, 4, 3, 3, 3, 3, 4, 4, 4, 4, 3, 3, 3, 3, 3, 3, 4, 4, 4, 3, 3, 3, 3, 3, 4, 5, 5, 5, 5, 5, 4]
CARB = [4, 4, 1, 1, 2, 1, 4, 2, 2, 4, 4, 3, 3, 3, 4, 4, 4, 1, 2, 1, 1, 2, 2, 4, 2, 1, 2, 2, 4, 6, 8, 2]
HP = [110, 110, 93, 110, 175, 105, 245, 62, 95, 123, 123, 180, 180, 180, 205, 215, 230, 66, 52, 65, 97, 150]
HP += [150, 245, 175, 66, 91, 113, 264, 175, 335, 109]
PUBLISHED = [0.83, -0.13, 0.75, 0.88]


def of(*hand_ins: HandIn, homeworks=("01",), roster=ROSTER) -> ClassResults:
    return ClassResults([homework(number) for number in homeworks], list(hand_ins), roster)


def with_marks(student: str, *marks) -> HandIn:
    return HandIn(student, ROSTER[student], marks[0].question[:2], list(marks))


@pytest.mark.parametrize("place", range(4))
def test_discrimination_agrees_with_published_figures(place):
    """The corrected correlation is that of statistical software, to the two decimals it prints."""
    columns = [CYL, GEAR, CARB, HP]
    rests = [sum(row) - row[place] for row in zip(*columns, strict=True)]
    assert statistics.discrimination(columns[place], rests) == pytest.approx(PUBLISHED[place], abs=0.005)


def test_discrimination_needs_eight_hand_ins_and_spread():
    """Few hand-ins or no spread on either side give no figure rather than a chance one."""
    rising = [float(number) for number in range(8)]
    assert statistics.discrimination(rising, rising) == pytest.approx(1.0)
    assert statistics.discrimination(rising[:7], rising[:7]) is None
    assert statistics.discrimination([1.0] * 8, rising) is None
    assert statistics.discrimination(rising, [1.0] * 8) is None


SCORES = some.lists(some.tuples(*[some.sampled_from([0, 0.5, 1, 1.5, 2])] * 2), min_size=8, max_size=30)


@given(SCORES)
def test_discrimination_stays_between_its_ends_and_turns_with_the_scores(rows):
    """It lies in -1 … 1, and turning the scores round turns its sign."""
    scores, rests = map(list, zip(*rows, strict=True))
    figure = statistics.discrimination(scores, rests)
    if figure is not None:
        assert -1 - 1e-9 <= figure <= 1 + 1e-9
        turned = statistics.discrimination([2 - score for score in scores], rests)
        assert turned == pytest.approx(-figure, abs=1e-9)


def test_facility_is_the_mean_share_among_those_who_handed_in():
    """Missing students do not lower it, blanks do, sentences count once they are read."""
    results = of(
        with_marks(
            "s01", mark("01.1", "right", 1.0), mark("01.8", "by_hand", 0.5, comment="Why?", waiting=False)
        ),
        with_marks(
            "s02",
            mark("01.1", "not_answered"),
            mark("01.8", "by_hand", 1.0, comment="Well said.", waiting=False),
        ),
    )
    by_question = {each.question: each for each in statistics.question_statistics(results, "01")}
    assert by_question["01.1"].facility == 0.5
    assert by_question["01.1"].outcomes == {"right": 1, "not_answered": 1}
    assert (by_question["01.8"].marked, by_question["01.8"].facility) == (2, 0.75)
    assert by_question["01.2"].facility is None


def test_a_question_has_no_facility_while_answers_wait():
    """One blank beside sentences still to be read does not make the question look hard."""
    results = of(
        with_marks("s01", mark("01.8", "by_hand")),
        with_marks("s02", mark("01.8", "not_answered", answered="")),
    )
    sentence = next(each for each in statistics.question_statistics(results, "01") if each.question == "01.8")
    assert (sentence.marked, sentence.waiting, sentence.facility) == (1, 1, None)
    assert next_session(results) == []


def test_a_dropped_question_is_no_hard_one():
    """Where no points can be had, there is no facility, nothing to show, and no idea is counted."""
    dropped = mark("01.4", "wrong", out_of=0.0)
    results = of(*(with_marks(student, dropped) for student in ROSTER))
    figures = {each.question: each for each in statistics.question_statistics(results, "01")}
    assert (figures["01.4"].facility, figures["01.4"].discrimination) == (None, None)
    assert next_session(results) == []
    held = mark("01.1", "wrong_idea", 0.25, ("gauge_as_absolute",), points=0.0, out_of=0.0)
    results = of(*(with_marks(student, held) for student in ROSTER))
    assert statistics.held_ideas(results) == holdings(results) == suspects(results, "01") == []


def test_rest_leaves_the_question_out():
    """A question that contradicts all others has a negative figure, though it is part of the total."""
    marks = [
        with_marks(
            f"s{place:02d}",
            mark("01.1", "right", 1.0 - place / 10),
            mark("01.2", "right", place / 10),
            mark("01.4", "right", place / 10),
            mark("01.5", "right", place / 10),
        )
        for place in range(1, 10)
    ]
    figures = {each.question: each for each in statistics.question_statistics(of(*marks), "01")}
    assert figures["01.1"].discrimination == pytest.approx(-1.0)
    assert figures["01.1"].is_weak
    assert figures["01.4"].discrimination > statistics.WEAK_DISCRIMINATION
    assert not figures["01.4"].is_weak
    assert not figures["01.6"].is_weak


def test_an_idea_counts_once_a_student():
    """Three answers of one student are one holder; the weight is holders times points lost."""
    idea = ("vacuum_as_pressure_above",)
    results = of(
        with_marks(
            "s01", *(mark(question, "wrong_idea", 0.25, idea) for question in ("01.2", "01.6", "01.9"))
        ),
        with_marks("s02", mark("01.1", "wrong_idea", 0.25, ("gauge_as_absolute",))),
        with_marks("s03", mark("01.3", "wrong_idea", 0.25, ("gauge_as_absolute",))),
    )
    first, second = statistics.held_ideas(results)
    assert (first.id, first.holders, first.questions) == (
        "gauge_as_absolute",
        ("s02", "s03"),
        ("01.1", "01.3"),
    )
    assert (second.holders, second.questions) == (("s01",), ("01.2", "01.6", "01.9"))
    assert first.weight == pytest.approx(2 * 1.5)
    assert second.weight == pytest.approx(1.5)


def test_ideas_that_cannot_be_told_apart_are_never_guessed():
    """An answer that fits two ideas makes nobody a holder and stands in a list of its own."""
    both = ("gauge_as_absolute", "vacuum_as_pressure_above")
    results = of(
        with_marks("s01", mark("01.1", "wrong_idea", 0.25, both)),
        with_marks("s02", mark("01.1", "wrong_idea", 0.25, both)),
    )
    assert statistics.held_ideas(results) == []
    assert statistics.not_told_apart(results) == [statistics.Undecided("01.1", both, ("s01", "s02"))]
    assert statistics.not_told_apart(results, "05") == []


def test_ideas_are_found_across_homeworks_or_within_one():
    """The same idea in two homeworks is one line, with both named."""
    idea = ("ohms_rise_with_temperature",)
    results = of(
        with_marks("s01", mark("01.1", "wrong_idea", 0.25, idea)),
        with_marks("s01", mark("05.2", "wrong_idea", 0.25, idea)),
        homeworks=("01", "05"),
    )
    assert [(each.homeworks, each.holders) for each in statistics.held_ideas(results)] == [
        (("01", "05"), ("s01",))
    ]
    assert [each.questions for each in statistics.held_ideas(results, "05")] == [("05.2",)]


def test_who_needs_a_word():
    """Missing, slipping against the class, low, and troubled students are named by reason."""

    def share(student, number, right):
        questions = [question for question in invented_marks.QUESTIONS[number] if question[3:] != "8"]
        return with_marks(
            student,
            *(
                mark(q, "right" if place < right else "wrong", place < right)
                for place, q in enumerate(questions)
            ),
        )

    first = [share("s01", "01", 7), share("s02", "01", 7), share("s03", "01", 7), share("s04", "01", 2)]
    second = [share("s01", "05", 6), share("s02", "05", 6), share("s03", "05", 1), share("s04", "05", 2)]
    second[1] = replace(second[1], troubles=["The file was renamed."])
    roster = {student: ROSTER[student] for student in ("s01", "s02", "s03", "s04", "s05")}
    word = statistics.needs_a_word(of(*first, *second, homeworks=("01", "05"), roster=roster))
    assert word.missing == {"01": ("s05",), "05": ("s05",)}
    assert list(word.slipping) == ["s03"]
    assert list(word.low) == ["s04"]
    assert word.troubled == {"s02": ("05",)}


def test_another_students_numbers_are_no_slipping():
    """Answers that fit other numbers say nothing about who is slipping or low."""
    high = [hand_in(student, "01", 1.0) for student in ROSTER]
    again = [hand_in(student, "05", 1.0) for student in ROSTER]
    fallen = replace(again[0], marks=[mark(q, "wrong") for q in invented_marks.QUESTIONS["05"]])
    results = of(*high, fallen, *again[1:], homeworks=("01", "05"))
    assert list(statistics.needs_a_word(results).slipping) == ["s01"]
    results = of(*high, replace(fallen, fits_student="s09"), *again[1:], homeworks=("01", "05"))
    word = statistics.needs_a_word(results)
    assert (word.slipping, word.low) == ({}, {})


def test_a_few_early_ones_make_nobody_missing():
    """A homework that less than a quarter handed in was not set for all yet."""
    results = of(*(hand_in(student, "01") for student in list(ROSTER)[:5]))
    assert statistics.set_for_all(results) == []
    assert statistics.needs_a_word(results).missing == {}
    results = of(*(hand_in(student, "01") for student in list(ROSTER)[:6]))
    assert statistics.set_for_all(results) == ["01"]
    assert len(statistics.needs_a_word(results).missing["01"]) == 18


def test_a_hard_homework_is_no_slipping():
    """Where the whole class falls alike, nobody is said to slip."""
    high = [hand_in(student, "01", 1.0) for student in ROSTER]
    low = [
        replace(
            each,
            homework="05",
            marks=[mark("05.1", "right", 1.0), mark("05.2", "wrong"), mark("05.3", "wrong")],
        )
        for each in high
    ]
    word = statistics.needs_a_word(of(*high, *low, homeworks=("01", "05")))
    assert word.slipping == {}
    assert len(word.low) == len(ROSTER)


def test_a_sentence_waits_until_its_points_are_given():
    """Marking says that it waits; a word without points leaves it so; points end it, whatever the comment."""
    declared = Homework("01", "t", "01-lesson", "", "")
    declared.question("01.8", title="t", points=3.0, kind=Sentence(), wording="w", read_again="r")
    sheet = Sheet(declared.sheet({"01.8": [[]]}))
    waiting = mark_homework(declared, sheet, {}, "s01", {"01.8": "Because."})[0]
    assert waiting.waiting
    assert GivenByHand(None, "Come and see me.").on(waiting).waiting
    assert GivenByHand(2.0, "Good.", reopened=True).on(waiting).waiting
    assert not GivenByHand(2.0, waiting.comment).on(waiting).waiting
    assert not mark_homework(declared, sheet, {}, "s01", {})[0].waiting
