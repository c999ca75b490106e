"""The equations of Series as rates of change, for a general solver: one function of a state, no steps.

Written apart from `coldbench.machine.plant`, from the same parts and numbers, so that each can be held
against the other. Left out: board, heater, doors, ice maker, motor protector, air in the circuit. Two flows,
which the machine takes from its last step, follow here with a short lag; a coil's liquid stops softly where
the coil is dry or full.
"""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

from coldbench.machine.box_state import AIR_DENSITY, FOOD_FREEZING
from coldbench.machine.circuit_state import (
    CARRY_TIME,
    COLDEST,
    LEAST_CARRYING,
    LEAST_FEED,
    LEAST_THROUGH_END,
    MOST_CARRIED,
    THIN_VAPOR,
)
from coldbench.machine.coil_zones import (
    DRIPPING,
    HEAT_OF_FUSION,
    ICE_HEAT_CAPACITY,
    LEAST_FLOW,
    LITTLE_WATER,
    VAPOR_HEAT,
    WATER_HEAT_CAPACITY,
    ZONES,
)
from coldbench.machine.five import machine_named
from coldbench.machine.quick_operations import QUICK_FLOATS
from coldbench.parts.capillary import capillary_flow_of
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
from coldbench.parts.coil_wetting import boiling_conductance_of, vapor_warming_of
from coldbench.parts.compressor import (
    EXPONENTS,
    GAS_SHARE,
    compressor_flow_of,
    compressor_power_of,
    exponent_of,
    isentropic_work_of,
)
from coldbench.parts.condenser import (
    condenser_air_conductance_of,
    condenser_subcooling_of,
    flooded_share_of,
    unsealed_quality_of,
)
from coldbench.parts.suction_line import suction_line_exchange_of
from machine.continuous_side import Side
from machine.series_variants import never_defrosting

op = QUICK_FLOATS
FLOW_LAG = 5.0  # [s], half a step of the machine's
STOP_LAG = 1.0  # [s], in which a coil's liquid stops at dry or full
# The state: two boxes (air, liner, food's heat over its freezing), their humidity ratios, both coils' zones
# (heat over 0 °C as liquid water, water and ice), low and high side (mass, temperature), liquid in the first
# coil, condenser, shell, the two lagging flows, four sensors, energy drawn from the mains.
BOXES, VAPOR, ZONE_HEATS, ZONE_WATER = slice(0, 6), slice(6, 8), slice(8, 16), slice(16, 24)
CIRCUIT, FLOWS, SENSORS, ENERGY = slice(24, 31), slice(31, 33), slice(33, 37), 37
SIZE = 38


