"""Damper: how much of a freezer coil's air goes up to the fresh-food box.

The fan decides how much air the coil gets; the damper, which part of it takes the way up and comes back to
the coil. A shut damper leaks a little. With the fan at rest nothing drives the air up, however open it is.
"""

from __future__ import annotations

from coldbench.errors import check_range

__all__ = ["damper_air_share"]

LITTLE_SPEED = 0.02  # [-], of a fan, below which air no longer finds its way through the damper; assumed


def damper_air_share_of(fresh_food_share, damper_position, damper_leak, fan_speed_share):
    """Part of a coil's air that passes the damper, unchecked [-]."""
    open_part = damper_leak + (1 - damper_leak) * damper_position
    return fresh_food_share * open_part * fan_speed_share / (fan_speed_share + LITTLE_SPEED)


def damper_air_share(
    fresh_food_share: float, damper_position: float, damper_leak: float, fan_speed_share: float = 1.0
) -> float:
    r"""Part of a coil's air that comes from the fresh-food box and goes back to it.

    .. math:: s = s_{open} \left[l + (1 - l) x\right] \frac{n}{n + 0.02}

    Parameters
    ----------
    fresh_food_share : float or array
        Part of the air that takes the way up with the damper wide open [-], valid from 0 to 1
    damper_position : float or array
        0 shut, 1 wide open [-], valid from 0 to 1
    damper_leak : float or array
        Part of that share which passes while it is shut [-], valid from 0 to 1
    fan_speed_share : float or array
        Speed of the fan over full speed [-], valid from 0 to 1.5

    Returns
    -------
    float or array
        Share of the coil's air [-]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    Source
    ------
    Assumed: a straight line between shut and open. Below 2 % of its speed a fan no longer lifts cold, heavy
    air through the duct; that speed is assumed.

    Examples
    --------
    >>> round(damper_air_share(0.15, 1.0, 0.05), 3), round(damper_air_share(0.15, 0.0, 0.05), 4)
    (0.147, 0.0074)
    """
    check_range("fresh_food_share", fresh_food_share, 0.0, 1.0, "(as a fraction)", "15 % is 0.15")
    check_range("damper_position", damper_position, 0.0, 1.0, "(as a fraction)", "half open is 0.5")
    check_range("damper_leak", damper_leak, 0.0, 1.0, "(as a fraction)", "5 % is 0.05")
    check_range("fan_speed_share", fan_speed_share, 0.0, 1.5, "(as a fraction)", "full speed is 1")
    return damper_air_share_of(fresh_food_share, damper_position, damper_leak, fan_speed_share)
