"""Damper, valve, fans, heater and protector in a machine at work do what they do alone."""

import pytest
from coldbench.machine.faults import apply_faults
from coldbench.machine.five import machine_named
from coldbench.machine.plant import BOARD_PERIOD, Plant
from coldbench.machine.quick_operations import QUICK_FLOATS
from coldbench.parts import overload_protector
from coldbench.parts.damper import damper_air_share
from coldbench.parts.fan_laws import power_at_speed
from coldbench.parts.heater import heater_power


def plant_of(name, *faults, boxes_at=(276.65, 255.65), coils_at=250.0):
    machine = apply_faults(machine_named(name), faults)
    return Plant(QUICK_FLOATS, machine, boxes_at, [coils_at for _ in machine.coils], 298.15, 0.008)


@pytest.mark.parametrize(("fault", "position"), [("damper stuck open", 1.0), ("damper stuck shut", 0.0)])
def test_a_stuck_damper_gives_its_share_of_the_air(fault, position):
    """The plant's share of air is that of the part, at the position at which it is stuck."""
    plant = plant_of("Damper", fault)
    assert plant.damper == position
    coil = plant.machine.coils[0]
    alone = damper_air_share(coil.fresh_food_share, position, plant.machine.damper_leak, plant.fan_speeds[0])
    assert plant.shares() == [pytest.approx(alone)]


def test_a_stuck_valve_does_not_hear_the_board():
    """Stuck on the freezer it stays there although the warm fresh-food box calls."""
    plant = plant_of("Valve", "valve stuck on the freezer", boxes_at=(285.0, 255.65))
    assert plant.outputs.valve == 0.0 and plant.valve == 1.0


def test_fans_take_power_by_the_cube_of_their_speed():
    """All fans together take what the fan laws give at the speeds at which they turn."""
    plant = plant_of("Series", boxes_at=(279.0, 258.0))
    machine = plant.machine
    speeds = [*plant.fan_speeds, plant.condenser_speed]
    assert max(speeds) > 0.0
    alone = [
        power_at_speed(fan.full_power, 1.0, speed)
        for fan, speed in zip([*machine.fans, machine.condenser_fan], speeds, strict=True)
    ]
    assert plant.fan_power == pytest.approx(sum(alone))


def test_a_stuck_heater_heats_until_its_fuse_opens_and_never_again():
    """Welded on it takes V²/R; a coil too warm opens the fuse, and a cold one does not mend it."""
    plant = plant_of("Damper", "heater relay stuck on")
    heater = plant.machine.heaters[0]
    assert plant.heater_power == pytest.approx(heater_power(heater.voltage, heater.resistance))
    for metal in (heater.fuse_temperature + 1.0, 250.0):
        plant.coils[0].metal[-1] = metal
        plant.run_board(BOARD_PERIOD)
        assert plant.heater_power == 0.0 and plant.fuses[0] == 0.0


def test_a_humming_motor_is_switched_off_by_its_protector():
    """Its temperature follows the part's, step by step, until it opens and the motor is dead."""
    plant = plant_of("Series", "compressor does not start", boxes_at=(285.0, 270.0))
    circuit = plant.circuits[0]
    alone = circuit.protector
    for _ in range(60):
        if circuit.tripped:
            break
        plant.step(BOARD_PERIOD)
        alone = overload_protector.protector_temperature_after(
            alone, circuit.shell, circuit.power, BOARD_PERIOD
        )
        plant.run_board(BOARD_PERIOD)
        plant.board_clock = 0.0
        assert circuit.protector == pytest.approx(alone)
    assert circuit.tripped == 1.0 and plant.motors[0][2] == 0.0
    assert circuit.protector > overload_protector.OPENS
