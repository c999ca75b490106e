"""Capillary: the thin long tube that lets liquid through to the low side, and far less once vapour enters it.

Inside: the number that says how strongly a liquid flashes, and the flow through the tube with friction, up
to the choked flow beyond which a lower pressure at its end draws nothing more.

The equation is adiabatic: heat that the tube gives to the suction line is taken from what leaves it, and does
not change the flow here. Flow of a liquid that stays liquid a little beyond its boiling point (metastable
flow), which real tubes show, is left out.
"""

from __future__ import annotations

from coldbench.errors import check_range
from coldbench.operations import operations

__all__ = ["capillary_flow", "flashing_number"]

FRICTION = 0.021  # [-], Darcy factor of the whole tube; assumed, within the span read for smooth thin tubes
ENTRANCE = 0.75  # [-], half the sum of entrance and acceleration losses; assumed
LINEAR_BELOW = 500e3  # [Pa kg/m3]; smooths the root where the pressures are nearly equal
PASSES = 2  # of choking pressure and flow; two more change the flow by less than 0.1 %


def flashing_number_of(
    quality, volume, volume_change, latent_heat, liquid_heat_capacity, temperature, pressure
):
    """How strongly a liquid or mixture flashes, unchecked [-]."""
    flashing = liquid_heat_capacity * temperature * pressure / volume * (volume_change / latent_heat) ** 2
    return quality * volume_change / volume + (1 - quality) * flashing


def capillary_flow_of(
    op, diameter, length, inlet_pressure, outlet_pressure, quality, subcooling, temperature,
    liquid_density, vapor_density, latent_heat, liquid_heat_capacity,
):  # fmt: skip
    """Flow, and 1.0 where it is not choked, unchecked [kg/s], [-]."""
    volume_change = 1 / vapor_density - 1 / liquid_density
    volume = 1 / liquid_density + quality * volume_change
    # Clapeyron's equation: pressure at which a subcooled liquid begins to boil
    flash = inlet_pressure * op.exp(
        -subcooling * latent_heat / (volume_change * inlet_pressure * temperature)
    )
    number = op.maximum(
        flashing_number_of(
            quality, volume, volume_change, latent_heat, liquid_heat_capacity, temperature, flash
        ),
        1.05,
    )
    rest = 1 - number
    friction = FRICTION * length / (2 * diameter) + ENTRANCE
    liquid_part = (inlet_pressure - flash) * liquid_density
    choking_factor = op.sqrt(volume * number * flash)
    end = op.minimum(op.maximum(outlet_pressure, 0.12 * flash), flash)
    for _ in range(PASSES):
        swelling = (rest * end + number * flash) / end
        drive = (
            (flash - end) / rest - number * flash / (rest * rest) * op.log(flash / (swelling * end))
        ) / volume
        drive = op.maximum(drive + liquid_part, 0.0)
        flux = drive / op.sqrt((friction + op.log(swelling)) * (drive + LINEAR_BELOW))
        choking = flux * choking_factor
        end = op.minimum(op.maximum(outlet_pressure, choking), flash)
    area = 0.7853981633974483 * diameter * diameter
    return flux * area, op.where(outlet_pressure > choking, 1.0, 0.0)


