"""Lesson 05, Resistance tells temperature: what its cells show, in the order of the lesson.

Guesses: `guess_temperature`, `guess_culprit`, `guess_direction`. Live pictures: `ohms_fall`, `kelvin`,
`which_log`, `table_and_curve`, `divider`, `steps`, `one_lead_off`, `faults`, `ice_bath`, `tolerance`. Looking
back: `look_back_at_direction`, `look_back_at_temperature`, `look_back_at_culprit`. Self-checks: `check_ohms`,
`check_divider`, `check_open`, from `coldbench.lesson.lesson_05_checks`.
"""

from __future__ import annotations

from coldbench.lesson.ask import LookBack, Question, guess, look_back
from coldbench.lesson.controls import Control, choice, slider
from coldbench.lesson.explore import Explorer, explore
from coldbench.lesson.lesson_05_board import (
    FAULTS,
    NEVER,
    believes,
    shared_volts,
    side_by_side,
    step_of_a_count,
    what_board_believes,
)
from coldbench.lesson.lesson_05_checks import check_divider, check_ohms, check_open
from coldbench.lesson.lesson_05_pictures import (
    between_rows,
    curve,
    in_ice_bath,
    in_kelvin,
    ohms_at,
    percent_to_degrees,
    say_ohms,
    temperature_from,
    with_ln,
)
from coldbench.lesson.saying import say_temperature
from coldbench.units import to_si

__all__ = [
    "check_divider",
    "check_ohms",
    "check_open",
    "divider",
    "faults",
    "guess_culprit",
    "guess_direction",
    "guess_temperature",
    "ice_bath",
    "kelvin",
    "look_back_at_culprit",
    "look_back_at_direction",
    "look_back_at_temperature",
    "ohms_fall",
    "one_lead_off",
    "steps",
    "table_and_curve",
    "tolerance",
    "which_log",
]

METER = 32_700.0  # [Ohm], what the meter shows at the machine of this lesson; invented
BOX_AIR = to_si(27.0, "degF")
WET = FAULTS[3]


def guess_temperature() -> Question:
    """Ask how cold a sensor of 32.7 kΩ is.

    Returns: guess 05-a.
    """
    return guess(
        "05-a",
        f"The meter shows {say_ohms(METER)}. How cold is the sensor?",
        kind="temperature",
        hint="A temperature with its unit, for example: 50 °F.",
    )


def guess_culprit() -> Question:
    """Ask which part is at fault.

    Returns: guess 05-b.
    """
    return guess(
        "05-b",
        "Which part is at fault?",
        choices=["The sensor", "The board", "Something between the two", "I don't know yet"],
    )


def guess_direction() -> Question:
    """Ask what a sensor's ohms do when it is warmed.

    Returns: guess 05-c.
    """
    return guess(
        "05-c",
        "You warm the sensor's bead between two fingers. What do the ohms do?",
        choices=["They rise", "They fall", "They stay"],
    )


def ohms_fall() -> Explorer:
    """Show the sensor's curve.

    Returns: a slider over the temperature, and the ohms.
    """
    control = slider("temperature", "Sensor", -10, 90, 1, 37, "degF")
    return explore(curve, control, title="Negative temperature coefficient")


def look_back_at_direction() -> LookBack:
    """Show guess 05-c beside what came out.

    Returns: the guess and two numbers.
    """
    room, fingers = to_si(68.0, "degF"), to_si(90.0, "degF")
    return look_back(
        "05-c",
        f"It came out that they fall: {say_ohms(ohms_at(room))} in a room of {say_temperature(room, 0)}, "
        f"{say_ohms(ohms_at(fingers))} between fingers of {say_temperature(fingers, 0)}.",
    )


def kelvin() -> Explorer:
    """Show the formula in kelvin beside the one with °C put in.

    Returns: a slider over the ohms, and both results.
    """
    return explore(in_kelvin, _meter(8, 60, 32.7), title="Kelvin counts from true zero")