class ContinuousSeries:
    """The right-hand side; ``running`` and ``fresh_food_fan`` are what the board has switched, 1 or 0."""

    def __init__(self, machine, properties, room, room_humidity_ratio):
        self.machine, self.properties = machine, properties
        self.room, self.room_humidity_ratio = room, room_humidity_ratio
        self.exponents = EXPONENTS[machine.refrigerant]
        self.running = self.fresh_food_fan = 0.0
        self.condenser_fan = 1.0  # while running, at 20 °C and above

    def __call__(self, _time, state):
        """Give the rates of change of a state."""
        machine, y = self.machine, state.tolist()
        room, running = self.room, self.running
        fans = self.fresh_food_fan, running
        circuit = self.circuit(y[CIRCUIT], y[FLOWS])
        air, humidity = (y[0], y[3]), y[VAPOR]
        # Coils: air, moisture and refrigerant at each zone
        vapor = cold = circuit.cold
        zone_heats, zone_water, metals = [], [], []
        drawn_heat, drawn_vapor, boiled, dry_heat = [], [], [], 0.0
        for place, of in enumerate(machine.coils):
            zones = slice(ZONE_HEATS.start + place * ZONES, ZONE_HEATS.start + (place + 1) * ZONES)
            heats, water = y[zones], y[zones.start + 2 * ZONES : zones.stop + 2 * ZONES]
            metal, frost = zone_temperatures(of.heat_capacity / ZONES, heats, water)
            outside = air_and_moisture(of, fans[place], metal, frost, water, air[place], humidity[place])
            vapor, dry = vapor_along(of, metal, circuit.liquids[place], vapor, cold, circuit.capacity_flow)
            boiling = boiling_heats(of, metal, circuit, place, outside.conductance)
            for zone in range(ZONES):
                came, clinging = outside.vapor[zone], water[zone] - frost[zone]
                drop = max(clinging - of.retained_water / ZONES, 0.0) * DRIPPING
                zone_water.append(came - drop)
                zone_heats.append(
                    outside.heat[zone] + came * VAPOR_HEAT - boiling[zone] - dry[zone]
                    - drop * WATER_HEAT_CAPACITY * (metal[zone] - FREEZING)
                )  # fmt: skip
            metals.append(metal)
            drawn_heat.append(sum(outside.heat) - machine.fans[place].full_power * fans[place] ** 3)
            drawn_vapor.append(sum(outside.vapor))
            boiled.append(sum(boiling))
            dry_heat += sum(dry)
        circuit_rates, flow_rates, power = self.circuit_rates(circuit, vapor, boiled, dry_heat)
        power += machine.condenser_fan.full_power * (self.condenser_fan * running) ** 3
        power += sum(fan.full_power * speed**3 for fan, speed in zip(machine.fans, fans, strict=True))
        # Boxes
        between = machine.partition_conductance * (air[1] - air[0])
        boxes, box_vapor = [], []
        for place, of in enumerate(machine.boxes):
            leaving = between if place == 1 else -between
            boxes += box_rates(of, y[3 * place : 3 * place + 3], room, leaving + drawn_heat[place])
            entering = of.leak_flow * (self.room_humidity_ratio - humidity[place])
            box_vapor.append((entering - drawn_vapor[place]) / (of.volume * AIR_DENSITY))
        felt = air[0], air[1], metals[1][-1], room
        sensors = [
            (true - seen) / sensor.lag
            for true, seen, sensor in zip(felt, y[SENSORS], machine.sensors, strict=True)
        ]
        return [
            *boxes, *box_vapor, *zone_heats, *zone_water, *circuit_rates, *flow_rates, *sensors, power
        ]  # fmt: skip

    def circuit(self, state, flows):
        """Work out the sides, and what the capillary lets through."""
        of, properties = self.machine.circuits[0], self.properties
        low_mass, cold, high_mass, warm, liquid, condenser, shell = state
        lagging_compressor, lagging_capillary = flows
        found = Instant()
        found.cold, found.warm, found.condenser, found.shell = cold, warm, condenser, shell
        found.lagging = flows
        liquid_density, heat_capacity = properties.liquid_density, properties.liquid_heat_capacity
        cold_line, warm_line = (
            properties.saturation(min(max(temperature, COLDEST), properties.hottest))
            for temperature in (cold, warm)
        )
        low = found.low = Side(cold_line, liquid_density, of.low_volume, low_mass)
        high = found.high = Side(warm_line, liquid_density, of.high_volume, high_mass)
        last = self.machine.coils[-1].holding
        found.liquids = liquid, min(max(low.liquid - liquid, 0.0), last)
        found.capacity_flow = lagging_compressor * properties.vapor_heat_capacity
        found.thin = THIN_VAPOR * (1 - low.filling)
        air_side = condenser_air_conductance_of(
            of.condenser_still_conductance, of.condenser_air_conductance, self.condenser_fan * self.running
        )
        quality = unsealed_quality_of(op, high.liquid, of.seal)
        flooded = flooded_share_of(op, high.liquid, of.seal, of.high_volume, liquid_density)
        found.subcooling = condenser_subcooling_of(
            op, warm - self.room, air_side * flooded,
            max(lagging_capillary, LEAST_THROUGH_END) * heat_capacity,
        )  # fmt: skip
        found.feed = (
            high.saturation.liquid_enthalpy + quality * high.latent_heat - heat_capacity * found.subcooling
        )
        found.capillary_flow = 0.0
        if high.pressure > low.pressure:
            found.capillary_flow = of.capillary_opening * capillary_flow_of(
                op, of.capillary_diameter, of.capillary_length, high.pressure, low.pressure, quality,
                found.subcooling, warm, high.saturation.liquid_density, high.density, high.latent_heat,
                heat_capacity,
            )[0]  # fmt: skip
        found.given_off = of.condenser_refrigerant_conductance * (1 - flooded) * (warm - condenser)
        found.to_room = air_side * (1 - flooded) * (condenser - self.room)
        return found

    def circuit_rates(self, now, vapor, boiled, dry_heat):
        """Rates of the circuit, of its lagging flows, and the compressor's power."""
        of, properties, low, high = self.machine.circuits[0], self.properties, now.low, now.high
        cold, running = now.cold, self.running
        lagging_compressor, lagging_capillary = now.lagging
        vapor_heat_capacity = properties.vapor_heat_capacity
        held = of.accumulator + sum(coil.holding for coil in self.machine.coils)
        excess = max(low.liquid - held, 0.0)
        carried = min(excess / (CARRY_TIME * max(lagging_compressor, LEAST_CARRYING)), MOST_CARRIED)
        superheat = vapor - cold - carried * low.latent_heat / vapor_heat_capacity
        difference = now.warm - now.subcooling - cold - max(superheat, 0.0)
        exchange = suction_line_exchange_of(of.exchange, difference, vapor_heat_capacity)
        suction_line = cold + max(superheat + exchange / vapor_heat_capacity, 0.0)
        density = low.density * cold / suction_line
        log_ratio = max(op.log(high.pressure / low.pressure), 0.0)
        drawn = compressor_flow_of(
            op, log_ratio, of.pumping, of.displacement, of.full_speed * running, density
        )
        exponent = exponent_of(self.exponents, cold, now.warm)
        work = isentropic_work_of(op, low.pressure / density, log_ratio, exponent)
        power = compressor_power_of(drawn, work, of.efficiency, of.idle_power * running)
        gas_heat = GAS_SHARE * power
        fed, feed = now.capillary_flow, now.feed
        outlet = low.saturation.vapor_enthalpy + vapor_heat_capacity * superheat
        exchanged = drawn * exchange
        low_heat = sum(boiled) + dry_heat + fed * feed - drawn * outlet - exchanged
        high_heat = drawn * outlet + exchanged + gas_heat - fed * feed - now.given_off
        enthalpy = feed - exchanged / max(fed, LEAST_FEED)
        vapor_share = (enthalpy - low.saturation.liquid_enthalpy) / low.latent_heat
        filling = fed * (1 - min(max(vapor_share, 0.0), 1.0)) - boiled[0] / low.latent_heat
        liquid, holding = now.liquids[0], self.machine.coils[0].holding
        filling = max(min(filling, (holding - liquid) / STOP_LAG), -liquid / STOP_LAG)
        return (
            [
                fed - drawn, low.warming(low_heat, fed - drawn),
                drawn - fed, high.warming(high_heat, drawn - fed), filling,
                (now.given_off - now.to_room) / of.condenser_capacity,
                (power - gas_heat - of.shell_conductance * (now.shell - self.room)) / of.shell_capacity,
            ],
            [(drawn - lagging_compressor) / FLOW_LAG, (fed - lagging_capillary) / FLOW_LAG],
            power,
        )  # fmt: skip


