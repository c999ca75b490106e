"""Rules of the trade beside the physics: where they agree, and where they part.

A rule has no source but practice; each row of checks.csv names its tolerance.
"""

import pytest
from coldbench.parts.heater import heater_power
from coldbench.properties import moist_air
from coldbench.properties.food import FOODS
from coldbench.properties.refrigerant import saturation_pressure, saturation_temperature
from coldbench.properties.refrigerant_facts import ATMOSPHERE
from coldbench.properties.standards import FIGURES
from outside.published import INCH_OF_MERCURY, PSI, fahrenheit, rows

ROWS = {parameter.values[0].id: parameter.values[0] for parameter in rows("common practice of the trade")}
CUBIC_FOOT_PER_MINUTE = 0.3048**3 / 60  # [m3/s]


def to_fahrenheit(kelvin: float) -> float:
    return kelvin * 1.8 - 459.67


def gauge(fahrenheit_degrees: float) -> float:
    """R-134a's saturation pressure as a gauge shows it [psig]."""
    return (saturation_pressure("R-134a", fahrenheit(fahrenheit_degrees)) - ATMOSPHERE) / PSI


def span(row) -> tuple[float, float]:
    low, high = row.value.split("-")
    return float(low), float(high)


def holds(row, found: float) -> bool:
    try:
        row.check(found)
    except AssertionError:
        return False
    return True


def air_side_drop(cubic_feet_per_minute: float, heat: float) -> float:
    """How much the heat [W] cools dry air that enters at 70 °F [°F]."""
    entering = fahrenheit(70)
    flow = cubic_feet_per_minute * CUBIC_FOOT_PER_MINUTE / moist_air.specific_volume(entering, 0.0)
    one_kelvin = moist_air.enthalpy(entering, 0.0) - moist_air.enthalpy(entering - 1, 0.0)
    return heat / (flow * one_kelvin) * 1.8


def test_every_rule_is_looked_at():
    """No rule of the file is left out here."""
    assert list(ROWS) == [f"C-TRA-00{number}" for number in range(1, 7)]


def test_freezer_coil_reads_zero_gauge_with_r134a():
    """Agree: R-134a that boils at the pressure of the air is at the rule's -15 °F."""
    ROWS["C-TRA-001"].check(to_fahrenheit(saturation_temperature("R-134a", ATMOSPHERE)))


def test_freezer_coil_is_in_vacuum_with_r600a():
    """Part: with R-600a the same coil is 13.5 inches in vacuum; at zero gauge it boils at +11 °F."""
    vacuum = (ATMOSPHERE - saturation_pressure("R-600a", fahrenheit(-15))) / INCH_OF_MERCURY
    assert vacuum == pytest.approx(13.5, abs=0.05)  # how_obtained of row C-TRA-001: CoolProp 8.0.0
    at_zero_gauge = to_fahrenheit(saturation_temperature("R-600a", ATMOSPHERE))
    assert not holds(ROWS["C-TRA-001"], at_zero_gauge)
    assert at_zero_gauge == pytest.approx(10.8, abs=0.3)  # normal boiling point -11.7 °C, from memory


def test_heaterless_coil_lower_gauge_reading_fits_its_warm_end():
    """Agree: 22 psig belongs to 25 °F, the warm end of the quoted coil of 20 to 25 °F."""
    ROWS["C-TRA-002"].check(gauge(25))


def test_heaterless_coil_upper_gauge_reading_is_of_a_warmer_coil():
    """Part: 25 psig belongs to 28.7 °F; a coil of 20 to 25 °F reads 18.4 to 22.1 psig."""
    row = ROWS["C-TRA-003"]
    assert not holds(row, gauge(25))
    row.check(gauge(28.7))
    assert (gauge(20), gauge(25)) == pytest.approx((18.4, 22.1), abs=0.1)  # row C-TRA-003: CoolProp 8.0.0


def test_air_side_drop_holds_at_one_flow_only():
    """Agree and part: 142 W cool 30 cfm by the rule's 15 °F; the same heat from 20 cfm gives 22 °F."""
    row = ROWS["C-TRA-004"]
    row.check(air_side_drop(30, 142.0))
    assert air_side_drop(30, 142.0) == pytest.approx(15.0, abs=0.2)  # how_obtained of the row
    assert not holds(row, air_side_drop(20, 142.0))


def test_fresh_food_setting_is_safe_and_does_not_freeze_food():
    """Agree: 34 to 36 °F lies below the safety limit and every energy test, and above where food freezes."""
    coldest, warmest = (fahrenheit(degrees) for degrees in span(ROWS["C-TRA-005"]))
    assert warmest < FIGURES["energy test, fresh food (US)"].value
    assert warmest < FIGURES["warmest safe fresh food (US)"].value
    assert coldest > 273.15 > max(food.freezing_temperature for food in FOODS.values())


def test_fresh_food_setting_leaves_little_room_for_a_swing():
    """Part: a swing of 3 °F to either side freezes water at the cold end, and keeps to 40 °F at the warm."""
    coldest, warmest = (fahrenheit(degrees) for degrees in span(ROWS["C-TRA-005"]))
    swing = 3 / 1.8
    assert coldest - swing < 273.15
    assert warmest + swing <= FIGURES["warmest safe fresh food (US)"].value


@pytest.mark.parametrize(("ohms", "watts"), [(30.0, 480.0), (40.0, 360.0)])
def test_defrost_heaters_of_the_rule_are_of_some_hundred_watts(ohms, watts):
    """Agree: 30 to 40 Ω on 120 V are 480 to 360 W."""
    assert ohms in span(ROWS["C-TRA-006"])
    assert heater_power(120.0, ohms) == pytest.approx(watts)  # how_obtained of the row


def test_defrost_heaters_of_the_rule_belong_to_120_volts():
    """Part: on 230 V the same ohms would take four times the power; such a heater has over 100 Ω."""
    assert heater_power(230.0, 40.0) > 3.5 * heater_power(120.0, 40.0)
    assert 230.0**2 / 480.0 > 100.0
