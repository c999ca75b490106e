"""Fan in a duct: the flow at which what the fan gives is what the way takes.

Inside: the flow of a fan through a resisting way, from blowing free to blowing against a blocked coil; and
what is left of a flow when one piece of the way narrows, as a coil does with frost. How flow follows speed is
in `coldbench.parts.fan_laws`.

A fan turns on by itself when its board wants it: keep fingers and probes away from blades with the plug in.
"""

from __future__ import annotations

from coldbench.errors import check_range
from coldbench.operations import operations

__all__ = ["flow_against_resistance", "narrowed_flow"]

PATH_SHARE = 0.6  # [-], of the air's way, coil included, in a fan's pressure when it blows free; assumed


def narrowed_flow_of(op, path_share, narrowing):
    """Flow over that before one piece of the way narrowed, unchecked [-]."""
    return 1 / op.sqrt(1 - path_share + path_share * narrowing)


def flow_against_resistance(free_flow: float, blocked_pressure: float, path_resistance: float) -> float:
    r"""Flow of a fan through a way that resists it, the fan at the speed that the first two belong to.

    .. math:: p_0 \left[1 - \left(\frac{\dot V}{\dot V_0}\right)^2\right] = r \dot V^2
        \quad\Rightarrow\quad \dot V = \frac{\dot V_0}{\sqrt{1 + r \dot V_0^2 / p_0}}

    Parameters
    ----------
    free_flow : float or array
        Flow of the fan held free in the air, against no pressure [m3/s], valid from 0 to 1000
    blocked_pressure : float or array
        Pressure of the fan against a closed end, without flow [Pa], valid from 0.01 to 100000
    path_resistance : float or array
        Pressure that the way takes over the square of the flow [Pa s2/m6], valid from 0 to 1e15

    Returns
    -------
    float or array
        Flow [m3/s]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    Operating point where fan curve and system curve cross, ASHRAE Handbook, HVAC Systems and Equipment, fans;
    the fan's curve is taken as a parabola.

    Examples
    --------
    >>> flow_against_resistance(0.030, 27.0, 0.0)
    0.03
    >>> round(flow_against_resistance(0.030, 27.0, 90e3), 3)
    0.015
    """
    check_range("free_flow", free_flow, 0.0, 1000.0, "m3/s")
    check_range("blocked_pressure", blocked_pressure, 0.01, 1e5, "Pa")
    check_range("path_resistance", path_resistance, 0.0, 1e15, "Pa s2/m6")
    op = operations(free_flow, blocked_pressure, path_resistance)
    return free_flow / op.sqrt(1 + path_resistance * free_flow * free_flow / blocked_pressure)


def narrowed_flow(path_share: float, narrowing: float) -> float:
    r"""What is left of a flow when one piece of its way resists more than before, the fan's speed unchanged.

    .. math:: \frac{\dot V}{\dot V_1} = \frac{1}{\sqrt{1 - s + s \, n}}

    Parameters
    ----------
    path_share : float or array
        Part of the piece in all that takes the fan's pressure, its own loss included [-], valid from 0 to 1
    narrowing : float or array
        Resistance of the piece over what it was, below 1 for a way that was opened [-], valid from 0 to 1e6

    Returns
    -------
    float or array
        Flow over what it was [-]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range, or nothing is left that resists.

    References
    ----------
    Follows from `flow_against_resistance` with s = r_piece / (r + p_0 / V_0²).

    Examples
    --------
    >>> round(narrowed_flow(0.21, 25.0), 2)
    0.41
    """
    check_range("path_share", path_share, 0.0, 1.0, "(as a fraction)", "20 % is 0.2")
    check_range("narrowing", narrowing, 0.0, 1e6, "(as a number)", "1 is as it was")
    rest = 1 - path_share + path_share * narrowing
    check_range("resistance_left", rest, 1e-6, 1e6, "(as a fraction)", "a fan always resists its own flow")
    return narrowed_flow_of(operations(path_share, narrowing), path_share, narrowing)
