"""Series: two coils one after the other on one circuit, no valve, each with a fan of its own.

The freezer's sensor calls the compressor; the fresh-food sensor calls the fresh-food fan. Refrigerant
meets the fresh-food coil first. An ice maker in the freezer has a board of its own. Invented machine of 470
litres.
"""

from __future__ import annotations

from coldbench.control.boards_for_two_coils import SeriesBoard
from coldbench.machine.common import (
    BOXES,
    CONDENSER_FAN,
    DEFROST_SENSOR,
    FREEZER_COIL,
    FREEZER_FAN,
    FREEZER_SENSOR,
    FRESH_FOOD_COIL,
    FRESH_FOOD_FAN,
    FRESH_FOOD_SENSOR,
    HEATER,
    MOULD_SENSOR,
    ROOM_SENSOR,
    built_for,
)
from coldbench.machine.description import Circuit, Machine
from coldbench.machine.ice_maker import IceMaker

__all__ = ["series"]

CIRCUIT = Circuit(
    "", (0, 1), charge=0.050, displacement=9.0e-6, capillary_diameter=0.66e-3, capillary_length=2.9
)


def series(refrigerant: str = "R-600a") -> Machine:
    """Describe the machine Series.

    Parameters: ``refrigerant`` "R-600a" or "R-134a".
    Returns: its parts and its board.
    Source: invented for this course.
    """
    circuits, coils = built_for(refrigerant, (CIRCUIT,), (FRESH_FOOD_COIL, FREEZER_COIL))
    return Machine(
        name="Series",
        refrigerant=refrigerant,
        circuits=circuits,
        coils=coils,
        fans=(FRESH_FOOD_FAN, FREEZER_FAN),
        condenser_fan=CONDENSER_FAN,
        heaters=(None, HEATER),
        boxes=BOXES,
        sensors=(FRESH_FOOD_SENSOR, FREEZER_SENSOR, DEFROST_SENSOR, ROOM_SENSOR, MOULD_SENSOR),
        board=SeriesBoard(),
        ice_maker=IceMaker(),
    )
