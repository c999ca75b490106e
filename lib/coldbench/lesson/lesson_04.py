"""Lesson 04, Round the circuit: what its cells show, in the order of the lesson.

Guesses: `guess_heat`, `guess_speed`, `guess_pipe`. Live pictures: `walk`, `picture`, `strokes`, `flow`,
`flash`, `exchanger`, `watts`, `faults`, `order_of_coils`. The table of R-134a: `property_table`. Looking
back: `look_back_at_heat`, `look_back_at_speed`, `look_back_at_pipe`. Self-checks: `check_ratio`,
`check_heat`, `check_fault`, from `coldbench.lesson.lesson_04_checks`.
"""

from __future__ import annotations

from coldbench.lesson import lesson_04_pictures as pictures
from coldbench.lesson.ask import LookBack, Question, guess, look_back
from coldbench.lesson.controls import Control, choice, slider
from coldbench.lesson.explore import Explorer, explore
from coldbench.lesson.lesson_04_checks import check_fault, check_heat, check_ratio
from coldbench.lesson.lesson_04_machine import FAULTS, at, property_rows
from coldbench.lesson.said_table import SaidTable
from coldbench.units import to_si

__all__ = [
    "check_fault",
    "check_heat",
    "check_ratio",
    "exchanger",
    "faults",
    "flash",
    "flow",
    "guess_heat",
    "guess_pipe",
    "guess_speed",
    "look_back_at_heat",
    "look_back_at_pipe",
    "look_back_at_speed",
    "order_of_coils",
    "picture",
    "property_table",
    "strokes",
    "walk",
    "watts",
]

PROPERTY_HEADING = ("°F", "psia", "liquid, kJ/kg", "vapour, kJ/kg", "vapour, kg/m³")
HALF_SPEED = to_si(1500.0, "rpm")


def guess_heat() -> Question:
    """Ask how much heat the machine gives to the room.

    Returns: guess 04-a.
    """
    return guess(
        "04-a",
        "The meter at the plug shows 80 W, and nothing in the box changes. How much heat does the machine "
        "give to the room?",
        choices=["Less than 80 W", "Just 80 W", "More than 80 W", "I don't know yet"],
    )


def guess_speed() -> Question:
    """Ask what half the speed does to the cooling for each watt.

    Returns: guess 04-b.
    """
    return guess(
        "04-b",
        "The compressor slows down to half its speed. How much cooling does each watt bring then?",
        choices=["Less than before", "Just as much", "More than before"],
    )


def guess_pipe() -> Question:
    """Ask what the pipe beside the capillary is for.

    Returns: guess 04-c.
    """
    return guess(
        "04-c",
        "The suction pipe is soldered to the capillary over more than a yard. What for?",
        choices=[
            "To keep the thin tube from shaking",
            "To warm the suction pipe, which costs cooling",
            "To cool the liquid and to boil the last drops: nothing is lost",
        ],
    )


def _box() -> Control:
    return slider("box", "Air in the box", -10, 40, 5, 0, "degF")


def _room() -> Control:
    return slider("room", "Room", 60, 105, 1, 77, "degF")


def _speed() -> Control:
    return slider("speed", "Compressor speed", 1500, 4000, 250, 3000, "rpm")


def _exchange() -> Control:
    return slider("exchange", "Suction-line exchanger", 0, 70, 10, 60, "%")


def walk() -> Explorer:
    """Show six clamps round the circuit.

    Returns: sliders over box and room, and the clamps.
    """
    return explore(pictures.walk, _box(), _room(), title="Round the circuit")


def picture() -> Explorer:
    """Show the circuit in the pressure-enthalpy picture.

    Returns: four sliders and the picture.
    """
    return explore(
        pictures.enthalpies, _box(), _room(), _speed(), _exchange(), title="Pressure–enthalpy picture"
    )


def strokes() -> Explorer:
    """Show what the pressure ratio does to a stroke.

    Returns: sliders over coil and condenser, and the share filled.
    """
    return explore(
        pictures.filling,
        slider("evaporating_temperature", "It boils at", -30, 20, 1, -14, "degF"),
        slider("condensing_temperature", "It condenses at", 80, 140, 1, 111, "degF"),
        title="Strokes and ratio",
    )


def flow() -> Explorer:
    """Show what the compressor moves.

    Returns: sliders over speed and coil, and the flow.
    """
    return explore(
        pictures.flow,
        _speed(),
        slider("evaporating_temperature", "It boils at", -30, 20, 1, -14, "degF"),
        title="Strokes per second",
    )


def flash() -> Explorer:
    """Show what leaves the capillary.

    Returns: sliders over coil and liquid, and one kilogram.
    """
    return explore(
        pictures.flash,
        slider("evaporating_temperature", "It boils at", -30, 20, 1, -14, "degF"),
        slider("liquid_temperature", "Liquid before the capillary", 40, 130, 1, 100, "degF"),
        title="What leaves the capillary",
    )


def exchanger() -> Explorer:
    """Show the pipe beside the capillary.

    Returns: a slider, and the circuit with and without it.
    """
    return explore(pictures.exchanger, _exchange(), title="Suction-line exchange")


def watts() -> Explorer:
    """Show where the watts go.

    Returns: sliders over box, room and speed, and two bars.
    """
    return explore(pictures.watts, _box(), _room(), _speed(), title="Where the watts go")


def faults() -> Explorer:
    """Show three faults on one pair of gauges.

    Returns: a choice of faults, and the circuit beside the sound one.
    """
    return explore(
        pictures.faults,
        choice("fault", "What is wrong", list(FAULTS)),
        title="Three faults, one pair of gauges",
    )


def order_of_coils() -> Explorer:
    """Show which of two coils starves.

    Returns: the order, the charge, and the two coils.
    """
    return explore(
        pictures.order_of_coils,
        choice("first", "Refrigerant meets first", ["fresh food", "freezer"]),
        slider("charge_share", "Charge", 50, 100, 10, 100, "%"),
        title="Order of coils",
    )


def look_back_at_heat() -> LookBack:
    """Show guess 04-a beside what came out.

    Returns: the guess and the number.
    """
    cycle = at().cycle
    return look_back(
        "04-a",
        f"It came out at {cycle.heat_rejected + cycle.shell_heat:.0f} W: {cycle.power:.0f} W from the "
        f"socket and {cycle.capacity:.0f} W fetched out of the box.",
    )


def look_back_at_speed() -> LookBack:
    """Show guess 04-b beside what came out.

    Returns: the guess and the numbers.
    """
    full, half = at().cycle, at(speed=HALF_SPEED).cycle
    return look_back(
        "04-b",
        f"It came out higher: {half.coefficient_of_performance:.2f} W of cooling for each watt at 1,500 "
        f"rpm, {full.coefficient_of_performance:.2f} at 3,000.",
    )


def look_back_at_pipe() -> LookBack:
    """Show guess 04-c beside what came out.

    Returns: the guess and the numbers.
    """
    found, bare = at().cycle, at(exchange=0.0).cycle
    return look_back(
        "04-c",
        f"What came out: {found.cooling_effect / 1e3:.0f} kJ/kg with it, {bare.cooling_effect / 1e3:.0f} "
        "without, and a warm suction pipe without a drop in it.",
    )


def property_table() -> SaidTable:
    """Show the printed table of R-134a.

    Returns: the table, in steps of 5 °F.
    """
    return SaidTable(PROPERTY_HEADING, property_rows())
