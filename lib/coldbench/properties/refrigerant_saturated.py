"""Refrigerants on the saturation line: pressure, temperature, density, enthalpy, entropy.

Use them from `coldbench.properties.refrigerant`. Valid from -60 to 90 °C (213.15 to 363.15 K) for
R-134a, R-600a, R-290 and R-12; enthalpy is 200 kJ/kg and entropy 1 kJ/(kg K) for saturated liquid at
0 °C. The variable x in the formulas is `refrigerant_polynomials.closeness`. Errors are the largest
differences from the reference equations of state, measured by tests/studies/measure_refrigerant_tables.py.

What is inside: pressure and temperature, then density, enthalpy and entropy of liquid and vapour,
latent heat.
"""

from __future__ import annotations

from coldbench.errors import check_range
from coldbench.operations import operations
from coldbench.properties.refrigerant_polynomials import (
    HIGHEST,
    LOWEST,
    TABLES,
    Table,
    closeness,
    degree_8,
    log_pressure_at,
    saturation_temperature_at,
    table_of,
)

ROUNDING = 1e-6  # [K]; -60 + 273.15 is a hair below 213.15 in floating point
PRESSURE_SLACK = 1e-4  # [-]; more than the error of the fit, so that -60 and 90 °C themselves are inside
TEMPERATURE_ADVICE = "give kelvin: the tables hold from -60 to 90 °C"
PRESSURE_ADVICE = "give absolute pressure: the tables hold where saturation lies from -60 to 90 °C"


def _pressure_at(table: Table, temperature):
    return operations(temperature).exp(log_pressure_at(table, temperature))


PRESSURE_RANGES = {
    name: (
        _pressure_at(table, LOWEST) * (1 - PRESSURE_SLACK),
        _pressure_at(table, HIGHEST) * (1 + PRESSURE_SLACK),
    )
    for name, table in TABLES.items()
}  # [Pa]


def _checked(refrigerant: str, temperature) -> Table:
    table = table_of(refrigerant)
    check_range("temperature", temperature, LOWEST - ROUNDING, HIGHEST + ROUNDING, "K", TEMPERATURE_ADVICE)
    return table


def saturation_pressure(refrigerant: str, temperature):
    r"""Pressure at which the refrigerant boils or condenses at a temperature.

    .. math:: \ln p_s = \sum_{i=0}^{8} a_i \left(\frac{T - 288.15}{75}\right)^i

    Parameters
    ----------
    refrigerant : str
        "R-134a", "R-600a", "R-290" or "R-12"
    temperature : float or array
        Saturation temperature [K], 213.15 to 363.15

    Returns
    -------
    float or array
        Absolute pressure [Pa]

    Raises
    ------
    OutOfRange
        A `ValueError`. Valid from -60 to 90 °C.
    CannotRead
        A `ValueError`, for a refrigerant that is not one of the four.

    References
    ----------
    [EOS]_, fitted.
    Largest error 0.00084 % from -45 to 70 °C, 0.0019 % over the whole range.

    Examples
    --------
    >>> round(saturation_pressure("R-600a", 273.15))
    156956
    """
    table = _checked(refrigerant, temperature)
    return operations(temperature).exp(log_pressure_at(table, temperature))


def saturation_temperature(refrigerant: str, pressure):
    r"""Temperature at which the refrigerant boils or condenses at an absolute pressure.

    .. math:: T_s = T_0 - \frac{\ln p_s(T_0) - \ln p}{\mathrm{d} \ln p_s / \mathrm{d} T}

    Parameters
    ----------
    refrigerant : str
        "R-134a", "R-600a", "R-290" or "R-12"
    pressure : float or array
        Absolute pressure [Pa], from the saturation pressure at -60 °C to that at 90 °C

    Returns
    -------
    float or array
        Saturation temperature [K]

    Raises
    ------
    OutOfRange
        A `ValueError`. Valid from the saturation pressure at -60 °C to that at 90 °C.
    CannotRead
        A `ValueError`, for a refrigerant that is not one of the four.

    References
    ----------
    [EOS]_, fitted.
    Largest error 0.00043 K from -45 to 70 °C, 0.0011 K over the whole range.

    Examples
    --------
    >>> round(saturation_temperature("R-134a", 101325.0) - 273.15, 2)
    -26.07
    """
    table = table_of(refrigerant)
    low, high = PRESSURE_RANGES[refrigerant]
    check_range("pressure", pressure, low, high, "Pa", PRESSURE_ADVICE)
    return saturation_temperature_at(table, pressure)


def liquid_density(refrigerant: str, temperature):
    r"""Density of saturated liquid.

    .. math:: \rho_l = \sum_{i=0}^{8} a_i x^i

    Parameters
    ----------
    refrigerant : str
        "R-134a", "R-600a", "R-290" or "R-12"
    temperature : float or array
        Saturation temperature [K], 213.15 to 363.15

    Returns
    -------
    float or array
        Density [kg/m3]

    Raises
    ------
    OutOfRange
        A `ValueError`. Valid from -60 to 90 °C.
    CannotRead
        A `ValueError`, for a refrigerant that is not one of the four.

    References
    ----------
    [EOS]_, fitted.
    Largest error 0.00025 % from -45 to 70 °C, 0.00028 % over the whole range.
    """
    table = _checked(refrigerant, temperature)
    return degree_8(table.liquid_density, closeness(table, temperature))


