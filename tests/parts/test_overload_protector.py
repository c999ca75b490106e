"""Overload protector: how it warms, when it opens and closes; what is refused."""

import math

import numpy as np
import pytest
from coldbench.errors import OutOfRange
from coldbench.parts import overload_protector as protector
from hypothesis import given
from hypothesis import strategies as st

ROOM = 298.15  # [K]


@pytest.mark.parametrize(("heat", "conductance"), [(0.0, 1.0), (40.0, 1.0), (90.0, 2.0)])
def test_a_shell_settles_where_the_room_takes_its_heat(heat, conductance):
    """After half a day it is warmer than the room by heat over conductance.

    Source: heat balance of a body at rest, any textbook of heat transfer.
    """
    shell = 330.0
    for _ in range(720):
        shell = protector.shell_temperature_after(shell, heat, 1000.0, conductance, ROOM, 60.0)
    assert shell == pytest.approx(ROOM + heat / conductance, abs=1e-6)


def test_a_cooling_shell_follows_the_exponential():
    """In steps of a second it agrees with the exact solution to a thousandth of what is left.

    Source: cooling of one lump, any textbook of heat transfer.
    """
    shell = 350.0
    for _ in range(3000):
        shell = protector.shell_temperature_after(shell, 0.0, 5000.0, 1.0, ROOM, 1.0)
    assert shell - ROOM == pytest.approx((350.0 - ROOM) * math.exp(-3000 / 5000), rel=1e-3)


def opens_after(power, shell, start):
    """Time until the protector opens on a shell that stays as warm as it is [s]; a day if it does not."""
    temperature = start
    for second in range(86_400):
        if protector.protector_open(temperature, 0.0):
            return second
        temperature = protector.protector_temperature_after(temperature, shell, power, 1.0)
    return 86_400


def test_a_humming_motor_trips_when_the_exponential_says():
    """500 W on a shell of 47 °C open it at the time that a first-order lag gives, to 2 s.

    Source: step answer of a first-order lag, any textbook of controls.
    """
    shell = 320.0
    end = shell + protector.RISE * (500.0 / protector.RISE_POWER) ** 2
    exact = protector.LAG * math.log((end - shell) / (end - protector.OPENS))
    assert opens_after(500.0, shell, shell) == pytest.approx(exact, abs=2.0)
    assert 5.0 < exact < 60.0  # a locked motor trips within seconds to a minute: common practice, no source


def test_a_sound_motor_on_a_warm_shell_runs_all_day():
    """90 W on a shell of 70 °C never open it; the same motor on a shell of 105 °C is stopped."""
    assert opens_after(90.0, 343.15, 343.15) == 86_400
    assert opens_after(90.0, 378.15, 378.15) < 3600


@given(st.floats(250.0, 450.0), st.sampled_from([0.0, 1.0]))
def test_it_opens_hot_closes_cool_and_stays_between(temperature, before):
    """Above 130 °C open, below 70 °C closed, between the two as it was."""
    found = protector.protector_open(temperature, before)
    if temperature > protector.OPENS:
        assert found == 1.0
    elif temperature < protector.CLOSES:
        assert found == 0.0
    else:
        assert found == before


def test_closing_takes_minutes():
    """From 130 °C on a shell of 50 °C it needs minutes to close (common practice, no source)."""
    temperature, seconds = protector.OPENS + 1, 0
    while protector.protector_open(temperature, 1.0):
        temperature = protector.protector_temperature_after(temperature, 323.15, 0.0, 1.0)
        seconds += 1
    assert 120 < seconds < 1200


def test_arrays_and_floats_agree():
    """An array goes through the same equations as each of its floats, and a float gives a float."""
    powers = np.array([0.0, 90.0, 500.0])
    one_by_one = [protector.protector_temperature_after(330.0, 320.0, float(one), 10.0) for one in powers]
    assert all(type(one) is float for one in one_by_one)
    assert protector.protector_temperature_after(330.0, 320.0, powers, 10.0).tolist() == one_by_one
    assert protector.protector_open(np.array([405.0, 360.0, 300.0]), 1.0).tolist() == [1.0, 1.0, 0.0]


@pytest.mark.parametrize(
    ("function", "arguments", "words"),
    [
        (protector.shell_temperature_after, (50.0, 40.0, 5000.0, 1.0, ROOM, 10.0), "shell temperature"),
        (protector.shell_temperature_after, (330.0, -1.0, 5000.0, 1.0, ROOM, 10.0), "shell heat"),
        (protector.shell_temperature_after, (330.0, 40.0, 5.0, 1.0, ROOM, 10.0), "heat capacity"),
        (protector.shell_temperature_after, (330.0, 40.0, 5000.0, -1.0, ROOM, 10.0), "conductance"),
        (protector.shell_temperature_after, (330.0, 40.0, 5000.0, 1.0, 25.0, 10.0), "outside temperature"),
        (protector.shell_temperature_after, (330.0, 40.0, 5000.0, 1.0, ROOM, 3600.0), "many steps"),
        (protector.protector_temperature_after, (50.0, 320.0, 90.0, 10.0), "protector temperature"),
        (protector.protector_temperature_after, (330.0, 50.0, 90.0, 10.0), "shell temperature"),
        (protector.protector_temperature_after, (330.0, 320.0, -90.0, 10.0), "power"),
        (protector.protector_temperature_after, (330.0, 320.0, 90.0, 3600.0), "many steps"),
        (protector.protector_open, (130.0, 0.0), "protector temperature"),
        (protector.protector_open, (330.0, 2.0), "1 is open"),
    ],
)
def test_out_of_range_is_refused_in_a_sentence(function, arguments, words):
    with pytest.raises(OutOfRange, match=words):
        function(*arguments)
