"""The self-checks of lesson 08: `check_series`, `check_returns`, `check_valve`.

Expected numbers, and the numbers that wrong ideas lead to, are computed, never typed.
"""

from __future__ import annotations

from coldbench.lesson.ask import Choice, Number, Question, check, check_number
from coldbench.units import to_si

SHARE, FRESH_FOOD, FREEZER = 0.2, 40.0, 5.0  # part of the air; [°F]; invented


def check_series() -> Question:
    """Ask what Series does when only the fresh food calls.

    Returns: self-check 08-1. Wrong ideas: experience of teachers, no source.
    """
    return check(
        "08-1",
        "Question 1. Series: the fresh food is too warm, the freezer is cold enough. What happens?",
        [
            Choice(
                "The compressor starts for the fresh food",
                "So it is in Valve and in Damper. In Series only the freezer calls the compressor.",
            ),
            Choice(
                "The fresh-food fan runs and takes the cold that its coil holds; the compressor waits for "
                "the freezer",
                "The fan answers the fresh food, the compressor answers the freezer.",
                right=True,
            ),
            Choice(
                "Nothing, until the freezer calls",
                "So it is in Thermostat, where nobody asks the fresh food. Series has a sensor and a fan for "
                "it.",
            ),
            Choice(
                "The freezer's fan blows cold air up",
                "So it is in Damper. In Series each coil has its own fan.",
            ),
        ],
    )


def check_returns() -> Question:
    """Ask for the mixed air of one coil.

    Returns: self-check 08-2. Wrong ideas: experience of teachers, no source; the numbers are computed.
    """
    right = SHARE * FRESH_FOOD + (1 - SHARE) * FREEZER
    return check_number(
        "08-2",
        "Question 2. Damper: a fifth of the air comes back from the fresh food at 40 °F, the rest from the "
        "freezer at 5 °F. How warm is the air that enters the coil?",
        "temperature",
        right=Number(
            to_si(right, "degF"), f"0.2 × 40 + 0.8 × 5 = {right:.0f} °F: each air counts by its share."
        ),
        within=to_si(0.5, "delta_degF"),
        wrong=[
            Number(
                to_si((FRESH_FOOD + FREEZER) / 2, "degF"),
                "That is half of each. Only a fifth comes from the fresh food.",
            ),
            Number(
                to_si((1 - SHARE) * FRESH_FOOD + SHARE * FREEZER, "degF"),
                "The shares are swapped: four fifths come from the freezer.",
            ),
        ],
        otherwise="Each temperature times its share, then the sum. The shares add up to one.",
        hint="A temperature with its unit, for example: 21.5 °F.",
    )


def check_valve() -> Question:
    """Ask for the fault behind a command that is not obeyed.

    Returns: self-check 08-3. Wrong ideas: experience of teachers, no source.
    """
    return check(
        "08-3",
        "Question 3. Valve: fresh food 50 °F, freezer 0 °F. The board calls for both coils, the fresh-food "
        "fan has 12 V and turns. The fresh-food coil is at 50 °F. What is wrong?",
        [
            Choice("The fan", "It has its volts and it turns: commanded and seen agree."),
            Choice(
                "The sensor: it must be open",
                "An open sensor looks very cold, and then the board would not call. Here it calls.",
            ),
            Choice(
                "No refrigerant reaches that coil: the valve is stuck on the freezer's side",
                "The board calls, the fan blows, the coil is as warm as the box: commanded and seen part at "
                "the valve.",
                right=True,
            ),
            Choice(
                "The machine has lost refrigerant",
                "Then the freezer would suffer, too: it comes last in the row of coils. It is at 0 °F.",
            ),
        ],
    )
