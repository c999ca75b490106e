"""The one glossary: each word for a quantity, its unit inside the package, and what it means in the shop.

The same word is used for the same thing everywhere: as a parameter, in an error's sentence (with spaces for
the underscores), in lessons and in homework. Units are the SI ones used inside; what a gauge or a meter
shows is converted at the door, in `coldbench.units`.
"""

from __future__ import annotations

from typing import NamedTuple


class Word(NamedTuple):
    """What a word of the glossary says.

    Attributes
    ----------
    unit : str
        SI unit used inside the package; "-" for a number without one
    meaning : str
        One sentence in trade words
    """

    unit: str
    meaning: str


_PRESSURES_AND_TEMPERATURES = {
    "air_temperature": Word("K", "Temperature of the air around a part."),
    "altitude": Word("m", "Height above sea level; the higher, the lower the atmosphere's pressure."),
    "atmospheric_pressure": Word("Pa", "Pressure of the air around us, from which a gauge counts."),
    "condensing_temperature": Word("K", "Temperature at which refrigerant turns liquid in the condenser."),
    "discharge_pressure": Word("Pa", "Absolute pressure on the high side, where the compressor pushes."),
    "evaporating_temperature": Word("K", "Temperature at which refrigerant boils in the coil."),
    "gauge_pressure": Word("Pa", "Pressure above that of the atmosphere, as a gauge shows it."),
    "line_temperature": Word("K", "Temperature of a pipe, felt by a clamp on its outside."),
    "pressure": Word("Pa", "Absolute pressure, counted from empty space, unless a word before says else."),
    "saturation_pressure": Word("Pa", "Absolute pressure at which liquid and vapour stand side by side."),
    "saturation_temperature": Word("K", "Temperature at which a liquid boils and its vapour condenses."),
    "log_pressure": Word("-", "Natural logarithm of an absolute pressure in pascals."),
    "subcooling": Word("K", "How much colder liquid is than it would boil at its pressure."),
    "suction_pressure": Word("Pa", "Absolute pressure on the low side, where the compressor draws."),
    "superheat": Word("K", "How much warmer vapour is than it would boil at its pressure."),
    "surface_temperature": Word("K", "Temperature of the metal or wall that a sensor is clamped to."),
    "temperature": Word("K", "How warm a thing is, counted from absolute zero."),
    "temperatures": Word("K", "Several temperatures, one for each reading."),
    "vacuum": Word("Pa", "How far a pressure lies below that of the atmosphere."),
}

_REFRIGERANT = {
    "coefficients": Word("of the quantity", "Numbers of a polynomial, the highest power first."),
    "critical_pressure": Word("Pa", "Pressure above which liquid and vapour are one and the same."),
    "critical_temperature": Word("K", "Temperature above which no pressure makes a vapour liquid."),
    "density": Word("kg/m3", "Mass in each cubic metre."),
    "enthalpy": Word("J/kg", "Heat content of each kilogram, counted from an agreed state."),
    "entropy": Word("J/(kg K)", "What stays the same when vapour is compressed without loss or heat."),
    "latent_heat": Word("J/kg", "Heat that turns a kilogram of liquid to vapour at one temperature."),
    "line": Word("of the quantity", "Polynomial of one quantity along the saturation line."),
    "molar_mass": Word("kg/mol", "Mass of a mole of a substance."),
    "plane": Word("of the quantity per K", "Polynomials of what superheat adds to a quantity."),
    "refrigerant": Word("-", "Name of what circulates in the machine, such as R-600a."),
    "speed_of_sound": Word("m/s", "How fast a pressure wave runs through a vapour."),
    "table": Word("SI units", "The stored numbers of one refrigerant."),
    "x": Word("-", "Variable of a polynomial, scaled to lie from -1 to 1."),
}

_MOIST_AIR = {
    "dew_point": Word("K", "Temperature of a surface on which air begins to leave dew, or frost below 0 °C."),
    "humidity_ratio": Word("kg/kg", "Kilograms of water vapour that go with each kilogram of dry air."),
    "relative_humidity": Word("-", "Share of the vapour that air can hold at its temperature, 0 to 1."),
    "specific_volume": Word("m3/kg", "Room that moist air takes up for each kilogram of dry air in it."),
    "vapor_pressure": Word("Pa", "Part of the air's pressure that its water vapour carries."),
    "wet_bulb": Word("K", "Temperature to which a wet wick cools itself in the air."),
    "wet_bulb_depression": Word("K", "How much colder a wet wick is than the air around it."),
}