class Instant:
    """What a circuit is at an instant; filled by `ContinuousSeries.circuit`."""


class Outside(NamedTuple):
    """What a coil's zones get from the air: heat [W], vapour [kg/s], and their conductance to it [W/K]."""

    heat: list
    vapor: list
    conductance: list


def zone_temperatures(capacity, heats, waters):
    """Temperature and frost of each zone, from its heat over liquid water at 0 °C and its water and ice."""
    metal, frost = [], []
    for heat, water in zip(heats, waters, strict=True):
        water = max(water, 0.0)
        melting = water * HEAT_OF_FUSION
        if heat >= 0.0:
            metal.append(FREEZING + heat / (capacity + water * WATER_HEAT_CAPACITY))
            frost.append(0.0)
        elif heat <= -melting:
            metal.append(FREEZING + (heat + melting) / (capacity + water * ICE_HEAT_CAPACITY))
            frost.append(water)
        else:
            metal.append(FREEZING)
            frost.append(-heat / HEAT_OF_FUSION)
    return metal, frost


def air_and_moisture(of, speed, metal, frost, water, box_air, humidity_ratio):
    """Blow air over the zones, the last one first, and let still air touch them all."""
    narrowing = sum(narrowing_of(op, ice, of.free_volume / ZONES) for ice in frost) / ZONES
    relative = max(speed * frosted_flow_of(op, narrowing), LEAST_FLOW)
    flow = of.rated_air_flow * relative
    capacity_flow = flow * AIR_HEAT_CAPACITY
    bare = conductance_at_flow_of(op, of.air_conductance / ZONES, relative)
    per_kilogram = frost_resistance_per_kilogram_of(of.area / ZONES)
    moist = effectiveness_of(op, bare, capacity_flow)
    still = of.still_conductance / ZONES
    heat, vapor, conductance = [0.0] * ZONES, [0.0] * ZONES, [0.0] * ZONES
    air, now = box_air, humidity_ratio
    for zone in reversed(range(ZONES)):
        through_frost = frost[zone] * per_kilogram
        effectiveness = effectiveness_of(op, frosted_conductance_of(bare, through_frost), capacity_flow)
        drop = effectiveness * (air - metal[zone])
        surface = surface_humidity_ratio_of(op, metal[zone] + drop * capacity_flow * through_frost)
        there = min(1.0, water[zone] / LITTLE_WATER)
        blown = moist * (1.0 if now > surface else there)
        calm = still / AIR_HEAT_CAPACITY * (1.0 if humidity_ratio > surface else there)
        vapor[zone] = flow * blown * (now - surface) + calm * (humidity_ratio - surface)
        heat[zone] = drop * capacity_flow + still * (box_air - metal[zone])
        conductance[zone] = effectiveness * capacity_flow + still
        air -= drop
        now += blown * (surface - now)
    return Outside(heat, vapor, conductance)


