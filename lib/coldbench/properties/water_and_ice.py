"""Liquid water and ice: density, specific heat, heat content, and what frost gives off.

Inside: density, specific heat and enthalpy of ice and of liquid water; conductivity of ice; and, where vapour
turns straight to ice, its pressure and the heat that it gives off. The way back, from heat content to
temperature, is in `coldbench.properties.melting`.

Enthalpy counts from liquid water at 0 °C, as that of moist air does, so that vapour, water and ice can be
booked against each other. Pressure is that of the atmosphere. Floats and arrays go through the same lines.

The curves are fitted to the reference formulations IAPWS R10-06 (ice) and IAPWS-95 (water); each function
states its largest difference from them.
"""

from __future__ import annotations

from coldbench.errors import check_range
from coldbench.operations import operations
from coldbench.properties.water_vapor import TRIPLE_POINT, WARMEST, log_pressure_over_ice

__all__ = [
    "heat_of_sublimation",
    "ice_conductivity",
    "ice_density",
    "ice_enthalpy",
    "ice_specific_heat",
    "sublimation_pressure",
    "water_density",
    "water_enthalpy",
    "water_specific_heat",
]

FREEZING = 273.15  # water freezes at 0 °C under the atmosphere [K]
COLDEST = 213.15  # -60 °C [K]
HEAT_OF_FUSION = 333_430.0  # at 0 °C [J/kg]; IAPWS R10-06 with IAPWS-95

# Along t in °C, the lowest power first; fits to IAPWS R10-06 over -60...0 °C and IAPWS-95 over 0...60 °C.
ICE_DENSITY = (916.7166, -0.1475983, -2.523312e-4)  # [kg/m3]
ICE_SPECIFIC_HEAT = (2095.484, 7.261583)  # [J/(kg K)]
WATER_DENSITY = (999.853093, 6.19103661e-2, -8.29950884e-3, 6.032364e-5, -2.72414463e-7)  # [kg/m3]
WATER_SPECIFIC_HEAT = (4219.06354, -3.22710418, 9.70867792e-2, -1.32784255e-3, 7.48874595e-6)  # [J/(kg K)]

# Enthalpy of vapour over t in °C: ASHRAE Handbook, Fundamentals (2017), chapter 1, equation 30.
VAPOR_ENTHALPY = (2.501e6, 1860.0)  # [J/kg], [J/(kg K)]


def _check_ice(temperature):
    check_range("temperature", temperature, COLDEST, TRIPLE_POINT, "K", "ice melts at 273.15 K (0 °C)")


def _check_water(temperature):
    check_range("temperature", temperature, FREEZING, WARMEST, "K", "water freezes at 273.15 K (0 °C)")


def polynomial(coefficients, t: float) -> float:
    """Value of a polynomial, its coefficients given from the lowest power."""
    total = 0.0
    for coefficient in reversed(coefficients):
        total = total * t + coefficient
    return total


def _mean(coefficients):
    """Coefficients of the mean from 0 to t °C: each power's integral, divided by t."""
    return tuple(coefficient / (power + 1) for power, coefficient in enumerate(coefficients))


MEAN_ICE_SPECIFIC_HEAT = _mean(ICE_SPECIFIC_HEAT)
MEAN_WATER_SPECIFIC_HEAT = _mean(WATER_SPECIFIC_HEAT)


def ice_density(temperature: float) -> float:
    r"""Density of ice.

    .. math:: \rho = 916.7166 - 0.1475983\,t - 2.523312 \cdot 10^{-4} t^2, \quad t = T - 273.15

    Parameters
    ----------
    temperature : float or array
        Temperature of the ice [K], valid from 213.15 to 273.16 (-60 to 0.01 °C)

    Returns
    -------
    float or array
        Density [kg/m3], within 0.01 of the reference

    Raises
    ------
    OutOfRange
        A `ValueError`: the temperature lies outside the valid range.

    References
    ----------
    Fitted to IAPWS R10-06, equation of state of ice Ih.

    Examples
    --------
    >>> round(ice_density(253.15), 1)
    919.6
    """
    _check_ice(temperature)
    return polynomial(ICE_DENSITY, temperature - FREEZING)


