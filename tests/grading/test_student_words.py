"""A student's words for troubles: for every sentence that marking says, and never that sentence."""

import json
import re
from datetime import UTC, datetime

import coldbench.grading.box as box
import needs
import pytest
from coldbench.grading import class_marking, intake
from coldbench.grading.arrival import Came, write_came
from coldbench.grading.box import run_in_box
from coldbench.grading.box_report import read_report
from coldbench.grading.hand_in_file import read_notebook
from coldbench.grading.student_words import GENERAL, KINDS, for_student
from grading.notebooks import START, notebook
from grading.short_limits import short_limits
from hypothesis import given
from hypothesis import strategies as some

FOR_THE_INSTRUCTOR = ("Ask ", "with the student", "install", "kept in", "mark it by hand")


def told(*troubles: str) -> str:
    """The student's words for real sentences; nothing in them is meant for the instructor."""
    words = " ".join(for_student(list(troubles)))
    assert GENERAL not in words, troubles
    assert not any(each in words for each in FOR_THE_INSTRUCTOR)
    return words


@pytest.mark.parametrize(
    ("cell", "words"),
    [
        ("while True: pass", "The cell after question 05.1 ran longer than {} s and was stopped"),
        ("answer('05.2', input('?'))", "The cell of question 05.2 asks for something to be typed"),
        (
            "answer('05.2',",
            "The cell of question 05.2 could not be read as it stands, so there is no answer",
        ),
        (
            "answer('05.2', 1/0)",
            "The cell of question 05.2 stopped with an error before there was an answer to",
        ),
        ("s17\nanswer('05.2', 1 + 1)\nanswer('05.4', 1 + 1)", "an answer to questions 05.2, 05.4."),
        ("import os; os._exit(0)", "stopped the whole notebook"),
        ("import signal; signal.signal(14, signal.SIG_IGN)\nwhile True: pass", "stopped the whole notebook"),
        ("_tell({'question': '05.2', 'answer': [[[[1]]]]})", "1 of your answers could not be read"),
        ("answer('05.1', 2)", "You answered more than once, and differently: 05.1."),
    ],
)
def test_what_the_box_says_has_words_for_the_student(cell, words):
    """Real sentences of the box; neither the error's own text nor advice to the instructor goes along."""
    needs.bubblewrap()
    limits = short_limits()
    troubles = run_in_box(notebook(START, "answer('05.1', 1)", cell), b"{}", limits).troubles
    said = told(*troubles)
    assert words.format(f"{limits.cell_seconds:g}") in said
    assert "s17" not in said


def test_a_notebook_that_could_not_be_run_is_told_only_where_it_lost_answers(monkeypatch):
    """Without bubblewrap: which answers were not read; where none was lost, nothing."""
    monkeypatch.setattr(box, "find_places", lambda: [])
    lost = run_in_box(notebook(START, "answer('05.1', -3)\nanswer('05.2', 2 * 3)"), b"{}").troubles
    assert "could not be read: 05.2." in told(*lost)
    assert told(*run_in_box(notebook("answer('05.1', -3)"), b"{}").troubles) == ""


def test_a_deleted_first_cell_is_told():
    """Answers were read as typed: the student learns to keep the first cell (the box's sentence)."""
    sentence = (
        "Question 05.1 could not be run (for example because the first cell was deleted) and was read …"
    )
    assert "Question 05.1 could not be run and was read as you typed it." in told(sentence)


def test_answers_in_cells_of_text_and_old_letters_are_told():
    """Both were read; the student learns what was odd."""
    cell = {"cell_type": "markdown", "id": "a", "metadata": {}, "source": "answer('05.1', 3)"}
    tree = {"nbformat": 4, "nbformat_minor": 5, "metadata": {}, "cells": [cell]}
    assert "stood in a cell of text" in told(*read_notebook(json.dumps(tree).encode()).remarks)
    cell["source"] = "answer('05.8', 'très')"
    old = json.dumps(tree, ensure_ascii=False).encode("cp1252")
    assert "letters other than A to Z" in told(*read_notebook(old).remarks)