_SENSORS = {
    "a": Word("1/K", "First coefficient of a Steinhart-Hart curve, for resistance in ohms."),
    "b": Word("1/K", "Second coefficient of a Steinhart-Hart curve: its slope along the logarithm of ohms."),
    "beta": Word("K", "The B of a thermistor: how steeply its ohms fall as it warms."),
    "beta_tolerance": Word("-", "How far B may be off the print, as a fraction."),
    "bits": Word("-", "Width of a board's converter: ten bits count from 0 to 1023."),
    "c": Word("1/K", "Third coefficient of a Steinhart-Hart curve: its bend."),
    "contact": Word("-", "How well a sensor is held to its surface: 1 clamped, 0 hanging in the air."),
    "counts": Word("-", "Whole number that a board's converter makes of a voltage."),
    "dissipation_constant": Word("W/K", "Heat a sensor gives off for each kelvin above its surroundings."),
    "drift": Word("-", "Factor by which a sensor's ohms have moved from its curve; 1 is a sound sensor."),
    "first_resistance": Word("Ohm", "Ohms of the first of two readings."),
    "first_temperature": Word("K", "Temperature of the first of two readings."),
    "leak_resistance": Word("Ohm", "Path beside the sensor: water in a connector, or a short."),
    "pull_up_resistance": Word("Ohm", "Fixed resistor on the board from the supply to the sensor's pin."),
    "pull_up_tolerance": Word("-", "How far the pull-up's ohms may be off the print, as a fraction."),
    "resistance": Word("Ohm", "What a meter shows across a part that is unplugged and without power."),
    "resistance_25": Word("Ohm", "Resistance of a thermistor at 25 °C, its nominal value."),
    "resistance_tolerance": Word(
        "-", "How far a sensor's ohms at 25 °C may be off the print, as a fraction."
    ),
    "resistances": Word("Ohm", "Several resistances, one for each reading."),
    "second_resistance": Word("Ohm", "Ohms of the second of two readings."),
    "second_temperature": Word("K", "Temperature of the second of two readings."),
    "self_heating": Word("K", "How much warmer the measuring current makes a sensor than its surroundings."),
    "series_resistance": Word(
        "Ohm", "Resistance in wires and contacts on the way; endless in a broken wire."
    ),
    "supply_voltage": Word("V", "Voltage that a board's divider is fed with, a few volts."),
    "voltage": Word("V", "What a meter shows between two points of a circuit with power on."),
}

_WATER_AND_FOOD = {
    "blown_conductance": Word("W/K", "Heat from air to a mould for each kelvin, with the fan at full speed."),
    "contact_conductance": Word("W/K", "Heat from a mould's metal to what lies in it, for each kelvin."),
    "dry_air_flow": Word("kg/s", "Kilograms of air that pass each second, their water vapour left out."),
    "entering_humidity_ratio": Word("kg/kg", "Humidity ratio of the air that comes to a coil."),
    "food": Word("-", "A food: its name, or its thermal data."),
    "freezing_temperature": Word("K", "Temperature at which the first ice forms."),
    "heat": Word("J", "Energy that flows because one thing is warmer than another."),
    "ice_mass": Word("kg", "How much ice there is."),
    "ice_share": Word("-", "Part of the water that is ice, 0 to 1."),
    "known_shelf_life": Word("s", "How long a food keeps at a temperature at which that is known."),
    "known_temperature": Word("K", "Temperature at which a shelf life is known."),
    "latent_heat_of_fusion": Word("J/kg", "Heat that freezing a kilogram sets free and melting takes up."),
    "layer_resistance": Word("K/W", "Kelvin for each watt through the ice in a mould once all is frozen."),
    "leaving_humidity_ratio": Word("kg/kg", "Humidity ratio of the air that leaves a coil."),
    "mass": Word("kg", "How much there is of a thing, as scales show it."),
    "metal_capacity": Word("J/K", "Heat that warms the metal of a part by a kelvin."),
    "mould_temperature": Word("K", "Temperature of an ice mould's metal, where its sensor sits."),
    "no_growth_temperature": Word("K", "Temperature at which the bacteria of a model stop growing."),
    "relative_air_flow": Word("-", "Air flow over that of the full fan and a bare coil."),
    "sensitivity": Word("1/K", "By what share a rate grows for each kelvin."),
    "shape": Word("-", "Whether a body is a slab, a cylinder or a sphere."),
    "still_conductance": Word(
        "W/K", "Heat from air to a mould or a coil for each kelvin, with the fan at rest."
    ),
    "water_fraction": Word("-", "Share of a food's mass that is water, 0 to 1."),
    "water_mass": Word("kg", "How much liquid water there is."),
    "water_temperature": Word("K", "Temperature at which the household's water arrives."),
}

