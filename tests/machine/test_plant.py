"""A machine at work: the length of a step, and what a board can and cannot know."""

import pytest
from coldbench.machine import Door, simulate
from coldbench.machine.five import machine_named
from coldbench.machine.plant import Plant, place_names
from coldbench.machine.quick_operations import QUICK_FLOATS
from machine.series_variants import never_defrosting
from machine.whole_cycles import over_whole_cycles


def test_ten_second_steps_tell_what_one_second_steps_tell():
    """Accepted, over whole cycles: 0.05 K of the mean temperatures, 0.5 % of the energy."""
    machine = never_defrosting(machine_named("Series"))
    coarse, fine = (
        over_whole_cycles(simulate(machine, 9.0, interval=10.0, step=step), skip=3) for step in (10.0, 1.0)
    )
    assert coarse["cycles"] > 5
    assert coarse["fresh_food"] == pytest.approx(fine["fresh_food"], abs=0.05)
    assert coarse["freezer"] == pytest.approx(fine["freezer"], abs=0.05)
    assert coarse["power"] == pytest.approx(fine["power"], rel=0.005)


@pytest.mark.parametrize("name", ["Series", "Valve", "Damper", "Two-circuit", "Thermostat"])
def test_a_plant_names_what_its_sensors_feel(name):
    """Every sensor's place, and where it may have fallen to, is one of the plant's places."""
    machine = machine_named(name)
    names = place_names(machine)
    plant = Plant(QUICK_FLOATS, machine, (277.0, 255.0), [255.0] * len(machine.coils), 298.15, 0.01)
    assert len(plant.places()) == len(names)
    for sensor in machine.sensors:
        assert sensor.place in names
        assert getattr(sensor, "fallen_to", names[0]) in names


def test_an_open_door_brings_its_air_whenever_it_opens():
    """No opening is missed or counted twice, wherever in the minute of a moisture step it falls.

    Within a quarter: the box is not in quite the same state at the three times.
    """
    gained = []
    for offset in (0.0, 10.0, 20.0):
        record = simulate("Series", 1.0, doors=[Door("fresh_food", (600 + offset) / 3600, 10.0)])
        water = record["fresh_food_humidity_ratio"] * 0.33 * 1.25 + record["fresh_food_frost"]
        gained.append(water[-1] - water[0])
    assert gained == pytest.approx([gained[0]] * 3, rel=0.25)
    assert gained[0] > 0.001
