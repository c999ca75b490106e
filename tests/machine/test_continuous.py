"""The machine's implicit step, made very short, against the same equations written apart as rates of change.

Source: the parts' equations themselves; the two were written one without the other. Left out of the
comparison: the lagging flows, which only the rates have, and what a board does.
"""

import pytest
from coldbench.machine.plant import Plant
from coldbench.machine.quick_operations import QUICK_FLOATS
from coldbench.properties import moist_air
from machine import continuous
from machine.continuous_side import OurProperties

ROOM, SHORT = 298.15, 0.005  # [K], [s]
HUMIDITY_RATIO = moist_air.humidity_ratio(ROOM, 0.5)
MOMENTS = {
    "at rest": lambda plant: plant.time >= 300.0,
    "just started": lambda plant: plant.memory.running and plant.memory.since >= 60.0,
    "running": lambda plant: plant.memory.running and plant.time >= 1800.0,
    "fresh-food fan running": lambda plant: plant.fan_speeds[0] and plant.memory.running,
    "just stopped": lambda plant: plant.time >= 1800.0 and not plant.memory.running,
}
# By which a rate may be off beside 2 % of itself, where it is the small difference of large ones: what boils
# and condenses could move by 1 K/s, a zone's heat by 10 W, the first coil's liquid by a gram a second.
KELVIN, WATT, LIQUID, VAPOR, HUMIDITY = 3e-4, 0.005, 1e-7, 1e-10, 1e-9  # [K/s], [W], [kg/s], [kg/s], [1/s]
BOX = [KELVIN, KELVIN, WATT]
SIDES = [LIQUID, KELVIN, LIQUID, KELVIN, LIQUID, KELVIN, KELVIN]
MAY_BE_OFF = [*BOX, *BOX, *[HUMIDITY] * 2, *[WATT] * 8, *[VAPOR] * 8, *SIDES]


def settled(plant) -> None:
    """Let what is left of longer steps be made good, and the moisture's clock begin anew."""
    for place in range(len(plant.coils)):
        plant.renew_air_side(place)
    for step in [0.05] * 60 + [SHORT] * 20:
        plant.step_heat(step)
    for box in plant.boxes:
        box.come_in = 0.0


class State(list):
    """A state as `ContinuousSeries` wants it, without numpy."""

    tolist = list.copy


@pytest.mark.parametrize("moment", MOMENTS)
def test_a_short_step_moves_as_the_rates_say(moment):
    """Boxes, frost, both sides, liquid, condenser, shell: within 2 % over five milliseconds."""
    machine = continuous.machine_without_more()
    plant = Plant(QUICK_FLOATS, machine, (276.65, 255.65), (262.0, 250.0), ROOM, HUMIDITY_RATIO)
    while not MOMENTS[moment](plant):
        plant.step(10.0)
        assert plant.time < 3 * 3600.0, "the run never comes to this moment"
    settled(plant)
    rates = continuous.ContinuousSeries(machine, OurProperties("R-600a"), ROOM, HUMIDITY_RATIO)
    rates.running, rates.fresh_food_fan = plant.motors[0][1], plant.fan_speeds[0]
    before, energy = State(continuous.state_of(plant)), plant.energy
    plant.step_heat(SHORT)
    plant.step_moisture(SHORT)
    after = continuous.state_of(plant)
    said = rates(0.0, before)
    for place, off in enumerate(MAY_BE_OFF):
        moved = (after[place] - before[place]) / SHORT
        assert said[place] == pytest.approx(moved, rel=0.02, abs=off), f"place {place} of the state"
    assert said[continuous.ENERGY] == pytest.approx((plant.energy - energy) / SHORT, rel=0.005)