def flashing_number(
    quality: float, liquid_density: float, vapor_density: float, latent_heat: float,
    liquid_heat_capacity: float, temperature: float, pressure: float,
) -> float:  # fmt: skip
    r"""How strongly a liquid, or a mixture, swells with vapour as its pressure falls.

    .. math:: \omega = \frac{x \, v_{fg}}{v}
        + (1 - x) \frac{c_l \, T \, p}{v} \left(\frac{v_{fg}}{h_{fg}}\right)^2,
        \quad v(p) = v_0 \left[1 + \omega \left(\frac{p_0}{p} - 1\right)\right]

    About 1 for vapour, 10 to 100 for liquids near their boiling point.

    Parameters
    ----------
    quality : float or array
        Vapour in the mixture [-], valid from 0 to 1
    liquid_density : float or array
        Of the saturated liquid [kg/m3], valid from 100 to 2000
    vapor_density : float or array
        Of the saturated vapour [kg/m3], valid from 0.1 to 300
    latent_heat : float or array
        At this temperature [J/kg], valid from 50000 to 500000
    liquid_heat_capacity : float or array
        Of the liquid [J/(kg K)], valid from 500 to 5000
    temperature : float or array
        Of saturation [K], valid from 213.15 to 363.15
    pressure : float or array
        Of saturation [Pa], valid from 1000 to 4000000

    Returns
    -------
    float or array
        Flashing number [-]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    J. C. Leung, A generalized correlation for one-component homogeneous equilibrium flashing choked flow,
    AIChE J. 32 (1986) 1743-1746; from memory.
    """
    check_range("quality", quality, 0.0, 1.0, "(as a fraction)")
    check_range("liquid_density", liquid_density, 100.0, 2000.0, "kg/m3")
    check_range("vapor_density", vapor_density, 0.1, 300.0, "kg/m3")
    check_range("latent_heat", latent_heat, 5e4, 5e5, "J/kg")
    check_range("liquid_heat_capacity", liquid_heat_capacity, 500.0, 5000.0, "J/(kg K)")
    check_range("temperature", temperature, 213.15, 363.15, "K")
    check_range("pressure", pressure, 1e3, 4e6, "Pa")
    volume_change = 1 / vapor_density - 1 / liquid_density
    volume = 1 / liquid_density + quality * volume_change
    return flashing_number_of(
        quality, volume, volume_change, latent_heat, liquid_heat_capacity, temperature, pressure
    )


def capillary_flow(
    refrigerant: str, diameter: float, length: float, condensing_temperature: float,
    outlet_pressure: float, subcooling: float = 0.0, quality: float = 0.0,
) -> float:  # fmt: skip
    r"""Refrigerant that a capillary lets through.

    .. math:: G^2 \left[\frac{f L}{2 D} + \ln\frac{v_e}{v_0} + 0.75\right]
        = \int_{p_e}^{p_0} \frac{\mathrm{d}p}{v(p)} + \frac{p_1 - p_0}{v_0}

    The end pressure is that of the low side, or, where that is lower, the one at which the flow is choked.

    Parameters
    ----------
    refrigerant : str
        "R-600a", "R-134a", "R-290" or "R-12"
    diameter : float or array
        Inner diameter [m], valid from 0.0003 to 0.002
    length : float or array
        [m], valid from 0.5 to 10
    condensing_temperature : float or array
        At the inlet [K], valid from 273.15 to 353.15
    outlet_pressure : float or array
        Absolute pressure on the low side [Pa], valid from 1000 to the inlet pressure
    subcooling : float or array
        Of the liquid at the inlet [K], valid from 0 to 30
    quality : float or array
        Vapour in the mixture at the inlet, where there is no subcooling [-], valid from 0 to 1

    Returns
    -------
    float or array
        Mass flow [kg/s]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.
    CannotRead
        A `ValueError`, for a refrigerant that is not one of the four.

    References
    ----------
    Homogeneous flow with friction, integrated with the flashing number (see `flashing_number`); the
    friction factor 0.021 of the whole tube is assumed.

    Examples
    --------
    >>> round(capillary_flow("R-600a", 0.66e-3, 2.6, 317.15, 60e3, subcooling=5.0) * 1e3, 2)
    0.46
    """
    from coldbench.properties import refrigerant as of

    check_range("diameter", diameter, 3e-4, 2e-3, "m", "0.66 mm is 0.00066 m")
    check_range("length", length, 0.5, 10.0, "m")
    check_range("condensing_temperature", condensing_temperature, 273.15, 353.15, "K")
    check_range("subcooling", subcooling, 0.0, 30.0, "K")
    check_range("quality", quality, 0.0, 1.0, "(as a fraction)")
    inlet_pressure = of.saturation_pressure(refrigerant, condensing_temperature)
    check_range("share_of_inlet_pressure", outlet_pressure / inlet_pressure, 1e-4, 1.0, "(as a fraction)")
    temperature = condensing_temperature
    heat_capacity = (
        of.liquid_enthalpy(refrigerant, temperature) - of.liquid_enthalpy(refrigerant, temperature - 5)
    ) / 5
    flow, _ = capillary_flow_of(
        operations(condensing_temperature, outlet_pressure, subcooling, quality, diameter, length),
        diameter, length, inlet_pressure, outlet_pressure, quality, subcooling, temperature,
        of.liquid_density(refrigerant, temperature), of.vapor_density(refrigerant, temperature),
        of.latent_heat(refrigerant, temperature), heat_capacity,
    )  # fmt: skip
    return flow
