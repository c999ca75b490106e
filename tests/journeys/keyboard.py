"""JupyterLab by keyboard alone: open a notebook, run cells, go into what appeared, type into a cell."""

from __future__ import annotations

import contextlib
from pathlib import Path

from playwright.sync_api import Locator, Page, expect
from playwright.sync_api import TimeoutError as PlaywrightTimeout
from served import PATIENCE

PLACE = "data-windowed-list-index"
FOCUSED = "elements => elements.includes(document.activeElement)"


class Keyboard:
    """A person at a page of JupyterLab who has no mouse."""

    def __init__(self, page: Page):
        self.page, self.press = page, page.keyboard.press

    def open(self, path: str, heading: str) -> None:
        """Open a notebook from the command palette, and wait until it can be run."""
        palette = self.page.locator(".lm-CommandPalette-input")
        for _ in range(5):  # JupyterLab does not listen to its keys at once
            self.press("Control+Shift+c")
            with contextlib.suppress(PlaywrightTimeout):
                palette.wait_for(timeout=5_000)
                break
        expect(palette).to_be_focused()
        self.page.keyboard.type("open from path")
        expect(self.page.locator(".lm-CommandPalette-item.lm-mod-active")).to_contain_text("Open from Path")
        self.press("Enter")
        field = self.page.get_by_role("dialog").get_by_role("textbox")
        expect(field).to_be_focused()
        self.page.keyboard.type(path)
        self.press("Enter")
        expect(self.notebook.get_by_role("heading", name=heading)).to_be_visible()
        self.wait_until_ready()

    def wait_until_ready(self) -> None:
        """Wait until the first cell is chosen and the status bar says that cells can be run."""
        expect(self.active_cell).to_be_focused()
        expect(self.page.get_by_role("button", name="Python 3 (ipykernel) | Idle")).to_be_visible()

    @property
    def notebook(self) -> Locator:
        """The notebook that is in front."""
        return self.page.locator(".jp-Notebook:visible")

    @property
    def active_cell(self) -> Locator:
        """The cell that keys act on."""
        return self.notebook.locator(".jp-Cell.jp-mod-active")

    def cell(self, source: str) -> Locator:
        """The cell in whose source this stands."""
        return self.notebook.locator(".jp-Cell", has=self.page.locator(".cm-content", has_text=source))

    def run_through(self, source: str, most: int = 20) -> None:
        """Run cell after cell, up to and with the one in whose source this stands."""
        for _ in range(most):
            last = self.is_chosen(self.cell(source))
            self.step("Shift+Enter")
            if last:
                return
        raise AssertionError(f"{most} times Shift+Enter did not reach the cell with {source}.")

    def step(self, key: str) -> None:
        """Press a key that leads to another cell, and wait until keys act on that one."""
        before = self.active_cell.get_attribute(PLACE)
        self.press(key)
        expect(self.active_cell).not_to_have_attribute(PLACE, before)
        expect(self.active_cell).to_be_focused()

    def save(self, path: Path) -> None:
        """Save the notebook, and wait until its file has been written and its tab says so."""
        before = path.stat().st_mtime_ns
        self.press("Control+s")
        for _ in range(10 * PATIENCE):
            if path.stat().st_mtime_ns != before:
                break
            self.page.wait_for_timeout(100)
        assert path.stat().st_mtime_ns != before
        expect(self.page.locator(".lm-TabBar-tab.jp-mod-current.jp-mod-dirty")).to_have_count(0)

    def is_chosen(self, cell: Locator) -> bool:
        """Tell whether a cell is the one that keys act on."""
        return "jp-mod-active" in cell.get_attribute("class").split()

    def back_into(self, wanted: Locator, most: int = 5) -> None:
        """Go back with Shift+Tab until the keys act on what is wanted (or one of several)."""
        for _ in range(most):
            if wanted.evaluate_all(FOCUSED):
                return
            self.press("Shift+Tab")
        raise AssertionError(f"{most} times Shift+Tab did not lead back into {wanted}.")

    def down_to(self, source: str, most: int = 20) -> Locator:
        """With the arrow key, choose the cell in whose source this stands."""
        wanted = self.cell(source)
        for _ in range(most):
            if self.is_chosen(wanted):
                return wanted
            self.step("ArrowDown")
        raise AssertionError(f"The arrow key did not lead to the cell with {source}.")

    def edit(self, cell: Locator) -> None:
        """Go into the chosen cell, behind its last character."""
        self.press("Enter")
        expect(cell.locator(".cm-content")).to_be_focused()
        self.press("Control+End")

    def before_the_last(self) -> None:
        """Go to the end of the line, before its last character."""
        self.press("End")
        self.press("ArrowLeft")

    def replace_dots(self, text: str) -> None:
        """Put text in place of the three dots before the cursor."""
        for _ in "...":
            self.press("Backspace")
        self.page.keyboard.type(text)
