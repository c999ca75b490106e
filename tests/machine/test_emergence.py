"""What emerges from the machines, sound and broken: directions and spans; no branch makes them come out.

Source of every span, unless a test says otherwise: the acceptance ranges of a study that preceded this
package (a model of its own of an invented machine; not a measurement), for R-600a at 25 °C with on/off
control.
"""

import dataclasses

import numpy
import pytest
from coldbench.control.boards_for_two_coils import TwoCircuitBoard
from coldbench.machine import Door, simulate
from coldbench.machine.five import machine_named
from coldbench.parts.coil import AIR_HEAT_CAPACITY
from machine.series_variants import never_defrosting, summaries

BUSY = [Door("fresh_food", hour / 2, 20.0) for hour in range(48)]


@pytest.fixture(scope="module")
def found():
    return summaries("R-600a")


def test_the_sound_machine_is_a_refrigerator(found):
    """Fresh food near 3.5 °C, freezer near -18 °C, running less than half the time on less than 90 W."""
    sound = found["sound"]
    assert 3.0 < sound.fresh_food < 4.4 and -18.5 < sound.freezer < -17.0
    assert 0.35 < sound.running < 0.50 and 70 < sound.watts < 100
    assert -30 < sound.evaporating < -25 and 35 < sound.condensing < 46
    assert 0.7 < sound.kilowatt_hours < 1.2


def test_balances_close_for_every_variant(found):
    """Accepted: 0.2 % for the loop, 0.3 % for the cabinet."""
    assert max(one.loop_error for one in found.values()) < 2e-3
    assert max(one.cabinet_error for one in found.values()) < 3e-3


def test_lost_charge_is_flat_to_85_percent_then_a_knee(found):
    sound = found["sound"]
    assert found["charge 0.85"].kilowatt_hours == pytest.approx(sound.kilowatt_hours, rel=0.05)
    assert found["charge 0.5"].running > 1.5 * sound.running
    assert found["charge 0.4"].running > 0.97 and found["charge 0.4"].freezer > -5
    charges = ["sound", "charge 0.85", "charge 0.8", "charge 0.6", "charge 0.5", "charge 0.4"]
    superheat = [found[name].superheat for name in charges]
    subcooling = [found[name].subcooling for name in charges]
    assert (numpy.diff(superheat) >= -0.05).all() and superheat[-1] > 20
    assert (numpy.diff(subcooling) <= 0.05).all() and subcooling[-1] < 0.5


def test_ice_on_the_freezer_coil_is_a_late_cliff(found):
    """Flow and evaporating temperature fall all the way; the freezer fails only when the way is closed."""
    icing = [found[name] for name in ("sound", "ice 0.4", "ice 0.5", "ice 0.56", "ice 0.6")]
    assert (numpy.diff([one.air_flow for one in icing]) < 0).all()
    assert (numpy.diff([one.evaporating for one in icing]) < 0).all()
    assert (numpy.diff([one.running for one in icing]) > 0).all()
    assert all(one.freezer < -17 for one in icing[:-1]) and icing[-1].freezer > -17


def test_a_blocked_condenser_raises_pressure_watts_and_energy(found):
    blocked = [found[name] for name in ("sound", "condenser 0.6", "condenser 0.35", "condenser 0.2")]
    assert (numpy.diff([one.condensing for one in blocked]) > 5).all()
    assert (numpy.diff([one.watts for one in blocked]) > 0).all()
    assert 1.08 < blocked[1].kilowatt_hours / blocked[0].kilowatt_hours < 1.30
    assert 1.30 < blocked[2].kilowatt_hours / blocked[0].kilowatt_hours < 1.75


@pytest.mark.parametrize(
    ("name", "box", "shift"),
    [
        ("fresh food reads -2 K", "fresh_food", 2.0),
        ("fresh food reads +2 K", "fresh_food", -2.0),
        ("freezer reads -3 K", "freezer", 3.0),
        ("freezer reads +3 K", "freezer", -3.0),
    ],
)
def test_a_sensor_that_is_off_shifts_its_box_by_as_much(found, name, box, shift):
    """Accepted: 0.4 K to either side."""
    moved = getattr(found[name], box) - getattr(found["sound"], box)
    assert moved == pytest.approx(shift, abs=0.4)


def test_rooms_from_cold_to_hot(found):
    """Energy, running time, watts rise with the room; 32 °C costs 2 to 2.7 times what 16 °C costs."""
    rooms = [found[name] for name in ("room 4.4", "room 16.0", "sound", "room 32.0", "room 43.0")]
    for reading in ("kilowatt_hours", "running", "condensing", "watts"):
        assert (numpy.diff([getattr(one, reading) for one in rooms]) > 0).all()
    assert 2.0 < rooms[3].kilowatt_hours / rooms[1].kilowatt_hours < 2.7


