"""The circuit at one instant: state points, capacity, power, and where a set of parts settles.

What is inside: `cycle`, the four corners of a circuit between two temperatures; `settled_cycle`, the two
temperatures at which compressor, capillary, coil and condenser agree with each other. Both give a `Cycle`,
whose points draw the pressure-enthalpy picture. By the refrigerant tables throughout, for plain numbers.

A sealed circuit with a flammable refrigerant is opened by licensed hands only, by local codes and the maker's
instructions; these functions need no gauge.
"""

from __future__ import annotations

from typing import NamedTuple

from coldbench.errors import OutOfRange, check_range
from coldbench.parts.capillary import capillary_flow
from coldbench.parts.compressor import compressor_flow
from coldbench.properties import refrigerant as of

__all__ = ["Cycle", "Point", "cycle", "settled_cycle"]

MOST_ROUNDS = 40
MOST_HALVINGS = 6
CLOSE_ENOUGH = 1e-6  # [-], of each balance
NUDGE = 0.02  # [K], for slopes
LONGEST_STRIDE = 12.0  # [K], of one round
COLDEST, WARMEST = 218.15, 353.15  # [K], of the search
LIMIT_OF_VAPOR = 412.0  # [K], just inside the refrigerant tables


class Point(NamedTuple):
    """A state of the refrigerant.

    Attributes
    ----------
    pressure : float
        Absolute [Pa]
    temperature : float
        [K]
    enthalpy : float
        [J/kg]
    """

    pressure: float
    temperature: float
    enthalpy: float


class Cycle(NamedTuple):
    """A circuit at one instant.

    Attributes
    ----------
    coil_outlet : Point
        Vapour that leaves the coil
    suction : Point
        Vapour that the compressor draws
    discharge : Point
        Vapour that leaves the compressor
    condenser_outlet : Point
        Liquid before the capillary
    coil_inlet : Point
        Mixture behind the capillary
    mass_flow : float
        [kg/s]
    capacity : float
        Heat that the coil takes up [W]
    power : float
        That the compressor draws [W]
    given_off : float
        Heat that the condenser gives off [W]
    superheat : float
        At the coil's outlet [K]
    subcooling : float
        At the condenser's outlet [K]
    """

    coil_outlet: Point
    suction: Point
    discharge: Point
    condenser_outlet: Point
    coil_inlet: Point
    mass_flow: float
    capacity: float
    power: float
    given_off: float
    superheat: float
    subcooling: float

    @property
    def coefficient_of_performance(self) -> float:
        """Heat taken up over power [-]."""
        return self.capacity / self.power

    @property
    def pressure_ratio(self) -> float:
        """Discharge over suction pressure [-]."""
        return self.discharge.pressure / self.suction.pressure


def _vapor(refrigerant, pressure, saturation, superheat):
    """Enthalpy of vapour; without superheat that of the saturated."""
    if superheat <= 0:
        return of.vapor_enthalpy(refrigerant, saturation)
    return of.superheated_enthalpy(refrigerant, pressure, saturation + superheat)


