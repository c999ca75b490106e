"""Switching valve: which way the refrigerant takes, through all coils in series or to the last one alone.

Each way has a capillary of its own. At 0 the valve feeds the first coil, and what it does not boil runs on to
the next; at 1 it leads past them to the last coil. The vapour of the last coil always leaves the same way.

The valve clicks over and stays, with no voltage: what a meter finds at its plug says nothing of where it
stands. The coils' temperatures do.
"""

from __future__ import annotations

from coldbench.errors import check_range

__all__ = ["capillary_length_in_use", "flow_through_first_coil"]


def capillary_length_in_use_of(valve_position, length, bypass_length):
    """Length of the capillary that the valve feeds, unchecked [m]."""
    return length + valve_position * (bypass_length - length)


def flow_through_first_coil_of(flow, valve_position):
    """Part of a flow that passes the coils ahead of the last, unchecked [the flow's unit]."""
    return flow * (1 - valve_position)


def capillary_length_in_use(valve_position: float, length: float, bypass_length: float) -> float:
    r"""Length of the capillary through which the valve sends the refrigerant.

    .. math:: L = L_{series} + x (L_{bypass} - L_{series})

    Parameters
    ----------
    valve_position : float or array
        0 feeds all coils in series, 1 the last one alone [-], valid from 0 to 1
    length : float or array
        Of the capillary to the first coil [m], valid from 0.5 to 10
    bypass_length : float or array
        Of the capillary straight to the last coil [m], valid from 0.5 to 10

    Returns
    -------
    float or array
        Length [m]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    Source
    ------
    Arrangement of this project: a valve has two positions; what lies between serves runs of many machines.

    Examples
    --------
    >>> capillary_length_in_use(0.0, 2.6, 3.4), capillary_length_in_use(1.0, 2.6, 3.4)
    (2.6, 3.4)
    """
    _check_position(valve_position)
    check_range("length", length, 0.5, 10.0, "m")
    check_range("bypass_length", bypass_length, 0.5, 10.0, "m")
    return capillary_length_in_use_of(valve_position, length, bypass_length)


def flow_through_first_coil(mass_flow: float, valve_position: float) -> float:
    r"""Refrigerant that meets the first coil; the last coil gets all of it either way.

    .. math:: \dot m_1 = \dot m (1 - x)

    Parameters
    ----------
    mass_flow : float or array
        Refrigerant that the capillary lets through [kg/s], valid from 0 to 0.1
    valve_position : float or array
        0 feeds all coils in series, 1 the last one alone [-], valid from 0 to 1

    Returns
    -------
    float or array
        Mass flow [kg/s]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    Mass balance of a valve.

    Examples
    --------
    >>> flow_through_first_coil(0.0005, 0.0), flow_through_first_coil(0.0005, 1.0)
    (0.0005, 0.0)
    """
    check_range("mass_flow", mass_flow, 0.0, 0.1, "kg/s", "half a gram a second is 0.0005")
    _check_position(valve_position)
    return flow_through_first_coil_of(mass_flow, valve_position)


def _check_position(valve_position):
    check_range(
        "valve_position", valve_position, 0.0, 1.0, "(as a number)", "0 is series, 1 the last coil alone"
    )
