"""Pictures and self-checks of lesson 05: what the twins say, which idea a reply names, every stop drawn.

The library's thermistors are held against published values in the tests of `parts`.
"""

import math
from itertools import combinations

import pytest
from coldbench.lesson import lesson_05
from coldbench.lesson.lesson_05_board import FAULTS, NEVER, believes, degrees_per_count, side_by_side
from coldbench.lesson.lesson_05_checks import FIXED, METER, SUPPLY
from coldbench.lesson.lesson_05_pictures import (
    between_rows,
    curve,
    in_ice_bath,
    in_kelvin,
    ohms_at,
    on_straight_line,
    percent_to_degrees,
    say_ohms,
    temperature_from,
    with_ln,
    with_log_key,
    without_kelvin,
)
from coldbench.units import from_si, to_si


@pytest.fixture(autouse=True)
def own_folder(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)


def fahrenheit(figure):
    return to_si(figure, "degF")


@pytest.mark.parametrize(
    ("resistance", "said"),
    [(28_704.0, "28.7 kΩ"), (0.1, "0.1 Ω"), (999.0, "999.0 Ω"), (NEVER, "OL (open)"), (1e300, "OL (open)")],
)
def test_ohms_are_said_as_a_meter_shows_them(resistance, said):
    """Kilohms from a thousand on, and the meter's own sign for an open circuit."""
    assert say_ohms(resistance) == said


def test_curve_says_ohms_and_their_fall():
    """By hand: 10 kΩ e^(3435 (1/275.93 − 1/298.15)) = 25.3 kΩ; 3435 / 275.93² / 1.8 = 2.5 %."""
    twin = curve(fahrenheit(37)).twin
    assert "has 25.3 kΩ. 10 °F warmer it has 19.8 kΩ" in twin and "takes off 2.5 %" in twin


def test_formula_is_written_out_as_on_paper():
    """By hand: ln 3.27 = 1.185, 1/298.15 + 1.185/3435 = 1/270.35; with the sign turned beyond 10 kΩ."""
    twin = in_kelvin(32_700).twin
    assert "ln(32.7 ÷ 10) = 1.185. 1 ÷ T = 1 ÷ 298.15 + 1.185 ÷ 3435, so T = 270.35 K" in twin
    assert "27.0 °F (−2.8 °C)" in twin and "76.6 °F" in twin
    assert "298.15 − 0.223 ÷ 3435" in in_kelvin(8_000).twin
    assert "log key gives 0.515" in (twin := with_ln(32_700).twin) and "54.1 °F" in twin


def test_celsius_put_in_gives_about_77_whatever_the_meter_shows():
    """Over the slider's whole range, which the lesson says."""
    assert all(76 < from_si(without_kelvin(kilohm * 1000.0), "degF") < 78 for kilohm in range(8, 61))


@pytest.mark.parametrize(("apart", "largest"), [(9, 0.34), (18, 1.3), (54, 10.9)])
def test_straight_lines_are_off_by_as_much_as_the_lesson_says(apart, largest):
    """Largest error over the table, always to the warm side (the curve is bent upwards)."""
    offs = []
    for tenth in range(-39, 500):
        resistance = ohms_at(fahrenheit(tenth / 10))
        line, cold, warm = on_straight_line(resistance, apart)
        assert cold <= tenth / 10 <= warm
        offs.append(from_si(line - temperature_from(resistance), "delta_degF"))
    assert min(offs) > -1e-6
    assert max(offs) == pytest.approx(largest, abs=0.005 if apart == 9 else 0.05)


def test_table_picture_names_the_two_rows():
    """The readings of the lesson's text."""
    assert "between the rows 23 °F (36.3 kΩ) and 32 °F (28.7 kΩ)" in (twin := between_rows(32_700, 9).twin)
    assert "27.3 °F" in twin and twin.endswith("0.30 °F too warm.")


def test_divider_picture_shares_the_supply():
    """By hand: 5 × 25.29 / 35.29 = 3.58 V, 1023 × 0.7166 = 733; the counts do not mind the supply."""
    shown = lesson_05.divider()
    assert "= 3.58 V. The fixed resistor keeps 1.42 V" in shown.twin and "733 counts of 1,023" in shown.twin
    assert "733 counts" in shown.move(supply_voltage="3.3 V").twin


