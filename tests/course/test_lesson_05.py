"""Lesson 05 says nothing that the library doesn't confirm.

The library's thermistors are held against published values in the tests of `parts`; pictures and self-checks
of this lesson in the tests of `lesson`.
"""

import json
import math
import re
from pathlib import Path

import pytest
from coldbench.lesson.lesson_05_board import FAULTS, WANTED, believes, degrees_per_count
from coldbench.lesson.lesson_05_pictures import (
    SENSOR,
    ohms_at,
    on_straight_line,
    say_ohms,
    temperature_from,
    without_kelvin,
)
from coldbench.lesson.saying import signed
from coldbench.parts.sensor_board import self_heating, sensor_power, temperature_tolerance
from coldbench.parts.sensor_circuit import converter_counts, divider_voltage, wired_resistance
from coldbench.units import from_si, to_si

LESSON = Path(__file__).parents[2] / "course" / "05-resistance-tells-temperature"
CELLS = json.loads((LESSON / "05-resistance-tells-temperature.ipynb").read_text(encoding="utf-8"))["cells"]
TEXT = " ".join(" ".join("".join(cell["source"]).replace("> ", "").split()) for cell in CELLS)


def at(fahrenheit):
    return to_si(fahrenheit, "degF")


def ohms(fahrenheit):
    return say_ohms(ohms_at(at(fahrenheit)))


def says(temperature):
    return f"{signed(from_si(temperature, 'degF'))} °F"


def difference(kelvin, decimals=2):
    return f"{from_si(kelvin, 'delta_degF'):.{decimals}f}"


def percent_a_degree(fahrenheit):
    share = 1 - ohms_at(at(fahrenheit + 0.5)) / ohms_at(at(fahrenheit - 0.5))
    return f"{100 * share:.1f} %"


def step(fahrenheit, pull_up):
    return f"{degrees_per_count(at(fahrenheit), pull_up):.2f} °F"


def row(name, at_pins, fault, ends):
    resistance, believed = believes(WANTED, fault)
    shown = "endless" if math.isinf(resistance) or resistance > 1e8 else say_ohms(resistance)
    assert shown in at_pins
    figure = f"{signed(from_si(believed, 'degF'), 0)} °F" if ends else says(believed)
    return f"| {name} | {at_pins} | {figure}{ends} |"


METER = 32_700.0
WET = FAULTS[3]
COLD_ROW, WARM_ROW = ohms_at(at(23)) / 1000, ohms_at(at(32)) / 1000
PIN = divider_voltage(ohms_at(at(37)), 10_000.0, 5.0)
CHAIN = temperature_tolerance(at(0), *SENSOR, 10_000.0, 0.01, 0.01, 0.01)
MEETS_BOARD = wired_resistance(METER, leak_resistance=10_000.0)

# Each phrase is built from the library; the lesson must hold it word for word.
CLAIMS = {
    "the sensor's sheet": f"10 kΩ at 77 °F (25 °C), B = {SENSOR.beta:.0f} K",
    "kilohms are ohms": f"{ohms(68)} is 12,200 Ω",
    "ohms along the curve": f"at 0 °F this sensor has {ohms(0)}, in an ice bath (32 °F) {ohms(32)}, at 37 °F "
    f"{ohms(37)}, at 77 °F {ohms(77)}",
    "percent a degree": f"is {percent_a_degree(0)} of the ohms in the freezer, and {percent_a_degree(77)} in",
    "true zero": f"at −273.15 °C ({signed(from_si(0.0, 'degF'), 2)} °F)",
    "25 °C in kelvin": f"So 25 °C is {to_si(25, 'degC'):.2f} K",
    "always 77": f"gets about {from_si(without_kelvin(METER), 'degF'):.0f} °F, whatever",
    "ln of 2.718": f"Try 2.718. The key that gives {math.log(2.718):.0f} is",
    "two logs of 10": f"For 10, ln gives {math.log(10):.3f} and log gives {math.log10(10):.0f}",
    "the riddle's sensor": f"32.7 kΩ is {says(temperature_from(METER))}: exactly",
    "between the rows": f"23 °F ({ohms(23)}) and 32 °F ({ohms(32)}). The share is {COLD_ROW - 32.7:.1f} ÷ "
    f"{COLD_ROW - WARM_ROW:.1f} = {(COLD_ROW - 32.7) / (COLD_ROW - WARM_ROW):.2f}",
    "of 9 °F": f"that is {9 * (COLD_ROW - 32.7) / (COLD_ROW - WARM_ROW):.1f} °F, so "
    f"{says(on_straight_line(METER, 9)[0])}. The curve says {says(temperature_from(METER))}",
    "at the pin": f"has {ohms(37)}. With 10 kΩ and 5 V the pin sees {PIN:.2f} V, and the board counts "
    f"{converter_counts(PIN, 5.0):.0f}",
    "steps with 10 kΩ": f"one count is {step(37, 1e4)} at 37 °F and {step(0, 1e4)} at 0 °F, but "
    f"{step(200, 1e4)} at 200 °F",
    "steps with others": f"With 47 kΩ it is {step(0, 4.7e4)} at 0 °F. With 2.2 kΩ it is {step(0, 2200.0)}",
    "heat in the bead": f"on both sides that is {1000 * sensor_power(1e4, 1e4, 5.0):.3f} mW",
    "too warm by": f"reads {self_heating(1e4, 1e4, 5.0, 0.002):.1f} K "
    f"({difference(self_heating(1e4, 1e4, 5.0, 0.002), 1)} °F) too warm",
    "two paths": f"beside 10 kΩ of the board: {say_ohms(MEETS_BOARD)}. Taken for the sensor that would be "
    f"{says(temperature_from(MEETS_BOARD))}",
    "open": row("open", "endless", FAULTS[1], ", end of its table"),
    "short": row("short", "0.1 Ω", FAULTS[2], ", end of its table"),
    "wet": row("wet, 112 kΩ beside", "fewer: 20.6 kΩ", WET, ""),
    "loose": row("loose, on the coil", "the coil's: 68.9 kΩ", FAULTS[4], ""),
    "corroded": row("corroded, 6 kΩ in the wire", "more: 31.3 kΩ", FAULTS[5], ""),
    "aged": row("aged, 10 % more ohms", "more: 27.8 kΩ", FAULTS[6], ""),
    "the riddle's board": f"the board's pins see {say_ohms(believes(at(27), WET)[0])}. The board believes "
    f"{from_si(believes(at(27), WET)[1], 'degF'):.0f} °F and",
    "a cube": f"at 0 °F this sensor has {ohms(0)}. - **Not stirred**",
    "not stirred": f"There the sensor has {ohms(39)}, and a good one looks "
    f"{from_si(temperature_from(ohms_at(at(39))), 'degF') - 32:.0f} °F wrong",
    "reading and error": f"a reading of 2 °C is {from_si(to_si(2, 'degC'), 'degF'):.1f} °F, but an error of "
    f"2 °C is an error of {from_si(2.0, 'delta_degF'):.1f} °F",
    "three percent": f"±3 % at 5 °F is ±{difference(0.03 * at(5) ** 2 / SENSOR.beta)} °F",
    "one percent": f"One percent of the ohms is {difference(0.01 * at(37) ** 2 / SENSOR.beta)} °F at 37 °F, "
    f"and {difference(0.01 * at(0) ** 2 / SENSOR.beta)} °F at 0 °F",
    "the chain": f"{difference(CHAIN.resistance_25)} + {difference(CHAIN.beta)} + "
    f"{difference(CHAIN.pull_up_resistance)} + {difference(CHAIN.converter)} = "
    f"{difference(CHAIN.worst_case)} °F",
    "as a rule": f"about {difference(CHAIN.root_sum_square)} °F as a rule",
}


