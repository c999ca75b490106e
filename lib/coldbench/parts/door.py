"""Door: the room's air that an open door lets in.

Warm air flows in above, cold air out below: the boxes' own cold drives it.
"""

from __future__ import annotations

from coldbench.errors import check_range
from coldbench.operations import operations

__all__ = ["door_air_flow"]

DISCHARGE = 0.6  # [-], of a sharp-edged opening, from memory
GRAVITY = 9.81  # [m/s2]
AIR_DENSITY = 1.2  # [kg/m3]


def door_air_flow_of(op, door_width, door_height, inside_temperature, outside_temperature):
    """Air exchanged through an open door, unchecked [kg/s]."""
    difference = abs(outside_temperature - inside_temperature) / outside_temperature
    speed = op.sqrt(GRAVITY * door_height * difference)
    return AIR_DENSITY * DISCHARGE / 3 * door_width * door_height * speed


def door_air_flow(
    door_width: float, door_height: float, inside_temperature: float, outside_temperature: float
) -> float:
    r"""Air that an open door exchanges with the room.

    .. math:: \dot m = \rho \frac{0.6}{3} W H \sqrt{g H \frac{|\Delta T|}{T}}

    Parameters
    ----------
    door_width : float or array
        [m], valid from 0.1 to 2
    door_height : float or array
        [m], valid from 0.1 to 2.5
    inside_temperature : float or array
        Of the air in the box [K], valid from 233.15 to 323.15
    outside_temperature : float or array
        Of the room [K], valid from 233.15 to 323.15

    Returns
    -------
    float or array
        Air that comes in, and as much that goes out [kg/s]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    W. G. Brown, A. G. Wilson, K. R. Solvason, Heat and moisture flow through openings by convection,
    ASHRAE J. 5 (1963); the form read in a study, not in the paper.

    Examples
    --------
    >>> round(door_air_flow(0.6, 1.0, 277.15, 298.15), 3)
    0.12
    """
    check_range("door_width", door_width, 0.1, 2.0, "m")
    check_range("door_height", door_height, 0.1, 2.5, "m")
    check_range("inside_temperature", inside_temperature, 233.15, 323.15, "K")
    check_range("outside_temperature", outside_temperature, 233.15, 323.15, "K")
    op = operations(inside_temperature, outside_temperature, door_width, door_height)
    return door_air_flow_of(op, door_width, door_height, inside_temperature, outside_temperature)
