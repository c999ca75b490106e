"""The circuit at one instant: compressor, condenser, capillary and coil brought together.

What is inside: `State`, one place in the circuit; `Cycle`, all of them with the flows of heat and work
between them; `textbook_cycle`, the cycle at given evaporating and condensing temperatures, ideal or with
efficiencies; `carnot_coefficient`, what no machine can pass. The circuit that finds its own two temperatures
from its parts and the air around them is in `coldbench.cycle_balance`.

Pressure losses in coils and pipes are left out, so that there is one low and one high pressure. Pressures are
absolute; a gauge shows them less the air's pressure.
"""

from __future__ import annotations

from dataclasses import dataclass

from coldbench.errors import OutOfRange, check_range
from coldbench.operations import operations
from coldbench.properties.refrigerant import (
    latent_heat,
    liquid_enthalpy,
    saturation_pressure,
    saturation_temperature,
    superheated_enthalpy,
    superheated_entropy,
    superheated_temperature,
    vapor_enthalpy,
)

__all__ = ["Cycle", "State", "carnot_coefficient", "textbook_cycle"]

COLDEST, HOTTEST = 214.15, 413.15  # [K]; of the tables, with a degree to spare at the cold end
NEWTON_STEPS = 5  # from a start within some kelvins; then temperature and enthalpy agree to 1e-6 K


@dataclass(frozen=True, slots=True)
class State:
    """Refrigerant at one place of the circuit.

    Attributes
    ----------
    pressure : float or array
        Absolute [Pa]
    temperature : float or array
        [K]
    enthalpy : float or array
        [J/kg]
    quality : float or array
        Share of vapour in a mixture; 0 for liquid, 1 for vapour [-]
    """

    pressure: float
    temperature: float
    enthalpy: float
    quality: float


@dataclass(frozen=True, slots=True)
class Cycle:
    """A circuit at one instant: six places, and what flows between them.

    The places, in the refrigerant's order: ``compressor_inlet``, ``compressor_outlet``, ``condenser_outlet``,
    ``capillary_inlet`` (after the suction-line exchanger), ``coil_inlet``, ``coil_outlet``.

    Attributes
    ----------
    refrigerant : str
        Its name
    evaporating_temperature, condensing_temperature : float or array
        [K]
    points : dict
        Place to its `State`
    mass_flow : float or array
        Refrigerant that circulates [kg/s]
    capacity : float or array
        Heat that the coil, or all coils together, take up [W]
    power : float or array
        What the compressor draws [W]
    heat_rejected : float or array
        Heat that the condenser gives off [W]
    shell_heat : float or array
        Heat that the compressor's shell gives off [W]
    superheat : float or array
        Of the vapour where it leaves the (last) coil [K]
    subcooling : float or array
        Of the liquid where it leaves the condenser [K]
    """

    refrigerant: str
    evaporating_temperature: float
    condensing_temperature: float
    points: dict[str, State]
    mass_flow: float
    capacity: float
    power: float
    heat_rejected: float
    shell_heat: float
    superheat: float
    subcooling: float

    @property
    def suction_pressure(self) -> float:
        """Absolute pressure on the low side [Pa]."""
        return self.points["compressor_inlet"].pressure

    @property
    def discharge_pressure(self) -> float:
        """Absolute pressure on the high side [Pa]."""
        return self.points["compressor_outlet"].pressure

    @property
    def pressure_ratio(self) -> float:
        """Discharge over suction pressure, both absolute [-]."""
        return self.discharge_pressure / self.suction_pressure

    @property
    def cooling_effect(self) -> float:
        """Heat that each kilogram takes up in the coil [J/kg]."""
        return self.points["coil_outlet"].enthalpy - self.points["coil_inlet"].enthalpy

    @property
    def coefficient_of_performance(self) -> float:
        """Watts of cooling for each watt that the compressor draws [-]."""
        return self.capacity / self.power


