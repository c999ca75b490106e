"""A circuit in time uses the parts as they stand alone: each step's flows and heats are theirs."""

import pytest
from coldbench.machine import circuit_state
from coldbench.machine.coil_zones import CoilState, renew_air_side
from coldbench.machine.five import machine_named
from coldbench.machine.quick_operations import QUICK_FLOATS
from coldbench.parts import capillary, compressor, condenser, suction_line, switching_valve

ROOM, STEP = 298.15, 10.0


def running_circuit(valve=0.0, condenser_fan=1.0, steps=60):
    """A circuit of Valve that has run for minutes on coils kept at -20 °C, worked out for its next step."""
    machine = machine_named("Valve")
    of = machine.circuits[0]
    coils = [CoilState(coil, 253.15) for coil in machine.coils]
    for coil in coils:
        renew_air_side(QUICK_FLOATS, coil, 1.0)
    circuit = circuit_state.CircuitState(QUICK_FLOATS, of, "R-600a", coils, 250.0, ROOM)
    for _ in range(steps):
        prepare(circuit, valve, condenser_fan)
        factor, constant = circuit_state.line(QUICK_FLOATS, circuit, STEP)
        conductance = sum(coil.description.refrigerant_conductance for coil in coils)
        evaporating = (constant + conductance * 253.15) / (factor + conductance)
        heats = [coil.description.refrigerant_conductance * (253.15 - evaporating) for coil in coils]
        circuit_state.finish(QUICK_FLOATS, circuit, evaporating, heats, 1.0, valve, STEP)
    prepare(circuit, valve, condenser_fan)
    return circuit


def prepare(circuit, valve, condenser_fan, step=STEP):
    speed = circuit.description.full_speed
    circuit_state.prepare(QUICK_FLOATS, circuit, speed, 1.0, ROOM, condenser_fan, valve, step)


def test_the_condensers_metal_comes_to_rest_where_the_part_says():
    """In an endless step the heat given off is that of the two conductances in series."""
    circuit = running_circuit()
    of, high, warm = circuit.description, circuit.high, circuit.condensing
    prepare(circuit, 0.0, 0.5, step=1e12)
    metal = circuit.condenser_0 + circuit.condenser_1 * warm
    flooded = condenser.flooded_share(high.liquid, of.seal, of.high_volume, circuit.liquid_density)
    assert flooded > 0.0
    heat = condenser.condenser_heat(
        warm, ROOM, condenser.condensing_conductance(
            of.condenser_refrigerant_conductance, flooded, circuit.air_pressure, high.pressure
        ),
        (1 - flooded) * condenser.condenser_air_conductance(
            of.condenser_still_conductance, of.condenser_air_conductance, 0.5
        ),
    )  # fmt: skip
    assert circuit.condensing_conductance * (warm - metal) == pytest.approx(heat, rel=1e-9)


@pytest.mark.parametrize("valve", [0.0, 1.0])
def test_the_capillary_that_the_valve_feeds_lets_through_what_it_does_alone(valve):
    """With both sides wet the flow is that of the tube in use; the other one's differs by an eighth.

    To 5 %: the machine keeps the liquid's density at that of 12 °C, 8 % above the one at 45 °C.
    """
    circuit = running_circuit(valve)
    of = circuit.description
    assert circuit.low.two_phase == circuit.high.two_phase == 1.0
    alone = capillary.capillary_flow(
        "R-600a", of.capillary_diameter,
        switching_valve.capillary_length_in_use(valve, of.capillary_length, of.bypass_length),
        circuit.condensing, circuit.low.pressure, circuit.subcooling,
    )  # fmt: skip
    assert circuit.capillary_flow == pytest.approx(alone, rel=0.05)


def test_the_compressor_draws_what_it_does_alone():
    """With liquid on the low side the flow is that of displacement, speed, suction density and ratio."""
    circuit = running_circuit()
    of, low = circuit.description, circuit.low
    assert low.two_phase == 1.0
    density = low.pressure / circuit.pressure_over_density
    alone = compressor.compressor_flow(
        of.displacement, of.full_speed, density, circuit.high.pressure / low.pressure
    )
    assert circuit.compressor_flow == pytest.approx(alone, rel=1e-9)


def test_the_suction_line_takes_what_it_does_alone():
    """The heat exchanged is the part's, and warms the vapour by as much."""
    circuit = running_circuit()
    leaving = circuit.evaporating + max(circuit.superheat, 0.0)
    alone = suction_line.suction_line_exchange(
        circuit.description.exchange, circuit.condensing - circuit.subcooling, leaving,
        circuit.vapor_heat_capacity,
    )  # fmt: skip
    assert circuit.exchanged == pytest.approx(circuit.compressor_flow * alone)
    assert circuit.suction_line - leaving == pytest.approx(alone / circuit.vapor_heat_capacity, abs=1.0)


def test_past_the_first_coil_nothing_reaches_it():
    """With the valve on the last coil alone the first one boils dry, and the last one holds the liquid."""
    series, bypassed = running_circuit(0.0), running_circuit(1.0)
    assert series.coils[0].liquid > 0.001
    assert bypassed.coils[0].liquid == pytest.approx(0.0, abs=1e-6)
    assert bypassed.coils[-1].liquid > 0.001
