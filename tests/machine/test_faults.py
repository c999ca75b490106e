"""Faults: every one moves its readings the right way, and the balances hold with it."""

import dataclasses

import numpy
import pytest
from coldbench.errors import CannotRead, OutOfRange
from coldbench.machine import NO_ICE_TAKEN, NORMAL_DAY, IceTaken, simulate, simulate_many
from coldbench.machine.faults import FAULTS, apply_faults, faults_of
from coldbench.machine.faults_of_ice_making import ICE_FAULTS
from coldbench.machine.five import machine_named

HOURS = 14.0
# Read while the compressor runs, as gauges and a watt meter are; all other readings over the whole time.
WHILE_RUNNING = {
    "suction_pressure", "discharge_pressure", "condensing_temperature", "superheat", "subcooling",
    "compressor_power",
}  # fmt: skip
MACHINE_OF = dict.fromkeys(FAULTS, "Series") | {
    "damper stuck open": "Damper", "damper stuck shut": "Damper",
    "valve stuck on both coils": "Valve", "valve stuck on the freezer": "Valve",
}  # fmt: skip
OF_ICE = {fault.name for fault in ICE_FAULTS}
THIRSTY = [IceTaken(hour, 2.0) for hour in range(0, 24, 4)]  # a full bin would hide them


def often_defrosting(name):
    """A machine that defrosts after three hours of running, so that half a day shows it."""
    machine = machine_named(name)
    settings = dataclasses.replace(machine.board.defrosting, interval=3 * 3600.0)
    return dataclasses.replace(machine, board=dataclasses.replace(machine.board, defrosting=settings))


@pytest.fixture(scope="module")
def runs():
    """A sound machine in column 0 and a broken one in each other, all of a kind in one run of arrays."""
    found = {}
    of_ice = ("Series", OF_ICE, THIRSTY)
    for name, here, ice_taken in (
        of_ice, *((name, FAULTS.keys() - OF_ICE, NO_ICE_TAKEN) for name in ("Series", "Damper", "Valve"))
    ):  # fmt: skip
        sound = often_defrosting(name)
        chosen = [fault for fault in FAULTS if fault in here and MACHINE_OF[fault] == name]
        broken = [apply_faults(sound, [fault]) for fault in chosen]
        record = simulate_many([sound, *broken], HOURS, doors=NORMAL_DAY, ice_taken=ice_taken, interval=120.0)
        found |= {fault: (record, column + 1) for column, fault in enumerate(chosen)}
    return found


def mean(record, reading, column):
    """Mean of a reading after the first four hours, or of its running part."""
    values = record[reading][120:, column]
    if reading in WHILE_RUNNING:
        running = record["refrigerant_flow"][120:, column] > 1e-5
        values = values[running] if running.any() else values
    return values.mean()


@pytest.mark.parametrize("name", FAULTS)
def test_each_fault_moves_its_readings(runs, name):
    """Source of the directions: the fault table of a study of this project, and common practice."""
    record, column = runs[name]
    for reading, way in FAULTS[name].moves.items():
        sound, broken = mean(record, reading, 0), mean(record, reading, column)
        moved = broken > sound if way == "up" else broken < sound
        assert moved, f"{name}: {reading} should go {way}, went from {sound:.6g} to {broken:.6g}"


@pytest.mark.parametrize("name", FAULTS)
def test_balances_hold_with_each_fault(runs, name):
    """Accepted: 0.2 % of the coils' heat for the loop, 0.3 % for the cabinet."""
    record, column = runs[name]
    balances = record.about["balances"]
    assert abs(balances["refrigerant_loop"][column]) < 2e-3
    assert abs(balances["cabinet"][column]) < 3e-3


def test_there_are_faults_enough_and_each_says_what_it_is():
    assert len(FAULTS) >= 30
    for fault in FAULTS.values():
        assert fault.sentence.endswith(".") and fault.severity_means and fault.moves


def test_no_severity_is_no_fault():
    """Every fault at severity zero leaves the description as it is."""
    for machine in map(machine_named, ("Series", "Valve", "Damper", "Two-circuit", "Thermostat")):
        for fault in faults_of(machine):
            assert apply_faults(machine, [(fault.name, 0.0)]) == machine


def test_severity_has_its_range():
    with pytest.raises(OutOfRange, match="severity"):
        apply_faults(machine_named("Series"), [("low charge", 1.5)])


def test_unknown_faults_and_missing_parts_are_refused():
    with pytest.raises(CannotRead, match="low charge"):
        apply_faults(machine_named("Series"), ["gremlins"])
    with pytest.raises(CannotRead, match="no part"):
        apply_faults(machine_named("Thermostat"), ["freezer sensor open"])


def test_lost_charge_is_flat_then_a_knee():
    """85 % of the charge changes the running time by less than a tenth, 50 % by more than a third.

    Source: charge insensitivity over a wide range, due to the accumulator (Björk and Palm 2006, abstract).
    """
    sound = machine_named("Series")
    charges = [0.0, 0.15, 0.5]
    record = simulate_many(
        [apply_faults(sound, [("low charge", part)]) for part in charges], 16.0, interval=120.0
    )
    running = (record["compressor_supplied"][180:] > 0.5).mean(axis=0)
    assert running[1] == pytest.approx(running[0], rel=0.1)
    assert running[2] > 1.33 * running[0]


def test_a_restriction_keeps_its_subcooling_where_lost_charge_has_none():
    """The hard pair of the sealed circuit: both starve the coils, and subcooling tells them apart."""
    sound = machine_named("Series")
    pair = [apply_faults(sound, [("low charge", 0.5)]), apply_faults(sound, [("restricted capillary", 0.5)])]
    record = simulate_many(pair, 10.0, interval=120.0)
    low, tight = mean(record, "subcooling", 0), mean(record, "subcooling", 1)
    assert mean(record, "superheat", 0) > 8 and mean(record, "superheat", 1) > 5
    assert low < 1.0 and tight > 5.0


def test_a_hot_case_stops_by_its_protector():
    """A condenser that gives off almost nothing: the protector opens, and nothing is raised."""
    record = simulate("Series", 8.0, 316.15, faults=[("dirty condenser", 0.95)], start="warm")
    calling = record["freezer_sensor_believed"] > 258.0
    assert (record["compressor_supplied"][calling] < 0.5).any()
    assert numpy.isfinite(record["energy"]).all()


@pytest.mark.parametrize("name", ["Valve", "Damper"])
def test_a_start_with_a_coil_warmer_than_the_condenser_stays_finite(name):
    """A welded heater relay in a cool room: the compressor starts on a coil full of hot vapour."""
    record = simulate(name, 9.0, 289.15, faults=["heater relay stuck on"])
    for reading in record.names():
        assert numpy.isfinite(record[reading]).all(), reading
    assert record["suction_pressure"].min() > 0
