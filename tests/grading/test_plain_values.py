"""What an answer may be, whoever says so."""

import json

import pytest
from coldbench.grading.plain_values import cut, is_blank, is_plain, is_question
from coldbench.homework.kinds import LONGEST_SENTENCE


@pytest.mark.parametrize("value", ["05.3", "14.12"])
def test_ids_of_questions(value):
    """Two digits, a dot, one or two digits."""
    assert is_question(value)


@pytest.mark.parametrize("value", ["5.3", "05.123", "05.3\n", "٠٥.3", "05.x", "", 5.3, None, ["05.3"]])
def test_what_is_no_id_of_a_question(value):
    """Other figures, other digits, line ends, other types."""
    assert not is_question(value)


@pytest.mark.parametrize(
    "value", [None, True, 3, -2.5, "13.5 inHg vacuum", [1, ["a"]], {"a": "x", "b": None}, "🧊", "x" * 5_000]
)
def test_plain(value):
    """Numbers, texts, short lists and tables; each can be written to a file."""
    assert is_plain(value)
    assert json.dumps(value, ensure_ascii=False).encode()


@pytest.mark.parametrize(
    "value",
    [
        *(float("nan"), float("inf"), 10**301, b"x", {1: 2}, [[[1]]], {"a": [[{"b": 1}]]}, object()),
        *(
            "x" * 5_001,
            [0] * 201,
            "\ud83d",
            {"\ud83d": 1},
            {"x" * 201: 1},
            dict.fromkeys(map(str, range(201))),
        ),
    ],
)
def test_not_plain(value):
    """Too large, too deep, halves of letters, other types."""
    assert not is_plain(value)


def test_blank():
    """Nothing, blanks, a table of these; a zero is an answer."""
    assert all(is_blank(value) for value in (None, "", " \n", {}, {"a": None, "b": " "}))
    assert not any(is_blank(value) for value in (0, False, "x", [], {"a": 0}))


def test_a_long_text_is_cut_and_plain_again():
    """Its beginning is kept, longer than any answer may be; other values stay as they are."""
    assert is_plain(cut("x" * 60_000))
    assert len(cut("x" * 60_000)) > LONGEST_SENTENCE
    assert (cut(3), cut(["x"]), cut("x")) == (3, ["x"], "x")