def test_step_of_a_count_is_what_two_counts_differ_by():
    """Two neighbouring counts of 1,023, turned back into temperatures by hand."""
    temperature, pull_up = fahrenheit(37), 10_000.0
    share = ohms_at(temperature) / (ohms_at(temperature) + pull_up)
    low, high = (pull_up * one / (1 - one) for one in (share - 0.5 / 1023, share + 0.5 / 1023))
    by_hand = from_si(temperature_from(low) - temperature_from(high), "delta_degF")
    assert degrees_per_count(temperature, pull_up) == pytest.approx(by_hand, rel=1e-3)


def test_meter_beside_a_path_shows_less_than_either():
    """32.7 beside 10 is 7.7; with nothing beside it the meter shows the sensor."""
    assert "= 7.7 kΩ on the meter" in (twin := side_by_side(32_700, 10_000).twin) and "89.7 °F" in twin
    assert "Unplugged, the meter shows the sensor alone: 32.7 kΩ" in side_by_side(32_700, NEVER).twin


DIRECTIONS = {"open": -1, "short": 1, "wet": 1, "loose": -1, "corroded": -1, "aged": -1}


@pytest.mark.parametrize("fault", FAULTS[1:], ids=lambda fault: fault.name.split(":")[0].split()[0])
@pytest.mark.parametrize("air", [20, 37, 60])
def test_each_fault_leads_the_board_the_right_way(fault, air):
    """More ohms read colder, fewer hotter; nothing about a fault is told to the board but ohms."""
    at_pins, believed = believes(fahrenheit(air), fault)
    way = DIRECTIONS[fault.name.split(":")[0].split()[0]]
    assert math.copysign(1, believed - fahrenheit(air)) == way
    assert math.copysign(1, ohms_at(fahrenheit(air)) - at_pins) == way


def test_board_rests_runs_or_is_content():
    """Open, short and sound at the wanted temperature; wet at 27 °F is the lesson's riddle."""
    shown = lesson_05.faults()
    assert "it is content" in shown.twin
    assert "compressor rest, and the box gets warmer" in shown.move(fault=FAULTS[1].name).twin
    assert "compressor running, and the box gets colder" in shown.move(fault=FAULTS[2].name).twin
    riddle = shown.move(fault=FAULTS[3].name, air_temperature="27 °F").twin
    assert "see 25.3 kΩ, and it believes 37.0 °F" in riddle and "it is content" in riddle


def test_ice_bath_gives_a_verdict():
    """Good, outside to the warm side, outside to the cold side; ±3 % of 28.7 kΩ is 27.8 to 29.6 kΩ."""
    assert "the sensor is good" in (good := in_ice_bath(28_700).twin) and good.endswith("as it should.")
    assert "outside the label's" in (low := in_ice_bath(27_300).twin) and low.endswith("(1.1 K) too warm.")
    assert in_ice_bath(30_000).twin.endswith("too cold.")
    assert "27.8 kΩ to 29.6 kΩ" in low


def test_tolerance_is_written_out():
    """By hand: 0.03 × 258.15² / 3435 = 0.582 K, times 1.8 is 1.05 °F."""
    twin = percent_to_degrees(fahrenheit(5), 0.03).twin
    assert "= 0.58 K, times 1.8 is ±1.05 °F" in twin and "would be 0.15 °F" in twin


CHECK_OHMS = [
    ("14 °F", "right", "1.533 ÷ 3435, T = 263.15 K"),
    ("-10 °C", "right", "263.15 K"),
    ("76.4 °F", "not yet", "°C in the formula"),
    ("159.4 °F", "not yet", "more ohms mean colder"),
    ("47.2 °F", "not yet", "the log key"),
    ("-18 °F", "not yet", "The 32 is missing"),
    ("33 °F", "not yet", "One over that is kelvin"),
    ("46.3 kohm", "not understood", "resistance"),
]
CHECK_DIVIDER = [
    ("2.45 V", "right", "sensor's share"),
    ("2.45", "right", "sensor's share"),
    ("0.85 V", "not yet", "fixed resistor's share"),
    ("1.15 V", "not yet", "one resistor by the other"),
    ("3.3 V", "not yet", "open"),
    ("1.65 V", "not yet", "equal resistors"),
    ("2 V", "not yet", "both ohms together"),
]


