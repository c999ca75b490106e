"""Defrost: when a heater melts a coil, when it stops, and how long everything waits for the drips.

What is inside: the settings of a defrost program, its memory, and one call of it. It begins by the clock, by
the compressor's run time, or by need (the longer the last melting took, the sooner the next), ends when its
sensor is warm, and, behind that, when its time limit is reached.
"""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["DefrostMemory", "DefrostSettings", "defrost"]


@dataclass(frozen=True, slots=True)
class DefrostSettings:
    """How a board defrosts.

    Attributes
    ----------
    counting : str
        "clock", "run time" or "need"
    interval : float
        Between two defrosts, of the clock or of run time [s]
    end_temperature : float
        Of the coil's sensor, at which the heater stops [K]
    time_limit : float
        After which it stops whatever the sensor says [s]
    drip_time : float
        Wait after the heater [s]
    aimed_time : float
        Heating time that "need" aims at [s]
    """

    counting: str = "run time"
    interval: float = 8 * 3600.0
    end_temperature: float = 281.15
    time_limit: float = 1800.0
    drip_time: float = 300.0
    aimed_time: float = 900.0


class DefrostMemory:
    """What a defrost program remembers between two calls."""

    __slots__ = ("counted", "heating", "heating_time", "interval", "waiting")

    def __init__(self, settings: DefrostSettings, like):
        self.counted = self.heating = self.heating_time = self.waiting = 0.0 * like
        self.interval = settings.interval + 0.0 * like


def defrost(op, settings: DefrostSettings, memory: DefrostMemory, coil_temperature, running, elapsed):
    """Advance the program by one call.

    Parameters: ``op`` the operations, math or numpy; ``settings``; ``memory``, which is changed;
    ``coil_temperature`` that the board believes [K]; ``running`` 1 while the compressor is on [-];
    ``elapsed`` since the last call [s].
    Returns: heater 1 or 0 [-], and 1 while cooling must pause, heating or dripping [-].
    Source: common practice, no source.
    """
    counts = running if settings.counting != "clock" else 1.0
    memory.counted = memory.counted + counts * elapsed * (1 - memory.heating)
    memory.heating_time = (memory.heating_time + elapsed) * memory.heating
    begin = (1 - memory.heating) * op.where(memory.counted >= memory.interval, 1.0, 0.0)
    warm = op.where(coil_temperature >= settings.end_temperature, 1.0, 0.0)
    late = op.where(memory.heating_time >= settings.time_limit, 1.0, 0.0)
    end = memory.heating * op.maximum(warm, late)
    if settings.counting == "need":
        factor = op.minimum(op.maximum(settings.aimed_time / op.maximum(memory.heating_time, 60.0), 0.5), 1.5)
        longer = op.minimum(
            op.maximum(memory.interval * factor, settings.interval / 2), settings.interval * 6
        )
        memory.interval = op.where(end > 0.5, longer, memory.interval)
    memory.counted = op.where(begin > 0.5, 0.0, memory.counted)
    memory.waiting = op.where(end > 0.5, settings.drip_time, op.maximum(memory.waiting - elapsed, 0.0))
    memory.heating = memory.heating + begin - end
    return memory.heating, op.where(memory.heating + memory.waiting > 0.0, 1.0, 0.0)
