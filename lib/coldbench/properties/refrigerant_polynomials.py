"""How the refrigerant tables are read: their shape, the scaled variables, and the polynomials.

Nothing here checks a range; that is done in `coldbench.properties.refrigerant`, the module to use.

What is inside: `Table` and `table_of`; polynomials by Horner's rule, written out because a loop is
slower; the saturation line both ways; superheated vapour above it.
"""

from __future__ import annotations

from typing import NamedTuple

from coldbench.errors import CannotRead
from coldbench.operations import operations
from coldbench.properties import refrigerant_tables
from coldbench.properties.refrigerant_tables import HIGHEST, HOTTEST, LOWEST

MIDDLE = (LOWEST + HIGHEST) / 2
HALF = (HIGHEST - LOWEST) / 2

Line = tuple[float, ...]
Plane = tuple[Line, ...]


class Table(NamedTuple):
    """The numbers of one refrigerant, from its reference equation of state.

    ``log_pressure`` is a polynomial in temperature, ``temperature`` one in the logarithm of pressure,
    both scaled to -1…1. The liquid and vapour lines are polynomials in the closeness to the critical
    point. A superheated plane gives what a quantity gains over saturated vapour per kelvin of superheat.
    """

    critical_temperature: float
    critical_pressure: float
    molar_mass: float
    gas_constant: float
    closeness_slope: float
    closeness_offset: float
    log_pressure_slope: float
    log_pressure_offset: float
    log_pressure: Line
    temperature: Line
    liquid_density: Line
    liquid_enthalpy: Line
    liquid_entropy: Line
    vapor_compressibility: Line
    vapor_enthalpy: Line
    vapor_entropy: Line
    vapor_speed_of_sound: Line
    superheated_compressibility: Plane
    superheated_enthalpy: Plane
    superheated_entropy: Plane
    superheated_speed_of_sound: Plane


TABLES = {name: Table(**numbers) for name, numbers in refrigerant_tables.TABLES.items()}


def table_of(refrigerant: str) -> Table:
    """Find the table of a refrigerant by its name.

    Parameters
    ----------
    refrigerant : str
        One of "R-134a", "R-600a", "R-290", "R-12"

    Returns
    -------
    Table
        Constants and polynomials [SI units]

    Raises
    ------
    CannotRead
        A `ValueError`. The sentence lists the names that exist.

    Source
    ------
    Arrangement of this project.
    """
    try:
        return TABLES[refrigerant]
    except KeyError:
        names = ", ".join(TABLES)
        raise CannotRead(
            f'There is no refrigerant "{refrigerant}" here. Write one of {names}, with the hyphen.'
        ) from None


def degree_7(coefficients, x):
    """Give the value of a polynomial of degree 7.

    Parameters
    ----------
    coefficients : tuple
        Eight coefficients, highest power first [any unit]
    x : float or array
        Scaled variable [-]

    Returns
    -------
    float or array
        Value of the polynomial [unit of the coefficients]

    Source
    ------
    Horner's rule.
    """
    a, b, c, d, e, f, g, h = coefficients
    return ((((((a * x + b) * x + c) * x + d) * x + e) * x + f) * x + g) * x + h


def degree_8(coefficients, x):
    """Give the value of a polynomial of degree 8.

    Parameters
    ----------
    coefficients : tuple
        Nine coefficients, highest power first [any unit]
    x : float or array
        Scaled variable [-]

    Returns
    -------
    float or array
        Value of the polynomial [unit of the coefficients]

    Source
    ------
    Horner's rule.
    """
    a, b, c, d, e, f, g, h, i = coefficients
    return (((((((a * x + b) * x + c) * x + d) * x + e) * x + f) * x + g) * x + h) * x + i


def log_pressure_slope(table: Table, temperature):
    """Give how fast the logarithm of the saturation pressure rises with temperature.

    Parameters
    ----------
    table : Table
        Numbers of the refrigerant [SI units]
    temperature : float or array
        Saturation temperature [K]

    Returns
    -------
    float or array
        Slope of ln(pressure) [1/K]

    Source
    ------
    Derivative of the polynomial that `saturation_pressure` uses.
    """
    x = (temperature - MIDDLE) / HALF
    a, b, c, d, e, f, g, h, _ = table.log_pressure
    slope = ((((((8 * a * x + 7 * b) * x + 6 * c) * x + 5 * d) * x + 4 * e) * x + 3 * f) * x + 2 * g) * x + h
    return slope / HALF


