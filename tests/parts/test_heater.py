"""Heaters and their circuit: Kirchhoff and energy for any state, and what a fuse in each leg is for."""

import numpy as np
import pytest
from coldbench.errors import OutOfRange
from coldbench.operations import FLOATS
from coldbench.parts import heater
from coldbench.parts.heater import NEVER, heater_circuit
from hypothesis import given
from hypothesis import strategies as st

HOT, NEUTRAL = 120.0, 0.0  # [V]
OHMS = 30.0
ways_round = st.sampled_from([(HOT, NEUTRAL), (NEUTRAL, HOT), (HOT, -HOT)])
heaters = st.floats(10.0, 1000.0)
positions = st.floats(0.0, 1.0)
paths = st.one_of(st.floats(0.001, 1e6), st.just(NEVER))


@given(ways_round, heaters, paths, paths, positions, paths, paths)
def test_currents_and_power_balance(legs, ohms, first, second, position, contact, earth):
    """What comes in by the legs leaves by the earth, and what the legs deliver is all turned to heat."""
    found = heater_circuit(*legs, ohms, first, second, position, contact, earth)
    together = found.first_leg_current + found.second_leg_current
    assert together == pytest.approx(found.earth_current, abs=1e-6)
    delivered = legs[0] * found.first_leg_current + legs[1] * found.second_leg_current
    elsewhere = sum(
        current**2 * path
        for current, path in (
            (found.first_leg_current, first),
            (found.second_leg_current, second),
            (found.earth_current, contact),
            (found.earth_current, earth),
        )
        if path != NEVER
    )
    heat = found.first_part_power + found.second_part_power + elsewhere
    assert heat == pytest.approx(delivered, rel=1e-6, abs=1e-3)


@given(heaters, paths, paths, positions, paths, paths)
def test_turning_the_plug_round_mirrors_the_circuit(ohms, first, second, position, contact, earth):
    """The other way round is the same circuit seen from its other end."""
    one = heater_circuit(HOT, NEUTRAL, ohms, first, second, position, contact, earth)
    other = heater_circuit(NEUTRAL, HOT, ohms, second, first, 1 - position, contact, earth)
    assert other.earth_current == pytest.approx(one.earth_current, abs=1e-6)
    assert other.second_leg_current == pytest.approx(one.first_leg_current, rel=1e-6, abs=1e-6)
    assert other.cabinet_voltage == pytest.approx(one.cabinet_voltage, abs=1e-6)


@given(positions)
def test_a_sound_heater_does_not_feel_the_cabinet(position):
    """Without a contact the current is Ohm's, the power V²/R, and the cabinet has no voltage."""
    found = heater_circuit(HOT, NEUTRAL, OHMS, contact_position=position)
    assert found.first_leg_current == pytest.approx(heater.heater_current(HOT, OHMS), rel=1e-3)
    assert found.second_leg_current == pytest.approx(-found.first_leg_current)
    power = found.first_part_power + found.second_part_power
    assert power == pytest.approx(heater.heater_power(HOT, OHMS), rel=2e-3)
    assert found.cabinet_voltage == found.earth_current == 0.0


@pytest.mark.parametrize("legs", [(HOT, NEUTRAL), (NEUTRAL, HOT)])
@pytest.mark.parametrize(("first", "second"), [(NEVER, 0.01), (0.01, NEVER), (NEVER, NEVER)])
def test_in_a_sound_heater_one_open_fuse_is_enough(legs, first, second):
    """As long as nothing touches the cabinet, either fuse stops the current, with the plug either way."""
    found = heater_circuit(*legs, OHMS, first, second)
    assert found.first_leg_current == pytest.approx(0.0, abs=1e-9)
    assert found.second_leg_current == pytest.approx(0.0, abs=1e-9)


def test_a_fuse_in_the_neutral_leg_does_not_stop_a_worn_heater():
    """With the middle on the cabinet and the neutral's fuse open, 120 V heat 15 Ω and 1 Ω of earth wire."""
    found = heater_circuit(HOT, NEUTRAL, OHMS, 0.01, NEVER, 0.5, 0.001)
    assert found.first_leg_current == pytest.approx(120 / 16.011)  # Ohm's law
    assert found.second_leg_current == 0.0
    assert found.first_part_power > 0.8 * 2 * heater.heater_power(HOT, OHMS)


def test_the_same_fuse_stops_it_with_the_plug_the_other_way_round():
    """Turned round, that open leg is the hot one and nothing flows: one fuse is right for one way only."""
    found = heater_circuit(NEUTRAL, HOT, OHMS, 0.01, NEVER, 0.5, 0.001)
    assert found.earth_current == found.first_part_power == found.second_part_power == 0.0


@given(st.sampled_from([(HOT, NEUTRAL), (NEUTRAL, HOT)]), positions, st.floats(0.001, 1e6), paths)
def test_a_fuse_in_each_leg_stops_everything(legs, position, contact, earth):
    """With both fuses open nothing flows and the cabinet is dead, wherever the wire touches it."""
    found = heater_circuit(*legs, OHMS, NEVER, NEVER, position, contact, earth)
    assert set(found) == {0.0}


