"""The Steinhart-Hart curve of a thermistor: both ways, and fitted to readings with its uncertainty in kelvin.

Students' and other modules' door to all of it is `coldbench.parts.thermistor`.
"""

from __future__ import annotations

from typing import NamedTuple

from coldbench.errors import CannotRead, check_range
from coldbench.operations import operations
from coldbench.parts.sensor_limits import (
    LEAST_RESISTANCE,
    MOST_RESISTANCE,
    check_resistance,
    check_temperature,
    temperature_from_inverse,
)


def steinhart_hart_temperature(resistance: float, a: float, b: float, c: float) -> float:
    r"""Temperature of a thermistor from its ohms, by the Steinhart-Hart curve.

    .. math:: \frac{1}{T} = a + b \ln R + c (\ln R)^3

    Parameters
    ----------
    resistance : float or array
        Resistance measured [Ohm], valid from 0.0001 to 1e12 where the temperature that follows lies
        from 213.15 to 423.15 K
    a, b, c : float
        Coefficients of the sensor [1/K] for resistance in ohms; b valid from 0.00001 to 0.01

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
    Steinhart and Hart (1968), Deep-Sea Research 15, 497.

    Examples
    --------
    >>> round(steinhart_hart_temperature(10_000, 1.129148e-3, 2.34125e-4, 8.76741e-8) - 273.15, 2)
    25.0
    """
    check_resistance(resistance)
    _check_coefficients(a, b, c)
    op = operations(resistance)
    logarithm = op.log(resistance)
    return temperature_from_inverse(op, a + logarithm * (b + c * logarithm**2))


def steinhart_hart_resistance(temperature: float, a: float, b: float, c: float) -> float:
    r"""Resistance of a thermistor by the Steinhart-Hart curve.

    The curve gives the temperature of a resistance; it is turned round by eight Newton steps on the logarithm
    of the resistance, exact to a millionth of a kelvin.

    .. math:: a + b \ln R + c (\ln R)^3 = \frac{1}{T}

    Parameters
    ----------
    temperature : float or array
        Temperature of the sensor [K], valid from 213.15 to 423.15 (-60 to 150 °C)
    a, b, c : float
        Coefficients of the sensor [1/K] for resistance in ohms; b valid from 0.00001 to 0.01

    Returns
    -------
    float or array
        Resistance [Ohm], 0.0001 to 1e12

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range, or these coefficients have no resistance
        from 0.0001 to 1e12 Ohm at this temperature.

    References
    ----------
    Steinhart and Hart (1968), Deep-Sea Research 15, 497.

    Examples
    --------
    >>> round(steinhart_hart_resistance(273.15, 1.40e-3, 2.37e-4, 9.90e-8), 1)
    10030.2
    """
    check_temperature(temperature)
    _check_coefficients(a, b, c)
    op = operations(temperature)
    wanted = 1 / temperature - a
    logarithm = wanted / b
    for _ in range(8):
        square = logarithm * logarithm
        logarithm = logarithm - (logarithm * (b + c * square) - wanted) / op.maximum(b + 3 * c * square, 1e-9)
    missed = abs(logarithm * (b + c * logarithm * logarithm) - wanted) * temperature**2
    advice = "these coefficients give no single resistance here: check their powers of ten"
    check_range("distance_from_the_curve", missed, 0.0, 1e-6, "K", advice)
    resistance = op.exp(op.minimum(op.maximum(logarithm, -10.0), 30.0))
    check_range("resistance", resistance, LEAST_RESISTANCE, MOST_RESISTANCE, "Ohm", advice)
    return resistance


def _check_coefficients(a, b, c):
    advice = "coefficients are for ohms and kelvin: check their powers of ten"
    check_range("a", a, -0.1, 0.1, "1/K", advice)
    check_range("b", b, 1e-5, 1e-2, "1/K", advice)
    check_range("c", c, -1e-5, 1e-5, "1/K", advice)


class SteinhartHartFit(NamedTuple):
    """A Steinhart-Hart curve fitted to readings, and how well they fix it.

    Attributes
    ----------
    a, b, c : float
        Coefficients [1/K] for resistance in ohms
    covariance : tuple of tuples of float
        Covariance of a, b and c [1/K2], estimated from the scatter of the readings about the curve
    scatter : float
        Standard deviation of the readings about the curve [K]
    readings : int
        How many readings were fitted [-]
    """

    a: float
    b: float
    c: float
    covariance: tuple[tuple[float, float, float], ...]
    scatter: float
    readings: int

    def temperature(self, resistance: float) -> float:
        """Temperature by the fitted curve.

        Parameters
        ----------
        resistance : float or array
            Resistance measured [Ohm], as in `steinhart_hart_temperature`

        Returns
        -------
        float or array
            Temperature of the sensor [K]
        """
        return steinhart_hart_temperature(resistance, self.a, self.b, self.c)

    def standard_error(self, resistance: float) -> float:
        r"""Standard error of the curve's temperature at one resistance, from the scatter of the readings.

        .. math:: s_T = T^2 \sqrt{x^T C x}, \quad x = (1, \ln R, (\ln R)^3)

        Parameters
        ----------
        resistance : float or array
            Resistance measured [Ohm], as in `steinhart_hart_temperature`

        Returns
        -------
        float or array
            Standard error of the temperature [K]; small between the readings, growing fast beyond them
        """
        temperature = self.temperature(resistance)
        op = operations(resistance)
        logarithm = op.log(resistance)
        terms = (1.0, logarithm, logarithm**3)
        variance = sum(self.covariance[i][j] * terms[i] * terms[j] for i in range(3) for j in range(3))
        return temperature**2 * op.sqrt(op.maximum(variance, 0.0))


