"""Rates of spoilage and shelf life: reference point, swing against mean, edges."""

import numpy as np
import pytest
from coldbench.errors import OutOfRange
from coldbench.properties.food_quality import (
    exponential_spoilage_rate,
    relative_spoilage_rate,
    shelf_life,
)
from hypothesis import given
from hypothesis import strategies as st


def test_rates_are_relative_to_zero_degrees():
    """Both rates are 1 at 0 °C."""
    assert relative_spoilage_rate(273.15) == pytest.approx(1.0)
    assert exponential_spoilage_rate(273.15) == 1.0


def test_nothing_spoils_where_nothing_grows():
    """At -10 °C and below the model's bacteria stand still."""
    assert relative_spoilage_rate(263.15) == relative_spoilage_rate(255.15) == 0.0


@given(st.floats(273.15, 285.0), st.floats(0.1, 8.0))
def test_a_swing_spoils_more_than_its_mean(mean, swing):
    """Half of the time warmer and half colder by the swing adds its square over that of 10 K.

    Source: mean of a square, exact.
    """
    swinging = (relative_spoilage_rate(mean + swing) + relative_spoilage_rate(mean - swing)) / 2
    assert swinging - relative_spoilage_rate(mean) == pytest.approx((swing / 10.0) ** 2, rel=1e-6)


@given(st.floats(268.15, 298.15), st.floats(268.15, 298.15), st.floats(3600.0, 1e7))
def test_shelf_life_goes_there_and_back(one, other, life):
    """From a temperature to another and back gives the shelf life that was known; warmer is never longer."""
    there = shelf_life(other, life, one)
    assert shelf_life(one, there, other) == pytest.approx(life)
    assert (there <= life * (1 + 1e-12)) or other < one


@pytest.mark.parametrize(
    ("function", "rest", "array"),
    [
        (relative_spoilage_rate, (), np.linspace(253.15, 298.15, 19)),
        (exponential_spoilage_rate, (), np.linspace(273.15, 298.15, 19)),
        (shelf_life, (86400.0, 275.0), np.linspace(268.15, 298.15, 19)),
    ],
)
def test_arrays_and_floats_agree(function, rest, array):
    """An array goes through the same equations as each of its floats, and a float gives a float."""
    one_by_one = [function(float(value), *rest) for value in array]
    assert all(type(value) is float for value in one_by_one)
    np.testing.assert_allclose(function(array, *rest), one_by_one, rtol=1e-13)


@pytest.mark.parametrize(
    ("function", "arguments", "words"),
    [
        (relative_spoilage_rate, (4.0,), "temperature is 4 K"),
        (relative_spoilage_rate, (277.15, 280.0), "fresh fish"),
        (exponential_spoilage_rate, (260.0,), "from 0 to 25 °C"),
        (exponential_spoilage_rate, (277.15, 2.0), "sensitivity"),
        (shelf_life, (260.0, 86400.0, 277.15), "from -5 to 25 °C"),
        (shelf_life, (277.15, -1.0, 277.15), "known shelf life"),
        (shelf_life, (277.15, 86400.0, 4.0), "known temperature"),
    ],
)
def test_out_of_range_is_refused_in_a_sentence(function, arguments, words):
    """Outside its range each function refuses and says what to look at."""
    with pytest.raises(OutOfRange, match=words):
        function(*arguments)