def test_a_cold_room_freezes_the_fresh_food_box(found):
    """At 4.4 °C the fresh-food box has no heat of its own and falls below freezing: its coil still cools."""
    assert found["room 4.4"].fresh_food < 0.5


def test_weak_valves_raise_suction_and_lower_discharge(found):
    weak, sound = found["weak compressor 0.6"], found["sound"]
    assert weak.evaporating > sound.evaporating + 1.5 and weak.condensing < sound.condensing - 1
    assert weak.running > 1.25 * sound.running and weak.watts < 0.8 * sound.watts


def test_a_dead_freezer_fan_warms_the_freezer_alone(found):
    dead = found["freezer fan dead"]
    assert dead.freezer > -10 and dead.fresh_food < 5 and dead.evaporating < -38 and dead.running > 0.95


def test_a_dead_fresh_food_fan_warms_the_fresh_food_box_alone():
    """Fresh food settles between 9 and 16 °C; the freezer stays within half a kelvin."""
    record = simulate("Series", 60.0, faults=["fresh-food fan dead"])
    assert 9.0 < record["fresh_food_air_temperature"][-1] - 273.15 < 16.0
    assert record["freezer_air_temperature"][-720:].mean() - 273.15 == pytest.approx(-17.8, abs=0.5)


def test_the_fresh_food_fan_is_what_cools_fresh_food():
    """Freezer pulling down for three hours, fresh-food fan off: its coil at -30 °C hardly cools the box.

    Accepted: less than 1.5 K of drift where still air carries 0.6 W/K from coil to box.
    """
    sound = machine_named("Series")
    coils = (dataclasses.replace(sound.coils[0], still_conductance=0.6), sound.coils[1])
    board = dataclasses.replace(sound.board, fresh_food_aim=288.15, freezer_aim=245.15)
    record = simulate(dataclasses.replace(sound, coils=coils, board=board), 3.0)
    assert record["fresh_food_coil_inlet_temperature"][-1] - 273.15 < -28
    assert record["freezer_air_temperature"][-1] - 273.15 < -22
    drift = record["fresh_food_air_temperature"][-1] - record["fresh_food_air_temperature"][0]
    assert abs(drift) < 1.5


def test_modulating_halves_the_swing_and_saves_energy():
    """Speeds by proportional-integral against on/off at 32 °C: half the swing, 5 to 20 % less energy."""
    plain = never_defrosting(machine_named("Series"))
    modulating = dataclasses.replace(plain, board=dataclasses.replace(plain.board, modulating=True))
    swings, energies = [], []
    for machine in (plain, modulating):
        record = simulate(machine, 30.0, 305.15)
        late = record["time"] > 18 * 3600
        swings.append(numpy.ptp(record["fresh_food_air_temperature"][late]))
        energies.append(record["energy"][-1] - record["energy"][~late][-1])
    assert swings[1] < swings[0] / 2
    assert 0.05 < 1 - energies[1] / energies[0] < 0.20


@pytest.mark.parametrize("frost", [0.05, 0.3])
def test_a_defrost_clears_the_coil_and_more_frost_takes_longer(frost):
    """The heater melts what is there, ends by its sensor, and part of its heat goes elsewhere.

    Source of the span of efficiency: 30 % published for one machine (Bansal et al. 2010, abstract); the study
    found 15 to 53 % from light to heavy frost.
    """
    sound = machine_named("Series")
    settings = dataclasses.replace(sound.board.defrosting, interval=300.0, counting="clock")
    machine = dataclasses.replace(sound, board=dataclasses.replace(sound.board, defrosting=settings))
    record = simulate(machine, 0.6, frost=frost)
    first = numpy.flatnonzero(numpy.diff(record["freezer_heater_power"]) < 0)[0] + 1  # it has just ended
    heated = record["heater_energy"][first]
    assert record["freezer_frost"][first] < 0.02 * frost
    assert heated < 240.5 * 1800.0
    assert 0.08 < frost * 333.6e3 / heated < 0.65


@pytest.mark.parametrize("name", ["Valve", "Two-circuit"])
def test_a_coil_without_a_heater_clears_itself(name):
    """Damp air from a busy door: the frost of each run is gone before the next, and water drains.

    Source: what is expected of an off-cycle defrost, common practice, no source.
    """
    record = simulate(name, 24.0, 305.15, doors=BUSY, room_relative_humidity=0.7)
    late = record["time"] > 12 * 3600
    assert record["fresh_food_frost"][late].min() < 0.003
    assert record["fresh_food_frost"][late].max() < 0.15
    assert record["fresh_food_drained_water"][-1] > 0.01


