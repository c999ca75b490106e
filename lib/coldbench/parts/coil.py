"""Coil: heat between air and metal, frost in its way, and moisture that the air leaves on it.

Inside: effectiveness of a coil in an air stream, how the metal's conductance falls with air flow and frost,
how frost closes the air's way, the vapour that a cold surface keeps in the air. The refrigerant's side is in
`coldbench.parts.coil_wetting`. Each listed function checks its ranges and calls an equation (``…_of``) that
does not, which the machines in time use at every step.
"""

from __future__ import annotations

from coldbench.errors import check_range
from coldbench.operations import operations
from coldbench.parts.fan_flow import PATH_SHARE, narrowed_flow_of
from coldbench.properties.water_vapor import ATMOSPHERE, MOLAR_MASS_RATIO

__all__ = [
    "air_outlet_temperature",
    "coil_effectiveness",
    "conductance_at_flow",
    "frosted_conductance",
    "frosted_flow",
    "surface_humidity_ratio",
]

AIR_HEAT_CAPACITY = 1006.0  # [J/(kg K)], dry air
FLOW_EXPONENT = 0.6  # [-], of air-side conductance with flow; of the order of fin-and-tube data, from memory
FROST_DENSITY = 220.0  # [kg/m3], of the whole layer, kept constant; from memory
FROST_CONDUCTIVITY = 0.16  # [W/(m K)], at that density; from memory
LEAST_OPEN = 0.08  # [-], air still finds this part of the way through a blocked coil; assumed
FREEZING = 273.15  # [K]
COIL_SHARE = 0.35  # [-], of the flow resistance of a bare coil in that of its whole air path; assumed


def effectiveness_of(op, conductance, capacity_flow):
    """Effectiveness of a surface at one temperature and a stream along it, unchecked [-]."""
    return 1 - op.exp(-conductance / capacity_flow)


def conductance_at_flow_of(op, conductance, flow_share):
    """Conductance between air and bare metal at another flow, unchecked [W/K]."""
    return conductance * op.exp(FLOW_EXPONENT * op.log(flow_share))


def frost_resistance_per_kilogram_of(area):
    """Resistance to heat of a kilogram of frost, spread evenly, unchecked [K/(W kg)]."""
    return 1 / (FROST_DENSITY * FROST_CONDUCTIVITY * area * area)


def frosted_conductance_of(conductance, frost_resistance):
    """Conductance through frost and on to the air, unchecked [W/K]."""
    return conductance / (1 + conductance * frost_resistance)


def narrowing_of(op, frost_mass, free_volume):
    """Resistance of the gaps between fins over that without frost, unchecked [-]."""
    opening = op.maximum(1 - frost_mass / (FROST_DENSITY * free_volume), LEAST_OPEN)
    return 1 / (opening * opening * opening)


def frosted_flow_of(op, narrowing):
    """Flow over that of the bare coil, from the mean of its narrowing, unchecked [-]."""
    return narrowed_flow_of(op, PATH_SHARE * COIL_SHARE, narrowing)


def surface_humidity_ratio_of(op, temperature):
    """Humidity ratio of air saturated over ice below 0 °C, over water above, unchecked [kg/kg]."""
    above = temperature - FREEZING
    frozen = above < 0.0
    slope = op.where(frozen, 22.46, 17.62)
    offset = op.where(frozen, 272.62, 243.12)
    pressure = 611.2 * op.exp(slope * above / (offset + above))
    return MOLAR_MASS_RATIO * pressure / (ATMOSPHERE - pressure)


def coil_effectiveness(conductance: float, air_flow: float) -> float:
    r"""How near the air comes to the temperature of the coil: 1 reaches it, 0 notices nothing.

    .. math:: \varepsilon = 1 - e^{-UA / (\dot m c_p)}

    Parameters
    ----------
    conductance : float or array
        Between air and metal [W/K], valid from 0 to 1000
    air_flow : float or array
        Dry air [kg/s], valid from 0.0001 to 1

    Returns
    -------
    float or array
        Effectiveness [-]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    Heat exchanger with one side at one temperature, any textbook of heat transfer.

    Examples
    --------
    >>> round(coil_effectiveness(22.0, 0.018), 2)
    0.7
    """
    check_range("conductance", conductance, 0.0, 1000.0, "W/K")
    check_range("air_flow", air_flow, 1e-4, 1.0, "kg/s", "without flow use a still conductance")
    return effectiveness_of(operations(conductance, air_flow), conductance, air_flow * AIR_HEAT_CAPACITY)


