"""Rules of thumb beside the simulated machines: where they agree, and where they part.

Every rule here is common practice, no source; its span is from memory. The machine runs free: no number of a
rule is in it. Rules about single parts and settings are in test_common_practice.py.
"""

from dataclasses import replace
from functools import cache

import numpy
import pytest
from coldbench.machine import simulate
from coldbench.machine.five import machine_named
from coldbench.properties.refrigerant_facts import ATMOSPHERE
from outside.published import PSI, fahrenheit

RUNS = {  # what to simulate, hours, and how
    "sound": ("Series", 12.0, {}),
    "50 °F room": ("Series", 12.0, {"room": fahrenheit(50)}),
    "90 °F room": ("Series", 12.0, {"room": fahrenheit(90)}),
    "110 °F room": ("Series", 12.0, {"room": fahrenheit(110)}),
    "pull-down": ("Series", 24.0, {"room": fahrenheit(90), "start": "warm"}),
    "R-134a": ("Series", 12.0, {"refrigerant": "R-134a"}),
    "R-134a, pull-down": ("Series", 2.0, {"refrigerant": "R-134a", "start": "warm"}),
    "freezer fan dead": ("Series", 12.0, {"faults": ["freezer fan dead"]}),
    "dirty condenser": ("Series", 12.0, {"faults": [("dirty condenser", 0.65)]}),
    "overcharge": ("Series", 12.0, {"faults": [("overcharge", 1.0)]}),
    "low charge": ("Series", 12.0, {"faults": [("low charge", 0.5)]}),
    "Two-circuit": ("Two-circuit", 12.0, {}),
}


@cache
def run(name: str):
    """Give the record of a run; each is made once."""
    if name == "slow compressor":
        machine = machine_named("Series")
        return simulate(replace(machine, board=replace(machine.board, modulating=True)), 12.0)
    machine, hours, how = RUNS[name]
    return simulate(machine, hours, **how)


def to_fahrenheit(kelvin):
    return kelvin * 1.8 - 459.67


def while_running(name: str, reading: str, circuit: str = "") -> float:
    """Mean of a reading over the last six hours, while the compressor runs [°F]."""
    record = run(name)
    running = record[f"{circuit}refrigerant_flow"] > 1e-5
    late = record["time"] > record["time"][-1] - 6 * 3600
    return to_fahrenheit(record[reading][running & late].mean())


def at(name: str, hour: float, reading: str) -> float:
    """A reading at an hour of the run [°F]."""
    record = run(name)
    return to_fahrenheit(record[reading][numpy.searchsorted(record["time"], hour * 3600)])


def mean(name: str, reading: str) -> float:
    """Mean of a reading over the last six hours [°F]."""
    record = run(name)
    return to_fahrenheit(record[reading][record["time"] > record["time"][-1] - 6 * 3600].mean())


def share_running(name: str) -> float:
    """Part of the last six hours that the compressor runs [-]."""
    record = run(name)
    return (record["refrigerant_flow"][record["time"] > record["time"][-1] - 6 * 3600] > 1e-5).mean()


def coil_below_box(name: str) -> float:
    """By how much the freezer's coil boils below its box [°F]."""
    return mean(name, "freezer_air_temperature") - while_running(name, "evaporating_temperature")


# The freezer's coil boils about 15 °F below its box, to 5 °F.


@pytest.mark.parametrize("name", ["sound", "90 °F room", "R-134a"])
def test_freezer_coil_is_15_below_its_box(name):
    """Agree: settled, full speed, air over the coil; whichever refrigerant."""
    assert mean(name, "freezer_air_temperature") == pytest.approx(0, abs=2)
    assert coil_below_box(name) == pytest.approx(15, abs=5)


def test_freezer_coil_is_far_below_its_box_without_air():
    """Part: with its fan dead the coil is more than 40 °F below a box that is no longer at 0 °F."""
    assert coil_below_box("freezer fan dead") > 40
    assert mean("freezer fan dead", "freezer_air_temperature") > 10