_HEAT_PATHS = {
    "area": Word("m2", "Surface that heat passes or frost lies on."),
    "cold_temperature": Word("K", "Temperature on the side to which heat flows."),
    "conductance": Word("W/K", "Heat that passes a wall or a coil for each kelvin of difference."),
    "conductivity": Word("W/(m K)", "How well a material carries heat."),
    "heat_flow": Word("W", "Heat that passes each second."),
    "heat_transfer_coefficient": Word(
        "W/(m2 K)", "Heat that a square metre of surface passes for each kelvin."
    ),
    "thickness": Word("m", "How thick a wall, a layer or a body is."),
    "warm_temperature": Word("K", "Temperature on the side from which heat flows."),
}

_HEATERS_AND_FANS = {
    "blocked_pressure": Word("Pa", "Pressure of a fan against a closed end."),
    "contact_position": Word(
        "-", "Where a heater's wire touches the cabinet: 0 at its first leg, 1 at its second."
    ),
    "contact_resistance": Word(
        "Ohm", "Resistance where a heater's wire touches the cabinet; endless in a sound one."
    ),
    "duration": Word("s", "How long something was watched or counted."),
    "duty": Word("-", "Share of the time that a part is switched on, 0 to 1."),
    "earth_resistance": Word(
        "Ohm", "Resistance from the cabinet's metal to earth; endless without an earth wire."
    ),
    "fan_pressure": Word("Pa", "How much a fan raises the pressure of the air."),
    "fan_speed_share": Word("-", "Speed of a fan over its full speed."),
    "first_leg_resistance": Word(
        "Ohm", "Fuse, contact and wires of a heater's first leg; endless when open."
    ),
    "first_leg_voltage": Word(
        "V", "Voltage of a heater's first leg to earth: that of the mains if it is hot."
    ),
    "flow": Word("m3/s", "Air that a fan moves each second, as a volume."),
    "flow_share": Word("-", "Flow over the flow that something was rated at."),
    "free_flow": Word("m3/s", "Flow of a fan that blows against nothing."),
    "narrowing": Word("-", "Resistance of a piece of the air's way over what it was."),
    "new_speed": Word("rev/s", "Speed after a change."),
    "on_time": Word("s", "Length of one pulse."),
    "opening_temperature": Word("K", "Temperature at which a thermal fuse opens for ever."),
    "path_resistance": Word("Pa s2/m6", "Pressure that a way takes, over the square of the flow through it."),
    "path_share": Word("-", "Part of one piece in all that takes a fan's pressure."),
    "period": Word("s", "Time from the start of one pulse to the start of the next."),
    "power": Word("W", "Energy that a part takes up each second."),
    "pulse_voltage": Word("V", "Voltage of a pulsed supply while a pulse is on."),
    "pulses": Word("-", "Number of pulses counted on a fan's tach wire."),
    "pulses_per_turn": Word("-", "Pulses that a fan gives for each turn of its shaft."),
    "second_leg_resistance": Word(
        "Ohm", "Fuse, contact and wires of a heater's second leg; endless when open."
    ),
    "second_leg_voltage": Word("V", "Voltage of a heater's second leg to earth: zero if it is the neutral."),
    "speed": Word("rev/s", "Turns of a shaft each second."),
    "warmest_temperature": Word("K", "Highest temperature that a part has ever had."),
}

