"""The self-checks of lesson 05: `check_ohms`, `check_divider`, `check_open`.

Expected numbers, and the numbers that wrong ideas lead to, are computed from the library, never typed.
"""

from __future__ import annotations

import math

from coldbench.lesson.ask import Choice, Number, Question, check, check_number
from coldbench.lesson.lesson_05_pictures import (
    ICE_BATH,
    SENSOR,
    ohms_at,
    say_ohms,
    temperature_from,
    with_log_key,
    without_kelvin,
)
from coldbench.lesson.saying import say_temperature
from coldbench.parts.sensor_circuit import divider_voltage
from coldbench.units import from_si, to_si

METER = 46_300.0  # [Ohm], invented
SUPPLY, FIXED = 3.3, 10_000.0  # [V], [Ohm], invented


def check_ohms() -> Question:
    """Ask for the temperature of 46.3 kΩ.

    Returns: self-check 05-1. Wrong ideas: experience of teachers, no source; the numbers are computed.
    """
    right = temperature_from(METER)
    logarithm = f"{math.log(METER / SENSOR.resistance_25):.3f}"
    return check_number(
        "05-1",
        f"Question 1. The meter shows {say_ohms(METER)} at the sensor of this lesson (10 kΩ at 77 °F, "
        "B = 3435 K), unplugged. How cold is it?",
        "temperature",
        right=Number(
            right,
            f"ln(46.3 ÷ 10) = {logarithm}, so 1 ÷ T = 1 ÷ 298.15 + {logarithm} ÷ 3435, T = {right:.2f} K.",
        ),
        within=to_si(1.0, "delta_degF"),
        wrong=[
            Number(
                without_kelvin(METER),
                "That has °C in the formula. Both temperatures in it are kelvin: 25 °C is 298.15 K.",
            ),
            Number(
                temperature_from(SENSOR.resistance_25**2 / METER),
                "That takes more ohms for warmer. With this sensor more ohms mean colder.",
            ),
            Number(
                with_log_key(METER),
                "That is the log key. The formula wants ln, the key that gives 1 for 2.718.",
            ),
            Number(
                to_si(1.8 * from_si(right, "degC"), "degF"),
                "The °C are right. From °C to °F: times 1.8, then plus 32. The 32 is missing.",
            ),
        ],
        otherwise="First ln(46.3 ÷ 10), then divide by 3435, then add 1 ÷ 298.15. One over that is kelvin.",
        hint="A temperature with its unit, for example: 61.5 °F, or −8 °C.",
    )


def check_divider() -> Question:
    """Ask for the volts at the pin with a sensor in the ice bath.

    Returns: self-check 05-2. Wrong ideas: experience of teachers, no source; the numbers are computed.
    """
    sensor = ohms_at(ICE_BATH)
    right = divider_voltage(sensor, FIXED, SUPPLY)
    return check_number(
        "05-2",
        f"Question 2. On the training board {SUPPLY} V feed a fixed {say_ohms(FIXED)}; from there the "
        f"sensor, {say_ohms(sensor)} in the ice bath, goes to ground. What does the pin between them see?",
        "voltage",
        right=Number(
            right,
            f"The pin sees the sensor's share: {SUPPLY} × 28.7 ÷ (28.7 + 10) = {right:.2f} V.",
        ),
        within=0.05,
        wrong=[
            Number(
                SUPPLY - right,
                "That is the fixed resistor's share. The pin measures from ground, so across the sensor.",
            ),
            Number(
                SUPPLY * FIXED / sensor,
                "That divides one resistor by the other. A share is one resistor by both together.",
            ),
            Number(
                SUPPLY,
                "The whole supply stands at the pin only when the sensor is open. Here both share it.",
            ),
            Number(
                SUPPLY / 2,
                "Half each is right only for equal resistors. The bigger one takes the bigger share.",
            ),
        ],
        otherwise="Supply, times the sensor's ohms, divided by both ohms together.",
        bare_unit="V",
        hint="Volts, for example: 1.85 V.",
    )


def check_open() -> Question:
    """Ask what an open sensor does to a fresh-food box.

    Returns: self-check 05-3. Wrong ideas: experience of teachers, no source.
    """
    cold, hot = say_temperature(to_si(-40.0, "degF"), 0), say_temperature(to_si(100.0, "degC"), 0)
    return check(
        "05-3",
        "Question 3. The wire of the fresh-food sensor breaks. The board is an old one and believes whatever "
        "comes. What happens to the box?",
        [
            Choice(
                "The board sees very hot, the compressor never stops, the box freezes",
                f"That is a short: no ohms, so {hot}. A broken wire has endless ohms, and more ohms mean "
                "colder.",
            ),
            Choice(
                "The board sees very cold, the compressor rests, the box gets warm",
                f"Endless ohms look like {cold}, the cold end of the board's table. Why cool something so "
                "cold? A newer board would notice and show a fault.",
                right=True,
            ),
            Choice(
                "The board sees zero degrees and the box stays as it is",
                "No reading is no zero. The pin is pulled up to the whole supply, and the board takes that "
                f"for {cold}.",
            ),
            Choice(
                "Nothing: the last good reading is kept",
                "Some newer boards do that for a while. An old one has only the volts at the pin, and these "
                "jump to the supply.",
            ),
        ],
    )
