"""The self-checks of lesson 04: `check_ratio`, `check_heat`, `check_fault`.

Expected numbers, and the numbers that wrong ideas lead to, are computed here, never typed. Wrong ideas:
experience of teachers, no source.
"""

from __future__ import annotations

from coldbench.lesson.ask import Choice, Number, Question, check, check_number
from coldbench.units import STANDARD_ATMOSPHERE, from_si, to_si

LOW, HIGH = to_si(4.0, "psig"), to_si(140.0, "psig")
COOLING, POWER = 110.0, 75.0  # [W]


def check_ratio() -> Question:
    """Ask for a pressure ratio from two gauges.

    Returns: self-check 04-1.
    """
    ratio = HIGH / LOW
    low, high = from_si(LOW, "psia"), from_si(HIGH, "psia")
    return check_number(
        "04-1",
        "Question 1. At sea level the low side shows 4 psig, the high side 140 psig. What is the pressure "
        "ratio?",
        "number",
        right=Number(ratio, f"Absolute pressures: {high:.1f} ÷ {low:.1f} = {ratio:.1f}."),
        within=0.15,
        wrong=[
            Number(
                from_si(HIGH, "psig") / from_si(LOW, "psig"),
                "That divides the gauge readings. The compressor feels the whole pressures: add 14.7 to "
                "both.",
            ),
            Number(
                (HIGH - LOW) / STANDARD_ATMOSPHERE,
                "That is a difference in atmospheres. A ratio divides: whole high pressure by whole low "
                "pressure.",
            ),
            Number(LOW / HIGH, "That is the wrong way up: the high pressure goes on top."),
        ],
        otherwise="Add 14.7 psi to both readings, then divide the high one by the low one.",
        bare_unit="1",
        hint="A number without a unit, for example: 9.5",
    )


def check_heat() -> Question:
    """Ask for the heat that goes into the room.

    Returns: self-check 04-2.
    """
    return check_number(
        "04-2",
        "Question 2. The coil takes 110 W out of the box, the compressor draws 75 W. How much heat do "
        "condenser and shell together give to the room?",
        "power",
        right=Number(
            COOLING + POWER, "Heat from the box and watts from the socket both end in the room: 110 + 75."
        ),
        within=2.0,
        wrong=[
            Number(
                COOLING, "That leaves out the compressor. Its watts turn to heat, too: they end in the room."
            ),
            Number(POWER, "That is only what comes from the socket. The heat from the box comes on top."),
            Number(COOLING - POWER, "Nothing is taken off: both flow in, so both flow out."),
        ],
        otherwise="What goes in comes out: heat from the box plus watts from the socket.",
        bare_unit="W",
        hint="A number with its unit, for example: 150 W.",
    )


def check_fault() -> Question:
    """Ask which fault one pair of gauges and two clamps show.

    Returns: self-check 04-3.
    """
    return check(
        "04-3",
        "Question 3. The bench machine when sound: 0.3 psig, 148 psig, superheat 0 °F, subcooling 11 °F. "
        "Now: 5.4 inHg vacuum, 132 psig, superheat 22 °F, subcooling 1 °F. What is wrong?",
        [
            Choice(
                "Refrigerant is missing",
                "Low side down, coil half dry, and no liquid left to stand in the condenser: too little of "
                "it is there.",
                right=True,
            ),
            Choice(
                "The capillary is partly blocked",
                "A blocked capillary starves the coil, too. But the liquid then backs up in the condenser: "
                "the subcooling would be large.",
            ),
            Choice(
                "The compressor's valves leak",
                "Then the low side would be higher and the coil wet throughout: a weak pump leaves the "
                "vapour there.",
            ),
            Choice(
                "Nothing: the low side may stand in vacuum",
                "Vacuum alone proves nothing, that is right. But 22 °F of superheat in a coil that was wet "
                "to its end does.",
            ),
        ],
    )
