"""Fan laws and pulses: the laws among each other, meters on pulses, tach, edges."""

import math

import numpy as np
import pytest
from coldbench.errors import OutOfRange
from coldbench.parts import fan_laws
from hypothesis import given
from hypothesis import strategies as st

speeds = st.floats(1.0, 200.0)
duties = st.floats(0.0, 1.0)
volts = st.floats(1.0, 60.0)


@given(st.floats(0.001, 1.0), st.floats(1.0, 200.0), speeds, speeds)
def test_power_follows_flow_times_pressure(flow, pressure, speed, new_speed):
    """Flow, pressure and power of the air keep together: the third law is the product of the first two."""
    power = flow * pressure
    at_new = fan_laws.flow_at_speed(flow, speed, new_speed) * fan_laws.pressure_at_speed(
        pressure, speed, new_speed
    )
    assert fan_laws.power_at_speed(power, speed, new_speed) == pytest.approx(at_new)


@given(*[st.floats(10.0, 60.0)] * 3)
def test_two_changes_of_speed_are_one(first, second, third):
    """Going by way of another speed changes nothing."""
    by_way = fan_laws.power_at_speed(fan_laws.power_at_speed(4.0, first, second), second, third)
    assert by_way == pytest.approx(fan_laws.power_at_speed(4.0, first, third))


@given(volts, duties)
def test_two_sound_meters_may_disagree(pulse_voltage, duty):
    """The effective value is never below the average, and equal only for no pulse or one without a gap."""
    average = fan_laws.average_voltage(pulse_voltage, duty)
    effective = fan_laws.effective_voltage(pulse_voltage, duty)
    assert average <= effective <= pulse_voltage
    assert fan_laws.duty_from_average(average, pulse_voltage) == pytest.approx(duty, abs=1e-12)


def test_meters_on_a_train_of_pulses_sampled_in_time():
    """Average and effective value of 12 V pulses, on for 40 of 100 samples, from the samples."""
    samples = [12.0] * 40 + [0.0] * 60
    duty = fan_laws.duty_of_pulses(40e-6, 100e-6)
    assert fan_laws.average_voltage(12.0, duty) == pytest.approx(sum(samples) / 100)
    root_mean_square = math.sqrt(sum(value**2 for value in samples) / 100)
    assert fan_laws.effective_voltage(12.0, duty) == pytest.approx(root_mean_square)


@given(speeds, st.integers(1, 8))
def test_tach_counts_the_turns(speed, pulses_per_turn):
    """Ten seconds of pulses give the speed back, to one pulse."""
    pulses = math.floor(speed * pulses_per_turn * 10.0)
    found = fan_laws.tach_speed(pulses, 10.0, pulses_per_turn)
    assert 0 <= speed - found <= 1 / (10.0 * pulses_per_turn) + 1e-9


@pytest.mark.parametrize(
    ("function", "array", "rest"),
    [
        (fan_laws.flow_at_speed, np.linspace(0.0, 1.0, 9), (20.0, 25.0)),
        (fan_laws.pressure_at_speed, np.linspace(0.0, 50.0, 9), (20.0, 25.0)),
        (fan_laws.power_at_speed, np.linspace(0.0, 5.0, 9), (20.0, 25.0)),
        (fan_laws.duty_of_pulses, np.linspace(0.0, 1.0, 9), (1.0,)),
        (fan_laws.average_voltage, np.linspace(0.0, 12.0, 9), (0.4,)),
        (fan_laws.effective_voltage, np.linspace(0.0, 12.0, 9), (0.4,)),
        (fan_laws.duty_from_average, np.linspace(0.0, 12.0, 9), (12.0,)),
        (fan_laws.tach_speed, np.linspace(0.0, 100.0, 9), (1.0,)),
    ],
)
def test_arrays_and_floats_agree(function, array, rest):
    """An array goes through the same equations as each of its floats, and a float gives a float."""
    one_by_one = [function(float(value), *rest) for value in array]
    assert all(type(value) is float for value in one_by_one)
    np.testing.assert_allclose(function(array, *rest), one_by_one, rtol=1e-13)


@pytest.mark.parametrize(
    ("function", "arguments", "words"),
    [
        (fan_laws.flow_at_speed, (-1.0, 20.0, 25.0), "flow"),
        (fan_laws.flow_at_speed, (1.0, 1200.0, 25.0), "1200 rpm is 20 rev/s"),
        (fan_laws.pressure_at_speed, (-1.0, 20.0, 25.0), "fan pressure"),
        (fan_laws.pressure_at_speed, (1.0, 0.0, 25.0), "speed is 0 rev/s"),
        (fan_laws.power_at_speed, (-1.0, 20.0, 25.0), "power"),
        (fan_laws.power_at_speed, (1.0, 20.0, 1500.0), "new speed"),
        (fan_laws.duty_of_pulses, (2.0, 1.0), "longer than its period"),
        (fan_laws.duty_of_pulses, (0.0, 0.0), "period"),
        (fan_laws.average_voltage, (120.0, 0.4), "board's pulses"),
        (fan_laws.average_voltage, (12.0, 40.0), "40 % is 0.4"),
        (fan_laws.effective_voltage, (12.0, -0.1), "duty"),
        (fan_laws.duty_from_average, (13.0, 12.0), "pulses' own voltage"),
        (fan_laws.duty_from_average, (0.0, 0.0), "pulse voltage"),
        (fan_laws.tach_speed, (-1.0, 1.0), "pulses is -1"),
        (fan_laws.tach_speed, (80.0, 0.0), "duration"),
        (fan_laws.tach_speed, (80.0, 1.0, 0.0), "pulses per turn"),
    ],
)
def test_out_of_range_is_refused_in_a_sentence(function, arguments, words):
    """Outside its range each function refuses and says what to look at."""
    with pytest.raises(OutOfRange, match=words):
        function(*arguments)
