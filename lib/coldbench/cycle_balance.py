"""The circuit that finds its own balance: from its parts, the air around them, the speed and the charge.

What is inside: `CoilPart` and `CircuitParts`, what it is made of; `circuit_at`, the two temperatures, the
liquid in the condenser, and from them the whole `coldbench.cycle.Cycle`.

Three statements must hold at once: coils and room exchange just the heat that the refrigerant carries (two),
and the capillary lets through just what the compressor draws (one). Three unknowns follow: evaporating and
condensing temperature, and the liquid that stands in the condenser. What it does not hold wets the coils, in
their order; the first that runs short is the last. Everything rests: no metal warms or cools, no frost grows.

One circuit at a time, in plain floats.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, log

from coldbench.cycle import Cycle, circuit_points
from coldbench.errors import CannotRead, OutOfRange, check_range
from coldbench.operations import FLOATS
from coldbench.parts.capillary import capillary_flow_of
from coldbench.parts.compressor import (
    EXPONENTS,
    GAS_SHARE,
    compressor_power_of,
    exponent_of,
    isentropic_work_of,
    volumetric_efficiency_of,
)
from coldbench.parts.condenser import condenser_subcooling_of, flooded_share_of, unsealed_quality_of
from coldbench.properties.refrigerant_polynomials import (
    closeness,
    degree_8,
    log_pressure_at,
    superheated_at,
    table_of,
)

__all__ = ["Balance", "CircuitParts", "CoilPart", "circuit_at"]

LOW_VOLUME, HIGH_VOLUME = 0.0020, 0.00025  # [m3], of coils and suction line; of condenser; assumed
STEPS = 40
ROUNDS = 3
LEAST_FLOW = 1e-7  # [kg/s]; keeps logarithms and ratios finite
FINE = 1e-7  # [-], of what circulates; then the balances hold to a millionth
COLDEST, HOTTEST = 213.5, 362.0  # [K]; the tables' ends, less a margin


@dataclass(frozen=True, slots=True)
class CoilPart:
    """A coil with its fan, as the circuit meets it.

    Attributes
    ----------
    conductance : float
        From the air that enters to the refrigerant that boils, wet throughout [W/K]
    vapor_conductance : float
        From the air to vapour, dry throughout [W/K]
    holding : float
        Liquid that wets it throughout [kg]
    """

    conductance: float
    vapor_conductance: float = 4.0
    holding: float = 0.030


@dataclass(frozen=True, slots=True)
class CircuitParts:
    """What a sealed circuit is made of. All numbers are invented; none was measured.

    Attributes
    ----------
    refrigerant : str
        "R-134a", "R-600a" or "R-290"
    coils : tuple of CoilPart
        In the order in which refrigerant meets them
    charge : float
        Refrigerant in it [kg]
    displacement : float
        Of the compressor, a turn [m3]
    capillary_diameter : float
        [m]
    capillary_length : float
        [m]
    condenser_conductance : float
        From condensing refrigerant to the room, fan at full speed [W/K]
    seal : float
        Liquid that must stand at the condenser's end to seal the capillary [kg]
    efficiency : float
        Of motor and compression together [-]
    idle_power : float
        Drawn at full speed without pumping [W]
    full_speed : float
        Of the compressor [rev/s]
    exchange : float
        Effectiveness of the suction-line exchanger [-]
    pumping : float
        Health of the compressor's valves; 1 sound [-]
    capillary_opening : float
        Flow over that of a clean capillary [-]
    """

    refrigerant: str
    coils: tuple[CoilPart, ...]
    charge: float
    displacement: float
    capillary_diameter: float
    capillary_length: float
    condenser_conductance: float = 7.5
    seal: float = 0.0135
    efficiency: float = 0.60
    idle_power: float = 8.0
    full_speed: float = 50.0
    exchange: float = 0.8
    pumping: float = 1.0
    capillary_opening: float = 1.0


@dataclass(frozen=True, slots=True)
class Balance:
    """A circuit at one instant, and how its parts share the work.

    Attributes
    ----------
    cycle : Cycle
        The six places, and heat and work between them
    coil_heat : tuple of float
        Heat that each coil takes from its air [W]
    wet_share : tuple of float
        Share of each coil that liquid wets [-]
    condenser_liquid : float
        Liquid that stands in the condenser [kg]
    """

    cycle: Cycle
    coil_heat: tuple[float, ...]
    wet_share: tuple[float, ...]
    condenser_liquid: float


@dataclass(frozen=True, slots=True)
class _Around:
    """What surrounds the circuit and drives it; what its refrigerant is."""

    parts: CircuitParts
    airs: tuple[float, ...]
    room: float
    speed: float
    condenser_fan: float
    table: object
    vapor_heat_capacity: float


class _Trial:
    """What flows at two temperatures and an amount of condensed liquid that are being tried."""

    def __init__(self, around: _Around, unknowns):
        self.cold, self.warm, self.liquid = cold, warm, liquid = unknowns
        parts, table, room = around.parts, around.table, around.room
        x, hot = closeness(table, cold), closeness(table, warm)
        low, high = exp(log_pressure_at(table, cold)), exp(log_pressure_at(table, warm))
        low_density = low / (degree_8(table.vapor_compressibility, x) * table.gas_constant * cold)
        high_density = high / (degree_8(table.vapor_compressibility, hot) * table.gas_constant * warm)
        saturated, boiled = degree_8(table.liquid_enthalpy, hot), degree_8(table.vapor_enthalpy, x)
        latent = degree_8(table.vapor_enthalpy, hot) - saturated
        liquid_density = degree_8(table.liquid_density, hot)
        heat_capacity = (saturated - degree_8(table.liquid_enthalpy, closeness(table, warm - 10.0))) / 10.0
        # Condenser: liquid beyond the seal floods its end and is cooled there by the room's air.
        conductance = parts.condenser_conductance * around.condenser_fan
        quality = unsealed_quality_of(FLOATS, liquid, parts.seal)
        flooded = flooded_share_of(FLOATS, liquid, parts.seal, HIGH_VOLUME, liquid_density)
        # Coils: what does not stand in the condenser wets them, in their order.
        vapor_mass = LOW_VOLUME * low_density + max(HIGH_VOLUME - liquid / liquid_density, 0.0) * high_density
        left = parts.charge - liquid - vapor_mass
        self.wet_share = []
        for coil in parts.coils:
            self.wet_share.append(min(max(left / coil.holding, 0.0), 1.0))
            left -= coil.holding
        # The flow decides superheat and subcooling, and they the flow: a few rounds from a first guess.
        log_ratio = max(log(high / low), 0.0)
        swept = (
            parts.pumping * parts.displacement * around.speed * volumetric_efficiency_of(FLOATS, log_ratio)
        )
        flow = max(0.85 * swept * low_density, LEAST_FLOW)
        for _ in range(ROUNDS):
            subcooling = condenser_subcooling_of(
                FLOATS, warm - room, conductance * flooded, flow * heat_capacity
            )
            self.leaving = [cold]  # temperature of what leaves each coil
            for coil, wet, air in zip(parts.coils, self.wet_share, around.airs, strict=True):
                units = coil.vapor_conductance * (1 - wet) / (flow * around.vapor_heat_capacity)
                before = self.leaving[-1]
                self.leaving.append(before + (air - before) * (1 - exp(-units)))
            suction = self.leaving[-1] + parts.exchange * (warm - subcooling - self.leaving[-1])
            compressibility = superheated_at(
                table, table.vapor_compressibility, table.superheated_compressibility, cold, suction
            )
            density = low / (compressibility * table.gas_constant * suction)
            flow = max(swept * density, LEAST_FLOW)
        enthalpies = [
            superheated_at(table, table.vapor_enthalpy, table.superheated_enthalpy, cold, one)
            for one in [*self.leaving[1:], suction]
        ]
        # Heat of each coil, work, and heat of the condenser
        inlet = enthalpies[-1]
        self.coil_heat = [
            coil.conductance * wet * (air - cold) + flow * (after - before)
            for coil, wet, air, before, after in zip(
                parts.coils, self.wet_share, around.airs, [boiled, *enthalpies], enthalpies[:-1], strict=False
            )
        ]
        exponent = exponent_of(EXPONENTS[parts.refrigerant], cold, warm)
        work = isentropic_work_of(FLOATS, low / density, log_ratio, exponent)
        idle_power = parts.idle_power * around.speed / parts.full_speed
        self.power = compressor_power_of(flow, work, parts.efficiency, idle_power)
        self.discharge = inlet + GAS_SHARE * self.power / flow
        liquid_enthalpy = degree_8(table.liquid_enthalpy, closeness(table, warm - subcooling))
        self.feed = liquid_enthalpy + quality * latent
        self.heat_rejected = conductance * (1 - flooded) * (warm - room) + flow * (
            saturated - liquid_enthalpy
        )
        through, _ = capillary_flow_of(
            FLOATS, parts.capillary_diameter, parts.capillary_length, high, low, quality, subcooling, warm,
            liquid_density, high_density, latent, heat_capacity,
        )  # fmt: skip
        self.flow, self.suction, self.subcooling = flow, suction, subcooling
        # What does not balance, each as a share of what circulates
        scale = flow * latent
        self.unbalanced = (
            (sum(self.coil_heat) - flow * (inlet - self.feed)) / scale,
            (self.heat_rejected - flow * (self.discharge - self.feed)) / scale,
            log(max(through * parts.capillary_opening, LEAST_FLOW) / flow),
        )
        self.size = max(map(abs, self.unbalanced))


def _solve_three(rows, right):
    """Solve three linear equations by elimination with the largest pivot."""
    rows = [[*row, value] for row, value in zip(rows, right, strict=True)]
    for place in range(3):
        best = max(range(place, 3), key=lambda row: abs(rows[row][place]))
        rows[place], rows[best] = rows[best], rows[place]
        for row in range(place + 1, 3):
            factor = rows[row][place] / rows[place][place]
            rows[row] = [one - factor * other for one, other in zip(rows[row], rows[place], strict=True)]
    found = [0.0, 0.0, 0.0]
    for place in (2, 1, 0):
        rest = sum(rows[place][column] * found[column] for column in range(place + 1, 3))
        found[place] = (rows[place][3] - rest) / rows[place][place]
    return found


def _balanced(around: _Around) -> _Trial:
    """Find the balance by Newton's method with steps that are kept short."""
    charge = around.parts.charge
    unknowns = [min(around.airs) - 10.0, around.room + 15.0, min(around.parts.seal * 1.2, charge * 0.4)]
    lengths = (0.01, 0.01, 1e-5 * charge)
    longest = (10.0, 10.0, 0.12 * charge)
    lowest = (COLDEST, around.room + 0.01, 0.0)
    highest = (max(around.airs), HOTTEST, 0.999 * charge)
    here = _Trial(around, unknowns)
    for _ in range(STEPS):
        if here.size < FINE:
            return here
        columns = []
        for place, length in enumerate(lengths):
            moved = list(unknowns)
            moved[place] += length
            there = _Trial(around, moved)
            columns.append([(b - a) / length for a, b in zip(here.unbalanced, there.unbalanced, strict=True)])
        rows = [[column[row] for column in columns] for row in range(3)]
        try:
            step = _solve_three(rows, [-one for one in here.unbalanced])
        except ZeroDivisionError:
            break
        share = min(1.0, *(most / max(abs(one), 1e-30) for one, most in zip(step, longest, strict=True)))
        best = None
        for _ in range(5):
            tried = [
                min(max(one + share * change, least), most)
                for one, change, least, most in zip(unknowns, step, lowest, highest, strict=True)
            ]
            trial = _Trial(around, tried)
            if best is None or trial.size < best.size:
                best, chosen = trial, tried
            if trial.size < here.size:
                break
            share /= 2
        here, unknowns = best, chosen
    raise OutOfRange(
        f"With air of {min(around.airs):.1f} K at the coil, a room of {around.room:.1f} K and "
        f"{around.speed:.0f} turns a second these parts find no balance from -59 to 88 °C. Bring the air, "
        "the room or the parts nearer to those of a household machine."
    )


