"""Freezing time by Plank's equation: against a layer frozen step by step, shapes, edges."""

import numpy as np
import pytest
from coldbench.errors import CannotRead, OutOfRange
from coldbench.properties.freezing_time import FOREVER, one_sided_freezing_time, plank_freezing_time
from hypothesis import given
from hypothesis import strategies as st

MEAT = (1050.0, 250e3, 272.15, 253.15)
thicknesses = st.floats(0.005, 0.2)
coefficients = st.floats(5.0, 500.0)


@given(thicknesses, coefficients)
def test_a_slab_is_two_layers_back_to_back(thickness, coefficient):
    """A slab cooled on both sides freezes as a layer of half its thickness does."""
    slab = plank_freezing_time(*MEAT, thickness, coefficient, 1.5)
    assert slab == pytest.approx(one_sided_freezing_time(*MEAT, thickness / 2, coefficient, 1.5))


@given(thicknesses, coefficients)
def test_twice_as_thick_takes_two_to_four_times_as_long(thickness, coefficient):
    """Between the limit of a poor surface (twice) and that of a poor conductor (four times)."""
    once = plank_freezing_time(*MEAT, thickness, coefficient, 1.5)
    assert 2 <= plank_freezing_time(*MEAT, 2 * thickness, coefficient, 1.5) / once <= 4


@pytest.mark.parametrize("coefficient", [10.0, 50.0, FOREVER])
def test_a_layer_frozen_step_by_step_takes_as_long(coefficient):
    """Adding a thin layer of ice at a time, each with the heat flow of that moment, gives the same time."""
    thickness, steps = 0.020, 20_000
    layer = thickness / steps
    time = 0.0
    for step in range(steps):
        resistance = 1 / coefficient + (step + 0.5) * layer / 2.2
        time += 917.0 * 333.4e3 * layer * resistance / 18.0
    found = one_sided_freezing_time(917.0, 333.4e3, 273.15, 255.15, thickness, coefficient, 2.2)
    assert found == pytest.approx(time, rel=1e-6)


@given(thicknesses, coefficients)
def test_round_bodies_freeze_sooner(thickness, coefficient):
    """A sphere freezes before a cylinder, and that before a slab as thick."""
    slab, cylinder, sphere = (
        plank_freezing_time(*MEAT, thickness, coefficient, 1.5, shape)
        for shape in ("slab", "cylinder", "sphere")
    )
    assert sphere < cylinder < slab


def test_arrays_and_floats_agree():
    """An array goes through the same equation as each of its floats, and a float gives a float."""
    array = np.linspace(0.01, 0.2, 9)
    one_by_one = [plank_freezing_time(*MEAT, float(thickness), 20.0, 1.5) for thickness in array]
    assert all(type(value) is float for value in one_by_one)
    np.testing.assert_allclose(plank_freezing_time(*MEAT, array, 20.0, 1.5), one_by_one, rtol=1e-13)


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ((10.0, 250e3, 272.15, 253.15, 0.1, 20.0, 1.5), "density"),
        ((1050.0, 250.0, 272.15, 253.15, 0.1, 20.0, 1.5), "latent heat of fusion"),
        ((1050.0, 250e3, 300.0, 253.15, 0.1, 20.0, 1.5), "freezing temperature"),
        ((1050.0, 250e3, 272.15, -18.0, 0.1, 20.0, 1.5), "air temperature"),
        ((1050.0, 250e3, 253.15, 272.15, 0.1, 20.0, 1.5), "unless it is colder"),
        ((1050.0, 250e3, 272.15, 253.15, 100.0, 20.0, 1.5), "Give metres"),
        ((1050.0, 250e3, 272.15, 253.15, 0.1, 0.0, 1.5), "heat transfer coefficient"),
        ((1050.0, 250e3, 272.15, 253.15, 0.1, 20.0, 0.0), "conductivity"),
    ],
)
@pytest.mark.parametrize("function", [plank_freezing_time, one_sided_freezing_time])
def test_out_of_range_is_refused_in_a_sentence(function, arguments, words):
    """Outside its range each function refuses and says what to look at."""
    with pytest.raises(OutOfRange, match=words):
        function(*arguments)


def test_a_shape_without_factors_is_refused():
    """A shape that Plank's equation has no factors for is refused, with those it has."""
    with pytest.raises(CannotRead, match=r"'cube'.*slab, cylinder, sphere"):
        plank_freezing_time(*MEAT, 0.1, 20.0, 1.5, "cube")
