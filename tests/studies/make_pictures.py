"""Make README's pictures from the project itself: lesson 01 in the browser, the invented class's report.

Run by hand after either has changed: ``python tests/studies/make_pictures.py``. It starts the students'
bundle as tests/journeys does, runs the beginning of lesson 01 by keyboard, marks the invented class, and
writes two PNG files to ``course/00-start-here/pictures``, which no student receives.
"""

from __future__ import annotations

import contextlib
import sys
import tempfile
from pathlib import Path

from playwright.sync_api import Browser, Locator, expect

sys.path.append(str(Path(__file__).parents[1]))
from chromium import chromium, new_page
from journeys.keyboard import Keyboard
from journeys.started import PYTHON3, ROOT, Started, show_packages, unpack_bundle

PICTURES = ROOT / "course" / "00-start-here" / "pictures"
CLASS_REPORT = {"width": 1000, "height": 900}
LESSON = {"width": 1120, "height": 760}


def lesson(browser: Browser, folder: Path) -> None:
    """Take lesson 01 with the first slider moved by keyboard."""
    bundle = unpack_bundle(folder)
    show_packages(bundle)
    course = Started([PYTHON3, "lib/start.py"], bundle, COLDBENCH_WORK=str(folder / "work"))
    try:
        page = new_page(browser, **LESSON)
        page.goto(course.wait_for(r"(http://\S+)"))
        keys = Keyboard(page)
        keys.wait_until_ready()
        keys.open("course/01-pressure-tells-temperature/01-pressure-tells-temperature.ipynb", "Lesson 01")
        keys.press("Control+b")  # the file list makes room
        keys.run_through("lesson.where_zero_is()")
        live = page.get_by_role("group", name="Where zero is")
        expect(live).to_be_visible()
        keys.back_into(live.get_by_role("slider"))
        keys.press("ArrowRight")
        keys.press("ArrowLeft")
        expect(live.locator(".coldbench-twin")).to_contain_text("13.5 inHg vacuum")
        bring(live)
        page.screenshot(path=PICTURES / "lesson-01.png")
    finally:
        course.stop()


def bring(wanted: Locator) -> None:
    """Scroll until all of it is in view: the notebook moves by itself while cells are still drawn."""
    for _ in range(20):
        wanted.evaluate("element => element.scrollIntoView({ block: 'center' })")
        with contextlib.suppress(AssertionError):
            wanted.page.wait_for_timeout(500)
            return expect(wanted).to_be_in_viewport(ratio=1, timeout=500)
    raise SystemExit("The picture of the lesson does not come into view.")


def class_report(browser: Browser, folder: Path) -> None:
    """Take the first part of the invented class's report."""
    command = [sys.executable, "-m", "coldbench.command", "class", "--source", ROOT]
    evening = Started([*command, "--class-folder", folder / "class"], folder)
    report = evening.wait_for(r"Class report: (.+\.html) ")
    evening.process.wait(60)
    page = new_page(browser, **CLASS_REPORT)
    page.goto(Path(report).as_uri())
    below = page.get_by_role("heading", name="Who needs a word").bounding_box()
    clip = {"x": 0, "y": 0, "width": CLASS_REPORT["width"], "height": below["y"] - 30}
    page.screenshot(path=PICTURES / "class-report.png", full_page=True, clip=clip)


def main() -> None:
    """Make both pictures."""
    PICTURES.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as folder, chromium() as browser:
        lesson(browser, Path(folder))
        class_report(browser, Path(folder))


if __name__ == "__main__":
    main()
