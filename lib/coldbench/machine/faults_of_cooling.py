"""Faults of the sealed circuit, the fans and the defrost: what they change, what they move."""

from __future__ import annotations

from coldbench.machine.fault_kinds import break_wire, fault, less, more, plus, towards

__all__: list[str] = []

CIRCUIT_FAULTS = (
    fault(
        "low charge",
        "Refrigerant has leaked out, so that the coils starve.",
        "part of the charge that is gone",
        [("circuits", "", "charge", less())],
        {"suction_pressure": "down", "superheat": "up", "subcooling": "down", "compressor_power": "down"},
        0.5,
    ),
    fault(
        "overcharge",
        "Too much refrigerant was filled in, and the condenser floods.",
        "part of the charge added",
        [("circuits", "", "charge", more(1.0))],
        {"subcooling": "up", "discharge_pressure": "up"},
        0.6,
    ),
    fault(
        "restricted capillary",
        "Wax or moisture narrows the capillary.",
        "part of the flow that is lost",
        [("circuits", "", "capillary_opening", less())],
        {"suction_pressure": "down", "superheat": "up", "subcooling": "up"},
        0.5,
    ),
    fault(
        "air in the circuit",
        "Air was drawn in at a leak of a low side in vacuum.",
        "of 0.6 g of air",
        [("circuits", "", "air", plus(0.0006))],
        {"discharge_pressure": "up", "compressor_power": "up"},
        0.5,
    ),
    fault(
        "weak compressor",
        "The compressor's valves leak, and it pumps too little.",
        "part of its flow that is lost",
        [("circuits", "", "pumping", less())],
        {"suction_pressure": "up", "discharge_pressure": "down", "compressor_power": "down"},
        0.5,
    ),
    fault(
        "compressor does not start",
        "The motor hums and does not turn until its protector opens.",
        "1 does not start",
        [("circuits", "", "starting", less())],
        {"refrigerant_flow": "down", "compressor_shell_temperature": "up"},
    ),
    fault(
        "compressor output dead",
        "The board's output for the compressor gives no voltage.",
        "1 dead",
        [("circuits", "", "supplied", less())],
        {"compressor_supplied": "down", "compressor_power": "down", "freezer_air_temperature": "up"},
    ),
    fault(
        "dirty condenser",
        "Dust keeps the air from the condenser.",
        "part of its conductance that is lost",
        [
            ("circuits", "", "condenser_air_conductance", less(0.95)),
            ("circuits", "", "condenser_still_conductance", less(0.95)),
        ],
        {"discharge_pressure": "up", "condensing_temperature": "up", "compressor_power": "up"},
        0.65,
    ),
)

FAN_FAULTS = (
    fault(
        "condenser fan dead",
        "The condenser fan stands still though it is fed.",
        "part of its speed that is lost",
        [("condenser_fan", "", "turning", less())],
        {"condenser_fan_speed": "down", "discharge_pressure": "up"},
    ),
    fault(
        "condenser fan output dead",
        "The board gives the condenser fan no voltage.",
        "1 dead",
        [("condenser_fan", "", "supplied", less())],
        {"condenser_fan_voltage": "down", "condenser_fan_speed": "down", "discharge_pressure": "up"},
    ),
    fault(
        "freezer fan dead",
        "The freezer fan stands still though it is fed.",
        "part of its speed that is lost",
        [("fans", "freezer", "turning", less())],
        {"freezer_fan_speed": "down", "freezer_air_flow": "down", "suction_pressure": "down"},
    ),
    fault(
        "freezer fan slow",
        "The freezer fan drags in its bearing.",
        "part of its speed that is lost",
        [("fans", "freezer", "turning", less())],
        {"freezer_fan_speed": "down", "freezer_air_flow": "down"},
        0.7,
    ),
    fault(
        "freezer fan output dead",
        "The board gives the freezer fan no voltage.",
        "1 dead",
        [("fans", "freezer", "supplied", less())],
        {"freezer_fan_voltage": "down", "freezer_fan_speed": "down", "suction_pressure": "down"},
    ),
    fault(
        "fresh-food fan dead",
        "The fresh-food fan stands still though it is fed.",
        "part of its speed that is lost",
        [("fans", "fresh_food", "turning", less())],
        {"fresh_food_fan_speed": "down", "fresh_food_air_temperature": "up"},
    ),
    fault(
        "fresh-food fan output dead",
        "The board gives the fresh-food fan no voltage.",
        "1 dead",
        [("fans", "fresh_food", "supplied", less())],
        {"fresh_food_fan_voltage": "down", "fresh_food_air_temperature": "up"},
    ),
    fault(
        "fan plugs swapped",
        "The plugs of the two coils' fans are swapped: each box calls the other's fan.",
        "1 swapped",
        [("", "", "crossed_fans", towards(1.0))],
        {"fresh_food_fan_speed": "up", "fresh_food_air_temperature": "down"},
    ),
)

DEFROST_FAULTS = (
    fault(
        "heater open",
        "The defrost heater or a wire to it is broken.",
        "1 broken",
        [("heaters", "", "whole", less())],
        {"freezer_heater_power": "down", "freezer_heater_resistance": "up"},
    ),
    fault(
        "thermal fuse blown",
        "The thermal fuse at the coil has opened for good.",
        "1 open",
        [("heaters", "", "fuse_temperature", towards(0.0))],
        {"freezer_heater_power": "down", "freezer_fuse_whole": "down"},
    ),
    fault(
        "heater relay stuck on",
        "The contacts of the heater's relay are welded: the coil is heated until its fuse opens.",
        "1 welded",
        [("heaters", "", "stuck_on", towards(1.0))],
        {"freezer_fuse_whole": "down"},
    ),
    fault(
        "defrost sensor reads warm",
        "The defrost sensor's ohms are too few, and the heater stops early.",
        "of ohms at a third",
        [("sensors", "defrost_sensor", "drift", towards(0.33))],
        {"defrost_sensor_resistance": "down", "defrost_sensor_believed": "up"},
    ),
    fault(
        "defrost sensor open",
        "A wire of the defrost sensor is broken: the board believes a cold coil.",
        "1 broken",
        [("sensors", "defrost_sensor", "series_resistance", break_wire)],
        {"defrost_sensor_resistance": "up", "defrost_sensor_believed": "down"},
    ),
)
