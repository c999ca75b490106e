"""A sealed circuit in time: what it holds, and one implicit step of it.

What is inside: constants of a refrigerant; the state (mass and internal energy of the low and of the high
side, their temperatures, liquid in the coils, metal of condenser and compressor); the flows at the old state
with their slopes, as a line of the step's linear system; the end of the step.

Mass and energy are the state, temperatures follow from them: what one side loses the other gains, so that
the balance closes at any step size. A side that holds liquid is saturated; without liquid its pressure falls
with its mass. What is left of a temperature's error is carried into the next step, where it is made good.
"""

from __future__ import annotations

from coldbench.machine.coil_zones import CoilState, warm_vapor
from coldbench.machine.description import Circuit
from coldbench.operations import FLOATS
from coldbench.parts.capillary import capillary_flow_of
from coldbench.parts.compressor import EXPONENTS, exponent_of, isentropic_work_of, volumetric_efficiency_of
from coldbench.properties.refrigerant_polynomials import (
    closeness,
    degree_8,
    log_pressure_at,
    log_pressure_slope,
    superheated_at,
    table_of,
)

__all__: list[str] = []

AIR_GAS_CONSTANT = 287.0  # [J/(kg K)]
GAS_SHARE = 0.6  # [-], of the compressor's power that ends in the vapour; the rest warms the shell; assumed
VAPOR_STORE = 0.7  # [-], of the vapour's heat capacity at constant pressure that is stored at constant volume
CHOKED_SLOPE = 0.55  # [-], of the capillary's flow with its inlet pressure, logarithms; from `capillary_flow`
BLANKETING = 3.0  # [-], by which air in the condenser keeps vapour from the metal; assumed
THIN_VAPOR = 0.05  # [-], of the wet conductance by which vapour too thin to boil meets the metal; assumed
CARRY_TIME = 60.0  # [s], in which liquid beyond the accumulator is carried off; assumed
COLDEST = 203.15  # [K], of the search for a temperature
BELOW_CRITICAL = 6.0  # [K]; properties are taken there at the hottest: a protector opens long before
LEAST_MASS = 1e-5  # [kg]
MOST_OF_A_SIDE = 0.9  # [-]
MOST_MADE_GOOD = 30.0  # [K]


def saturated(op, table, temperature):
    """Pressure, slope of its logarithm, enthalpy of liquid and vapour, density of vapour; unchecked, SI."""
    x = closeness(table, temperature)
    pressure = op.exp(log_pressure_at(table, temperature))
    density = pressure / (degree_8(table.vapor_compressibility, x) * table.gas_constant * temperature)
    return (
        pressure,
        log_pressure_slope(table, temperature),
        degree_8(table.liquid_enthalpy, x),
        degree_8(table.vapor_enthalpy, x),
        density,
    )


class Side:
    """One side of the circuit, saturated where it holds liquid; worked out from mass and temperature."""

    __slots__ = (
        "density", "energy", "energy_per_mass", "filling", "latent_heat", "liquid", "liquid_enthalpy",
        "pressure", "saturation_pressure", "slope", "store", "two_phase", "vapor_enthalpy", "vapor_mass",
    )  # fmt: skip

    def __init__(self, op, circuit, volume, mass, temperature):
        temperature = op.minimum(temperature, circuit.hottest)
        pressure, slope, liquid_enthalpy, vapor_enthalpy, density = saturated(op, circuit.table, temperature)
        room_for_vapor = volume * density
        beyond = mass - room_for_vapor
        two_phase = op.where(beyond > 0, 1.0, 0.0)
        filling = op.minimum(1.0, mass / room_for_vapor)
        ratio = density / circuit.liquid_density
        liquid = op.maximum(beyond, 0.0) / (1 - ratio)
        vapor_mass = mass - liquid
        latent_heat = vapor_enthalpy - liquid_enthalpy
        self.saturation_pressure = pressure
        self.pressure = pressure * filling
        self.slope = slope
        self.density = density * filling
        self.filling = filling
        self.two_phase = two_phase
        self.liquid, self.vapor_mass = liquid, vapor_mass
        self.liquid_enthalpy, self.vapor_enthalpy, self.latent_heat = (
            liquid_enthalpy,
            vapor_enthalpy,
            latent_heat,
        )
        self.energy = liquid * liquid_enthalpy + vapor_mass * vapor_enthalpy - self.pressure * volume
        self.store = (
            liquid * circuit.liquid_heat_capacity
            + vapor_mass * circuit.vapor_heat_capacity * VAPOR_STORE
            + two_phase * volume * (density * (slope - 1 / temperature) * latent_heat - pressure * slope)
        )
        self.energy_per_mass = op.where(
            beyond > 0,
            (liquid_enthalpy - ratio * vapor_enthalpy) / (1 - ratio),
            vapor_enthalpy - self.pressure * volume / op.maximum(mass, LEAST_MASS),
        )


