"""Water that freezes and ice that melts: temperature and share of ice from the heat content.

Inside: how much of a kilogram of water is ice, and its temperature, each from its enthalpy, as for water in
an ice mould that a coil takes heat from. Enthalpy counts from liquid water at 0 °C, as in
`coldbench.properties.water_and_ice`. Water that stays liquid below 0 °C for a while is left out.
"""

from __future__ import annotations

from coldbench.errors import check_range
from coldbench.operations import operations
from coldbench.properties.water_and_ice import (
    COLDEST,
    FREEZING,
    HEAT_OF_FUSION,
    ICE_SPECIFIC_HEAT,
    MEAN_WATER_SPECIFIC_HEAT,
    WATER_SPECIFIC_HEAT,
    ice_enthalpy,
    polynomial,
    water_enthalpy,
)
from coldbench.properties.water_vapor import WARMEST

LEAST_ENTHALPY, MOST_ENTHALPY = ice_enthalpy(COLDEST), water_enthalpy(WARMEST)


def _check_enthalpy(enthalpy):
    check_range(
        "enthalpy", enthalpy, LEAST_ENTHALPY, MOST_ENTHALPY, "J/kg",
        "ice at -60 °C has -446000 J/kg and water at 60 °C has 251000 J/kg",
    )  # fmt: skip


def ice_share(enthalpy: float) -> float:
    r"""How much of a kilogram of water is ice, from its heat content: 0 all water, 1 all ice.

    .. math:: x = \min\left(1, \max\left(0, \frac{-h}{333430}\right)\right)

    Parameters
    ----------
    enthalpy : float or array
        Heat content from liquid water at 0 °C [J/kg], valid from -446088 to 251188

    Returns
    -------
    float or array
        Share of ice by mass [-]

    Raises
    ------
    OutOfRange
        A `ValueError`: the enthalpy lies outside the valid range.

    References
    ----------
    Heat balance of a mixture at 0 °C, with the heat of fusion of IAPWS R10-06.

    Examples
    --------
    >>> ice_share(-166_715.0)
    0.5
    """
    _check_enthalpy(enthalpy)
    op = operations(enthalpy)
    return op.minimum(op.maximum(-enthalpy / HEAT_OF_FUSION, 0.0), 1.0)


def temperature_of_water_or_ice(enthalpy: float) -> float:
    r"""Temperature of a kilogram of water, ice or both, from its heat content.

    .. math:: T = 273.15 + t_{ice}(\min(h + 333430, 0)) + t_{water}(\max(h, 0))

    While there is both water and ice the temperature stays at 0 °C: that is the flat stretch that an ice
    mould's sensor shows.

    Parameters
    ----------
    enthalpy : float or array
        Heat content from liquid water at 0 °C [J/kg], valid from -446088 to 251188

    Returns
    -------
    float or array
        Temperature [K], the inverse of `ice_enthalpy` and `water_enthalpy` within 0.00001

    Raises
    ------
    OutOfRange
        A `ValueError`: the enthalpy lies outside the valid range.

    References
    ----------
    Inverse of the fits to IAPWS R10-06 and IAPWS-95.

    Examples
    --------
    >>> temperature_of_water_or_ice(-100_000.0)
    273.15
    """
    _check_enthalpy(enthalpy)
    op = operations(enthalpy)
    of_ice, of_water = op.minimum(enthalpy + HEAT_OF_FUSION, 0.0), op.maximum(enthalpy, 0.0)
    at_zero, slope = ICE_SPECIFIC_HEAT
    t_ice = (op.sqrt(at_zero**2 + 2 * slope * of_ice) - at_zero) / slope
    t_water = of_water / WATER_SPECIFIC_HEAT[0]
    for _ in range(2):  # the specific heat moves by 1 % only: each round gains more than two digits
        t_water = of_water / polynomial(MEAN_WATER_SPECIFIC_HEAT, t_water)
    return FREEZING + t_ice + t_water
