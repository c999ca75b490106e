"""Runs of a machine: balances, records, doors, refusals, many at once."""

import dataclasses

import numpy
import pytest
from coldbench.errors import CannotRead, OutOfRange
from coldbench.machine import NORMAL_DAY, Door, read_record, simulate, simulate_many
from coldbench.machine.five import machine_named

REFRIGERANTS = ("R-600a", "R-134a")


@pytest.mark.parametrize("refrigerant", REFRIGERANTS)
@pytest.mark.parametrize("room", [289.15, 316.15])
def test_balances_close(refrigerant, room):
    """Energy of loop and cabinet, water and charge: what is missing after nine hours with a busy door."""
    doors = [Door("fresh_food", 1.0, 30.0), Door("freezer", 2.0, 30.0), Door("fresh_food", 3.0, 120.0)]
    balances = simulate("Series", 9.0, room, refrigerant, doors=doors, frost=0.2).about["balances"]
    # accepted: 0.2 % for the loop and 0.3 % for the cabinet; the scheme is built to be far inside
    assert abs(balances["refrigerant_loop"]) < 1e-3
    assert abs(balances["cabinet"]) < 1e-9
    assert abs(balances["water"]) < 1e-9
    assert abs(balances["charge"]) < 1e-12


@pytest.fixture(scope="module")
def record():
    return simulate("Series", 3.0, doors=NORMAL_DAY)


def test_a_record_names_its_readings_and_units(record):
    assert record.names()[0] == "time"
    assert {"fresh_food_air_temperature", "suction_pressure", "defrost_sensor_resistance"} <= set(
        record.names()
    )
    assert record.unit("suction_pressure") == "Pa" and record.unit("freezer_sensor_resistance") == "Ohm"
    assert record["fresh_food_air_temperature"].shape == record["time"].shape == (180,)
    assert record.last("time") == 3 * 3600.0


def test_a_record_without_the_reading_names_what_is_near(record):
    with pytest.raises(CannotRead, match="freezer_air_temperature"):
        record["freezer_temperature"]
    with pytest.raises(CannotRead):
        record.unit("colour")
    with pytest.raises(CannotRead):
        record.last("colour")


def test_a_record_is_saved_and_read_without_loss(record, tmp_path):
    """Every number comes back to the last bit."""
    record.save(tmp_path / "run.json")
    again = read_record(tmp_path / "run.json")
    assert again.names() == record.names() and again.about == record.about
    assert all((again[name] == record[name]).all() for name in record.names())


def test_other_files_are_not_records(tmp_path):
    (tmp_path / "notes.json").write_text('{"form": "a shopping list"}')
    for name in ("notes.json", "nothing.json"):
        with pytest.raises(CannotRead, match="record"):
            read_record(tmp_path / name)


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ({"step": 15.0}, "ten seconds"),
        ({"hours": 0.0}, "hours"),
        ({"interval": 1.0}, "step between"),
        ({"room": 25.0}, "kelvin"),
        ({"room_relative_humidity": 50.0}, "fraction"),
        ({"frost": 5.0}, "frost"),
        ({"doors": [Door("freezer", 25.0, 10.0)]}, "hour"),
    ],
)
def test_numbers_out_of_range_are_refused(given, words):
    """A step that is too long above all: it is refused, not run."""
    with pytest.raises(OutOfRange, match=words):
        simulate("Series", **({"hours": 1.0} | given))


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ({"machine": "Cellar"}, "Series"),
        ({"refrigerant": "R-12"}, "R-600a"),
        ({"start": "lukewarm"}, "warm"),
        ({"faults": ["gremlins"]}, "low charge"),
        ({"faults": ["damper stuck open"]}, "no part"),
        ({"doors": [Door("cellar", 1.0, 10.0)]}, "fresh_food"),
    ],
)
def test_words_that_mean_nothing_are_refused(given, words):
    with pytest.raises(CannotRead, match=words):
        simulate(**({"machine": "Series", "hours": 1.0} | given))


def test_the_room_may_change_through_the_day():
    """A room that warms by ten kelvin is seen by the room sensor and raises the high side."""
    record = simulate("Series", 6.0, lambda time: 293.15 + 10 * time / 21_600)
    assert record["room_temperature"][-1] - record["room_temperature"][0] == pytest.approx(10, abs=0.2)
    with pytest.raises(OutOfRange, match="kelvin"):
        simulate("Series", 1.0, lambda time: 293.15 - time)


def test_one_and_many_are_the_same_equations():
    """Four machines in one run of arrays give what each gives alone in plain numbers."""
    plain = machine_named("Series")
    charges = (0.030, 0.040, 0.050, 0.060)
    machines = [
        dataclasses.replace(plain, circuits=(dataclasses.replace(plain.circuits[0], charge=charge),))
        for charge in charges
    ]
    many = simulate_many(machines, 2.0)
    assert all(many[name].shape == (12, 4) for name in many.names()[1:])
    for column, machine in enumerate(machines):
        alone = simulate(machine, 2.0, interval=600.0)
        for name in ("freezer_air_temperature", "suction_pressure", "energy", "superheat"):
            assert many[name][:, column] == pytest.approx(alone[name], rel=1e-7, abs=1e-6)


def test_machines_of_two_kinds_do_not_run_as_one():
    series = machine_named("Series")
    with pytest.raises(CannotRead, match="one by one"):
        simulate_many([series, dataclasses.replace(series, name="Other")])
    with pytest.raises(CannotRead, match="at least one"):
        simulate_many([])


def test_an_opened_door_warms_the_air_which_recovers():
    """Ten seconds of door: air up by more than 5 K, back within a kelvin ten minutes later."""
    shut = simulate("Series", 1.0, interval=10.0)
    opened = simulate("Series", 1.0, interval=10.0, doors=[Door("fresh_food", 0.25, 10.0)])
    warmer = opened["fresh_food_air_temperature"] - shut["fresh_food_air_temperature"]
    assert warmer.max() > 5.0
    assert numpy.abs(warmer[150:]).max() < 1.0
