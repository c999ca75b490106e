"""Boards of the machines with one coil: Damper and Thermostat. Settings in, readings in, outputs out."""

from __future__ import annotations

from dataclasses import dataclass, field

from coldbench.control.defrost import DefrostMemory, DefrostSettings, defrost
from coldbench.control.outputs import Memory, Outputs, between, condenser_fan_for
from coldbench.control.switching import after_minimum_times, thermostat

__all__ = ["DamperBoard", "ThermostatBoard"]


@dataclass(frozen=True, slots=True)
class DamperBoard:
    """Damper: one coil and one fan; the damper lets cold air up while the fresh-food box calls.

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
    defrosting : DefrostSettings
        Of the coil
    """

    fresh_food_aim: float = 276.65
    freezer_aim: float = 255.15
    fresh_food_band: float = 1.6
    freezer_band: float = 4.0
    defrosting: DefrostSettings = field(default_factory=DefrostSettings)

    def start(self, like) -> Memory:
        """Give the memory at power-on.

        Parameters: ``like`` a number or array of the shape of the machines.
        Returns: a `Memory`.
        """
        zero = 0.0 * like
        return Memory(
            fresh_food=zero, freezer=zero, running=zero, since=1e6 + zero,
            defrosting=DefrostMemory(self.defrosting, like),
        )  # fmt: skip

    def decide(self, op, memory: Memory, seen, elapsed) -> Outputs:
        """Work out the outputs from what is seen.

        Parameters: ``op`` the operations, math or numpy; ``memory``, which is changed; ``seen`` the believed
        temperatures by sensor [K]; ``elapsed`` since the last call [s].
        Returns: `Outputs`.
        """
        memory.fresh_food = between(
            op, memory.fresh_food, seen["fresh_food_sensor"], self.fresh_food_aim, self.fresh_food_band
        )
        memory.freezer = between(
            op, memory.freezer, seen["freezer_sensor"], self.freezer_aim, self.freezer_band
        )
        heater, pause = defrost(
            op, self.defrosting, memory.defrosting, seen["defrost_sensor"], memory.running, elapsed
        )
        wanted = op.maximum(memory.fresh_food, memory.freezer) * (1 - pause)
        memory.running, memory.since = after_minimum_times(
            op, memory.running, wanted, memory.since, 180.0, 180.0, elapsed
        )
        running = memory.running * (1 - heater)
        return Outputs(
            compressors=(running,),
            fans=(running,),
            condenser_fan=condenser_fan_for(op, seen, running),
            heaters=(heater,),
            damper=memory.fresh_food * (1 - pause),
        )


@dataclass(frozen=True, slots=True)
class ThermostatBoard:
    """Thermostat: no electronics; one mechanical thermostat in the freezer switches compressor and all fans.

    A timer that counts the compressor's hours heats the coil; a bimetal switch at the coil ends it.

    Attributes
    ----------
    cut_in : float
        Of the bulb [K]
    cut_out : float
        Of the bulb [K]
    defrosting : DefrostSettings
        Timer and bimetal switch
    """

    cut_in: float = 257.15
    cut_out: float = 253.15
    defrosting: DefrostSettings = field(default_factory=DefrostSettings)

    def start(self, like) -> Memory:
        """Give the memory at power-on.

        Parameters: ``like`` a number or array of the shape of the machines.
        Returns: a `Memory`.
        """
        return Memory(running=0.0 * like, defrosting=DefrostMemory(self.defrosting, like))

    def decide(self, op, memory: Memory, seen, elapsed) -> Outputs:
        """Work out the outputs from what bulb and bimetal feel.

        Parameters: ``op`` the operations, math or numpy; ``memory``, which is changed; ``seen`` their
        temperatures [K]; ``elapsed`` since the last call [s].
        Returns: `Outputs`.
        """
        memory.running = thermostat(op, memory.running, seen["freezer_bulb"], self.cut_in, self.cut_out)
        heater, pause = defrost(
            op, self.defrosting, memory.defrosting, seen["defrost_bimetal"], memory.running, elapsed
        )
        running = memory.running * (1 - pause)
        return Outputs(compressors=(running,), fans=(running,), condenser_fan=running, heaters=(heater,))
