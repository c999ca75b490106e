"""Hostile and clumsy hand-ins through the real command: none gets through, no honest one loses a point.

What they leave behind is opened in a real browser, too: nothing of it runs, asks or is refused.
"""

import functools
import os
import re
import subprocess
import tempfile
import time
from pathlib import Path

import needs
import pytest
from chromium import chromium, new_page
from coldbench.grading import warm
from coldbench.grading.box import run_in_box
from grading.form_server import form_server
from grading.hostile import code, files, forging, honest
from grading.hostile.bench import Case, Evening, run_cases
from grading.notebooks import START, notebook
from nbgrader.api import Gradebook
from playwright.sync_api import expect
from served import PATIENCE

CATALOGUES = {"code": code, "code, afresh": code, "forging": forging, "files": files, "honest": honest}
"""Hand-ins are run in boxes that a warm parent makes; where it says so, in boxes made afresh."""

EVERY = [(name, case) for name, module in CATALOGUES.items() for case in module.CASES]
CONTROLS = re.compile("[\x00-\x09\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069\ud800-\udfff]")
WATCH = (
    "window.refused = []; document.addEventListener('securitypolicyviolation', "
    "event => window.refused.push(event.violatedDirective))"
)


@functools.cache
def kept_folder() -> tempfile.TemporaryDirectory:
    """One folder for all evenings, gone at the end."""
    return tempfile.TemporaryDirectory(prefix="coldbench-hostile-")


@functools.cache
def evening(name: str) -> tuple[Evening, dict[str, str]]:
    """The evening of one catalogue, marked once."""
    folder = Path(kept_folder().name) / name
    folder.mkdir()
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(warm, "_failures", 0)
        if name.endswith("afresh") or os.environ.get("BOXES") == "afresh":
            patched.setattr(warm, "_run", lambda *_: None)
        return run_cases(folder, CATALOGUES[name].CASES)


@pytest.fixture(autouse=True)
def _bubblewrap():
    needs.bubblewrap()


@pytest.mark.parametrize(("catalogue", "case"), EVERY, ids=lambda part: getattr(part, "name", part))
def test_it_comes_to_what_it_must(catalogue: str, case: Case):
    """Every hand-in has the outcome that its catalogue states."""
    assert evening(catalogue)[1][case.name] == ""


@pytest.mark.parametrize("catalogue", CATALOGUES)
def test_nothing_of_it_is_told_as_if_we_said_it(catalogue: str):
    """What is told has no control characters and no line that a hand-in wrote."""
    said = evening(catalogue)[0].said
    assert not CONTROLS.search(said)
    assert not re.search(r"^\W*Homework 05 of s101 is copied", said, re.MULTILINE)


@pytest.mark.parametrize("catalogue", CATALOGUES)
def test_pages_hold_no_markup_of_a_hand_in(catalogue: str):
    """Feedback, class report and the form's notebooks have no script, handler or frame."""
    folder = evening(catalogue)[0].bench.class_folder
    pages = [*folder.glob("feedback/*/*/*.html"), *folder.glob("report/*.html")]
    assert len(pages) > 5
    for page in pages:
        text = page.read_text(encoding="utf-8")
        assert not re.search(r"<(script|img|iframe|object|embed)|<[^>]*\son\w+=", text, re.IGNORECASE), page


@pytest.mark.parametrize("catalogue", CATALOGUES)
def test_nothing_outside_was_touched(catalogue: str):
    """Keys, roster, a home: as they were; nothing new lies beside them; nothing was left running."""
    bench = evening(catalogue)[0].bench
    assert "canary" in (bench.course / "solutions" / "homework-05" / "questions.py").read_text()
    assert (bench.folder / "home" / "letter.txt").read_text() == "canary-home-83613"
    assert sorted(path.name for path in bench.folder.iterdir()) == ["class", "course", "home", "in"]
    assert not list(bench.folder.glob("*/x"))
    end = time.monotonic() + PATIENCE  # the kernel ends a box's processes a moment after its first one
    while "83.613" in subprocess.run(["ps", "ax", "-o", "args"], capture_output=True, text=True).stdout:
        assert time.monotonic() < end, "It outlived the box."
        time.sleep(0.1)


@pytest.mark.parametrize("catalogue", CATALOGUES)
def test_the_table_has_nobody_and_nothing_else(catalogue: str):
    """Only students of the roster and questions of the homework, each once; points as the outcome earns."""
    done, _ = evening(catalogue)
    assert done.code == 1
    table = (done.bench.class_folder / "marks.csv").read_text(encoding="utf-8").splitlines()
    assert len(table) == 1 + 4 * len(done.marks)
    assert all(set(questions) == {"05.1", "05.2", "05.3", "05.4"} for questions in done.marks.values())
    assert all(re.fullmatch(r"s\d{3}", student) for student in done.marks)


def test_the_search_of_memory_finds_what_is_there():
    """The same search as in the catalogue, with a word planted in the hand-in's own memory: found."""
    cells = [
        "kept = 'canary-mine-' + str(83613)",
        f"{code.LOOK}{code.SCAN}scan('self')\nanswer('05.4', seen[:1])",
    ]
    assert run_in_box(notebook(START, *cells), b"{}").answers == {"05.4": ["self: canary-mine-83613"]}


@pytest.fixture
def tab():
    """A browser's tab that remembers what it was asked for and what it refused."""
    with chromium() as browser:
        page = new_page(browser)
        page.asked = []
        page.on("request", lambda request: page.asked.append(request.url))
        page.add_init_script(WATCH)
        yield page


@pytest.mark.browser
@pytest.mark.parametrize("catalogue", ["forging", "files"])
def test_no_page_of_ours_runs_anything(tab, catalogue):
    """Every feedback page and both reports: no script ran, the content policy had nothing to refuse."""
    folder = evening(catalogue)[0].bench.class_folder
    pages = [*folder.glob("feedback/*/*/*.html"), *folder.glob("report/*.html")]
    for page in pages:
        tab.asked.clear()
        tab.goto(page.as_uri())
        assert tab.evaluate("window.ran") is None, page
        assert tab.evaluate("window.refused") == [], page
        assert tab.asked == [page.as_uri()]
        assert "Content-Security-Policy" in tab.content()


@pytest.mark.browser
def test_nbgraders_form_runs_nothing_of_a_hand_in(tab):
    """Hand-ins full of markup, in the form in which sentences are marked."""
    done, _ = evening("forging")
    folder = done.bench.class_folder
    wanted = {student for student, case in done.students.items() if "markup" in case or "active" in case}
    assert len(wanted) >= 3
    with Gradebook(f"sqlite:///{folder / 'gradebook.db'}") as book:
        every = book.assignment_submissions("homework-05")
        numbers = {one.student.id: one.notebooks[0].id for one in every if one.student.id in wanted}
    shown = ""
    with form_server(folder) as address:
        for student, number in numbers.items():
            tab.goto(f"{address}/submissions/{number}")
            expect(tab.locator("#question-05-4")).to_be_visible()
            assert tab.evaluate("window.ran") is None, student
            assert not any("onerror" in url or url.endswith("/x") for url in tab.asked)
            shown += tab.locator("body").inner_text()
    assert "<script>window.ran=true</script>" in shown  # it is there, as text