def test_freezer_coil_is_far_below_a_box_that_is_still_warm():
    """Part: an hour into a pull-down the coil is above 0 °F, and over 40 °F below its box."""
    coil = at("pull-down", 1.0, "evaporating_temperature")
    assert coil > 0
    assert at("pull-down", 1.0, "freezer_air_temperature") - coil > 40


def test_freezer_coil_is_near_its_box_at_low_speed():
    """Part: a compressor that runs slowly and long needs a coil less than 10 °F below its box."""
    assert 2 < coil_below_box("slow compressor") < 10


# A fresh-food coil without a heater boils at 20 to 25 °F, to 5 °F around.


def test_heaterless_fresh_food_coil_boils_near_freezing():
    """Agree: a coil that has a circuit for itself."""
    assert 15 < while_running("Two-circuit", "fresh_food_evaporating_temperature", "fresh_food_") < 30


def test_heaterless_fresh_food_coil_on_the_freezers_circuit_does_not():
    """Part: in series with the freezer's coil it boils at the freezer's pressure, below 0 °F."""
    assert while_running("sound", "evaporating_temperature") < 0
    assert while_running("sound", "fresh_food_coil_inlet_temperature") < 10


# A freezer's low side reads about zero gauge with R-134a, to 2 psi.


def gauge(name: str, hour: float) -> float:
    """Mean suction pressure while running, from an hour on [psig]."""
    record = run(name)
    chosen = (record["refrigerant_flow"] > 1e-5) & (record["time"] > hour * 3600)
    return (record["suction_pressure"][chosen].mean() - ATMOSPHERE) / PSI


def test_low_side_reads_zero_gauge_with_r134a():
    """Agree: the settled machine with R-134a."""
    assert gauge("R-134a", 6.0) == pytest.approx(0, abs=2)


def test_low_side_reads_otherwise_with_r600a_and_in_a_pull_down():
    """Part: R-600a is 5 psi and more in vacuum; a warm R-134a machine reads over 8 psig for hours."""
    assert gauge("sound", 6.0) < -5
    assert gauge("R-134a, pull-down", 1.0) > 8


# The condenser is 25 to 35 °F above the room.


def above_room(name: str) -> float:
    return while_running(name, "condensing_temperature") - mean(name, "room_temperature")


@pytest.mark.parametrize("name", ["sound", "90 °F room", "R-134a"])
def test_condenser_is_25_to_35_above_the_room(name):
    """Agree: settled machines in ordinary and warm rooms, running at full speed."""
    assert 25 <= above_room(name) <= 35


@pytest.mark.parametrize("name", ["50 °F room", "slow compressor"])
def test_condenser_with_little_to_give_off_is_nearer_the_room(name):
    """Part: in a cool room, or at low speed, it has less heat to give off; nothing is wrong."""
    assert above_room(name) < 25


def test_condenser_of_a_dirty_machine_is_farther_from_the_room():
    """Part, and this is what the rule is for: with a third of its air side left it is over 50 °F above."""
    assert above_room("dirty condenser") > 50


def test_condenser_in_a_pull_down_looks_dirty():
    """Part: an hour after a warm start a clean condenser reads as a dirty one; the rule must wait."""
    found = at("pull-down", 1.0, "condensing_temperature") - at("pull-down", 1.0, "room_temperature")
    assert found > 50


# A sound machine runs about half of the time: 40 to 60 %.


@pytest.mark.parametrize("name", ["sound", "90 °F room", "dirty condenser"])
def test_compressor_runs_half_of_the_time(name):
    """Agree in ordinary and warm rooms; and the rule alone does not see a dirty condenser."""
    assert 0.40 <= share_running(name) <= 0.60


def test_compressor_of_a_sound_machine_may_run_far_less_or_more():
    """Part: under 30 % in a cool room; over 70 % in a hot one, or where a slow compressor is meant to run."""
    assert share_running("50 °F room") < 0.30
    assert share_running("110 °F room") > 0.70
    assert share_running("slow compressor") > 0.70


