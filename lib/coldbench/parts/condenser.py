"""Condenser: how well the room's air takes its heat, what liquid at its end does, and air that got in.

Inside: conductance to the air with the fan at any speed, vapour that passes where too little liquid seals the
end, the part that liquid floods, subcooling of that liquid, pressure of trapped air, conductance from
condensing vapour to the metal, and the heat that is given off. Each listed function checks its ranges and
calls an equation (``…_of``) that does not, which the machines in time use at every step.

Flammable refrigerant under pressure, hot tubes, a fan that starts by itself: the sealed circuit is opened by
whoever is licensed to, by local codes and the maker's instructions. Dust is brushed off with the plug out.
"""

from __future__ import annotations

from coldbench.errors import check_range
from coldbench.operations import operations
from coldbench.parts.coil import effectiveness_of

__all__ = [
    "condenser_air_conductance",
    "condenser_heat",
    "condenser_subcooling",
    "condensing_conductance",
    "flooded_share",
    "trapped_air_pressure",
    "unsealed_quality",
]

AIR_GAS_CONSTANT = 287.0  # [J/(kg K)]
BLANKETING = 3.0  # [-], by which air in the condenser keeps vapour from the metal; assumed
MOST_FLOODED = 0.9  # [-], of the condenser; beyond it liquid would stand in the compressor's discharge


def condenser_air_conductance_of(still_conductance, air_conductance, fan_speed_share):
    """Conductance from the metal to the room's air, unchecked [W/K]."""
    return still_conductance + (air_conductance - still_conductance) * fan_speed_share


def unsealed_quality_of(op, condenser_liquid, seal):
    """Vapour in what enters the capillary, unchecked [-]."""
    return op.maximum(1 - condenser_liquid / seal, 0.0)


def flooded_share_of(op, condenser_liquid, seal, condenser_volume, liquid_density):
    """Part of the condenser that liquid fills, unchecked [-]."""
    beyond = (condenser_liquid - seal) / (condenser_volume * liquid_density)
    return op.minimum(op.maximum(beyond, 0.0), MOST_FLOODED)


def condenser_subcooling_of(op, above_room, conductance, capacity_flow):
    """Subcooling of liquid that the room cools, from the condensing temperature above the room, unchecked."""
    return op.maximum(above_room * effectiveness_of(op, conductance, capacity_flow), 0.0)


def trapped_air_pressure_of(air_mass, temperature, condenser_volume):
    """Pressure of air in the condenser, unchecked [Pa]."""
    return air_mass * AIR_GAS_CONSTANT * temperature / condenser_volume


def condensing_conductance_of(refrigerant_conductance, flooded_share, air_pressure, pressure):
    """Conductance from condensing vapour to the metal, unchecked [W/K]."""
    return refrigerant_conductance * (1 - flooded_share) * (1 / (1 + BLANKETING * air_pressure / pressure))


def _check_conductance(name, conductance):
    check_range(name, conductance, 0.0, 1e4, "W/K")


def condenser_air_conductance(
    still_conductance: float, air_conductance: float, fan_speed_share: float
) -> float:
    r"""Heat that the room's air takes from the condenser for each kelvin, its fan at any speed.

    .. math:: UA = UA_0 + (UA_1 - UA_0) \, n / n_1

    Parameters
    ----------
    still_conductance : float or array
        With the fan standing still [W/K], valid from 0 to 10000
    air_conductance : float or array
        With the fan at full speed [W/K], valid from 0 to 10000
    fan_speed_share : float or array
        Speed over full speed [-], valid from 0 to 1.5

    Returns
    -------
    float or array
        Conductance from the metal to the air that comes in [W/K]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    Source
    ------
    Assumed: a straight line between the two ends.

    Examples
    --------
    >>> condenser_air_conductance(3.0, 9.0, 0.5)
    6.0
    """
    _check_conductance("still_conductance", still_conductance)
    _check_conductance("air_conductance", air_conductance)
    check_range("fan_speed_share", fan_speed_share, 0.0, 1.5, "(as a fraction)", "full speed is 1")
    return condenser_air_conductance_of(still_conductance, air_conductance, fan_speed_share)


