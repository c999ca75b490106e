"""The form in which sentences are marked: what it is given, and a person using it in a real browser."""

import json
import os
import signal
import socket
import subprocess
import sys
import time
import urllib.request

import needs
import pytest
from coldbench.grading import evening
from coldbench.grading.form import (
    CONFIGURATION,
    cell_name,
    form_notebook,
    graded_cells,
    question_name,
    write_configuration,
)
from grading.small_course import fill_in, hand_in, make_class, make_course, right
from grading.test_evening import CELL, grade, marks
from hypothesis import given
from hypothesis import strategies as some

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


def free_port() -> int:
    """A port that nobody listens on."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


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
    port = free_port()
    options = [
        "--allow-root",
        "--no-browser",
        "--ServerApp.token=",
        f"--port={port}",
        "--ServerApp.port_retries=0",
    ]
    log = (tmp_path / "server.log").open("wb")
    server = subprocess.Popen(
        [sys.executable, "-m", "jupyter", "server", *options],
        cwd=class_folder,
        stdout=log,
        stderr=log,
        start_new_session=True,
    )
    address = f"http://127.0.0.1:{port}/formgrader"
    for _ in range(240):
        try:
            urllib.request.urlopen(address, timeout=5).close()
            break
        except OSError:
            time.sleep(0.5)
    yield tmp_path / "in", class_folder, course, address
    os.killpg(server.pid, signal.SIGTERM)
    server.wait(20)
    log.close()


@pytest.mark.browser
def test_a_sentence_is_marked_by_hand_in_the_browser(served, tmp_path):
    """The form lists the hand-in, shows question and sentence as text; points and words given there stay."""
    chromium = needs.browser()
    from playwright.sync_api import sync_playwright

    hand_ins, class_folder, course, address = served
    with sync_playwright() as driver:
        options = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-sync"]
        options += ["--disable-background-networking", "--disable-component-update"]
        browser = driver.chromium.launch(executable_path=chromium, args=options)
        page = browser.new_page(viewport={"width": 1200, "height": 900})
        page.goto(f"{address}/gradebook/homework-05/homework-05")
        page.click("text=Submission #1")
        page.wait_for_selector(f"#{CELL}")
        shown = page.locator(".nbgrader_cell", has=page.locator(f"#{CELL}"))
        assert "Full points for: A reason." in shown.inner_text()
        assert "Cold <i>sinks</i>" in shown.inner_text()
        page.wait_for_function(
            f"document.querySelector('#{CELL}-comment').placeholder.includes('reads this')"
        )
        page.fill(f"#{CELL}", "2.5")
        page.keyboard.press("Tab")
        page.fill(f"#{CELL}-comment", "Say why cold air sinks.")
        page.keyboard.press("Tab")
        for _ in range(40):
            if grade((hand_ins, class_folder))[4]:
                break
            page.wait_for_timeout(250)
        page.locator(f"#{CELL}").scroll_into_view_if_needed()
        page.screenshot(path=tmp_path / "form.png")
        browser.close()
    given = grade((hand_ins, class_folder))
    assert (given[1], given[2], given[4]) == (2.5, False, "Say why cold air sinks.")
    evening.mark(hand_ins, class_folder, course, lambda line: None)
    assert grade((hand_ins, class_folder)) == given
    assert marks((hand_ins, class_folder))["s07", "05.4"]["points"] == "2.5"


def test_the_forms_own_autograding_runs_nothing(tmp_path, monkeypatch):
    """nbgrader's command, and so its button, refuses with a sentence; the gradebook stays as it was."""
    course, class_folder = make_course(tmp_path / "course"), make_class(tmp_path / "class")
    trap = tmp_path / "trap"
    work = json.loads(fill_in(course, "s07", right(course, "s07")))
    work["cells"][1]["source"] += f"\nopen({str(trap)!r}, 'w')"
    hand_in(tmp_path / "in", "s07/homework-05.ipynb", json.dumps(work).encode())
    with monkeypatch.context() as without:
        without.setattr("coldbench.grading.box.find_bubblewrap", lambda: None)
        evening.mark(tmp_path / "in", class_folder, course, lambda line: None)
    before = grade((tmp_path / "in", class_folder), cell="question-05-1")
    words = ["autograde", "homework-05", "--create", "--force"]
    run = subprocess.run(
        [sys.executable, "-m", "nbgrader", *words], cwd=class_folder, capture_output=True, text=True
    )
    assert run.returncode != 0
    assert "Nothing was run." in run.stdout + run.stderr
    assert not trap.exists()
    assert grade((tmp_path / "in", class_folder), cell="question-05-1") == before