_PARTS_OF_THE_CIRCUIT = {
    "air_conductance": Word(
        "W/K", "Heat that air takes from a condenser's metal for each kelvin, the fan at full speed."
    ),
    "air_flow": Word("kg/s", "Dry air that a fan moves through a coil."),
    "air_mass": Word("kg", "Air that has got into a circuit."),
    "air_pressure": Word("Pa", "Part of a pressure that air carries which has got into a circuit."),
    "bypass_length": Word("m", "Length of the capillary straight to the last coil."),
    "coil_liquid": Word("kg", "Liquid refrigerant in a coil."),
    "commanded_position": Word("-", "Where a board sends a damper or a valve, 0 to 1."),
    "condenser_liquid": Word("kg", "Liquid that stands in the condenser."),
    "condenser_volume": Word("m3", "Space inside the condenser."),
    "damper_leak": Word("-", "Part of the air that passes a damper although it is shut."),
    "damper_position": Word("-", "How far a damper is open, 0 to 1."),
    "diameter": Word("m", "Inner diameter of a tube."),
    "displacement": Word("m3", "Volume that a compressor sweeps in a turn."),
    "door_height": Word("m", "Height of a door's opening."),
    "door_width": Word("m", "Width of a door's opening."),
    "efficiency": Word("-", "Part of the electric power that ends as the work one wants."),
    "exchange": Word("-", "Heat that a suction-line exchanger passes over the most that it could."),
    "flooded_share": Word("-", "Part of a condenser that liquid fills."),
    "free_volume": Word("m3", "Space between the fins of a bare coil, which frost can fill."),
    "fresh_food_share": Word(
        "-", "Part of a coil's air that goes to the fresh-food box when the way is open."
    ),
    "frost_mass": Word("kg", "Frost on a coil."),
    "heat_capacity": Word("J/K", "Heat that warms a thing by a kelvin."),
    "holding": Word("kg", "Liquid refrigerant that wets a coil throughout."),
    "idle_power": Word("W", "Power of a motor that turns without moving anything."),
    "inside_temperature": Word("K", "Temperature of the air in the box."),
    "length": Word("m", "Length of a tube."),
    "liquid_density": Word("kg/m3", "Density of saturated liquid."),
    "liquid_heat_capacity": Word("J/(kg K)", "Heat that warms a kilogram of liquid by a kelvin."),
    "mass_flow": Word("kg/s", "Refrigerant that passes in a second."),
    "open_before": Word("-", "Whether a protector was open a moment ago, 1 or 0."),
    "outlet_pressure": Word("Pa", "Absolute pressure at the end of a tube."),
    "outside_conductance": Word("W/K", "Heat that passes from the air to a coil's metal for each kelvin."),
    "outside_temperature": Word("K", "Temperature of the room's air."),
    "pressure_ratio": Word("-", "Discharge over suction pressure, both absolute."),
    "protector_temperature": Word("K", "Temperature of the switch that protects a compressor's motor."),
    "quality": Word("-", "Part of a mixture of liquid and vapour that is vapour."),
    "refrigerant_conductance": Word("W/K", "Heat that passes between refrigerant and metal for each kelvin."),
    "seal": Word("kg", "Liquid that must stand at a condenser's end so that no vapour gets past."),
    "shell_heat": Word("W", "Part of a compressor's power that warms its shell."),
    "shell_temperature": Word("K", "Temperature of a compressor's shell."),
    "still_conductance": Word("W/K", "Heat that air takes for each kelvin while the fan stands still."),
    "stuck_position": Word("-", "Where a damper or a valve is stuck, 0 to 1; -1 where it moves."),
    "valve_position": Word(
        "-", "Where a switching valve stands: 0 all coils in series, 1 the last one alone."
    ),
    "vapor_density": Word("kg/m3", "Density of saturated vapour."),
    "vapor_heat_capacity": Word("J/(kg K)", "Heat that warms a kilogram of vapour by a kelvin."),
    "vapor_temperature": Word("K", "Temperature of vapour in a tube."),
    "wet_share": Word("-", "Part of a coil that liquid refrigerant wets."),
    "work": Word("J/kg", "What compressing a kilogram takes."),
}

GLOSSARY: dict[str, Word] = {
    **_PRESSURES_AND_TEMPERATURES,
    **_REFRIGERANT,
    **_MOIST_AIR,
    **_SENSORS,
    **_WATER_AND_FOOD,
    **_HEAT_PATHS,
    **_HEATERS_AND_FANS,
    **_PARTS_OF_THE_CIRCUIT,
}
