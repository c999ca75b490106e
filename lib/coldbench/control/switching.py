"""Switching: cut-in and cut-out, minimum times, and the proportional-integral output of a board.

Every function takes its memory and gives it back: 1.0 is on, 0.0 is off, so that one equation serves one
machine or many. No function knows why a temperature is what it is.
"""

from __future__ import annotations

__all__ = ["after_minimum_times", "proportional_integral", "thermostat"]


def thermostat(op, on, temperature, cut_in, cut_out):
    """Switch on at the cut-in, off at the cut-out, and stay as it was between them.

    Parameters: ``op`` the operations, math or numpy; ``on`` what it was, 1 or 0; ``temperature`` that it
    feels [K]; ``cut_in`` at or above which it closes [K]; ``cut_out`` at or below which it opens [K].
    Returns: 1.0 closed, 0.0 open [-].
    Source: a switch with hysteresis.
    """
    return op.where(temperature >= cut_in, 1.0, op.where(temperature <= cut_out, 0.0, on))


def after_minimum_times(op, on, wanted, time_in_state, least_on, least_off, elapsed):
    """Let a motor change only after its least time on or off.

    Parameters: ``op`` the operations, math or numpy; ``on`` what it is, 1 or 0; ``wanted`` what the board
    would like, 1 or 0; ``time_in_state`` since its last change [s]; ``least_on`` [s]; ``least_off`` [s];
    ``elapsed`` since the last call [s].
    Returns: what it is from now on [-], and the time in that state [s].
    Source: common practice, no source: a compressor needs its pressures equal before it starts again.
    """
    least = op.where(on > 0.5, least_on, least_off)
    new = op.where(time_in_state >= least, wanted, on)
    return new, op.where(new == on, time_in_state + elapsed, 0.0)


def proportional_integral(op, error, integral, gain, integral_time, lowest, highest, elapsed):
    """Proportional-integral output, whose integral stops where the output would leave its range.

    Parameters: ``op`` the operations, math or numpy; ``error`` temperature over its aim [K]; ``integral``
    the output's integral part so far [-]; ``gain`` output for each kelvin [1/K]; ``integral_time`` [s];
    ``lowest``, ``highest`` ends of the output [-]; ``elapsed`` since the last call [s].
    Returns: output [-] and its new integral part [-].
    Source: any textbook of control; the clamp is conditional integration.
    """
    proportional = gain * error
    integral = integral + proportional * elapsed / integral_time
    integral = op.minimum(op.maximum(integral, lowest - proportional), highest - proportional)
    return op.minimum(op.maximum(proportional + integral, lowest), highest), integral