def test_a_flood_of_answers_is_told():
    """The student learns to look for a loop."""
    line = json.dumps({"question": "05.1", "answer": 1}).encode() + b"\n"
    assert "far more answers than there are questions" in told(*read_report(line * 50, 200).troubles)


def test_what_marking_says_of_cells_has_words_for_the_student():
    """A missing cell, several, an answer that broke the marking; the edition has a note of its own."""
    one = class_marking._about_cells(["05.4"], edition_ok=False, unmarked=["05.2"])
    assert told(*one).startswith("The cell of question 05.4 is missing from your notebook")
    assert "Your answer to question 05.2 could not be marked here" in told(*one)
    two = class_marking._about_cells(["05.4", "05.5"], edition_ok=True, unmarked=[])
    assert "The cells of 05.4, 05.5 are missing" in told(*two)


def test_what_intake_says_never_names_another_student(tmp_path):
    """Whose number was typed, what folders were called: the student learns only what to do."""
    roster = {"s01": "Ada Birch", "s17": "Rosa Reed"}
    for typed in ("s17", "s42"):
        said = told(*intake._about_typed("s01", typed, roster))
        assert "is not your own" in said
        assert typed not in said
    assert "No student number was typed" in told(*intake._about_typed("s01", None, roster))
    hand_ins = tmp_path / "in"
    hand_ins.mkdir()
    cells = notebook("student('s01')", "answer('05.1', 1)")
    (hand_ins / "s01_s17_homework-05.ipynb").write_bytes(cells)
    troubles = intake.take_in(hand_ins, tmp_path / "class", roster, {"05"}).taken["s01", "05"].troubles
    assert troubles and told(*troubles) == ""


def test_a_file_named_for_another_homework_is_told(tmp_path):
    """Which homework it was marked as, and which is still wanted."""
    (tmp_path / "in" / "s01").mkdir(parents=True)
    (tmp_path / "in" / "s01" / "homework-01.ipynb").write_bytes(notebook("answer('05.1', 1)"))
    taken = intake.take_in(tmp_path / "in", tmp_path / "class", {"s01": "Ada"}, {"01", "05"}).taken
    said = told(*taken["s01", "05"].troubles)
    assert "named homework 01 but holds homework 05" in said
    assert "Homework 01 itself is still wanted." in said


def test_other_versions_are_told(tmp_path):
    """One or several: the newest counts."""
    now = datetime.now(UTC)
    for count in (1, 2):
        place = tmp_path / intake.EARLIER / "s01" / "homework-05" / str(count)
        write_came(place / "homework-05.ipynb", b"{}", Came(now, now))
        assert "the newest one was marked" in told(*intake.other_versions(tmp_path, "s01", "05"))


@pytest.mark.parametrize("number", [3, 5])
def test_an_odd_format_is_no_concern_of_the_student(number):
    """It was read; nothing needs to be done."""
    tree = {"nbformat": number, "nbformat_minor": 0, "metadata": {}, "cells": [], "worksheets": []}
    remarks = read_notebook(json.dumps(tree).encode()).remarks
    assert remarks and told(*remarks) == ""


def test_a_changed_answer_is_told():
    """It was read by hand before, and is read again (the sentence that `load_class` writes)."""
    sentence = "The answer to question 05.8 changed after its points were given by hand; it is open again."
    assert "your instructor reads it again" in told(sentence)


@given(some.lists(some.text(max_size=60)))
def test_an_unknown_sentence_is_never_quoted(troubles):
    """Whatever is new or strange becomes one general line."""
    assert for_student(troubles) in ([], [GENERAL])
    assert for_student([*troubles, "Ask s17 about <b>this</b>."]) == [GENERAL]


def test_equal_words_are_said_once_and_every_kind_can_be_filled_in():
    """Two files, one sentence; the words of a kind take what its opening finds."""
    twice = for_student([f"The notebook says student “{who}”" for who in ("s1", "s2")])
    assert len(twice) == 1
    for kind in KINDS:
        assert re.compile(kind.opening).groups == len(set(re.findall(r"\{\d\}", kind.words)))
