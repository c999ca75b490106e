"""Marking a class: an answer that breaks the marking is set aside, numbers of another are noticed."""

import pytest
from coldbench.grading.boxed_runner import NobodyThere, TookTooLong, _detail, problem_word, refuse_to_ask
from coldbench.grading.class_files import marks_table
from coldbench.grading.class_marking import marks_of
from coldbench.grading.fits import fits_another
from coldbench.grading.results import ClassResults, HandIn
from coldbench.homework.marking import Mark

KEYS = {"s07": (1, 2, 3, 4), "s08": (5, 6, 7, 8), "s09": (1, 6, 7, 8)}
QUESTIONS = ("05.1", "05.2", "05.3", "05.4")


def mark(student, answers):
    """A marking by a table of keys; text breaks it."""
    marks = []
    for question, key in zip(QUESTIONS, KEYS.get(student, (9, 9, 9, 9)), strict=True):
        given = answers.get(question)
        outcome = "not_answered" if given is None else "right" if given + 0 == key else "wrong"
        marks.append(
            Mark(question, float(outcome == "right"), 1.0, outcome, (), str(given), str(key), "", "", "")
        )
    return marks


def fitting(answers):
    """Leaves the decision to the marking."""
    return lambda student: len(QUESTIONS)


def answers_of(*values):
    return dict(zip(QUESTIONS, values, strict=True))


def test_an_answer_that_breaks_the_marking_is_set_aside():
    """It counts as not answered and is named; the others are marked."""
    marks, aside = marks_of(mark, "s07", answers_of(1, "x", 3, "y"))
    assert aside == ["05.2", "05.4"]
    assert [one.outcome for one in marks] == ["right", "not_answered", "right", "not_answered"]


@pytest.mark.parametrize(
    ("values", "other"),
    [
        ((1, 2, 3, 4), None),
        ((5, 6, 7, 8), "s08"),
        ((5, 6, 7, 0), "s08"),
        ((5, 6, None, None), None),
        ((1, 6, 7, 8), "s09"),
        ((1, 6, 7, 0), None),
        ((0, 0, 0, 0), None),
    ],
)
def test_answers_that_fit_another_student(values, other):
    """At least three more right answers with somebody's numbers; the one who fits best is named."""
    answers = answers_of(*values)
    marks, _ = marks_of(mark, "s07", answers)
    assert fits_another(mark, fitting, "s07", [*KEYS, None], answers, marks) == other


def test_the_typed_number_counts_as_another_student():
    """A slip of typing the number is recognised by the numbers that follow from it."""
    answers = answers_of(9, 9, 9, 9)
    marks, _ = marks_of(mark, "s07", answers)
    assert fits_another(mark, fitting, "s07", [*KEYS, "s70"], answers, marks) == "s70"


def test_the_table_of_marks():
    """One line a question, ideas that could not be told apart in one cell."""
    one = Mark("05.1", 0.5, 2.0, "wrong_idea", ("a", "b"), "", "", "", "", "")
    results = ClassResults([], [HandIn("s07", "Mia Example", "05", [one], late=True)], {"s07": "Mia Example"})
    assert marks_table(results) == (
        "student,homework,question,points,out_of,outcome,wrong_idea,late\n"
        "s07,05,05.1,0.5,2,wrong_idea,a | b,yes\n"
    )


class Silent(Exception):
    def __str__(self):
        raise ValueError


def test_what_a_cell_throws_is_sorted():
    """Into the words that the box knows, whatever the error says of itself."""
    failures = (
        TookTooLong(),
        NobodyThere(),
        MemoryError(),
        SyntaxError("bad"),
        Silent(),
        KeyboardInterrupt(),
    )
    assert [problem_word(failure) for failure in failures] == [
        "time",
        "asked",
        "memory",
        "syntax",
        "error",
        "error",
    ]
    assert _detail(Silent()) == "Silent"
    assert _detail(ValueError("x" * 1_000))[:20] == "ValueError: xxxxxxxx"
    assert len(_detail(ValueError("x" * 1_000))) == 300
    with pytest.raises(NobodyThere, match="Nobody is there"):
        refuse_to_ask("Temperature?")