def test_compressor_that_runs_on_and_on_has_a_reason():
    """Part, and this is what the rule is for: no air over the freezer's coil, or half of the charge."""
    assert share_running("freezer fan dead") > 0.90
    assert share_running("low charge") > 0.65


# The suction line comes back within 10 °F of the room: it neither sweats nor frosts.


@pytest.mark.parametrize("name", ["sound", "90 °F room", "110 °F room", "R-134a", "low charge"])
def test_suction_line_comes_back_at_room_temperature(name):
    """Agree: the exchanger at the capillary warms it, in every room; and low charge does not show there."""
    line = while_running(name, "suction_line_temperature")
    assert line == pytest.approx(mean(name, "room_temperature"), abs=10)


@pytest.mark.parametrize("name", ["overcharge", "freezer fan dead"])
def test_suction_line_frosts_where_liquid_leaves_the_coil(name):
    """Part, and this is what the rule is for: too much charge, or a coil without air, sends liquid back."""
    assert while_running(name, "suction_line_temperature") < 32


# Air over a coil loses 15 °F, to 5 °F.


def drop(name: str, coil: str, first: float, last: float) -> float:
    """Mean loss over a coil while its fan blows, between two hours [°F]."""
    record = run(name)
    hours = record["time"] / 3600
    chosen = (record[f"{coil}_fan_speed"] > 1.0) & (hours > first) & (hours < last)
    return 1.8 * (record[f"{coil}_air_temperature"] - record[f"{coil}_coil_air_temperature"])[chosen].mean()


def test_air_over_the_coil_loses_15_while_there_is_much_to_carry_off():
    """Agree: over the first coil, in the first hours of a pull-down."""
    assert drop("pull-down", "fresh_food", 0.5, 4.0) == pytest.approx(15, abs=5)


def test_air_over_the_coil_of_a_cold_machine_loses_less():
    """Part: settled, over the freezer's coil, it loses under 10 °F, and nothing is wrong."""
    assert 4 < drop("sound", "freezer", 6.0, 12.0) < 10


def test_air_over_the_second_coil_loses_little_while_the_first_boils_all():
    """Part: in the pull-down of two coils in series the second gets what liquid is left: under 6 °F."""
    assert 0 < drop("pull-down", "freezer", 0.5, 4.0) < 6


# A thermometer in a glass of water tells the box; one in the air tells the cycle.


def test_water_glass_tells_the_mean_of_the_air():
    """Agree: settled, what stands in the box is within 1 °F of the air's mean, which swings by over 4 °F."""
    record = run("sound")
    late = record["time"] > 6 * 3600
    assert mean("sound", "fresh_food_food_temperature") == pytest.approx(
        mean("sound", "fresh_food_air_temperature"), abs=1
    )
    assert numpy.ptp(record["fresh_food_air_temperature"][late]) * 1.8 > 4
    assert numpy.ptp(record["fresh_food_food_temperature"][late]) * 1.8 < 1


def test_water_glass_is_hours_late():
    """Part: eight hours into a pull-down the air is near 40 °F and the food over 10 °F warmer."""
    record = run("pull-down")
    ninth_hour = (record["time"] > 8 * 3600) & (record["time"] < 9 * 3600)
    air, food = (
        to_fahrenheit(record[f"fresh_food_{what}_temperature"][ninth_hour].mean()) for what in ("air", "food")
    )
    assert air < 45
    assert food - air > 10


# A day after it was plugged in, a machine is cold.


def test_machine_is_cold_a_day_after_it_was_plugged_in():
    """Agree: in a 90 °F room, full of warm food, both boxes' air and the fresh food are cold."""
    assert mean("pull-down", "fresh_food_air_temperature") < 42
    assert mean("pull-down", "freezer_air_temperature") < 5
    assert at("pull-down", 23.9, "fresh_food_food_temperature") < 41


def test_machine_full_of_warm_food_still_freezes_it_a_day_later():
    """Part: the freezer's food is still at its freezing point when the air over it is near 0 °F."""
    assert at("pull-down", 23.9, "freezer_food_temperature") == pytest.approx(29, abs=1)
