"""What every board has: the outputs that it drives, a memory, and the condenser fan's answer to the room.

A program sees the temperatures that its board believes, by the names of its sensors, and nothing else: no
fault, no true temperature. What a broken sensor makes it do follows from the ohms alone.
"""

from __future__ import annotations

from coldbench.control.switching import thermostat

__all__ = ["Memory", "Outputs"]

PULSE_STEPS = 20  # of a fan's pulse width from 0 to 1: the board does not bother with less
HOT_ROOM, COOL_ROOM = 293.15, 283.15  # condenser fan: full speed above, half below [K]; invented


class Outputs:
    """What a board drives, each 0 to 1: off to full."""

    __slots__ = ("compressors", "condenser_fan", "damper", "fans", "heaters", "valve")

    def __init__(self, compressors, fans, condenser_fan, heaters, damper=0.0, valve=0.0):
        self.compressors, self.fans, self.condenser_fan = compressors, fans, condenser_fan
        self.heaters, self.damper, self.valve = heaters, damper, valve


class Memory:
    """What a board remembers: latches at 0 or 1, times, integral parts."""

    def __init__(self, **start):
        self.__dict__.update(start)


def in_steps(duty):
    return (duty * PULSE_STEPS + 0.5) // 1 / PULSE_STEPS


def condenser_fan_for(op, seen, running):
    """Room sensor to condenser fan: slower in a cool room, so that the high side keeps its pressure."""
    room = seen["room_sensor"]
    duty = op.minimum(op.maximum(0.5 + 0.5 * (room - COOL_ROOM) / (HOT_ROOM - COOL_ROOM), 0.5), 1.0)
    return in_steps(duty) * running


def between(op, latch, temperature, aim, band):
    """A latch around an aim."""
    return thermostat(op, latch, temperature, aim + band / 2, aim - band / 2)
