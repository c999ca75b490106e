"""Lesson 01 says nothing that the library doesn't confirm, and shows what wrong ideas lead to.

The library's own numbers are held against published values in the tests of `properties` and `units`.
"""

import json
import re
from itertools import combinations
from pathlib import Path

import pytest
from coldbench.lesson import lesson_01
from coldbench.lesson.lesson_01_checks import LOW_SIDE, PIPE
from coldbench.lesson.lesson_01_pictures import (
    BOX_AIR,
    air_ladder,
    gauge_to_coil,
    subcooling_scale,
    superheat_scale,
    two_curves,
    zero_ladder,
)
from coldbench.lesson.saying import say_gauge, signed
from coldbench.properties.moist_air import pressure_at_altitude
from coldbench.properties.refrigerant import saturation_pressure, saturation_temperature
from coldbench.units import STANDARD_ATMOSPHERE, from_si, to_si

LESSON = Path(__file__).parents[2] / "course" / "01-pressure-tells-temperature"
CELLS = json.loads((LESSON / "01-pressure-tells-temperature.ipynb").read_text(encoding="utf-8"))["cells"]
TEXT = " ".join(" ".join("".join(cell["source"]).replace("> ", "").split()) for cell in CELLS)


def pressure(refrigerant, fahrenheit):
    return saturation_pressure(refrigerant, to_si(fahrenheit, "degF"))


def gauge(refrigerant, fahrenheit):
    return say_gauge(pressure(refrigerant, fahrenheit))


def boils(refrigerant, psig, feet=0.0):
    absolute = to_si(psig, "psig", pressure_at_altitude(to_si(feet, "ft")))
    return signed(from_si(saturation_temperature(refrigerant, absolute), "degF"))


def psia(value, unit, feet=0.0, decimals=1):
    absolute = to_si(value, unit, pressure_at_altitude(to_si(feet, "ft")))
    return f"{from_si(absolute, 'psia'):.{decimals}f}"


def kilopascal(pascal):
    return f"{pascal / 1000:.1f} kPa"


MINUS_15_600A = pressure("R-600a", -15)

# Each phrase is built from the library; the lesson must hold it word for word.
CLAIMS = {
    "the air at the sea": f"about {psia(0, 'psig')} psi ({kilopascal(STANDARD_ATMOSPHERE)}) at the sea",
    "adding the air": f"12 psig + {psia(0, 'psig')} psi = {psia(12, 'psig')} psia",
    "psi and inches": f"1 psi is {from_si(to_si(1, 'psi'), 'delta_inHg'):.3f} inHg",
    "taking the vacuum off": f"= 14.7 − {from_si(to_si(13.5, 'delta_inHg'), 'psi'):.1f} = "
    f"{psia(13.5, 'inHg vacuum')} psia",
    "deepest vacuum": f"can't pass {from_si(STANDARD_ATMOSPHERE, 'inHg abs'):.1f} inHg",
    "the air at 5,000 ft": f"At 5,000 ft: {psia(0, 'psig', 5000)} psi "
    f"({kilopascal(pressure_at_altitude(to_si(5000, 'ft')))})",
    "the air at 1,000 ft": f"At 1,000 ft it is {psia(0, 'psig', 1000)} psi",
    "6 psig at two heights": f"So 6 psig at 5,000 ft is {psia(6, 'psig', 5000)} psia, not {psia(6, 'psig')} "
    f"psia, and R-134a boils at {boils('R-134a', 6, 5000)} °F, not at {boils('R-134a', 6)} °F",
    "colder, lower": f"falls from {gauge('R-134a', 20)} to {gauge('R-134a', 10)}",
    "R-600a below zero": f"At 10 °F, R-600a is already below the gauge's zero: {gauge('R-600a', 10)}",
    "R-134a at zero": f"only below {boils('R-134a', 0)} °F",
    "the wrong chart": f"3 psig on R-600a means a coil at {boils('R-600a', 3)} °F. Read on the R-134a "
    f"chart it would be {boils('R-134a', 3)} °F",
    "13.5 inches": f"that is {from_si(MINUS_15_600A, 'psia'):.2f} psia ({kilopascal(MINUS_15_600A)})",
    "R-134a beside it": f"shows nearly nothing: {gauge('R-134a', -15)}",
    "readings and 32": f"so 3 °C is {from_si(to_si(3, 'degC'), 'degF'):.1f} °F",
    "differences without 32": f"a drop of 14 °F is {to_si(14, 'delta_degF'):.1f} K",
    "condensing": f"120 psig on R-134a means it condenses at {boils('R-134a', 120)} °F. A liquid pipe "
    f"at 90 °F has {float(boils('R-134a', 120)) - 90:.1f} °F of subcooling",
    "three places": f"low side at {gauge('R-134a', 0)}",
    "mid-coil in both units": f"mid-coil | 0 °F ({signed(from_si(to_si(0, 'degF'), 'degC'))} °C)",
    "line taken as saturated": f"finds {gauge('R-134a', 22)}, and the gauge shows {gauge('R-134a', 0)}",
    "at rest": f"At 75 °F that is {gauge('R-134a', 75)} with R-134a and {gauge('R-600a', 75)} with R-600a",
    "the range": "from −76 °F to 194 °F (−60 °C to 90 °C)",
}


