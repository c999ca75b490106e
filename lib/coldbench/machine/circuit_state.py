"""A sealed circuit in time: what it holds, and one implicit step of it.

What is inside: constants of a refrigerant; the state (mass and internal energy of the low and of the high
side, their temperatures, liquid in the coils, metal of condenser and compressor); the flows at the old state
with their slopes, part by part round the circuit, as a line of the step's linear system; the end of the step.
What a single part does is said once, in `coldbench.parts`.

Mass and energy are the state, temperatures follow from them: what one side loses the other gains, so that
the balance closes at any step size. A side that holds liquid is saturated; without liquid its pressure falls
with its mass. What is left of a temperature's error is carried into the next step, where it is made good.
"""

from __future__ import annotations

from coldbench.machine.circuit_side import LEAST_MASS, Side, saturated
from coldbench.machine.coil_zones import CoilState, warm_vapor
from coldbench.machine.description import Circuit
from coldbench.operations import FLOATS
from coldbench.parts.capillary import capillary_flow_of
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
    condensing_conductance_of,
    flooded_share_of,
    trapped_air_pressure_of,
    unsealed_quality_of,
)
from coldbench.parts.overload_protector import shell_temperature_after_of
from coldbench.parts.suction_line import suction_line_exchange_of
from coldbench.parts.switching_valve import capillary_length_in_use_of, flow_through_first_coil_of
from coldbench.properties.refrigerant_polynomials import (
    closeness,
    degree_8,
    superheated_at,
    table_of,
)

__all__: list[str] = []

CHOKED_SLOPE = 0.55  # [-], of the capillary's flow with its inlet pressure, logarithms; from `capillary_flow`
THIN_VAPOR = 0.05  # [-], of the wet conductance by which vapour too thin to boil meets the metal; assumed
CARRY_TIME = 60.0  # [s], in which liquid beyond the accumulator is carried off; assumed
COLDEST = 203.15  # [K], of the search for a temperature
BELOW_CRITICAL = 6.0  # [K]; properties are taken there at the hottest: a protector opens long before
LEAST_THROUGH_END, LEAST_CARRYING, LEAST_FEED = 2e-5, 1e-5, 1e-7  # [kg/s]; keep ratios finite
LEAST_DIFFERENCE = 2000.0  # [Pa]
MOST_CARRIED = 0.3  # [-], of what the compressor draws that may be liquid
MOST_OF_A_SIDE = 0.9  # [-]
MOST_MADE_GOOD = 30.0  # [K]


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


def prepare(op, circuit: CircuitState, speed, running, room, condenser_fan, valve, step) -> None:
    """Work out the flows at the old state, and how they change with the two temperatures.

    ``speed`` in turns a second; ``running`` 1 where the motor turns; ``condenser_fan`` 1 at full speed;
    ``valve`` 1 where the switching valve feeds the last coil alone. In the order in which refrigerant meets
    the parts, from the condenser's end round to the compressor.
    """
    of = circuit.description
    circuit.room = room
    circuit.low = Side(op, circuit, of.low_volume, circuit.low_mass, circuit.evaporating)
    circuit.high = Side(op, circuit, of.high_volume, circuit.high_mass, circuit.condensing)
    circuit.air_pressure = trapped_air_pressure_of(of.air, circuit.condensing, of.high_volume)
    pressure = circuit.high.pressure + circuit.air_pressure
    air_side = condenser_air_conductance_of(
        of.condenser_still_conductance, of.condenser_air_conductance, condenser_fan
    )
    flooded, quality = _at_the_condensers_end(op, circuit, air_side)
    _through_the_capillary(op, circuit, pressure, quality, valve, step)
    coil_outlet = _along_the_coils(op, circuit, valve)
    exchange = _along_the_suction_line(op, circuit, coil_outlet)
    _through_the_compressor(op, circuit, pressure, exchange, speed, running, step)
    _into_the_condenser(circuit, pressure, air_side, flooded, step)


def _at_the_condensers_end(op, circuit, air_side):
    """Cool the liquid that floods the condenser; gives the flooded share and the vapour that gets past."""
    of, high, heat_capacity = circuit.description, circuit.high, circuit.liquid_heat_capacity
    quality = unsealed_quality_of(op, high.liquid, of.seal)
    flooded = flooded_share_of(op, high.liquid, of.seal, of.high_volume, circuit.liquid_density)
    subcooling = circuit.subcooling = condenser_subcooling_of(
        op, circuit.condensing - circuit.room, air_side * flooded,
        op.maximum(circuit.capillary_flow, LEAST_THROUGH_END) * heat_capacity,
    )  # fmt: skip
    circuit.feed_enthalpy = high.liquid_enthalpy + quality * high.latent_heat - heat_capacity * subcooling
    return flooded, quality


