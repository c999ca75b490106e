"""Thermistors: sensors whose resistance falls as they warm (negative temperature coefficient, NTC).

Inside: the B-parameter curve both ways and B from two readings; the Steinhart-Hart curve both ways; and
the Steinhart-Hart curve fitted to a student's own readings, with its uncertainty in kelvin.
What a board makes of these ohms is in `coldbench.parts.sensor_circuit`.

A thermistor is measured unplugged from the board and with the machine's plug out.
"""

from __future__ import annotations

from coldbench.errors import check_range
from coldbench.operations import operations
from coldbench.parts.sensor_limits import (
    COLDEST,
    WARMEST,
    check_resistance,
    check_temperature,
    temperature_from_inverse,
)
from coldbench.parts.steinhart_hart import (
    SteinhartHartFit,
    fit_steinhart_hart,
    fit_steinhart_hart_with_uncertainty,
    steinhart_hart_resistance,
    steinhart_hart_temperature,
)

__all__ = [
    "SteinhartHartFit",
    "beta_from_two_points",
    "beta_resistance",
    "beta_temperature",
    "fit_steinhart_hart",
    "fit_steinhart_hart_with_uncertainty",
    "steinhart_hart_resistance",
    "steinhart_hart_temperature",
]

REFERENCE = 298.15  # 25 °C [K], where the nominal resistance of a thermistor is stated; IEC 60539-1
LEAST_BETA, MOST_BETA = 1000.0, 8000.0  # [K]; bought parts have 2500 to 5000, common practice


def _check_beta_curve(resistance_25, beta):
    check_range("resistance at 25 °C", resistance_25, 1.0, 1e7, "Ohm")
    check_range("beta", beta, LEAST_BETA, MOST_BETA, "K", "give B in kelvin, as the sensor's sheet does")


def beta_resistance(temperature: float, resistance_25: float, beta: float) -> float:
    r"""Resistance of a thermistor by its B-parameter curve.

    .. math:: R = R_{25} \exp\left(B \left(\frac{1}{T} - \frac{1}{298.15}\right)\right)

    Parameters
    ----------
    temperature : float or array
        Temperature of the sensor [K], valid from 213.15 to 423.15 (-60 to 150 °C)
    resistance_25 : float or array
        Resistance at 25 °C [Ohm], valid from 1 to 10000000
    beta : float or array
        B-parameter of the sensor [K], valid from 1000 to 8000

    Returns
    -------
    float or array
        Resistance [Ohm]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    IEC 60539-1, definition of the B-value. A real sensor bends away from it by some percent far from the two
    temperatures its B was taken at; where a table is printed for the sensor, the table holds.

    Examples
    --------
    >>> round(beta_resistance(273.15, 10_000, 3435))
    28704
    """
    check_temperature(temperature)
    _check_beta_curve(resistance_25, beta)
    op = operations(temperature, beta)
    return resistance_25 * op.exp(beta * (1 / temperature - 1 / REFERENCE))


def beta_temperature(resistance: float, resistance_25: float, beta: float) -> float:
    r"""Temperature of a thermistor from its ohms, by its B-parameter curve.

    .. math:: \frac{1}{T} = \frac{1}{298.15} + \frac{1}{B} \ln\frac{R}{R_{25}}

    Parameters
    ----------
    resistance : float or array
        Resistance measured [Ohm], valid from 0.0001 to 1e12 where the temperature that follows lies
        from 213.15 to 423.15 K
    resistance_25 : float or array
        Resistance at 25 °C [Ohm], valid from 1 to 10000000
    beta : float or array
        B-parameter of the sensor [K], valid from 1000 to 8000

    Returns
    -------
    float or array
        Temperature of the sensor [K]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument, or the temperature that follows, lies outside its valid range.

    References
    ----------
    IEC 60539-1, definition of the B-value.

    Examples
    --------
    >>> round(beta_temperature(32_650, 10_000, 3435) - 273.15, 1)
    -2.8
    """
    check_resistance(resistance)
    _check_beta_curve(resistance_25, beta)
    op = operations(resistance, resistance_25)
    inverse = 1 / REFERENCE + op.log(resistance / resistance_25) / beta
    return temperature_from_inverse(op, inverse)


def beta_from_two_points(
    first_temperature: float, first_resistance: float, second_temperature: float, second_resistance: float
) -> float:
    r"""B-parameter of a sensor from two readings, such as ice bath and room.

    .. math:: B = \frac{\ln(R_1 / R_2)}{1/T_1 - 1/T_2}

    Parameters
    ----------
    first_temperature, second_temperature : float or array
        Temperatures of the two readings [K], valid from 213.15 to 423.15 and at least 1 K apart
    first_resistance, second_resistance : float or array
        Resistances read there [Ohm], valid from 0.0001 to 1e12

    Returns
    -------
    float or array
        B-parameter [K]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range, the two readings are taken closer than 1 K
        to each other, or the B that follows is no thermistor's (1000 to 8000 K).

    References
    ----------
    IEC 60539-1, definition of the B-value.

    Examples
    --------
    >>> round(beta_from_two_points(298.15, 10_000, 358.15, 1_072))
    3974
    """
    check_temperature(first_temperature)
    check_temperature(second_temperature)
    check_resistance(first_resistance)
    check_resistance(second_resistance)
    apart = abs(first_temperature - second_temperature)
    check_range(
        "distance_of_the_two_temperatures", apart, 1.0, WARMEST - COLDEST, "K",
        "take the second reading at another temperature, say in an ice bath",
    )  # fmt: skip
    op = operations(first_resistance, second_resistance)
    beta = op.log(first_resistance / second_resistance) / (1 / first_temperature - 1 / second_temperature)
    check_range(
        "beta", beta, LEAST_BETA, MOST_BETA, "K",
        "a thermistor's ohms fall as it warms: see whether the readings are swapped or a sensor is wet",
    )  # fmt: skip
    return beta
