"""The form in which sentences are marked: what it is given, and a person using it in a real browser."""

import json
import subprocess
import sys

import needs
import pytest
from chromium import chromium, new_page
from coldbench.grading import evening
from coldbench.grading.form import (
    CONFIGURATION,
    cell_name,
    form_notebook,
    graded_cells,
    question_name,
    write_configuration,
)
from coldbench.grading.second_door import RunsElsewhere
from grading.form_server import form_server, give
from grading.small_course import fill_in, hand_in, make_class, make_course, right
from grading.test_evening import CELL, grade, marks
from hypothesis import given
from hypothesis import strategies as some
from playwright.sync_api import expect

RELEASE = json.dumps(
    {
        "nbformat": 4,
        "nbformat_minor": 5,
        "metadata": {},
        "cells": [
            {"cell_type": "markdown", "id": "a", "metadata": {}, "source": "# Title"},
            {
                "cell_type": "code",
                "id": "question-05-4",
                "metadata": {"nbgrader": {"grade": True, "grade_id": "question-05-4", "points": 3}},
                "source": ["# hint\n", 'answer("05.4", ...)'],
                "outputs": [],
                "execution_count": None,
            },
        ],
    }
).encode()


def test_names_of_cells_go_both_ways():
    """A question's cell, and back."""
    assert cell_name("05.12") == "question-05-12"
    assert question_name(cell_name("05.12")) == "05.12"
    assert list(graded_cells(RELEASE)) == [("question-05-4", 3.0, '# hint\nanswer("05.4", ...)')]


PLAIN = some.none() | some.text() | some.floats(allow_nan=False, allow_infinity=False) | some.integers()


@given(PLAIN | some.lists(PLAIN, max_size=3) | some.dictionaries(some.text(), PLAIN, max_size=3), some.text())
def test_any_answer_is_shown_as_harmless_code(answer, wording):
    """Whatever was answered, the form's cell is a code cell that is one call, behind comments only."""
    tree = json.loads(form_notebook(RELEASE, {"05.4": wording}, {"05.4": answer}))
    title, cell = tree["cells"]
    assert title["source"] == "# Title"
    assert cell["cell_type"] == "code"
    assert cell["outputs"] == []
    lines = cell["source"].split("\n")
    call = next(n for n, line in enumerate(lines) if not line.startswith("#"))
    assert lines[call].startswith('answer("05.4", ')


def test_the_configuration_is_written_once(tmp_path):
    """It names every folder; written again only when something changed."""
    assert write_configuration(tmp_path, tmp_path / "project")
    assert not write_configuration(tmp_path, tmp_path / "project")
    text = (tmp_path / CONFIGURATION).read_text()
    compile(text, CONFIGURATION, "exec")
    assert str(tmp_path / "project" / "solutions") in text


@pytest.fixture
def served(tmp_path):
    """A marked class with nbgrader's form on it: class folder, course, hand-ins, address."""
    needs.bubblewrap()
    course, class_folder = make_course(tmp_path / "course"), make_class(tmp_path / "my class")
    work = fill_in(
        course, "s07", right(course, "s07", sentence="Cold <i>sinks</i>, so the low shelf is colder.")
    )
    hand_in(tmp_path / "in", "s07/homework-05.ipynb", work)
    evening.mark(tmp_path / "in", class_folder, course, lambda line: None)
    with form_server(class_folder) as address:
        yield tmp_path / "in", class_folder, course, address


@pytest.fixture
def page():
    """An empty page of a headless Chromium."""
    with chromium() as browser:
        yield new_page(browser)


