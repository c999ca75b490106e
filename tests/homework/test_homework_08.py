"""Homework 08: keys against boards, machines and numbers from outside; wrong ideas; tables up to date.

Rows of the tables beside the questions come from simulated machines; a sample of them is run again here, so
that machines that have changed are noticed.
"""

import csv
from pathlib import Path

import pytest
from coldbench.lesson.lesson_08_board import CALLING, COLD_COIL, SATISFIED, WARM_COIL, asked
from coldbench.machine import simulate
from coldbench.machine.five import machine_named
from coldbench.units import from_si, to_si

FOLDER = Path(__file__).parents[2] / "solutions" / "homework-08"


def rows_of(name):
    with (FOLDER / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def at(figure):
    return to_si(figure, "degF")


def test_who_brings_cold_is_what_the_boards_do(real):
    """08.1: with the fresh food warm and the freezer satisfied, only the part of the key answers."""
    key = real("08")["08.1"].key_function(None, {})
    found = {}
    for name in ("Series", "Valve", "Damper", "Two-circuit", "Thermostat"):
        machine = machine_named(name)
        idle = asked(machine, *SATISFIED, coil=WARM_COIL)
        warm = asked(machine, CALLING[0], SATISFIED[1], coil=WARM_COIL)
        if machine.damper_moves and warm.damper > idle.damper:
            answer = "B"
        elif machine.valve_moves and warm.valve < idle.valve and warm.compressors[0]:
            answer = "E"
        elif len(warm.compressors) == 2 and warm.compressors == (1.0, 0.0):
            answer = "A"
        elif warm.fans[0] > idle.fans[0] and warm.compressors == (0.0,):
            answer = "C"
        else:
            answer = "D" if warm == idle or warm.compressors == (0.0,) else "?"
        found[name.lower().replace("-", "_")] = answer
    assert found == key


@pytest.mark.parametrize("row", rows_of("commands.csv"), ids=lambda row: row["machine"])
@pytest.mark.parametrize(("fresh_food", "freezer"), [(33.0, 7.0), (35.5, 15.0), (34.0, 12.0)])
def test_commands_are_the_boards_own(row, fresh_food, freezer):
    """08.2: at both ends of the drawn temperatures the board commands what the table says."""
    machine = machine_named(row["machine"])
    found = asked(machine, at(fresh_food), at(freezer), coil=WARM_COIL)
    on = {True: "on", False: "off"}
    assert on[found.compressors[-1] > 0] == row["compressor"]
    assert on[found.fans[-1] > 0] == row["freezer_fan"]
    assert on[found.condenser_fan > 0] == row["condenser_fan"]
    assert row["fresh_food_fan"] == (on[found.fans[0] > 0] if len(found.fans) == 2 else "none")
    assert (row["valve_or_damper"] == "none") == (not machine.valve_moves and not machine.damper_moves)
    if row["valve_or_damper"] == "shut":
        assert found.damper == 0 and (not machine.valve_moves or found.valve == 1)


def test_satisfied_box_stops_nothing_but_its_own(real):
    """08.2: the right compressor runs, in the wrong idea all stands still."""
    homework = real("08")
    for machine in (1.0, 2.0, 3.0, 4.0):
        numbers = homework.numbers(
            "08.2", machine=machine, fresh_food_air_temperature=34.0, freezer_air_temperature=12.0
        )
        question = homework["08.2"]
        assert question.key_function(numbers, {})["compressor"] == "A"
        assert "A" not in question.mistakes[0].function(numbers, {}).values()


def test_the_last_coil_starves_first(real):
    """08.3: in every run of the grid the box of the last coil warms, the other stays as it was."""
    homework = real("08")
    for row in rows_of("coil_order.csv"):
        numbers = homework.numbers(
            "08.3", first_coil=float(row["first_coil"]), charge_left=float(row["charge_left"]),
            room_temperature=float(row["room_temperature"]),
        )  # fmt: skip
        fresh_food_warm, freezer_warm = float(row["fresh_food"]) > 42, float(row["freezer"]) > 20
        assert fresh_food_warm != freezer_warm
        assert homework["08.3"].key_function(numbers, {}) == ("B" if fresh_food_warm else "C")


def test_still_air_as_in_the_catalogue(real):
    """08.4: UA 1.2, still 0.5 W/K, room 77, box 37, coil -15 °F, 18 kJ/K: 4.40 °F, with no still air 9.60."""
    given = {
        "wall_conductance": 1.2, "still_conductance": 0.5, "room_temperature": 77.0,
        "box_air_temperature": 37.0, "coil_temperature": -15.0, "heat_capacity": 18.0,
    }  # fmt: skip
    key, wrong = real("08").answers("08.4", **given)
    # The catalogue was worked out apart from this library: 3.6 × (1.2 × 40 − 0.5 × 52) ÷ 18 = 4.40.
    assert round(key, 2) == 4.40
    assert round(wrong["fan_off_means_no_cooling"], 2) == 9.60
    assert round(wrong["still_air_added"], 2) == 14.80


def test_mixed_air_and_coil_by_hand(real):
    """08.5, 08.6: a quarter of 40 °F and three quarters of 0 °F are 10 °F; a coil 12 °F below is at -2 °F."""
    homework = real("08")
    given = {
        "fresh_food_share": 25.0, "fresh_food_air_temperature": 40.0, "freezer_air_temperature": 0.0,
        "coil_to_air_difference": 12.0,
    }  # fmt: skip
    key, wrong = homework.answers("08.5", **given)
    assert (round(key, 6), round(wrong["midpoint_is_average"], 6)) == (10.0, 20.0)
    key, wrong = homework.answers("08.6", {"08.5": at(10.0)}, **given)
    assert round(key, 6) == -2.0
    assert {idea: round(value, 6) for idea, value in wrong.items()} == {
        "temperature_difference_added": 22.0,
        "coil_as_cold_as_box": 10.0,
    }


def test_failing_parts_warm_the_fresh_food_alone(real):
    """08.7: each part of the key leaves the freezer as cold as before; a shared compressor warms both."""
    rows = {(row["machine"], row["part"]): row for row in rows_of("failing_parts.csv")}
    for (machine, part), row in rows.items():
        sound = rows[machine, "none"]
        warmer = float(row["fresh_food"]) - float(sound["fresh_food"])
        freezer = float(row["freezer"]) - float(sound["freezer"])
        if part == "shared compressor":
            assert warmer > 5 and freezer > 20
        elif part != "none":
            assert warmer > 5 and freezer < 2, (machine, part)
    homework = real("08")
    key = homework["08.7"].key_function(homework.numbers("08.7", first_machine=1.0, second_machine=5.0), {})
    assert key == {"fan": "A", "sensor": "A", "valve": "D", "damper": "D", "compressor": "D"}


# Which readings tell the four faults apart: common practice, no source.
@pytest.mark.parametrize("row", rows_of("valve_tickets.csv")[:60], ids=lambda row: row["ticket"])
def test_tickets_show_what_the_proof_says(row):
    """08.8: the readings of every ticket bear the proof of its fault, and of no other."""
    calls, coil = row["valve_signal"] == "1", float(row["fresh_food_coil_temperature"])
    box, volts, speed, believed = (
        float(row[name])
        for name in ("fresh_food_air_temperature", "fan_voltage", "fan_speed", "displayed_temperature")
    )
    shown = {
        "fan dead": calls and coil < 20 and volts > 11 and speed == 0,
        "fan output dead": calls and coil < 20 and volts == 0,
        "sensor open": not calls and row["sensor_resistance"] == "999.0" and believed == -40,
        "valve stuck": calls and volts > 11 and speed > 2000 and abs(coil - box) < 3,
    }
    assert [fault for fault, proved in shown.items() if proved] == [row["fault"]]
    assert float(row["fresh_food_air_temperature"]) > 39 and float(row["freezer_air_temperature"]) < 10


def test_tables_are_those_of_the_machines_as_they_are():
    """Two runs of the tables once more: a machine that has changed asks for tests/studies to be run again."""
    rows = {(row["machine"], row["part"]): row for row in rows_of("failing_parts.csv")}
    row = rows["Damper", "sensor"]
    record = simulate("Damper", hours=30, room=at(77), faults=["fresh-food sensor open"])
    half = len(record["time"]) // 2
    means = [
        from_si(float(record[f"{box}_air_temperature"][half:].mean()), "degF")
        for box in ("fresh_food", "freezer")
    ]
    assert means == pytest.approx([float(row["fresh_food"]), float(row["freezer"])], abs=0.06)


def test_a_drying_coil_is_not_called(real):
    """08.2 says that the coil is dry: a frosted one would keep Valve's fresh-food fan running for a while."""
    valve = machine_named("Valve")
    wet = asked(valve, at(34.0), at(12.0), CALLING, COLD_COIL)
    assert wet.fans[0] == 1.0 and asked(valve, at(34.0), at(12.0), CALLING, WARM_COIL).fans[0] == 0.0
    assert "dry" in real("08")["08.2"].wording