class CircuitState:
    """What a circuit is at a moment, and what flows in the step that is being worked out."""

    def __init__(self, op, description: Circuit, refrigerant: str, coils: list[CoilState], cold, warm):
        self.description, self.coils, self.exponents = description, coils, EXPONENTS[refrigerant]
        table = self.table = table_of(refrigerant)
        self.liquid_heat_capacity = (
            saturated(FLOATS, table, 310.0)[2] - saturated(FLOATS, table, 290.0)[2]
        ) / 20
        vapor = table.vapor_enthalpy, table.superheated_enthalpy
        self.vapor_heat_capacity = (
            superheated_at(table, *vapor, 245.0, 275.0) - superheated_at(table, *vapor, 245.0, 245.0)
        ) / 30
        self.hot_vapor_heat_capacity = (
            superheated_at(table, *vapor, 315.0, 365.0) - superheated_at(table, *vapor, 315.0, 315.0)
        ) / 50
        self.hottest = table.critical_temperature - BELOW_CRITICAL
        self.liquid_density = degree_8(table.liquid_density, closeness(table, 285.0))
        self.evaporating, self.condensing = cold, warm
        self.condenser = self.shell = self.protector = warm
        self.tripped = 0.0 * warm
        of = description
        # At rest: equal pressures; the condenser holds thin vapour, the coils liquid.
        pressure = saturated(op, table, cold)[0]
        warm_pressure, _, _, _, warm_density = saturated(op, table, warm)
        self.high_mass = of.high_volume * warm_density * op.minimum(1.0, pressure / warm_pressure)
        self.low_mass = of.charge - self.high_mass
        low = Side(op, self, of.low_volume, self.low_mass, cold)
        self.low_energy = low.energy
        self.high_energy = Side(op, self, of.high_volume, self.high_mass, warm).energy
        left = low.liquid
        for coil in coils:
            coil.liquid = op.minimum(left, coil.description.holding)
            left = left - coil.liquid
        self.compressor_flow = self.capillary_flow = 0.0 * warm
        self.evaporated = self.compressed = self.given_off = 0.0
        self.power = 0.0 * warm


