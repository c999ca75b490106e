"""The whole path in a real browser: from the unzipped bundle to marks, feedback and the class report.

A student without a mouse starts the course, works through the beginning of lesson 01 and does homework 05;
the instructor marks it, reads its sentence in nbgrader's form and looks at the pages. What each of them sees
is kept as pictures in the folder that COLDBENCH_SCREENSHOTS names.
"""

from __future__ import annotations

import csv
import importlib.util
import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import needs
import pytest
from chromium import chromium, new_page
from coldbench.grading.course_files import Course
from coldbench.homework import sheet
from grading.form_server import give
from journeys.keyboard import Keyboard
from journeys.started import PYTHON3, ROOT, Started, show_packages, unpack_bundle, wait_until_served
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.browser

LESSON_01 = "course/01-pressure-tells-temperature/01-pressure-tells-temperature.ipynb"
STUDENT, NAME = "s07", "Noa Bentavor"
HELD = {"05.4": "divider_upside_down"}
SENTENCE = 'A cube is colder than its water: "stirred" means 32 degF. Live boards hurt, and they add ohms.'


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """Where all of it happens: a folder with a space and a letter beyond ASCII in its name."""
    return tmp_path_factory.mktemp("journey") / "kühl bank"


@pytest.fixture(scope="module")
def address(folder):
    """The first command, typed in the unpacked bundle; the address that it prints."""
    needs.browser()
    bundle = unpack_bundle(folder)
    show_packages(bundle)
    course = Started([PYTHON3, "lib/start.py"], bundle, COLDBENCH_WORK=str(folder / "work"))
    yield course.wait_for(r"(http://\S+)")
    course.stop()


@pytest.fixture(scope="module")
def browser():
    """A headless Chromium."""
    with chromium() as own:
        yield own


@pytest.fixture(scope="module")
def see(tmp_path_factory):
    """Keep a picture of what a page shows."""
    place = Path(os.environ.get("COLDBENCH_SCREENSHOTS") or tmp_path_factory.mktemp("seen"))
    place.mkdir(parents=True, exist_ok=True)

    def keep(page: Page, name: str, full_page: bool = False) -> None:
        page.screenshot(path=place / f"{name}.png", full_page=full_page)

    return keep


def heard_page(browser) -> Page:
    """Open an empty page that keeps what the browser's console complains about."""
    page = new_page(browser)
    page.complaints = []
    page.on("console", lambda said: page.complaints.append(said.text) if said.type == "error" else None)
    page.on("pageerror", lambda error: page.complaints.append(str(error)))
    return page


@pytest.fixture(scope="module")
def page(browser, address):
    """The page in which the student works, open at the address that the first command printed."""
    page = heard_page(browser)
    page.goto(address)
    expect(page.get_by_role("heading", name="Lesson 00: Start here")).to_be_visible()
    return page


def test_the_first_command_opens_lesson_00(page, see):
    """From the unpacked bundle, one command leads to the first lesson, its first cell chosen."""
    expect(page.get_by_role("tab", name="00-start-here.ipynb")).to_be_visible()
    Keyboard(page).wait_until_ready()
    expect(page.get_by_role("menuitem", name="Nbgrader")).to_have_count(0)
    see(page, "1-lesson-00")
    assert page.complaints == []