def circuit_at(
    parts: CircuitParts, air_temperatures: Sequence[float], room: float, speed: float,
    condenser_fan: float = 1.0,
) -> Balance:  # fmt: skip
    r"""Find the circuit's state at one instant from its parts and the air around them.

    .. math:: \sum_i UA_i \, w_i (T_i - T_e) + \dot m \, \Delta h_{dry}
        = \dot m (h_{suction} - h_{liquid}), \quad UA_c (1 - f)(T_c - T_{room}) + \dot m \, \Delta h_{sub}
        = \dot m (h_{discharge} - h_{liquid}), \quad \dot m_{capillary} = \dot m_{compressor}

    with the wet share w of each coil and the flooded share f of the condenser. Liquid beyond what wets the
    coils counts as held back by the accumulator; liquid that floods the compressor is left out.

    With two coils, a few settings at which it would boil warmer than the air of the colder one (some 2 % of a
    wide grid, all with a strong first coil and little compressor) are refused for want of a balance.

    Parameters
    ----------
    parts : CircuitParts
        What the circuit is made of
    air_temperatures : sequence of float
        Of the air that enters each coil [K], valid from 223.15 to 310.15
    room : float
        Temperature of the room [K], valid from 273.15 to 323.15
    speed : float
        Of the compressor [rev/s], valid from 10 to 100
    condenser_fan : float
        Conductance of the condenser over that at full fan speed [-], valid from 0.1 to 1

    Returns
    -------
    Balance
        The cycle, and how its parts share the work

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range, there is not one air temperature for each
        coil, the parts find no balance within the tables, or the vapour would leave the compressor at more
        than 140 °C.
    CannotRead
        A `ValueError`, for a refrigerant that is not one of the three.

    References
    ----------
    Energy and mass balance of a circuit at rest; parts as in `coldbench.parts`.

    Examples
    --------
    >>> parts = CircuitParts("R-134a", (CoilPart(15.0),), 0.115, 4.5e-6, 0.60e-3, 3.6)
    >>> found = circuit_at(parts, [255.4], 298.2, 50.0).cycle
    >>> round(found.evaporating_temperature - 273.15), round(found.condensing_temperature - 273.15)
    (-25, 47)
    """
    for air in air_temperatures:
        check_range("air_temperature", air, 223.15, 310.15, "K", "0 °F is 255.4 K")
    check_range("number_of_air_temperatures", len(air_temperatures), len(parts.coils), len(parts.coils), "")
    check_range("room", room, 273.15, 323.15, "K", "77 °F is 298.2 K")
    check_range("speed", speed, 10.0, 100.0, "rev/s", "3000 turns a minute are 50 a second")
    check_range("condenser_fan", condenser_fan, 0.1, 1.0, "(as a fraction)")
    if parts.refrigerant not in EXPONENTS:
        names = ", ".join(EXPONENTS)
        raise CannotRead(f'There is no compressor for "{parts.refrigerant}" here. Write one of {names}.')
    table = table_of(parts.refrigerant)
    vapor = table.vapor_enthalpy, table.superheated_enthalpy
    heat_capacity = (
        superheated_at(table, *vapor, 245.0, 275.0) - superheated_at(table, *vapor, 245.0, 245.0)
    ) / 30
    found = _balanced(
        _Around(parts, tuple(air_temperatures), room, speed, condenser_fan, table, heat_capacity)
    )
    points = circuit_points(
        parts.refrigerant, found.cold, found.warm, found.leaving[-1], found.suction, found.discharge,
        found.warm + 30.0, found.feed,
    )  # fmt: skip
    cycle = Cycle(
        parts.refrigerant,
        found.cold,
        found.warm,
        points,
        found.flow,
        capacity=found.flow * (points["coil_outlet"].enthalpy - points["coil_inlet"].enthalpy),
        power=found.power,
        heat_rejected=found.flow
        * (points["compressor_outlet"].enthalpy - points["condenser_outlet"].enthalpy),
        shell_heat=(1 - GAS_SHARE) * found.power,
        superheat=found.leaving[-1] - found.cold,
        subcooling=found.subcooling,
    )
    return Balance(cycle, tuple(found.coil_heat), tuple(found.wet_share), found.liquid)
