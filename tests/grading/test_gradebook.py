"""The gradebook: entries are made whole, points given by hand stay, a changed homework is taken over."""

import json
import sqlite3
from dataclasses import replace
from datetime import UTC, datetime

import pytest
from coldbench.grading.form import DATABASE
from coldbench.grading.gradebook import MARKED_BY_HAND, GivenByHand, Gradebook
from coldbench.homework.marking import Mark
from nbgrader import api

TIME = datetime(2027, 3, 1, 18, tzinfo=UTC)
RIGHT = Mark("05.1", 2.0, 2.0, "right", (), "3", "3", "Right.", "05: Falling", "")
SENTENCE = Mark(
    "05.4", 0.0, 3.0, "by_hand", (), "Because.", "", "Your instructor reads this one.", "05: Why", ""
)


def release(**points):
    """A release notebook with these questions and points."""
    cells = [{"cell_type": "markdown", "metadata": {}, "source": "# Title"}]
    for question, number in points.items():
        graded = {"grade": True, "solution": True, "grade_id": f"question-{question[1:]}", "points": number}
        cells.append({"cell_type": "code", "metadata": {"nbgrader": graded}, "source": "answer"})
    return json.dumps({"metadata": {}, "cells": cells}).encode()


@pytest.fixture
def book(tmp_path):
    """An open gradebook with homework 05 in it."""
    with Gradebook(tmp_path) as opened:
        opened.declare("homework-05", release(q05_1=2, q05_4=3).replace(b"05_", b"05-"), None)
        yield opened


def rows(tmp_path, sql):
    with sqlite3.connect(tmp_path / DATABASE) as database:
        return database.execute(sql).fetchall()


def save(book, *marks, changed=()):
    book.save("s07", "Mia von Example", "homework-05", TIME, list(marks), set(changed))


def test_marks_are_entered(tmp_path, book):
    """Points, comments, name, time; only the sentence waits."""
    save(book, RIGHT, SENTENCE)
    assert rows(tmp_path, "select auto_score, needs_manual_grade from grade order by auto_score") == [
        (None, 1),
        (2.0, 0),
    ]
    assert rows(tmp_path, "select first_name, last_name from student") == [("Mia von", "Example")]
    assert rows(tmp_path, "select timestamp from submitted_assignment") == [("2027-03-01 18:00:00.000000",)]
    assert book.given_by_hand("homework-05") == {}
    assert book.given_by_hand("homework-09") == {}


def test_the_database_is_as_its_maker_makes_it(tmp_path, book):
    """The same tables and a version, so that its own upgrades work."""
    tables = {name for (name,) in rows(tmp_path, "select name from sqlite_master where type = 'table'")}
    assert tables == {*api.Base.metadata.tables, "alembic_version"}
    assert len(rows(tmp_path, "select * from alembic_version")) == 1
    assert not (tmp_path / DATABASE).with_suffix(".unfinished").exists()


def test_an_empty_file_is_no_gradebook(tmp_path):
    """It is made as if there were none."""
    (tmp_path / "gradebook.db").touch()
    with Gradebook(tmp_path):
        pass
    assert (tmp_path / "gradebook.db").stat().st_size


def test_a_homework_that_changed_is_taken_over(tmp_path, book):
    """Other points, another question, a due time: old hand-ins get an entry for the new cell."""
    save(book, RIGHT, SENTENCE)
    book.declare("homework-05", release(q05_1=4, q05_4=3, q05_5=1).replace(b"05_", b"05-"), TIME)
    assert rows(tmp_path, "select max_score from grade_cells order by max_score") == [(1.0,), (3.0,), (4.0,)]
    save(book, RIGHT, SENTENCE, replace(RIGHT, question="05.5", points=1.0, comment="<b>Right</b>"))
    assert len(rows(tmp_path, "select * from grade")) == 3
    assert ("‹b›Right‹/b›",) in rows(tmp_path, "select auto_comment from comment")


def test_a_mark_without_a_cell_is_passed_over(tmp_path, book):
    """A question that the release does not have yet stops nothing."""
    save(book, RIGHT, replace(RIGHT, question="05.9"))
    assert len(rows(tmp_path, "select * from grade where auto_score = 2")) == 1


def test_what_was_begun_can_be_dropped(tmp_path, book):
    """After a failure the next hand-in is entered as if nothing had been."""
    with pytest.raises(AttributeError):
        save(book, RIGHT, None)
    book.undo()
    save(book, RIGHT)
    assert len(rows(tmp_path, "select * from grade where auto_score = 2")) == 1


@pytest.mark.parametrize(
    ("given", "mark", "points", "comment"),
    [
        (GivenByHand(2.5, ""), SENTENCE, 2.5, MARKED_BY_HAND),
        (GivenByHand(2.5, "Good."), SENTENCE, 2.5, "Good."),
        (GivenByHand(1.0, "See me."), RIGHT, 1.0, "See me. Right."),
        (GivenByHand(None, "Nice."), RIGHT, 2.0, "Right. Nice."),
        (GivenByHand(2.5, "Good.", reopened=True), SENTENCE, 0.0, SENTENCE.comment),
    ],
)
def test_what_was_given_by_hand_counts(given, mark, points, comment):
    """Points and words of the instructor come first; an answer that changed since waits again."""
    seen = given.on(mark)
    assert (seen.points, seen.comment) == (points, comment)
