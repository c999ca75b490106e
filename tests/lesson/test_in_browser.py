"""Lesson 01 in a real browser, by keyboard alone; guesses are there again after a kernel restart."""

import contextlib
import shutil
import time
from itertools import pairwise
from pathlib import Path

import needs
import pytest
from chromium import chromium, new_page
from playwright.sync_api import Error as PlaywrightError
from playwright.sync_api import Locator, Page, expect
from served import PATIENCE, QUICK, served

LESSON = Path(__file__).parents[2] / "course" / "01-pressure-tells-temperature"

pytestmark = pytest.mark.browser


OPEN_TO_TESTS = "--LabApp.expose_app_in_browser=True"

NOTEBOOK = "const here = window.jupyterapp?.shell.currentWidget;"
CELLS = (
    NOTEBOOK
    + """
  const every = [...here.content.model.sharedModel.cells];
  const cells = every.filter(cell => cell.cell_type === "code" && cell.source.trim());"""
)
READY = f"""() => {{ {NOTEBOOK}
  const kernel = here?.sessionContext?.session?.kernel;
  return kernel?.connectionStatus === "connected" && kernel.status === "idle"; }}"""
AS_IF_NONE_HAD_RUN = f"() => {{ {CELLS} cells.forEach(cell => {{ cell.execution_count = null; }}); }}"
ALL_HAVE_RUN = f"""() => {{ {CELLS}
  return cells.every(cell => cell.execution_count && cell.executionState === "idle"); }}"""


@pytest.fixture(scope="module")
def lab(tmp_path_factory):
    """JupyterLab on a copy of the lesson, in a folder whose name has a space and a letter beyond ASCII."""
    needs.browser()
    folder = tmp_path_factory.mktemp("lab") / "Kühl kurs"
    shutil.copytree(LESSON, folder / "lesson")
    with served("lab", folder, *QUICK, OPEN_TO_TESTS) as address:
        yield address


@pytest.fixture(scope="module")
def page(lab):
    """One page of a headless Chromium."""
    with chromium() as browser:
        yield new_page(browser, height=1000)


def menu(page: Page, name: str, entry: str) -> None:
    """Choose an entry of a menu."""
    page.click(f'.lm-MenuBar-itemLabel:text-is("{name}")')
    page.click(f'.lm-Menu-itemLabel:text-is("{entry}")')


def reach(page: Page, thing: Locator) -> Locator:
    """Scroll down from the top until a thing is there, and stays there.

    JupyterLab holds only the cells in view, and a widget comes some time after its cell has run: a thing
    that is taken away while it is being scrolled to is looked for once more.
    """
    panel = page.locator(".jp-WindowedPanel-outer")
    panel.evaluate("panel => panel.scrollTop = 0")
    end = time.monotonic() + PATIENCE
    while time.monotonic() < end:
        page.wait_for_timeout(200)
        if not thing.count():
            panel.evaluate("panel => panel.scrollTop = (panel.scrollTop + 500) % (panel.scrollHeight - 500)")
            continue
        with contextlib.suppress(PlaywrightError):
            thing.scroll_into_view_if_needed(timeout=1_000)
            return thing
    raise AssertionError(f"Scrolling did not find {thing}.")


def test_slider_works_by_arrow_keys_and_the_twin_follows(page, lab):
    """Value, picture and sentence change; the announcement waits until the keys are quiet."""
    page.goto(f"{lab}/lab/tree/lesson/01-pressure-tells-temperature.ipynb?reset")
    page.wait_for_function(READY)  # cells that are run before the kernel has answered stay unrun
    menu(page, "Run", "Run All Cells")
    page.wait_for_function(ALL_HAVE_RUN)  # from here on JupyterLab replaces nothing
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
    """Twenty presses in a row are announced when they have ended, not one by one.

    A slow machine may show some of them so late that there was quiet between; then there, too, it was quiet.
    """
    live = page.get_by_role("group", name="Where zero is")
    live.get_by_role("slider").focus()
    page.evaluate(
        """() => {
          window.heard = [];
          const live = document.querySelector('[aria-label="Where zero is"]');
          for (const place of [".coldbench-twin", "[aria-live]"]) {
            const part = live.querySelector(place);
            const hear = () => window.heard.push([place, performance.now(), part.textContent]);
            new MutationObserver(hear).observe(part, { childList: true });
          }
        }"""
    )
    for _ in range(20):
        page.keyboard.press("ArrowRight")
    expect(live.locator(".coldbench-twin")).to_contain_text("0.0 psig")
    expect(live.locator("[aria-live]")).to_contain_text("0.0 psig")
    page.wait_for_timeout(1_000)
    quiet, said = [], []
    for (_, before, _), (place, now, text) in pairwise([["", 0, ""], *page.evaluate("window.heard")]):
        quiet.append(now - before)
        if place == "[aria-live]":
            said.append(text)
            assert quiet[-1] > 600, "announced while the sentence still changed"
    assert "0.0 psig" in said[-1]
    assert len(said) == 1 or len(said) <= sum(pause > 600 for pause in quiet[1:])


def test_a_guess_by_keyboard_is_kept_over_a_kernel_restart(page):
    """Choices by arrow, Tab and Enter; a number by typing and Enter; both there after a restart."""
    replies = page.locator(".coldbench-reply")
    first = page.get_by_role("radio", name="That can be right")
    reach(page, first).focus()
    page.keyboard.press("ArrowDown")
    expect(page.get_by_role("radio", name="Refrigerant has leaked out")).to_be_checked()
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    kept = "Kept: Refrigerant has leaked out. Go on and see."
    expect(replies.filter(has_text="leaked out")).to_have_text(kept)
    field = page.get_by_role("textbox", name="Its coil is at")
    for _ in range(5):  # on to the next question, past what JupyterLab puts between
        page.keyboard.press("Tab")
        if field.evaluate("field => field === document.activeElement"):
            break
    expect(field).to_be_focused()
    page.keyboard.type("12 psig")
    page.keyboard.press("Enter")
    expect(replies.filter(has_text="12 psig")).to_have_text("Kept: 12 psig. Go on and see.")
    page.evaluate("document.querySelectorAll('input').forEach(input => { input.dataset.run = 'first'; })")
    page.evaluate(AS_IF_NONE_HAD_RUN)
    menu(page, "Kernel", "Restart Kernel and Run All Cells…")
    page.click('.jp-Dialog-button:has-text("Restart")')
    page.wait_for_function(ALL_HAVE_RUN)
    again = page.locator("input:not([data-run])")  # not what the first run has left in view
    expect(
        reach(page, again.and_(page.get_by_role("radio", name="Refrigerant has leaked out")))
    ).to_be_checked()
    expect(reach(page, again.and_(field))).to_have_value("12 psig")
    expect(replies.filter(has_text="12 psig")).to_have_text("Kept: 12 psig. Go on and see.")
