"""Superheated vapour: density, enthalpy, entropy, speed of sound, and the isentropic step.

Use them from `coldbench.properties.refrigerant`. Valid from saturation to 140 °C (413.15 K), at
pressures whose saturation temperature lies from -60 to 90 °C, for R-134a, R-600a, R-290 and R-12. At
the saturation temperature they meet the saturated vapour exactly. Errors are the largest differences
from the reference equations of state, measured by tests/studies/measure_refrigerant_tables.py.

What is inside: the range checks, four quantities of pressure and temperature, then temperature from
pressure and entropy.
"""

from __future__ import annotations

from coldbench.errors import check_range
from coldbench.operations import FLOATS, operations
from coldbench.properties.refrigerant_polynomials import (
    HOTTEST,
    closeness,
    degree_7,
    degree_8,
    superheat_scale,
    superheated_at,
    table_of,
)
from coldbench.properties.refrigerant_saturated import ROUNDING, saturation_temperature

SUPERHEAT_ADVICE = (
    "below the saturation temperature at this pressure the refrigerant is liquid or a mixture, for which "
    "there are the liquid_ and vapor_ functions; above 140 °C is off the tables"
)
ENTROPY_ADVICE = (
    "less than saturated vapour has at this pressure is a mixture, more than at 140 °C is off the tables"
)
SATURATION_SLACK = 0.005  # [K]; more than the error of the fit, so that saturated vapour itself is inside
ENTROPY_SLACK = 0.2  # [J/(kg K)]; for the same reason
NEWTON_STEPS = 4  # then temperature and entropy agree to rounding at every state of the tables


def _check_between(name: str, value, low, high, unit: str, advice: str) -> None:
    """Do what `check_range` does, where the ends may be arrays as well."""
    numpy = operations(value, low, high)
    if numpy is FLOATS:
        check_range(name, value, low, high, unit, advice)
        return
    value, low, high = numpy.broadcast_arrays(value, low, high)
    for index in numpy.argwhere(~((value >= low) & (value <= high)))[:1]:
        worst = tuple(index)
        check_range(name, float(value[worst]), float(low[worst]), float(high[worst]), unit, advice)


def _checked_saturation(refrigerant: str, pressure, temperature):
    """Give the saturation temperature of a pressure, once the state is known to be superheated vapour."""
    saturation = saturation_temperature(refrigerant, pressure)
    _check_between(
        "temperature", temperature, saturation - SATURATION_SLACK, HOTTEST + ROUNDING, "K", SUPERHEAT_ADVICE
    )
    return saturation


def superheated_density(refrigerant: str, pressure, temperature):
    r"""Density of superheated vapour.

    .. math:: \rho = \frac{p}{Z R T}, \; Z = Z_v(T_s) + (T - T_s) \sum_{i=0}^{8} \sum_{j=0}^{7} b_{ij} x^i z^j

    Parameters
    ----------
    refrigerant : str
        "R-134a", "R-600a", "R-290" or "R-12"
    pressure : float or array
        Absolute pressure [Pa], from the saturation pressure at -60 °C to that at 90 °C
    temperature : float or array
        Temperature of the vapour [K], from saturation to 413.15

    Returns
    -------
    float or array
        Density [kg/m3]

    Raises
    ------
    OutOfRange
        A `ValueError`. Valid from the saturation temperature at this pressure to 140 °C.
    CannotRead
        A `ValueError`, for a refrigerant that is not one of the four.

    References
    ----------
    [EOS]_, fitted.
    Largest error 0.0031 % from -45 to 70 °C, 0.016 % over the whole range.
    """
    saturation = _checked_saturation(refrigerant, pressure, temperature)
    table = table_of(refrigerant)
    compressibility = superheated_at(
        table, table.vapor_compressibility, table.superheated_compressibility, saturation, temperature
    )
    return pressure / (compressibility * table.gas_constant * temperature)


def superheated_enthalpy(refrigerant: str, pressure, temperature):
    r"""Enthalpy of superheated vapour.

    .. math:: h = h_v(T_s) + (T - T_s) \sum_{i=0}^{8} \sum_{j=0}^{7} b_{ij} x^i z^j

    Parameters
    ----------
    refrigerant : str
        "R-134a", "R-600a", "R-290" or "R-12"
    pressure : float or array
        Absolute pressure [Pa], from the saturation pressure at -60 °C to that at 90 °C
    temperature : float or array
        Temperature of the vapour [K], from saturation to 413.15

    Returns
    -------
    float or array
        Enthalpy [J/kg]

    Raises
    ------
    OutOfRange
        A `ValueError`. Valid from the saturation temperature at this pressure to 140 °C.
    CannotRead
        A `ValueError`, for a refrigerant that is not one of the four.

    References
    ----------
    [EOS]_, fitted.
    Largest error 0.016 kJ/kg from -45 to 70 °C, 0.024 kJ/kg over the whole range.

    Examples
    --------
    >>> round(superheated_enthalpy("R-134a", 100e3, 293.15) / 1e3, 1)
    420.3
    """
    saturation = _checked_saturation(refrigerant, pressure, temperature)
    table = table_of(refrigerant)
    return superheated_at(table, table.vapor_enthalpy, table.superheated_enthalpy, saturation, temperature)


