"""Every lesson: complete, runs without a browser, small cells, headings in order, nothing stored."""

import json
import os
import re
import subprocess
import sys
from itertools import pairwise
from pathlib import Path

import nbformat
import pytest
from served import PATIENCE

COURSE = Path(__file__).parents[2] / "course"
NOTEBOOKS = sorted(COURSE.glob("[0-9][0-9]-*/*.ipynb"))
each_lesson = pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)


def cells(path):
    return json.loads(path.read_text(encoding="utf-8"))["cells"]


def markdown(path):
    return "\n".join("".join(cell["source"]) for cell in cells(path) if cell["cell_type"] == "markdown")


def test_there_are_lessons():
    """The checks below have something to check."""
    assert NOTEBOOKS


@each_lesson
def test_lesson_runs_from_top_to_bottom(path, tmp_path):
    """nbval runs every cell in a fresh kernel, in a copy of the lesson's folder."""
    copy = tmp_path / path.name
    copy.write_bytes(path.read_bytes())
    command = [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", "--nbval-lax", str(copy)]
    command += ["--nbval-kernel-startup-timeout", str(PATIENCE)]
    done = subprocess.run(command, cwd=tmp_path, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    assert not (tmp_path / "kept-work.json").exists(), "running a lesson keeps nothing by itself"


@each_lesson
def test_lesson_has_its_three_files(path):
    """Notebook named as its folder, bench sheet to print, notes for the instructor."""
    assert path.stem == path.parent.name
    assert (path.parent / "bench-sheet.html").is_file()
    assert (path.parent / "instructor-notes.md").is_file()


@each_lesson
def test_notebook_is_valid_and_nothing_is_stored(path):
    """No outputs, no counts, an id for every cell."""
    nbformat.validate(nbformat.read(path, as_version=4))
    for cell in cells(path):
        assert cell["id"]
        if cell["cell_type"] == "code":
            assert cell["outputs"] == [] and cell["execution_count"] is None


@each_lesson
def test_no_cell_is_over_15_lines_and_code_is_short(path):
    """One idea a cell; three lines of code at most, the rest lives in the library."""
    for cell in cells(path):
        lines = "".join(cell["source"]).splitlines()
        assert 0 < len(lines) <= (3 if cell["cell_type"] == "code" else 15), lines[:1]


@each_lesson
def test_headings_are_in_order(path):
    """One title first, then sections; no level is skipped, so that a screen reader can walk them."""
    levels = [len(marks) for marks in re.findall(r"^(#+) ", markdown(path), re.M)]
    assert levels[0] == 1 and levels.count(1) == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))


@each_lesson
def test_pictures_in_the_text_have_words_and_files(path):
    """Every picture in the text has words that say what it shows; every local link leads somewhere."""
    text = markdown(path)
    assert all(words.strip() for words in re.findall(r"!\[(.*?)\]", text))
    for link in re.findall(r"\]\(([^)#]+)[^)]*\)", text):
        if not re.match(r"https?:", link):
            assert (path.parent / link).exists(), link


@each_lesson
def test_every_live_picture_has_a_twin_and_every_question_a_still_copy(path, tmp_path, monkeypatch):
    """What each code cell shows carries words: the picture's twin, or the question as text."""
    monkeypatch.chdir(tmp_path)
    space: dict = {}
    shown = 0
    for cell in cells(path):
        if cell["cell_type"] != "code":
            continue
        *before, last = "".join(cell["source"]).splitlines()
        exec("\n".join(before), space)  # noqa: S102 (our own lesson)
        try:
            widget = eval(last, space)  # noqa: S307
        except SyntaxError:
            exec(last, space)  # noqa: S102
            continue
        if hasattr(widget, "_repr_mimebundle_"):
            bundle = widget._repr_mimebundle_()
            data = bundle[0] if isinstance(bundle, tuple) else bundle
            assert data["text/html"] and data["text/plain"]
            if "<svg" in data["text/html"]:
                assert re.search(r'role="img".*<title>.+</title><desc>.+</desc>', data["text/html"])
                assert re.search(r"<figcaption>.{20,}</figcaption>", data["text/html"])
            shown += 1
    assert shown


@each_lesson
def test_bench_sheet_stands_alone_and_prints(path):
    """One HTML file without network, in black on white, with a title and a box on safety."""
    sheet = (path.parent / "bench-sheet.html").read_text(encoding="utf-8")
    assert re.search(r"<html lang=\"en\">", sheet) and re.search(r"<title>.+</title>", sheet)
    assert not re.search(r"https?:|<script|<link|url\(|@import", sheet)
    assert "@page" in sheet and 'class="safety"' in sheet
    assert sheet.count("<table") >= 1 and "<th" in sheet


@each_lesson
def test_instructor_notes_say_what_to_show_and_how_long(path):
    """The four things an instructor looks for."""
    notes = (path.parent / "instructor-notes.md").read_text(encoding="utf-8")
    for heading in ("Time", "What to show", "Wrong ideas to expect", "What is where"):
        assert re.search(rf"^## {heading}$", notes, re.M), heading


@each_lesson
def test_lesson_names_its_sources_and_where_people_are_hurt(path):
    """Both sections are there."""
    assert re.search(r"^##+ Sources$", markdown(path), re.M)
    assert re.search(r"^##+ Where people are hurt$", markdown(path), re.M)


def test_export_without_kernel_and_network_keeps_pictures_and_words(tmp_path):
    """A page exported from an executed lesson shows picture, twin and questions as plain HTML."""
    import nbclient
    from nbconvert import HTMLExporter

    path = next(path for path in NOTEBOOKS if path.stem.startswith("01"))
    notebook = nbformat.read(path, as_version=4)
    client = nbclient.NotebookClient(
        notebook, timeout=PATIENCE, startup_timeout=PATIENCE, iopub_timeout=PATIENCE
    )
    client.resources = {"metadata": {"path": tmp_path}}
    client.store_widget_state = False
    client.execute()
    page, _ = HTMLExporter().from_notebook_node(notebook)
    assert len(re.findall(r'<svg [^>]*role="img"', page)) == 6
    assert "13.5 ÷ 2.036 = 8.1 psia" in page
    assert "What do you tell the customer?" in page
    assert os.listdir(tmp_path) == []
