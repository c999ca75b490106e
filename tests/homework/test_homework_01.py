"""Homework 01: keys and wrong ideas against numbers from outside, worked answers, headings, ideas."""

import csv
from pathlib import Path

import pytest
from coldbench import units

# Source: reference equations of state of R-134a (Tillner-Roth and Baehr 1994) and R-600a (Buecker and
# Wagner 2006) through CoolProp; atmosphere, psi and inch of mercury [Pa] by NIST SP 811.
PSI, INCH, ATMOSPHERE = 6894.757, 3386.389, 101_325.0


def boiling_point(refrigerant: str, pressure: float) -> float:
    """Saturation temperature [°F] by the reference equation of state."""
    coolprop = pytest.importorskip("CoolProp.CoolProp")
    return coolprop.PropsSI("T", "P", pressure, "Q", 1, refrigerant) * 1.8 - 459.67


@pytest.mark.parametrize("gauge", [5.0, 8.0, 14.9])
def test_low_side_by_the_reference_equation(real, gauge):
    """01.1: key and both ideas within 0.1 °F of the reference equation of state."""
    key, wrong = real("01").answers("01.1", gauge_pressure=gauge)
    absolute = ATMOSPHERE + gauge * PSI
    assert key == pytest.approx(boiling_point("R134a", absolute), abs=0.1)
    assert wrong["gauge_as_absolute"] == pytest.approx(boiling_point("R134a", gauge * PSI), abs=0.1)
    assert wrong["wrong_refrigerant_curve"] == pytest.approx(boiling_point("IsoButane", absolute), abs=0.1)


def test_low_side_as_in_the_catalogue(real):
    """01.1. Source: catalogue, gauge_as_absolute, worked out apart: 8 psig is 3.0, wrongly -37.4 °F."""
    key, wrong = real("01").answers("01.1", gauge_pressure=8.0)
    assert (round(key, 1), round(wrong["gauge_as_absolute"], 1)) == (3.0, -37.4)


@pytest.mark.parametrize("vacuum", [4.0, 10.4, 12.0])
def test_vacuum_by_the_reference_equation(real, vacuum):
    """01.2: a vacuum counts down from the air; the three ideas go elsewhere."""
    key, wrong = real("01").answers("01.2", vacuum=vacuum)
    absolute = ATMOSPHERE - vacuum * INCH
    assert key == pytest.approx(boiling_point("IsoButane", absolute), abs=0.1)
    above = boiling_point("IsoButane", ATMOSPHERE + vacuum * INCH)
    assert wrong["vacuum_as_pressure_above"] == pytest.approx(above, abs=0.1)
    assert wrong["gauge_as_absolute"] == pytest.approx(boiling_point("IsoButane", vacuum * INCH), abs=0.1)
    assert wrong["offset_32_forgotten"] == pytest.approx(key - 32)
    assert wrong["wrong_refrigerant_curve"] == pytest.approx(boiling_point("R134a", absolute), abs=0.1)


def test_altitude_by_the_reference_equation(real):
    """01.3. Source: catalogue, altitude_ignored: R-134a, 6 psig at 5,000 ft, right -6.3 and wrong -1.0 °F.

    The height formula is that of ASHRAE Fundamentals (2017), chapter 1, equation 3, in feet.
    """
    key, wrong = real("01").answers("01.3", altitude=5000, mountain_gauge_pressure=6.0)
    air = ATMOSPHERE * (1 - 6.8754e-6 * 5000) ** 5.2559
    assert key == pytest.approx(boiling_point("R134a", air + 6 * PSI), abs=0.1)
    assert (round(key, 1), round(wrong["altitude_ignored"], 1)) == (-6.3, -1.0)
    assert wrong["wrong_refrigerant_curve"] == pytest.approx(
        boiling_point("IsoButane", air + 6 * PSI), abs=0.1
    )


def test_superheat_and_subcooling_by_the_reference_equation(real):
    """01.4 and 01.5: pipe against chart, each on its own side; exchanged they change places."""
    homework = real("01")
    readings = {
        "gauge_pressure": 8.0,
        "suction_line_temperature": 13.0,
        "box_air_temperature": 38.0,
        "high_gauge_pressure": 120,
        "liquid_line_temperature": 90.0,
    }
    low, _ = homework.answers("01.1", **readings)
    earlier = {"01.1": units.to_si(low, "degF")}
    superheat, swapped = homework.answers("01.4", earlier, **readings)
    subcooling, other = homework.answers("01.5", earlier, **readings)
    boils = boiling_point("R134a", ATMOSPHERE + 8 * PSI)
    condenses = boiling_point("R134a", ATMOSPHERE + 120 * PSI)
    assert superheat == pytest.approx((13.0 - boils) / 1.8, abs=0.05)
    assert subcooling == pytest.approx(condenses - 90.0, abs=0.1)
    assert swapped["superheat_from_box"] == pytest.approx((38.0 - boils) / 1.8, abs=0.05)
    assert swapped["superheat_subcooling_exchanged"] == pytest.approx(subcooling / 1.8)
    assert swapped["difference_with_32"] == pytest.approx((13.0 - boils - 32) / 1.8, abs=0.05)
    assert other["superheat_subcooling_exchanged"] == pytest.approx(superheat * 1.8)
    assert other["gauge_as_absolute"] == pytest.approx(boiling_point("R134a", 120 * PSI) - 90.0, abs=0.1)
    assert other["sign"] == -subcooling