def unsealed_quality(condenser_liquid: float, seal: float) -> float:
    r"""Vapour in what leaves the condenser, where too little liquid stands at its end to seal it.

    .. math:: x = \max\left(1 - \frac{m}{m_{seal}}, 0\right)

    Bubbles in the liquid line, a gurgling capillary: the circuit is short of refrigerant, or still filling.

    Parameters
    ----------
    condenser_liquid : float or array
        Liquid that stands in the condenser [kg], valid from 0 to 10
    seal : float or array
        Liquid that seals its end [kg], valid from 0.0001 to 10

    Returns
    -------
    float or array
        Part of the mixture that is vapour [-]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    Source
    ------
    Assumed: a straight line between no liquid and a full seal.

    Examples
    --------
    >>> unsealed_quality(0.003, 0.006), unsealed_quality(0.008, 0.006)
    (0.5, 0.0)
    """
    check_range("condenser_liquid", condenser_liquid, 0.0, 10.0, "kg", "six grams are 0.006")
    check_range("seal", seal, 1e-4, 10.0, "kg", "six grams are 0.006")
    return unsealed_quality_of(operations(condenser_liquid, seal), condenser_liquid, seal)


def flooded_share(
    condenser_liquid: float, seal: float, condenser_volume: float, liquid_density: float
) -> float:
    r"""Part of the condenser that liquid fills, and that condenses nothing.

    .. math:: f = \frac{m - m_{seal}}{\rho V}, \quad 0 \le f \le 0.9

    Parameters
    ----------
    condenser_liquid : float or array
        Liquid that stands in the condenser [kg], valid from 0 to 10
    seal : float or array
        Part of it that stands beyond the cooled tubes and seals the end [kg], valid from 0.0001 to 10
    condenser_volume : float or array
        Space inside the condenser [m3], valid from 0.00001 to 0.01
    liquid_density : float or array
        Of the liquid [kg/m3], valid from 100 to 2000

    Returns
    -------
    float or array
        Share of its volume, and so of its surface [-]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    Volume of a mass; that a share of the volume is the same share of the surface holds for tubes of one size.

    Examples
    --------
    >>> round(flooded_share(0.0195, 0.006, 0.00025, 540.0), 3)
    0.1
    """
    check_range("condenser_liquid", condenser_liquid, 0.0, 10.0, "kg", "six grams are 0.006")
    check_range("seal", seal, 1e-4, 10.0, "kg", "six grams are 0.006")
    check_range("condenser_volume", condenser_volume, 1e-5, 0.01, "m3", "a quarter of a litre is 0.00025")
    check_range("liquid_density", liquid_density, 100.0, 2000.0, "kg/m3")
    op = operations(condenser_liquid, seal, condenser_volume, liquid_density)
    return flooded_share_of(op, condenser_liquid, seal, condenser_volume, liquid_density)


def condenser_subcooling(
    condensing_temperature: float, outside_temperature: float, conductance: float, mass_flow: float,
    liquid_heat_capacity: float,
) -> float:  # fmt: skip
    r"""How far the room cools the liquid that floods the condenser's end.

    .. math:: \Delta T_{sub} = (T_c - T_{room}) (1 - e^{-N}), \quad N = \frac{UA}{\dot m c_l}

    The liquid cools on its way through the flooded tubes, as far as the room's air at most. Never less than
    nothing.

    Parameters
    ----------
    condensing_temperature : float or array
        At which liquid comes into the flooded part [K], valid from 213.15 to 363.15
    outside_temperature : float or array
        Of the room's air [K], valid from 233.15 to 333.15
    conductance : float or array
        From the flooded part to the room [W/K], valid from 0 to 10000
    mass_flow : float or array
        Refrigerant that passes [kg/s], valid from 0.00002 to 0.1
    liquid_heat_capacity : float or array
        Of the liquid [J/(kg K)], valid from 500 to 5000

    Returns
    -------
    float or array
        Subcooling [K]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    Effectiveness of a heat exchanger with one side at a constant temperature, any textbook of heat transfer.

    Examples
    --------
    >>> round(condenser_subcooling(317.15, 298.15, 0.6, 0.0005, 2450.0), 1)
    7.4
    """
    check_range("condensing_temperature", condensing_temperature, 213.15, 363.15, "K")
    check_range("outside_temperature", outside_temperature, 233.15, 333.15, "K")
    _check_conductance("conductance", conductance)
    check_range("mass_flow", mass_flow, 2e-5, 0.1, "kg/s", "half a gram a second is 0.0005")
    check_range("liquid_heat_capacity", liquid_heat_capacity, 500.0, 5000.0, "J/(kg K)")
    above_room = condensing_temperature - outside_temperature
    op = operations(above_room, conductance, mass_flow, liquid_heat_capacity)
    return condenser_subcooling_of(op, above_room, conductance, mass_flow * liquid_heat_capacity)