def prepare(op, circuit: CircuitState, speed, running, room, condenser_fan, bypass, step) -> None:
    """Work out the flows at the old state, and how they change with the two temperatures.

    ``speed`` in turns a second; ``running`` 1 where the motor turns; ``condenser_fan`` 1 at full speed;
    ``bypass`` 1 where the switching valve feeds the last coil alone.
    """
    of = circuit.description
    cold, warm = circuit.evaporating, circuit.condensing
    low = circuit.low = Side(op, circuit, of.low_volume, circuit.low_mass, cold)
    high = circuit.high = Side(op, circuit, of.high_volume, circuit.high_mass, warm)
    heat_capacity = circuit.liquid_heat_capacity
    # The condenser's end: liquid beyond the seal floods it and is cooled below saturation by the room's air.
    air_pressure = circuit.air_pressure = of.air * AIR_GAS_CONSTANT * warm / of.high_volume
    inlet_pressure = high.pressure + air_pressure
    air_side = (
        of.condenser_still_conductance
        + (of.condenser_air_conductance - of.condenser_still_conductance) * condenser_fan
    )
    quality = op.clamp(1 - high.liquid / of.seal, 0.0, 1.0)
    flooded = op.minimum(
        op.maximum((high.liquid - of.seal) / (of.high_volume * circuit.liquid_density), 0.0), 0.9
    )
    units = air_side * flooded / (op.maximum(circuit.capillary_flow, 2e-5) * heat_capacity)
    subcooling = op.maximum((warm - room) * units / (1 + units), 0.0)
    outlet_enthalpy = high.liquid_enthalpy + quality * high.latent_heat - heat_capacity * subcooling
    # Capillary
    length = of.capillary_length + bypass * (of.bypass_length - of.capillary_length)
    capillary_flow, unchoked = capillary_flow_of(
        op, of.capillary_diameter, length, inlet_pressure, low.pressure, quality, subcooling, warm,
        circuit.liquid_density, high.density, high.latent_heat, heat_capacity,
    )  # fmt: skip
    capillary_flow = op.where(inlet_pressure > low.pressure, capillary_flow * of.capillary_opening, 0.0)
    difference = inlet_pressure - unchoked * low.pressure + 2000.0
    damping = 1 / (
        1 + (1 - high.two_phase) * capillary_flow / op.maximum(circuit.high_mass, LEAST_MASS) * step
    )
    capillary_flow = capillary_flow * damping
    circuit.capillary_flow_high = capillary_flow * CHOKED_SLOPE * high.slope * high.pressure / difference
    circuit.capillary_flow_low = -unchoked * capillary_flow * 0.5 * low.slope * low.pressure / difference
    # Vapour through dry zones, past the accumulator, along the capillary
    vapor_heat_capacity = circuit.vapor_heat_capacity
    capacity_flow = circuit.compressor_flow * vapor_heat_capacity
    vapor = cold
    dry_heat = 0.0
    thin = THIN_VAPOR * (1 - low.filling)
    last = circuit.coils[-1]
    for coil in circuit.coils:
        passing = capacity_flow if coil is last else capacity_flow * (1 - bypass)
        vapor, heat = warm_vapor(op, coil, vapor, cold, passing, thin)
        dry_heat = dry_heat + heat
    held = of.accumulator
    for coil in circuit.coils:
        held = held + coil.description.holding
    excess = op.maximum(low.liquid - held, 0.0)
    carried = op.minimum(excess / (CARRY_TIME * op.maximum(circuit.compressor_flow, 1e-5)), 0.3)
    superheat = vapor - cold - carried * low.latent_heat / vapor_heat_capacity
    tube = warm - subcooling
    exchange = of.exchange * (tube - cold - op.maximum(superheat, 0.0)) * vapor_heat_capacity
    suction_superheat = superheat + exchange / vapor_heat_capacity
    suction_line = cold + op.maximum(suction_superheat, 0.0)
    # Compressor
    density = low.density * cold / suction_line
    log_ratio = op.maximum(op.log(inlet_pressure / low.pressure), 0.0)
    flow = volumetric_efficiency_of(op, log_ratio) * of.pumping * of.displacement * speed * running * density
    thinning = (1 - low.two_phase) * flow / op.maximum(circuit.low_mass, LEAST_MASS) * step
    circuit.compressor_flow = (flow + thinning * capillary_flow) / (1 + thinning)
    circuit.compressor_flow_low = flow * low.two_phase * (low.slope - 1 / cold) / (1 + thinning)
    circuit.exponent = exponent_of(circuit.exponents, cold, warm)
    circuit.pressure_over_density = low.pressure / density
    circuit.idle = of.idle_power * running * speed / of.full_speed
    circuit.exchanged = circuit.compressor_flow * exchange
    circuit.gas_heat = GAS_SHARE * (
        circuit.idle
        + flow
        / of.efficiency
        * isentropic_work_of(op, circuit.pressure_over_density, log_ratio, circuit.exponent)
    )
    # Condenser metal, eliminated
    blanket = 1 / (1 + BLANKETING * air_pressure / inlet_pressure)
    inside = of.condenser_refrigerant_conductance * (1 - flooded) * blanket
    air_side = air_side * (1 - flooded)
    store = of.condenser_capacity / step
    share = 1 / (store + inside + air_side)
    circuit.condenser_0 = (store * circuit.condenser + air_side * room) * share
    circuit.condenser_1 = inside * share
    circuit.condensing_conductance, circuit.air_conductance, circuit.room = inside, air_side, room
    circuit.capillary_flow = capillary_flow
    circuit.feed_enthalpy, circuit.quality = outlet_enthalpy, quality
    circuit.vapor_outlet_enthalpy = low.vapor_enthalpy + vapor_heat_capacity * superheat
    circuit.dry_heat, circuit.superheat, circuit.subcooling = dry_heat, superheat, subcooling
    circuit.suction_line, circuit.carried, circuit.log_ratio = suction_line, carried, log_ratio


