"""Published values of moist air: each row of checks.csv names its source and tolerance."""

import pytest
from coldbench.properties import moist_air as air
from outside.published import PSI, celsius, fahrenheit, rows

# Humidity of the examples, from their wet bulb or dew point.
DRY = air.humidity_ratio_from_wet_bulb(celsius(40), celsius(20))  # ASHRAE example 1
ROOM = air.humidity_ratio(celsius(25), 0.75, 100e3)  # room of 5 m × 5 m × 3 m
FRESH_FOOD = air.humidity_ratio(fahrenheit(37), 0.50, 14.696 * PSI)
FREEZER = air.humidity_ratio(fahrenheit(0), 0.80, 14.696 * PSI)


def saturated(kelvin: float) -> float:
    return air.humidity_ratio(kelvin, 1.0)


FOUND = {  # what this package gives, in the unit of the row
    "C-AIR-001": lambda: air.saturation_pressure(celsius(-20)),
    "C-AIR-002": lambda: air.saturation_pressure(celsius(-5)),
    "C-AIR-003": lambda: air.saturation_pressure(celsius(5)),
    "C-AIR-004": lambda: air.saturation_pressure(celsius(25)),
    "C-AIR-005": lambda: air.saturation_pressure(fahrenheit(41)) / PSI,
    "C-AIR-006": lambda: saturated(celsius(-20)),
    "C-AIR-007": lambda: saturated(celsius(5)),
    "C-AIR-008": lambda: saturated(celsius(25)),
    "C-AIR-009": lambda: air.enthalpy(celsius(-20), saturated(celsius(-20))) / 1e3,
    "C-AIR-010": lambda: air.enthalpy(celsius(25), saturated(celsius(25))) / 1e3,
    "C-AIR-011": lambda: DRY,
    "C-AIR-012": lambda: air.dew_point(DRY) - celsius(0),
    "C-AIR-013": lambda: air.relative_humidity(celsius(40), DRY) * 100,
    "C-AIR-014": lambda: air.enthalpy(celsius(40), DRY) / 1e3,
    "C-AIR-015": lambda: air.specific_volume(celsius(40), DRY),
    "C-AIR-016": lambda: air.pressure_at_altitude(500.0),
    "C-AIR-017": lambda: air.pressure_at_altitude(1000.0),
    "C-AIR-018": lambda: air.pressure_at_altitude(304.8) / PSI,
    "C-AIR-019": lambda: air.pressure_at_altitude(2000.0),
    "C-AIR-020": lambda: air.humidity_ratio_from_wet_bulb(celsius(-1), celsius(-5), 95461.0),
    "C-AIR-021": lambda: ROOM,
    "C-AIR-022": lambda: 75.0 / air.specific_volume(celsius(25), ROOM, 100e3),
    "C-AIR-023": lambda: air.enthalpy(celsius(25), ROOM) / 1e3,
    "C-AIR-024": lambda: air.relative_humidity(celsius(25), saturated(celsius(15))) * 100,
    "C-AIR-025": lambda: FRESH_FOOD,
    "C-AIR-026": lambda: air.dew_point(FRESH_FOOD, 14.696 * PSI) * 1.8 - 459.67,
    "C-AIR-027": lambda: FREEZER,
    "C-AIR-028": lambda: air.dew_point(FREEZER, 14.696 * PSI) * 1.8 - 459.67,
    "C-AIR-029": lambda: air.ice_saturation_pressure(celsius(-18)),
}


@pytest.mark.parametrize("row", rows("moist air"))
def test_moist_air_agrees_with_published_values(row):
    """Each published value of moist air holds within its tolerance."""
    row.check(FOUND[row.id]())
