"""What the board of a machine does at given temperatures: the machine's own board, asked through its sensors.

`asked` stands a machine still at the temperatures of its boxes, lets its sensors settle, its board read their
ohms and decide, and its parts obey as far as they can. `Command` holds what came of it. Nothing here knows
what a machine should do.
"""

from __future__ import annotations

from dataclasses import dataclass

from coldbench.machine.description import Bulb, Machine
from coldbench.machine.plant import Plant
from coldbench.operations import FLOATS
from coldbench.properties.moist_air import humidity_ratio
from coldbench.units import to_si

SETTLED = 900.0  # [s], a look of the board after which its sensors have followed all but a ninth
LOOKS = 4
CALLING = (to_si(50.0, "degF"), to_si(15.0, "degF"))  # both boxes too warm
SATISFIED = (to_si(30.0, "degF"), to_si(-12.0, "degF"))  # both boxes cold enough
COLD_COIL, WARM_COIL = to_si(14.0, "degF"), to_si(41.0, "degF")  # fresh-food coil: frosted, dry
FREEZER_COIL = to_si(-15.0, "degF")
FULL_FAN = 12.0  # [V]


@dataclass(frozen=True)
class Command:
    """What a board believes, what it commands, and what the parts make of it.

    Attributes
    ----------
    believed : dict
        Sensor or bulb to the temperature that is believed or felt [K]
    resistances : dict
        Sensor to the ohms at its pins [Ohm]
    compressors : tuple
        Commanded speeds over full speed, one a circuit [-]
    fans : tuple
        Commanded speeds over full speed, one a coil [-]
    fan_voltages : tuple
        What a meter shows at the fans [V]
    fan_speeds : tuple
        Turning over full speed [-]
    condenser_fan : float
        Commanded speed over full speed [-]
    damper, damper_seen : float
        Commanded and real position, 0 shut to 1 open [-]
    valve, valve_seen : float
        Commanded and real position, 0 both coils, 1 the freezer's alone [-]
    """

    believed: dict[str, float]
    resistances: dict[str, float]
    compressors: tuple[float, ...]
    fans: tuple[float, ...]
    fan_voltages: tuple[float, ...]
    fan_speeds: tuple[float, ...]
    condenser_fan: float
    damper: float
    damper_seen: float
    valve: float
    valve_seen: float


def asked(
    machine: Machine, fresh_food: float, freezer: float, before: tuple[float, float] = SATISFIED,
    coil: float = COLD_COIL, room: float = 298.15,
) -> Command:  # fmt: skip
    """Ask a machine's board what it does at the temperatures of its boxes.

    Parameters: ``machine`` its description, sound or faulty; ``fresh_food``, ``freezer`` temperatures of the
    boxes [K]; ``before`` what they were an hour ago, which decides between cut-out and cut-in [K]; ``coil``
    temperature of the fresh-food coil, where there is one [K]; ``room`` temperature of the room [K].
    Returns: what it believes, commands and gets.
    """
    coils = [coil if one.name == "fresh_food" else FREEZER_COIL for one in machine.coils]
    plant = Plant(FLOATS, machine, before, coils, room, humidity_ratio(room, 0.5))
    _settle(plant)
    plant.boxes[0].air, plant.boxes[1].air = fresh_food, freezer
    _settle(plant)
    outputs = plant.outputs
    names = [sensor.name for sensor in machine.sensors]
    ohms = [
        one for one, sensor in zip(plant.ohms, machine.sensors, strict=True) if not isinstance(sensor, Bulb)
    ]
    sensors = [
        name for name, sensor in zip(names, machine.sensors, strict=True) if not isinstance(sensor, Bulb)
    ]
    return Command(
        believed=dict(plant.seen),
        resistances=dict(zip(sensors, ohms, strict=True)),
        compressors=tuple(outputs.compressors),
        fans=tuple(outputs.fans),
        fan_voltages=tuple(FULL_FAN * duty for duty in plant.fan_duties),
        fan_speeds=tuple(plant.fan_speeds),
        condenser_fan=outputs.condenser_fan,
        damper=outputs.damper,
        damper_seen=plant.damper,
        valve=outputs.valve,
        valve_seen=plant.valve,
    )


def _settle(plant: Plant) -> None:
    for _ in range(LOOKS):
        plant.run_board(SETTLED)
