"""A coil in time: metal, frost and water of each zone, through one implicit step of heat or of moisture.

What is inside: the state of a coil; its air side, renewed when frost or flow has changed; vapour that is
warmed where the coil has run dry; the zones eliminated into three straight lines (heat to the refrigerant,
heat from the air, each of the zone temperatures) in the inlet air and evaporating temperatures of the step's
end, and put back once those are known; melting and freezing; moisture.

Energy is counted from liquid water and metal at 0 °C. Every quantity of heat that a step moves is the same
number where it leaves and where it arrives, so that the balance closes at any step size.
"""

from __future__ import annotations

from coldbench.machine.description import Coil
from coldbench.parts.coil import (
    AIR_HEAT_CAPACITY,
    FREEZING,
    conductance_at_flow_of,
    effectiveness_of,
    frost_resistance_per_kilogram_of,
    frosted_conductance_of,
    frosted_flow_of,
    narrowing_of,
    surface_humidity_ratio_of,
)
from coldbench.parts.coil_wetting import boiling_conductance_of, vapor_warming_of, wet_share_of
from coldbench.properties.water_and_ice import HEAT_OF_FUSION

__all__: list[str] = []

ZONES = 4
ORDER_OF_AIR = tuple(reversed(range(ZONES)))
VAPOR_HEAT = 2501e3  # [J/kg], of water vapour over liquid at 0 °C
ICE_HEAT_CAPACITY = 2050.0  # [J/(kg K)]
WATER_HEAT_CAPACITY = 4186.0  # [J/(kg K)]
LITTLE_WATER = 0.002  # [kg]; a zone with less gives its moisture off more slowly, and none without
LEAST_FLOW = 1e-4  # [-], of the rated one; keeps logarithms and ratios finite where a fan stands still
DRIPPING = 1.0 / 150.0  # [1/s], of water that clings no more


class CoilState:
    """What a coil is at a moment; lists hold one number a zone."""

    __slots__ = (
        "air_flow", "capacity_flow", "description", "drained", "drained_heat", "dry_heat", "effectiveness",
        "fan_speed", "frost", "frost_resistance", "heat_capacity", "liquid", "mass_effectiveness", "metal",
        "water", "wet",
    )  # fmt: skip

    def __init__(self, description: Coil, temperature):
        self.description = description
        self.metal = [temperature] * ZONES
        self.frost = [0.0 * temperature] * ZONES
        self.water = [0.0 * temperature] * ZONES
        self.heat_capacity = [description.heat_capacity / ZONES] * ZONES
        self.wet = [1.0] * ZONES
        self.dry_heat = [0.0] * ZONES
        self.effectiveness = [0.0] * ZONES
        self.frost_resistance = [0.0] * ZONES
        self.liquid = 0.0 * temperature
        self.drained = self.drained_heat = 0.0
        self.fan_speed = self.air_flow = self.capacity_flow = self.mass_effectiveness = None

    def lay_frost(self, mass):
        """Begin with frost, spread evenly."""
        self.frost = [part + mass / ZONES for part in self.frost]
        self.heat_capacity = [part + mass / ZONES * ICE_HEAT_CAPACITY for part in self.heat_capacity]

    def stored_heat(self):
        """Heat content over metal and liquid water at 0 °C [J]."""
        return sum(
            capacity * (metal - FREEZING) - frost * HEAT_OF_FUSION
            for capacity, metal, frost in zip(self.heat_capacity, self.metal, self.frost, strict=True)
        )