def _through_the_capillary(op, circuit, pressure, quality, valve, step):
    """Feed the low side: the flow, and its slopes with the two temperatures."""
    of, low, high = circuit.description, circuit.low, circuit.high
    liquid_density = degree_8(circuit.table.liquid_density, closeness(circuit.table, circuit.condensing))
    flow, unchoked = capillary_flow_of(
        op, of.capillary_diameter, capillary_length_in_use_of(valve, of.capillary_length, of.bypass_length),
        pressure, low.pressure, quality, circuit.subcooling, circuit.condensing,
        liquid_density, high.density, high.latent_heat, circuit.liquid_heat_capacity,
    )  # fmt: skip
    flow = op.where(pressure > low.pressure, flow * of.capillary_opening, 0.0)
    # Where vapour alone is left it runs out within the step: the flow is that of the step's end.
    damping = 1 / (1 + (1 - high.two_phase) * flow / op.maximum(circuit.high_mass, LEAST_MASS) * step)
    flow = circuit.capillary_flow = flow * damping
    difference = pressure - unchoked * low.pressure + LEAST_DIFFERENCE
    circuit.capillary_flow_high = flow * CHOKED_SLOPE * high.slope * high.pressure / difference
    circuit.capillary_flow_low = -unchoked * flow * 0.5 * low.slope * low.pressure / difference


def _along_the_coils(op, circuit, valve):
    """Lead vapour through the dry zones; gives its temperature behind the last coil."""
    last = circuit.coils[-1]
    capacity_flow = circuit.compressor_flow * circuit.vapor_heat_capacity
    thin = THIN_VAPOR * (1 - circuit.low.filling)
    cold = vapor = circuit.evaporating
    circuit.dry_heat = 0.0
    for coil in circuit.coils:
        passing = capacity_flow if coil is last else flow_through_first_coil_of(capacity_flow, valve)
        vapor, heat = warm_vapor(op, coil, vapor, cold, passing, thin)
        circuit.dry_heat = circuit.dry_heat + heat
    return vapor


def _along_the_suction_line(op, circuit, coil_outlet):
    """Carry off what the accumulator cannot hold; gives the heat that vapour takes in passing [J/kg]."""
    of, low, cold = circuit.description, circuit.low, circuit.evaporating
    heat_capacity = circuit.vapor_heat_capacity
    held = of.accumulator
    for coil in circuit.coils:
        held = held + coil.description.holding
    excess = op.maximum(low.liquid - held, 0.0)
    carried = op.minimum(
        excess / (CARRY_TIME * op.maximum(circuit.compressor_flow, LEAST_CARRYING)), MOST_CARRIED
    )
    superheat = circuit.superheat = coil_outlet - cold - carried * low.latent_heat / heat_capacity
    circuit.vapor_outlet_enthalpy = low.vapor_enthalpy + heat_capacity * superheat
    liquid_line = circuit.condensing - circuit.subcooling
    exchange = suction_line_exchange_of(
        of.exchange, liquid_line - cold - op.maximum(superheat, 0.0), heat_capacity
    )
    circuit.suction_line = cold + op.maximum(superheat + exchange / heat_capacity, 0.0)
    return exchange


def _through_the_compressor(op, circuit, pressure, exchange, speed, running, step):
    """Draw vapour: the flow, its slope with the evaporating temperature, and the heat that ends in it."""
    of, low, cold = circuit.description, circuit.low, circuit.evaporating
    density = low.density * cold / circuit.suction_line
    log_ratio = circuit.log_ratio = op.maximum(op.log(pressure / low.pressure), 0.0)
    flow = compressor_flow_of(op, log_ratio, of.pumping, of.displacement, speed * running, density)
    thinning = (1 - low.two_phase) * flow / op.maximum(circuit.low_mass, LEAST_MASS) * step
    circuit.compressor_flow = (flow + thinning * circuit.capillary_flow) / (1 + thinning)
    circuit.compressor_flow_low = flow * low.two_phase * (low.slope - 1 / cold) / (1 + thinning)
    circuit.exchanged = circuit.compressor_flow * exchange
    circuit.exponent = exponent_of(circuit.exponents, cold, circuit.condensing)
    circuit.pressure_over_density = low.pressure / density
    circuit.idle = of.idle_power * running * speed / of.full_speed
    work = isentropic_work_of(op, circuit.pressure_over_density, log_ratio, circuit.exponent)
    circuit.gas_heat = GAS_SHARE * compressor_power_of(flow, work, of.efficiency, circuit.idle)


def _into_the_condenser(circuit, pressure, air_side, flooded, step):
    """Reduce the condenser's metal to a line in the condensing temperature of the step's end."""
    of = circuit.description
    inside = circuit.condensing_conductance = condensing_conductance_of(
        of.condenser_refrigerant_conductance, flooded, circuit.air_pressure, pressure
    )
    outside = air_side * (1 - flooded)
    store = of.condenser_capacity / step
    share = 1 / (store + inside + outside)
    circuit.condenser_0 = (store * circuit.condenser + outside * circuit.room) * share
    circuit.condenser_1 = inside * share


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