@pytest.mark.parametrize("claim", CLAIMS)
def test_lesson_says_what_the_library_computes(claim):
    """The phrase with its numbers stands in the lesson as the library gives it."""
    assert CLAIMS[claim] in TEXT


def test_every_number_with_a_unit_is_covered():
    """No figure in the lesson's text stands outside a claim above or the list of given readings."""
    given = (
        "30 psig; 13.5 inHg; 10 psig; 12 psig; 3 psig; 6 psig; 120 psig; 14.7 psi; −15 °F; 20 °F; 10 °F; "
        "9 °F; 14 °F; 90 °F; 6 °F; 22 °F; 0 °F; 75 °F; 5,000 ft; 1,000 ft; 14.696 psi; 27.1 °F; 3 °C; 10 psi"
    )
    covered = " ".join([*CLAIMS.values(), given])
    numbers = set(re.findall(r"−?[\d.,]*\d (?:°F|°C|K|psig|psia|psi|inHg|kPa|ft)\b", TEXT))
    assert {number for number in numbers if number not in covered} == set()
    assert len(numbers) > 40


def test_wrong_chart_is_27_degrees_off():
    """The difference stated beside the wrong chart."""
    off = float(boils("R-600a", 3)) - float(boils("R-134a", 3).replace("−", "-"))
    assert f"{off:.1f} °F too cold" in TEXT


def test_height_formula_in_feet_is_the_library_s_in_metres():
    """14.696 psi × (1 − 0.0000068754 h)^5.2559 over the slider's range."""
    assert "air = 14.696 psi × (1 − 0.0000068754 × height in feet) ^ 5.2559" in TEXT
    for feet in range(0, 10001, 500):
        by_hand = 14.696 * (1 - 0.0000068754 * feet) ** 5.2559
        assert by_hand == pytest.approx(from_si(pressure_at_altitude(to_si(feet, "ft")), "psia"), rel=5e-5)


def test_weather_is_a_degree_or_two():
    """Half a psi at the needle of an R-134a low side, 0 to 15 psig."""
    for psig in (0, 5, 10, 15):
        low, high = (saturation_temperature("R-134a", to_si(psig + off, "psig")) for off in (0, 0.5))
        assert 0.7 <= from_si(high - low, "delta_degF") <= 1.5


def test_published_readings_of_the_question_at_the_machine():
    """Source: equations of state, R-600a Buecker and Wagner 2006, R-134a Tillner-Roth and Baehr 1994.

    R-600a at −15 °F: 13.5 inHg vacuum; R-134a at −15 °F: 0.051 inHg vacuum; both within 0.1.
    """
    assert from_si(MINUS_15_600A, "inHg vacuum") == pytest.approx(13.5, abs=0.1)
    assert from_si(pressure("R-134a", -15), "inHg vacuum") == pytest.approx(0.051, abs=0.1)


HEADINGS = [
    "Where zero is: gauge, absolute, vacuum",
    "Air has weight: what height does to a gauge",
    "Read the plate first",
    "Saturation: pressure follows temperature",
    "Two refrigerants, one coil temperature, two gauge readings",
    "Superheat belongs to the pipe",
    "Superheat belongs to the pipe; subcooling to the liquid",
    "Subcooling to the liquid",
    "Where the chart holds: liquid and vapour together",
    "Temperatures and differences",
    "Three faults, one pair of gauges",
    "Where people are hurt",
]


