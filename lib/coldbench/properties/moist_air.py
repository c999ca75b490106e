"""Moist air: how much water vapour air holds, where it fogs or frosts, and the heat it carries.

Inside: saturation pressure of water vapour over liquid water and over ice, the pressure of the
atmosphere at an altitude, humidity ratio, relative humidity, dew or frost point, wet bulb, enthalpy
and specific volume.

Air and vapour are ideal gases here, as in the equations of the ASHRAE Handbook, Fundamentals (2017),
chapter 1. Real air holds about 0.5 % more vapour at saturation than these equations say; the same
chapter's table 2 contains that, and the tests beside this module show the difference.
Every quantity per kilogram is per kilogram of dry air. Floats and arrays go through the same lines.
"""

from __future__ import annotations

from coldbench.errors import check_range
from coldbench.properties.psychrometer import humidity_ratio_from_wet_bulb, wet_bulb
from coldbench.properties.water_vapor import (
    ATMOSPHERE,
    MOLAR_MASS_RATIO,
    check_humidity_ratio,
    check_pressure,
    check_temperature,
    dew_point,
    ice_saturation_pressure,
    saturation_pressure,
    vapor_pressure,
    water_saturation_pressure,
)

__all__ = [
    "dew_point", "enthalpy", "humidity_ratio", "humidity_ratio_from_wet_bulb", "ice_saturation_pressure",
    "pressure_at_altitude", "relative_humidity", "saturation_pressure", "specific_volume", "vapor_pressure",
    "water_saturation_pressure", "wet_bulb",
]  # fmt: skip

GAS_CONSTANT_DRY_AIR = 287.042  # [J/(kg K)]; ASHRAE (2017), ch. 1, eq. 1


def pressure_at_altitude(altitude: float) -> float:
    r"""Pressure of the standard atmosphere at an altitude: what a gauge's zero means there.

    .. math:: p = 101325 \left(1 - 2.25577 \cdot 10^{-5} z\right)^{5.2559}

    Weather moves the true pressure by some percent to either side.

    Parameters
    ----------
    altitude : float or array
        Height above sea level [m], valid from -5000 to 10000; the other functions of this module end at
        60 kPa, about 4200 m

    Returns
    -------
    float or array
        Pressure of the atmosphere [Pa]

    Raises
    ------
    OutOfRange
        A `ValueError`: the altitude lies outside the valid range.

    References
    ----------
    ASHRAE Handbook, Fundamentals (2017), chapter 1, equation 3.

    Examples
    --------
    >>> round(pressure_at_altitude(1000.0))
    89875
    """
    check_range("altitude", altitude, -5000.0, 10000.0, "m")
    return ATMOSPHERE * (1 - 2.25577e-5 * altitude) ** 5.2559


def humidity_ratio(temperature: float, relative_humidity: float, pressure: float = ATMOSPHERE) -> float:
    r"""Water vapour that goes with each kilogram of dry air.

    .. math:: W = 0.621945 \frac{p_w}{p - p_w}, \quad p_w = \varphi \, p_{sat}(T)

    Parameters
    ----------
    temperature : float or array
        Temperature of the air [K], valid from 233.15 to 333.15 (-40 to 60 °C)
    relative_humidity : float or array
        Share of the saturation pressure, over ice below 0 °C [-], valid from 0 to 1
    pressure : float or array
        Pressure of the atmosphere [Pa], valid from 60000 to 110000

    Returns
    -------
    float or array
        Humidity ratio [kg/kg]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    ASHRAE Handbook, Fundamentals (2017), chapter 1, equations 12 and 20.

    Examples
    --------
    >>> round(humidity_ratio(298.15, 0.50), 5)
    0.00988
    """
    check_range("relative_humidity", relative_humidity, 0.0, 1.0, "(as a fraction)", "50 % is 0.5")
    check_pressure(pressure)
    part = relative_humidity * saturation_pressure(temperature)
    return MOLAR_MASS_RATIO * part / (pressure - part)


def relative_humidity(temperature: float, humidity_ratio: float, pressure: float = ATMOSPHERE) -> float:
    r"""How near the air is to saturation, over ice below 0 °C and over liquid water above.

    .. math:: \varphi = p_w / p_{sat}(T)

    More than 1 means more vapour than the air can keep: the rest turns to fog, dew or frost.

    Parameters
    ----------
    temperature : float or array
        Temperature of the air [K], valid from 233.15 to 333.15 (-40 to 60 °C)
    humidity_ratio : float or array
        Vapour per dry air [kg/kg], valid from 0 to 0.31
    pressure : float or array
        Pressure of the atmosphere [Pa], valid from 60000 to 110000

    Returns
    -------
    float or array
        Relative humidity as a fraction [-]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    ASHRAE Handbook, Fundamentals (2017), chapter 1, equations 12 and 20.

    Examples
    --------
    >>> round(relative_humidity(277.15, 0.0040), 2)
    0.8
    """
    return vapor_pressure(humidity_ratio, pressure) / saturation_pressure(temperature)


def enthalpy(temperature: float, humidity_ratio: float) -> float:
    r"""Heat content of moist air, counted from dry air and liquid water at 0 °C.

    .. math:: h = 1006\,t + W (2501000 + 1860\,t)

    The part with W is mostly latent heat: it is set free where the vapour turns to water.

    Parameters
    ----------
    temperature : float or array
        Temperature of the air [K], valid from 233.15 to 333.15 (-40 to 60 °C)
    humidity_ratio : float or array
        Vapour per dry air [kg/kg], valid from 0 to 0.31

    Returns
    -------
    float or array
        Enthalpy per kilogram of dry air [J/kg]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    ASHRAE Handbook, Fundamentals (2017), chapter 1, equation 30.

    Examples
    --------
    >>> round(enthalpy(277.15, 0.0040))
    14058
    """
    check_temperature(temperature)
    check_humidity_ratio(humidity_ratio)
    t = temperature - 273.15
    return 1006.0 * t + humidity_ratio * (2501e3 + 1860.0 * t)


def specific_volume(temperature: float, humidity_ratio: float, pressure: float = ATMOSPHERE) -> float:
    r"""Room that moist air takes up for each kilogram of dry air in it.

    .. math:: v = \frac{287.042\, T (1 + 1.607858\, W)}{p}

    Parameters
    ----------
    temperature : float or array
        Temperature of the air [K], valid from 233.15 to 333.15 (-40 to 60 °C)
    humidity_ratio : float or array
        Vapour per dry air [kg/kg], valid from 0 to 0.31
    pressure : float or array
        Pressure of the atmosphere [Pa], valid from 60000 to 110000

    Returns
    -------
    float or array
        Volume per kilogram of dry air [m3/kg]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    ASHRAE Handbook, Fundamentals (2017), chapter 1, equation 26.

    Examples
    --------
    >>> round(specific_volume(277.15, 0.0040), 3)
    0.79
    """
    check_temperature(temperature)
    check_humidity_ratio(humidity_ratio)
    check_pressure(pressure)
    return GAS_CONSTANT_DRY_AIR * temperature * (1 + 1.607858 * humidity_ratio) / pressure
