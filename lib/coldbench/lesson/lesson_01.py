"""Lesson 01, Pressure tells temperature: what its cells show, in the order of the lesson.

Guesses: `guess_vacuum`, `guess_other_gauge`, `guess_height`. Live pictures: `where_zero_is`, `height`,
`pressure_follows_temperature`, `read_the_gauge`, `superheat`, `subcooling`. Looking back:
`look_back_at_height`, `look_back_at_vacuum`, `look_back_at_other_gauge`. Self-checks: `check_zero`,
`check_leak`, `check_superheat`, from `coldbench.lesson.lesson_01_checks`.
"""

from __future__ import annotations

from coldbench.lesson.ask import LookBack, Question, guess, look_back
from coldbench.lesson.controls import choice, slider
from coldbench.lesson.explore import Explorer, explore
from coldbench.lesson.lesson_01_checks import check_leak, check_superheat, check_zero
from coldbench.lesson.lesson_01_pictures import (
    air_ladder,
    gauge_slider,
    gauge_to_coil,
    subcooling_scale,
    superheat_scale,
    two_curves,
    zero_ladder,
)
from coldbench.lesson.saying import say_gauge, say_temperature
from coldbench.properties.moist_air import pressure_at_altitude
from coldbench.properties.refrigerant import saturation_pressure, saturation_temperature
from coldbench.units import STANDARD_ATMOSPHERE, to_si

COIL = to_si(-15.0, "degF")

__all__ = [
    "check_leak",
    "check_superheat",
    "check_zero",
    "guess_height",
    "guess_other_gauge",
    "guess_vacuum",
    "height",
    "look_back_at_height",
    "look_back_at_other_gauge",
    "look_back_at_vacuum",
    "pressure_follows_temperature",
    "read_the_gauge",
    "subcooling",
    "superheat",
    "where_zero_is",
]


def guess_vacuum() -> Question:
    """Ask what 13.5 inHg vacuum on a machine that cools well may mean.

    Returns
    -------
    Question
        Guess 01-a

    Source
    ------
    Arrangement of this project.
    """
    return guess(
        "01-a",
        "The R-600a machine cools well, yet the low side shows 13.5 inHg vacuum. What do you expect?",
        choices=[
            "That can be right for this machine",
            "Refrigerant has leaked out",
            "The gauge is broken",
            "I don't know yet",
        ],
    )


def guess_other_gauge() -> Question:
    """Ask what the gauge of an R-134a machine shows at the same coil temperature.

    Returns
    -------
    Question
        Guess 01-b

    Source
    ------
    Arrangement of this project.
    """
    return guess(
        "01-b",
        "Its coil is at −15 °F. Beside it runs an R-134a machine whose coil is at −15 °F too. "
        "What does that gauge show?",
        kind="pressure",
        hint="A number with its unit, for example: 12 psig, or 4 inHg vacuum.",
    )


def where_zero_is() -> Explorer:
    """Show one pressure on two rulers.

    Returns
    -------
    Explorer
        A slider over the needle, and the two rulers

    Source
    ------
    Arrangement of this project.
    """
    return explore(zero_ladder, gauge_slider(29, 30, "13.5 inHg vacuum"), title="Where zero is")


def guess_height() -> Question:
    """Ask what the same needle means in a shop at 5,000 ft.

    Returns
    -------
    Question
        Guess 01-c

    Source
    ------
    Arrangement of this project.
    """
    return guess(
        "01-c",
        "A gauge on an R-134a machine shows 6 psig at the coast. In a shop at 5,000 ft another gauge shows "
        "6 psig, too. How does the coil up there compare?",
        choices=["It is colder", "It is just as cold", "It is warmer"],
    )


def height() -> Explorer:
    """Show how a gauge's zero sinks with height.

    Returns
    -------
    Explorer
        A slider over the height, and the two rulers

    Source
    ------
    Arrangement of this project.
    """
    control = slider("altitude", "Height above the sea", 0, 10000, 250, 0, "ft")
    return explore(air_ladder, control, title="Air has weight")


def look_back_at_height() -> LookBack:
    """Show guess 01-c beside what came out.

    Returns
    -------
    LookBack
        The guess and the numbers

    Source
    ------
    Computed here from the standard atmosphere and saturation.
    """
    low, high = (
        saturation_temperature("R-134a", to_si(6.0, "psig", pressure_at_altitude(to_si(feet, "ft"))))
        for feet in (0.0, 5000.0)
    )
    return look_back(
        "01-c",
        f"It came out colder: {say_temperature(high)} at 5,000 ft, {say_temperature(low)} at the coast.",
    )


def pressure_follows_temperature() -> Explorer:
    """Show the saturation curves of two refrigerants.

    Returns
    -------
    Explorer
        A slider over the coil's temperature, and two gauges' readings

    Source
    ------
    Arrangement of this project.
    """
    control = slider("coil_temperature", "Coil temperature", -40, 40, 1, 20, "degF")
    return explore(two_curves, control, title="Saturation: pressure follows temperature")


def read_the_gauge() -> Explorer:
    """Show what a reading means for the refrigerant on the plate, at any height.

    Returns
    -------
    Explorer
        Needle, plate and height

    Source
    ------
    Arrangement of this project.
    """
    return explore(
        gauge_to_coil,
        gauge_slider(25, 40, "3.0 psig"),
        choice("refrigerant", "On the plate", ["R-134a", "R-600a", "R-290"], start=1),
        slider("altitude", "Height above the sea", 0, 10000, 250, 0, "ft"),
        title="Read the gauge",
    )


def look_back_at_vacuum() -> LookBack:
    """Show guess 01-a beside what came out.

    Returns
    -------
    LookBack
        The guess and the number

    Source
    ------
    Computed here from saturation.
    """
    shown = say_gauge(saturation_pressure("R-600a", COIL))
    return look_back(
        "01-a",
        f"What came out: {shown} is just right for R-600a that boils at {say_temperature(COIL, 0)}.",
    )


def look_back_at_other_gauge() -> LookBack:
    """Show guess 01-b beside what came out.

    Returns
    -------
    LookBack
        The guess and the number

    Source
    ------
    Computed here from saturation.
    """
    shown = say_gauge(saturation_pressure("R-134a", COIL))
    return look_back("01-b", f"It came out at {shown}, so near zero that the needle seems not to have moved.")


def superheat() -> Explorer:
    """Show superheat on a scale of temperatures.

    Returns
    -------
    Explorer
        Needle and pipe

    Source
    ------
    Arrangement of this project.
    """
    return explore(
        superheat_scale,
        gauge_slider(5, 20, "5.0 psig"),
        slider("line_temperature", "Pipe after the coil", -20, 50, 1, 4, "degF"),
        title="Superheat belongs to the pipe",
    )


def subcooling() -> Explorer:
    """Show subcooling on a scale of temperatures.

    Returns
    -------
    Explorer
        Needle and pipe

    Source
    ------
    Arrangement of this project.
    """
    return explore(
        subcooling_scale,
        slider("reading", "The needle shows", 90, 170, 1, 120, "psi", show=_high_side),
        slider("line_temperature", "Liquid pipe", 65, 125, 1, 90, "degF"),
        title="Subcooling to the liquid",
    )


def _high_side(reading: float) -> str:
    return say_gauge(STANDARD_ATMOSPHERE + reading)
