"""Numbers as people in the shop say them, with the SI twin in brackets.

`say_temperature`, `say_difference`, `say_absolute` and `say_gauge` turn SI floats into text.
"""

from __future__ import annotations

from coldbench.units import STANDARD_ATMOSPHERE, from_si


def signed(value: float, decimals: int = 1) -> str:
    """Write a number with a true minus sign, thousands apart, and no minus before a zero.

    Parameters
    ----------
    value : float
        The number [any unit]
    decimals : int
        Figures after the point [-]

    Returns
    -------
    str
        The number as text

    Source
    ------
    Arrangement of this project.

    Examples
    --------
    >>> signed(-14.93), signed(-0.04), signed(5000, 0)
    ('−14.9', '0.0', '5,000')
    """
    return f"{value:z,.{decimals}f}".replace("-", "−")


def say_temperature(temperature: float, decimals: int = 1) -> str:
    """Say a temperature in °F with °C beside it.

    Parameters
    ----------
    temperature : float
        Temperature [K]
    decimals : int
        Figures after the point of the °F [-]

    Returns
    -------
    str
        For example "−14.9 °F (−26.1 °C)"

    Source
    ------
    Arrangement of this project.
    """
    fahrenheit, celsius = from_si(temperature, "degF"), from_si(temperature, "degC")
    return f"{signed(fahrenheit, decimals)} °F ({signed(celsius)} °C)"


def say_difference(difference: float) -> str:
    """Say a temperature difference in °F with kelvin beside it.

    Parameters
    ----------
    difference : float
        Temperature difference [K]

    Returns
    -------
    str
        For example "9.0 °F (5.0 K)"

    Source
    ------
    Arrangement of this project.
    """
    return f"{signed(from_si(difference, 'delta_degF'))} °F ({signed(difference)} K)"


def say_absolute(pressure: float) -> str:
    """Say a whole pressure in psia with kPa beside it.

    Parameters
    ----------
    pressure : float
        Absolute pressure [Pa]

    Returns
    -------
    str
        For example "8.07 psia (55.6 kPa)"

    Source
    ------
    Arrangement of this project.
    """
    return f"{from_si(pressure, 'psia'):.2f} psia ({pressure / 1000:.1f} kPa)"


def say_gauge(pressure: float, atmosphere: float = STANDARD_ATMOSPHERE) -> str:
    """Say what a gauge shows at a pressure: psig above the air's pressure, inHg vacuum below it.

    Parameters
    ----------
    pressure : float
        Absolute pressure [Pa]
    atmosphere : float
        Pressure of the air around the gauge [Pa]

    Returns
    -------
    str
        For example "13.5 inHg vacuum" or "6.5 psig"

    Source
    ------
    Common practice of compound gauges, no source.
    """
    vacuum = from_si(pressure, "inHg vacuum", atmosphere)
    if vacuum >= 0.05:
        return f"{vacuum:.1f} inHg vacuum"
    return f"{signed(from_si(pressure, 'psig', atmosphere))} psig"