def test_lesson_01_by_keyboard_alone(page, folder, see):
    """A guess is kept; the arrow keys move a slider, and its picture and its sentence with it."""
    keys = Keyboard(page)
    keys.open(LESSON_01, "Lesson 01")
    leak = page.get_by_role("radio", name="Refrigerant has leaked out")
    keys.run_through("lesson.guess_vacuum()")
    expect(leak).to_be_visible()
    question = page.get_by_role("group", name="The R-600a machine cools well")
    keys.back_into(question.get_by_role("radio"))
    for _ in range(4):
        keys.press("ArrowUp")
        if leak.is_checked():
            break
    expect(leak).to_be_checked()
    keys.press("Tab")
    keys.press("Enter")
    expect(page.get_by_text("Kept: Refrigerant has leaked out. Go on and see.")).to_be_visible()
    see(page, "2-lesson-01-guess")

    keys.press("Escape")
    expect(keys.cell("lesson.guess_vacuum()")).to_be_focused()
    keys.run_through("lesson.where_zero_is()")
    live = page.get_by_role("group", name="Where zero is")
    expect(live).to_be_visible()
    slider = live.get_by_role("slider", name="The needle shows")
    keys.back_into(slider)
    picture, twin = live.get_by_role("img", name="Where zero is"), live.locator(".coldbench-twin")
    expect(picture.locator("desc")).to_have_text(twin.inner_text())
    before = picture.text_content()
    for _ in range(7):
        keys.press("ArrowRight")
    expect(slider).to_have_attribute("aria-valuetext", "10.0 inHg vacuum")
    expect(twin).to_contain_text("10.0 inHg vacuum")
    expect(picture.locator("desc")).to_have_text(twin.inner_text())
    assert picture.text_content() != before
    expect(live.locator("[aria-live=polite]")).to_have_text(twin.inner_text())
    see(page, "3-lesson-01-slider")
    keys.save(folder / "work" / LESSON_01)
    assert page.complaints == []


def what_is_typed(page: sheet.Sheet) -> dict[str, str | dict[str, str]]:
    """What this student types at each question: right, but for one wrong idea.

    The arithmetic is the invented students' own, which knows nothing of the marking's.
    """
    place = ROOT / "solutions" / "invented_study.py"
    study = importlib.util.module_from_spec(importlib.util.spec_from_file_location("study", place))
    study.__spec__.loader.exec_module(study)
    typed, earlier = {}, {}
    for question, item in page.items.items():
        numbers = page.numbers(STUDENT, question)
        text = study.answer_right(question, numbers.shown, numbers.typed, earlier)
        if question in HELD:
            text = study.answer_with_idea(question, HELD[question], numbers.typed, earlier)
        if item.kind.name == "number":
            earlier[question] = float(text.split()[0])
        typed[question] = SENTENCE if item.kind.name == "sentence" else study.as_value(question, text)
    return typed


@pytest.fixture(scope="module")
def saved(page, folder, see):
    """Homework 05, filled in by typing, run and saved; the file as it lies in the work folder."""
    place = folder / "work" / "exercises" / "homework-05"
    keys = Keyboard(page)
    keys.open("exercises/homework-05/homework-05.ipynb", "Homework 05")
    keys.edit(keys.down_to("student(...)"))
    keys.press("Home")
    for _ in "student(...":
        keys.press("ArrowRight")
    keys.replace_dots(f'"{STUDENT}"')
    keys.press("Shift+Enter")
    expect(keys.cell("student(").get_by_role("status")).to_contain_text(f"Student {STUDENT}")
    see(page, "4-homework-05-begun")
    for question, value in what_is_typed(sheet.load(place)).items():
        cell = keys.down_to(f'answer("{question}"')
        keys.edit(cell)
        if isinstance(value, dict):
            for letter in reversed(value.values()):
                keys.press("ArrowUp")
                keys.before_the_last()
                keys.replace_dots(f'"{letter}"')
        elif value == SENTENCE:
            keys.press("ArrowUp")
            page.keyboard.type(value)
        else:
            keys.before_the_last()
            keys.replace_dots(f'"{value}"')
        keys.press("Shift+Enter")
        expect(cell.get_by_role("status")).to_contain_text("Understood:")
        if value == SENTENCE:
            see(page, "5-homework-05-understood")
    keys.save(place / "homework-05.ipynb")
    return place / "homework-05.ipynb"


def test_homework_05_is_typed_understood_and_saved(saved, page):
    """What was typed lies in the file, and the browser had nothing to complain about."""
    sources = ["".join(cell["source"]) for cell in json.loads(saved.read_text("utf-8"))["cells"]]
    assert any(f'student("{STUDENT}")' in source for source in sources)
    assert any(SENTENCE in source for source in sources)
    assert not [source for source in sources if source.startswith("# 05.") and ", ...)" in source]
    assert page.complaints == []