def vapor_density(refrigerant: str, temperature):
    r"""Density of saturated vapour.

    .. math:: \rho_v = \frac{p_s}{Z R T}, \qquad Z = \sum_{i=0}^{8} a_i x^i

    Parameters
    ----------
    refrigerant : str
        "R-134a", "R-600a", "R-290" or "R-12"
    temperature : float or array
        Saturation temperature [K], 213.15 to 363.15

    Returns
    -------
    float or array
        Density [kg/m3]

    Raises
    ------
    OutOfRange
        A `ValueError`. Valid from -60 to 90 °C.
    CannotRead
        A `ValueError`, for a refrigerant that is not one of the four.

    References
    ----------
    [EOS]_, fitted.
    Largest error 0.0014 % from -45 to 70 °C, 0.0026 % over the whole range.
    """
    table = _checked(refrigerant, temperature)
    compressibility = degree_8(table.vapor_compressibility, closeness(table, temperature))
    return _pressure_at(table, temperature) / (compressibility * table.gas_constant * temperature)


def liquid_enthalpy(refrigerant: str, temperature):
    r"""Enthalpy of saturated liquid.

    .. math:: h_l = \sum_{i=0}^{8} a_i x^i

    Parameters
    ----------
    refrigerant : str
        "R-134a", "R-600a", "R-290" or "R-12"
    temperature : float or array
        Saturation temperature [K], 213.15 to 363.15

    Returns
    -------
    float or array
        Enthalpy [J/kg]

    Raises
    ------
    OutOfRange
        A `ValueError`. Valid from -60 to 90 °C.
    CannotRead
        A `ValueError`, for a refrigerant that is not one of the four.

    References
    ----------
    [EOS]_, fitted.
    Largest error 0.00017 kJ/kg from -45 to 70 °C, 0.00017 kJ/kg over the whole range.
    """
    table = _checked(refrigerant, temperature)
    return degree_8(table.liquid_enthalpy, closeness(table, temperature))


def vapor_enthalpy(refrigerant: str, temperature):
    r"""Enthalpy of saturated vapour.

    .. math:: h_v = \sum_{i=0}^{8} a_i x^i

    Parameters
    ----------
    refrigerant : str
        "R-134a", "R-600a", "R-290" or "R-12"
    temperature : float or array
        Saturation temperature [K], 213.15 to 363.15

    Returns
    -------
    float or array
        Enthalpy [J/kg]

    Raises
    ------
    OutOfRange
        A `ValueError`. Valid from -60 to 90 °C.
    CannotRead
        A `ValueError`, for a refrigerant that is not one of the four.

    References
    ----------
    [EOS]_, fitted.
    Largest error 0.0023 kJ/kg from -45 to 70 °C, 0.005 kJ/kg over the whole range.
    """
    table = _checked(refrigerant, temperature)
    return degree_8(table.vapor_enthalpy, closeness(table, temperature))


def liquid_entropy(refrigerant: str, temperature):
    r"""Entropy of saturated liquid.

    .. math:: s_l = \sum_{i=0}^{8} a_i x^i

    Parameters
    ----------
    refrigerant : str
        "R-134a", "R-600a", "R-290" or "R-12"
    temperature : float or array
        Saturation temperature [K], 213.15 to 363.15

    Returns
    -------
    float or array
        Entropy [J/(kg K)]

    Raises
    ------
    OutOfRange
        A `ValueError`. Valid from -60 to 90 °C.
    CannotRead
        A `ValueError`, for a refrigerant that is not one of the four.

    References
    ----------
    [EOS]_, fitted.
    Largest error 0.00069 % from -45 to 70 °C, 0.0014 % over the whole range.
    """
    table = _checked(refrigerant, temperature)
    return degree_8(table.liquid_entropy, closeness(table, temperature))


def vapor_entropy(refrigerant: str, temperature):
    r"""Entropy of saturated vapour.

    .. math:: s_v = \sum_{i=0}^{8} a_i x^i

    Parameters
    ----------
    refrigerant : str
        "R-134a", "R-600a", "R-290" or "R-12"
    temperature : float or array
        Saturation temperature [K], 213.15 to 363.15

    Returns
    -------
    float or array
        Entropy [J/(kg K)]

    Raises
    ------
    OutOfRange
        A `ValueError`. Valid from -60 to 90 °C.
    CannotRead
        A `ValueError`, for a refrigerant that is not one of the four.

    References
    ----------
    [EOS]_, fitted.
    Largest error 0.0012 % from -45 to 70 °C, 0.0013 % over the whole range.
    """
    table = _checked(refrigerant, temperature)
    return degree_8(table.vapor_entropy, closeness(table, temperature))


def latent_heat(refrigerant: str, temperature):
    r"""Heat that one kilogram takes up while it boils, or gives off while it condenses.

    .. math:: h_{lv} = h_v - h_l

    Parameters
    ----------
    refrigerant : str
        "R-134a", "R-600a", "R-290" or "R-12"
    temperature : float or array
        Saturation temperature [K], 213.15 to 363.15

    Returns
    -------
    float or array
        Latent heat [J/kg]

    Raises
    ------
    OutOfRange
        A `ValueError`. Valid from -60 to 90 °C.
    CannotRead
        A `ValueError`, for a refrigerant that is not one of the four.

    References
    ----------
    [EOS]_, fitted.
    Largest error 0.0025 kJ/kg from -45 to 70 °C, 0.005 kJ/kg over the whole range.
    """
    table = _checked(refrigerant, temperature)
    x = closeness(table, temperature)
    return degree_8(table.vapor_enthalpy, x) - degree_8(table.liquid_enthalpy, x)
