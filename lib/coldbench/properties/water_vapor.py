"""Water vapour in air: its saturation over liquid water and over ice, its pressure, its dew or frost point.

Inside: the constants and ranges that all of moist air shares, the two saturation curves and the curve that
joins them, vapour pressure from humidity ratio, and the dew point. Students' and other modules' door to all
of it is `coldbench.properties.moist_air`.
"""

from __future__ import annotations

import math

from coldbench.errors import check_range
from coldbench.operations import operations

__all__ = [
    "dew_point",
    "ice_saturation_pressure",
    "saturation_pressure",
    "vapor_pressure",
    "water_saturation_pressure",
]

ATMOSPHERE = 101325.0  # standard atmosphere [Pa]; ASHRAE (2017), ch. 1, eq. 3 at sea level
COLDEST, WARMEST = 233.15, 333.15  # range of moist air [K]: -40 to 60 °C
LOWEST_PRESSURE, HIGHEST_PRESSURE = 60e3, 110e3  # range of moist air [Pa]: 4,200 m above to 700 m below sea
TRIPLE_POINT = 273.16  # 0.01 °C [K]: the curves over ice and over liquid water meet here
MOLAR_MASS_RATIO = 0.621945  # water over dry air [-]; ASHRAE (2017), ch. 1, eq. 20
MOST_VAPOR = 0.31  # humidity ratio saturated at 60 °C and 60 kPa, rounded up a little [kg/kg]
LEAST_VAPOR_PRESSURE = 0.0015  # [Pa]: saturated over ice at -100 °C, the end of ASHRAE (2017), ch. 1, eq. 5


def log_pressure_over_water(op, temperature: float) -> float:
    """Logarithm of the saturation pressure over liquid water: ASHRAE (2017), ch. 1, eq. 6."""
    t = temperature
    polynomial = 1.3914993 + t * (-4.8640239e-2 + t * (4.1764768e-5 - 1.4452093e-8 * t))
    return polynomial - 5800.2206 / t + 6.5459673 * op.log(t)


def log_pressure_over_ice(op, temperature: float) -> float:
    """Logarithm of the saturation pressure over ice: ASHRAE (2017), ch. 1, eq. 5."""
    t = temperature
    polynomial = 6.3925247 + t * (-9.677843e-3 + t * (6.2215701e-7 + t * (2.0747825e-9 - 9.484024e-13 * t)))
    return polynomial - 5674.5359 / t + 4.1635019 * op.log(t)


def slope_over_water(t: float) -> float:
    """Derivative of `log_pressure_over_water` by temperature [1/K]."""
    return -4.8640239e-2 + t * (8.3529536e-5 - 4.3356279e-8 * t) + 5800.2206 / t**2 + 6.5459673 / t


def slope_over_ice(t: float) -> float:
    """Derivative of `log_pressure_over_ice` by temperature [1/K]."""
    return (
        -9.677843e-3
        + t * (1.24431402e-6 + t * (6.2243475e-9 - 3.7936096e-12 * t))
        + 5674.5359 / t**2
        + 4.1635019 / t
    )


TRIPLE_PRESSURE = math.exp(log_pressure_over_water(operations(), TRIPLE_POINT))  # [Pa]
MOST_VAPOR_PRESSURE = math.exp(log_pressure_over_water(operations(), WARMEST)) * (1 + 1e-9)  # [Pa]


def check_temperature(temperature: float) -> None:
    """Refuse a temperature outside the range of moist air."""
    check_range("temperature", temperature, COLDEST, WARMEST, "K")


def check_pressure(pressure: float) -> None:
    """Refuse a pressure outside the range of moist air."""
    check_range("pressure", pressure, LOWEST_PRESSURE, HIGHEST_PRESSURE, "Pa")


def check_humidity_ratio(humidity_ratio: float) -> None:
    """Refuse a humidity ratio outside the range of moist air."""
    check_range(
        "humidity_ratio",
        humidity_ratio,
        0.0,
        MOST_VAPOR,
        "kg/kg",
        "give kilograms of vapour per kilogram of dry air",
    )


def water_saturation_pressure(temperature: float) -> float:
    r"""Pressure of water vapour that is saturated over liquid water, supercooled below 0 °C.

    .. math:: \ln p = \frac{c_8}{T} + c_9 + c_{10} T + c_{11} T^2 + c_{12} T^3 + c_{13} \ln T

    A droplet can stay liquid well below 0 °C. More vapour stands over it than over ice, and so
    frost grows at the droplet's cost.

    Parameters
    ----------
    temperature : float or array
        Temperature of the liquid [K], valid from 233.15 to 333.15 (-40 to 60 °C)

    Returns
    -------
    float or array
        Saturation pressure over liquid water [Pa]

    Raises
    ------
    OutOfRange
        A `ValueError`: the temperature lies outside the valid range.

    References
    ----------
    ASHRAE Handbook, Fundamentals (2017), chapter 1, equation 6, given there for 0 to 200 °C. Carried on
    below 0 °C it stays within 0.8 % of the equation for supercooled water of Murphy and Koop (2005),
    Q. J. R. Meteorol. Soc. 131, 1539, equation 10.

    Examples
    --------
    >>> round(water_saturation_pressure(253.15), 1)
    125.6
    """
    check_temperature(temperature)
    op = operations(temperature)
    return op.exp(log_pressure_over_water(op, temperature))


