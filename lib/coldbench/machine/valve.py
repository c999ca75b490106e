"""Valve: one compressor, two coils; a switching valve feeds both in series or the freezer's alone.

While the fresh-food box calls, refrigerant goes through its coil first and then through the freezer's; else a
second capillary leads straight to the freezer's coil. The fresh-food coil has no heater: its fan blows on
after cooling until its sensor is warm, and the frost is gone.
"""

from __future__ import annotations

from coldbench.control.boards_for_two_coils import ValveBoard
from coldbench.machine.common import (
    BOXES,
    CONDENSER_FAN,
    DEFROST_SENSOR,
    FREEZER_COIL,
    FREEZER_FAN,
    FREEZER_SENSOR,
    FRESH_FOOD_COIL,
    FRESH_FOOD_COIL_SENSOR,
    FRESH_FOOD_FAN,
    FRESH_FOOD_SENSOR,
    HEATER,
    ROOM_SENSOR,
    built_for,
)
from coldbench.machine.description import Circuit, Machine

__all__ = ["valve"]

CIRCUIT = Circuit(
    "", (0, 1), charge=0.052, displacement=9.0e-6, capillary_diameter=0.66e-3, capillary_length=2.6,
    bypass_length=3.4,
)  # fmt: skip


def valve(refrigerant: str = "R-600a") -> Machine:
    """Describe the machine Valve.

    Parameters: ``refrigerant`` "R-600a" or "R-134a".
    Returns: its parts and its board.
    Source: invented for this course.
    """
    circuits, coils = built_for(refrigerant, (CIRCUIT,), (FRESH_FOOD_COIL, FREEZER_COIL))
    return Machine(
        name="Valve",
        refrigerant=refrigerant,
        circuits=circuits,
        coils=coils,
        fans=(FRESH_FOOD_FAN, FREEZER_FAN),
        condenser_fan=CONDENSER_FAN,
        heaters=(None, HEATER),
        boxes=BOXES,
        sensors=(
            FRESH_FOOD_SENSOR,
            FREEZER_SENSOR,
            DEFROST_SENSOR,
            FRESH_FOOD_COIL_SENSOR,
            ROOM_SENSOR,
        ),
        board=ValveBoard(),
        valve_moves=True,
    )