def renew_air_side(op, coil: CoilState, speed) -> None:
    """Work out flow and effectiveness for a fan speed (1 is full) and the frost of now."""
    of = coil.description
    free = of.free_volume / ZONES
    narrowing = 0.0
    for frost in coil.frost:
        narrowing = narrowing + narrowing_of(op, frost, free)
    relative = op.maximum(speed * frosted_flow_of(op, narrowing / ZONES), LEAST_FLOW)
    flow = of.rated_air_flow * relative
    capacity_flow = flow * AIR_HEAT_CAPACITY
    bare = conductance_at_flow_of(op, of.air_conductance / ZONES, relative)
    per_kilogram = frost_resistance_per_kilogram_of(of.area / ZONES)
    for zone in range(ZONES):
        resistance = coil.frost_resistance[zone] = coil.frost[zone] * per_kilogram
        coil.effectiveness[zone] = effectiveness_of(
            op, frosted_conductance_of(bare, resistance), capacity_flow
        )
    coil.mass_effectiveness = effectiveness_of(op, bare, capacity_flow)
    coil.fan_speed, coil.air_flow, coil.capacity_flow = speed, flow, capacity_flow


def warm_vapor(op, coil: CoilState, vapor_temperature, evaporating_temperature, capacity_flow, thin):
    """Lead vapour along the zones; gives its temperature behind them and the heat it took [K], [W].

    ``thin`` is above 0 where the whole low side holds nothing but thin vapour, which touches all zones.
    """
    of = coil.description
    conductance = of.vapor_conductance / ZONES
    front = coil.liquid / of.holding * ZONES
    total = 0.0
    for zone in range(ZONES):
        wet = wet_share_of(op, front, zone)
        dry = conductance * (1 - wet)
        warming = vapor_warming_of(coil.metal[zone] - vapor_temperature, dry, capacity_flow)
        heat = capacity_flow * warming
        vapor_temperature = vapor_temperature + warming
        vapor_temperature = vapor_temperature + wet * (evaporating_temperature - vapor_temperature)
        coil.wet[zone] = wet + thin
        coil.dry_heat[zone] = heat
        total = total + heat
    return vapor_temperature, total


def eliminate(coil: CoilState, evaporating_temperature, heater_power, step):
    """Reduce the zones to straight lines in inlet air and evaporating temperature (constant, air, boiling).

    Gives the lines of each zone, and those of the heat to the refrigerant and of the heat from the air [W].
    On metal colder than it boils, vapour condenses, dry zone or not.
    """
    of = coil.description
    still = of.still_conductance / ZONES
    resistance = ZONES / of.refrigerant_conductance
    capacity_flow = coil.capacity_flow
    heater = heater_power / ZONES
    air_0, air_a, air_e = 0.0, 1.0, 0.0
    heat_0 = heat_a = heat_e = sum_0 = sum_a = sum_e = 0.0
    lines = [None] * ZONES
    for zone in ORDER_OF_AIR:
        metal = coil.metal[zone]
        effectiveness = coil.effectiveness[zone]
        blown = effectiveness * capacity_flow
        outside = blown + still
        wet = coil.wet[zone]
        wet = wet + (1 - wet) * (metal < evaporating_temperature)
        inside = boiling_conductance_of(wet, outside, resistance)
        store = coil.heat_capacity[zone] / step
        share = 1 / (store + outside + inside)
        zone_0 = (store * metal + heater - coil.dry_heat[zone] + blown * air_0) * share
        zone_a = (blown * air_a + still) * share
        zone_e = (blown * air_e + inside) * share
        air_0 = air_0 + effectiveness * (zone_0 - air_0)
        air_a = air_a + effectiveness * (zone_a - air_a)
        air_e = air_e + effectiveness * (zone_e - air_e)
        heat_0 = heat_0 + inside * zone_0
        heat_a = heat_a + inside * zone_a
        heat_e = heat_e + inside * (zone_e - 1)
        sum_0 = sum_0 + zone_0
        sum_a = sum_a + zone_a
        sum_e = sum_e + zone_e
        lines[zone] = (zone_0, zone_a, zone_e)
    return (
        lines,
        (heat_0, heat_a, heat_e),
        (
            -capacity_flow * air_0 - still * sum_0,
            capacity_flow * (1 - air_a) + still * (ZONES - sum_a),
            -capacity_flow * air_e - still * sum_e,
        ),
    )