def air_outlet_temperature(
    air_temperature: float, surface_temperature: float, conductance: float, air_flow: float
) -> float:
    r"""Temperature of the air that leaves a coil.

    .. math:: T_{out} = T_{in} - \varepsilon (T_{in} - T_{metal})

    Parameters
    ----------
    air_temperature : float or array
        Of the air that enters [K], valid from 213.15 to 363.15
    surface_temperature : float or array
        Of the metal [K], valid from 213.15 to 363.15
    conductance : float or array
        Between air and metal [W/K], valid from 0 to 1000
    air_flow : float or array
        Dry air [kg/s], valid from 0.0001 to 1

    Returns
    -------
    float or array
        Temperature of the air that leaves [K]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    Definition of the effectiveness.

    Examples
    --------
    >>> round(air_outlet_temperature(255.15, 247.15, 22.0, 0.018) - 273.15, 1)
    -23.6
    """
    check_range("air_temperature", air_temperature, 213.15, 363.15, "K")
    check_range("surface_temperature", surface_temperature, 213.15, 363.15, "K")
    return air_temperature - coil_effectiveness(conductance, air_flow) * (
        air_temperature - surface_temperature
    )


def conductance_at_flow(conductance: float, flow_share: float) -> float:
    r"""Conductance between air and bare metal when more or less air passes than it was rated at.

    .. math:: UA = UA_0 \left(\frac{\dot m}{\dot m_0}\right)^{0.6}

    Parameters
    ----------
    conductance : float or array
        At the rated flow [W/K], valid from 0 to 1000
    flow_share : float or array
        Flow over the rated one [-], valid from 0.0001 to 3

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
    Power law of heat transfer in turbulent and mixed flow, any textbook; the exponent from memory.

    Examples
    --------
    >>> round(conductance_at_flow(22.0, 0.5), 1)
    14.5
    """
    check_range("conductance", conductance, 0.0, 1000.0, "W/K")
    check_range(
        "flow_share", flow_share, 1e-4, 3.0, "(as a fraction)", "without flow use a still conductance"
    )
    return conductance_at_flow_of(operations(conductance, flow_share), conductance, flow_share)


def frosted_conductance(conductance: float, frost_mass: float, area: float) -> float:
    r"""Conductance from the metal through its frost to the air.

    .. math:: UA = \left(\frac{1}{UA_0} + \frac{m}{\rho_f k_f A^2}\right)^{-1}

    Parameters
    ----------
    conductance : float or array
        Between air and bare metal [W/K], valid from 0 to 1000
    frost_mass : float or array
        Frost, spread evenly [kg], valid from 0 to 10
    area : float or array
        Surface on which it lies [m2], valid from 0.01 to 100

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
    Two resistances to heat in series, Fourier's law for the layer; 220 kg/m3 and 0.16 W/(m K) from memory.

    Examples
    --------
    >>> round(frosted_conductance(22.0, 0.5, 1.4), 1)
    19.0
    """
    check_range("conductance", conductance, 0.0, 1000.0, "W/K")
    check_range("frost_mass", frost_mass, 0.0, 10.0, "kg")
    check_range("area", area, 0.01, 100.0, "m2")
    return frosted_conductance_of(conductance, frost_mass * frost_resistance_per_kilogram_of(area))


def frosted_flow(frost_mass: float, free_volume: float) -> float:
    r"""Air flow through an evenly frosted coil over that through the bare one, the fan at the same speed.

    .. math:: \frac{\dot m}{\dot m_0} = \left[0.79 + 0.21 (1 - \delta)^{-3}\right]^{-1/2},
        \quad \delta = \frac{m}{\rho_f V}

    Little happens until the way is nearly closed; then the air stops within a day.

    Parameters
    ----------
    frost_mass : float or array
        Frost on the coil [kg], valid from 0 to 10
    free_volume : float or array
        Space between bare fins [m3], valid from 0.0001 to 0.1

    Returns
    -------
    float or array
        Share of the flow [-]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    `coldbench.parts.fan_flow.narrowed_flow`, with the pressure loss of a narrowing gap; shares assumed.

    Examples
    --------
    >>> round(frosted_flow(0.4, 0.0029), 2)
    0.45
    """
    check_range("frost_mass", frost_mass, 0.0, 10.0, "kg")
    check_range("free_volume", free_volume, 1e-4, 0.1, "m3")
    op = operations(frost_mass, free_volume)
    return frosted_flow_of(op, narrowing_of(op, frost_mass, free_volume))


def surface_humidity_ratio(temperature: float) -> float:
    r"""Vapour that stays in air which has touched a wet or frosted surface.

    .. math:: p = 611.2 \exp\frac{22.46\,t}{272.62 + t} \text{ over ice}, \quad
        611.2 \exp\frac{17.62\,t}{243.12 + t} \text{ over water}

    A quick form for the machines in time: within 0.7 % of `coldbench.properties.moist_air` from -40 to 45 °C.

    Parameters
    ----------
    temperature : float or array
        Of the surface [K], valid from 233.15 to 318.15

    Returns
    -------
    float or array
        Humidity ratio at sea level [kg/kg]

    Raises
    ------
    OutOfRange
        A `ValueError`: the temperature lies outside the valid range.

    References
    ----------
    Magnus's form with the numbers of the WMO guide to instruments and methods of observation (WMO-No. 8),
    from memory; compared with the ASHRAE equations by a test.

    Examples
    --------
    >>> round(surface_humidity_ratio(253.15), 6)
    0.000634
    """
    check_range("temperature", temperature, 233.15, 318.15, "K")
    return surface_humidity_ratio_of(operations(temperature), temperature)
