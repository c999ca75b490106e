"""Heaters of mains voltage: power and current, thermal fuses, and what still flows after one has opened.

Inside: power, current and average power of a heater; a thermal fuse that opens once and for all; and the
circuit of a defrost heater with a fuse in each leg, solved for any state of fuses, plug and insulation.

The wall plug decides which leg of the heater is hot, and a plug or an outlet may be wired the other way
round. If the heater's insulation fails, its wire touches the cabinet at some point, and the part of the wire
on the hot side keeps heating through the cabinet, with the neutral leg open. A fuse in each leg opens both.

This is mains voltage on metal that people touch, and the heater burns skin. Measure ohms with the plug out;
volts only as your training, local codes and the maker's instructions allow. Never bridge a fuse: find what
overheated it. Heaters near a flammable refrigerant must not glow: put in what the maker states, nothing else.
"""

from __future__ import annotations

from typing import NamedTuple

from coldbench.errors import check_range
from coldbench.operations import operations

__all__ = [
    "HeaterCircuit",
    "average_heater_power",
    "heater_circuit",
    "heater_current",
    "heater_power",
    "thermal_fuse_resistance",
]

NEVER = float("inf")  # [Ohm]: no path at all
CLOSED = 0.01  # a closed fuse or contact with its wires [Ohm]; common practice, no source
EARTH = 1.0  # cabinet's earth wire and the house wiring back to neutral [Ohm]; invented


def heater_power_of(voltage, resistance):
    """Power of a heater while it is on, unchecked [W]."""
    return voltage * voltage / resistance


def fuse_whole_of(op, whole_before, temperature, opening_temperature):
    """Whether a thermal fuse conducts, 1 or 0; once open it stays open; unchecked [-]."""
    return whole_before * op.where(temperature > opening_temperature, 0.0, 1.0)


def _check_heater(voltage, resistance):
    check_range("voltage", voltage, -500.0, 500.0, "V", "120 V and 230 V are mains")
    check_range("resistance", resistance, 0.1, 1e9, "Ohm", "an open heater is 1e9 Ohm")


def heater_power(voltage: float, resistance: float) -> float:
    r"""Power of a heater while it is on.

    .. math:: P = \frac{U^2}{R}

    Parameters
    ----------
    voltage : float or array
        Voltage across the heater, effective value [V], valid from -500 to 500
    resistance : float or array
        Resistance of the heater [Ohm], valid from 0.1 to 1000000000 (an open heater)

    Returns
    -------
    float or array
        Power [W]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    Ohm's law and Joule's law.

    Examples
    --------
    >>> heater_power(120.0, 30.0)
    480.0
    """
    _check_heater(voltage, resistance)
    return heater_power_of(voltage, resistance)


def heater_current(voltage: float, resistance: float) -> float:
    r"""Current through a heater while it is on.

    .. math:: I = \frac{U}{R}

    Parameters
    ----------
    voltage : float or array
        Voltage across the heater, effective value [V], valid from -500 to 500
    resistance : float or array
        Resistance of the heater [Ohm], valid from 0.1 to 1000000000 (an open heater)

    Returns
    -------
    float or array
        Current [A]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    Ohm's law.

    Examples
    --------
    >>> round(heater_current(120.0, 36.0), 2)
    3.33
    """
    _check_heater(voltage, resistance)
    return voltage / resistance


def average_heater_power(voltage: float, resistance: float, duty: float) -> float:
    r"""Average power of a heater that is switched on and off.

    .. math:: \bar P = D \frac{U^2}{R}

    A heater on for half of the time gives half of the power, not a quarter: the full voltage heats in every
    pulse, although a meter that averages shows half of it.

    Parameters
    ----------
    voltage : float or array
        Voltage while it is on, effective value [V], valid from -500 to 500
    resistance : float or array
        Resistance of the heater [Ohm], valid from 0.1 to 1000000000 (an open heater)
    duty : float or array
        Share of the time that it is on [-], valid from 0 to 1

    Returns
    -------
    float or array
        Average power [W]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    Joule's law, averaged over time.

    Examples
    --------
    >>> average_heater_power(120.0, 30.0, 0.50)
    240.0
    """
    check_range("duty", duty, 0.0, 1.0, "(as a fraction)", "40 % is 0.4")
    return duty * heater_power(voltage, resistance)


def thermal_fuse_resistance(warmest_temperature: float, opening_temperature: float) -> float:
    r"""Resistance of a thermal fuse: once it has been too warm it is open for ever.

    .. math:: R = 0.01 \text{ if } T_{warmest} < T_{open}, \text{ else } \infty

    Parameters
    ----------
    warmest_temperature : float or array
        Highest temperature that the fuse has ever had [K], valid from 150 to 1000
    opening_temperature : float or array
        Temperature at which it opens [K], valid from 273.15 to 600

    Returns
    -------
    float or array
        Resistance: 0.01 while sound, infinity when it has opened [Ohm]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    Source
    ------
    What a thermal cut-off is; the ohms of a sound one are common practice, no source.

    Examples
    --------
    >>> thermal_fuse_resistance(340.0, 345.15), thermal_fuse_resistance(350.0, 345.15)
    (0.01, inf)
    """
    check_range("warmest_temperature", warmest_temperature, 150.0, 1000.0, "K", "give kelvin")
    check_range("opening_temperature", opening_temperature, 273.15, 600.0, "K", "give kelvin")
    op = operations(warmest_temperature, opening_temperature)
    return op.where(warmest_temperature < opening_temperature, CLOSED, NEVER)