def ice_specific_heat(temperature: float) -> float:
    r"""Heat that warms a kilogram of ice by one kelvin: about half of what water takes.

    .. math:: c = 2095.484 + 7.261583\,t, \quad t = T - 273.15

    Parameters
    ----------
    temperature : float or array
        Temperature of the ice [K], valid from 213.15 to 273.16 (-60 to 0.01 °C)

    Returns
    -------
    float or array
        Specific heat [J/(kg K)], within 1.5 of the reference

    Raises
    ------
    OutOfRange
        A `ValueError`: the temperature lies outside the valid range.

    References
    ----------
    Fitted to IAPWS R10-06, equation of state of ice Ih.

    Examples
    --------
    >>> round(ice_specific_heat(253.15))
    1950
    """
    _check_ice(temperature)
    return polynomial(ICE_SPECIFIC_HEAT, temperature - FREEZING)


def ice_conductivity(temperature: float) -> float:
    r"""How well solid ice without bubbles carries heat: four times as well as water, a hundred times as foam.

    .. math:: k = 1.16\,(1.91 - 8.66 \cdot 10^{-3} t + 2.97 \cdot 10^{-5} t^2), \quad t = T - 273.15

    Parameters
    ----------
    temperature : float or array
        Temperature of the ice [K], valid from 213.15 to 273.16 (-60 to 0.01 °C)

    Returns
    -------
    float or array
        Thermal conductivity [W/(m K)]; measured values scatter by some percent

    Raises
    ------
    OutOfRange
        A `ValueError`: the temperature lies outside the valid range.

    References
    ----------
    Fukusako, International Journal of Thermophysics 11 (1990) 353, from memory; tables of handbooks agree
    within 4 % (2.14 W/(m K) at 0 °C, 2.3 at -10 °C).

    Examples
    --------
    >>> round(ice_conductivity(263.15), 2)
    2.32
    """
    _check_ice(temperature)
    return polynomial((1.16 * 1.91, -1.16 * 8.66e-3, 1.16 * 2.97e-5), temperature - FREEZING)


def ice_enthalpy(temperature: float) -> float:
    r"""Heat content of a kilogram of ice, counted from liquid water at 0 °C; negative.

    .. math:: h = -333430 + 2095.484\,t + \tfrac{1}{2}\,7.261583\,t^2, \quad t = T - 273.15

    Parameters
    ----------
    temperature : float or array
        Temperature of the ice [K], valid from 213.15 to 273.16 (-60 to 0.01 °C)

    Returns
    -------
    float or array
        Enthalpy [J/kg], within 100 of the reference

    Raises
    ------
    OutOfRange
        A `ValueError`: the temperature lies outside the valid range.

    References
    ----------
    Fitted to IAPWS R10-06, equation of state of ice Ih.

    Examples
    --------
    >>> round(ice_enthalpy(253.15), -3)  # melting a kilogram from -20 °C takes 374 kJ
    -374000.0
    """
    _check_ice(temperature)
    t = temperature - FREEZING
    return -HEAT_OF_FUSION + t * polynomial(MEAN_ICE_SPECIFIC_HEAT, t)


def water_density(temperature: float) -> float:
    r"""Density of liquid water: greatest at 4 °C, and a twelfth more than that of ice.

    .. math:: \rho = \sum_{i=0}^{4} a_i t^i, \quad t = T - 273.15

    Parameters
    ----------
    temperature : float or array
        Temperature of the water [K], valid from 273.15 to 333.15 (0 to 60 °C)

    Returns
    -------
    float or array
        Density [kg/m3], within 0.02 of the reference

    Raises
    ------
    OutOfRange
        A `ValueError`: the temperature lies outside the valid range.

    References
    ----------
    Fitted to IAPWS-95 at 101 325 Pa; the coefficients are `WATER_DENSITY`.

    Examples
    --------
    >>> round(water_density(293.15), 1)
    998.2
    """
    _check_water(temperature)
    return polynomial(WATER_DENSITY, temperature - FREEZING)