class BoardWithoutPause(TwoCircuitBoard):
    """The fresh-food fan stops with the compressor, and nothing waits for a thawed coil."""

    def decide(self, op, memory, seen, elapsed):
        outputs = super().decide(op, memory, seen, elapsed)
        memory.drying = memory.cooling
        outputs.fans = memory.cooling, outputs.fans[1]
        return outputs


def test_without_its_pause_a_coil_without_a_heater_ices_up():
    """The same coil, fan off between runs: half a kilogram and more in five busy days, and ever colder.

    Accepted: with the pause it melts after each run and drains, without it frost is added each day.
    """
    sound = machine_named("Two-circuit")
    hasty = dataclasses.replace(sound, board=BoardWithoutPause(**as_numbers(sound.board)))
    paused, iced = (simulate(machine, 120.0, doors=BUSY, interval=600.0) for machine in (sound, hasty))
    days = numpy.arange(1, 6) * 144 - 1
    assert paused["fresh_food_frost"].max() < 0.06 and paused["fresh_food_drained_water"][-1] > 0.5
    assert (numpy.diff(iced["fresh_food_frost"][days]) > 0.1).all()
    assert iced["fresh_food_frost"][-1] > 0.5 and iced["fresh_food_drained_water"][-1] < 0.01
    evaporating = iced["fresh_food_evaporating_temperature"], paused["fresh_food_evaporating_temperature"]
    assert evaporating[0][days[-2] :].mean() < evaporating[1][days[-2] :].mean() - 10


def as_numbers(board):
    """The settings of a board, by name."""
    return {setting.name: getattr(board, setting.name) for setting in dataclasses.fields(board)}


def test_thermostat_lets_the_fresh_food_box_follow_the_room():
    """A fixed bleed asks nobody: fresh food drifts by several kelvin between a cool and a warm room.

    Source at 16 and 25 °C: the study's run of this machine (1.6, 3.9 °C), accepted within 1 K. Its 7.4 °C at
    35 °C do not agree with heat in and heat out for the time that such a machine runs there; ours does, in
    each room: what comes through walls and door seal is what bleed and freezer take, within 0.4 K.
    """
    machine = machine_named("Thermostat")
    box, share = machine.boxes[0], machine.coils[0].fresh_food_share
    walls = 1 / (1 / box.wall_conductance + 1 / box.liner_conductance) + box.leak_flow * AIR_HEAT_CAPACITY
    found = []
    for room in (289.15, 298.15, 308.15):
        record = simulate(machine, 48.0, room)
        late = record["time"] > 24 * 3600
        fresh_food, freezer, air, flow = (
            record[name][late]
            for name in (
                "fresh_food_air_temperature", "freezer_air_temperature", "freezer_coil_air_temperature",
                "freezer_air_flow",
            )
        )  # fmt: skip
        bleed = share * flow * AIR_HEAT_CAPACITY
        carried = walls * room + machine.partition_conductance * freezer.mean() + (bleed * air).mean()
        balanced = carried / (walls + machine.partition_conductance + bleed.mean())
        found.append(fresh_food.mean() - 273.15)
        assert found[-1] == pytest.approx(balanced - 273.15, abs=0.4)
    assert found[:2] == pytest.approx([1.6, 3.9], abs=1.0)
    assert (numpy.diff(found) > 1).all()


@pytest.mark.parametrize("name", ["Series", "Valve", "Damper", "Two-circuit", "Thermostat"])
def test_r_134a_goes_the_same_ways(name):
    """The same machine with R-134a keeps both boxes, above atmospheric pressure where R-600a is in vacuum."""
    one, other = (simulate(name, 16.0, refrigerant=refrigerant) for refrigerant in ("R-600a", "R-134a"))
    late = one["time"] > 8 * 3600
    mark = "freezer_" if name == "Two-circuit" else ""
    for record in (one, other):
        assert -20.5 < record["freezer_air_temperature"][late].mean() - 273.15 < -15.5
        assert 0.0 < record["fresh_food_air_temperature"][late].mean() - 273.15 < 6.0
    pressures = [
        record[f"{mark}suction_pressure"][late & (record[f"{mark}refrigerant_flow"] > 1e-5)].mean()
        for record in (one, other)
    ]
    assert pressures[0] < 0.75e5 < 0.85e5 < pressures[1]
