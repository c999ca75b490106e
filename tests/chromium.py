"""A headless Chromium for tests: patient on a slow machine; when a test fails, it tells what it showed."""

from __future__ import annotations

import contextlib
import os
import tempfile
from collections.abc import Iterator
from pathlib import Path

import needs
from playwright.sync_api import Browser, Page, expect, sync_playwright
from served import PATIENCE

OPTIONS = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-sync"]
OPTIONS += ["--disable-background-networking", "--disable-component-update"]

_browsers: list[Browser] = []


@contextlib.contextmanager
def chromium() -> Iterator[Browser]:
    """Start it, end it."""
    path = needs.browser()
    expect.set_options(timeout=1000 * PATIENCE)
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=path, args=OPTIONS, timeout=1000 * PATIENCE)
        _browsers.append(browser)
        try:
            yield browser
        finally:
            _browsers.remove(browser)
            browser.close()


def new_page(browser: Browser, width: int = 1280, height: int = 900, **settings) -> Page:
    """Open an empty page that waits as long as it takes."""
    page = browser.new_page(viewport={"width": width, "height": height}, **settings)
    page.set_default_timeout(1000 * PATIENCE)
    return page


def what_it_shows() -> Iterator[str]:
    """Of each page that is open: where its picture was put, its address, its content in words."""
    kept = Path(os.environ.get("COLDBENCH_SCREENSHOTS") or tempfile.gettempdir())
    for browser in _browsers:
        for page in [page for context in browser.contexts for page in context.pages]:
            picture = kept / f"coldbench-failed-{os.getpid()}-{id(page)}.png"
            with contextlib.suppress(Exception):  # what failed already is what matters
                page.screenshot(path=picture, timeout=10_000)
            with contextlib.suppress(Exception):
                words = page.locator("body").aria_snapshot(timeout=10_000)
                yield f"{picture}\n{page.url}\n{words[:6000]}"