def line(op, circuit: CircuitState, step):
    """Give the row of the low side in the linear system, the high side eliminated, the coils' heat left out.

    Gives the factor of the evaporating temperature of the step's end [W/K] and the constant [W].
    """
    low, high = circuit.low, circuit.high
    cold, warm = circuit.evaporating, circuit.condensing
    feed, vapor = circuit.feed_enthalpy, circuit.vapor_outlet_enthalpy
    per_cold, per_warm = circuit.capillary_flow_low, circuit.capillary_flow_high
    drawn_per_cold = circuit.compressor_flow_low
    fed = circuit.capillary_flow - per_cold * cold - per_warm * warm
    drawn = circuit.compressor_flow - drawn_per_cold * cold
    fed_low, drawn_low = feed - low.energy_per_mass, vapor - low.energy_per_mass
    fed_high, drawn_high = feed - high.energy_per_mass, vapor - high.energy_per_mass
    store_low, store_high = low.store / step, high.store / step
    conductance, exchanged = circuit.condensing_conductance, circuit.exchanged
    # What is left of the last steps' errors is made good by at most so many kelvin a step.
    most = MOST_MADE_GOOD
    left_low = op.clamp(circuit.low_energy - low.energy, -most * low.store, most * low.store)
    left_high = op.clamp(circuit.high_energy - high.energy, -most * high.store, most * high.store)
    # High side: factor · condensing + by_cold · evaporating = constant
    factor = store_high + per_warm * fed_high + conductance * (1 - circuit.condenser_1)
    by_cold = (per_cold * fed_high - drawn_per_cold * drawn_high) / factor
    constant = (
        left_high / step + store_high * warm - fed * fed_high + drawn * drawn_high
        + exchanged + circuit.gas_heat + conductance * circuit.condenser_0
    ) / factor  # fmt: skip
    circuit.condensing_0, circuit.condensing_1 = constant, -by_cold
    by_warm = -per_warm * fed_low
    return (
        store_low - per_cold * fed_low + drawn_per_cold * drawn_low - by_warm * by_cold,
        left_low / step + store_low * cold + fed * fed_low - drawn * drawn_low
        - exchanged + circuit.dry_heat - by_warm * constant,
    )  # fmt: skip


