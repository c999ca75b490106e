"""Published values of frost: each row of checks.csv names its source and tolerance."""

import pytest
from coldbench.properties import frost, moist_air
from outside.published import PSI, celsius, fahrenheit, rows

ATMOSPHERE = 14.696 * PSI
ENTERING = moist_air.humidity_ratio(fahrenheit(37), 0.65, ATMOSPHERE)
LEAVING = moist_air.humidity_ratio(fahrenheit(22), 1.0, ATMOSPHERE)

FOUND = {  # what this package gives, in the unit of the row
    "C-FRO-001": lambda: frost.frost_density(celsius(-5)),
    "C-FRO-002": lambda: frost.frost_density(celsius(-10)),
    "C-FRO-003": lambda: frost.frost_conductivity(200.0),
    "C-FRO-004": lambda: frost.frost_rate(0.010, ENTERING, LEAVING) * 3.6e6,
    "C-FRO-005": lambda: frost.defrost_energy(0.500, celsius(-20)) / 1e3,
}


@pytest.mark.parametrize("row", rows("frost"))
def test_frost_agrees_with_published_values(row):
    """Each published value of frost holds within its tolerance."""
    row.check(FOUND[row.id]())