def superheated_entropy(refrigerant: str, pressure, temperature):
    r"""Entropy of superheated vapour.

    .. math:: s = s_v(T_s) + (T - T_s) \sum_{i=0}^{8} \sum_{j=0}^{7} b_{ij} x^i z^j

    Parameters
    ----------
    refrigerant : str
        "R-134a", "R-600a", "R-290" or "R-12"
    pressure : float or array
        Absolute pressure [Pa], from the saturation pressure at -60 °C to that at 90 °C
    temperature : float or array
        Temperature of the vapour [K], from saturation to 413.15

    Returns
    -------
    float or array
        Entropy [J/(kg K)]

    Raises
    ------
    OutOfRange
        A `ValueError`. Valid from the saturation temperature at this pressure to 140 °C.
    CannotRead
        A `ValueError`, for a refrigerant that is not one of the four.

    References
    ----------
    [EOS]_, fitted.
    Largest error 0.0012 % from -45 to 70 °C, 0.0024 % over the whole range.
    """
    saturation = _checked_saturation(refrigerant, pressure, temperature)
    table = table_of(refrigerant)
    return superheated_at(table, table.vapor_entropy, table.superheated_entropy, saturation, temperature)


def superheated_speed_of_sound(refrigerant: str, pressure, temperature):
    r"""Speed of sound in superheated vapour.

    .. math:: w = w_v(T_s) + (T - T_s) \sum_{i=0}^{8} \sum_{j=0}^{7} b_{ij} x^i z^j

    Parameters
    ----------
    refrigerant : str
        "R-134a", "R-600a", "R-290" or "R-12"
    pressure : float or array
        Absolute pressure [Pa], from the saturation pressure at -60 °C to that at 90 °C
    temperature : float or array
        Temperature of the vapour [K], from saturation to 413.15

    Returns
    -------
    float or array
        Speed of sound [m/s]

    Raises
    ------
    OutOfRange
        A `ValueError`. Valid from the saturation temperature at this pressure to 140 °C.
    CannotRead
        A `ValueError`, for a refrigerant that is not one of the four.

    References
    ----------
    [EOS]_, fitted.
    Largest error 0.007 % from -45 to 70 °C, 0.013 % over the whole range.
    """
    saturation = _checked_saturation(refrigerant, pressure, temperature)
    table = table_of(refrigerant)
    return superheated_at(
        table, table.vapor_speed_of_sound, table.superheated_speed_of_sound, saturation, temperature
    )


def superheated_temperature(refrigerant: str, pressure, entropy):
    r"""Temperature of superheated vapour of a given entropy: the end of a loss-free compression.

    .. math:: s(p, T) = s, \qquad T_{k+1} = T_k - \frac{s(p, T_k) - s}{\partial s / \partial T}

    Parameters
    ----------
    refrigerant : str
        "R-134a", "R-600a", "R-290" or "R-12"
    pressure : float or array
        Absolute pressure [Pa], from the saturation pressure at -60 °C to that at 90 °C
    entropy : float or array
        Entropy [J/(kg K)], from that of saturated vapour at this pressure to that at 140 °C

    Returns
    -------
    float or array
        Temperature of the vapour [K]

    Raises
    ------
    OutOfRange
        A `ValueError`. Valid from the entropy of saturated vapour at this pressure to that at 140 °C.
    CannotRead
        A `ValueError`, for a refrigerant that is not one of the four.

    References
    ----------
    Inverse of `superheated_entropy` by Newton's method.
    Largest error 0.0045 K from -45 to 70 °C, 0.0097 K over the whole range.

    Examples
    --------
    >>> entropy = superheated_entropy("R-600a", 60e3, 293.15)
    >>> round(superheated_temperature("R-600a", 600e3, entropy), 2)
    357.5
    """
    saturation = saturation_temperature(refrigerant, pressure)
    table = table_of(refrigerant)
    x = closeness(table, saturation)
    start = degree_8(table.vapor_entropy, x)
    gains = [degree_8(row, x) for row in table.superheated_entropy]
    most = HOTTEST - saturation
    whole_gain = most * sum(gains)  # at 140 °C the scaled superheat is 1
    low, high = start - ENTROPY_SLACK, start + whole_gain + ENTROPY_SLACK
    _check_between("entropy", entropy, low, high, "J/(kg K)", ENTROPY_ADVICE)
    op = operations(pressure, entropy)
    a, b, c, d, e, f, g, _ = gains
    slopes = (0.0, 7 * a, 6 * b, 5 * c, 4 * d, 3 * e, 2 * f, g)
    below_critical = table.critical_temperature - saturation
    superheat = most * op.maximum((entropy - start) / whole_gain, 0.0)
    for _ in range(NEWTON_STEPS):
        z = superheat_scale(table, saturation, superheat)
        gain = degree_7(gains, z)
        z_slope = 2 * below_critical / (superheat + below_critical) ** 2 * (most + below_critical) / most
        slope = gain + superheat * degree_7(slopes, z) * z_slope
        superheat = op.maximum(superheat - (start + superheat * gain - entropy) / slope, 0.0)
    return saturation + superheat
