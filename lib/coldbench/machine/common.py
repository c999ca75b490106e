"""What several of the machines share: two boxes, sensors, a coil for each box, and the change to R-134a.

Sizes are invented, after a study of this project, and tuned there; none was measured.
"""

from __future__ import annotations

from dataclasses import replace

from coldbench.machine.description import Box, Circuit, Coil, Fan, Heater, Sensor

__all__: list[str] = []

FRESH_FOOD_COIL = Coil(
    "fresh_food", heat_capacity=600.0, air_conductance=13.0, rated_air_flow=0.011, still_conductance=0.25,
    refrigerant_conductance=40.0, vapor_conductance=4.0, holding=0.012, area=0.9, free_volume=0.0029,
    retained_water=0.03, fresh_food_share=1.0,
)  # fmt: skip
FREEZER_COIL = Coil(
    "freezer", heat_capacity=900.0, air_conductance=22.0, rated_air_flow=0.018, still_conductance=0.35,
    refrigerant_conductance=50.0, vapor_conductance=5.0, holding=0.016, area=1.4, free_volume=0.0029,
    retained_water=0.04, fresh_food_share=0.0,
)  # fmt: skip
BOXES = (
    Box(
        "fresh_food", volume=0.33, air_capacity=700.0, liner_capacity=25e3, liner_conductance=14.0,
        wall_conductance=1.20, food_capacity=60e3, food_conductance=4.0, food_latent_heat=4e6,
        door_width=0.65, door_height=1.0,
    ),
    Box(
        "freezer", volume=0.14, air_capacity=450.0, liner_capacity=14e3, liner_conductance=9.0,
        wall_conductance=0.62, food_capacity=25e3, food_conductance=3.0, food_latent_heat=2.6e6,
        door_width=0.65, door_height=0.6,
    ),
)  # fmt: skip
FRESH_FOOD_FAN, FREEZER_FAN = Fan("fresh_food", 40.0, 2.0), Fan("freezer", 40.0, 2.5)
CONDENSER_FAN = Fan("condenser", 20.0, 3.0)
HEATER = Heater(resistance=55.0)
FRESH_FOOD_SENSOR = Sensor(
    "fresh_food_sensor", "fresh_food_air_temperature", "fresh_food_coil_outlet_temperature"
)
FREEZER_SENSOR = Sensor("freezer_sensor", "freezer_air_temperature", "freezer_coil_outlet_temperature")
DEFROST_SENSOR = Sensor(
    "defrost_sensor", "freezer_coil_outlet_temperature", "freezer_air_temperature", lag=30.0
)
MOULD_SENSOR = Sensor("mould_sensor", "mould_temperature", "freezer_air_temperature", lag=20.0)
ROOM_SENSOR = Sensor("room_sensor", "room_temperature", "room_temperature", lag=60.0)
FRESH_FOOD_COIL_SENSOR = Sensor(
    "fresh_food_coil_sensor", "fresh_food_coil_inlet_temperature", "fresh_food_air_temperature", lag=30.0
)


def built_for(refrigerant: str, circuits: tuple[Circuit, ...], coils: tuple[Coil, ...]):
    """Build circuits and coils, described for R-600a, for a refrigerant.

    R-134a needs half the displacement (its vapour is some twice as dense), a thinner capillary, and 2.25
    times the liquid in the same coils: the ratio of the liquids' densities.
    """
    if refrigerant != "R-134a":
        return circuits, coils
    heavier = 2.25
    return (
        tuple(
            replace(
                circuit,
                charge=circuit.charge * 2.3,
                displacement=circuit.displacement * 0.5,
                capillary_diameter=circuit.capillary_diameter * 0.91,
                capillary_length=circuit.capillary_length * 1.07,
                bypass_length=circuit.bypass_length * 1.07,
                seal=circuit.seal * heavier,
                accumulator=circuit.accumulator * heavier,
            )
            for circuit in circuits
        ),
        tuple(replace(coil, holding=coil.holding * heavier) for coil in coils),
    )
