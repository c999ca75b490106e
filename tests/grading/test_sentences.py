"""The form opened at the sentences to be marked by hand: served, closed, and the points put on the pages."""

import os
import random
import re
import shlex
import signal
import subprocess
import sys

import pytest
from chromium import chromium, new_page
from coldbench.errors import CannotStart
from coldbench.grading import sentences
from coldbench.grading.sentences import open_form
from coldbench.serving import is_free
from grading.form_server import give
from grading.small_class import SmallClass, read_only
from grading.small_course import make_course

CELL = "question-05-4"


@pytest.fixture(scope="module")
def course(tmp_path_factory):
    return make_course(tmp_path_factory.mktemp("course"))


@pytest.fixture
def small(tmp_path, course, monkeypatch):
    """A marked class with two sentences to read."""
    read_only(monkeypatch)
    small = SmallClass(tmp_path, course)
    small.hand_in("s07")
    small.hand_in("s08")
    small.run()
    return small


def test_nothing_to_read_is_a_sentence(small, monkeypatch):
    """No server is started; before any marking there is nothing to open at all."""
    monkeypatch.setattr(sentences, "run_until_closed", None)
    for student in ("s07", "s08"):
        small.give(student, "05.4", 3.0)
    lines = []
    assert open_form(small.folder, small.course, say=lines.append) == 0
    assert lines == [f"No sentence waits to be marked by hand in {small.folder}."]
    with pytest.raises(CannotStart, match="Nothing was marked"):
        open_form(small.folder / "handed-in", small.course)


def test_an_answer_asked_to_be_looked_at_again_waits_too(small, monkeypatch):
    """A regrade request opens its question in the form, so the form is opened for it."""
    from coldbench.grading.decide import Desk

    for student in ("s07", "s08"):
        small.give(student, "05.4", 3.0)
    Desk(small.folder, small.course, lambda line: None).regrade("s08", "05.3", "why?")
    monkeypatch.setattr(sentences, "run_until_closed", lambda *given: given[4]() or 0)
    lines = []
    assert open_form(small.folder, small.course, say=lines.append) == 0
    assert any("Homework 05, 1 to read" in line for line in lines)


def test_a_form_that_ends_by_itself_is_a_sentence(small, monkeypatch):
    """It names the file in which the server's own words are."""
    monkeypatch.setattr(sentences, "run_until_closed", lambda *given: 1)
    with pytest.raises(CannotStart, match=r"ended by itself\. What it said is in .*form\.log"):
        open_form(small.folder, small.course)


@pytest.mark.browser
@pytest.mark.skipif(os.name != "posix", reason="Ctrl-C is sent to a group of processes as POSIX has them.")
def test_sentences_read_in_the_browser_until_ctrl_c(small):
    """The address that is printed leads to the form; after Ctrl-C the pages have the points given in it."""
    code = (
        "import sys; from pathlib import Path; from coldbench.grading.sentences import open_form\n"
        "sys.exit(open_form(Path(sys.argv[1]), Path(sys.argv[2]), int(sys.argv[3]), browser=False))"
    )
    port = next(port for port in iter(lambda: random.randrange(20_000, 30_000), 0) if is_free(port))  # noqa: S311
    command = [sys.executable, "-u", "-c", code, str(small.folder), str(small.course), str(port)]
    pipes = {"stdout": subprocess.PIPE, "stderr": subprocess.STDOUT, "text": True}
    with subprocess.Popen(command, start_new_session=True, **pipes) as server:
        try:
            address = next(found[0] for line in server.stdout if (found := re.search(r"http://\S+", line)))
            with chromium() as browser:
                page = new_page(browser)
                page.goto(address)
                page.get_by_text("Submission #1", exact=True).click()
                give(page.locator(f"#{CELL}"), "2.5", page.locator(f"#{CELL}-comment"), "Say more.")
        finally:
            os.killpg(server.pid, signal.SIGINT)
        rest = server.stdout.read()
    assert "The form is closed." in rest
    assert "1 mark changed:" in rest
    assert "Traceback" not in rest
    assert server.returncode == 0
    assert [small.points(student, "05.4")[0] for student in ("s07", "s08")].count(2.5) == 1
    assert [small.page(student).count("Say more.") for student in ("s07", "s08")].count(1) == 1


def test_the_evenings_last_lines_name_the_command(small):
    """It can be copied as it stands: this Python, the class folder in full."""
    (line,) = (line for line in small.said.splitlines() if " sentences --class-folder " in line)
    words = sys.executable, "-m", "coldbench.command", "sentences", "--class-folder", str(small.folder)
    assert shlex.split(line) == list(words)
