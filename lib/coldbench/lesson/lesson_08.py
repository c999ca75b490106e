"""Lesson 08, One circuit, several boxes: what its cells show, in the order of the lesson.

Guesses: `guess_compressor`, `guess_starving`, `guess_garage`. Live pictures: `who_runs`, `hours`,
`order_of_coils`, `still_air`, `two_returns`, `commanded_against_seen`, `five_machines`. Looking back:
`look_back_at_compressor`, `look_back_at_starving`, `look_back_at_garage`. Self-checks: `check_series`,
`check_returns`, `check_valve`, from `coldbench.lesson.lesson_08_checks`.
"""

from __future__ import annotations

from coldbench.lesson.ask import LookBack, Question, guess, look_back
from coldbench.lesson.controls import choice, slider
from coldbench.lesson.explore import Explorer, explore
from coldbench.lesson.lesson_08_board import CALLING, COLD_COIL, SATISFIED, WARM_COIL
from coldbench.lesson.lesson_08_checks import check_returns, check_series, check_valve
from coldbench.lesson.lesson_08_pictures import FAULTS
from coldbench.lesson.lesson_08_pictures import commanded_against_seen as board_and_meter
from coldbench.lesson.lesson_08_pictures import who_runs as parts_at_work
from coldbench.lesson.lesson_08_record import FIVE, ORDERS
from coldbench.lesson.lesson_08_runs import five_in_a_room, hours_of, starving_coils, with_fan_off
from coldbench.lesson.lesson_08_runs import two_returns as mixed_air
from coldbench.lesson.saying import signed
from coldbench.machine.five import MACHINES

__all__ = [
    "check_returns",
    "check_series",
    "check_valve",
    "commanded_against_seen",
    "five_machines",
    "guess_compressor",
    "guess_garage",
    "guess_starving",
    "hours",
    "look_back_at_compressor",
    "look_back_at_garage",
    "look_back_at_starving",
    "order_of_coils",
    "still_air",
    "two_returns",
    "who_runs",
]

MANY = tuple(MACHINES)
GARAGE = 41  # [°F]


def guess_compressor() -> Question:
    """Ask what Series does while one box is satisfied.

    Returns: guess 08-a.
    """
    return guess(
        "08-a",
        "Series: the fresh food is cold enough, the freezer is too warm. What runs?",
        choices=[
            "Nothing: one box is satisfied",
            "Compressor and both fans",
            "Compressor and the freezer's fan",
            "Only the freezer's fan",
        ],
    )


def guess_starving() -> Question:
    """Ask which box suffers from a low charge.

    Returns: guess 08-b.
    """
    return guess(
        "08-b",
        "Series has lost refrigerant. Its fresh-food coil comes first. Which box warms first?",
        choices=["The fresh food", "The freezer", "Both alike"],
    )


def guess_garage() -> Question:
    """Ask which machine freezes the lettuce in a cold garage.

    Returns: guess 08-c.
    """
    return guess(
        "08-c",
        "All five stand in a garage at 41 °F, doors shut. In which does the fresh food freeze?",
        choices=[
            "In none: cold rooms are easy",
            "In Thermostat only",
            "In Series and Thermostat",
            "In all five",
        ],
    )


def who_runs() -> Explorer:
    """Show which parts run and why, for any mix of warm and cold boxes.

    Returns: machine, both boxes, the hour before and the fresh-food coil.
    """
    return explore(
        parts_at_work,
        choice("name", "Machine", MANY),
        slider("fresh_food", "Fresh food", 28, 60, 1, 34, "degF"),
        slider("freezer", "Freezer", -12, 32, 1, 6, "degF"),
        choice("before", "An hour ago", [SATISFIED, CALLING], ["both satisfied", "both calling"]),
        choice("coil", "Fresh-food coil", [WARM_COIL, COLD_COIL], ["warm and dry", "cold, with frost"]),
        title="Who answers whom",
    )


def look_back_at_compressor() -> LookBack:
    """Show guess 08-a beside what came out.

    Returns: the guess and the sentence.
    """
    return look_back(
        "08-a",
        "It came out that compressor and freezer fan run: the freezer calls. The satisfied box has only its "
        "own fan stopped.",
    )


def hours() -> Explorer:
    """Show some hours of a machine.

    Returns: a choice of the machine, and its run.
    """
    return explore(hours_of, choice("name", "Machine", MANY), title="Hours of a machine")


def order_of_coils() -> Explorer:
    """Show both orders of coils as the charge goes.

    Returns: order and charge, and both boxes.
    """
    shares = sorted({row[1] for row in ORDERS}, reverse=True)
    return explore(
        starving_coils,
        choice("first", "Refrigerant meets first", [1, 2], ["the fresh-food coil", "the freezer's coil"]),
        choice("left", "Charge left", [share / 100 for share in shares], [f"{share} %" for share in shares]),
        title="Order of coils",
    )


def look_back_at_starving() -> LookBack:
    """Show guess 08-b beside what came out.

    Returns: the guess and the numbers.
    """
    fresh_food, freezer = next(row[2:] for row in ORDERS if row[:2] == (1, 40))
    return look_back(
        "08-b",
        f"It came out that the freezer warms: with 40 % of the charge left it comes to {signed(freezer, 0)} "
        f"°F, while the fresh food stays at {signed(fresh_food, 0)} °F.",
    )


def still_air() -> Explorer:
    """Show what still air carries while the fan stands still.

    Returns: three sliders, two bars and the drift.
    """
    return explore(
        with_fan_off,
        slider(
            "still",
            "Still air carries, W a kelvin",
            0,
            1,
            0.05,
            0.25,
            "1",
            show=lambda value: f"{value:.2f} W/K",
        ),
        slider("coil", "Coil", -20, 36, 1, -15, "degF"),
        slider("room", "Room", 40, 100, 1, 77, "degF"),
        title="Still air carries some",
    )


def two_returns() -> Explorer:
    """Show the mixed air of one coil.

    Returns: share, both boxes and the difference, and four temperatures.
    """
    return explore(
        mixed_air,
        slider("share", "From the fresh food", 0, 50, 1, 15, "%"),
        slider("fresh_food", "Fresh food", 34, 46, 1, 38, "degF"),
        slider("freezer", "Freezer", -8, 12, 1, 0, "degF"),
        slider("difference", "Air to coil", 4, 20, 1, 12, "delta_degF"),
        title="One coil, two returns",
    )


def commanded_against_seen() -> Explorer:
    """Show what the board wants beside what is found.

    Returns: machine and fault, and a row for each part.
    """
    return explore(
        board_and_meter,
        choice("name", "Machine", MANY[:4]),
        choice("fault", "Fault", list(FAULTS)),
        title="Commanded against seen",
    )


def five_machines() -> Explorer:
    """Show the five machines in one room.

    Returns: a choice of the room, and five rows.
    """
    rooms = sorted({row[1] for row in FIVE})
    return explore(
        five_in_a_room,
        choice("room", "Room", rooms, [f"{room} °F" for room in rooms], start=rooms.index(77)),
        title="Five machines compared",
    )


def look_back_at_garage() -> LookBack:
    """Show guess 08-c beside what came out.

    Returns: the guess and the machines.
    """
    frozen = [row[0] for row in FIVE if row[1] == GARAGE and row[2] < 32.0]
    return look_back(
        "08-c",
        f"It came out that the fresh food settles below 32 °F in {' and '.join(frozen)}, at {GARAGE} °F.",
    )
