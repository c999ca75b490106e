"""Faults of sensors, doors, walls, damper and valve: what they change, what they move."""

from __future__ import annotations

from coldbench.machine.fault_kinds import break_wire, bridge, fault, less, more, plus, towards

__all__: list[str] = []

SENSOR_FAULTS = (
    fault(
        "fresh-food sensor open",
        "A wire of the fresh-food sensor is broken: the board believes a cold box.",
        "1 broken",
        [("sensors", "fresh_food_sensor", "series_resistance", break_wire)],
        {
            "fresh_food_sensor_resistance": "up",
            "fresh_food_sensor_believed": "down",
            "fresh_food_air_temperature": "up",
        },
    ),
    fault(
        "fresh-food sensor short",
        "The fresh-food sensor is bridged: the board believes a hot box.",
        "1 a dead short",
        [("sensors", "fresh_food_sensor", "leak_resistance", bridge)],
        {
            "fresh_food_sensor_resistance": "down",
            "fresh_food_sensor_believed": "up",
            "fresh_food_air_temperature": "down",
        },
    ),
    fault(
        "fresh-food sensor drifted",
        "The fresh-food sensor's ohms have crept up: it reads too cold.",
        "of a quarter more ohms",
        [("sensors", "fresh_food_sensor", "drift", more(0.25))],
        {"fresh_food_air_temperature": "up"},
    ),
    fault(
        "fresh-food sensor loose",
        "The fresh-food sensor has fallen onto the coil.",
        "part of its contact that is lost",
        [("sensors", "fresh_food_sensor", "contact", less())],
        {"fresh_food_sensor_believed": "down", "fresh_food_air_temperature": "up"},
    ),
    fault(
        "freezer sensor open",
        "A wire of the freezer sensor is broken: the board believes a cold box.",
        "1 broken",
        [("sensors", "freezer_sensor", "series_resistance", break_wire)],
        {
            "freezer_sensor_resistance": "up",
            "freezer_sensor_believed": "down",
            "freezer_air_temperature": "up",
        },
    ),
    fault(
        "freezer sensor short",
        "The freezer sensor is bridged: the board believes a hot box.",
        "1 a dead short",
        [("sensors", "freezer_sensor", "leak_resistance", bridge)],
        {
            "freezer_sensor_resistance": "down",
            "freezer_sensor_believed": "up",
            "freezer_air_temperature": "down",
        },
    ),
    fault(
        "freezer sensor drifted",
        "The freezer sensor's ohms have crept down: it reads too warm.",
        "of a fifth fewer ohms",
        [("sensors", "freezer_sensor", "drift", less(0.2))],
        {"freezer_air_temperature": "down"},
    ),
    fault(
        "wrong sensor plugged in",
        "A sensor of another type sits in the freezer: same ohms at 25 °C, another B.",
        "1 the wrong one",
        [("sensors", "freezer_sensor", "beta", towards(3435.0))],
        {"freezer_air_temperature": "down"},
    ),
    fault(
        "room sensor open",
        "A wire of the room sensor is broken: the board believes a freezing room.",
        "1 broken",
        [("sensors", "room_sensor", "series_resistance", break_wire)],
        {"room_sensor_resistance": "up", "condenser_fan_speed": "down"},
    ),
)

CABINET_FAULTS = (
    fault(
        "fresh-food gasket leaks",
        "The fresh-food door's gasket lets room air pass.",
        "of 0.8 g a second",
        [("boxes", "fresh_food", "leak_flow", plus(0.0008))],
        {"fresh_food_humidity_ratio": "up", "energy": "up"},
    ),
    fault(
        "freezer gasket leaks",
        "The freezer door's gasket lets room air pass.",
        "of 0.3 g a second",
        [("boxes", "freezer", "leak_flow", plus(0.0003))],
        {"freezer_frost": "up", "energy": "up"},
    ),
    fault(
        "fresh-food door ajar",
        "The fresh-food door does not close.",
        "of 4 g a second",
        [("boxes", "fresh_food", "leak_flow", plus(0.004))],
        {"fresh_food_air_temperature": "up", "fresh_food_humidity_ratio": "up"},
    ),
    fault(
        "soaked insulation",
        "Water in the foam carries heat through the freezer's walls.",
        "1 twice the heat",
        [("boxes", "freezer", "wall_conductance", more(1.0))],
        {"energy": "up"},
    ),
    fault(
        "damper stuck open",
        "The damper does not close.",
        "1 wide open",
        [("", "", "stuck_damper", lambda old, severity: severity)],
        {"damper_position": "up", "fresh_food_air_temperature": "down"},
    ),
    fault(
        "damper stuck shut",
        "The damper does not open.",
        "1 shut",
        [("", "", "stuck_damper", lambda old, severity: 1.0 - severity)],
        {"damper_position": "down", "fresh_food_air_temperature": "up"},
    ),
    fault(
        "valve stuck on both coils",
        "The switching valve feeds both coils all the time.",
        "1 stuck",
        [("", "", "stuck_valve", lambda old, severity: 0.0)],
        {"valve_position": "down", "fresh_food_air_temperature": "down"},
    ),
    fault(
        "valve stuck on the freezer",
        "The switching valve feeds the freezer's coil alone.",
        "1 stuck",
        [("", "", "stuck_valve", lambda old, severity: 1.0)],
        {"valve_position": "up", "fresh_food_air_temperature": "up"},
    ),
)
