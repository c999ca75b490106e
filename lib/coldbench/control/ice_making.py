"""Ice making: when a mould is harvested, swept and filled again, and when its fill tube is warmed.

What is inside: the settings of the program, its memory, what it drives, and one call of it. It sees the
mould's sensor as its board believes it, the lever in the ice bin, and whether the coil is being defrosted.
It does not see ice, water or a fault: a broken sensor misleads it, a frozen tube it takes for a filled mould.
"""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["IceMakingMemory", "IceMakingOutputs", "IceMakingSettings", "make_ice"]


@dataclass(frozen=True, slots=True)
class IceMakingSettings:
    """How a board makes ice.

    Attributes
    ----------
    harvest_temperature : float
        Of the mould's sensor, at or below which the ice counts as solid [K]; 18 to 20 °F by common practice
    cold_time : float
        For which it must stay that cold [s]
    loosened_temperature : float
        Of the mould's sensor, at which the harvest heater stops [K]
    heating_limit : float
        After which it stops whatever the sensor says [s]
    sweep_time : float
        For which the fingers turn, so that loose cubes fall into the bin [s]
    fill_time : float
        For which the water valve is open [s]
    drying_time : float
        For which the fill tube is warmed after the fill, so that it drains [s]
    """

    harvest_temperature: float = 266.15
    cold_time: float = 300.0
    loosened_temperature: float = 276.65
    heating_limit: float = 180.0
    sweep_time: float = 180.0
    fill_time: float = 20.0
    drying_time: float = 120.0


class IceMakingOutputs:
    """What the program drives, each 0 or 1; the fill tube's heater from the harvest until it has drained."""

    __slots__ = ("fill_tube_heater", "harvest_heater", "sweep", "water_valve")

    def __init__(self, harvest_heater, sweep, water_valve, fill_tube_heater):
        self.harvest_heater, self.sweep = harvest_heater, sweep
        self.water_valve, self.fill_tube_heater = water_valve, fill_tube_heater


class IceMakingMemory:
    """What the program remembers between two calls: times, and whether it heats."""

    __slots__ = ("cold_for", "drying_left", "filling_left", "heating", "heating_time", "sweeping_left")

    def __init__(self, like):
        self.cold_for = self.heating = self.heating_time = 0.0 * like
        self.sweeping_left = self.filling_left = self.drying_left = 0.0 * like


def make_ice(
    op, settings: IceMakingSettings, memory: IceMakingMemory, mould_temperature, bin_full, defrosting, elapsed
) -> IceMakingOutputs:
    """Advance the program by one call: freeze, loosen, sweep, fill, and freeze again.

    Parameters: ``op`` the operations, math or numpy; ``settings``; ``memory``, which is changed;
    ``mould_temperature`` that the board believes [K]; ``bin_full`` 1 while ice lifts the bin's lever [-];
    ``defrosting`` 1 while the coil's heater is on [-]; ``elapsed`` since the last call [s].
    Returns: `IceMakingOutputs`.
    Source: common practice, no source.
    """
    busy = memory.heating + memory.sweeping_left + memory.filling_left
    waiting = op.where(busy > 0.0, 0.0, 1.0)
    cold = op.where(mould_temperature <= settings.harvest_temperature, waiting, 0.0)
    memory.cold_for = (memory.cold_for + elapsed) * cold
    ready = op.where(memory.cold_for >= settings.cold_time, cold, 0.0)
    begin = ready * (1 - bin_full) * (1 - defrosting)
    memory.heating_time = (memory.heating_time + elapsed) * memory.heating
    warm = op.where(mould_temperature >= settings.loosened_temperature, 1.0, 0.0)
    late = op.where(memory.heating_time >= settings.heating_limit, 1.0, 0.0)
    end = memory.heating * op.maximum(warm, late)
    memory.heating = memory.heating + begin - end
    swept = op.where(memory.sweeping_left > 0.0, 1.0, 0.0)
    memory.sweeping_left = op.where(
        end > 0.5, settings.sweep_time, op.maximum(memory.sweeping_left - elapsed, 0.0)
    )
    sweep = op.where(memory.sweeping_left > 0.0, 1.0, 0.0)
    fill_now = swept * (1 - sweep)
    memory.filling_left = op.where(
        fill_now > 0.5, settings.fill_time, op.maximum(memory.filling_left - elapsed, 0.0)
    )
    valve = op.where(memory.filling_left > 0.0, 1.0, 0.0)
    memory.drying_left = op.where(
        valve > 0.5, settings.drying_time, op.maximum(memory.drying_left - elapsed, 0.0)
    )
    drying = op.where(memory.drying_left > 0.0, 1.0, 0.0)
    return IceMakingOutputs(
        memory.heating, sweep, valve, op.maximum(memory.heating, op.maximum(sweep, drying))
    )