def which_log() -> Explorer:
    """Show the formula with ln beside the one with log.

    Returns: a slider over the ohms, and both results.
    """
    return explore(with_ln, _meter(8, 60, 32.7), title="Which log?")


def look_back_at_temperature() -> LookBack:
    """Show guess 05-a beside what came out.

    Returns: the guess and the number.
    """
    return look_back("05-a", f"It came out at {say_temperature(temperature_from(METER))}.")


def table_and_curve() -> Explorer:
    """Show a table's straight lines beside the curve.

    Returns: ohms and distance of the rows, and both results.
    """
    texts = ["every 9 °F", "every 18 °F", "only −4 and 50 °F"]
    rows = choice("apart", "Rows of the table", [9, 18, 54], texts)
    return explore(between_rows, _meter(19, 77, 32.7), rows, title="Interpolation and its error")


def divider() -> Explorer:
    """Show how two resistors share the volts.

    Returns: sensor, fixed resistor and supply, and the volts at the pin.
    """
    return explore(
        shared_volts,
        slider("temperature", "Sensor", -10, 90, 1, 37, "degF"),
        _pull_up(),
        choice("supply_voltage", "Supply", [3.3, 5.0], ["3.3 V", "5 V"], start=1),
        title="Two resistors share the volts",
    )


def steps() -> Explorer:
    """Show how many degrees one count of the converter is.

    Returns: sensor and fixed resistor, and the step.
    """
    control = slider("temperature", "Sensor", -40, 200, 1, 37, "degF")
    return explore(step_of_a_count, control, _pull_up(), title="Where the steps are coarse")


def one_lead_off() -> Explorer:
    """Show what a second path does to the meter's reading.

    Returns: sensor and path, and the meter.
    """
    paths = [NEVER, 10_000.0, 47_000.0, 112_000.0]
    texts = ["none: the sensor is unplugged", "10 kΩ of the board", "47 kΩ of the board", "112 kΩ of water"]
    path = choice("path", "Beside the sensor", paths, texts, start=1)
    return explore(side_by_side, _meter(8, 60, 32.7, "The sensor has"), path, title="One lead off")


def faults() -> Explorer:
    """Show what the board believes of a sensor with a fault.

    Returns: the box's air and the fault, and what the board does.
    """
    return explore(
        what_board_believes,
        slider("air_temperature", "Air in the box", 20, 60, 1, 37, "degF"),
        choice("fault", "Fault", FAULTS, [fault.name for fault in FAULTS]),
        title="Open, short, wet, loose",
    )


def look_back_at_culprit() -> LookBack:
    """Show guess 05-b beside what came out.

    Returns: the guess and the numbers.
    """
    at_pins, believed = believes(BOX_AIR, WET)
    return look_back(
        "05-b",
        f"It came out between the two: with water in the connector the pins see {say_ohms(at_pins)}, and the "
        f"board believes {say_temperature(believed)} while the air is at {say_temperature(BOX_AIR, 0)}.",
    )


def ice_bath() -> Explorer:
    """Show what ohms in an ice bath tell.

    Returns: a slider over the ohms, and the verdict.
    """
    return explore(in_ice_bath, _meter(22, 36, 28.7), title="Ice-bath check")


def tolerance() -> Explorer:
    """Show what a tolerance on ohms means in degrees.

    Returns: sensor and tolerance, and the degrees.
    """
    return explore(
        percent_to_degrees,
        slider("temperature", "Sensor", -10, 90, 1, 5, "degF"),
        slider("tolerance", "Ohms within ±", 1, 5, 1, 3, "%"),
        title="Tolerance, from ohms to degrees",
    )


def _meter(low: float, high: float, start: float, label: str = "The meter shows") -> Control:
    return slider("resistance", label, low, high, 0.1, start, "kohm", show=say_ohms)


def _pull_up() -> Control:
    texts = ["2.2 kΩ", "10 kΩ", "47 kΩ"]
    return choice("pull_up_resistance", "Fixed resistor", [2_200.0, 10_000.0, 47_000.0], texts, start=1)
