"""Walls and other heat paths: what leaks through insulation, and what a surface passes on.

Inside: conductance of a wall, a surface's coefficient with a layer over it (such as wrapping), the heat that
flows between a warm and a cold side, and the conductance that a measured flow of heat shows.

A cabinet loses more than its walls' middle: edges, the flange and the gasket carry a good part.
"""

from __future__ import annotations

from coldbench.errors import check_range

# Rigid polyurethane foam of a cabinet, fresh to moderately aged, at 24 °C [W/(m K)], within 0.003: ASHRAE
# Handbook, Refrigeration, household refrigerators, from memory. It rises as the foam ages.
POLYURETHANE_CONDUCTIVITY = 0.022

FOREVER = float("inf")


def wall_conductance(area: float, thickness: float, conductivity: float) -> float:
    r"""Heat that passes a wall for each kelvin between its two faces.

    .. math:: UA = \frac{k A}{d}

    Parameters
    ----------
    area : float or array
        Area of the wall [m2], valid from 0 to 10000
    thickness : float or array
        Thickness of the wall [m], valid from 0.0001 to 10
    conductivity : float or array
        Conductivity of what it is made of [W/(m K)], valid from 0.001 to 1000

    Returns
    -------
    float or array
        Conductance [W/K]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    Fourier's law for a flat wall.

    Examples
    --------
    >>> round(wall_conductance(6.0, 0.090, 0.05), 2)
    3.33
    """
    check_range("area", area, 0.0, 1e4, "m2")
    check_range("thickness", thickness, 1e-4, 10.0, "m", "give metres")
    check_range("conductivity", conductivity, 0.001, 1000.0, "W/(m K)")
    return conductivity * area / thickness


def covered_surface_coefficient(
    heat_transfer_coefficient: float, thickness: float, conductivity: float
) -> float:
    r"""What a surface passes on with a layer over it: wrapping, frost, a mould's wall.

    .. math:: \frac{1}{U} = \frac{1}{h} + \frac{d}{k}

    Parameters
    ----------
    heat_transfer_coefficient : float or array
        Heat that each square metre of bare surface gives off for each kelvin [W/(m2 K)], valid from 0.1 to
        infinity
    thickness : float or array
        Thickness of the layer [m], valid from 0 to 1
    conductivity : float or array
        Conductivity of the layer [W/(m K)], valid from 0.001 to 1000

    Returns
    -------
    float or array
        Heat through each square metre for each kelvin [W/(m2 K)]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    Resistances to heat in series.

    Examples
    --------
    >>> round(covered_surface_coefficient(600.0, 0.001, 0.06), 1)  # one millimetre of cardboard
    54.5
    """
    check_range("heat_transfer_coefficient", heat_transfer_coefficient, 0.1, FOREVER, "W/(m2 K)")
    check_range("thickness", thickness, 0.0, 1.0, "m", "give metres")
    check_range("conductivity", conductivity, 0.001, 1000.0, "W/(m K)")
    return 1 / (1 / heat_transfer_coefficient + thickness / conductivity)


def heat_flow(conductance: float, warm_temperature: float, cold_temperature: float) -> float:
    r"""Heat that flows each second from the warm to the cold side.

    .. math:: \dot Q = UA\,(T_{warm} - T_{cold})

    Parameters
    ----------
    conductance : float or array
        Heat for each kelvin between the sides [W/K], valid from 0 to 1000000
    warm_temperature : float or array
        Temperature of the warm side [K], valid from 150 to 600
    cold_temperature : float or array
        Temperature of the cold side [K], valid from 150 to 600; where it is the warmer one, the flow is
        negative

    Returns
    -------
    float or array
        Heat flow [W]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    Definition of a conductance.

    Examples
    --------
    >>> round(heat_flow(1.20, 298.15, 276.15), 1)
    26.4
    """
    check_range("conductance", conductance, 0.0, 1e6, "W/K")
    check_range("warm_temperature", warm_temperature, 150.0, 600.0, "K", "give kelvin")
    check_range("cold_temperature", cold_temperature, 150.0, 600.0, "K", "give kelvin")
    return conductance * (warm_temperature - cold_temperature)


def conductance_from_heat_flow(heat_flow: float, warm_temperature: float, cold_temperature: float) -> float:
    r"""Conductance of a wall, a coil or a condenser from the heat that it was seen to pass.

    .. math:: UA = \frac{\dot Q}{T_{warm} - T_{cold}}

    Parameters
    ----------
    heat_flow : float or array
        Heat that passes each second [W], valid from 0 to 1000000
    warm_temperature : float or array
        Temperature of the warm side, such as condensing refrigerant [K], valid from 150 to 600
    cold_temperature : float or array
        Temperature of the cold side, such as the room's air [K], valid from 150 to 0.01 K below the warm side

    Returns
    -------
    float or array
        Conductance [W/K]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range, or there is no difference to divide by.

    References
    ----------
    Definition of a conductance; for condensers the common way to state their rating.

    Examples
    --------
    >>> round(conductance_from_heat_flow(12_000.0, 323.15, 308.15))
    800
    """
    check_range("heat_flow", heat_flow, 0.0, 1e6, "W")
    check_range("warm_temperature", warm_temperature, 150.0, 600.0, "K", "give kelvin")
    check_range("cold_temperature", cold_temperature, 150.0, 600.0, "K", "give kelvin")
    difference = warm_temperature - cold_temperature
    check_range(
        "temperature_difference",
        difference,
        0.01,
        450.0,
        "K",
        "heat flows from the warm to the cold side only",
    )
    return heat_flow / difference
