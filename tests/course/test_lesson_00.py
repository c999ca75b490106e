"""Lesson 00 says what the library does: what is understood, where files lie, what the practice cells take."""

import json
import re
from pathlib import Path

import pytest
from coldbench.errors import CannotRead
from coldbench.homework.sheet import FILE_NAME
from coldbench.lesson.kept import FILE_NAME as KEPT
from coldbench.units import read

ROOT = Path(__file__).parents[2]
LESSON = ROOT / "course" / "00-start-here" / "00-start-here.ipynb"
CELLS = json.loads(LESSON.read_text(encoding="utf-8"))["cells"]
TEXT = " ".join(" ".join("".join(cell["source"]).replace("> ", "").split()) for cell in CELLS)


@pytest.mark.parametrize(
    ("typed", "kind"),
    [
        ("28.7 kohm", "resistance"),
        ("0,6 psig", "pressure"),
        ("28700 ohm", "resistance"),
        ("1.234,5 ohm", "resistance"),
        ("1,234.5 ohm", "resistance"),
        ("12 psig", "pressure"),
        ("13.5 inHg vacuum", "pressure"),
        ("12 psia", "pressure"),
        ("4.1 kPa abs", "pressure"),
    ],
)
def test_what_the_text_calls_understood_is_understood(typed, kind):
    """Each stands in the text as code."""
    assert f"`{typed}`" in TEXT
    assert read(typed, kind).value > 0


@pytest.mark.parametrize(("typed", "kind"), [("28,700 ohm", "resistance"), ("12 psi", "pressure")])
def test_what_the_text_calls_refused_is_refused(typed, kind):
    """Each stands in the text."""
    assert typed in TEXT
    with pytest.raises(CannotRead):
        read(typed, kind)


def test_files_that_the_text_names_are_there():
    """Kept work, the sheet, and the homework to open."""
    assert f"`{KEPT}`" in TEXT and f"`{FILE_NAME}`" in TEXT
    path = re.search(r"`(exercises/\S+\.ipynb)`", TEXT).group(1)
    assert (ROOT / path).is_file() and (ROOT / path).with_name(FILE_NAME).is_file()


def test_first_cell_makes_what_the_text_says():
    """A sum that is also the temperature of the course's machines."""
    assert "".join(CELLS[2]["source"]) == "25 + 12" and "Now 37 stands below it" in TEXT


def test_student_never_needs_to_program():
    """Apart from the first sum, each code cell is an import or one call."""
    for cell in CELLS[3:]:
        if cell["cell_type"] == "code":
            assert re.fullmatch(
                r"from coldbench\.lesson import lesson_00 as lesson|lesson\.\w+\((\.\.\.)?\)",
                "".join(cell["source"]),
            )


@pytest.mark.parametrize(
    "danger",
    [
        "Mains voltage kills", "Capacitors keep their charge", "R-600a and R-290 burn", "Pressure", "Heaters",
        "cut", "when in doubt, throw it out", "Local codes come first", "It licenses nobody",
    ],
)  # fmt: skip
def test_dangers_of_the_shop_are_named(danger):
    """Mains, charge, fire, pressure, heat, edges, food; and who decides."""
    assert danger in TEXT