@pytest.mark.parametrize("heading", HEADINGS)
def test_feedback_finds_its_section(heading):
    """Where feedback says "read again", the lesson has a section with exactly this heading."""
    lines = [line for cell in CELLS for line in "".join(cell["source"]).splitlines()]
    assert re.search(rf"^##+ {re.escape(heading)}$", "\n".join(lines), re.M)


# The twins say the numbers.


def test_zero_ladder_counts_down_for_vacuum_and_up_for_pressure():
    """Both sums, written out as a student would."""
    assert "14.7 − 13.5 ÷ 2.036 = 8.1 psia (55.6 kPa)" in zero_ladder(-to_si(13.5, "delta_inHg")).twin
    assert "14.7 + 12.0 = 26.7 psia" in zero_ladder(to_si(12.0, "psi")).twin


def test_air_ladder_shows_the_shift_of_the_wall_chart():
    """At the sea it fits; at 5,000 ft it is 5.3 °F too warm."""
    assert air_ladder(0.0).twin.endswith("that fits.")
    assert "12.23 psia" in (twin := air_ladder(to_si(5000, "ft")).twin)
    assert "−6.3 °F (−21.3 °C)" in twin and twin.endswith("5.3 °F too warm.")


def test_two_curves_say_both_readings():
    """At −15 °F, the question at the machine."""
    twin = two_curves(to_si(-15, "degF")).twin
    assert "R-134a reads 0.1 inHg vacuum" in twin and "R-600a reads 13.5 inHg vacuum" in twin


def test_gauge_to_coil_names_the_plate_and_the_wrong_chart():
    """3 psig on R-600a."""
    twin = gauge_to_coil(to_si(3, "psi"), "R-600a", 0.0).twin
    assert "boils at 19.6 °F (−6.9 °C)" in twin and "R-134a chart would say −7.5 °F" in twin
    assert "R-600a chart would say 19.6 °F" in gauge_to_coil(to_si(3, "psi"), "R-134a", 0.0).twin


def test_gauge_to_coil_says_why_a_reading_is_impossible():
    """Deeper than the air at that height; colder than the table."""
    deep = gauge_to_coil(-to_si(25, "delta_inHg"), "R-600a", to_si(10000, "ft"))
    assert "no vacuum can be deeper than 20.6 inHg" in deep.twin
    cold = gauge_to_coil(-to_si(25, "delta_inHg"), "R-290", 0.0)
    assert "the table of R-290 begins at −76 °F" in cold.twin
    alone = gauge_to_coil(-to_si(20, "delta_inHg"), "R-600a", 0.0).twin
    assert "R-134a chart" in alone


@pytest.mark.parametrize("altitude", [0, 3000, 10000])
@pytest.mark.parametrize("refrigerant", ["R-134a", "R-600a", "R-290"])
def test_every_stop_of_the_gauge_has_a_picture_and_a_sentence(refrigerant, altitude):
    """No stop of the sliders ends in an error."""
    stops = lesson_01.read_the_gauge()._controls[0].values
    for reading in stops:
        shown = gauge_to_coil(reading, refrigerant, to_si(altitude, "ft"))
        assert shown.svg and shown.twin.endswith(".")


def test_superheat_and_subcooling_are_said_and_impossible_ones_questioned():
    """Definition, and the doubt where a pipe can't be as it reads."""
    low = superheat_scale(to_si(5, "psi"), to_si(6, "degF")).twin
    assert "Superheat, pipe minus evaporating: 9.0 °F (5.0 K)" in low
    assert "can't be colder" in superheat_scale(to_si(5, "psi"), to_si(-10, "degF")).twin
    high = subcooling_scale(to_si(120, "psi"), to_si(90, "degF")).twin
    assert "Subcooling, condensing minus pipe: 8.0 °F (4.4 K)" in high
    assert "can't be warmer" in subcooling_scale(to_si(120, "psi"), to_si(110, "degF")).twin


# Guesses, checks, looking back.


@pytest.fixture
def own_folder(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)


