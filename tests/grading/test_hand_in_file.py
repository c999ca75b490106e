"""Reading a notebook as text: every kind of damage is a sentence, harmless oddities are read."""

import contextlib
import json

import pytest
from coldbench.errors import CannotRead
from coldbench.grading.hand_in_file import (
    LARGEST,
    Cell,
    homework_of,
    is_blank,
    is_plain,
    questions_in,
    read_notebook,
    typed_answers,
    typed_student,
)
from coldbench.homework.kinds import Sentence
from grading.notebooks import homework, notebook
from hypothesis import given
from hypothesis import strategies as some

WORK = homework("05", "s07", {"05.1": "13 psig", "05.2": None, "05.3": {"a": "x"}})


def test_a_homework_is_read():
    """Cells, homework, edition and questions are found."""
    read = read_notebook(WORK)
    assert (read.homework, read.edition, read.questions) == ("05", "e1", ("05.1", "05.2", "05.3"))
    assert homework_of(read) == "05"


@pytest.mark.parametrize("mark", [b"\xef\xbb\xbf", b""])
def test_a_byte_order_mark_is_accepted(mark):
    """An editor's mark at the beginning changes nothing, nor does wide text."""
    assert read_notebook(mark + WORK) == read_notebook(WORK.decode().encode("utf-16")) == read_notebook(WORK)


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "empty"),
        (b" \n", "empty"),
        (WORK[:-40], "damaged"),
        (b"PK\x03\x04\xff", "damaged"),
        (b"[" * 100_000, "damaged"),
        (b"[1, 2]", "not a notebook"),
        (b'{"a": 1}', "not a notebook"),
        (b'{"nbformat": "4", "cells": []}', "not a notebook"),
        (b'{"nbformat": 4}', "no cells"),
        (b'{"nbformat": 4, "cells": [1]}', "no cells"),
        (b'{"nbformat": 3, "worksheets": 7}', "old format"),
        (b" " * (LARGEST + 1), "20 MB"),
    ],
)
def test_damage_is_a_sentence_with_what_to_do(content, words):
    """What was wrong, and what the instructor can ask for."""
    with pytest.raises(CannotRead, match=words) as refused:
        read_notebook(content)
    assert "Ask the student" in str(refused.value)


def test_an_old_format_is_converted():
    """A notebook of format 3 is read, and a remark says so."""
    cell = {
        "cell_type": "code",
        "input": 'answer("05.1", 3)',
        "language": "python",
        "outputs": [],
        "metadata": {},
    }
    old = {
        "nbformat": 3,
        "nbformat_minor": 0,
        "metadata": {},
        "worksheets": [{"cells": [cell], "metadata": {}}],
    }
    read = read_notebook(json.dumps(old).encode())
    assert read.questions == ("05.1",)
    assert "old format" in read.remarks[0]


def test_a_newer_format_is_read_as_well_as_possible():
    """A future notebook format with the same cells loses nothing."""
    read = read_notebook(notebook('answer("05.1", 3)', nbformat=7))
    assert typed_answers(read)[0] == {"05.1": 3}
    assert "newer format" in read.remarks[0]


def test_odd_cells_are_read():
    """Sources as lists of lines, missing ids, numbers where text belongs, doubled ids: all are read."""
    cells = [
        {"cell_type": "code", "id": "a", "source": ['answer("05.1",\n', "3)"]},
        {"cell_type": "code", "id": "a", "source": 'answer("05.2", 4)'},
        {"cell_type": "code", "source": 5, "id": 7},
        {"cell_type": ["x"], "source": [None, "y"]},
    ]
    read = read_notebook(json.dumps({"nbformat": 4, "cells": cells, "metadata": [1]}).encode())
    assert typed_answers(read)[0] == {"05.1": 3, "05.2": 4}
    assert [cell.kind for cell in read.cells] == ["code", "code", "code", "raw"]