class HeaterCircuit(NamedTuple):
    """What flows in the circuit of a heater, and where.

    Attributes
    ----------
    first_leg_current : float or array
        Current from the first leg into the heater [A]
    second_leg_current : float or array
        Current from the second leg into the heater; in a sound one the first leg's, reversed [A]
    earth_current : float or array
        Current from the heater to the cabinet and on to earth, the sum of the two [A]
    cabinet_voltage : float or array
        Voltage from the cabinet to earth: what a hand on it feels [V]
    first_part_power : float or array
        Heat made in the wire between the first leg and the point of contact [W]
    second_part_power : float or array
        Heat made in the wire between the point of contact and the second leg [W]
    """

    first_leg_current: float
    second_leg_current: float
    earth_current: float
    cabinet_voltage: float
    first_part_power: float
    second_part_power: float


def heater_circuit(
    first_leg_voltage: float,
    second_leg_voltage: float,
    resistance: float,
    first_leg_resistance: float = CLOSED,
    second_leg_resistance: float = CLOSED,
    contact_position: float = 0.5,
    contact_resistance: float = NEVER,
    earth_resistance: float = EARTH,
) -> HeaterCircuit:
    r"""Currents of a heater between two legs whose wire may touch the cabinet at one point.

    Kirchhoff's law at the point of contact, whose voltage is U:

    .. math:: U = \frac{G_1 U_1 + G_2 U_2}{G_1 + G_2 + G_e}, \quad
              G_1 = \frac{1}{R_1 + s R}, \quad G_2 = \frac{1}{R_2 + (1 - s) R}, \quad
              G_e = \frac{1}{R_{contact} + R_{earth}}

    One circuit holds every case: a fuse that has opened or a relay that is off is a leg of infinite
    resistance; a plug the other way round exchanges the voltages of the legs; a broken earth wire is an
    infinite earth resistance, a hand on the cabinet one of some thousand ohms beside it.

    Parameters
    ----------
    first_leg_voltage : float or array
        Voltage of the first leg to earth [V], valid from -500 to 500; 120 when it is hot, 0 when neutral
    second_leg_voltage : float or array
        Voltage of the second leg to earth [V], valid from -500 to 500
    resistance : float or array
        Resistance of the whole heater [Ohm], valid from 0.1 to 1000000000 (an open heater)
    first_leg_resistance : float or array
        Fuse, contact and wires of the first leg [Ohm], valid from 0.001 to infinity (open)
    second_leg_resistance : float or array
        Fuse, contact and wires of the second leg [Ohm], valid from 0.001 to infinity (open)
    contact_position : float or array
        Where the wire touches the cabinet: 0 at the first leg, 1 at the second [-], valid from 0 to 1
    contact_resistance : float or array
        Resistance of that contact [Ohm], valid from 0.001 to infinity (sound insulation)
    earth_resistance : float or array
        Resistance from the cabinet to earth [Ohm], valid from 0.001 to infinity (no earth wire)

    Returns
    -------
    HeaterCircuit
        Currents, cabinet's voltage and power

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    Ohm's law and Kirchhoff's current law; the neutral is taken to be at earth's voltage.

    Examples
    --------
    A heater whose middle touches the cabinet, with its fuse in the neutral leg open: half still heats.

    >>> worn = heater_circuit(120.0, 0.0, 30.0, second_leg_resistance=NEVER, contact_resistance=0.001)
    >>> round(worn.first_leg_current, 1), round(worn.first_part_power)
    (7.5, 843)

    With both fuses open nothing flows, whichever way round the plug is.

    >>> heater_circuit(0.0, 120.0, 30.0, NEVER, NEVER, contact_resistance=0.001).earth_current
    0.0
    """
    _check_heater(first_leg_voltage, resistance)
    _check_heater(second_leg_voltage, resistance)
    for name, ohms in (
        ("first_leg_resistance", first_leg_resistance),
        ("second_leg_resistance", second_leg_resistance),
        ("contact_resistance", contact_resistance),
        ("earth_resistance", earth_resistance),
    ):
        check_range(name, ohms, 0.001, NEVER, "Ohm", "an open one is float('inf')")
    check_range("contact_position", contact_position, 0.0, 1.0, "(as a fraction)")
    first_part, second_part = contact_position * resistance, (1 - contact_position) * resistance
    to_first = 1 / (first_leg_resistance + first_part)
    to_second = 1 / (second_leg_resistance + second_part)
    to_earth = 1 / (contact_resistance + earth_resistance)
    together = to_first + to_second + to_earth
    # A wire that is connected to nothing has no voltage of its own: 1e-300 stands for no conductance.
    inside = (to_first * first_leg_voltage + to_second * second_leg_voltage) / (
        operations(together).maximum(together, 1e-300)
    )
    through_contact, through_earth = 1 / contact_resistance, 1 / earth_resistance
    cabinet = through_contact + through_earth
    first_current = (first_leg_voltage - inside) * to_first
    second_current = (second_leg_voltage - inside) * to_second
    return HeaterCircuit(
        first_leg_current=first_current,
        second_leg_current=second_current,
        earth_current=inside * to_earth,
        cabinet_voltage=inside * through_contact / operations(cabinet).maximum(cabinet, 1e-300),
        first_part_power=first_current**2 * first_part,
        second_part_power=second_current**2 * second_part,
    )