CHECK_ZERO = [
    ("9.8 psia", "right", "counted down"),
    ("67.5 kPa abs", "right", "counted down"),
    ("19.6 psia", "not yet", "adds the vacuum"),
    ("10 psia", "not yet", "inches of mercury for pounds"),
    ("4.9 psia", "not yet", "up from perfect vacuum"),
    ("4.7 psia", "not yet", "only 10 ÷ 2.036"),
    ("30 psia", "not yet", "divide by 2.036"),
    ("10 inHg vacuum", "not understood", "says the question again"),
]
CHECK_SUPERHEAT = [
    ("11 °F", "right", "evaporates at −3.0 °F"),
    ("6.1 K", "right", "evaporates at −3.0 °F"),
    ("41 °F", "not yet", "air in the box"),
    ("-17.2 °F", "not yet", "Read the plate first"),
    ("61 °F", "not yet", "gauge for the whole pressure"),
    ("-21 °F", "not yet", "takes 32 off"),
    ("-11 °F", "not yet", "wrong sign"),
    ("30 °F", "not yet", "box air minus pipe"),
    ("20 °F", "not yet", "First gauge"),
]


@pytest.mark.parametrize(("typed", "mood", "reason"), CHECK_ZERO)
def test_check_zero_finds_the_idea(own_folder, typed, mood, reason):
    """By hand: 14.696 − 10/2.036 = 9.784; + 4.912 = 19.608; 10 inHg = 4.912; 14.696 − 10 = 4.696."""
    asked = lesson_01.check_zero().take(typed)
    assert (asked.mood, reason in asked.reply) == (mood, True)


@pytest.mark.parametrize(("typed", "mood", "reason"), CHECK_SUPERHEAT)
def test_check_superheat_finds_the_idea(own_folder, typed, mood, reason):
    """By hand with −3.0 °F from the R-134a chart, 25.2 °F from that of R-600a, −53.1 °F at 5 psia."""
    asked = lesson_01.check_superheat().take(typed)
    assert (asked.mood, reason in asked.reply) == (mood, True)


def test_ideas_of_the_checks_stand_apart():
    """No two numbers of a check lie within twice its tolerance, so a reply never names the wrong idea."""
    coil = saturation_temperature("R-134a", LOW_SIDE)
    differences = [
        PIPE - coil,
        BOX_AIR - coil,
        BOX_AIR - PIPE,
        coil - PIPE,
        PIPE - coil - to_si(32, "delta_degF"),
    ]
    differences += [
        PIPE - saturation_temperature("R-600a", LOW_SIDE),
        PIPE - saturation_temperature("R-134a", to_si(5, "psia")),
    ]
    assert min(abs(one - other) for one, other in combinations(differences, 2)) > 2 * to_si(1, "delta_degF")


def test_check_leak_has_one_right_answer_with_reasons_for_all(own_folder):
    """Healthy: reading and coil meet on the curve."""
    asked = lesson_01.check_leak()
    moods = {text: lesson_01.check_leak().take(text).mood for text in asked.choices}
    assert [text for text, mood in moods.items() if mood == "right"] == [
        "It is healthy: that is the pressure of R-600a at −15 °F"
    ]
    assert gauge("R-600a", -15) == "13.5 inHg vacuum"


def test_looking_back_shows_the_guess_and_what_came_out(own_folder):
    """All three guesses."""
    lesson_01.guess_vacuum().take("Refrigerant has leaked out")
    lesson_01.guess_other_gauge().take("12 psig")
    lesson_01.guess_height().take("It is just as cold")
    assert "leaked out" in (seen := lesson_01.look_back_at_vacuum().value) and "13.5 inHg vacuum" in seen
    assert "12 psig" in (seen := lesson_01.look_back_at_other_gauge().value) and "0.1 inHg vacuum" in seen
    assert "just as cold" in (seen := lesson_01.look_back_at_height().value)
    assert "−6.3 °F" in seen and "−1.0 °F" in seen


@pytest.mark.parametrize(
    "name", ["where_zero_is", "height", "pressure_follows_temperature", "superheat", "subcooling"]
)
def test_every_stop_of_every_slider_has_a_picture_and_a_sentence(name):
    """Each slider alone from end to end, the others at their start."""
    shown = getattr(lesson_01, name)()
    start = list(shown.positions)
    for number, control in enumerate(shown._controls):
        for at in range(len(control.values)):
            shown.positions = [at if row == number else start[row] for row in range(len(start))]
            assert shown.svg.startswith("<svg role=") and "must lie" not in shown.twin
