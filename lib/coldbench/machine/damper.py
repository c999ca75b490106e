"""Damper: one coil and one fan in the freezer; a damper lets part of the cold air up to the fresh food.

The two airs mix again before the coil, which takes the moisture of both boxes.
"""

from __future__ import annotations

from dataclasses import replace

from coldbench.control.boards_for_one_coil import DamperBoard
from coldbench.machine.common import (
    BOXES,
    CONDENSER_FAN,
    DEFROST_SENSOR,
    FREEZER_COIL,
    FREEZER_FAN,
    FREEZER_SENSOR,
    FRESH_FOOD_SENSOR,
    HEATER,
    ROOM_SENSOR,
    built_for,
)
from coldbench.machine.description import Circuit, Machine

__all__ = ["damper"]

COIL = replace(
    FREEZER_COIL, heat_capacity=1200.0, air_conductance=30.0, rated_air_flow=0.022,
    refrigerant_conductance=70.0, holding=0.024, area=2.0, free_volume=0.0042, fresh_food_share=0.15,
)  # fmt: skip
# There is no fresh-food coil onto which it could fall: it hangs in the freezer's duct.
DUCT_SENSOR = replace(FRESH_FOOD_SENSOR, fallen_to="freezer_coil_outlet_temperature")
CIRCUIT = Circuit(
    "", (0,), charge=0.046, displacement=9.0e-6, capillary_diameter=0.66e-3, capillary_length=2.9
)


def damper(refrigerant: str = "R-600a") -> Machine:
    """Describe the machine Damper.

    Parameters: ``refrigerant`` "R-600a" or "R-134a".
    Returns: its parts and its board.
    Source: invented for this course.
    """
    circuits, coils = built_for(refrigerant, (CIRCUIT,), (COIL,))
    return Machine(
        name="Damper",
        refrigerant=refrigerant,
        circuits=circuits,
        coils=coils,
        fans=(FREEZER_FAN,),
        condenser_fan=CONDENSER_FAN,
        heaters=(HEATER,),
        boxes=BOXES,
        sensors=(DUCT_SENSOR, FREEZER_SENSOR, DEFROST_SENSOR, ROOM_SENSOR),
        board=DamperBoard(),
        damper_moves=True,
    )
