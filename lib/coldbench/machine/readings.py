"""What could be read on a running machine: each reading's name, unit and the way to take it.

What is inside: one list of readings, made for a plant: thermometers, gauges, watt meter, tachometers,
voltmeter, ohmmeter, scale, and what the board believes. Taking a reading changes nothing.
"""

from __future__ import annotations

from coldbench.machine.description import Bulb
from coldbench.machine.plant import Plant
from coldbench.properties.refrigerant_polynomials import saturation_temperature_of_log

__all__ = ["readings"]

FAN_SUPPLY = 12.0  # [V], at full pulse width; a meter shows the average
LEAST_FLOW = 1e-6  # [kg/s]


def _of_circuit(circuit, mark, place):
    """Readings of one circuit; ``mark`` begins their names where a machine has two circuits."""
    table = circuit.table

    def liquid_line(plant):
        return circuit.condensing - circuit.subcooling

    def discharge_line(plant):
        op = plant.op
        flow = op.maximum(circuit.compressor_flow, LEAST_FLOW)
        enthalpy = circuit.vapor_outlet_enthalpy + (circuit.exchanged + circuit.gas_heat) / flow
        above = (enthalpy - circuit.high.vapor_enthalpy) / circuit.hot_vapor_heat_capacity
        hot = circuit.condensing + op.maximum(above, 0.0)
        running = circuit.compressor_flow > LEAST_FLOW
        return op.where(running, op.minimum(hot, 413.15), circuit.shell)

    def seen(side, floor=1000.0):
        def boiling_point(plant):
            op = plant.op
            return saturation_temperature_of_log(table, op.log(op.maximum(side().pressure, floor)))

        return boiling_point

    return [
        (f"{mark}suction_pressure", "Pa", lambda plant: circuit.low.pressure),
        (f"{mark}discharge_pressure", "Pa", lambda plant: circuit.high.pressure + circuit.air_pressure),
        (f"{mark}evaporating_temperature", "K", seen(lambda: circuit.low)),
        (f"{mark}condensing_temperature", "K", seen(lambda: circuit.high)),
        (f"{mark}superheat", "K", lambda plant: plant.op.maximum(circuit.superheat, 0.0)),
        (f"{mark}subcooling", "K", lambda plant: circuit.subcooling),
        (f"{mark}suction_line_temperature", "K", lambda plant: circuit.suction_line),
        (f"{mark}liquid_line_temperature", "K", liquid_line),
        (f"{mark}discharge_line_temperature", "K", discharge_line),
        (f"{mark}condenser_temperature", "K", lambda plant: circuit.condenser),
        (f"{mark}compressor_shell_temperature", "K", lambda plant: circuit.shell),
        (f"{mark}compressor_power", "W", lambda plant: circuit.power),
        (f"{mark}compressor_speed", "rev/s", lambda plant: plant.motors[place][0] * plant.motors[place][1]),
        (f"{mark}compressor_supplied", "-", lambda plant: plant.motors[place][2]),
        (f"{mark}refrigerant_flow", "kg/s", lambda plant: circuit.compressor_flow),
        (f"{mark}liquid_on_low_side", "kg", lambda plant: circuit.low.liquid),
    ]


def _of_coil(place, coil, fan, heater):
    """Readings of one coil, its fan and its heater."""
    name = coil.description.name

    def outlet(plant):
        part = plant.shares()[place]
        air = part * plant.boxes[0].air + (1 - part) * plant.boxes[1].air
        for zone in reversed(range(len(coil.metal))):
            air = air - coil.effectiveness[zone] * (air - coil.metal[zone])
        return air

    found = [
        (f"{name}_coil_inlet_temperature", "K", lambda plant: coil.metal[0]),
        (f"{name}_coil_outlet_temperature", "K", lambda plant: coil.metal[-1]),
        (f"{name}_coil_air_temperature", "K", outlet),
        (f"{name}_frost", "kg", lambda plant: sum(coil.frost)),
        (f"{name}_coil_water", "kg", lambda plant: sum(coil.water)),
        (f"{name}_drained_water", "kg", lambda plant: coil.drained),
        (f"{name}_air_flow", "kg/s", lambda plant: coil.air_flow),
        (f"{name}_fan_speed", "rev/s", lambda plant: plant.fan_speeds[place] * fan.full_speed),
        (f"{name}_fan_voltage", "V", lambda plant: plant.fan_duties[place] * FAN_SUPPLY),
    ]
    if heater is not None:
        found += [
            (f"{name}_heater_power", "W", lambda plant: plant.heater_powers[place]),
            (
                f"{name}_heater_resistance", "Ohm",
                lambda plant: heater.resistance / plant.op.maximum(heater.whole, 1e-9),
            ),
            (f"{name}_fuse_whole", "-", lambda plant: plant.fuses[place]),
        ]  # fmt: skip
    return found