def cycle(
    refrigerant: str, evaporating_temperature: float, condensing_temperature: float, *,
    superheat: float = 0.0, subcooling: float = 0.0, efficiency: float = 1.0, exchange: float = 0.0,
    shell_share: float = 0.0, mass_flow: float = 1.0,
) -> Cycle:  # fmt: skip
    r"""Give the corners of a circuit between two temperatures.

    .. math:: w = \frac{h(p_2, s_1) - h_1}{\eta}, \quad h_2 = h_1 + (1 - \sigma) w, \quad h_4 = h_3,
        \quad \mathrm{COP} = \frac{h_1 - h_4}{w}

    The suction-line exchanger takes from the liquid what it gives to the vapour.

    Parameters
    ----------
    refrigerant : str
        "R-134a", "R-600a", "R-290" or "R-12"
    evaporating_temperature : float
        [K], valid from 218.15 to 293.15
    condensing_temperature : float
        [K], valid from 283.15 to 353.15, above the evaporating one
    superheat : float
        At the coil's outlet [K], valid from 0 to 60
    subcooling : float
        At the condenser's outlet [K], valid from 0 to 40
    efficiency : float
        Work without loss over electric power [-], valid from 0.2 to 1
    exchange : float
        Effectiveness of the suction-line exchanger [-], valid from 0 to 1
    shell_share : float
        Part of the power that leaves through the compressor's shell [-], valid from 0 to 0.6
    mass_flow : float
        [kg/s], valid from 0 to 10

    Returns
    -------
    Cycle
        Points, heat and power [SI units]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range, or the discharge would be hotter than the
        refrigerant tables reach.
    CannotRead
        A `ValueError`, for a refrigerant that is not one of the four.

    References
    ----------
    The vapour-compression cycle of any textbook of thermodynamics; states by the refrigerant tables.

    Examples
    --------
    >>> round(cycle("R-134a", 246.98, 316.48).coefficient_of_performance, 2)
    2.42
    """
    check_range("evaporating_temperature", evaporating_temperature, COLDEST, 293.15, "K")
    check_range("condensing_temperature", condensing_temperature, 283.15, WARMEST, "K")
    check_range("superheat", superheat, 0.0, 60.0, "K")
    check_range("subcooling", subcooling, 0.0, 40.0, "K")
    check_range("efficiency", efficiency, 0.2, 1.0, "(as a fraction)")
    check_range("exchange", exchange, 0.0, 1.0, "(as a fraction)")
    check_range("shell_share", shell_share, 0.0, 0.6, "(as a fraction)")
    check_range("mass_flow", mass_flow, 0.0, 10.0, "kg/s")
    lift = condensing_temperature - evaporating_temperature
    check_range("lift", lift, 1.0, 200.0, "K", "the condenser must be warmer than the coil")
    low = of.saturation_pressure(refrigerant, evaporating_temperature)
    high = of.saturation_pressure(refrigerant, condensing_temperature)
    coil_outlet = Point(
        low, evaporating_temperature + superheat, _vapor(refrigerant, low, evaporating_temperature, superheat)
    )
    liquid_temperature = condensing_temperature - subcooling
    liquid = Point(high, liquid_temperature, of.liquid_enthalpy(refrigerant, liquid_temperature))
    warmer = superheat + exchange * max(liquid_temperature - coil_outlet.temperature, 0.0)
    suction = Point(
        low, evaporating_temperature + warmer, _vapor(refrigerant, low, evaporating_temperature, warmer)
    )
    if warmer > 0:
        entropy = of.superheated_entropy(refrigerant, low, suction.temperature)
    else:
        entropy = of.vapor_entropy(refrigerant, evaporating_temperature)
    ideal = _enthalpy_at_entropy(refrigerant, high, condensing_temperature, entropy)
    work = (ideal - suction.enthalpy) / efficiency
    enthalpy = suction.enthalpy + work * (1 - shell_share)
    discharge = Point(
        high, _temperature_at_enthalpy(refrigerant, high, condensing_temperature, enthalpy), enthalpy
    )
    coil_inlet = Point(
        low, evaporating_temperature, liquid.enthalpy - (suction.enthalpy - coil_outlet.enthalpy)
    )
    return Cycle(
        coil_outlet, suction, discharge, liquid, coil_inlet, mass_flow,
        capacity=mass_flow * (coil_outlet.enthalpy - coil_inlet.enthalpy),
        power=mass_flow * work,
        given_off=mass_flow * (discharge.enthalpy - liquid.enthalpy),
        superheat=superheat, subcooling=subcooling,
    )  # fmt: skip


def _enthalpy_at_entropy(refrigerant, pressure, saturation, entropy):
    """Enthalpy at the end of a loss-free compression: R-600a drawn without superheat ends a little wet."""
    dry = of.vapor_entropy(refrigerant, saturation)
    if entropy >= dry:
        temperature = of.superheated_temperature(refrigerant, pressure, entropy)
        return of.superheated_enthalpy(refrigerant, pressure, temperature)
    # In the mixture enthalpy and entropy go together, at the temperature of saturation.
    return of.vapor_enthalpy(refrigerant, saturation) - saturation * (dry - entropy)