def test_most_questions_decide_which_homework_it_is():
    """Metadata of another homework, or none, does not hide what was answered."""
    forged = json.loads(homework("01", "s07", {"01.1": 1, "01.2": 2}))
    forged["metadata"]["coldbench"]["homework"] = "05"
    assert homework_of(read_notebook(json.dumps(forged).encode())) == "01"
    assert homework_of(read_notebook(notebook("1 + 1", own={"homework": "05"}))) == "05"
    assert homework_of(read_notebook(notebook("1 + 1"))) is None


def test_a_cell_is_known_by_its_text_or_its_id():
    """A question's cell whose text was spoiled is still found by its id."""
    assert questions_in(Cell("question-05-3", "code", "answer(05.3, ")) == ("05.3",)
    assert questions_in(Cell("question-05-3", "code", "answer('05.4', 1)")) == ("05.4",)
    assert questions_in(Cell("x", "code", "1")) == ()


def test_typed_values_are_read_without_running_anything():
    """Numbers, text, lists, tables, blanks; code is named as not read; a later blank changes nothing."""
    source = (
        'student("s07")\n%matplotlib inline\n'
        'answer("05.1", -3)\nanswer("05.2", "a")\nanswer("05.3", [1, (2,)])\n'
        'answer("05.4", {"a": ..., "b": "x"})\nanswer("05.5", ...)\n'
        'answer("05.6", 2 * 3)\nanswer("05.7", {1})\n'
        'answer("05.1", ...)\nprint(answer("05.8", 1))\nanswer("05.9")\nanswer(*[1])'
    )
    answers, student, worked_out = typed_answers(read_notebook(notebook(source, 'answer("05.2",')))
    assert answers == {"05.1": -3, "05.2": "a", "05.3": [1, [2]], "05.4": {"a": None, "b": "x"}, "05.5": None}
    assert student == "s07"
    assert worked_out == ("05.6", "05.7", "05.9")


def test_a_sentence_far_too_long_is_read_as_too_long():
    """Enough of it is kept to be refused with the reason; it is no work of code."""
    answers, _, worked_out = typed_answers(read_notebook(notebook(f'answer("05.8", {"ice " * 3000!r})')))
    assert not worked_out
    with pytest.raises(CannotRead, match="at most 4000 characters"):
        Sentence().read(answers["05.8"])


@pytest.mark.parametrize(
    ("source", "student"),
    [
        ('student("s07")  # for example student("s99")', "s07"),
        ('student(...)  # for example student("s99")', None),
        ("student(4711)", "4711"),
        ('student("s07"); answer("05.1",', "s07"),
        ('# student("s99")\nanswer("05.1",', None),
    ],
)
def test_the_typed_student_number_is_found(source, student):
    """In code, even broken code, but never in a comment."""
    assert typed_student(read_notebook(notebook(source))) == student


@given(some.recursive(some.none() | some.text() | some.floats() | some.integers(), some.lists, max_leaves=5))
def test_plain_values_are_small_and_flat(value):
    """Whatever is called plain fits into JSON, and back, unchanged."""
    if is_plain(value):
        assert json.loads(json.dumps(value, allow_nan=False)) == value


@pytest.mark.parametrize(
    "value",
    [float("nan"), float("inf"), 10**400, "x" * 5_001, [0] * 201, [[[1]]], {1: 2}, b"x", {"a": {1}}, {1}],
)
def test_what_is_not_plain(value):
    """Not numbers, too long, too deep, not for JSON."""
    assert not is_plain(value)


def test_blank_answers():
    """Nothing, blanks, and tables of such say nothing; zero says something."""
    assert all(is_blank(value) for value in (None, "", " \n", {"a": None, "b": " "}))
    assert not any(is_blank(value) for value in (0, "x", [], {"a": 0}))


@given(some.binary(max_size=200))
def test_no_bytes_raise_anything_but_a_sentence(content):
    """Any bytes are a notebook or a `CannotRead`."""
    with contextlib.suppress(CannotRead):
        read_notebook(content)
