"""Figures of standards and measurements: each row of checks.csv names its source and tolerance."""

import pytest
from coldbench.properties.standards import FIGURES
from outside.published import celsius, fahrenheit, rows

KILOWATT_HOUR = 3.6e6  # [J]


def to_fahrenheit(kelvin: float) -> float:
    return round(kelvin * 1.8 - 459.67, 9)  # so that a figure typed in degrees comes back as it was


def to_celsius(kelvin: float) -> float:
    return round(kelvin - celsius(0), 9)


def same(value: float) -> float:
    return value


ROW_OF = {  # each row: the figure, and how to say it in the unit of the row
    "C-STD-001": ("energy test, cool room (IEC)", to_celsius),
    "C-STD-002": ("energy test, warm room (IEC)", to_celsius),
    "C-STD-003": ("energy test, fresh food (IEC)", to_celsius),
    "C-STD-004": ("energy test, freezer of three or four stars (IEC)", to_celsius),
    "C-STD-005": ("energy test, room (US)", to_fahrenheit),
    "C-STD-006": ("energy test, fresh food (US)", to_fahrenheit),
    "C-STD-007": (
        "largest charge of flammable refrigerant in one circuit",
        lambda kilograms: kilograms * 1000,
    ),
    "C-STD-008": ("warmest safe fresh food (US)", to_fahrenheit),
    "C-STD-009": ("warmest advised freezer (US)", to_fahrenheit),
    "C-STD-010": ("longest time without cooling, time as the control (US)", lambda seconds: seconds / 3600),
    "C-STD-011": ("longest time out of the refrigerator (US)", lambda seconds: seconds / 3600),
    "C-STD-012": (
        "energy of an average US refrigerator in 1974, a year",
        lambda joule: joule / KILOWATT_HOUR,
    ),
    "C-STD-013": ("energy of a typical new US refrigerator, a year", lambda joule: joule / KILOWATT_HOUR),
    "C-STD-014": ("cooling load of a measured unit", same),
    "C-STD-015": ("freezer air of a measured unit", to_celsius),
}


@pytest.mark.parametrize("row", rows("household refrigerator standards and figures"))
def test_figures_are_the_published_ones(row):
    """Each figure kept in the library is the published one."""
    name, said = ROW_OF[row.id]
    row.check(said(FIGURES[name].value))


def test_targets_of_the_energy_tests_keep_the_safety_limits():
    """Both energy tests hold fresh food below the safety limit, and the freezer at its own: -18 °C."""
    limit = FIGURES["warmest safe fresh food (US)"].value
    assert FIGURES["energy test, fresh food (IEC)"].value < limit
    assert FIGURES["energy test, fresh food (US)"].value < limit
    frozen = FIGURES["energy test, freezer of three or four stars (IEC)"].value
    assert frozen == pytest.approx(fahrenheit(0), abs=0.3)  # 0 °F is -17.8 °C
