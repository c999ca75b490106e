"""Homework 05: keys and wrong ideas against numbers from outside, worked answers, headings, ideas."""

import csv
import math
from pathlib import Path

import pytest
from coldbench import units

# Source: definition of the B-parameter, IEC 60539-1; numbers worked out by hand or from the examples of the
# catalogue, which were worked out apart from this library (10 kΩ, B = 3950 K).


def fahrenheit_of(kilohm: float) -> float:
    """Temperature [°F] of a sensor with 10 kΩ at 25 °C and B = 3950 K."""
    return (1 / (1 / 298.15 + math.log(kilohm / 10) / 3950)) * 1.8 - 459.67


def test_from_ohms_as_in_the_catalogue(real):
    """05.1: 28.733 kΩ is 37.4 °F; without kelvin 76.7, mirrored 123.5, by log10 59.1, without the 32: 5.4."""
    key, wrong = real("05").answers("05.1", resistance=28.733)
    assert round(key, 1) == 37.4
    assert {idea: round(value, 1) for idea, value in wrong.items()} == {
        "celsius_for_kelvin": 76.7,
        "ohms_rise_with_temperature": 123.5,
        "log10_for_ln": 59.1,
        "offset_32_forgotten": 5.4,
    }


@pytest.mark.parametrize("box", [34.0, 38.5, 42.0])
def test_to_ohms_by_hand(real, box):
    """05.2: the B-parameter's definition, forwards and wrongly."""
    key, wrong = real("05").answers("05.2", box_air_temperature=box)
    power = 3950 * (1.8 / (box + 459.67) - 1 / 298.15)
    assert key == pytest.approx(10 * math.exp(power))
    assert fahrenheit_of(key) == pytest.approx(box)
    assert wrong["ohms_rise_with_temperature"] == pytest.approx(10 / math.exp(power))
    assert wrong["log10_for_ln"] == pytest.approx(10 * 10**power)
    too_warm = 3950 * (1 / (box / 1.8 + 273.15) - 1 / 298.15)
    assert wrong["offset_32_forgotten"] == pytest.approx(10 * math.exp(too_warm))


def test_table_as_in_the_catalogue(real):
    """05.3: 48.275 kΩ is 20.0 °F; on one line from -4 to 50 °F it would be 32.2 °F."""
    key, wrong = real("05").answers("05.3", table_resistance=48.275)
    assert key == pytest.approx(20.0, abs=0.4)
    assert round(wrong["far_straight_line"], 1) == 32.2
    assert key + wrong["ohms_rise_with_temperature"] == pytest.approx(14 + 23)


def test_neighbouring_rows_stay_near_the_curve(real):
    """05.3: the line is off by at most 0.4 °F, as the tolerance says, so reading the curve is right too."""
    homework = real("05")
    for (kilohm,) in homework.draws["05.3"]:
        key, _ = homework.answers("05.3", table_resistance=kilohm)
        assert key == pytest.approx(fahrenheit_of(kilohm), abs=0.4)


def test_printed_table_holds(real):
    """05.3: every row of the wording is the curve's, rounded."""
    text = real("05").sheet.items["05.3"].wording
    rows = [line.strip().split(" °F: ") for line in text.splitlines() if "°F: " in line]
    assert [int(figure) for figure, _ in rows] == [-4, 5, 14, 23, 32, 41, 50]
    for figure, kilohm in rows:
        assert fahrenheit_of(float(kilohm.removesuffix(" kΩ"))) == pytest.approx(float(figure), abs=0.15)


def test_divider_as_in_the_catalogue(real):
    """05.4: 5 V, 10 kΩ, sensor 28.7 kΩ: 3.71 V; upside down 1.29 V."""
    key, wrong = real("05").answers("05.4", {"05.2": 28_700.0}, supply_voltage=5.0, fixed_resistance=10.0)
    assert (round(key, 2), round(wrong["divider_upside_down"], 2)) == (3.71, 1.29)


def test_tolerance_as_in_the_catalogue(real):
    """05.5: 3 % at 5 °F is 0.91 °F; percent of the figure 0.15 °F; with the 32 too much 32.91 °F."""
    key, wrong = real("05").answers("05.5", ohms_tolerance=3.0, freezer_air_temperature=5.0)
    assert round(key, 2) == 0.91
    assert round(wrong["ohms_percent_is_degree_percent"], 2) == 0.15
    assert round(wrong["difference_with_32"], 2) == 32.91