def _temperature_at_enthalpy(refrigerant, pressure, saturation, enthalpy):
    """Temperature of vapour of a given enthalpy, that of saturation where it is wet [K]."""
    excess = enthalpy - of.vapor_enthalpy(refrigerant, saturation)
    temperature = saturation
    if excess <= 0:
        return temperature
    for _ in range(8):
        found = of.superheated_enthalpy(refrigerant, pressure, temperature)
        if abs(enthalpy - found) < 1.0:
            break
        per_kelvin = (of.superheated_enthalpy(refrigerant, pressure, temperature + 0.5) - found) / 0.5
        temperature = max(temperature + (enthalpy - found) / per_kelvin, saturation)
        if temperature > LIMIT_OF_VAPOR:
            raise OutOfRange(
                f"The discharge would be hotter than 139 °C at {pressure / 1e5:.1f} bar, off the tables of "
                "the refrigerant. A real compressor would trip before: lower the condensing temperature, or "
                "raise the evaporating one."
            )
    return temperature


def settled_cycle(
    refrigerant: str, air_temperature: float, room: float, *, coil_conductance: float = 14.0,
    condenser_conductance: float = 8.0, displacement: float = 9e-6, speed: float = 50.0,
    capillary_diameter: float = 0.66e-3, capillary_length: float = 2.9, superheat: float = 0.0,
    efficiency: float = 0.55, exchange: float = 0.8, shell_share: float = 0.4,
) -> Cycle:  # fmt: skip
    r"""Find where compressor, capillary, coil and condenser settle, with charge enough to wet the coil.

    .. math:: UA_{coil} (T_{air} - T_e) = \dot m (h_1 - h_4), \quad
        UA_{cond} (T_c - T_{room}) = \dot m (h_2 - h_3), \quad \dot m_{compressor} = \dot m_{capillary}

    Three balances for evaporating temperature, condensing temperature and subcooling. Where the capillary
    lets through less than the compressor wants, liquid backs up in the condenser until its subcooling drives
    enough; where it lets through more, vapour enters it.

    Parameters
    ----------
    refrigerant : str
        "R-134a", "R-600a" or "R-290"
    air_temperature : float
        Of the air that enters the coil [K], valid from 233.15 to 303.15
    room : float
        Temperature of the room [K], valid from 273.15 to 323.15
    coil_conductance : float
        Air to boiling refrigerant, over the whole coil [W/K], valid from 0.5 to 500
    condenser_conductance : float
        Condensing refrigerant to room air [W/K], valid from 0.5 to 500
    displacement : float
        Of the compressor, a turn [m3], valid from 0.5e-6 to 100e-6
    speed : float
        Of the compressor [rev/s], valid from 5 to 200
    capillary_diameter : float
        [m], valid from 0.0003 to 0.002
    capillary_length : float
        [m], valid from 0.5 to 10
    superheat : float
        At the coil's outlet [K], valid from 0 to 60
    efficiency : float
        Work without loss over electric power [-], valid from 0.2 to 1
    exchange : float
        Effectiveness of the suction-line exchanger [-], valid from 0 to 1
    shell_share : float
        Part of the power that leaves through the compressor's shell [-], valid from 0 to 0.6

    Returns
    -------
    Cycle
        Points, heat and power [SI units]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range, or the parts agree nowhere within it.
    CannotRead
        A `ValueError`, for a refrigerant that is not one of the four.

    References
    ----------
    Balance of the four parts, any textbook of refrigeration; solved by Newton's method.

    Examples
    --------
    >>> found = settled_cycle("R-600a", 255.15, 298.15)
    >>> round(found.coil_inlet.temperature - 273.15), round(found.condenser_outlet.pressure / 1e5, 1)
    (-27, 6.3)
    """
    check_range("air_temperature", air_temperature, 233.15, 303.15, "K", "give kelvin: 0 °F is 255.4 K")
    check_range("room", room, 273.15, 323.15, "K", "give kelvin: 25 °C is 298.15 K")
    check_range("coil_conductance", coil_conductance, 0.5, 500.0, "W/K")
    check_range("condenser_conductance", condenser_conductance, 0.5, 500.0, "W/K")
    check_range("displacement", displacement, 5e-7, 1e-4, "m3", "9 cubic centimetres are 9e-6")
    check_range("speed", speed, 5.0, 200.0, "rev/s", "3000 turns a minute are 50 a second")

    def at(evaporating, condensing, feeding):
        """The cycle, and how far its three balances are off; ``feeding`` is subcooling, below zero vapour."""
        subcooling, quality = max(feeding, 0.0), min(max(-feeding / 40.0, 0.0), 1.0)
        found = cycle(
            refrigerant, evaporating, condensing, superheat=superheat, subcooling=subcooling,
            efficiency=efficiency, exchange=exchange, shell_share=shell_share,
        )  # fmt: skip
        density = of.superheated_density(refrigerant, found.suction.pressure, found.suction.temperature)
        flow = compressor_flow(displacement, speed, density, min(found.pressure_ratio, 90.0))
        fed = capillary_flow(
            refrigerant, capillary_diameter, capillary_length, condensing, found.coil_inlet.pressure,
            subcooling=min(subcooling, 30.0), quality=quality,
        )  # fmt: skip
        lost = quality * of.latent_heat(refrigerant, condensing)  # vapour that did not condense
        capacity, given_off = flow * (found.capacity - lost), flow * (found.given_off - lost)
        taken = coil_conductance * (air_temperature - evaporating)
        rejected = condenser_conductance * (condensing - room)
        scale = coil_conductance * 10.0
        return (found, flow, lost), (
            (taken - capacity) / scale,
            (rejected - given_off) / scale,
            (flow - fed) / flow,
        )

    start = min(max(air_temperature - 9.0, COLDEST + 1), 290.0)
    heat = min(
        coil_conductance * 9.0, 250e3 * displacement * speed * of.vapor_density(refrigerant, start) * 0.7
    )
    unknown = [start, min(max(room + 1.2 * heat / condenser_conductance, 290.0), WARMEST - 1), 3.0]
    limits = ((COLDEST, 292.0), (284.0, WARMEST - 0.1), (-40.0, 30.0))
    state, off = at(*unknown)
    for _ in range(MOST_ROUNDS):
        if max(map(abs, off)) < CLOSE_ENOUGH:
            (found, flow, lost) = state
            inlet = found.coil_inlet._replace(enthalpy=found.coil_inlet.enthalpy + lost)
            outlet = found.condenser_outlet._replace(enthalpy=found.condenser_outlet.enthalpy + lost)
            return found._replace(
                coil_inlet=inlet, condenser_outlet=outlet, mass_flow=flow, power=flow * found.power,
                capacity=flow * (found.capacity - lost), given_off=flow * (found.given_off - lost),
            )  # fmt: skip
        columns = []
        for place in range(3):
            nudged = list(unknown)
            nudge = NUDGE if unknown[place] + NUDGE < limits[place][1] else -NUDGE
            nudged[place] += nudge
            columns.append([(new - old) / nudge for new, old in zip(at(*nudged)[1], off, strict=True)])
        stride = _solved(columns, off)
        shorten = min(1.0, LONGEST_STRIDE / max(max(map(abs, stride)), 1e-12))
        state, off, unknown = _next_round(at, unknown, stride, shorten, limits)
    raise OutOfRange(
        f"These parts settle nowhere: with coil air at {air_temperature:.1f} K and the room at {room:.1f} K "
        "the balances have no solution within the refrigerant tables. Change one part at a time from the "
        "usual sizes."
    )


def _next_round(at, unknown, stride, shorten, limits):
    """Take a stride, half of it where the whole would leave the refrigerant tables."""
    for _ in range(MOST_HALVINGS):
        new = [
            min(max(value - shorten * part, low), high)
            for value, part, (low, high) in zip(unknown, stride, limits, strict=True)
        ]
        try:
            return *at(*new), new
        except OutOfRange as trouble:
            last = trouble
            shorten = shorten / 2
    raise last


def _solved(columns, right):
    """Solve three equations by Cramer's rule; columns hold the slopes by each unknown."""
    (a, d, g), (b, e, h), (c, f, i) = columns
    p, q, r = right
    whole = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g)
    return (
        (p * (e * i - f * h) - b * (q * i - f * r) + c * (q * h - e * r)) / whole,
        (a * (q * i - f * r) - p * (d * i - f * g) + c * (d * r - q * g)) / whole,
        (a * (e * r - q * h) - b * (d * r - q * g) + p * (d * h - e * g)) / whole,
    )
