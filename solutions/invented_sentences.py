"""What invented students write where a sentence is asked: 01.8 and 05.8, each put together of two parts.

A part is the text, how good it is, and the wrong idea that shows in it (empty where there is none). All of
it is made up; ideas are ids of the catalogue. An instructor would still read and mark each by hand.
"""

from __future__ import annotations

import itertools

PARTS = {
    "01.8": (
        [
            (
                "R-600a boils so cold that its low side is below the air pressure, so a hole sucks.",
                "good",
                "",
            ),
            (
                "At a coil of -10 F the isobutane has only about 9 or 10 psia and outside there is 14.7, "
                "so the outside air pushes in instead of gas coming out.",
                "good",
                "",
            ),
            (
                "In that machine the low side runs in vacuum even when everything is fine. Air goes in.",
                "good",
                "",
            ),
            ("Below about 11 F isobutane boils under air pressure and a freezer coil is colder.", "good", ""),
            (
                "Outside is more pressure than inside on the low side, also when the charge is right.",
                "good",
                "",
            ),
            ("The compressor sucks and so it sucks air when there is a leak.", "poor", ""),
            ("because there is a vacuum", "poor", ""),
            (
                "A vacuum on the gauge shows that the gas has already leaked out, so air takes its place.",
                "poor",
                "vacuum_is_a_leak",
            ),
            (
                "10 inches of vacuum is 10 inches more than the room so it pushes through the hole.",
                "poor",
                "vacuum_as_pressure_above",
            ),
            ("The gas is lighter than air and the air wants to get to where it is cold.", "poor", ""),
        ],
        [
            (
                "Nobody without the licence opens the circuit or puts gauges on it: it is flammable, "
                "and air inside makes it worse.",
                "good",
                "",
            ),
            ("Don't cut, braze or fill it, call somebody licensed, open a window and no flame.", "good", ""),
            ("It burns so you must not open it yourself.", "good", ""),
            (
                "Only a licensed person may open or charge it; I would air the room and keep sparks away.",
                "good",
                "",
            ),
            ("No gauges, no torch, no refilling by us, the law and the maker say who may.", "good", ""),
            ("You must not smoke.", "poor", ""),
            ("Just top it up and see if the vacuum goes away.", "poor", "vacuum_is_a_leak"),
            ("", "poor", ""),
        ],
    ),
    "05.8": (
        [
            (
                "Ice water that is stirred is 32 F everywhere, an ice cube is colder inside and only touches "
                "one side, so you don't know what the sensor really has.",
                "good",
                "",
            ),
            (
                "A cube from the freezer can be 0 F. With water and stirring it is 32, that is known.",
                "good",
                "",
            ),
            (
                "The bath goes all around the bead and stays at the freezing point until the ice is gone.",
                "good",
                "",
            ),
            (
                "Only ice and water together, well mixed, hold 32 F long enough for the sensor to settle.",
                "good",
                "",
            ),
            (
                "A bare cube leaves half the sensor in warm air and nobody knows how cold the cube is.",
                "good",
                "",
            ),
            ("the cube melts and drips on the floor", "poor", ""),
            ("Ice is always 32 so the cube would do, but it is slippery.", "poor", ""),
            (
                "In the bath it takes up the cold better, the ohms go down with the cold and you can see it.",
                "poor",
                "ohms_rise_with_temperature",
            ),
            ("You stir so that it gets colder than 32.", "poor", ""),
        ],
        [
            (
                "Plugged in you also measure the resistor on the board beside it, and water near live parts "
                "can kill you.",
                "good",
                "",
            ),
            (
                "Plug out because of the shock, and unplugged since the board is a second way for the meter.",
                "good",
                "",
            ),
            ("Pull the plug first! Wet hands and mains.", "good", ""),
            (
                "Unplugging is only for safety, the ohms are the same on the board or off it.",
                "poor",
                "parallel_path_ignored",
            ),
            (
                "A live board has mains on it and its voltage upsets the ohms, so plug out, lead off.",
                "good",
                "",
            ),
            ("Unplugged the meter sees only the sensor, and without mains wet fingers are safe.", "good", ""),
            ("so the meter does not break", "poor", ""),
            ("", "poor", ""),
        ],
    ),
}


def sentence(question: str, place: int, qualities: tuple[str, ...], ideas: tuple[str, ...] = ()):
    """Put a sentence together.

    Parameters: ``question`` "01.8" or "05.8"; ``place`` the student's place in the class, for variety [-];
    ``qualities`` from which to choose; ``ideas`` held: one that can show in this sentence does.
    Returns: the text, its quality ("good", "mixed" or "poor"), and the wrong idea in it, or "".
    """
    found = []
    for first, second in itertools.product(*PARTS[question]):
        quality = first[1] if first[1] == second[1] else "mixed"
        found.append((f"{first[0]} {second[0]}".strip(), quality, first[2] or second[2]))
    with_idea = [one for one in found if one[2] and one[2] in ideas]
    fitting = with_idea or [one for one in found if one[1] in qualities and not one[2]]
    return fitting[place * 7 % len(fitting)]