def carnot_coefficient(evaporating_temperature: float, condensing_temperature: float) -> float:
    r"""Coefficient of performance that no machine between two temperatures can pass.

    .. math:: \mathrm{COP}_C = \frac{T_e}{T_c - T_e}

    Parameters
    ----------
    evaporating_temperature : float or array
        At which heat is taken up [K], valid from 100 to 400
    condensing_temperature : float or array
        At which heat is given off [K], warmer by 0.1 to 300 K

    Returns
    -------
    float or array
        Coefficient of performance [-]

    Raises
    ------
    OutOfRange
        A `ValueError`: a temperature lies outside its valid range.

    References
    ----------
    S. Carnot's cycle, any textbook of thermodynamics.

    Examples
    --------
    >>> round(carnot_coefficient(268.0, 308.0), 1)
    6.7
    """
    check_range("evaporating_temperature", evaporating_temperature, 100.0, 400.0, "K")
    lift = condensing_temperature - evaporating_temperature
    check_range("temperature_lift", lift, 0.1, 300.0, "K", "the condenser must be warmer than the coil")
    return evaporating_temperature / lift


def textbook_cycle(
    refrigerant: str, evaporating_temperature: float, condensing_temperature: float, mass_flow: float = 1.0,
    superheat: float = 0.0, subcooling: float = 0.0, efficiency: float = 1.0, exchange: float = 0.0,
) -> Cycle:  # fmt: skip
    r"""The cycle between two given temperatures, as a textbook draws it.

    .. math:: h_2 = h_1 + \frac{h(p_c, s_1) - h_1}{\eta}, \quad
        q = h_{coil\,outlet} - h_{coil\,inlet}, \quad \mathrm{COP} = \frac{q}{h_2 - h_1}

    All of the compressor's work ends in the vapour. With an exchanger the suction vapour is warmed by
    ``exchange`` times the distance to the liquid's temperature, and the liquid gives just that heat.

    Parameters
    ----------
    refrigerant : str
        "R-134a", "R-600a", "R-290" or "R-12"
    evaporating_temperature : float or array
        In the coil [K], valid from 213.15 to 343.15
    condensing_temperature : float or array
        In the condenser [K], valid from the evaporating temperature to 363.15
    mass_flow : float or array
        Refrigerant that circulates [kg/s], valid from 0 to 1000
    superheat : float or array
        Of the vapour where it leaves the coil [K], valid from 0 to 60
    subcooling : float or array
        Of the liquid where it leaves the condenser [K], valid from 0 to 60
    efficiency : float or array
        Work without loss over work done [-], valid from 0.2 to 1
    exchange : float or array
        Effectiveness of the suction-line exchanger [-], valid from 0 to 1

    Returns
    -------
    Cycle
        Its states, heat and work; ``shell_heat`` is 0

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range, or the vapour would leave the compressor at
        more than 140 °C, where the tables end.
    CannotRead
        A `ValueError`, for a refrigerant that is not one of the four.

    References
    ----------
    The vapour-compression cycle of any textbook of thermodynamics.

    Examples
    --------
    >>> cycle = textbook_cycle("R-134a", 247.04, 316.48)
    >>> round(cycle.coefficient_of_performance, 2)
    2.42
    """
    check_range("evaporating_temperature", evaporating_temperature, 213.15, 343.15, "K")
    check_range("condensing_temperature", condensing_temperature, 213.15, 363.15, "K")
    check_range(
        "temperature_lift", condensing_temperature - evaporating_temperature, 0.0, 150.0, "K",
        "the condenser must be warmer than the coil",
    )  # fmt: skip
    check_range("mass_flow", mass_flow, 0.0, 1000.0, "kg/s")
    check_range("superheat", superheat, 0.0, 60.0, "K")
    check_range("subcooling", subcooling, 0.0, 60.0, "K")
    check_range("efficiency", efficiency, 0.2, 1.0, "(as a fraction)")
    check_range("exchange", exchange, 0.0, 1.0, "(as a fraction)")
    low = saturation_pressure(refrigerant, evaporating_temperature)
    high = saturation_pressure(refrigerant, condensing_temperature)
    coil_outlet = evaporating_temperature + superheat
    liquid = condensing_temperature - subcooling
    suction = coil_outlet + exchange * (liquid - coil_outlet)
    inlet = superheated_enthalpy(refrigerant, low, suction)
    entropy = superheated_entropy(refrigerant, low, suction)
    # R-600a compressed without loss from saturation ends a little wet: below saturation, dh = T ds.
    op = operations(high, entropy)
    dry = superheated_entropy(refrigerant, high, condensing_temperature)
    ideal = superheated_temperature(refrigerant, high, op.maximum(entropy, dry))
    wet = condensing_temperature * op.maximum(dry - entropy, 0.0)
    work = (superheated_enthalpy(refrigerant, high, ideal) - wet - inlet) / efficiency
    points = circuit_points(
        refrigerant, evaporating_temperature, condensing_temperature, coil_outlet, suction, inlet + work,
        ideal, liquid_enthalpy(refrigerant, liquid),
    )  # fmt: skip
    return Cycle(
        refrigerant,
        evaporating_temperature,
        condensing_temperature,
        points,
        mass_flow,
        capacity=mass_flow * (points["coil_outlet"].enthalpy - points["coil_inlet"].enthalpy),
        power=mass_flow * work,
        heat_rejected=mass_flow * (inlet + work - points["condenser_outlet"].enthalpy),
        shell_heat=0.0 * mass_flow,
        superheat=superheat,
        subcooling=subcooling,
    )


