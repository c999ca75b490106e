"""Frost on a coil: how fast it falls, how dense it is, how badly it carries heat, what melting it takes.

Inside: frost from the moisture that air loses over a coil; density and conductivity of a frost layer, each
by one published fit with a narrow range; the layer's thickness; and the least heat that a defrost needs.

Real frost is anything from fluff to near ice, and gets denser as it ages, melts and freezes again: the two
fits say what to expect of fresh frost, not what lies on one coil. They are from experiments on plates; a
freezer's coil is colder than they reach.
"""

from __future__ import annotations

from coldbench.errors import check_range
from coldbench.operations import operations
from coldbench.properties.water_and_ice import FREEZING, ice_enthalpy
from coldbench.properties.water_vapor import check_humidity_ratio

LIGHTEST, DENSEST = 10.0, 573.0  # [kg/m3]; the upper end as published with the fit of the conductivity


def _check_mass(mass):
    check_range("mass", mass, 0.0, 100.0, "kg", "frost on a household coil is a few hundred grams")


def _check_density(density):
    check_range("density", density, LIGHTEST, DENSEST, "kg/m3", "fresh frost has some 50 to 300 kg/m3")


def frost_density(surface_temperature: float) -> float:
    r"""Density of fresh frost from the temperature of its surface: colder frost is fluffier.

    .. math:: \rho = 650 \exp(0.277\,t), \quad t = T - 273.15

    Parameters
    ----------
    surface_temperature : float or array
        Temperature of the frost's surface [K], valid from 258.15 to 268.15 (-15 to -5 °C)

    Returns
    -------
    float or array
        Density [kg/m3]; other fits for the same conditions differ by a factor of two

    Raises
    ------
    OutOfRange
        A `ValueError`: the temperature lies outside the valid range; below it the fit falls to densities
        that no one has measured.

    References
    ----------
    Hayashi, Aoki, Adachi and Hori, Journal of Heat Transfer 99 (1977) 239, from memory; range of the
    experiments as quoted in later collections of such fits.

    Examples
    --------
    >>> round(frost_density(265.15))
    71
    """
    check_range(
        "surface_temperature", surface_temperature, 258.15, 268.15, "K",
        "the fit was made for frost from -15 to -5 °C; for other frost state a density",
    )  # fmt: skip
    return 650.0 * operations(surface_temperature).exp(0.277 * (surface_temperature - FREEZING))


def frost_conductivity(density: float) -> float:
    r"""How well frost carries heat, from its density: air between needles of ice.

    .. math:: k = 0.02422 + 7.214 \cdot 10^{-4} \rho + 1.1797 \cdot 10^{-6} \rho^2

    Parameters
    ----------
    density : float or array
        Density of the frost [kg/m3], valid from 10 to 573

    Returns
    -------
    float or array
        Thermal conductivity [W/(m K)]

    Raises
    ------
    OutOfRange
        A `ValueError`: the density lies outside the valid range.

    References
    ----------
    Yonko and Sepsy, ASHRAE Transactions 73 (1967), from memory.

    Examples
    --------
    >>> round(frost_conductivity(200.0), 3)
    0.216
    """
    _check_density(density)
    return 0.02422 + density * (7.214e-4 + density * 1.1797e-6)


def frost_thickness(mass: float, density: float, area: float) -> float:
    r"""Thickness of a frost layer that lies evenly on a coil.

    .. math:: \delta = \frac{m}{\rho A}

    Parameters
    ----------
    mass : float or array
        Mass of the frost [kg], valid from 0 to 100
    density : float or array
        Density of the frost [kg/m3], valid from 10 to 573
    area : float or array
        Area of fins and tubes that it lies on [m2], valid from 0.001 to 100

    Returns
    -------
    float or array
        Thickness [m]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    Source
    ------
    Definition of density.

    Examples
    --------
    >>> round(frost_thickness(0.500, 200.0, 1.25) * 1000, 1)  # half a kilogram on 1.25 m2, in millimetres
    2.0
    """
    _check_mass(mass)
    _check_density(density)
    check_range("area", area, 0.001, 100.0, "m2")
    return mass / (density * area)


def frost_rate(dry_air_flow: float, entering_humidity_ratio: float, leaving_humidity_ratio: float) -> float:
    r"""Frost that falls on a coil in each second: the moisture that the air has lost on its way.

    .. math:: \dot m = \dot m_{air} (W_{in} - W_{out})

    A negative rate says that the air leaves wetter: frost is being dried off the coil.

    Parameters
    ----------
    dry_air_flow : float or array
        Dry air over the coil [kg/s], valid from 0 to 10
    entering_humidity_ratio : float or array
        Humidity ratio of the air that comes [kg/kg], valid from 0 to 0.31
    leaving_humidity_ratio : float or array
        Humidity ratio of the air that goes [kg/kg], valid from 0 to 0.31; at most saturated at the coil's
        surface

    Returns
    -------
    float or array
        Frost in each second [kg/s]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    Source
    ------
    Mass balance of the water in the air.

    Examples
    --------
    >>> round(frost_rate(0.010, 0.00300, 0.00237) * 3.6e6, 1)  # grams an hour
    22.7
    """
    check_range("dry_air_flow", dry_air_flow, 0.0, 10.0, "kg/s")
    check_humidity_ratio(entering_humidity_ratio)
    check_humidity_ratio(leaving_humidity_ratio)
    return dry_air_flow * (entering_humidity_ratio - leaving_humidity_ratio)


def defrost_energy(mass: float, temperature: float) -> float:
    r"""Least heat that turns frost to water at 0 °C, so that it runs off.

    .. math:: Q = -m \, h_{ice}(T)

    A real defrost takes two to five times as much: the coil's metal, the air and the box warm up as well.

    Parameters
    ----------
    mass : float or array
        Mass of the frost [kg], valid from 0 to 100
    temperature : float or array
        Temperature of the frost at the start [K], valid from 213.15 to 273.16 (-60 to 0.01 °C)

    Returns
    -------
    float or array
        Heat [J]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    Heat balance with the ice of IAPWS R10-06. That defrosts use 2 to 5 times as much: a measured efficiency
    of 30 % (Bansal and others, 2010, abstract read); the rest is common practice, no source.

    Examples
    --------
    >>> round(defrost_energy(0.500, 253.15), -2)
    186900.0
    """
    _check_mass(mass)
    return -mass * ice_enthalpy(temperature)
