"""What the box said is read without belief: only plain, small, well-formed lines count."""

import json

import pytest
from coldbench.grading.box_report import MOST_PROBLEMS, MOST_QUESTIONS, read_report
from hypothesis import given
from hypothesis import strategies as some


def lines(*told: object) -> bytes:
    return b"".join(json.dumps(line).encode() + b"\n" for line in told)


def test_a_report_is_read():
    """Answers, student, problems, beginning and end."""
    report = read_report(
        lines(
            {"cell": 0},
            {"student": " s07 "},
            {"cell": 1},
            {"question": "05.1", "answer": "13 psig"},
            {"cell": 1, "problem": "error", "detail": "a\nb"},
            {"finished": True},
        ),
        10_000,
    )
    assert (report.answers, report.student, report.reached) == ({"05.1": "13 psig"}, "s07", 1)
    assert report.problems == [(1, "error", "a b")]
    assert (report.finished, report.troubles) == (True, [])


def test_the_last_answer_counts_and_a_blank_never_does():
    """A second, different answer replaces the first and is told; a blank copy of the cell changes nothing."""
    told = [{"question": "05.1", "answer": value} for value in (None, 1, 1, 2, None, "  ", {"a": None})]
    report = read_report(lines(*told), 10_000)
    assert report.answers == {"05.1": 2}
    assert report.troubles == ["Answered more than once, differently: 05.1. The last answer was counted."]


@pytest.mark.parametrize(
    "line",
    [
        {"question": "05.1", "answer": [[[[1]]]]},
        {"question": "05.1", "answer": "x" * 5_001},
        {"question": "05.1", "answer": [0] * 201},
        {"question": "05.1", "answer": 10**301},
        {"question": "05.1", "answer": 1, "points": 100},
        {"question": "5.1", "answer": 1},
        {"question": ["05.1"], "answer": 1},
        {"question": "05.1"},
        {"student": "x" * 61},
        {"student": 7},
        {"student": "<b>"},
        {"question": "05.1", "answer": "\ud83d"},
        {"question": "05.1", "answer": {"\ud83d": 1}},
        {"question": "٠٥.1", "answer": 1},
        {"started": True},
        {"cell": -1},
        {"cell": 0, "problem": "nonsense", "detail": ""},
        {"points": 100},
        [1],
        7,
        "x",
    ],
)
def test_a_line_that_is_not_as_it_should_be_is_left_out(line):
    """Wrong shape, too large, too deep, one word too many: left out and counted."""
    report = read_report(lines(line, {"question": "05.2", "answer": 2}), 100_000)
    assert report.answers == {"05.2": 2}
    assert report.student is None
    assert report.troubles[0].startswith("1 of the answers given")


def test_nan_and_infinity_become_words():
    """They are no numbers; as words they are refused by the marking with a reason."""
    report = read_report(
        b'{"question": "05.1", "answer": NaN}\n{"question": "05.2", "answer": -Infinity}', 100
    )
    assert report.answers == {"05.1": "NaN", "05.2": "-Infinity"}


def test_a_flood_is_cut():
    """Too much at all, too many questions, too many problems."""
    flood = lines(*({"question": f"{n // 100:02d}.{n % 100}", "answer": n} for n in range(500)))
    assert len(read_report(flood, 100_000).answers) == MOST_QUESTIONS
    cut = read_report(flood, 1_000)
    assert 0 < len(cut.answers) < MOST_QUESTIONS
    assert "only the first were read" in cut.troubles[0]
    problems = lines(*({"cell": n, "problem": "time", "detail": ""} for n in range(500)))
    assert len(read_report(problems, 100_000).problems) == MOST_PROBLEMS


WORDS = some.sampled_from(
    ["question", "answer", "student", "cell", "problem", "detail", "started", "05.1", "time"]
)
VALUES = some.recursive(
    some.none() | some.booleans() | some.integers() | some.floats() | some.text() | WORDS,
    lambda inner: some.lists(inner, max_size=3) | some.dictionaries(WORDS, inner, max_size=4),
    max_leaves=8,
)


@given(some.lists(some.dictionaries(WORDS, VALUES) | VALUES), some.binary())
def test_no_line_breaks_the_reading(told, noise):
    """Any JSON and any bytes give a report of plain values."""
    report = read_report(lines(*told) + noise, 10_000)
    assert json.loads(json.dumps(report.answers, allow_nan=False)) == report.answers
