"""Faults of the ice maker: what they change, what they move.

They show only while ice is being made: as long as the bin is full, its board waits.
"""

from __future__ import annotations

from coldbench.machine.fault_kinds import break_wire, bridge, fault, less, towards

__all__: list[str] = []

ICE_FAULTS = (
    fault(
        "mould sensor open",
        "A wire of the mould's sensor is broken: the board believes ice where there is water.",
        "1 broken",
        [("sensors", "mould_sensor", "series_resistance", break_wire)],
        {
            "mould_sensor_resistance": "up",
            "mould_sensor_believed": "down",
            "harvest_heater_power": "up",
            "cubes_made": "down",
            "spilled_water": "up",
        },
    ),
    fault(
        "mould sensor short",
        "The mould's sensor is bridged: the board believes a warm mould and never harvests.",
        "1 a dead short",
        [("sensors", "mould_sensor", "leak_resistance", bridge)],
        {
            "mould_sensor_resistance": "down",
            "mould_sensor_believed": "up",
            "harvest_heater_power": "down",
            "cubes_made": "down",
            "mould_temperature": "down",
        },
    ),
    fault(
        "mould sensor drifted",
        "The mould's sensor has too few ohms: it reads too warm, and the ice waits for a harvest.",
        "of ohms at two fifths",
        [("sensors", "mould_sensor", "drift", towards(0.4))],
        {"cubes_made": "down", "ice_in_bin": "down"},
    ),
    fault(
        "bin lever stuck up",
        "Something holds the lever of the ice bin up: the board believes a full bin and never harvests.",
        "1 held up",
        [("ice_maker", "", "lever_held", lambda old, severity: 1.0)],
        {"bin_lever_up": "up", "cubes_made": "down", "ice_in_bin": "down"},
    ),
    fault(
        "harvest heater open",
        "The heater under the mould is broken: the cubes stick, and water runs over them.",
        "1 broken",
        [("ice_maker", "", "harvest_whole", less())],
        {
            "harvest_heater_power": "down",
            "harvest_heater_resistance": "up",
            "cubes_made": "down",
            "spilled_water": "up",
        },
    ),
    fault(
        "frozen fill tube",
        "The fill tube's heater is broken: what stands in the tube freezes, and no water comes.",
        "1 broken",
        [("ice_maker", "", "tube_whole", less())],
        {
            "fill_tube_heater_resistance": "up",
            "fill_tube_temperature": "down",
            "fill_tube_ice": "up",
            "water_used": "down",
            "cubes_made": "down",
        },
    ),
    fault(
        "water valve dead",
        "The winding of the water valve is broken: no water comes though the valve is fed.",
        "1 broken",
        [("ice_maker", "", "valve_whole", less())],
        {"water_valve_resistance": "up", "water_used": "down", "cubes_made": "down"},
    ),
)
