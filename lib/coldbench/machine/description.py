"""What a machine is made of: plain records of numbers that a fault, a student or an instructor may change.

What is inside: coil, fan, heater, box, sensor, compressor, condenser, circuit, and the machine that holds
them. SI throughout. A number may also be an array, one value a machine: then many machines run at once.

All numbers of the five machines are invented for teaching; where a size follows practice or a published
figure, the machine's own module says so.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from coldbench.machine.ice_maker import IceMaker


@dataclass(frozen=True, slots=True)
class Coil:
    """A finned coil, cut into equal zones along the refrigerant's way; the air meets the last zone first.

    Attributes
    ----------
    name : str
        "fresh_food" or "freezer": begins the names of its readings; a lone coil is the freezer's
    heat_capacity : float
        Of its metal [J/K]
    air_conductance : float
        Metal to air, without frost, at the rated air flow [W/K]
    rated_air_flow : float
        Air through the bare coil at full fan speed [kg/s]
    still_conductance : float
        Metal to the air of its box without a fan [W/K]
    refrigerant_conductance : float
        Metal to boiling refrigerant where the coil is wet throughout [W/K]
    vapor_conductance : float
        Metal to vapour where the coil has run dry [W/K]
    holding : float
        Liquid refrigerant that wets it throughout [kg]
    area : float
        Surface on which frost grows [m2]
    free_volume : float
        Space between the fins that frost can fill [m3]
    retained_water : float
        Melt water that clings to it [kg]
    fresh_food_share : float
        Part of its air that comes from and returns to the fresh-food box [-]
    """

    name: str
    heat_capacity: float
    air_conductance: float
    rated_air_flow: float
    still_conductance: float
    refrigerant_conductance: float
    vapor_conductance: float
    holding: float
    area: float
    free_volume: float
    retained_water: float
    fresh_food_share: float


@dataclass(frozen=True, slots=True)
class Fan:
    """A small fan with a plug: pulses in, air and tacho pulses out.

    Attributes
    ----------
    name : str
        "fresh_food", "freezer" or "condenser": begins the names of its readings
    full_speed : float
        At full pulse width [rev/s]
    full_power : float
        At full speed [W]
    turning : float
        Speed it reaches over the speed asked for; 1 sound, 0 seized [-]
    supplied : float
        Whether its output of the board gives voltage: 1 or 0 [-]
    """

    name: str
    full_speed: float
    full_power: float
    turning: float = 1.0
    supplied: float = 1.0


@dataclass(frozen=True, slots=True)
class Heater:
    """A defrost heater under a coil, with a thermal fuse in series.

    Attributes
    ----------
    resistance : float
        Of the element [Ohm]
    voltage : float
        Of the mains [V]
    fuse_temperature : float
        Coil temperature at which the fuse opens for good [K]
    air_share : float
        Part of the heat that misses the coil and warms the box [-]
    whole : float
        1 while element and wires conduct, 0 where one is open [-]
    stuck_on : float
        1 where its relay's contacts are welded [-]
    """

    resistance: float
    voltage: float = 115.0
    fuse_temperature: float = 345.15
    air_share: float = 0.15
    whole: float = 1.0
    stuck_on: float = 0.0


@dataclass(frozen=True, slots=True)
class Box:
    """A compartment: air, liner and shelves, food, walls and door.

    Attributes
    ----------
    name : str
        "fresh_food" or "freezer": begins the names of its readings
    volume : float
        Of its air [m3]
    air_capacity : float
        Heat capacity of the air and what follows it at once [J/K]
    liner_capacity : float
        Heat capacity of liner and shelves [J/K]
    liner_conductance : float
        Liner to air [W/K]
    wall_conductance : float
        Liner to the room [W/K]
    food_capacity : float
        Heat capacity of the food, frozen where the box freezes [J/K]
    food_conductance : float
        Food to air [W/K]
    food_latent_heat : float
        Heat that melts all the food's water [J]
    door_width : float
        [m]
    door_height : float
        [m]
    leak_flow : float
        Room air that passes the gasket [kg/s]
    """

    name: str
    volume: float
    air_capacity: float
    liner_capacity: float
    liner_conductance: float
    wall_conductance: float
    food_capacity: float
    food_conductance: float
    food_latent_heat: float
    door_width: float
    door_height: float
    leak_flow: float = 3e-6


@dataclass(frozen=True, slots=True)
class Sensor:
    """A thermistor, where it sits, its wires, and the curve the board holds for it.

    Attributes
    ----------
    name : str
        Such as "fresh_food_sensor": begins the names of its readings
    place : str
        What it should follow: a reading of the machine, such as "fresh_food_air_temperature"
    fallen_to : str
        What it follows instead where it has come loose
    lag : float
        Time in which it follows [s]
    contact : float
        1 where it sits, 0 fallen [-]
    resistance_25 : float
        At 25 °C [Ohm]
    beta : float
        B of the sensor plugged in [K]
    expected_beta : float
        B of the curve in the board [K]
    drift : float
        Factor on its ohms [-]
    series_resistance : float
        In its wires; endless where one is broken [Ohm]
    leak_resistance : float
        Beside it: water or a short [Ohm]
    """

    name: str
    place: str
    fallen_to: str
    lag: float = 120.0
    contact: float = 1.0
    resistance_25: float = 10_000.0
    beta: float = 3950.0
    expected_beta: float = 3950.0
    drift: float = 1.0
    series_resistance: float = 0.0
    leak_resistance: float = 1e12


@dataclass(frozen=True, slots=True)
class Bulb:
    """A mechanical feeler: the bulb of a thermostat or a bimetal switch. It has no ohms.

    Attributes
    ----------
    name : str
        Such as "freezer_bulb"
    place : str
        What it follows
    lag : float
        Time in which it follows [s]
    shift : float
        By which it feels too warm [K]
    """

    name: str
    place: str
    lag: float = 120.0
    shift: float = 0.0


@dataclass(frozen=True, slots=True)
class Circuit:
    """A sealed circuit: compressor, condenser, capillary with suction-line exchanger, coils in order.

    Attributes
    ----------
    name : str
        "" where the machine has one circuit, else "fresh_food" or "freezer"
    coils : tuple
        Places of its coils in the machine's list, in the order in which refrigerant meets them [-]
    charge : float
        Refrigerant in it [kg]
    air : float
        Air that got into it [kg]
    low_volume : float
        Vapour space of coils, suction line and compressor shell [m3]
    high_volume : float
        Of the condenser and the liquid line [m3]
    accumulator : float
        Liquid that the accumulator holds back after the last coil [kg]
    seal : float
        Liquid that must stand at the condenser's end to seal the capillary [kg]
    displacement : float
        Of the compressor, a turn [m3]
    full_speed : float
        Of the compressor [rev/s]
    pumping : float
        Health of the valves; 1 sound [-]
    efficiency : float
        Of motor and compression together [-]
    idle_power : float
        Turning at full speed without pumping [W]
    starting : float
        1 where the motor starts, 0 where it only hums [-]
    supplied : float
        1 where the board's output feeds the motor, else 0 [-]
    locked_power : float
        Drawn by a motor that hums [W]
    shell_capacity : float
        Heat capacity of the compressor [J/K]
    shell_conductance : float
        Shell to room [W/K]
    condenser_capacity : float
        Heat capacity of the condenser's metal [J/K]
    condenser_air_conductance : float
        Metal to room air, fan at full speed [W/K]
    condenser_still_conductance : float
        Metal to room air without a fan [W/K]
    condenser_refrigerant_conductance : float
        Condensing refrigerant to metal [W/K]
    capillary_diameter : float
        [m]
    capillary_length : float
        [m]
    bypass_length : float
        Length of the second capillary, straight to the last coil [m]
    capillary_opening : float
        Flow over that of a clean capillary [-]
    exchange : float
        Effectiveness of the suction-line exchanger [-]
    """

    name: str
    coils: tuple[int, ...]
    charge: float
    displacement: float
    capillary_diameter: float
    capillary_length: float
    air: float = 0.0
    low_volume: float = 0.0020
    high_volume: float = 0.00025
    accumulator: float = 0.010
    seal: float = 0.006
    full_speed: float = 50.0
    pumping: float = 1.0
    efficiency: float = 0.60
    idle_power: float = 8.0
    starting: float = 1.0
    supplied: float = 1.0
    locked_power: float = 500.0
    shell_capacity: float = 5000.0
    shell_conductance: float = 1.0
    condenser_capacity: float = 3000.0
    condenser_air_conductance: float = 9.0
    condenser_still_conductance: float = 3.0
    condenser_refrigerant_conductance: float = 45.0
    bypass_length: float = 2.6
    capillary_opening: float = 1.0
    exchange: float = 0.8


@dataclass(frozen=True, slots=True)
class Machine:
    """A whole machine: parts, board, and the names by which its board is chosen.

    Attributes
    ----------
    name : str
        "Series", "Valve", "Damper", "Two-circuit" or "Thermostat"
    refrigerant : str
        "R-600a" or "R-134a"
    circuits : tuple
        One or two circuits
    coils : tuple
        All coils, in the order in which the circuits name them
    fans : tuple
        One a coil, in the coils' order
    condenser_fan : Fan
        Cools condenser and compressor
    heaters : tuple
        One a coil; None for a coil without
    boxes : tuple
        Fresh food first, then freezer
    sensors : tuple
        What the board can see
    board : object
        Its program with its settings
    partition_conductance : float
        Between the two boxes [W/K]
    damper_moves : bool
        Whether a damper shares the first coil's air out
    damper_leak : float
        Part of the damper's air share that passes while closed [-]
    valve_moves : bool
        Whether a valve can send the refrigerant past all coils but the last
    crossed_fans : float
        1 where the plugs of the two coils' fans are swapped, else 0 [-]
    stuck_damper : float
        Position at which the damper is stuck, 0 to 1; -1 where it moves [-]
    stuck_valve : float
        Position at which the switching valve is stuck, 0 or 1; -1 where it moves [-]
    ice_maker : IceMaker
        In the freezer; None where there is none
    """

    name: str
    refrigerant: str
    circuits: tuple[Circuit, ...]
    coils: tuple[Coil, ...]
    fans: tuple[Fan, ...]
    condenser_fan: Fan
    heaters: tuple[Heater | None, ...]
    boxes: tuple[Box, Box]
    sensors: tuple[Sensor | Bulb, ...]
    board: object = field(repr=False)
    partition_conductance: float = 0.25
    damper_moves: bool = False
    damper_leak: float = 0.05
    valve_moves: bool = False
    crossed_fans: float = 0.0
    stuck_damper: float = -1.0
    stuck_valve: float = -1.0
    ice_maker: IceMaker | None = None