def vapor_along(of, metal, liquid, vapor, cold, capacity_flow):
    """Warm vapour where the coil has run dry; gives its temperature behind and the heat of each zone."""
    front = liquid / of.holding * ZONES
    heats = []
    for zone in range(ZONES):
        wet = min(max(front - zone, 0.0), 1.0)
        dry = of.vapor_conductance / ZONES * (1 - wet)
        warming = vapor_warming_of(metal[zone] - vapor, dry, capacity_flow)
        heats.append(capacity_flow * warming)
        vapor += warming
        vapor += wet * (cold - vapor)
    return vapor, heats


def boiling_heats(of, metal, circuit, place, outside):
    """Heat from each zone to what boils, or condenses where the metal is colder [W]."""
    front = circuit.liquids[place] / of.holding * ZONES
    full = ZONES / of.refrigerant_conductance
    heats = []
    for zone in range(ZONES):
        wet = 1.0
        if metal[zone] >= circuit.cold:
            wet = min(max(front - zone, 0.0), 1.0) + circuit.thin
        heats.append(boiling_conductance_of(wet, outside[zone], full) * (metal[zone] - circuit.cold))
    return heats


def box_rates(of, state, room, leaving):
    """Rates of air, liner and food of a box from which some heat leaves [K/s], [K/s], [W]."""
    air, liner, heat = state
    food = FOOD_FREEZING + (min(heat, 0.0) + max(heat - of.food_latent_heat, 0.0)) / of.food_capacity
    to_food = of.food_conductance * (air - food)
    from_liner = of.liner_conductance * (liner - air)
    leak = of.leak_flow * AIR_HEAT_CAPACITY * (room - air)
    return [
        (from_liner - to_food + leak - leaving) / of.air_capacity,
        (of.wall_conductance * (room - liner) - from_liner) / of.liner_capacity,
        to_food,
    ]


def machine_without_more():
    """Describe Series without its ice maker and without a defrost."""
    machine = never_defrosting(machine_named("Series"))
    return replace(machine, ice_maker=None, sensors=machine.sensors[:4])


def state_of(plant):
    """Give the state of a plant, Series, as a list."""
    boxes = []
    for box in plant.boxes:
        food = box.description.food_capacity * (box.food - FOOD_FREEZING) + box.thawed
        boxes += [box.air, box.liner, food]
    heats, water = [], []
    for coil in plant.coils:
        for metal, frost, liquid, capacity in zip(
            coil.metal, coil.frost, coil.water, coil.heat_capacity, strict=True
        ):
            heats.append(capacity * (metal - FREEZING) - frost * HEAT_OF_FUSION)
            water.append(frost + liquid)
    (circuit,) = plant.circuits
    return [
        *boxes, *(box.humidity_ratio for box in plant.boxes), *heats, *water,
        circuit.low_mass, circuit.evaporating, circuit.high_mass, circuit.condensing, plant.coils[0].liquid,
        circuit.condenser, circuit.shell, circuit.compressor_flow, circuit.capillary_flow,
        *plant.sensed, plant.energy,
    ]  # fmt: skip
