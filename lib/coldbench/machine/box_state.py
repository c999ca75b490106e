"""A box in time: air, liner, food that may freeze, moisture, door."""

from __future__ import annotations

from coldbench.machine.coil_zones import VAPOR_HEAT
from coldbench.machine.description import Box

__all__: list[str] = []

FOOD_FREEZING = 271.55  # [K], -1.6 °C: where most of a food's water has begun to freeze; assumed for all food
AIR_DENSITY = 1.25  # [kg/m3], of cold air


class BoxState:
    """What a box is at a moment."""

    __slots__ = (
        "air", "air_mass", "come_in", "description", "door_flow", "food", "food_0", "food_1",
        "humidity_ratio", "liner", "liner_0", "liner_1", "thawed",
    )  # fmt: skip

    def __init__(self, op, description: Box, temperature, humidity_ratio):
        self.description = description
        self.air = self.liner = self.food = temperature
        self.humidity_ratio = humidity_ratio + 0.0 * temperature
        self.air_mass = description.volume * AIR_DENSITY
        self.door_flow = description.leak_flow
        self.come_in = 0.0  # room air since moisture was last moved on [kg]
        self.thawed = op.where(temperature > FOOD_FREEZING, description.food_latent_heat, 0.0)

    def stored_heat(self):
        """Heat content over 0 K, frozen food and liquid water at 0 °C, whatever the scale's start [J]."""
        of = self.description
        return (
            of.air_capacity * self.air + of.liner_capacity * self.liner + of.food_capacity * self.food
            + self.thawed + self.air_mass * self.humidity_ratio * VAPOR_HEAT
        )  # fmt: skip


def eliminate(box: BoxState, room, step):
    """Reduce liner and food to lines in the air's temperature; gives slope and constant of its row."""
    of = box.description
    store = of.liner_capacity / step
    share = 1 / (store + of.liner_conductance + of.wall_conductance)
    box.liner_0 = (store * box.liner + of.wall_conductance * room) * share
    box.liner_1 = of.liner_conductance * share
    store = of.food_capacity / step
    share = 1 / (store + of.food_conductance)
    box.food_0 = store * box.food * share
    box.food_1 = of.food_conductance * share
    store = of.air_capacity / step
    door = box.door_flow * 1006.0
    return (
        store + of.liner_conductance * (1 - box.liner_1) + of.food_conductance * (1 - box.food_1) + door,
        store * box.air + of.liner_conductance * box.liner_0 + of.food_conductance * box.food_0 + door * room,
    )


def put_back(op, box: BoxState, air) -> None:
    """Set the box to the end of the step; food freezes or thaws at one temperature."""
    of = box.description
    box.air = air
    box.liner = box.liner_0 + box.liner_1 * air
    heat = (box.food_0 + box.food_1 * air - FOOD_FREEZING) * of.food_capacity
    taken = op.clamp(heat, -box.thawed, of.food_latent_heat - box.thawed)
    box.thawed = box.thawed + taken
    box.food = FOOD_FREEZING + (heat - taken) / of.food_capacity
