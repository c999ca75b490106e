"""From a thermistor's ohms to the converter's counts and back.

Inside: the wiring between sensor and board (a broken wire, a short, a wet connector and a drifted sensor are
all just ohms here), a sensor that has come off its surface, the voltage divider, and the converter's counts.
What the board believes of these counts, and how far that can be off, is in `coldbench.parts.sensor_board`.

The board holds a fixed pull-up resistor to its supply; the sensor goes from there to ground, and the
converter measures the voltage over the sensor as a share of the same supply.

On a real machine these few volts stand beside mains voltage: measure ohms with the plug out and the sensor
unplugged from the board, and volts only as your training and the maker's instructions allow.
"""

from __future__ import annotations

from coldbench.errors import check_range
from coldbench.operations import operations
from coldbench.parts.sensor_limits import LEAST_RESISTANCE, check_temperature

__all__ = [
    "converter_counts",
    "divider_voltage",
    "resistance_from_counts",
    "resistance_from_voltage",
    "sensor_temperature",
    "voltage_from_counts",
    "wired_resistance",
]

NEVER = float("inf")  # [Ohm]: no path at all


def check_divider(resistance, pull_up_resistance):
    """Refuse ohms that make no divider."""
    check_range(
        "resistance", resistance, LEAST_RESISTANCE, NEVER, "Ohm",
        "an open circuit is float('inf'), a short about 0.1 Ohm",
    )  # fmt: skip
    check_range("pull_up_resistance", pull_up_resistance, 1.0, 1e7, "Ohm")


def check_supply(supply_voltage):
    """Refuse what is no supply of a sensor circuit."""
    check_range("supply_voltage", supply_voltage, 0.5, 24.0, "V", "a sensor circuit runs on a few volts")


def full_scale_of(bits):
    """Highest count of a converter with so many bits."""
    check_range("bits", bits, 4, 24, "bits")
    return 2**bits - 1


def sensor_temperature(surface_temperature: float, air_temperature: float, contact: float = 1.0) -> float:
    r"""Temperature of a sensor that should sit on a surface but may have come off it.

    .. math:: T = T_{air} + k\,(T_{surface} - T_{air})

    Parameters
    ----------
    surface_temperature : float or array
        Temperature of the surface it should measure, such as a coil's pipe [K], valid from 213.15 to 423.15
    air_temperature : float or array
        Temperature of the air around it [K], valid from 213.15 to 423.15
    contact : float or array
        How well it is held to the surface: 1 clamped, 0 hanging in the air [-], valid from 0 to 1

    Returns
    -------
    float or array
        Temperature that the sensor takes on [K]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    Source
    ------
    Two heat paths in series; the contact is an invented number for demonstration.

    Examples
    --------
    >>> round(sensor_temperature(248.15, 258.15, contact=0.25), 2)
    255.65
    """
    check_temperature(surface_temperature)
    check_temperature(air_temperature)
    check_range("contact", contact, 0.0, 1.0, "(as a fraction)")
    return air_temperature + contact * (surface_temperature - air_temperature)


def wired_resistance(
    resistance: float, series_resistance: float = 0.0, leak_resistance: float = NEVER, drift: float = 1.0
) -> float:
    r"""Ohms between the board's two pins: the sensor with all that stands in its way or beside it.

    .. math:: \frac{1}{R_{pins}} = \frac{1}{d\,R + R_{series}} + \frac{1}{R_{leak}}

    One circuit holds every fault: a broken wire is a very large series resistance, a corroded contact a
    smaller one, a short a leak of a tenth of an ohm, water in the connector a leak of some ten thousand ohms,
    and an aged sensor has drifted from its curve by a factor.

    Parameters
    ----------
    resistance : float or array
        Resistance of a sound sensor at its temperature [Ohm], valid from 0.0001 up
    series_resistance : float or array
        Resistance in the wires and contacts [Ohm], valid from 0 to infinity (a broken wire)
    leak_resistance : float or array
        Resistance of a path beside the sensor [Ohm], valid from 0.0001 (a short) to infinity (none)
    drift : float or array
        Factor on the sensor's own resistance [-], valid from 0.01 to 100; 1 is a sound sensor

    Returns
    -------
    float or array
        Resistance that the board sees, and a meter at its connector [Ohm]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    Source
    ------
    Resistances in series and side by side, Ohm's law.

    Examples
    --------
    >>> round(wired_resistance(30_000, leak_resistance=30_000))
    15000
    """
    check_range("resistance", resistance, LEAST_RESISTANCE, NEVER, "Ohm")
    check_range("series_resistance", series_resistance, 0.0, NEVER, "Ohm")
    check_range(
        "leak_resistance", leak_resistance, LEAST_RESISTANCE, NEVER, "Ohm", "a short is about 0.1 Ohm"
    )
    check_range("drift", drift, 0.01, 100.0, "(a factor)", "1 is a sound sensor")
    conductance = 1 / (drift * resistance + series_resistance) + 1 / leak_resistance
    # With a broken wire and no leak nothing conducts: 1e-300 stands for that, and gives 1e300 ohms.
    return 1 / operations(conductance).maximum(conductance, 1e-300)


