"""What a board moves, a damper or a valve: where it stands, told to go somewhere or stuck."""

from __future__ import annotations

from coldbench.errors import check_range
from coldbench.operations import operations

__all__ = ["position_reached"]

MOVES = -1.0  # [-], in place of the position at which a part is stuck: it moves


def position_reached_of(op, commanded_position, stuck_position):
    """Position of a part that may be stuck, unchecked [-]."""
    return op.where(stuck_position < 0, commanded_position, stuck_position)


def position_reached(commanded_position: float, stuck_position: float = MOVES) -> float:
    r"""Where a damper or a valve stands: where the board sends it, or where it is stuck.

    .. math:: x = x_{stuck} \text{ if } x_{stuck} \ge 0, \text{ else } x_{command}

    The board has no wire that tells it: it goes on as if the part had moved.

    Parameters
    ----------
    commanded_position : float or array
        Where the board sends it [-], valid from 0 to 1
    stuck_position : float or array
        Where it is stuck [-], valid from 0 to 1; or -1: it moves

    Returns
    -------
    float or array
        Position [-]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    Source
    ------
    Arrangement of this project.

    Examples
    --------
    >>> position_reached(1.0), position_reached(1.0, stuck_position=0.3)
    (1.0, 0.3)
    """
    check_range("commanded_position", commanded_position, 0.0, 1.0, "(as a fraction)", "half open is 0.5")
    check_range("stuck_position", stuck_position, MOVES, 1.0, "(as a fraction)", "a part that moves has -1")
    op = operations(commanded_position, stuck_position)
    return position_reached_of(op, commanded_position, stuck_position)