def put_back(op, coil: CoilState, lines, air_temperature, evaporating_temperature) -> None:
    """Set the zones to the end of the step; heat beyond 0 °C melts frost first, cold freezes water first."""
    for zone in range(ZONES):
        zone_0, zone_a, zone_e = lines[zone]
        capacity = coil.heat_capacity[zone]
        frost = coil.frost[zone]
        water = coil.water[zone]
        heat = (zone_0 + zone_a * air_temperature + zone_e * evaporating_temperature - FREEZING) * capacity
        melted = op.clamp(heat / HEAT_OF_FUSION, -water, frost)
        capacity = capacity + melted * (WATER_HEAT_CAPACITY - ICE_HEAT_CAPACITY)
        coil.metal[zone] = FREEZING + (heat - melted * HEAT_OF_FUSION) / capacity
        coil.frost[zone] = frost - melted
        coil.water[zone] = water + melted
        coil.heat_capacity[zone] = capacity


def moisture_lines(op, coil: CoilState, air_temperature, humidity_ratio):
    """Vapour left on each zone and on all, as lines (constant, slope) in the humidity ratio [kg/s]."""
    still = coil.description.still_conductance / ZONES / AIR_HEAT_CAPACITY
    flow, effectiveness = coil.air_flow, coil.mass_effectiveness
    lines = [None] * ZONES
    now, ratio_0, ratio_1, total_0, total_1 = humidity_ratio, 0.0, 1.0, 0.0, 0.0
    for zone in ORDER_OF_AIR:
        metal = coil.metal[zone]
        drop = coil.effectiveness[zone] * (air_temperature - metal)
        surface = surface_humidity_ratio_of(
            op, metal + drop * coil.capacity_flow * coil.frost_resistance[zone]
        )
        air_temperature = air_temperature - drop
        there = op.minimum(1.0, (coil.frost[zone] + coil.water[zone]) / LITTLE_WATER)
        blown = effectiveness * op.where(now > surface, 1.0, there)
        calm = still * op.where(humidity_ratio > surface, 1.0, there)
        line_0 = flow * blown * (ratio_0 - surface) - calm * surface
        line_1 = flow * blown * ratio_1 + calm
        lines[zone] = (line_0, line_1)
        total_0 = total_0 + line_0
        total_1 = total_1 + line_1
        now = now + blown * (surface - now)
        ratio_0 = ratio_0 + blown * (surface - ratio_0)
        ratio_1 = ratio_1 - blown * ratio_1
    return lines, total_0, total_1


def settle_moisture(op, coil: CoilState, lines, humidity_ratio, step):
    """Put the step's vapour on the zones as frost or water and let water drip; gives what came [kg]."""
    of = coil.description
    bare, kept = of.heat_capacity / ZONES, of.retained_water / ZONES
    dripping = min(1.0, step * DRIPPING)
    came = 0.0
    for zone in range(ZONES):
        line_0, line_1 = lines[zone]
        frost, water = coil.frost[zone], coil.water[zone]
        mass = op.maximum((line_0 + line_1 * humidity_ratio) * step, -(frost + water))
        warmth = coil.heat_capacity[zone] * (coil.metal[zone] - FREEZING)
        cold = op.where(warmth < 0, mass, 0.0)
        as_frost = op.where(mass > 0, cold, op.maximum(mass, -frost))
        heat = warmth + as_frost * HEAT_OF_FUSION + mass * VAPOR_HEAT
        frost = frost + as_frost
        water = water + (mass - as_frost)
        capacity = bare + frost * ICE_HEAT_CAPACITY + water * WATER_HEAT_CAPACITY
        above = heat / capacity
        drop = op.maximum(water - kept, 0.0) * dripping
        coil.metal[zone] = FREEZING + above
        coil.frost[zone] = frost
        coil.water[zone] = water - drop
        coil.heat_capacity[zone] = capacity - drop * WATER_HEAT_CAPACITY
        coil.drained = coil.drained + drop
        coil.drained_heat = coil.drained_heat + drop * WATER_HEAT_CAPACITY * above
        came = came + mass
    return came
