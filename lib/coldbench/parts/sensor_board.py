"""What the control board believes of a thermistor, and how far that can be off.

Inside: the temperature that the board's stored curve gives for the converter's counts; the same from the
true temperature through sensor, wiring, divider and converter in one call; the sensor's own heat; and the
chain of tolerances from ohms to kelvin.
"""

from __future__ import annotations

from typing import NamedTuple

from coldbench.errors import check_range
from coldbench.operations import operations
from coldbench.parts.sensor_circuit import (
    NEVER,
    check_divider,
    check_supply,
    converter_counts,
    divider_voltage,
    full_scale_of,
    resistance_from_counts,
    wired_resistance,
)
from coldbench.parts.thermistor import REFERENCE, beta_resistance, beta_temperature

__all__ = [
    "ToleranceChain",
    "board_reading",
    "board_temperature",
    "self_heating",
    "sensor_power",
    "temperature_tolerance",
]

TABLE_COLDEST, TABLE_WARMEST = (
    233.15,
    373.15,
)  # -40 to 100 °C [K]: a board's table; invented, for demonstration


def board_temperature(
    counts: float, pull_up_resistance: float, resistance_25: float, beta: float, bits: int = 10
) -> float:
    r"""Temperature that the board takes from the counts, by the curve stored in it.

    The board's table ends at -40 and 100 °C: counts beyond an end read as that end. So an open sensor reads
    as the coldest and a short as the warmest temperature of the table, whatever the true one.

    .. math:: T = T_B(R), \quad R = R_{pull-up} \frac{n}{2^{bits} - 1 - n}

    Parameters
    ----------
    counts : float or array
        Counts of the converter [-], valid from 0 to its full scale
    pull_up_resistance : float or array
        Fixed resistor from the supply to the pin [Ohm], valid from 1 to 10000000
    resistance_25 : float or array
        Resistance at 25 °C of the sensor that the board expects [Ohm], valid from 1 to 10000000
    beta : float or array
        B-parameter of the sensor that the board expects [K], valid from 1000 to 8000
    bits : int
        Width of the converter [-], valid from 4 to 24

    Returns
    -------
    float or array
        Temperature that the board believes [K], 233.15 to 373.15

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    Source
    ------
    Arrangement of this project: ends of the table invented; B curve of IEC 60539-1.

    Examples
    --------
    >>> round(board_temperature(1023, 10_000, 10_000, 3435) - 273.15)
    -40
    """
    full_scale = full_scale_of(bits)
    check_range("counts", counts, 0, full_scale, "counts")
    op = operations(counts, pull_up_resistance, resistance_25, beta)
    within = op.minimum(op.maximum(counts, 1), full_scale - 1)
    resistance = resistance_from_counts(within, pull_up_resistance, bits)
    least = beta_resistance(TABLE_WARMEST, resistance_25, beta)
    most = beta_resistance(TABLE_COLDEST, resistance_25, beta)
    return beta_temperature(op.minimum(op.maximum(resistance, least), most), resistance_25, beta)


def board_reading(
    temperature: float, pull_up_resistance: float, resistance_25: float, beta: float, bits: int = 10,
    series_resistance: float = 0.0, leak_resistance: float = NEVER, drift: float = 1.0,
) -> float:  # fmt: skip
    r"""Temperature that the board believes while the sensor has another: through wire, divider and converter.

    .. math:: T \to R \to R_{pins} \to U \to n \to T_{board}

    Parameters
    ----------
    temperature : float or array
        True temperature of the sensor [K], valid from 213.15 to 423.15
    pull_up_resistance : float or array
        Fixed resistor from the supply to the pin [Ohm], valid from 1 to 10000000
    resistance_25 : float or array
        Resistance at 25 °C of a sound sensor [Ohm], valid from 1 to 10000000
    beta : float or array
        B-parameter of a sound sensor [K], valid from 1000 to 8000
    bits : int
        Width of the converter [-], valid from 4 to 24
    series_resistance : float or array
        Resistance in the wires and contacts [Ohm], valid from 0 to infinity (a broken wire)
    leak_resistance : float or array
        Resistance of a path beside the sensor [Ohm], valid from 0.0001 (a short) to infinity (none)
    drift : float or array
        Factor on the sensor's own resistance [-], valid from 0.01 to 100

    Returns
    -------
    float or array
        Temperature that the board believes [K], 233.15 to 373.15

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    Source
    ------
    The other functions of `coldbench.parts.thermistor`, `sensor_circuit` and this module, one after another.

    Examples
    --------
    >>> round(board_reading(255.15, 10_000, 10_000, 3435, leak_resistance=50_000) - 273.15, 1)
    -0.3
    """
    sound = beta_resistance(temperature, resistance_25, beta)
    at_pins = wired_resistance(sound, series_resistance, leak_resistance, drift)
    # The supply cancels out: the converter compares with the supply of the divider.
    counts = converter_counts(divider_voltage(at_pins, pull_up_resistance, 1.0), 1.0, bits)
    return board_temperature(counts, pull_up_resistance, resistance_25, beta, bits)


def sensor_power(resistance: float, pull_up_resistance: float, supply_voltage: float) -> float:
    r"""Heat that the measuring current sets free in the sensor.

    .. math:: P = \frac{U_{supply}^2 R}{(R + R_{pull-up})^2}

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
        Power in the sensor [W], greatest where its ohms equal the pull-up's

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    Source
    ------
    Ohm's law.

    Examples
    --------
    >>> sensor_power(10_000, 10_000, 5.0)
    0.000625
    """
    check_divider(resistance, pull_up_resistance)
    check_supply(supply_voltage)
    return supply_voltage**2 / (resistance * (1 + pull_up_resistance / resistance) ** 2)


