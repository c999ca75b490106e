"""Hostile and clumsy hand-ins through the real command: none gets through, no honest one loses a point."""

import functools
import re
import subprocess
import tempfile
from pathlib import Path

import needs
import pytest
from coldbench.grading.box import run_in_box
from grading.hostile import code, files, forging, honest
from grading.hostile.bench import Case, Evening, run_cases
from grading.notebooks import START, notebook

CATALOGUES = {"code": code, "forging": forging, "files": files, "honest": honest}
EVERY = [(name, case) for name, module in CATALOGUES.items() for case in module.CASES]
CONTROLS = re.compile("[\x00-\x09\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069\ud800-\udfff]")


@functools.cache
def kept_folder() -> tempfile.TemporaryDirectory:
    """One folder for all evenings, gone at the end."""
    return tempfile.TemporaryDirectory(prefix="coldbench-hostile-")


@functools.cache
def evening(name: str) -> tuple[Evening, dict[str, str]]:
    """The evening of one catalogue, marked once."""
    folder = Path(kept_folder().name) / name
    folder.mkdir()
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
    running = subprocess.run(["ps", "ax", "-o", "args"], capture_output=True, text=True, check=True).stdout
    assert "83.613" not in running


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
