"""Thermostat: old style; one mechanical thermostat in the freezer switches everything.

One coil and one fan; a fixed bleed of air, never moved, cools the fresh food: it follows the room, for nobody
asks it. A timer and a bimetal switch defrost.
"""

from __future__ import annotations

from dataclasses import replace

from coldbench.control.boards_for_one_coil import ThermostatBoard
from coldbench.machine.common import (
    BOXES,
    CONDENSER_FAN,
    FREEZER_COIL,
    FREEZER_FAN,
    HEATER,
    built_for,
)
from coldbench.machine.description import Bulb, Circuit, Machine

__all__ = ["thermostat"]

COIL = replace(FREEZER_COIL, air_conductance=26.0, fresh_food_share=0.083)
CIRCUIT = Circuit(
    "", (0,), charge=0.038, displacement=9.0e-6, capillary_diameter=0.66e-3, capillary_length=2.9
)
BULB = Bulb("freezer_bulb", "freezer_air_temperature", lag=180.0)
BIMETAL = Bulb("defrost_bimetal", "freezer_coil_outlet_temperature", lag=45.0)


def thermostat(refrigerant: str = "R-600a") -> Machine:
    """Describe the machine Thermostat.

    Parameters: ``refrigerant`` "R-600a" or "R-134a".
    Returns: its parts and its board.
    Source: invented for this course.
    """
    circuits, coils = built_for(refrigerant, (CIRCUIT,), (COIL,))
    return Machine(
        name="Thermostat",
        refrigerant=refrigerant,
        circuits=circuits,
        coils=coils,
        fans=(FREEZER_FAN,),
        condenser_fan=CONDENSER_FAN,
        heaters=(HEATER,),
        boxes=BOXES,
        sensors=(BULB, BIMETAL),
        board=ThermostatBoard(),
    )