def water_specific_heat(temperature: float) -> float:
    r"""Heat that warms a kilogram of liquid water by one kelvin.

    .. math:: c = \sum_{i=0}^{4} a_i t^i, \quad t = T - 273.15

    Parameters
    ----------
    temperature : float or array
        Temperature of the water [K], valid from 273.15 to 333.15 (0 to 60 °C)

    Returns
    -------
    float or array
        Specific heat [J/(kg K)], within 0.5 of the reference

    Raises
    ------
    OutOfRange
        A `ValueError`: the temperature lies outside the valid range.

    References
    ----------
    Fitted to IAPWS-95 at 101 325 Pa; the coefficients are `WATER_SPECIFIC_HEAT`.

    Examples
    --------
    >>> round(water_specific_heat(293.15))
    4184
    """
    _check_water(temperature)
    return polynomial(WATER_SPECIFIC_HEAT, temperature - FREEZING)


def water_enthalpy(temperature: float) -> float:
    r"""Heat content of a kilogram of liquid water, counted from 0 °C.

    .. math:: h = \int_0^t c \, dt, \quad t = T - 273.15

    Parameters
    ----------
    temperature : float or array
        Temperature of the water [K], valid from 273.15 to 333.15 (0 to 60 °C)

    Returns
    -------
    float or array
        Enthalpy [J/kg], within 40 of the reference

    Raises
    ------
    OutOfRange
        A `ValueError`: the temperature lies outside the valid range.

    References
    ----------
    Fitted to IAPWS-95 at 101 325 Pa.

    Examples
    --------
    >>> round(water_enthalpy(293.15), -2)
    83900.0
    """
    _check_water(temperature)
    t = temperature - FREEZING
    return t * polynomial(MEAN_WATER_SPECIFIC_HEAT, t)


def heat_of_sublimation(temperature: float) -> float:
    r"""Heat set free where vapour turns straight to ice, as on a frosting coil.

    .. math:: L = 2.501 \cdot 10^6 + 1860\,t - h_{ice}, \quad t = T - 273.15

    Parameters
    ----------
    temperature : float or array
        Temperature of the frost [K], valid from 213.15 to 273.16 (-60 to 0.01 °C)

    Returns
    -------
    float or array
        Heat of sublimation [J/kg], within 0.1 % of the reference

    Raises
    ------
    OutOfRange
        A `ValueError`: the temperature lies outside the valid range.

    References
    ----------
    ASHRAE Handbook, Fundamentals (2017), chapter 1, equation 30, for the vapour; IAPWS R10-06 for the ice.

    Examples
    --------
    >>> round(heat_of_sublimation(253.15), -4)
    2840000.0
    """
    return polynomial(VAPOR_ENTHALPY, temperature - FREEZING) - ice_enthalpy(temperature)


def sublimation_pressure(temperature: float) -> float:
    r"""Pressure of the vapour that stands over ice: on colder coils than moist air's range of -40 °C reaches.

    .. math:: \ln p = \frac{c_1}{T} + c_2 + c_3 T + c_4 T^2 + c_5 T^3 + c_6 T^4 + c_7 \ln T

    Parameters
    ----------
    temperature : float or array
        Temperature of the ice or frost [K], valid from 213.15 to 273.16 (-60 to 0.01 °C)

    Returns
    -------
    float or array
        Pressure of the vapour [Pa], the same as `moist_air.ice_saturation_pressure` where both hold

    Raises
    ------
    OutOfRange
        A `ValueError`: the temperature lies outside the valid range.

    References
    ----------
    ASHRAE Handbook, Fundamentals (2017), chapter 1, equation 5, which holds from -100 to 0 °C.

    Examples
    --------
    >>> round(sublimation_pressure(228.15), 2)
    7.21
    """
    _check_ice(temperature)
    op = operations(temperature)
    return op.exp(log_pressure_over_ice(op, temperature))