def test_tolerance_agrees_with_the_curve(real):
    """05.5: the formula is the slope; the curve itself, 3 % of the ohms away, says the same within 5 %."""
    key, _ = real("05").answers("05.5", ohms_tolerance=3.0, freezer_air_temperature=5.0)
    kilohm = 10 * math.exp(3950 * (1.8 / 464.67 - 1 / 298.15))
    assert key == pytest.approx(5.0 - fahrenheit_of(kilohm * 1.03), rel=0.05)


def test_wet_connector_by_hand(real):
    """05.9: 30 kΩ beside 60 kΩ is 20 kΩ, by the rule of two resistors side by side (common practice)."""
    key, wrong = real("05").answers("05.9", {"05.2": 30_000.0}, path_resistance=60.0)
    assert key == pytest.approx(fahrenheit_of(20.0))
    assert wrong["parallel_path_ignored"] == pytest.approx(fahrenheit_of(30.0))
    assert wrong["offset_32_forgotten"] == pytest.approx(fahrenheit_of(20.0) - 32)
    assert wrong["ohms_rise_with_temperature"] == pytest.approx(fahrenheit_of(5.0))
    without_kelvin = 1.8 / (1 / 25 + math.log(2) / 3950) + 32
    assert wrong["celsius_for_kelvin"] == pytest.approx(without_kelvin)
    assert wrong["log10_for_ln"] == pytest.approx(1.8 / (1 / 298.15 + math.log10(2) / 3950) - 459.67)


def test_wet_connector_in_series_is_the_same_idea(real):
    """05.9: whoever adds the two paths ignores that they lie side by side."""
    homework = real("05")
    numbers = homework.numbers("05.9", path_resistance=60.0)
    ways = [mistake for mistake in homework["05.9"].mistakes if mistake.id == "parallel_path_ignored"]
    found = [units.from_si(way.function(numbers, {"05.2": 30_000.0}), "degF") for way in ways]
    assert found == pytest.approx([fahrenheit_of(30.0), fahrenheit_of(90.0)])


def test_bad_sensors_follow_from_the_ohms(real):
    """05.6: fewer ohms read warmer, and each wrong table differs from the key where its idea says."""
    question = real("05")["05.6"]
    key = question.key_function(None, {})
    differs = {
        mistake.id: [row for row in key if mistake.function(None, {})[row] != key[row]]
        for mistake in question.mistakes
    }
    assert fahrenheit_of(15.0) > fahrenheit_of(30.0)
    assert differs == {
        "open_hot_short_cold": ["open", "short"],
        "ohms_rise_with_temperature": ["open", "short", "wet"],
        "parallel_path_ignored": ["wet"],
    }
    assert len(set(key.values())) == len(key)


@pytest.mark.parametrize("ticket", range(101, 131))
def test_sensor_tickets_bear_their_proof(ticket):
    """05.7: ohms in the ice bath and in place, probe and fan tell the five faults apart.

    Source: the sensor's curve as above; that an ice bath is 32 °F: common practice, no source.
    """
    path = Path(__file__).parents[2] / "solutions" / "homework-05" / "sensor_tickets.csv"
    with path.open(encoding="utf-8", newline="") as file:
        row = next(row for row in csv.DictReader(file) if int(row["ticket"]) == ticket)
    numbers = {name: float(figure) for name, figure in row.items() if name != "fault"}
    bath, place = numbers["resistance_in_ice_bath"], numbers["resistance_in_place"]
    ends = bath == place == 999.0
    good = abs(fahrenheit_of(bath) - 32) < 0.7
    off = 0.0 if ends else fahrenheit_of(place) - numbers["probe_temperature"]
    found = {
        "open": ends and numbers["displayed_temperature"] == -40,
        "too warm": not ends and fahrenheit_of(bath) > 35 and off > 2,
        "too cold": not ends and fahrenheit_of(bath) < 29 and off < -2,
        "loose": good and off < -30,
        "fan dead": good and abs(off) < 2 and numbers["fan_voltage"] > 11 and numbers["fan_speed"] == 0,
    }
    assert [fault for fault, proved in found.items() if proved] == [row["fault"]]


def test_a_new_part_alone_is_never_the_repair(real):
    """05.7: the wrong idea finds cause and proof and leaves what did it."""
    homework = real("05")
    question = homework["05.7"]
    (mistake,) = question.mistakes
    row = homework.draws["05.7"][0]
    numbers = homework.numbers(
        "05.7", **{part.name: number for part, number in zip(question.given(), row, strict=True)}
    )
    key, wrong = question.key_function(numbers, {}), mistake.function(numbers, {})
    assert {name for name in key if key[name] != wrong[name]} == {"next"}