@pytest.mark.browser
def test_a_sentence_is_marked_by_hand_in_the_browser(page, served):
    """The form lists the hand-in, shows question and sentence as text; points and words given there stay."""
    hand_ins, class_folder, course, address = served
    page.goto(f"{address}/gradebook/homework-05/homework-05")
    page.click("text=Submission #1")
    points = page.locator(f"#{CELL}")
    shown = page.locator(".nbgrader_cell", has=points)
    expect(shown).to_contain_text("Full points for: A reason.")
    expect(shown).to_contain_text("Cold <i>sinks</i>")
    give(points, "2.5", page.locator(f"#{CELL}-comment"), "Say why cold air sinks.")
    given = grade((hand_ins, class_folder))
    assert (given[1], given[2], given[4]) == (2.5, False, "Say why cold air sinks.")
    evening.mark(hand_ins, class_folder, course, lambda line: None)
    assert grade((hand_ins, class_folder)) == given
    assert marks((hand_ins, class_folder))["s07", "05.4"]["points"] == "2.5"


def test_no_step_of_nbgrader_runs_a_hand_in():
    """The step that stands where nbgrader would run it refuses with a sentence."""
    with pytest.raises(RuntimeError, match="Nothing was run"):
        RunsElsewhere().preprocess(None, None)


def nbgrader(class_folder, *words):
    """Run nbgrader's own command in the class folder."""
    return subprocess.run(
        [sys.executable, "-m", "nbgrader", *words], cwd=class_folder, capture_output=True, text=True
    )


def test_nbgraders_own_commands_take_our_way(tmp_path):
    """Autograde runs the hand-in in the box and marks it as we do; the feedback is ours."""
    needs.bubblewrap()
    course, class_folder = make_course(tmp_path / "course"), make_class(tmp_path / "class")
    trap = tmp_path / "trap"
    tree = json.loads(fill_in(course, "s07", right(course, "s07")))
    tree["cells"][0]["source"] = "<script>window.ran = true</script>"
    tree["cells"][1]["source"] += f"\nopen({str(trap)!r}, 'w')"
    hand_in(tmp_path / "in", "s07/homework-05.ipynb", json.dumps(tree).encode())
    hand_in(tmp_path / "in", "s08/homework-05.ipynb", fill_in(course, "s08", {"05.3": "B"}))
    evening.mark(tmp_path / "in", class_folder, course, lambda line: None)
    folders = tmp_path / "in", class_folder
    before = [grade(folders, student, f"question-05-{n}") for student in ("s07", "s08") for n in (1, 2, 3, 4)]
    page = class_folder / "feedback" / "s07" / "homework-05" / "homework-05.html"
    feedback, table = page.read_bytes(), marks(folders)
    run = nbgrader(class_folder, "autograde", "homework-05", "--force")
    assert run.returncode == 0, run.stderr
    after = [grade(folders, student, f"question-05-{n}") for student in ("s07", "s08") for n in (1, 2, 3, 4)]
    assert (after, marks(folders)) == (before, table)
    shown = (class_folder / "autograded" / "s07" / "homework-05" / "homework-05.ipynb").read_text()
    assert "<script" not in shown
    run = nbgrader(class_folder, "generate_feedback", "homework-05", "--force")
    assert run.returncode == 0, run.stderr
    assert page.read_bytes() == feedback
    nbgrader(
        class_folder, "validate", str(class_folder / "hand-ins" / "s07" / "homework-05" / "homework-05.ipynb")
    )
    assert not trap.exists()


def test_a_hand_in_that_nbgrader_collected_is_marked_by_its_button(tmp_path):
    """It lies in the class folder without having come through “coldbench mark”; a stranger's is refused."""
    needs.bubblewrap()
    course, class_folder = make_course(tmp_path / "course"), make_class(tmp_path / "class")
    hand_in(tmp_path / "in", "s07/homework-05.ipynb", fill_in(course, "s07", right(course, "s07")))
    evening.mark(tmp_path / "in", class_folder, course, lambda line: None)
    for student in ("s08", "s99"):
        work = fill_in(course, student, right(course, student))
        hand_in(class_folder / "hand-ins", f"{student}/homework-05/homework-05.ipynb", work)
    run = nbgrader(class_folder, "autograde", "homework-05")
    assert "s99 is not in the roster" in run.stderr
    assert marks((tmp_path / "in", class_folder))["s08", "05.1"]["outcome"] == "right"
