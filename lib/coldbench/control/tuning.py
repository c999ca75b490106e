"""Tuning a proportional-integral program: where a loop begins to swing, and two rules for gain and time.

What is inside: the ultimate gain and period of a process with one lag and a dead time, the rule of Ziegler
and Nichols, the rule of Skogestad.
"""

from __future__ import annotations

import math

from coldbench.errors import check_range

__all__ = ["simc", "ultimate_point", "ziegler_nichols"]


def _check_process(process_gain, time_constant, dead_time):
    check_range("process_gain", process_gain, 1e-6, 1e6, "(output a unit of input)")
    check_range("time_constant", time_constant, 1e-3, 1e7, "s")
    check_range("dead_time", dead_time, 1e-3, 1e7, "s", "without a dead time such a loop never swings")


def ultimate_point(process_gain: float, time_constant: float, dead_time: float) -> tuple[float, float]:
    """Find the gain at which a loop of one lag and a dead time swings for ever, and its period.

    Parameters: ``process_gain`` what a unit of input does in the end [any unit]; ``time_constant`` of the
    lag [s], valid from 0.001 to 1e7; ``dead_time`` before anything is seen [s], valid from 0.001 to 1e7.
    Returns: ultimate gain [one over the gain's unit] and ultimate period [s].
    Raises: `OutOfRange`, a `ValueError`: an argument lies outside its valid range.
    Source: phase of half a turn round the loop, atan(w tau) + w theta = pi; any textbook of control.
    """
    _check_process(process_gain, time_constant, dead_time)
    low, high = math.pi / 2 / dead_time, math.pi / dead_time
    for _ in range(60):
        middle = (low + high) / 2
        if math.atan(middle * time_constant) + middle * dead_time < math.pi:
            low = middle
        else:
            high = middle
    return math.hypot(1, low * time_constant) / process_gain, 2 * math.pi / low


def ziegler_nichols(ultimate_gain: float, ultimate_period: float) -> tuple[float, float]:
    """Give gain and integral time by the rule of Ziegler and Nichols: quick, and with a swing left in it.

    Parameters: ``ultimate_gain`` [any unit]; ``ultimate_period`` [s].
    Returns: gain [unit of the ultimate gain] and integral time [s].
    Source: J. G. Ziegler and N. B. Nichols, Trans. ASME 64 (1942) 759; from memory.
    """
    return 0.45 * ultimate_gain, ultimate_period / 1.2


def simc(
    process_gain: float, time_constant: float, dead_time: float, wanted_time: float
) -> tuple[float, float]:
    """Give gain and integral time by Skogestad's rule: smooth, for a wanted time of the closed loop.

    Parameters: ``process_gain`` what a unit of input does in the end [any unit]; ``time_constant`` [s], valid
    from 0.001 to 1e7; ``dead_time`` [s], valid from 0.001 to 1e7; ``wanted_time`` of the closed loop, often
    the dead time itself [s].
    Returns: gain [one over the gain's unit] and integral time [s].
    Raises: `OutOfRange`, a `ValueError`: an argument lies outside its valid range.
    Source: S. Skogestad, J. Process Control 13 (2003) 291.
    """
    _check_process(process_gain, time_constant, dead_time)
    both = wanted_time + dead_time
    return time_constant / (process_gain * both), min(time_constant, 4 * both)
