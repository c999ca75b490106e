"""Boards of the five machines: settings in, readings in, outputs out.

What is inside: the outputs that a board drives, a memory, and one program for each way to build a machine.
A program sees the temperatures that its board believes, by the names of its sensors, and nothing else: no
fault, no true temperature. What a broken sensor makes it do follows from the ohms alone.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from coldbench.control.defrost import DefrostMemory, DefrostSettings, defrost
from coldbench.control.switching import after_minimum_times, proportional_integral, thermostat

__all__ = ["Outputs", "SeriesBoard"]

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


def _stepped(duty):
    return (duty * PULSE_STEPS + 0.5) // 1 / PULSE_STEPS


def _condenser_fan(op, seen, running):
    """Room sensor to condenser fan: slower in a cool room, so that the high side keeps its pressure."""
    room = seen["room_sensor"]
    duty = op.minimum(op.maximum(0.5 + 0.5 * (room - COOL_ROOM) / (HOT_ROOM - COOL_ROOM), 0.5), 1.0)
    return _stepped(duty) * running


@dataclass(frozen=True, slots=True)
class SeriesBoard:
    """Series: the freezer's sensor calls the compressor, the fresh-food sensor its own fan.

    With ``modulating``, a proportional-integral program sets compressor and fan speeds instead.

    Attributes
    ----------
    fresh_food_aim : float
        [K]
    freezer_aim : float
        [K]
    fresh_food_band : float
        Cut-in to cut-out [K]
    freezer_band : float
        Cut-in to cut-out [K]
    modulating : bool
        Speeds by proportional-integral programs
    """

    fresh_food_aim: float = 276.65
    freezer_aim: float = 255.15
    fresh_food_band: float = 1.6
    freezer_band: float = 4.0
    modulating: bool = False
    slowest: float = 0.4
    defrosting: DefrostSettings = field(default_factory=DefrostSettings)

    def start(self, like) -> Memory:
        """Give the memory at power-on.

        Parameters: ``like`` a number or array of the shape of the machines.
        Returns: a `Memory`.
        """
        zero = 0.0 * like
        return Memory(
            calling=zero, running=zero, since=1e6 + zero, fan=zero, speed=self.slowest + zero, blowing=zero,
            defrosting=DefrostMemory(self.defrosting, like),
        )  # fmt: skip

    def decide(self, op, memory: Memory, seen, elapsed) -> Outputs:
        """Work out the outputs from what is seen.

        Parameters: ``op`` the operations, math or numpy; ``memory``, which is changed; ``seen`` the believed
        temperatures by sensor [K]; ``elapsed`` since the last call [s].
        Returns: `Outputs`.
        """
        freezer, fresh_food = seen["freezer_sensor"], seen["fresh_food_sensor"]
        half = self.freezer_band / 2
        calling = thermostat(op, memory.calling, freezer, self.freezer_aim + half, self.freezer_aim - half)
        memory.calling = calling
        heater, pause = defrost(
            op, self.defrosting, memory.defrosting, seen["defrost_sensor"], memory.running, elapsed
        )
        memory.running, memory.since = after_minimum_times(
            op, memory.running, calling * (1 - pause), memory.since, 180.0, 180.0, elapsed
        )
        running = memory.running * (1 - heater)
        half = self.fresh_food_band / 2
        memory.fan = thermostat(
            op, memory.fan, fresh_food, self.fresh_food_aim + half, self.fresh_food_aim - half
        )
        if self.modulating:
            speed, memory.speed = proportional_integral(
                op, freezer - self.freezer_aim, memory.speed, 0.25, 1800.0, self.slowest, 1.0, elapsed
            )
            fan, memory.blowing = proportional_integral(
                op, fresh_food - self.fresh_food_aim, memory.blowing, 0.5, 900.0, 0.0, 1.0, elapsed
            )
            fan = _stepped(fan)
            speed = _stepped(speed)
        else:
            speed, fan = 1.0, memory.fan
        return Outputs(
            compressors=(running * speed,),
            fans=(fan, running),
            condenser_fan=_condenser_fan(op, seen, running),
            heaters=(0.0, heater),
        )