def circuit_points(
    refrigerant, evaporating_temperature, condensing_temperature, coil_outlet, suction, discharge, near, feed
) -> dict[str, State]:
    """Work out the six states, unchecked.

    ``coil_outlet`` and ``suction`` are temperatures at the coil's outlet and the compressor's inlet;
    ``discharge`` and ``feed`` enthalpies behind compressor and condenser; ``near`` a temperature near that
    of the compressor's outlet.
    """
    low = saturation_pressure(refrigerant, evaporating_temperature)
    high = saturation_pressure(refrigerant, condensing_temperature)
    vapor = superheated_enthalpy(refrigerant, low, coil_outlet)
    inlet = superheated_enthalpy(refrigerant, low, suction)
    fed = feed - (inlet - vapor)
    hot = temperature_of_vapor(refrigerant, high, discharge, near)
    missing = operations(discharge).maximum(
        vapor_enthalpy(refrigerant, condensing_temperature) - discharge, 0.0
    )
    wet = missing / latent_heat(refrigerant, condensing_temperature)
    return {
        "compressor_inlet": State(low, suction, inlet, 1.0),
        "compressor_outlet": State(high, hot, discharge, 1.0 - wet),
        "condenser_outlet": liquid_or_mixture(refrigerant, high, condensing_temperature, feed),
        "capillary_inlet": liquid_or_mixture(refrigerant, high, condensing_temperature, fed),
        "coil_inlet": liquid_or_mixture(refrigerant, low, evaporating_temperature, fed),
        "coil_outlet": State(low, coil_outlet, vapor, 1.0),
    }


def liquid_or_mixture(refrigerant, pressure, saturation, enthalpy) -> State:
    """Give the state of an enthalpy below that of vapour: a mixture, or liquid found by Newton's method."""
    op = operations(saturation, enthalpy)
    liquid = liquid_enthalpy(refrigerant, saturation)
    quality = op.maximum((enthalpy - liquid) / latent_heat(refrigerant, saturation), 0.0)
    temperature = saturation
    for _ in range(NEWTON_STEPS):
        here = liquid_enthalpy(refrigerant, temperature)
        slope = here - liquid_enthalpy(refrigerant, temperature - 1.0)
        colder = op.minimum((enthalpy - here) / slope, saturation - temperature)
        temperature = op.maximum(temperature + colder, COLDEST)
    return State(pressure, temperature, enthalpy, quality)


def temperature_of_vapor(refrigerant: str, pressure, enthalpy, near):
    """Give the temperature of superheated vapour by Newton's method from one near it [K]."""
    op = operations(pressure, enthalpy)
    boiling = saturation_temperature(refrigerant, pressure)
    hottest = superheated_enthalpy(refrigerant, pressure, HOTTEST + 0.0 * boiling)
    too_hot = enthalpy > hottest
    if too_hot if isinstance(too_hot, bool) else too_hot.any():
        raise OutOfRange(
            "The vapour would leave the compressor at more than 140 °C (284 °F), where the tables end, and "
            "oil and windings with them. Take a warmer coil, a cooler condenser or less superheat."
        )
    temperature = op.minimum(op.maximum(near, boiling), HOTTEST - 2.0)
    for _ in range(NEWTON_STEPS):
        here = superheated_enthalpy(refrigerant, pressure, temperature)
        slope = superheated_enthalpy(refrigerant, pressure, temperature + 1.0) - here
        temperature = op.minimum(op.maximum(temperature + (enthalpy - here) / slope, boiling), HOTTEST - 1.0)
    return temperature
