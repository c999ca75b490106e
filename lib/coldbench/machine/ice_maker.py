"""The ice maker in a freezer: mould, bin, fill tube and water valve, moved on with the plant.

What is inside: `IceMaker`, its numbers; `IceMakerState`, which lets its board decide every ten seconds, lets
water flow and cubes fall, exchanges heat with the freezer's air every step, and counts what came in and went
out, so that the cabinet's balances of heat and water hold with it.

The bin's lever is up where the bin holds its fill. The tube's mouth keeps a gram of water after each fill;
as far as that is ice, nothing flows. Water that finds the mould full runs over into the bin and freezes.
Left out: vapour from the mould, and what the water valve's winding draws for seconds. All numbers are
invented.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from coldbench.control.ice_making import IceMakingMemory, IceMakingOutputs, IceMakingSettings, make_ice
from coldbench.parts.ice_mould import (
    FREEZING,
    HEAT_OF_FUSION,
    ICE_HEAT_CAPACITY,
    SKIN,
    WATER_HEAT_CAPACITY,
    Mould,
    WaterAndIce,
    mould_air_conductance_of,
)

__all__ = ["IceMaker"]

HARVEST_VOLTAGE, TUBE_VOLTAGE = 115.0, 12.0  # [V]
LOOSE = 0.01  # [-], of the ice: with that much melted at the wall it lets go; assumed
STANDING_WATER = 0.001  # [kg], in the tube's mouth after each fill; assumed


@dataclass(frozen=True, slots=True)
class IceMaker:
    """An ice maker, its bin and its fill tube; its sensor is one of the machine's, "mould_sensor".

    Attributes
    ----------
    settings : IceMakingSettings
        Of its board
    mould_capacity : float
        Heat capacity of the mould's metal [J/K]
    mould_holding : float
        Water that fills the mould to the brim [kg]
    contact_conductance : float
        Mould to what lies in it [W/K]
    layer_resistance : float
        Of the ice once all is frozen [K/W]
    still_conductance : float
        Mould to the freezer's air, fan at rest [W/K]
    blown_conductance : float
        Mould to the freezer's air, fan at full speed and coil bare [W/K]
    harvest_resistance : float
        Of the heater under the mould, on mains voltage [Ohm]
    harvest_whole : float
        1 while that heater and its wires conduct, 0 where one is open [-]
    bin_holding : float
        Ice that lifts the bin's lever [kg]
    lever_held : float
        1 where something holds the bin's lever up, else 0 [-]
    bin_capacity : float
        Heat capacity of the empty bin [J/K]
    bin_conductance : float
        Ice in the bin to the freezer's air [W/K]
    water_temperature : float
        At which the household's water arrives [K]
    water_flow : float
        Through the open valve [kg/s]
    valve_resistance : float
        Of the water valve's winding [Ohm]
    valve_whole : float
        1 while that winding conducts, 0 where it is broken [-]
    tube_capacity : float
        Heat capacity of the fill tube's mouth [J/K]
    tube_conductance : float
        Of that to the freezer's air [W/K]
    tube_room_conductance : float
        Of that to the room, along the tube [W/K]
    tube_resistance : float
        Of the fill tube's heater, on low voltage [Ohm]
    tube_whole : float
        1 while that heater and its wires conduct, 0 where one is open [-]
    """

    settings: IceMakingSettings = field(default_factory=IceMakingSettings)
    mould_capacity: float = 230.0
    mould_holding: float = 0.125
    contact_conductance: float = 12.0
    layer_resistance: float = 0.15
    still_conductance: float = 0.25
    blown_conductance: float = 0.65
    harvest_resistance: float = 132.0
    harvest_whole: float = 1.0
    bin_holding: float = 2.0
    lever_held: float = 0.0
    bin_capacity: float = 400.0
    bin_conductance: float = 0.35
    water_temperature: float = 288.15
    water_flow: float = 0.005
    valve_resistance: float = 300.0
    valve_whole: float = 1.0
    tube_capacity: float = 15.0
    tube_conductance: float = 0.04
    tube_room_conductance: float = 0.005
    tube_resistance: float = 48.0
    tube_whole: float = 1.0


class IceMakerState:
    """What an ice maker is at a moment, and what has come into it and left it."""

    __slots__ = (
        "bin", "cubes_made", "description", "from_room", "harvest_power", "lever_up", "memory", "mould",
        "outputs", "power", "spilled_water", "taken", "taken_heat", "tube", "tube_power", "water_flow",
        "water_used",
    )  # fmt: skip

    def __init__(self, op, description: IceMaker, temperature, like):
        """Begin as after days in the cold, mould and bin full of ice; in the warm, with both empty."""
        of, zero = description, 0.0 * like
        frozen = op.where(temperature < FREEZING, 1.0, 0.0) + zero
        filling = of.water_flow * of.settings.fill_time
        content = WaterAndIce(SKIN, temperature, zero, filling * frozen)
        self.description = of
        self.mould = Mould(of.mould_capacity, of.contact_conductance, of.layer_resistance, content)
        self.bin = WaterAndIce(of.bin_capacity, temperature, zero, of.bin_holding * frozen)
        standing = STANDING_WATER * (1 - frozen), STANDING_WATER * frozen
        self.tube = WaterAndIce(of.tube_capacity, temperature, *standing)
        self.memory = IceMakingMemory(like)
        self.outputs = IceMakingOutputs(zero, zero, zero, zero)
        self.lever_up = self.water_flow = zero
        self.harvest_power = self.tube_power = self.power = zero
        self.water_used = self.cubes_made = self.spilled_water = self.taken = zero
        self.from_room = self.taken_heat = zero  # [J]

    def run_board(self, op, mould_seen, defrosting, elapsed) -> None:
        """Let water and cubes go where the last decision sent them, then let the board decide again."""
        self.flow_and_fall(op, elapsed)
        of = self.description
        self.lever_up = op.where(self.bin.ice >= of.bin_holding, 1.0, of.lever_held)
        outputs = self.outputs = make_ice(
            op, of.settings, self.memory, mould_seen, self.lever_up, defrosting, elapsed
        )
        self.harvest_power = (
            outputs.harvest_heater
            * of.harvest_whole
            * (HARVEST_VOLTAGE * HARVEST_VOLTAGE / of.harvest_resistance)
        )
        self.tube_power = (
            outputs.fill_tube_heater * of.tube_whole * (TUBE_VOLTAGE * TUBE_VOLTAGE / of.tube_resistance)
        )
        self.power = self.harvest_power + self.tube_power
        self.water_flow = (
            outputs.water_valve * of.valve_whole * of.water_flow * (self.tube.water / STANDING_WATER)
        )

    def flow_and_fall(self, op, elapsed) -> None:
        """Pour what has flowed since the last call, and let loose cubes fall where the fingers turned."""
        of, content, box = self.description, self.mould.content, self.bin
        loose = op.where(self.mould.metal > FREEZING, self.outputs.sweep, 0.0)
        fallen = op.where(content.water > LOOSE * content.ice, loose, 0.0) * content.ice
        poured = self.water_flow * elapsed
        over = content.water + content.ice + poured - of.mould_holding
        spilled = op.minimum(op.maximum(over, 0.0), poured)
        kept = poured - spilled
        warmth = WATER_HEAT_CAPACITY * (of.water_temperature - FREEZING)
        fallen_heat = fallen * ICE_HEAT_CAPACITY * (content.temperature - FREEZING)
        content.hold(
            content.sensible_heat + kept * warmth - fallen_heat, content.water + kept, content.ice - fallen
        )
        box.hold(box.sensible_heat + spilled * warmth + fallen_heat, box.water + spilled, box.ice + fallen)
        self.water_used = self.water_used + poured
        self.cubes_made = self.cubes_made + fallen
        self.spilled_water = self.spilled_water + spilled

    def eliminate(self, op, relative_air_flow, room, step):
        """Reduce mould, bin and tube to lines in the freezer's air; gives slope and constant of its row."""
        of = self.description
        to_air = mould_air_conductance_of(op, of.still_conductance, of.blown_conductance, relative_air_flow)
        mould = self.mould.eliminate(op, to_air, self.harvest_power, step)
        box = self.bin.eliminate(op, of.bin_conductance, 0.0, room, 0.0, step)
        tube = self.tube.eliminate(
            op, of.tube_conductance, of.tube_room_conductance, room, self.tube_power, step
        )
        return mould[0] + box[0] + tube[0], mould[1] + box[1] + tube[1]

    def put_back(self, op, air, room, step) -> None:
        """Set mould, bin and tube to the end of the step."""
        self.mould.put_back(op, air, step)
        self.bin.put_back(op, air, step)
        felt = self.tube.put_back(op, air, step)
        self.from_room = self.from_room + self.description.tube_room_conductance * (room - felt) * step

    def take(self, op, mass) -> None:
        """Let someone take ice out of the bin, as far as there is any [kg]."""
        box = self.bin
        share = op.minimum(mass / op.maximum(box.ice + box.water, 1e-9), 1.0)
        ice, water = share * box.ice, share * box.water
        warmth = (ice * ICE_HEAT_CAPACITY + water * WATER_HEAT_CAPACITY) * (box.temperature - FREEZING)
        box.hold(box.sensible_heat - warmth, box.water - water, box.ice - ice)
        self.taken_heat = self.taken_heat + warmth - ice * HEAT_OF_FUSION
        self.taken = self.taken + ice + water

    def gained_heat(self):
        """Heat that came with water, went with ice, and came from the room; not that of its heaters [J]."""
        warmth = WATER_HEAT_CAPACITY * (self.description.water_temperature - FREEZING)
        return self.water_used * warmth + self.from_room - self.taken_heat

    def gained_water(self):
        """Water that came, less ice that was taken [kg]."""
        return self.water_used - self.taken

    def stored_heat(self):
        """Heat content of mould, bin and tube over liquid water at 0 °C [J]."""
        return self.mould.stored_heat() + self.bin.stored_heat() + self.tube.stored_heat()

    def stored_water(self):
        """Water and ice in mould, bin and tube [kg]."""
        parts = (self.mould.content, self.bin, self.tube)
        return sum(part.water + part.ice for part in parts)
