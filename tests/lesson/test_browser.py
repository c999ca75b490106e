"""What reaches the browser stands alone: no network, keys let through, names for a screen reader."""

import re

import pytest
from coldbench.lesson.browser import STYLE, script, with_still


@pytest.mark.parametrize("name", ["ask.js", "explore.js"])
def test_scripts_need_no_network(name):
    """One module without imports and without addresses."""
    text = script(name)
    assert not re.search(r"https?:|\bimport\b|\bfetch\b", text)
    assert text.count("export default") == 1


@pytest.mark.parametrize("name", ["ask.js", "explore.js"])
def test_scripts_let_keys_through_and_announce_politely(name):
    """The attribute that JupyterLab looks for on each control, and a polite live region."""
    text = script(name)
    assert "dataset.lmSuppressShortcuts" in text
    assert '"aria-live", "polite"' in text


def test_style_needs_no_network():
    """No fonts or pictures from elsewhere."""
    assert not re.search(r"url\(|@import", STYLE.read_text(encoding="utf-8"))


def test_still_copy_is_added_to_both_forms_of_a_bundle():
    """With metadata beside it or alone."""
    assert with_still({"a": 1}, "<p>", "x") == {"a": 1, "text/html": "<p>", "text/plain": "x"}
    assert with_still(({}, {}), "<p>", "x")[0]["text/html"] == "<p>"
