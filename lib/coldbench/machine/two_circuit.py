"""Two-circuit: two compressors, two sealed circuits; each box has its own.

The fresh-food circuit runs warm, its coil a few kelvin below freezing, and has no heater: its fan blows on
after each run until the coil's sensor is warm.
"""

from __future__ import annotations

from coldbench.control.boards_for_two_coils import TwoCircuitBoard
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

__all__ = ["two_circuit"]

FRESH_FOOD_CIRCUIT = Circuit(
    "fresh_food", (0,), charge=0.027, displacement=2.4e-6, capillary_diameter=0.54e-3, capillary_length=2.9,
    low_volume=0.0012, high_volume=0.00015, accumulator=0.006, seal=0.004, idle_power=5.0, efficiency=0.55,
    condenser_air_conductance=6.0, condenser_still_conductance=2.0, condenser_refrigerant_conductance=30.0,
    condenser_capacity=1800.0, shell_capacity=4000.0,
)  # fmt: skip
FREEZER_CIRCUIT = Circuit(
    "freezer", (1,), charge=0.034, displacement=6.0e-6, capillary_diameter=0.57e-3, capillary_length=2.9,
    low_volume=0.0016, high_volume=0.00018, accumulator=0.007, seal=0.005, idle_power=7.0,
    condenser_air_conductance=6.5, condenser_still_conductance=2.2, condenser_refrigerant_conductance=35.0,
    condenser_capacity=2200.0,
)  # fmt: skip


def two_circuit(refrigerant: str = "R-600a") -> Machine:
    """Describe the machine Two-circuit.

    Parameters: ``refrigerant`` "R-600a" or "R-134a".
    Returns: its parts and its board.
    Source: invented for this course.
    """
    circuits, coils = built_for(
        refrigerant, (FRESH_FOOD_CIRCUIT, FREEZER_CIRCUIT), (FRESH_FOOD_COIL, FREEZER_COIL)
    )
    return Machine(
        name="Two-circuit",
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
        board=TwoCircuitBoard(),
    )
