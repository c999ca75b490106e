"""Published values to check against: reading ``checks.csv``, and the unit conversions the checks need.

The conversions are plain constants, apart from the library's own, so that a slip there shows here.
"""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path
from typing import NamedTuple

import pytest

FILE = Path(__file__).with_name("checks.csv")

# Exact by definition (international pound and inch, standard gravity, international table Btu), except
# the inch of mercury, which is conventional mercury at 0 degC: 13 595.1 kg/m3.
PSI = 6894.757293168361  # [Pa]
INCH_OF_MERCURY = 0.0254 * 13595.1 * 9.80665  # [Pa]
BTU_PER_POUND = 2326.0  # [J/kg]
BTU_PER_HOUR = 0.29307107  # [W]
POUND_PER_CUBIC_FOOT = 0.45359237 / 0.3048**3  # [kg/m3]
GRAIN_PER_POUND = 1 / 7000  # [kg/kg]


def fahrenheit(value: float) -> float:
    """Give kelvin for degrees Fahrenheit."""
    return (value + 459.67) / 1.8


def celsius(value: float) -> float:
    """Give kelvin for degrees Celsius."""
    return value + 273.15


class Row(NamedTuple):
    """One published value: what, under which conditions, how near, who says so."""

    id: str
    topic: str
    quantity: str
    input: str
    value: str
    unit: str
    tolerance: str
    source: str
    how_obtained: str

    @property
    def number(self) -> float:
        """The published value as a number."""
        return float(self.value)

    def check(self, found: float | str) -> None:
        """Fail, naming the row, its source and its tolerance, unless what was found holds."""
        kind, _, width = self.tolerance.partition(":")
        if kind == "exact":
            holds = found == (self.value if isinstance(found, str) else self.number)
        else:
            scale = abs(self.number) if kind == "rel" else 1.0
            holds = abs(found - self.number) <= float(width) * scale
        assert holds, (
            f"{self.id}: {self.quantity} ({self.input}): found {found} {self.unit}, published {self.value}, "
            f"tolerance {self.tolerance}; source: {self.source} ({self.how_obtained})"
        )


@cache
def everything() -> tuple[Row, ...]:
    """Read every row of the file."""
    with FILE.open(encoding="utf-8", newline="") as file:
        return tuple(Row(**line) for line in csv.DictReader(file))


def rows(topic: str) -> list:
    """Give the rows of a topic as parameters of a test; the test's name shows id, tolerance, source."""
    found = [row for row in everything() if row.topic == topic]
    assert found, f"No row has the topic {topic!r}"
    return [pytest.param(row, id=f"{row.id} {row.tolerance} {row.source}") for row in found]