def test_order_of_four_readings(real):
    """01.6, by hand: 10 inHg vacuum 9.78, 2 psig 16.70, 12 psia, 125 kPa 18.13 psia."""
    homework = real("01")
    question = homework["01.6"]
    numbers = homework.numbers(
        "01.6", first_vacuum=10.0, second_gauge_pressure=2.0, third_pressure=12.0, fourth_pressure=125
    )
    assert question.key_function(numbers, {}) == tuple("ACBD")
    wrong = {mistake.id: mistake.function(numbers, {}) for mistake in question.mistakes}
    # Above the air: 14.70 + 4.91 = 19.61 psia; gauge as absolute: 4.91 and 2 psia.
    assert wrong == {"vacuum_as_pressure_above": tuple("CBDA"), "gauge_as_absolute": tuple("BACD")}


def test_expected_vacuum_by_the_reference_equation(real):
    """01.9. Source: catalogue, vacuum_is_a_leak: an R-600a coil at -15 °F means 13.5 inHg vacuum."""
    key, _ = real("01").answers("01.9", coil_temperature=-15.0)
    assert key == pytest.approx(13.5, abs=0.1)
    coolprop = pytest.importorskip("CoolProp.CoolProp")
    absolute = coolprop.PropsSI("P", "T", (459.67 - 15.0) / 1.8, "Q", 1, "IsoButane")
    assert key == pytest.approx((ATMOSPHERE - absolute) / INCH, abs=0.05)
    homework = real("01")
    numbers = homework.numbers("01.9", coil_temperature=-15.0)
    wrong: dict[str, list[float]] = {}
    for mistake in homework["01.9"].mistakes:
        wrong.setdefault(mistake.id, []).append(mistake.function(numbers, {}))
    below = ATMOSPHERE - absolute
    r134a = coolprop.PropsSI("P", "T", (459.67 - 15.0) / 1.8, "Q", 1, "R134a")
    warm = coolprop.PropsSI("P", "T", 273.15 - 15.0 / 1.8, "Q", 1, "IsoButane")
    expected = {
        "gauge_as_absolute": [absolute + ATMOSPHERE],
        "vacuum_as_pressure_above": [ATMOSPHERE + below, ATMOSPHERE + below / INCH * PSI],
        "wrong_refrigerant_curve": [r134a],
        "offset_32_forgotten": [warm],
    }
    assert wrong == {idea: pytest.approx(pressures, rel=1e-3) for idea, pressures in expected.items()}


def test_altitude_always_shows(real):
    """01.3: in every accepted draw the height shifts the answer by over 2.5 °F, as its tolerance says."""
    homework = real("01")
    for altitude, gauge in homework.draws["01.3"]:
        key, wrong = homework.answers("01.3", altitude=altitude, mountain_gauge_pressure=gauge)
        assert wrong["altitude_ignored"] - key > 2.5


@pytest.mark.parametrize("ticket", range(101, 131))
def test_leak_shows_in_superheat_and_not_in_the_vacuum(ticket):
    """01.7: every ticket's readings bear the proof of its fault; the low side is in vacuum in all of them.

    Source of the saturation states: as above. That a starved coil shows much superheat, and a weak
    compressor a low side that is high beside a high side that is low: common practice, no source.
    """
    path = Path(__file__).parents[2] / "solutions" / "homework-01" / "leak_tickets.csv"
    with path.open(encoding="utf-8", newline="") as file:
        row = next(row for row in csv.DictReader(file) if int(row["ticket"]) == ticket)
    vacuum, high = float(row["suction_vacuum"]), float(row["discharge_pressure"])
    coil = boiling_point("IsoButane", ATMOSPHERE - INCH * vacuum)
    condensing = boiling_point("IsoButane", ATMOSPHERE + PSI * high)
    superheat = float(row["suction_line_temperature"]) - coil
    subcooling = condensing - float(row["liquid_line_temperature"])
    risen, fallen = float(row["new_suction_vacuum"]) - vacuum, float(row["new_discharge_pressure"]) - high
    found = {
        "none": superheat < 2 and abs(risen) < 0.5 and abs(fallen) <= 1,
        "low charge": superheat > 20 and subcooling < 2 and risen < -2,
        "weak compressor": superheat < 2 and risen > 1 and fallen > 3,
    }
    assert [fault for fault, proved in found.items() if proved] == [row["fault"]]
    assert vacuum > 5


def test_a_vacuum_alone_is_never_the_key(real):
    """01.7: the wrong idea calls every vacuum a leak; it is never right, not even where it is a leak."""
    homework = real("01")
    question = homework["01.7"]
    ideas = {mistake.id: mistake.function for mistake in question.mistakes}
    for row in homework.draws["01.7"][:40]:
        numbers = homework.numbers(
            "01.7", **{part.name: number for part, number in zip(question.given(), row, strict=True)}
        )
        key = question.key_function(numbers, {})
        assert ideas["vacuum_is_a_leak"](numbers, {}) == {"cause": "B", "proof": "D"} != key
        assert ideas["low_charge_raises_suction"](numbers, {}) != key
