"""nbgrader's form on a class folder, for tests that open it in a browser."""

from __future__ import annotations

import contextlib
import re
from collections.abc import Iterator
from pathlib import Path

from playwright.sync_api import Locator, expect
from served import served


@contextlib.contextmanager
def form_server(class_folder: Path) -> Iterator[str]:
    """Serve the form, give its address, stop it at the end."""
    with served("server", class_folder) as address:
        yield f"{address}/formgrader"


def give(points: Locator, given: str, comment: Locator, words: str) -> None:
    """Type points and words into the fields of a question, each saved before the next step."""
    # What is typed before the form has loaded is lost: it shows by these two what it has loaded.
    expect(points).to_have_class(re.compile("needs_manual_grade"))
    expect(comment).to_have_attribute("placeholder", re.compile("reads this"))
    for field, text, kind in ((points, given, "grade"), (comment, words, "comment")):
        field.fill(text)
        with field.page.expect_response(re.compile(rf"/formgrader/api/{kind}/")) as saving:
            field.press("Tab")
        assert saving.value.ok