def test_the_nearer_the_contact_to_the_hot_leg_the_hotter():
    """A short piece of wire on the hot side takes the whole voltage."""
    powers = [
        heater_circuit(HOT, NEUTRAL, OHMS, 0.01, NEVER, position, 0.001).first_part_power
        for position in (1.0, 0.75, 0.5, 0.25)
    ]
    assert powers == sorted(powers)


def test_without_an_earth_wire_the_cabinet_is_live():
    """A worn heater on a cabinet without earth puts up to the mains voltage on its metal."""
    no_earth = heater_circuit(HOT, NEUTRAL, OHMS, 0.01, NEVER, 0.5, 100.0, NEVER)
    assert no_earth.cabinet_voltage == pytest.approx(HOT)
    assert no_earth.earth_current == 0.0
    earthed = heater_circuit(HOT, NEUTRAL, OHMS, 0.01, NEVER, 0.5, 100.0, 1.0)
    assert earthed.cabinet_voltage < 2.0


def test_a_hand_on_an_unearthed_cabinet():
    """A body of 1000 Ω (order of size of IEC 60479-1, from memory) then carries over 100 mA: deadly."""
    found = heater_circuit(HOT, NEUTRAL, OHMS, 0.01, NEVER, 0.5, 100.0, 1000.0)
    assert found.earth_current > 0.1


def test_average_power_is_not_that_of_the_average_voltage():
    """Half the time on is half of the power; half of the voltage would be a quarter."""
    half = heater.average_heater_power(HOT, OHMS, 0.5)
    assert half == heater.heater_power(HOT, OHMS) / 2
    assert half == 2 * heater.heater_power(HOT / 2, OHMS)


@given(st.floats(280.0, 500.0), st.floats(0.0, 50.0))
def test_a_fuse_opens_for_ever(opening, difference):
    """At its opening temperature and above the fuse is open, below it sound."""
    assert heater.thermal_fuse_resistance(opening + difference, opening) == NEVER
    assert heater.thermal_fuse_resistance(opening - 0.1 - difference, opening) == heater.CLOSED


def test_a_machines_fuse_stays_open_when_it_has_cooled():
    """Step by step, as the machines ask it: too warm opens it for good, cold does not mend it."""
    whole = 1.0
    seen = []
    for temperature in (300.0, 345.15, 345.2, 250.0):
        whole = heater.fuse_whole_of(FLOATS, whole, temperature, 345.15)
        seen.append(whole)
    assert seen == [1.0, 1.0, 0.0, 0.0]


def test_arrays_and_floats_agree():
    """An array goes through the same equations as each of its floats, and a float gives floats."""
    ohms = np.array([0.01, 5.0, 1e6, np.inf])
    together = heater_circuit(HOT, NEUTRAL, OHMS, 0.01, ohms, 0.3, ohms[::-1])
    for index in range(len(ohms)):
        one = heater_circuit(HOT, NEUTRAL, OHMS, 0.01, float(ohms[index]), 0.3, float(ohms[-1 - index]))
        assert all(type(value) is float for value in one)
        assert [float(np.broadcast_to(values, 4)[index]) for values in together] == pytest.approx(list(one))
    warmest = np.array([300.0, 345.15, 400.0])
    assert heater.thermal_fuse_resistance(warmest, 345.15).tolist() == [heater.CLOSED, NEVER, NEVER]
    assert heater.average_heater_power(HOT, np.array([30.0, 40.0]), 1.0).tolist() == [480.0, 360.0]
    assert heater.heater_current(HOT, np.array([30.0, 40.0])).tolist() == [4.0, 3.0]


@pytest.mark.parametrize(
    ("function", "arguments", "words"),
    [
        (heater.heater_power, (5000.0, 30.0), "voltage is 5000 V"),
        (heater.heater_power, (120.0, 0.0), "An open heater is 1e9"),
        (heater.heater_current, (120.0, NEVER), "An open heater is 1e9"),
        (heater.average_heater_power, (120.0, 30.0, 40.0), "40 % is 0.4"),
        (heater.thermal_fuse_resistance, (72.0, 345.15), "warmest temperature"),
        (heater.thermal_fuse_resistance, (300.0, 72.0), "opening temperature"),
        (heater_circuit, (HOT, NEUTRAL, 0.0), "resistance"),
        (heater_circuit, (HOT, 9e9, 30.0), "voltage"),
        (heater_circuit, (HOT, NEUTRAL, 30.0, 0.0), "first leg resistance"),
        (heater_circuit, (HOT, NEUTRAL, 30.0, 0.01, 0.0), "second leg resistance"),
        (heater_circuit, (HOT, NEUTRAL, 30.0, 0.01, 0.01, 1.5), "contact position"),
        (heater_circuit, (HOT, NEUTRAL, 30.0, 0.01, 0.01, 0.5, 0.0), "contact resistance"),
        (heater_circuit, (HOT, NEUTRAL, 30.0, 0.01, 0.01, 0.5, 1.0, 0.0), "earth resistance"),
    ],
)
def test_out_of_range_is_refused_in_a_sentence(function, arguments, words):
    """Outside its range each function refuses and says what to look at."""
    with pytest.raises(OutOfRange, match=words):
        function(*arguments)
