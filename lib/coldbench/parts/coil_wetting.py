"""Coil from inside: where liquid refrigerant wets it, where it has run dry, and what vapour takes up there.

Inside: the wet share of a coil or of a piece of it, the conductance from its metal to what boils, and how far
vapour is warmed on its way through dry tubes: superheat. Each listed function checks its ranges and calls an
equation (``…_of``) that does not, which the machines in time use at every step, for each zone of a coil.
"""

from __future__ import annotations

from coldbench.errors import check_range
from coldbench.operations import operations

__all__ = ["boiling_conductance", "vapor_warming", "wet_share"]

LEAST = 1e-9  # [W/K]; keeps a share finite where neither vapour flows nor metal is dry


def wet_share_of(op, filled, ahead):
    """Wet share of one zone, from zones filled with liquid and zones ahead of it, unchecked [-]."""
    return op.minimum(op.maximum(filled - ahead, 0.0), 1.0)


def boiling_conductance_of(wet_share, outside_conductance, boiling_resistance):
    """Conductance from the metal to boiling refrigerant, unchecked [W/K]."""
    return wet_share / ((1 - wet_share) / outside_conductance + boiling_resistance)


def vapor_warming_of(difference, dry_conductance, capacity_flow):
    """Warming of vapour by metal that is so much warmer, unchecked [K]."""
    return dry_conductance / (capacity_flow + dry_conductance + LEAST) * difference


def wet_share(coil_liquid: float, holding: float) -> float:
    r"""Part of a coil that liquid wets.

    .. math:: w = \min\left(\frac{m}{m_{full}}, 1\right)

    Parameters
    ----------
    coil_liquid : float or array
        Liquid refrigerant in the coil [kg], valid from 0 to 10
    holding : float or array
        Liquid that wets it throughout [kg], valid from 0.0001 to 10

    Returns
    -------
    float or array
        Wet share, from the inlet on [-]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    Source
    ------
    Assumed: boiling liquid lies evenly in the tubes that it reaches.

    Examples
    --------
    >>> wet_share(0.008, 0.016), wet_share(0.020, 0.016)
    (0.5, 1.0)
    """
    check_range("coil_liquid", coil_liquid, 0.0, 10.0, "kg", "sixteen grams are 0.016")
    check_range("holding", holding, 1e-4, 10.0, "kg", "sixteen grams are 0.016")
    return wet_share_of(operations(coil_liquid, holding), coil_liquid / holding, 0.0)


def boiling_conductance(
    wet_share: float, outside_conductance: float, refrigerant_conductance: float
) -> float:
    r"""Conductance from the metal to boiling refrigerant where only part of the coil is wet.

    .. math:: UA = \frac{w}{(1 - w) / UA_a + 1 / UA_r}

    In series with the air's side it gives w times what a coil wet throughout gives: the dry part brings its
    heat to the wet one only through the air.

    Parameters
    ----------
    wet_share : float or array
        Part of the coil that liquid wets [-], valid from 0 to 1
    outside_conductance : float or array
        From the air to the metal [W/K], valid from 0.0001 to 1000
    refrigerant_conductance : float or array
        From the metal to boiling refrigerant, wet throughout [W/K], valid from 0.0001 to 1000

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
    Resistances to heat in series, any textbook of heat transfer, for a coil cut into a wet and a dry part.

    Examples
    --------
    >>> boiling_conductance(1.0, 22.0, 50.0), round(boiling_conductance(0.5, 22.0, 50.0), 1)
    (50.0, 11.7)
    """
    check_range("wet_share", wet_share, 0.0, 1.0, "(as a fraction)", "half wet is 0.5")
    check_range("outside_conductance", outside_conductance, 1e-4, 1000.0, "W/K")
    check_range("refrigerant_conductance", refrigerant_conductance, 1e-4, 1000.0, "W/K")
    return boiling_conductance_of(wet_share, outside_conductance, 1 / refrigerant_conductance)


def vapor_warming(
    vapor_temperature: float, surface_temperature: float, conductance: float, mass_flow: float,
    vapor_heat_capacity: float,
) -> float:  # fmt: skip
    r"""How much vapour is warmed where a coil has run dry: what makes superheat.

    .. math:: \Delta T = \frac{UA}{\dot m c_p + UA} (T_{metal} - T_{vapour})

    The piece of coil is taken as one space that mixes. Cut a long one into zones.

    Parameters
    ----------
    vapor_temperature : float or array
        Of the vapour that comes in [K], valid from 203.15 to 363.15
    surface_temperature : float or array
        Of the metal [K], valid from 203.15 to 363.15
    conductance : float or array
        From dry metal to vapour [W/K], valid from 0 to 1000
    mass_flow : float or array
        Vapour that passes [kg/s], valid from 0.000001 to 0.1
    vapor_heat_capacity : float or array
        Of the vapour [J/(kg K)], valid from 300 to 3000

    Returns
    -------
    float or array
        Warming, negative where the metal is colder [K]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    Heat balance of a mixed space, any textbook of heat transfer.

    Examples
    --------
    >>> round(vapor_warming(247.15, 257.15, 1.0, 0.0005, 1600.0), 1)
    5.6
    """
    check_range("vapor_temperature", vapor_temperature, 203.15, 363.15, "K", "give kelvin")
    check_range("surface_temperature", surface_temperature, 203.15, 363.15, "K", "give kelvin")
    check_range("conductance", conductance, 0.0, 1000.0, "W/K")
    check_range("mass_flow", mass_flow, 1e-6, 0.1, "kg/s", "half a gram a second is 0.0005")
    check_range("vapor_heat_capacity", vapor_heat_capacity, 300.0, 3000.0, "J/(kg K)")
    return vapor_warming_of(
        surface_temperature - vapor_temperature, conductance, mass_flow * vapor_heat_capacity
    )