def _of_box(box):
    name = box.description.name
    return [
        (f"{name}_air_temperature", "K", lambda plant: box.air),
        (f"{name}_liner_temperature", "K", lambda plant: box.liner),
        (f"{name}_food_temperature", "K", lambda plant: box.food),
        (f"{name}_humidity_ratio", "kg/kg", lambda plant: box.humidity_ratio),
    ]


def _of_ice_maker(ice):
    """Readings of an ice maker; its sensor is read with the machine's others."""
    of = ice.description

    def resistance(ohms, whole):
        return lambda plant: ohms / plant.op.maximum(whole, 1e-9)

    return [
        ("mould_temperature", "K", lambda plant: ice.mould.metal),
        ("water_in_mould", "kg", lambda plant: ice.mould.content.water),
        ("ice_in_mould", "kg", lambda plant: ice.mould.content.ice),
        ("ice_in_bin", "kg", lambda plant: ice.bin.ice),
        ("bin_temperature", "K", lambda plant: ice.bin.temperature),
        ("bin_lever_up", "-", lambda plant: ice.lever_up),
        ("cubes_made", "kg", lambda plant: ice.cubes_made),
        ("ice_taken", "kg", lambda plant: ice.taken),
        ("spilled_water", "kg", lambda plant: ice.spilled_water),
        ("harvest_heater_power", "W", lambda plant: ice.harvest_power),
        ("harvest_heater_resistance", "Ohm", resistance(of.harvest_resistance, of.harvest_whole)),
        ("sweep_supplied", "-", lambda plant: ice.outputs.sweep),
        ("water_valve_supplied", "-", lambda plant: ice.outputs.water_valve),
        ("water_valve_resistance", "Ohm", resistance(of.valve_resistance, of.valve_whole)),
        ("water_flow", "kg/s", lambda plant: ice.water_flow),
        ("water_used", "kg", lambda plant: ice.water_used),
        ("fill_tube_temperature", "K", lambda plant: ice.tube.temperature),
        ("fill_tube_ice", "kg", lambda plant: ice.tube.ice),
        ("fill_tube_heater_power", "W", lambda plant: ice.tube_power),
        ("fill_tube_heater_resistance", "Ohm", resistance(of.tube_resistance, of.tube_whole)),
    ]


def readings(plant: Plant):
    """List what could be read on this machine.

    Parameters: ``plant`` the machine at work.
    Returns: a list of (name, unit, function of the plant that takes the reading).
    Source: arrangement of this project.
    """
    machine = plant.machine
    found = []
    for box in plant.boxes:
        found += _of_box(box)
    for place, coil in enumerate(plant.coils):
        found += _of_coil(place, coil, machine.fans[place], machine.heaters[place])
    for place, circuit in enumerate(plant.circuits):
        mark = f"{circuit.description.name}_" if circuit.description.name else ""
        found += _of_circuit(circuit, mark, place)
    condenser_fan = machine.condenser_fan
    found += [
        ("condenser_fan_speed", "rev/s", lambda plant: plant.condenser_speed * condenser_fan.full_speed),
        (
            "condenser_fan_voltage", "V",
            lambda plant: plant.outputs.condenser_fan * condenser_fan.supplied * FAN_SUPPLY,
        ),
        ("room_temperature", "K", lambda plant: plant.room),
        ("power", "W", lambda plant: plant.power),
        ("energy", "J", lambda plant: plant.energy),
        ("heater_energy", "J", lambda plant: plant.heater_energy),
    ]  # fmt: skip
    if machine.damper_moves:
        found += [
            ("damper_position", "-", lambda plant: plant.damper),
            ("damper_command", "-", lambda plant: plant.outputs.damper),
        ]
    if machine.valve_moves:
        found += [
            ("valve_position", "-", lambda plant: plant.valve),
            ("valve_command", "-", lambda plant: plant.outputs.valve),
        ]
    if plant.ice_maker:
        found += _of_ice_maker(plant.ice_maker)
    for place, sensor in enumerate(machine.sensors):
        if isinstance(sensor, Bulb):
            found.append((f"{sensor.name}_felt", "K", lambda plant, name=sensor.name: plant.seen[name]))
            continue
        found += [
            (f"{sensor.name}_resistance", "Ohm", lambda plant, place=place: plant.ohms[place]),
            (f"{sensor.name}_believed", "K", lambda plant, name=sensor.name: plant.seen[name]),
        ]
    return found
