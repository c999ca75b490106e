"""Heat paths: walls, covered surfaces, conductance both ways, edges."""

import numpy as np
import pytest
from coldbench.errors import OutOfRange
from coldbench.parts import wall
from hypothesis import given
from hypothesis import strategies as st

conductances = st.floats(0.01, 1e4)


@given(conductances, st.floats(200.0, 400.0), st.floats(0.1, 100.0))
def test_conductance_comes_back_from_the_heat_flow(conductance, cold, difference):
    """The heat that a conductance passes gives it back."""
    heat = wall.heat_flow(conductance, cold + difference, cold)
    assert wall.conductance_from_heat_flow(heat, cold + difference, cold) == pytest.approx(conductance)


@given(st.floats(1.0, 1000.0), st.floats(0.0001, 0.1), st.floats(0.02, 1.0))
def test_a_layer_only_hinders(coefficient, thickness, conductivity):
    """A covered surface passes less than a bare one, and less than the layer alone."""
    covered = wall.covered_surface_coefficient(coefficient, thickness, conductivity)
    assert covered < coefficient
    assert covered < wall.wall_conductance(1.0, thickness, conductivity)


def test_a_layer_without_thickness_changes_nothing():
    """No wrapping: the bare surface; a surface without resistance: the layer alone."""
    assert wall.covered_surface_coefficient(25.0, 0.0, 0.06) == pytest.approx(25.0)
    assert wall.covered_surface_coefficient(float("inf"), 0.01, 0.05) == pytest.approx(5.0)


def test_heat_turns_round_with_the_temperatures():
    """Where the cold side is the warmer one the heat flows the other way."""
    assert wall.heat_flow(2.0, 250.0, 300.0) == -100.0


@pytest.mark.parametrize(
    ("function", "array", "rest"),
    [
        (wall.wall_conductance, np.linspace(0.0, 5.0, 9), (0.05, 0.022)),
        (wall.covered_surface_coefficient, np.linspace(5.0, 50.0, 9), (0.001, 0.06)),
        (wall.heat_flow, np.linspace(0.0, 5.0, 9), (300.0, 275.0)),
        (wall.conductance_from_heat_flow, np.linspace(0.0, 90.0, 9), (300.0, 275.0)),
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
        (wall.wall_conductance, (-1.0, 0.05, 0.022), "area"),
        (wall.wall_conductance, (1.0, 50.0, 0.022), "Give metres"),
        (wall.wall_conductance, (1.0, 0.05, 0.0), "conductivity"),
        (wall.covered_surface_coefficient, (0.0, 0.001, 0.06), "heat transfer coefficient"),
        (wall.covered_surface_coefficient, (25.0, -0.001, 0.06), "thickness"),
        (wall.covered_surface_coefficient, (25.0, 0.001, 0.0), "conductivity"),
        (wall.heat_flow, (-1.0, 300.0, 275.0), "conductance"),
        (wall.heat_flow, (1.0, 25.0, 275.0), "warm temperature is 25 K"),
        (wall.heat_flow, (1.0, 300.0, 2.0), "cold temperature is 2 K"),
        (wall.conductance_from_heat_flow, (-1.0, 300.0, 275.0), "heat flow"),
        (wall.conductance_from_heat_flow, (1.0, 25.0, 275.0), "warm temperature"),
        (wall.conductance_from_heat_flow, (1.0, 300.0, 2.0), "cold temperature"),
        (wall.conductance_from_heat_flow, (1.0, 275.0, 300.0), "from the warm to the cold side only"),
    ],
)
def test_out_of_range_is_refused_in_a_sentence(function, arguments, words):
    """Outside its range each function refuses and says what to look at."""
    with pytest.raises(OutOfRange, match=words):
        function(*arguments)
