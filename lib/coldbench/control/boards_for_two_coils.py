"""Boards of the machines with two coils: Series, Valve, Two-circuit. Readings in, outputs out."""

from __future__ import annotations

from dataclasses import dataclass, field

from coldbench.control.defrost import DefrostMemory, DefrostSettings, defrost
from coldbench.control.outputs import Memory, Outputs, between, condenser_fan_for, in_steps
from coldbench.control.switching import after_minimum_times, proportional_integral, thermostat

__all__ = ["SeriesBoard", "TwoCircuitBoard", "ValveBoard"]

DRY_COIL = 276.15  # [K], 3 °C: a heaterless coil's fan blows until its sensor says so, and its frost is gone


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
    slowest : float
        Of the compressor's speeds, a part of the full one [-]
    defrosting : DefrostSettings
        Of the freezer's coil
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
            fan = in_steps(fan)
            speed = in_steps(speed)
        else:
            speed, fan = 1.0, memory.fan
        return Outputs(
            compressors=(running * speed,),
            fans=(fan, running),
            condenser_fan=condenser_fan_for(op, seen, running),
            heaters=(0.0, heater),
        )


@dataclass(frozen=True, slots=True)
class ValveBoard:
    """Valve: the valve feeds both coils while the fresh-food box calls, else the freezer's alone.

    The fresh-food coil has no heater: its fan blows on after cooling until its sensor is warm.

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
        Of the freezer's coil
    """

    fresh_food_aim: float = 276.65
    freezer_aim: float = 255.15
    fresh_food_band: float = 2.0
    freezer_band: float = 4.0
    defrosting: DefrostSettings = field(default_factory=DefrostSettings)

    def start(self, like) -> Memory:
        """Give the memory at power-on.

        Parameters: ``like`` a number or array of the shape of the machines.
        Returns: a `Memory`.
        """
        zero = 0.0 * like
        return Memory(
            fresh_food=zero, freezer=zero, feeding=zero, running=zero, since=1e6 + zero, drying=zero,
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
        # The fresh-food coil is fed again only once its frost is gone.
        feeding = memory.fresh_food * (1 - memory.drying * (1 - memory.feeding))
        wanted = op.maximum(feeding, memory.freezer) * (1 - pause)
        memory.running, memory.since = after_minimum_times(
            op, memory.running, wanted, memory.since, 180.0, 180.0, elapsed
        )
        running = memory.running * (1 - heater)
        memory.feeding = running * feeding
        warm = op.where(seen["fresh_food_coil_sensor"] >= DRY_COIL, 0.0, 1.0)
        memory.drying = op.maximum(memory.feeding, memory.drying * warm)
        return Outputs(
            compressors=(running,),
            fans=(memory.drying, running * memory.freezer),
            condenser_fan=condenser_fan_for(op, seen, running),
            heaters=(0.0, heater),
            valve=1 - feeding,
        )


@dataclass(frozen=True, slots=True)
class TwoCircuitBoard:
    """Two-circuit: each box has its own compressor, coil and fan; they share the condenser fan.

    The fresh-food coil runs warm and has no heater: after each run its fan blows on until its sensor is warm,
    and the compressor waits for that.

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
        Of the freezer's coil
    """

    fresh_food_aim: float = 276.65
    freezer_aim: float = 255.15
    fresh_food_band: float = 2.0
    freezer_band: float = 4.0
    defrosting: DefrostSettings = field(default_factory=DefrostSettings)

    def start(self, like) -> Memory:
        """Give the memory at power-on.

        Parameters: ``like`` a number or array of the shape of the machines.
        Returns: a `Memory`.
        """
        zero = 0.0 * like
        return Memory(
            fresh_food=zero, freezer=zero, cooling=zero, freezing=zero, cooling_since=1e6 + zero,
            freezing_since=1e6 + zero, drying=zero, defrosting=DefrostMemory(self.defrosting, like),
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
            op, self.defrosting, memory.defrosting, seen["defrost_sensor"], memory.freezing, elapsed
        )
        drying = memory.drying * (1 - memory.cooling)
        memory.cooling, memory.cooling_since = after_minimum_times(
            op, memory.cooling, memory.fresh_food * (1 - drying), memory.cooling_since, 180.0, 180.0, elapsed
        )
        memory.freezing, memory.freezing_since = after_minimum_times(
            op, memory.freezing, memory.freezer * (1 - pause), memory.freezing_since, 180.0, 180.0, elapsed
        )
        warm = op.where(seen["fresh_food_coil_sensor"] >= DRY_COIL, 0.0, 1.0)
        memory.drying = op.maximum(memory.cooling, memory.drying * warm)
        freezing = memory.freezing * (1 - heater)
        return Outputs(
            compressors=(memory.cooling, freezing),
            fans=(memory.drying, freezing),
            condenser_fan=condenser_fan_for(op, seen, op.maximum(memory.cooling, freezing)),
            heaters=(0.0, heater),
        )
