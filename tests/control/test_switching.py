"""Switching: hysteresis, minimum times, a clamped integral."""

import numpy
import pytest
from coldbench.control.switching import after_minimum_times, proportional_integral, thermostat
from coldbench.operations import FLOATS
from hypothesis import given
from hypothesis import strategies as st


@given(st.lists(st.floats(250.0, 290.0), min_size=1, max_size=50))
def test_a_thermostat_stays_between_its_ends(temperatures):
    """At or above the cut-in it is on, at or below the cut-out off, between them what it was."""
    on = 0.0
    for temperature in temperatures:
        before, on = on, thermostat(FLOATS, on, temperature, 279.0, 275.0)
        assert on == (1.0 if temperature >= 279.0 else 0.0 if temperature <= 275.0 else before)


def test_a_motor_waits_for_its_least_times():
    """Stopped ten seconds ago it stays off though wanted; after three minutes it starts."""
    on, since = 0.0, 10.0
    starts = 0.0
    while on < 0.5:
        on, since = after_minimum_times(FLOATS, on, 1.0, since, 120.0, 180.0, 10.0)
        starts += 10.0
    assert starts == 180.0 and since == 0.0
    still, _ = after_minimum_times(FLOATS, on, 0.0, since, 120.0, 180.0, 10.0)
    assert still == 1.0


@given(st.lists(st.floats(-20.0, 20.0), min_size=1, max_size=60))
def test_output_and_integral_stay_in_range_together(errors):
    """The integral never winds up: one call after the error turns, the output leaves its end."""
    integral = 0.0
    for error in errors:
        output, integral = proportional_integral(FLOATS, error, integral, 0.2, 600.0, 0.2, 1.0, 10.0)
        assert 0.2 - 1e-12 <= output <= 1.0 + 1e-12
    low, _ = proportional_integral(FLOATS, -20.0, integral, 0.2, 600.0, 0.2, 1.0, 10.0)
    assert low == pytest.approx(0.2)


def test_floats_and_arrays_agree():
    errors, start = numpy.array([-3.0, 0.5, 8.0]), numpy.array([0.3, 0.3, 0.3])
    outputs, integrals = proportional_integral(numpy, errors, start, 0.2, 600.0, 0.0, 1.0, 10.0)
    for place, error in enumerate(errors.tolist()):
        output, integral = proportional_integral(FLOATS, error, 0.3, 0.2, 600.0, 0.0, 1.0, 10.0)
        assert (output, integral) == (outputs[place], integrals[place])
