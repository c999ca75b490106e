"""Lesson 08 says nothing that boards, records and sums don't confirm."""

import json
import re
from pathlib import Path

import pytest
from coldbench.lesson.lesson_08_board import CALLING, COLD_COIL, SATISFIED, WARM_COIL, asked
from coldbench.lesson.lesson_08_record import FIVE, ORDERS
from coldbench.lesson.lesson_08_runs import drift_with_fan_off
from coldbench.machine.five import MACHINES, machine_named
from coldbench.units import to_si

LESSON = Path(__file__).parents[2] / "course" / "08-one-circuit-several-boxes"
CELLS = json.loads((LESSON / "08-one-circuit-several-boxes.ipynb").read_text(encoding="utf-8"))["cells"]
TEXT = " ".join(" ".join("".join(cell["source"]).replace("> ", "").split()) for cell in CELLS)


def at(figure):
    return to_si(figure, "degF")


def command(name, fresh_food, freezer, before=SATISFIED, coil=WARM_COIL):
    return asked(machine_named(name), at(fresh_food), at(freezer), before, coil)


BUILT = {
    "Series": ("one", "two, one after the other, no valve"),
    "Valve": ("one", "two"),
    "Damper": ("one", "one, in the freezer"),
    "Two-circuit": ("two", "two, each with a circuit of its own"),
    "Thermostat": ("one", "one, in the freezer"),
}


@pytest.mark.parametrize("name", BUILT)
def test_table_of_machines_counts_their_parts(name):
    """Compressors and coils as the machine's own description has them."""
    machine, (compressors, coils) = machine_named(name), BUILT[name]
    assert f"| **{name}** | {compressors} | {coils} |" in TEXT
    count = {"one": 1, "two": 2}
    assert len(machine.circuits) == count[compressors] and len(machine.coils) == count[coils.split(",")[0]]
    assert machine.damper_moves == (name == "Damper") and machine.valve_moves == (name == "Valve")


def test_machine_of_the_question():
    """Series at 34 and 6 °F: the compressor runs, the upper fan rests; warm the upper box and it runs."""
    assert "upper door: 34 °F" in TEXT and "soft, 6 °F" in TEXT
    found = command("Series", 34, 6)
    assert found.compressors == (1.0,) and found.fans == (0.0, 1.0)
    assert command("Series", 50, 6).fans[0] == 1.0


def test_who_calls_the_compressor():
    """Series and Thermostat: the freezer; Valve and Damper: either; Two-circuit: each its own."""
    assert "the freezer calls the compressor; the fresh food calls its fan, and nothing else" in TEXT
    assert "either box calls the compressor" in TEXT and "Nobody asks the fresh food" in TEXT
    above, below = {}, {}
    for name in MACHINES:
        above[name] = command(name, 50, -12).compressors
        below[name] = command(name, 30, 15).compressors
    assert above == {
        "Series": (0.0,), "Valve": (1.0,), "Damper": (1.0,), "Two-circuit": (1.0, 0.0), "Thermostat": (0.0,),
    }  # fmt: skip
    assert all(compressors[-1] == 1.0 for compressors in below.values())


def test_fan_that_blows_on():
    """Both calling an hour ago, coil cold: the fan runs though its box is satisfied."""
    assert "the fresh-food fan blows on though its box is satisfied" in TEXT
    for name in ("Valve", "Two-circuit"):
        assert command(name, 34, -12, CALLING, COLD_COIL).fans[0] == 1.0
        assert command(name, 34, -12, CALLING, WARM_COIL).fans[0] == 0.0


def test_series_upper_fan_hums_while_the_compressor_rests():
    """The lesson says what an ear at the door hears."""
    found = command("Series", 50, -12)
    assert found.compressors == (0.0,) and found.fans == (1.0, 0.0)


def test_half_the_charge_can_be_gone():
    """Down to half the charge no box is more than 2 °F warmer; below it the last one goes, and far."""
    assert "half the charge can be gone before a box gets warm" in TEXT
    for first, left, fresh_food, freezer in ORDERS:
        if left >= 50:
            assert fresh_food < 41 and freezer < 2
        if left <= 40:
            assert (freezer > 20 and fresh_food < 41) if first == 1 else (fresh_food > 42 and freezer < 2)


def test_coil_can_win_in_a_cold_room():
    """Walls win in a warm room; in a cold one the coil can, with nothing switched on."""
    assert "In a warm room the walls win" in TEXT and "In a cold room the coil can win" in TEXT
    assert drift_with_fan_off(0.25, at(37), at(-15), at(77))[2] > 0
    assert drift_with_fan_off(0.5, at(37), at(-15), at(41))[2] < 0


def test_rooms_compared():
    """The colder the room, the less running and energy; at 41 °F Series and Thermostat freeze the lettuce."""
    rows = {(row[0], row[1]): row[2:] for row in FIVE}
    frozen = {name for name in MACHINES if rows[name, 41][0] < 32}
    assert frozen == {"Series", "Thermostat"}
    assert rows["Thermostat", 90][0] > rows["Thermostat", 77][0] + 1.5
    for name in ("Series", "Valve", "Damper", "Two-circuit"):
        assert abs(rows[name, 90][0] - rows[name, 77][0]) < 1
    for name in MACHINES:
        shares, energies = ([rows[name, room][at] for room in (41, 60, 77, 90)] for at in (3, 4))
        assert shares == sorted(shares) and energies == sorted(energies)


def test_numbers_in_the_text_are_known():
    """No figure with a unit stands in the lesson that is not listed here, from the story or tested above."""
    figures = set(re.findall(r"−?[\d.,]*\d (?:°F|°C|K|kΩ|Ω|V|W)(?!\w)", TEXT))
    assert figures == {"34 °F", "6 °F", "77 °F", "50 °F", "−15 °F", "12 V"}


HEADINGS = [
    "Who answers whom",
    "Order of coils",
    "Still air carries some",
    "One coil, two returns",
    "Heat flows downhill",
    "Parts that can fail, counted",
    "Commanded against seen",
    "Five machines compared",
    "Where people are hurt",
]


@pytest.mark.parametrize("heading", HEADINGS)
def test_feedback_finds_its_section(heading):
    """Where feedback says "read again", the lesson has a section with exactly this heading."""
    lines = [line for cell in CELLS for line in "".join(cell["source"]).splitlines()]
    assert re.search(rf"^##+ {re.escape(heading)}$", "\n".join(lines), re.M)