def trapped_air_pressure(air_mass: float, temperature: float, condenser_volume: float) -> float:
    r"""Pressure that air adds in the condenser, where it is trapped: the liquid at the end lets none pass.

    .. math:: p = \frac{m R T}{V}

    Parameters
    ----------
    air_mass : float or array
        Air that got into the circuit [kg], valid from 0 to 0.01
    temperature : float or array
        In the condenser [K], valid from 213.15 to 363.15
    condenser_volume : float or array
        Space inside the condenser [m3], valid from 0.00001 to 0.01

    Returns
    -------
    float or array
        Pressure beside that of the refrigerant [Pa]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    Law of the ideal gas, and Dalton's law of partial pressures.

    Examples
    --------
    >>> round(trapped_air_pressure(0.0003, 317.15, 0.00025))
    109226
    """
    check_range("air_mass", air_mass, 0.0, 0.01, "kg", "a third of a gram is 0.0003")
    check_range("temperature", temperature, 213.15, 363.15, "K", "give kelvin")
    check_range("condenser_volume", condenser_volume, 1e-5, 0.01, "m3", "a quarter of a litre is 0.00025")
    return trapped_air_pressure_of(air_mass, temperature, condenser_volume)


def condensing_conductance(
    refrigerant_conductance: float, flooded_share: float, air_pressure: float, pressure: float
) -> float:
    r"""Heat that condensing vapour gives to the metal for each kelvin.

    .. math:: UA = UA_r \, \frac{1 - f}{1 + 3 \, p_{air} / p}

    Parameters
    ----------
    refrigerant_conductance : float or array
        Of the whole condenser, free of liquid and of air [W/K], valid from 0 to 10000
    flooded_share : float or array
        Part of it that liquid fills [-], valid from 0 to 0.9
    air_pressure : float or array
        Part of the pressure that trapped air carries [Pa], valid from 0 to the whole pressure
    pressure : float or array
        Whole pressure, absolute [Pa], valid from 1000 to 6000000

    Returns
    -------
    float or array
        Conductance [W/K]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    Source
    ------
    Assumed, with its 3: vapour must find its way through the air that gathers at the metal, so that where air
    carries a third of the pressure half of the conductance is left.

    Examples
    --------
    >>> condensing_conductance(45.0, 0.0, 0.0, 6e5), condensing_conductance(45.0, 0.2, 2e5, 6e5)
    (45.0, 18.0)
    """
    _check_conductance("refrigerant_conductance", refrigerant_conductance)
    check_range("flooded_share", flooded_share, 0.0, MOST_FLOODED, "(as a fraction)", "40 % is 0.4")
    check_range("pressure", pressure, 1000.0, 6e6, "Pa", "use absolute pressures")
    check_range("share_of_air", air_pressure / pressure, 0.0, 1.0, "(as a fraction)")
    return condensing_conductance_of(refrigerant_conductance, flooded_share, air_pressure, pressure)


def condenser_heat(
    condensing_temperature: float, outside_temperature: float, refrigerant_conductance: float,
    air_conductance: float,
) -> float:  # fmt: skip
    r"""Heat that a condenser gives off once its metal has settled between refrigerant and room.

    .. math:: Q = \frac{T_c - T_{room}}{1 / UA_r + 1 / UA_a}

    Parameters
    ----------
    condensing_temperature : float or array
        Of the refrigerant [K], valid from 213.15 to 363.15
    outside_temperature : float or array
        Of the room's air [K], valid from 233.15 to 333.15
    refrigerant_conductance : float or array
        From condensing refrigerant to the metal [W/K], valid from 0.001 to 10000
    air_conductance : float or array
        From the metal to the room's air [W/K], valid from 0.001 to 10000

    Returns
    -------
    float or array
        Heat [W]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    Two resistances to heat in series, any textbook of heat transfer.

    Examples
    --------
    >>> round(condenser_heat(317.15, 298.15, 45.0, 9.0), 1)
    142.5
    """
    check_range("condensing_temperature", condensing_temperature, 213.15, 363.15, "K")
    check_range("outside_temperature", outside_temperature, 233.15, 333.15, "K")
    check_range("refrigerant_conductance", refrigerant_conductance, 0.001, 1e4, "W/K")
    check_range("air_conductance", air_conductance, 0.001, 1e4, "W/K")
    return (condensing_temperature - outside_temperature) / (
        1 / refrigerant_conductance + 1 / air_conductance
    )