@pytest.mark.parametrize(("typed", "mood", "reason"), CHECK_OHMS)
def test_check_ohms_finds_the_idea(typed, mood, reason):
    """By hand: T = 1/(1/298.15 + 1.533/3435) = 263.15 K = 14.0 °F; mirrored 343.9 K; with log 281.9 K."""
    asked = lesson_05.check_ohms().take(typed)
    assert (asked.mood, reason in asked.reply) == (mood, True), asked.reply


@pytest.mark.parametrize(("typed", "mood", "reason"), CHECK_DIVIDER)
def test_check_divider_finds_the_idea(typed, mood, reason):
    """By hand: 3.3 × 28.7 / 38.7 = 2.447 V; 3.3 − 2.447 = 0.853 V; 3.3 × 10 / 28.7 = 1.150 V."""
    asked = lesson_05.check_divider().take(typed)
    assert (asked.mood, reason in asked.reply) == (mood, True), asked.reply


def test_ideas_of_the_checks_stand_apart():
    """No two numbers of a check lie within twice its tolerance, so a reply never names the wrong idea."""
    right = temperature_from(METER)
    temperatures = [
        right,
        without_kelvin(METER),
        with_log_key(METER),
        temperature_from(1e8 / METER),
        to_si(1.8 * from_si(right, "degC"), "degF"),
    ]
    assert min(abs(one - other) for one, other in combinations(temperatures, 2)) > 2 * to_si(1, "delta_degF")
    sensor = ohms_at(fahrenheit(32))
    pin = SUPPLY * sensor / (sensor + FIXED)
    volts = [pin, SUPPLY - pin, SUPPLY * FIXED / sensor, SUPPLY, SUPPLY / 2]
    assert min(abs(one - other) for one, other in combinations(volts, 2)) > 2 * 0.05


def test_check_open_has_one_right_answer_with_reasons_for_all():
    """Open is endless ohms, and reads as the cold end of the board's table."""
    asked = lesson_05.check_open()
    replies = {text: lesson_05.check_open().take(text) for text in asked.choices}
    assert [text for text, one in replies.items() if one.mood == "right"] == [
        "The board sees very cold, the compressor rests, the box gets warm"
    ]
    assert all(len(one.reply) > 60 for one in replies.values())
    assert from_si(believes(fahrenheit(37), FAULTS[1])[1], "degF") == pytest.approx(-40)


def test_looking_back_shows_the_guess_and_what_came_out():
    """All three guesses."""
    lesson_05.guess_temperature().take("50 °F")
    lesson_05.guess_culprit().take("The sensor")
    lesson_05.guess_direction().take("They rise")
    assert "50 °F" in (seen := lesson_05.look_back_at_temperature().value) and "27.0 °F (−2.8 °C)" in seen
    assert "The sensor" in (seen := lesson_05.look_back_at_culprit().value) and "25.3 kΩ" in seen
    assert "They rise" in (seen := lesson_05.look_back_at_direction().value) and "7.6 kΩ" in seen


@pytest.mark.parametrize(
    "name",
    [
        "ohms_fall", "kelvin", "which_log", "table_and_curve", "divider", "steps", "one_lead_off", "faults",
        "ice_bath", "tolerance",
    ],
)  # fmt: skip
def test_every_stop_of_every_slider_has_a_picture_and_a_sentence(name):
    """Each control alone from end to end, the others at their start."""
    shown = getattr(lesson_05, name)()
    start = list(shown.positions)
    for number, control in enumerate(shown._controls):
        for at in range(len(control.values)):
            shown.positions = [at if row == number else start[row] for row in range(len(start))]
            assert shown.svg.startswith("<svg role=") and "must lie" not in shown.twin
            assert "nan" not in shown.svg and "inf" not in shown.twin
