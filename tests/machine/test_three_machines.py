"""Valve, Damper and Two-circuit do what a technician expects of such machines.

Source of every expectation, unless a test says otherwise: common practice, no source; where an expectation
follows from how the machine is built, the test says from what.
"""

import numpy
import pytest
from coldbench.machine import Door, simulate

BUSY = [Door("fresh_food", hour / 2, 20.0) for hour in range(48)]
RUNNING = 5.0  # [W], of a compressor


@pytest.fixture(scope="module")
def sound():
    """Each machine for a day, with a busy fresh-food door; Series beside them."""
    return {name: simulate(name, 24.0, doors=BUSY) for name in ("Series", "Valve", "Damper", "Two-circuit")}


def celsius(record, reading, chosen):
    """Mean of a temperature over the chosen rows [°C]."""
    return record[reading][chosen].mean() - 273.15


def late(record, hours=8.0):
    return record["time"] > hours * 3600


def broken(name, fault):
    """Fresh food and freezer over the second half of three days with a fault [°C]."""
    record = simulate(name, 48.0, faults=[fault])
    chosen = late(record, 24.0)
    return celsius(record, "fresh_food_air_temperature", chosen), celsius(
        record, "freezer_air_temperature", chosen
    )


def test_the_valve_keeps_refrigerant_from_a_satisfied_box(sound):
    """Freezer alone: the fresh-food coil thaws, dries and its fan stops; both: its inlet is below -15 °C."""
    record = sound["Valve"]
    runs = late(record) & (record["compressor_power"] > RUNNING)
    alone, both = runs & (record["valve_position"] > 0.5), runs & (record["valve_position"] < 0.5)
    assert alone.sum() > 30 and both.sum() > 30
    assert record["fresh_food_coil_inlet_temperature"][alone].max() > 275.15
    assert record["fresh_food_coil_inlet_temperature"][both].min() < 258.15
    assert (record["fresh_food_fan_speed"][late(record)] == 0).any()


def test_a_larger_coil_boils_warmer(sound):
    """With both coils fed, or with the damper open, more heat reaches the refrigerant: suction is higher.

    Follows from the coil's balance: more air to cool, the same pump.
    """
    for name, reading in (("Valve", "valve_position"), ("Damper", "damper_position")):
        record = sound[name]
        runs = late(record) & (record["compressor_power"] > RUNNING)
        fresh_food = record[reading] < 0.5 if name == "Valve" else record[reading] > 0.5
        with_fresh_food, without = (
            celsius(record, "evaporating_temperature", runs & chosen) for chosen in (fresh_food, ~fresh_food)
        )
        assert 0.5 < with_fresh_food - without < 10


def test_the_damper_is_what_cools_the_fresh_food(sound):
    """Its box cools while the damper is open and the fan turns, and warms while it is shut."""
    record = sound["Damper"]
    turning = late(record) & (record["freezer_fan_speed"] > 1)
    change = numpy.diff(record["fresh_food_air_temperature"], prepend=numpy.nan)
    is_open = record["damper_position"] > 0.5
    assert change[turning & is_open].mean() < -0.2 and change[turning & ~is_open].mean() > 0.2


def test_one_coil_takes_all_the_moisture(sound):
    """Damper: what comes in by the fresh-food door freezes onto the one coil; with a warm coil it drains."""
    assert sound["Damper"]["freezer_frost"][-1] > 0.03
    for name in ("Valve", "Two-circuit"):
        assert sound[name]["freezer_frost"][-1] < 0.01
        assert sound[name]["fresh_food_drained_water"][-1] > 0.01


def test_a_warm_coil_keeps_food_moister(sound):
    """A coil at 20 to 25 °F dries the fresh food's air less than one that also serves the freezer."""
    humidity = {
        name: record["fresh_food_humidity_ratio"][late(record)].mean() for name, record in sound.items()
    }
    assert humidity["Two-circuit"] > 1.3 * humidity["Series"] > 1.3 * 0.9 * humidity["Damper"]


def test_two_circuits_need_less(sound):
    """The fresh food's heat is lifted from a warm coil: less energy for the same doors than Series.

    Follows from the cycle: half the pressure ratio for that half of the heat.
    """
    assert sound["Two-circuit"]["energy"][-1] < 0.95 * sound["Series"]["energy"][-1]


@pytest.mark.parametrize(
    ("name", "fault", "fresh_food", "freezer"),
    [
        ("Damper", "damper stuck open", (-10, 1), (-20, -15)),  # lettuce freezes
        ("Damper", "damper stuck shut", (7, 25), (-40, -16)),
        ("Damper", "freezer fan dead", (9, 25), (-12, 5)),  # one fan serves both boxes
        ("Valve", "valve stuck on the freezer", (9, 25), (-20, -15)),
        (
            "Valve",
            "valve stuck on both coils",
            (-10, 1),
            (-20, -15),
        ),  # its fan waits for a coil that never dries
        ("Two-circuit", "freezer sensor open", (2, 5), (0, 25)),  # the other circuit does not care
        ("Two-circuit", "fresh-food sensor open", (9, 25), (-20, -15)),
    ],
)
def test_what_one_failed_part_does_to_both_boxes(name, fault, fresh_food, freezer):
    """Which box goes wrong tells which part to look at; °C, the second of two days at 25 °C."""
    found = broken(name, fault)
    assert fresh_food[0] < found[0] < fresh_food[1], found
    assert freezer[0] < found[1] < freezer[1], found