def ice_saturation_pressure(temperature: float) -> float:
    r"""Pressure of water vapour that is saturated over ice.

    .. math:: \ln p = \frac{c_1}{T} + c_2 + c_3 T + c_4 T^2 + c_5 T^3 + c_6 T^4 + c_7 \ln T

    Parameters
    ----------
    temperature : float or array
        Temperature of the ice [K], valid from 233.15 to 273.16 (-40 to 0.01 °C)

    Returns
    -------
    float or array
        Saturation pressure over ice [Pa]

    Raises
    ------
    OutOfRange
        A `ValueError`: the temperature lies outside the valid range.

    References
    ----------
    ASHRAE Handbook, Fundamentals (2017), chapter 1, equation 5.

    Examples
    --------
    >>> round(ice_saturation_pressure(253.15), 1)
    103.3
    """
    check_range(
        "temperature",
        temperature,
        COLDEST,
        TRIPLE_POINT,
        "K",
        "warmer water is liquid: use water_saturation_pressure",
    )
    op = operations(temperature)
    return op.exp(log_pressure_over_ice(op, temperature))


def saturation_pressure(temperature: float) -> float:
    r"""Pressure of water vapour that is saturated: over ice in the cold, over liquid water above 0 °C.

    The two curves are joined at 0.01 °C, where ice, liquid and vapour live together, so that nothing jumps.

    .. math:: p = p_{ice}(T) \text{ for } T < 273.16 \text{ K, else } p_{water}(T)

    Parameters
    ----------
    temperature : float or array
        Temperature of the ice or liquid surface [K], valid from 233.15 to 333.15 (-40 to 60 °C)

    Returns
    -------
    float or array
        Saturation pressure of water vapour [Pa]

    Raises
    ------
    OutOfRange
        A `ValueError`: the temperature lies outside the valid range.

    References
    ----------
    ASHRAE Handbook, Fundamentals (2017), chapter 1, equations 5 and 6.

    Examples
    --------
    >>> round(saturation_pressure(298.15), 1)
    3169.2
    """
    check_temperature(temperature)
    op = operations(temperature)
    over_ice = log_pressure_over_ice(op, temperature)
    over_water = log_pressure_over_water(op, temperature)
    return op.exp(op.where(temperature < TRIPLE_POINT, over_ice, over_water))


def vapor_pressure(humidity_ratio: float, pressure: float = ATMOSPHERE) -> float:
    r"""Part of the air's pressure that its water vapour carries.

    .. math:: p_w = p \frac{W}{0.621945 + W}

    Parameters
    ----------
    humidity_ratio : float or array
        Vapour per dry air [kg/kg], valid from 0 to 0.31
    pressure : float or array
        Pressure of the atmosphere [Pa], valid from 60000 to 110000

    Returns
    -------
    float or array
        Pressure of the vapour alone [Pa]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    ASHRAE Handbook, Fundamentals (2017), chapter 1, equation 20 solved for the vapour pressure.
    """
    check_humidity_ratio(humidity_ratio)
    check_pressure(pressure)
    return pressure * humidity_ratio / (MOLAR_MASS_RATIO + humidity_ratio)


def dew_point(humidity_ratio: float, pressure: float = ATMOSPHERE) -> float:
    r"""Temperature of a surface on which this air begins to leave dew, or frost below 0 °C.

    .. math:: p_{sat}(T_{dew}) = p_w

    The saturation curve is solved by three Newton steps, exact to a millionth of a kelvin.

    Parameters
    ----------
    humidity_ratio : float or array
        Vapour per dry air [kg/kg], valid from 0.00000002 to 0.31 as long as the dew point lies
        from -100 to 60 °C
    pressure : float or array
        Pressure of the atmosphere [Pa], valid from 60000 to 110000

    Returns
    -------
    float or array
        Dew point, or frost point below 0 °C [K]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument, or the vapour pressure that follows, lies outside its valid range.

    References
    ----------
    ASHRAE Handbook, Fundamentals (2017), chapter 1, equations 5, 6 and 20.

    Examples
    --------
    >>> round(dew_point(0.0040) - 273.15, 1)
    0.8
    """
    part = vapor_pressure(humidity_ratio, pressure)
    check_range(
        "vapor_pressure",
        part,
        LEAST_VAPOR_PRESSURE,
        MOST_VAPOR_PRESSURE,
        "Pa",
        "perfectly dry air has no dew point",
    )
    op = operations(part)
    goal = op.log(part)
    frost = part < TRIPLE_PRESSURE
    above = goal - math.log(TRIPLE_PRESSURE)
    # A first guess within 1 K: the Magnus form, whose constants suit ice or liquid water.
    start = TRIPLE_POINT + op.where(frost, 272.62 * above / (22.46 - above), 243.12 * above / (17.62 - above))
    temperature = start
    for _ in range(3):
        reached = op.where(
            frost, log_pressure_over_ice(op, temperature), log_pressure_over_water(op, temperature)
        )
        slope = op.where(frost, slope_over_ice(temperature), slope_over_water(temperature))
        temperature = temperature + (goal - reached) / slope
    return temperature