def finish(op, circuit: CircuitState, evaporating, coil_heats, energised, bypass, step) -> None:
    """Set the circuit to the end of the step, once its low side and the coils' heat are known."""
    condensing = op.clamp(circuit.condensing_0 + circuit.condensing_1 * evaporating, COLDEST, circuit.hottest)
    of, low, high = circuit.description, circuit.low, circuit.high
    colder, warmer = evaporating - circuit.evaporating, condensing - circuit.condensing
    low_rise, high_rise = low.slope * colder, high.slope * warmer
    thicker_low = low_rise - colder / circuit.evaporating
    compressor_flow = circuit.compressor_flow * op.exp(low.two_phase * thicker_low)
    capillary_flow = (
        circuit.capillary_flow + circuit.capillary_flow_low * colder + circuit.capillary_flow_high * warmer
    )
    # No side gives away more than nine tenths of what it holds in a step, beside what comes in.
    most = MOST_OF_A_SIDE / step
    capillary_flow = op.clamp(capillary_flow, 0.0, most * circuit.high_mass)
    compressor_flow = op.minimum(compressor_flow, most * circuit.low_mass + capillary_flow)
    moved = (capillary_flow - compressor_flow) * step
    # Power at the end of the step: the pressures of then, thin where a side holds too little to be saturated
    filling_low = op.minimum(
        1.0, (circuit.low_mass + moved) * low.filling / (low.density * of.low_volume) / op.exp(thicker_low)
    )
    filling_high = op.minimum(
        1.0,
        (circuit.high_mass - moved)
        * high.filling
        / (high.density * of.high_volume)
        / op.exp(high_rise - warmer / circuit.condensing),
    )
    ratio = op.maximum(filling_high, 1e-3) * low.filling / (op.maximum(filling_low, 1e-3) * high.filling)
    log_ratio = op.maximum(circuit.log_ratio + high_rise - low_rise + op.log(ratio), 0.0)
    work = isentropic_work_of(op, circuit.pressure_over_density, log_ratio, circuit.exponent)
    turning = circuit.idle + compressor_flow * work / of.efficiency
    gas_heat = GAS_SHARE * turning
    humming = energised * (1 - of.starting) * of.locked_power
    circuit.power = turning + humming
    metal = circuit.condenser_0 + circuit.condenser_1 * condensing
    given_off = circuit.condensing_conductance * (condensing - metal)
    coil_heat = circuit.dry_heat
    for heat in coil_heats:
        coil_heat = coil_heat + heat
    vapor, feed, exchanged = circuit.vapor_outlet_enthalpy, circuit.feed_enthalpy, circuit.exchanged
    circuit.low_mass = circuit.low_mass + moved
    circuit.high_mass = circuit.high_mass - moved
    circuit.low_energy = circuit.low_energy + step * (
        coil_heat + capillary_flow * feed - compressor_flow * vapor - exchanged
    )
    circuit.high_energy = circuit.high_energy + step * (
        compressor_flow * vapor + exchanged + gas_heat - capillary_flow * feed - given_off
    )
    # Liquid comes in where the valve lets it, boils off, runs over; the last coil and beyond hold the rest
    enthalpy = feed - exchanged / op.maximum(capillary_flow, 1e-7)
    vapor_share = op.clamp((enthalpy - low.liquid_enthalpy) / low.latent_heat, 0.0, 1.0)
    coming = capillary_flow * (1 - vapor_share) * step * (1 - bypass)
    left = low.liquid
    last = circuit.coils[-1]
    for coil, heat in zip(circuit.coils, coil_heats, strict=True):
        holding = coil.description.holding
        if coil is last:
            coil.liquid = op.clamp(left, 0.0, holding)
        else:
            liquid = op.maximum(coil.liquid + coming - step * heat / low.latent_heat, 0.0)
            coming = op.maximum(liquid - holding, 0.0)
            coil.liquid = liquid - coming
            left = left - coil.liquid
    shell_heat = circuit.power - gas_heat
    loss = of.shell_conductance / of.shell_capacity * step
    circuit.shell = (circuit.shell + step * shell_heat / of.shell_capacity + loss * circuit.room) / (1 + loss)
    circuit.evaporating, circuit.condensing, circuit.condenser = evaporating, condensing, metal
    circuit.compressor_flow, circuit.capillary_flow, circuit.gas_heat = (
        compressor_flow,
        capillary_flow,
        gas_heat,
    )
    circuit.evaporated = circuit.evaporated + step * coil_heat
    circuit.compressed = circuit.compressed + step * gas_heat
    circuit.given_off = circuit.given_off + step * given_off