def finish(op, circuit: CircuitState, evaporating, coil_heats, energised, valve, step) -> None:
    """Move mass and energy by the flows of the step's end, and settle where the liquid lies.

    ``energised`` is 1 where the motor is fed, turning or not; ``valve`` as in `prepare`.
    """
    condensing = op.clamp(circuit.condensing_0 + circuit.condensing_1 * evaporating, COLDEST, circuit.hottest)
    compressor_flow, capillary_flow, log_ratio = _flows_of_the_end(
        op, circuit, evaporating - circuit.evaporating, condensing - circuit.condensing, step
    )
    gas_heat = _draw_power(op, circuit, compressor_flow, log_ratio, energised)
    metal = circuit.condenser_0 + circuit.condenser_1 * condensing
    given_off = circuit.condensing_conductance * (condensing - metal)
    coil_heat = circuit.dry_heat
    for heat in coil_heats:
        coil_heat = coil_heat + heat
    vapor, feed, exchanged = circuit.vapor_outlet_enthalpy, circuit.feed_enthalpy, circuit.exchanged
    moved = (capillary_flow - compressor_flow) * step
    circuit.low_mass = circuit.low_mass + moved
    circuit.high_mass = circuit.high_mass - moved
    circuit.low_energy = circuit.low_energy + step * (
        coil_heat + capillary_flow * feed - compressor_flow * vapor - exchanged
    )
    circuit.high_energy = circuit.high_energy + step * (
        compressor_flow * vapor + exchanged + gas_heat - capillary_flow * feed - given_off
    )
    _settle_liquid(op, circuit, capillary_flow, coil_heats, valve, step)
    of = circuit.description
    circuit.shell = shell_temperature_after_of(
        circuit.shell, circuit.power - gas_heat, of.shell_capacity, of.shell_conductance, circuit.room, step
    )
    circuit.evaporating, circuit.condensing, circuit.condenser = evaporating, condensing, metal
    circuit.compressor_flow, circuit.capillary_flow = compressor_flow, capillary_flow
    circuit.gas_heat = gas_heat
    circuit.evaporated = circuit.evaporated + step * coil_heat
    circuit.compressed = circuit.compressed + step * gas_heat
    circuit.given_off = circuit.given_off + step * given_off


def _flows_of_the_end(op, circuit, colder, warmer, step):
    """Give both flows and the logarithm of the pressure ratio after the temperatures have moved so far."""
    of, low, high = circuit.description, circuit.low, circuit.high
    low_rise, high_rise = low.slope * colder, high.slope * warmer
    thicker_low = low_rise - colder / circuit.evaporating
    thicker_high = high_rise - warmer / circuit.condensing
    compressor_flow = circuit.compressor_flow * op.exp(low.two_phase * thicker_low)
    capillary_flow = (
        circuit.capillary_flow + circuit.capillary_flow_low * colder + circuit.capillary_flow_high * warmer
    )
    # No side gives away more than nine tenths of what it holds in a step, beside what comes in.
    most = MOST_OF_A_SIDE / step
    capillary_flow = op.clamp(capillary_flow, 0.0, most * circuit.high_mass)
    compressor_flow = op.minimum(compressor_flow, most * circuit.low_mass + capillary_flow)
    # The pressures of then, thin where a side holds too little to be saturated
    moved = (capillary_flow - compressor_flow) * step
    filling_low = op.minimum(
        1.0, (circuit.low_mass + moved) * low.filling / (low.density * of.low_volume) / op.exp(thicker_low)
    )
    filling_high = op.minimum(
        1.0,
        (circuit.high_mass - moved) * high.filling / (high.density * of.high_volume) / op.exp(thicker_high),
    )
    ratio = op.maximum(filling_high, 1e-3) * low.filling / (op.maximum(filling_low, 1e-3) * high.filling)
    log_ratio = op.maximum(circuit.log_ratio + high_rise - low_rise + op.log(ratio), 0.0)
    return compressor_flow, capillary_flow, log_ratio


def _draw_power(op, circuit, compressor_flow, log_ratio, energised):
    """Set the compressor's power, turning or humming; gives the part that ends in the vapour [W]."""
    of = circuit.description
    work = isentropic_work_of(op, circuit.pressure_over_density, log_ratio, circuit.exponent)
    turning = compressor_power_of(compressor_flow, work, of.efficiency, circuit.idle)
    humming = energised * (1 - of.starting) * of.locked_power
    circuit.power = turning + humming
    return GAS_SHARE * turning


def _settle_liquid(op, circuit, capillary_flow, coil_heats, valve, step):
    """Let liquid in where the valve sends it, boil off, run over; the last coil and beyond hold the rest."""
    low = circuit.low
    enthalpy = circuit.feed_enthalpy - circuit.exchanged / op.maximum(capillary_flow, LEAST_FEED)
    vapor_share = op.clamp((enthalpy - low.liquid_enthalpy) / low.latent_heat, 0.0, 1.0)
    coming = flow_through_first_coil_of(capillary_flow * (1 - vapor_share) * step, valve)
    left = low.liquid
    for coil, heat in zip(circuit.coils[:-1], coil_heats[:-1], strict=True):
        holding = coil.description.holding
        liquid = op.maximum(coil.liquid + coming - step * heat / low.latent_heat, 0.0)
        coming = op.maximum(liquid - holding, 0.0)
        coil.liquid = liquid - coming
        left = left - coil.liquid
    last = circuit.coils[-1]
    last.liquid = op.clamp(left, 0.0, last.description.holding)