def log_pressure_at(table: Table, temperature):
    """Give the logarithm of the saturation pressure, unchecked.

    Parameters
    ----------
    table : Table
        Numbers of the refrigerant [SI units]
    temperature : float or array
        Saturation temperature [K]

    Returns
    -------
    float or array
        ln(pressure in Pa) [-]

    Source
    ------
    Fit of this project to the reference equations of state.
    """
    return degree_8(table.log_pressure, (temperature - MIDDLE) / HALF)


def saturation_temperature_at(table: Table, pressure):
    """Give the saturation temperature, unchecked: a first guess, then one Newton step on ln(pressure).

    Parameters
    ----------
    table : Table
        Numbers of the refrigerant [SI units]
    pressure : float or array
        Absolute pressure [Pa]

    Returns
    -------
    float or array
        Saturation temperature [K]

    Source
    ------
    Inverse of the polynomial that `saturation_pressure` uses; Newton's method.
    """
    return saturation_temperature_of_log(table, operations(pressure).log(pressure))


def saturation_temperature_of_log(table: Table, log_pressure):
    """Give the temperature at which the refrigerant boils, from the logarithm of its pressure.

    Parameters
    ----------
    table : Table
        Numbers of the refrigerant [SI units]
    log_pressure : float or array
        Natural logarithm of the absolute pressure in pascal [-]

    Returns
    -------
    float or array
        Saturation temperature [K]

    Source
    ------
    As `saturation_temperature_at`, which takes the pressure itself.
    """
    guess = degree_8(table.temperature, log_pressure * table.log_pressure_slope + table.log_pressure_offset)
    return guess - (log_pressure_at(table, guess) - log_pressure) / log_pressure_slope(table, guess)


def closeness(table: Table, temperature):
    r"""Scale the distance to the critical point so that properties become nearly straight lines.

    .. math:: x = \alpha \sqrt[3]{1 - T / T_c} + \beta

    Parameters
    ----------
    table : Table
        Numbers of the refrigerant [SI units]
    temperature : float or array
        Saturation temperature [K]

    Returns
    -------
    float or array
        Scaled variable, -1 at the lowest and 1 at the highest saturation temperature [-]

    Source
    ------
    Densities of liquid and vapour close like the cube root of this distance (the rectilinear-diameter
    picture of the critical point); choice of this project.
    """
    distance = 1 - temperature / table.critical_temperature
    return distance ** (1 / 3) * table.closeness_slope + table.closeness_offset


def superheat_scale(table: Table, saturation_temperature, superheat):
    r"""Scale superheat so that the steep start near saturation is stretched.

    .. math:: z = 2 \frac{r(\Delta)}{r(\Delta_{140})} - 1, \quad r(\Delta) = \frac{\Delta}{\Delta + T_c - T_s}

    Parameters
    ----------
    table : Table
        Numbers of the refrigerant [SI units]
    saturation_temperature : float or array
        Saturation temperature at the pressure of the vapour [K]
    superheat : float or array
        Temperature of the vapour above saturation [K]

    Returns
    -------
    float or array
        Scaled variable, -1 at saturation and 1 at 140 °C [-]

    Source
    ------
    Arrangement of this project.
    """
    below_critical = table.critical_temperature - saturation_temperature
    most = HOTTEST - saturation_temperature
    return 2 * superheat / (superheat + below_critical) * (most + below_critical) / most - 1


def superheated_at(table: Table, line: Line, plane: Plane, saturation_temperature, temperature):
    r"""Give a quantity of superheated vapour, unchecked: its value at saturation and what superheat adds.

    .. math:: q(p, T) = q_v(T_s) + (T - T_s) \sum_{i=0}^{8} \sum_{j=0}^{7} b_{ij} x^i z^j

    Parameters
    ----------
    table : Table
        Numbers of the refrigerant [SI units]
    line : tuple
        Polynomial of the saturated vapour [unit of the quantity]
    plane : tuple
        Rows of the gain over it, one a power of the scaled superheat [unit of the quantity per K]
    saturation_temperature : float or array
        Saturation temperature at the pressure of the vapour [K]
    temperature : float or array
        Temperature of the vapour [K]

    Returns
    -------
    float or array
        The quantity [its own unit]

    Source
    ------
    Fit of this project to the reference equations of state.
    """
    superheat = temperature - saturation_temperature
    x = closeness(table, saturation_temperature)
    gain = degree_7(
        [degree_8(row, x) for row in plane], superheat_scale(table, saturation_temperature, superheat)
    )
    return degree_8(line, x) + superheat * gain