def self_heating(
    resistance: float, pull_up_resistance: float, supply_voltage: float, dissipation_constant: float
) -> float:
    r"""How much warmer than its surroundings the measuring current makes the sensor.

    .. math:: \Delta T = P / \delta

    Parameters
    ----------
    resistance : float or array
        Resistance at the board's pins [Ohm], valid from 0.0001 to infinity
    pull_up_resistance : float or array
        Fixed resistor from the supply to the pin [Ohm], valid from 1 to 10000000
    supply_voltage : float or array
        Supply of the divider [V], valid from 0.5 to 24
    dissipation_constant : float or array
        Heat that the sensor gives off per kelvin above its surroundings [W/K], valid from 0.0001 to 1;
        some 0.002 for a bead in still air, more in moving air or in water

    Returns
    -------
    float or array
        Temperature difference [K]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    IEC 60539-1, definition of the dissipation factor.

    Examples
    --------
    >>> self_heating(10_000, 10_000, 5.0, 0.002)
    0.3125
    """
    check_range("dissipation_constant", dissipation_constant, 1e-4, 1.0, "W/K", "2 mW/K is 0.002 W/K")
    return sensor_power(resistance, pull_up_resistance, supply_voltage) / dissipation_constant


class ToleranceChain(NamedTuple):
    """How far a board's temperature can be off, link by link, each to either side.

    Attributes
    ----------
    resistance_25 : float
        Part of the sensor's tolerance at 25 °C [K]
    beta : float
        Part of the tolerance of its B [K]: none at 25 °C, growing away from it
    pull_up_resistance : float
        Part of the pull-up's tolerance [K]
    converter : float
        Part of half a count of the converter [K]
    """

    resistance_25: float
    beta: float
    pull_up_resistance: float
    converter: float

    @property
    def worst_case(self) -> float:
        """All links off to the same side [K]."""
        return self.resistance_25 + self.beta + self.pull_up_resistance + self.converter

    @property
    def root_sum_square(self) -> float:
        """Links off independently of each other, added as squares [K]; JCGM 100:2008, 5.1.2."""
        return operations(*self).sqrt(
            self.resistance_25**2 + self.beta**2 + self.pull_up_resistance**2 + self.converter**2
        )


def temperature_tolerance(
    temperature: float, resistance_25: float, beta: float, pull_up_resistance: float,
    resistance_tolerance: float, beta_tolerance: float, pull_up_tolerance: float, bits: int = 10,
) -> ToleranceChain:  # fmt: skip
    r"""How far the board's temperature can be off because no part is exactly what is printed on it.

    .. math:: \Delta T = \frac{T^2}{B} \frac{\Delta R}{R}, \quad
        \Delta T_B = T^2 \left|\frac{1}{T} - \frac{1}{298.15}\right| \frac{\Delta B}{B}

    A pull-up that is off shifts R by the same share; half a count shifts it by the more, the nearer the
    voltage comes to an end: with x the share of the supply, by half a count / (full scale · x (1 - x)).

    Parameters
    ----------
    temperature : float or array
        Temperature of the sensor [K], valid from 213.15 to 423.15
    resistance_25 : float or array
        Resistance at 25 °C [Ohm], valid from 1 to 10000000
    beta : float or array
        B-parameter [K], valid from 1000 to 8000
    pull_up_resistance : float or array
        Fixed resistor from the supply to the pin [Ohm], valid from 1 to 10000000
    resistance_tolerance : float or array
        Tolerance of the sensor at 25 °C as a fraction [-], valid from 0 to 0.2
    beta_tolerance : float or array
        Tolerance of B as a fraction [-], valid from 0 to 0.2
    pull_up_tolerance : float or array
        Tolerance of the pull-up as a fraction [-], valid from 0 to 0.2
    bits : int
        Width of the converter [-], valid from 4 to 24

    Returns
    -------
    ToleranceChain
        The four links [K], with their ``worst_case`` and ``root_sum_square``

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    First-order propagation, JCGM 100:2008, 5.1.2, on the B curve of IEC 60539-1.

    Examples
    --------
    >>> chain = temperature_tolerance(255.15, 10_000, 3435, 10_000, 0.01, 0.01, 0.01)
    >>> round(chain.worst_case, 2)
    0.83
    """
    for name, tolerance in (
        ("resistance_tolerance", resistance_tolerance),
        ("beta_tolerance", beta_tolerance),
        ("pull_up_tolerance", pull_up_tolerance),
    ):
        check_range(name, tolerance, 0.0, 0.2, "(as a fraction)", "1 % is 0.01")
    resistance = beta_resistance(temperature, resistance_25, beta)
    share = divider_voltage(resistance, pull_up_resistance, 1.0)
    kelvin_per_share = temperature**2 / beta
    return ToleranceChain(
        resistance_25=kelvin_per_share * resistance_tolerance,
        beta=temperature**2 * abs(1 / temperature - 1 / REFERENCE) * beta_tolerance,
        pull_up_resistance=kelvin_per_share * pull_up_tolerance,
        converter=kelvin_per_share * 0.5 / (full_scale_of(bits) * share * (1 - share)),
    )