def fit_steinhart_hart(temperatures, resistances) -> tuple[float, float, float]:
    r"""Steinhart-Hart coefficients from three or more readings: least squares in kelvin.

    .. math:: \min_{a,b,c} \sum_i T_i^4 \left(\frac{1}{T_i} - a - b \ln R_i - c (\ln R_i)^3\right)^2

    The weight turns an error of 1/T into one of T. Three readings give the curve through all three.

    Parameters
    ----------
    temperatures : sequence of float
        Temperatures of the readings [K], valid from 213.15 to 423.15
    resistances : sequence of float
        Resistances read there [Ohm], valid from 0.0001 to 1e12, three or more different ones

    Returns
    -------
    tuple of float
        a, b, c [1/K] for resistance in ohms

    Raises
    ------
    OutOfRange
        A `ValueError`: a reading lies outside its valid range, or fewer than three differ.
    CannotRead
        A `ValueError`: there are not as many temperatures as resistances.

    References
    ----------
    Steinhart and Hart (1968), Deep-Sea Research 15, 497; weighted linear least squares.

    Examples
    --------
    >>> a, b, c = fit_steinhart_hart([273.15, 293.15, 323.15], [32_128, 12_262, 3_542])
    >>> round(steinhart_hart_temperature(9_814, a, b, c) - 273.15, 2)
    25.0
    """
    matrix, target, scale = _weighted_readings(temperatures, resistances)
    import numpy

    solution = numpy.linalg.lstsq(matrix, target, rcond=None)[0] / scale
    return tuple(float(value) for value in solution)


def fit_steinhart_hart_with_uncertainty(temperatures, resistances) -> SteinhartHartFit:
    r"""Steinhart-Hart curve from four or more readings, with the uncertainty that their scatter leaves.

    .. math:: C = \frac{\sum_i r_i^2}{n - 3} (X^T X)^{-1}

    with the residuals r in kelvin and X the rows 1, ln R and its cube, each times the square of T.

    Parameters
    ----------
    temperatures : sequence of float
        Temperatures of the readings [K], valid from 213.15 to 423.15
    resistances : sequence of float
        Resistances read there [Ohm], valid from 0.0001 to 1e12, three or more different ones

    Returns
    -------
    SteinhartHartFit
        Coefficients [1/K], their covariance [1/K2] and the scatter of the readings [K]

    Raises
    ------
    OutOfRange
        A `ValueError`: a reading lies outside its valid range, there are fewer than four, or fewer than
        three differ.
    CannotRead
        A `ValueError`: there are not as many temperatures as resistances.

    References
    ----------
    Steinhart and Hart (1968), Deep-Sea Research 15, 497; covariance of weighted linear least squares.
    """
    matrix, target, scale = _weighted_readings(temperatures, resistances)
    import numpy

    readings = len(target)
    check_range("number_of_readings", readings, 4, 100_000, "readings", "three leave no scatter to judge by")
    solution = numpy.linalg.lstsq(matrix, target, rcond=None)[0]
    residuals = target - matrix @ solution
    variance = float(residuals @ residuals) / (readings - 3)
    spread = numpy.linalg.pinv(matrix)
    covariance = variance * (spread @ spread.T) / numpy.outer(scale, scale)
    a, b, c = (float(value) for value in solution / scale)
    rows = tuple(tuple(float(value) for value in row) for row in covariance)
    return SteinhartHartFit(a, b, c, rows, variance**0.5, readings)


def _weighted_readings(temperatures, resistances):
    """Rows of the least-squares problem in kelvin, with columns scaled to length one."""
    import numpy

    kelvin = numpy.asarray(temperatures, dtype=float)
    ohms = numpy.asarray(resistances, dtype=float)
    if kelvin.shape != ohms.shape or kelvin.ndim != 1:
        raise CannotRead(
            f"There are {kelvin.size} temperatures and {ohms.size} resistances, but each reading needs "
            "one of each. Give two lists of the same length."
        )
    check_temperature(kelvin)
    check_resistance(ohms)
    check_range(
        "number_of_different_resistances", len(set(ohms.tolist())), 3, 100_000, "readings",
        "three unknown coefficients need three readings well apart, say ice bath, room and warm water",
    )  # fmt: skip
    logarithm = numpy.log(ohms)
    matrix = numpy.column_stack([numpy.ones_like(ohms), logarithm, logarithm**3]) * kelvin[:, None] ** 2
    scale = numpy.linalg.norm(matrix, axis=0)
    return matrix / scale, kelvin, scale
