"""Wet bulb: what a thermometer in a wet or iced wick tells about the moisture of the air.

Inside: humidity ratio from the two thermometers of a psychrometer, and the wet bulb of given air.
Students' and other modules' door to both is `coldbench.properties.moist_air`.
"""

from __future__ import annotations

from coldbench.errors import check_range
from coldbench.operations import operations
from coldbench.properties.water_vapor import (
    ATMOSPHERE,
    COLDEST,
    MOLAR_MASS_RATIO,
    MOST_VAPOR,
    WARMEST,
    check_pressure,
    check_temperature,
    log_pressure_over_ice,
    log_pressure_over_water,
    saturation_pressure,
    slope_over_ice,
    slope_over_water,
    vapor_pressure,
)

__all__ = ["humidity_ratio_from_wet_bulb", "wet_bulb"]

FREEZING = 273.15  # 0 °C [K]: below it the wick carries ice

# Over ice or over liquid: latent heat of the wick at 0 °C, its fall per kelvin, heat capacity of the wick
# [kJ/kg, kJ/(kg K), kJ/(kg K)]; ASHRAE (2017), ch. 1, eq. 33 (liquid) and eq. 35 (ice).
LIQUID_WICK = (2501.0, 2.326, 4.186)
ICE_WICK = (2830.0, 0.24, 2.1)


def humidity_ratio_from_wet_bulb(temperature: float, wet_bulb: float, pressure: float = ATMOSPHERE) -> float:
    r"""Water vapour in the air, from a dry thermometer and one with a wet or iced wick.

    .. math:: W = \frac{(L_0 - b\,t^*) W^*_{sat} - 1.006 (t - t^*)}{L_0 + 1.86\,t - c\,t^*}

    with temperatures in °C; the latent heat and the heat capacity of the wick are those of liquid water
    from 0 °C up and of ice below.

    Parameters
    ----------
    temperature : float or array
        Temperature of the air, dry bulb [K], valid from 233.15 to 333.15 (-40 to 60 °C)
    wet_bulb : float or array
        Temperature of the wick [K], valid from 233.15 up to the temperature of the air
    pressure : float or array
        Pressure of the atmosphere [Pa], valid from 60000 to 110000

    Returns
    -------
    float or array
        Humidity ratio [kg/kg]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range, the wick is warmer than the air, or the
        wick is colder than it could be even in perfectly dry air.

    References
    ----------
    ASHRAE Handbook, Fundamentals (2017), chapter 1, equations 33 and 35.

    Examples
    --------
    >>> round(humidity_ratio_from_wet_bulb(313.15, 293.15), 4)
    0.0064
    """
    check_temperature(temperature)
    check_range("wet_bulb", wet_bulb, COLDEST, WARMEST, "K")
    check_pressure(pressure)
    check_range(
        "wet_bulb_depression", temperature - wet_bulb, 0.0, WARMEST - COLDEST, "K",
        "a wet wick is never warmer than the air around it: look for mixed-up thermometers",
    )  # fmt: skip
    op = operations(temperature, wet_bulb)
    over_liquid = _wick_balance(op, temperature, wet_bulb, pressure, log_pressure_over_water, LIQUID_WICK)
    over_ice = _wick_balance(op, temperature, wet_bulb, pressure, log_pressure_over_ice, ICE_WICK)
    found = op.where(wet_bulb >= FREEZING, over_liquid, over_ice)
    check_range(
        "humidity_ratio", found, 0.0, MOST_VAPOR, "kg/kg",
        "the wick reads colder than it could in perfectly dry air: check both thermometers",
    )  # fmt: skip
    return found


def wet_bulb(temperature: float, humidity_ratio: float, pressure: float = ATMOSPHERE) -> float:
    r"""Temperature to which a wet wick cools itself in this air.

    The heat balance of `humidity_ratio_from_wet_bulb` is solved for the wick's temperature by three Newton
    steps. Close to 0 °C a wick may be wet or iced in the same air, at two temperatures; the one
    of liquid water is given where there is one at 0 °C or above.

    .. math:: W(T, T^*) = W

    Parameters
    ----------
    temperature : float or array
        Temperature of the air, dry bulb [K], valid from 233.15 to 333.15 (-40 to 60 °C)
    humidity_ratio : float or array
        Vapour per dry air [kg/kg], valid from 0 up to saturation
    pressure : float or array
        Pressure of the atmosphere [Pa], valid from 60000 to 110000

    Returns
    -------
    float or array
        Wet-bulb temperature [K]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range, or the air holds more than saturation.

    References
    ----------
    ASHRAE Handbook, Fundamentals (2017), chapter 1, equations 33 and 35.

    Examples
    --------
    >>> round(wet_bulb(313.15, 0.0064) - 273.15, 1)
    20.0
    """
    share = vapor_pressure(humidity_ratio, pressure) / saturation_pressure(temperature)
    check_range(
        "relative_humidity", share, 0.0, 1 + 1e-9, "(as a fraction)", "fog and frost have no wet bulb"
    )
    op = operations(temperature, humidity_ratio, pressure)
    liquid = humidity_ratio >= _wick_balance(
        op, temperature, FREEZING, pressure, log_pressure_over_water, LIQUID_WICK
    )
    latent, fall, heat_capacity = (
        op.where(liquid, *pair) for pair in zip(LIQUID_WICK, ICE_WICK, strict=True)
    )
    t = temperature - 273.15
    # A first guess that lies near the wick's temperature; three steps then come within 0.0001 K of it.
    span = temperature - COLDEST
    wick = temperature - (1 - share) * 0.0047 * span**2 / (1 + 0.012 * share * span)
    for _ in range(3):
        t_wet = wick - 273.15
        log_pressure = op.where(liquid, log_pressure_over_water(op, wick), log_pressure_over_ice(op, wick))
        slope = op.where(liquid, slope_over_water(wick), slope_over_ice(wick))
        saturated = op.exp(log_pressure)
        # What this air holds and can evaporate, against what saturated air at the wick holds.
        supply = humidity_ratio * (latent + 1.86 * t - heat_capacity * t_wet) + 1.006 * (t - t_wet)
        demand = (latent - fall * t_wet) * MOLAR_MASS_RATIO * saturated / (pressure - saturated)
        growth = slope * pressure / (pressure - saturated) - fall / (latent - fall * t_wet)
        wick = wick - (demand - supply) / (demand * growth + heat_capacity * humidity_ratio + 1.006)
    return wick


def _wick_balance(op, temperature: float, wet_bulb: float, pressure: float, log_pressure, wick) -> float:
    """Humidity ratio from the heat balance of a wick, ASHRAE (2017), ch. 1, eq. 33 and 35."""
    latent, fall, heat_capacity = wick
    t, t_wet = temperature - 273.15, wet_bulb - 273.15
    saturated = op.exp(log_pressure(op, wet_bulb))
    w_saturated = MOLAR_MASS_RATIO * saturated / (pressure - saturated)
    return ((latent - fall * t_wet) * w_saturated - 1.006 * (t - t_wet)) / (
        latent + 1.86 * t - heat_capacity * t_wet
    )
