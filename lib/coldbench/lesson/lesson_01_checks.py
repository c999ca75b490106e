"""The self-checks of lesson 01: `check_zero`, `check_leak`, `check_superheat`.

Expected numbers, and the numbers that wrong ideas lead to, are computed from the library, never typed.
"""

from __future__ import annotations

from coldbench.lesson.ask import Choice, Number, Question, check, check_number
from coldbench.lesson.lesson_01_pictures import BOX_AIR
from coldbench.lesson.saying import say_difference, say_temperature
from coldbench.properties.refrigerant import saturation_temperature
from coldbench.units import STANDARD_ATMOSPHERE, to_si

PIPE = to_si(8.0, "degF")
LOW_SIDE = to_si(5.0, "psig")


def check_zero() -> Question:
    """Ask for the absolute pressure at 10 inHg vacuum.

    Returns
    -------
    Question
        Self-check 01-1

    Source
    ------
    Wrong ideas: experience of teachers, no source. The numbers: computed here.
    """
    return check_number(
        "01-1",
        "Question 1. At sea level the needle shows 10 inHg vacuum. How much is that, counted from perfect "
        "vacuum?",
        "pressure",
        right=Number(
            to_si(10.0, "inHg vacuum"),
            "Vacuum is counted down from the air's pressure: 14.7 − 10 ÷ 2.036 = 9.8 psia.",
        ),
        within=to_si(0.15, "psi"),
        wrong=[
            Number(
                STANDARD_ATMOSPHERE + to_si(10.0, "delta_inHg"),
                "That adds the vacuum to the air's pressure. Inches of vacuum count down: take them off.",
            ),
            Number(
                to_si(10.0, "psia"),
                "That takes inches of mercury for pounds. First 10 ÷ 2.036 = 4.9 psi, then take it off 14.7.",
            ),
            Number(
                to_si(10.0, "inHg abs"),
                "That counts the 10 inches up from perfect vacuum. A gauge counts vacuum down from the air.",
            ),
            Number(
                STANDARD_ATMOSPHERE - to_si(10.0, "psi"),
                "That takes inches of mercury for pounds: 10 inches are only 10 ÷ 2.036 = 4.9 psi.",
            ),
        ],
        otherwise="Turn the inches into psi (divide by 2.036) and take them off 14.7 psia.",
        hint="A number with its unit, for example: 12.3 psia.",
        not_in=("inHg vacuum", "psig"),
    )


def check_leak() -> Question:
    """Ask whether vacuum alone proves a leak.

    Returns
    -------
    Question
        Self-check 01-2

    Source
    ------
    Wrong ideas: experience of teachers, no source.
    """
    return check(
        "01-2",
        "Question 2. R-600a machine at sea level: 13.5 inHg vacuum, mid-coil −15 °F, both boxes cold, "
        "superheat 2 °F, subcooling 11 °F. What do you tell the customer?",
        [
            Choice(
                "It has leaked: a gauge in vacuum means the gas is gone",
                "Vacuum alone proves nothing. R-600a at −15 °F belongs at 13.5 inHg vacuum. A machine short "
                "of refrigerant shows high superheat and no subcooling; this one shows neither.",
            ),
            Choice(
                "It is healthy: that is the pressure of R-600a at −15 °F",
                "Reading and coil temperature meet on the R-600a curve, superheat is small and liquid stands "
                "in the condenser (subcooling 11 °F).",
                right=True,
            ),
            Choice(
                "It is overcharged: the pressure is too high",
                "The bigger the figure before 'vacuum', the lower the pressure. And 8.07 psia is just what "
                "R-600a has at −15 °F.",
            ),
            Choice(
                "It holds R-134a instead: vacuum is wrong for a refrigerator",
                "R-134a at −15 °F would show about zero. Vacuum is usual on the low side of an R-600a "
                "machine; the plate says which one it is.",
            ),
        ],
    )


def check_superheat() -> Question:
    """Ask for the superheat of an R-134a coil.

    Returns
    -------
    Question
        Self-check 01-3

    Source
    ------
    Wrong ideas: experience of teachers, no source. The numbers: computed here.
    """
    coil = saturation_temperature("R-134a", LOW_SIDE)
    right = PIPE - coil
    return check_number(
        "01-3",
        "Question 3. R-134a at sea level: 5 psig, pipe after the coil 8 °F, box air 38 °F. "
        "How much is the superheat?",
        "temperature difference",
        right=Number(
            right,
            f"5 psig says it evaporates at {say_temperature(coil)}; "
            f"8 °F minus that is {say_difference(right)}.",
        ),
        within=to_si(1.0, "delta_degF"),
        wrong=[
            Number(
                BOX_AIR - coil,
                "That takes the air in the box. Superheat belongs to the pipe: clamp it, under insulation.",
            ),
            Number(
                PIPE - saturation_temperature("R-600a", LOW_SIDE),
                "That is the R-600a curve. Read the plate first: this machine holds R-134a.",
            ),
            Number(
                PIPE - saturation_temperature("R-134a", to_si(5.0, "psia")),
                "That takes the gauge for the whole pressure. Add the air first: 5 + 14.7 = 19.7 psia.",
            ),
            Number(
                right - to_si(32.0, "delta_degF"),
                "That takes 32 off a difference. The 32 belongs to readings: it has gone already.",
            ),
            Number(
                -right, "That is the right amount with the wrong sign: pipe minus evaporating temperature."
            ),
            Number(
                BOX_AIR - PIPE, "That is box air minus pipe. Superheat is pipe minus evaporating temperature."
            ),
        ],
        otherwise="First gauge to evaporating temperature on the R-134a curve, then pipe minus that.",
        bare_unit="delta_degF",
        hint="A difference with its unit, for example: 6 °F, or 3.3 K.",
    )