@pytest.mark.parametrize("claim", CLAIMS)
def test_lesson_says_what_the_library_computes(claim):
    """The phrase with its numbers stands in the lesson as the library gives it."""
    assert CLAIMS[claim] in TEXT


def test_every_number_with_a_unit_is_covered():
    """No figure in the lesson's text stands outside a claim above or the list of given ones.

    The errors of the table's straight lines (0.34, 1.3 and 10.9 °F) are held in the tests of `lesson`.
    """
    given = (
        "37 °F; 27 °F; 32.7 kΩ; 77 °F; 0 °F; 32 °F; 9 °F; 18 °F; 50 °F; −4 °F; 0.34 °F; 1.3 °F; 10.9 °F; "
        "10 kΩ; 5 V; 3.3 V; 47 kΩ; 2.2 kΩ; 2 mW; 112 kΩ; 6 kΩ; 39 °F; 2 K; 5 °F; 0 °C; 298.15 K; 3435 K; "
        "200 °F; 2 °C"
    )
    figure = re.compile(r"−?[\d.,]*\d (?:°F|°C|K|kΩ|Ω|V|mW)(?!\w)")
    numbers = set(figure.findall(TEXT))
    assert numbers - set(figure.findall(" ".join([*CLAIMS.values(), given]))) == set()
    assert len(numbers) > 40


def test_ten_percent_is_where_the_slope_ends():
    """At 10 % of the ohms the formula with the slope is off by a twentieth from the curve itself."""
    slope = 0.1 * at(0) ** 2 / SENSOR.beta
    curve = temperature_from(ohms_at(at(0)) / 1.1) - at(0)
    assert abs(curve / slope - 1) > 0.03
    assert abs((temperature_from(ohms_at(at(0)) / 1.01) - at(0)) / (slope / 10) - 1) < 0.01


def test_half_a_percent_of_supply_changes_no_count():
    """The lesson says that the supply cancels out."""
    assert {converter_counts(divider_voltage(25_300.0, 1e4, volts), volts) for volts in (3.3, 4.9, 5.0)} == {
        converter_counts(PIN, 5.0)
    }


HEADINGS = [
    "Negative temperature coefficient",
    "Kelvin counts from true zero",
    "Which log?",
    "Interpolation and its error",
    "Two resistors share the volts",
    "One lead off",
    "Open, short, wet, loose",
    "Root cause before parts",
    "Ice-bath check",
    "Temperatures and differences",
    "Tolerance, from ohms to degrees",
    "Where people are hurt",
]


@pytest.mark.parametrize("heading", HEADINGS)
def test_feedback_finds_its_section(heading):
    """Where feedback says "read again", the lesson has a section with exactly this heading."""
    lines = [line for cell in CELLS for line in "".join(cell["source"]).splitlines()]
    assert re.search(rf"^##+ {re.escape(heading)}$", "\n".join(lines), re.M)
