"""nbgrader's own buttons, pressed in a real browser on a hostile hand-in: they take our way."""

import json
import os

import needs
import pytest
from chromium import chromium, new_page
from coldbench.grading import evening
from coldbench.grading.intake import hand_in_path
from coldbench.grading.results import read_record
from grading.form_server import form_server
from grading.small_class import NAME, SmallClass
from grading.small_course import fill_in, make_course, right
from playwright.sync_api import Page, expect

CANARY = "canary-of-the-button"

HOSTILE = """
import glob, json, os
from pathlib import Path

found = [f"environment: {name}" for name, value in os.environ.items() if CANARY in value]
places = PLACES + glob.glob("/proc/[0-9]*/environ") + glob.glob("/proc/[0-9]*/cmdline")
for place in places:
    try:
        found += [place] if CANARY.encode() in Path(place).read_bytes() else []
    except OSError:
        pass
try:
    Path(TRAP).touch()
except OSError:
    pass
answer("05.4", " ".join(found) or "nothing of the canary")
from IPython.display import HTML, display
display(HTML("<script>window.ran = true</script>"))
"""


@pytest.fixture
def page():
    """An empty page of a headless Chromium that remembers scripts of strangers."""
    with chromium() as browser:
        yield new_page(browser)


def press(page: Page, button: str) -> str:
    """Press a button in the row of s07, wait for what comes of it, and give its words."""
    row = page.locator("tbody tr").filter(has_text="s07")
    expect(row.locator(".label")).to_be_visible()  # the row is redrawn last of all: only then it stands still
    row.locator(f".{button} a").click()
    told = page.locator("#success-modal, #error-modal")
    expect(told.locator(".modal-title")).to_be_visible()
    words = told.inner_text()
    told.get_by_role("button", name="OK").click()
    expect(told).to_have_count(0)
    return words


@pytest.mark.browser
def test_the_buttons_of_the_form_take_our_way(page, tmp_path, monkeypatch):
    """Autograde and feedback pressed: the key is out of sight, mark and page are ours, nothing runs."""
    needs.bubblewrap()
    monkeypatch.setenv("COLDBENCH_TEST_CANARY", CANARY)
    small = SmallClass(tmp_path, make_course(tmp_path / "course"))
    for student in ("s07", "s08"):
        small.hand_in(student)
    small.run()
    key, trap = small.course / "solutions" / NAME / "questions.py", small.folder / "trap"
    key.write_text(key.read_text(encoding="utf-8") + f"\n# {CANARY}\n", encoding="utf-8")
    places = [key, small.folder / "marks" / "canary.txt", small.folder / "hand-ins" / "canary.txt"]
    for place in places[1:]:
        place.write_text(CANARY, encoding="utf-8")
    given = {"CANARY": CANARY, "TRAP": str(trap), "PLACES": [str(place) for place in places]}
    source = "\n".join(f"{name} = {value!r}" for name, value in given.items()) + HOSTILE
    tree = json.loads(fill_in(small.course, "s07", right(small.course, "s07") | {"05.3": "B"}))
    for cell in tree["cells"]:
        if cell["id"] == "question-05-4":
            cell["source"] = source
        if "nbgrader" in cell["metadata"]:
            cell["metadata"]["nbgrader"]["points"] = 100
    tree["cells"][0]["source"] = "<script>window.ran = true</script>"
    hand_in_path(small.folder, "s07", "05").write_text(json.dumps(tree), encoding="utf-8")
    with form_server(small.folder) as address:
        page.goto(f"{address}/manage_submissions/{NAME}")
        assert "Successfully autograded" in press(page, "autograde")
        record = read_record(small.folder / "marks" / "s07" / "05.json")
        assert record["executed"]
        assert record["answers"]["05.4"] == "nothing of the canary"
        assert (small.points("s07", "05.3"), small.grade("s07", "05.3")[:2]) == ((0, 1), (0, None))
        assert small.grade("s07", "05.4")[2:] == (True, 3)
        mine = small.folder / "feedback" / "s07" / NAME / f"{NAME}.html"
        os.unlink(mine)
        assert "Successfully generated feedback" in press(page, "generate-feedback")
        assert "Content-Security-Policy" in mine.read_text(encoding="utf-8")
        assert "nothing of the canary" in mine.read_text(encoding="utf-8")
        assert page.evaluate("window.ran") is None
    assert not trap.exists()
    evening.mark(small.hand_ins, small.folder, small.course, lambda line: None)
    assert small.points("s08", "05.3") == (1, 1)