def mark(folder: Path) -> subprocess.CompletedProcess:
    """Mark what was handed in, with the command."""
    command = [sys.executable, "-m", "coldbench.command", "mark", folder / "handed in"]
    command += ["--class-folder", folder / "class", "--source", ROOT]
    return subprocess.run(command, capture_output=True, text=True)


@pytest.fixture(scope="module")
def marked(saved, folder):
    """The class folder after the student's file was handed in and marked."""
    needs.bubblewrap()
    theirs = folder / "handed in" / STUDENT
    theirs.mkdir(parents=True)
    shutil.copy(saved, theirs)
    (folder / "handed in" / "roster.csv").write_text(f"student,name\n{STUDENT},{NAME}\n", "utf-8")
    result = mark(folder)
    assert result.returncode == 0, result.stdout + result.stderr
    assert "1 sentence to read and mark by hand" in result.stdout
    return folder / "class"


def opened(browser, path: Path) -> Page:
    """Open one of the pages that the marking wrote."""
    page = heard_page(browser)
    page.goto(path.as_uri())
    return page


def test_the_feedback_page_says_why(marked, browser, see):
    """All understood and right but one, which is met by its idea; the sentence waits for the instructor."""
    page = opened(browser, marked / "feedback" / STUDENT / "homework-05" / "homework-05.html")
    expect(page.get_by_role("heading", level=1)).to_contain_text("Homework 05")
    see(page, "6-feedback", full_page=True)
    with (marked / "marks.csv").open(encoding="utf-8") as table:
        rows = {row["question"]: row for row in csv.DictReader(table)}
    assert {row["outcome"] for question, row in rows.items() if question not in HELD} == {"right", "by_hand"}
    assert rows["05.4"]["wrong_idea"] == HELD["05.4"]
    idea = Course(ROOT).ideas[HELD["05.4"]]
    expect(page.get_by_text(idea["sentence"])).to_be_visible()
    expect(page.get_by_text("Your instructor reads this").first).to_be_visible()
    assert page.complaints == []


def test_the_class_report_ranks_the_idea(marked, browser, see):
    """The report opens by itself, names the idea and who holds it."""
    page = opened(browser, marked / "report" / "class-report.html")
    see(page, "7-class-report", full_page=True)
    expect(page.get_by_role("heading", level=1)).to_be_visible()
    expect(page.get_by_text(Course(ROOT).ideas[HELD["05.4"]]["sentence"]).first).to_be_visible()
    expect(page.get_by_text(NAME).first).to_be_visible()
    assert page.complaints == []


def test_points_given_in_the_form_stay(marked, browser, folder, see):
    """JupyterLab in the class folder leads to the form, too; points given there outlive a second marking."""
    lab = Started([sys.executable, "-m", "jupyter", "lab", "--allow-root"], marked)
    try:
        address, page = lab.wait_for(r"^ +(http://127\S+)"), heard_page(browser)
        wait_until_served(address)
        page.goto(address)
        page.get_by_role("menuitem", name="Nbgrader").click()
        page.get_by_role("menuitem", name="Formgrader", exact=True).click()
        form = page.frame_locator("iframe")
        form.get_by_role("link", name="Manual Grading").click()
        for ending in ("/gradebook/homework-05", "/gradebook/homework-05/homework-05"):
            form.get_by_role("gridcell").locator(f'a[href$="{ending}"]').click()
        form.get_by_role("gridcell").get_by_role("link", name="Submission #1").click()
        words = "Say which path the board adds."
        give(form.locator("#question-05-8"), "2.5", form.locator("#question-05-8-comment"), words)
        see(page, "8-form")
    finally:
        lab.stop()
    for _ in range(2):
        assert mark(folder).returncode == 0
        page = opened(browser, marked / "feedback" / STUDENT / "homework-05" / "homework-05.html")
        expect(page.get_by_text(words)).to_be_visible()
        expect(page.get_by_role("cell", name="2.5 of 3")).to_be_visible()
    see(page, "9-feedback-with-points", full_page=True)