def divider_voltage(resistance: float, pull_up_resistance: float, supply_voltage: float) -> float:
    r"""Voltage over the sensor in the board's divider.

    .. math:: U = U_{supply} \frac{R}{R + R_{pull-up}}

    Parameters
    ----------
    resistance : float or array
        Resistance at the board's pins [Ohm], valid from 0.0001 to infinity
    pull_up_resistance : float or array
        Fixed resistor from the supply to the pin [Ohm], valid from 1 to 10000000
    supply_voltage : float or array
        Supply of the divider [V], valid from 0.5 to 24

    Returns
    -------
    float or array
        Voltage over the sensor [V]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    Source
    ------
    Ohm's law.

    Examples
    --------
    >>> round(divider_voltage(32_650, 10_000, 5.0), 3)
    3.828
    """
    check_divider(resistance, pull_up_resistance)
    check_supply(supply_voltage)
    return supply_voltage / (1 + pull_up_resistance / resistance)


def resistance_from_voltage(voltage: float, pull_up_resistance: float, supply_voltage: float) -> float:
    r"""Ohms of the sensor from the voltage over it: the divider the other way round.

    .. math:: R = R_{pull-up} \frac{U}{U_{supply} - U}

    Parameters
    ----------
    voltage : float or array
        Voltage over the sensor [V], valid from a billionth of the supply to a billionth below the supply
    pull_up_resistance : float or array
        Fixed resistor from the supply to the pin [Ohm], valid from 1 to 10000000
    supply_voltage : float or array
        Supply of the divider [V], valid from 0.5 to 24

    Returns
    -------
    float or array
        Resistance at the board's pins [Ohm]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range; at 0 V the sensor is short, at the full
        supply it is open.

    Source
    ------
    Ohm's law.

    Examples
    --------
    >>> round(resistance_from_voltage(2.5, 10_000, 5.0))
    10000
    """
    check_supply(supply_voltage)
    check_range("pull_up_resistance", pull_up_resistance, 1.0, 1e7, "Ohm")
    share = voltage / supply_voltage
    check_range(
        "share_of_the_supply_voltage", share, 1e-9, 1 - 1e-9, "(as a fraction)",
        "at 0 the sensor is short and at 1 it is open: unplug it and measure its ohms",
    )  # fmt: skip
    return pull_up_resistance * share / (1 - share)


def converter_counts(voltage: float, supply_voltage: float, bits: int = 10) -> float:
    r"""Whole number that the board's converter makes of a voltage.

    .. math:: n = \text{round}\left((2^{bits} - 1) \frac{U}{U_{supply}}\right)

    The converter compares with the supply of the divider, so that a sagging supply does not matter.

    Parameters
    ----------
    voltage : float or array
        Voltage over the sensor [V], valid from 0 to the supply
    supply_voltage : float or array
        Supply of the divider and of the converter [V], valid from 0.5 to 24
    bits : int
        Width of the converter [-], valid from 4 to 24; 10 bits count to 1023

    Returns
    -------
    float or array
        Counts, a whole number [-]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    Source
    ------
    Definition of a ratiometric converter, rounding to the nearest count.

    Examples
    --------
    >>> converter_counts(3.828, 5.0)
    783.0
    """
    check_supply(supply_voltage)
    full_scale = full_scale_of(bits)
    share = voltage / supply_voltage
    check_range("share_of_the_supply_voltage", share, 0.0, 1.0, "(as a fraction)")
    return (share * full_scale + 0.5) // 1


def voltage_from_counts(counts: float, supply_voltage: float, bits: int = 10) -> float:
    r"""Voltage that a number of counts stands for.

    .. math:: U = U_{supply} \frac{n}{2^{bits} - 1}

    Parameters
    ----------
    counts : float or array
        Counts of the converter [-], valid from 0 to its full scale
    supply_voltage : float or array
        Supply of the divider and of the converter [V], valid from 0.5 to 24
    bits : int
        Width of the converter [-], valid from 4 to 24

    Returns
    -------
    float or array
        Voltage over the sensor [V], true to half a count

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    Source
    ------
    Definition of a ratiometric converter.
    """
    check_supply(supply_voltage)
    full_scale = full_scale_of(bits)
    check_range("counts", counts, 0, full_scale, "counts")
    return supply_voltage * counts / full_scale


def resistance_from_counts(counts: float, pull_up_resistance: float, bits: int = 10) -> float:
    r"""Ohms of the sensor from the converter's counts; the supply cancels out.

    .. math:: R = R_{pull-up} \frac{n}{2^{bits} - 1 - n}

    Parameters
    ----------
    counts : float or array
        Counts of the converter [-], valid from 1 to one below its full scale
    pull_up_resistance : float or array
        Fixed resistor from the supply to the pin [Ohm], valid from 1 to 10000000
    bits : int
        Width of the converter [-], valid from 4 to 24

    Returns
    -------
    float or array
        Resistance at the board's pins [Ohm]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range; no counts at all mean a short, full scale
        means an open sensor.

    Source
    ------
    Ohm's law and the definition of a ratiometric converter.

    Examples
    --------
    >>> round(resistance_from_counts(783, 10_000))
    32625
    """
    full_scale = full_scale_of(bits)
    check_range("pull_up_resistance", pull_up_resistance, 1.0, 1e7, "Ohm")
    check_range("counts", counts, 1, full_scale - 1, "counts", "0 means a short, full scale an open sensor")
    return pull_up_resistance * counts / (full_scale - counts)
