"""Lesson 01 in a real browser, by keyboard alone; guesses are there again after a kernel restart."""

import contextlib
import shutil
from pathlib import Path

import needs
import pytest
from playwright.sync_api import Error as PlaywrightError
from playwright.sync_api import Locator, Page, expect, sync_playwright
from studies.benchmark_slider import CHROMIUM, jupyter_lab

LESSON = Path(__file__).parents[2] / "course" / "01-pressure-tells-temperature"

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def lab(tmp_path_factory):
    """JupyterLab on a copy of the lesson, in a folder whose name has a space and a letter beyond ASCII."""
    needs.browser()
    folder = tmp_path_factory.mktemp("lab") / "Kühl kurs"
    shutil.copytree(LESSON, folder / "lesson")
    with jupyter_lab(folder) as address:
        yield address


@pytest.fixture(scope="module")
def page(lab):
    """One page of a headless Chromium."""
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=needs.browser(), args=CHROMIUM)
        yield browser.new_page(viewport={"width": 1280, "height": 1000})
        browser.close()


def menu(page: Page, name: str, entry: str) -> None:
    """Choose an entry of a menu."""
    page.click(f'.lm-MenuBar-itemLabel:text-is("{name}")')
    page.click(f'.lm-Menu-itemLabel:text-is("{entry}")')


def reach(page: Page, thing: Locator) -> Locator:
    """Scroll down from the top until a thing is there, and stays there.

    JupyterLab holds only the cells in view, and replaces what a cell shows when it is run again: a thing
    that is taken away while it is being scrolled to is looked for once more.
    """
    panel = page.locator(".jp-WindowedPanel-outer")
    panel.evaluate("panel => panel.scrollTop = 0")
    for _ in range(150):
        page.wait_for_timeout(200)
        if not thing.count():
            panel.evaluate("panel => panel.scrollTop = (panel.scrollTop + 500) % (panel.scrollHeight - 500)")
            continue
        with contextlib.suppress(PlaywrightError):
            thing.scroll_into_view_if_needed(timeout=1_000)
            return thing
    raise AssertionError(f"Half a minute of scrolling did not find {thing}.")


def test_slider_works_by_arrow_keys_and_the_twin_follows(page, lab):
    """Value, picture and sentence change; the announcement waits until the keys are quiet."""
    page.goto(f"{lab}/lab/tree/lesson/01-pressure-tells-temperature.ipynb?reset")
    page.get_by_text("Python 3 (ipykernel) | Idle").wait_for(timeout=60_000)
    page.wait_for_timeout(1_000)  # cells that are run before the kernel has answered stay unrun
    menu(page, "Run", "Run All Cells")
    live = page.get_by_role("group", name="Where zero is")
    slider = live.get_by_role("slider", name="The needle shows")
    reach(page, slider).focus()
    expect(live.locator(".coldbench-twin")).to_contain_text("13.5 inHg vacuum")
    for _ in range(7):
        page.keyboard.press("ArrowRight")
    expect(slider).to_have_attribute("aria-valuetext", "10.0 inHg vacuum")
    expect(live.locator(".coldbench-twin")).to_contain_text("14.7 − 10.0 ÷ 2.036 = 9.8 psia")
    expect(live.get_by_role("img")).to_have_accessible_name("Where zero is: two rulers for one pressure")
    expect(live.locator('[aria-live="polite"]')).to_have_text(live.locator(".coldbench-twin").inner_text())


def test_a_held_key_announces_once(page):
    """Twenty presses in a row change the announcement once, after they have ended."""
    live = page.get_by_role("group", name="Where zero is")
    live.get_by_role("slider").focus()
    page.evaluate(
        """() => {
          window.said = [];
          const spoken = document.querySelector('[aria-label="Where zero is"] [aria-live]');
          const heard = () => window.said.push(spoken.textContent);
          new MutationObserver(heard).observe(spoken, { childList: true });
        }"""
    )
    for _ in range(20):
        page.keyboard.press("ArrowRight")
    expect(live.locator(".coldbench-twin")).to_contain_text("0.0 psig")
    page.wait_for_function("window.said.length > 0")
    page.wait_for_timeout(300)
    said = page.evaluate("window.said")
    assert len(said) == 1 and "0.0 psig" in said[0]


def test_a_guess_by_keyboard_is_kept_over_a_kernel_restart(page):
    """Choices by arrow, Tab and Enter; a number by typing and Enter; both there after a restart."""
    replies = page.locator(".coldbench-reply")
    first = page.get_by_role("radio", name="That can be right")
    reach(page, first).focus()
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    kept = "Kept: Refrigerant has leaked out. Go on and see."
    expect(replies.filter(has_text="leaked out")).to_have_text(kept)
    field = page.get_by_role("textbox", name="Its coil is at")
    for _ in range(5):  # on to the next question, past what JupyterLab puts between
        page.keyboard.press("Tab")
        if field.evaluate("field => field === document.activeElement"):
            break
    page.keyboard.type("12 psig")
    page.keyboard.press("Enter")
    expect(replies.filter(has_text="12 psig")).to_have_text("Kept: 12 psig. Go on and see.")
    page.evaluate("document.querySelectorAll('input').forEach(input => { input.dataset.run = 'first'; })")
    menu(page, "Kernel", "Restart Kernel and Run All Cells…")
    page.click('.jp-Dialog-button:has-text("Restart")')
    again = page.locator("input:not([data-run])")  # not what the first run has left in view
    expect(
        reach(page, again.and_(page.get_by_role("radio", name="Refrigerant has leaked out")))
    ).to_be_checked()
    expect(reach(page, again.and_(field))).to_have_value("12 psig")
    expect(replies.filter(has_text="12 psig")).to_have_text("Kept: 12 psig. Go on and see.")
