"""Series: two coils one after the other on one circuit, no valve, each with a fan of its own.

The freezer's sensor calls the compressor; the fresh-food sensor calls the fresh-food fan. Invented machine of
470 litres; sizes after a study of this project and tuned there, none measured.
"""

from __future__ import annotations

from dataclasses import replace

from coldbench.control.boards import SeriesBoard
from coldbench.machine.description import Box, Circuit, Coil, Fan, Heater, Machine, Sensor

__all__ = ["series"]

FRESH_FOOD_COIL = Coil(
    "fresh_food", heat_capacity=600.0, air_conductance=13.0, rated_air_flow=0.011, still_conductance=0.25,
    refrigerant_conductance=40.0, vapor_conductance=4.0, holding=0.012, area=0.9, free_volume=0.0029,
    retained_water=0.08, fresh_food_share=1.0,
)  # fmt: skip
FREEZER_COIL = Coil(
    "freezer", heat_capacity=900.0, air_conductance=22.0, rated_air_flow=0.018, still_conductance=0.35,
    refrigerant_conductance=50.0, vapor_conductance=5.0, holding=0.016, area=1.4, free_volume=0.0029,
    retained_water=0.10, fresh_food_share=0.0,
)  # fmt: skip
FRESH_FOOD = Box(
    "fresh_food", volume=0.33, air_capacity=700.0, liner_capacity=25e3, liner_conductance=14.0,
    wall_conductance=1.20, food_capacity=60e3, food_conductance=4.0, food_latent_heat=4e6, door_width=0.65,
    door_height=1.0,
)  # fmt: skip
FREEZER = Box(
    "freezer", volume=0.14, air_capacity=450.0, liner_capacity=14e3, liner_conductance=9.0,
    wall_conductance=0.62, food_capacity=25e3, food_conductance=3.0, food_latent_heat=2.6e6, door_width=0.65,
    door_height=0.6,
)  # fmt: skip
CIRCUITS = {
    "R-600a": Circuit(
        "", (0, 1), charge=0.050, displacement=9.0e-6, capillary_diameter=0.66e-3, capillary_length=2.6
    ),
    "R-134a": Circuit(
        "", (0, 1), charge=0.115, displacement=4.5e-6, capillary_diameter=0.60e-3, capillary_length=2.8
    ),
}
# The denser liquid of R-134a: more of it in the same volumes.
R_134A = {"seal": 0.013, "accumulator": 0.023}
LIQUID_OF_R_134A = 2.25  # [-], mass that wets a coil over that of R-600a: the ratio of the liquids' densities


def series(refrigerant: str = "R-600a") -> Machine:
    """Describe the machine Series.

    Parameters
    ----------
    refrigerant : str
        "R-600a" or "R-134a"

    Returns
    -------
    Machine
        Its parts and its board

    Source
    ------
    Invented for this course.
    """
    circuit = CIRCUITS[refrigerant]
    coils = FRESH_FOOD_COIL, FREEZER_COIL
    if refrigerant == "R-134a":
        circuit = replace(circuit, **R_134A)
        coils = tuple(replace(coil, holding=coil.holding * LIQUID_OF_R_134A) for coil in coils)
    return Machine(
        name="Series",
        refrigerant=refrigerant,
        circuits=(circuit,),
        coils=coils,
        fans=(Fan("fresh_food", 40.0, 2.0), Fan("freezer", 40.0, 2.5)),
        condenser_fan=Fan("condenser", 20.0, 3.0),
        heaters=(None, Heater(resistance=55.0)),
        boxes=(FRESH_FOOD, FREEZER),
        sensors=(
            Sensor("fresh_food_sensor", "fresh_food_air_temperature", "fresh_food_coil_temperature"),
            Sensor("freezer_sensor", "freezer_air_temperature", "freezer_coil_temperature"),
            Sensor("defrost_sensor", "freezer_coil_temperature", "freezer_air_temperature", lag=30.0),
            Sensor("room_sensor", "room_temperature", "room_temperature", lag=60.0),
        ),
        board=SeriesBoard(),
    )
