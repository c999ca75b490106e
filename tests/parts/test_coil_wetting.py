"""Coil from inside: wet share, conductance of a part-wet coil, vapour warmed in dry tubes."""

import math

import numpy as np
import pytest
from coldbench.errors import OutOfRange
from coldbench.operations import FLOATS
from coldbench.parts.coil_wetting import boiling_conductance, vapor_warming, wet_share, wet_share_of
from hypothesis import given
from hypothesis import strategies as st

conductances = st.floats(0.5, 100.0)


@given(st.floats(0.0, 1.0), conductances, conductances)
def test_a_coil_gives_heat_with_its_wet_part(wet, outside, inside):
    """In series with its air the part-wet coil passes just the wet share of what the whole one would.

    Source: resistances to heat in series, any textbook of heat transfer.
    """
    found = boiling_conductance(wet, outside, inside)
    whole = 1 / (1 / outside + 1 / inside)
    assert outside * found / (outside + found) == pytest.approx(wet * whole, abs=1e-12)


@given(st.floats(0.0, 1.2), st.integers(1, 12))
def test_zones_together_are_as_wet_as_the_coil(filling, zones):
    """Liquid fills the zones in their order; their mean is the coil's wet share."""
    parts = [wet_share_of(FLOATS, filling * zones, ahead) for ahead in range(zones)]
    assert parts == sorted(parts, reverse=True)
    assert sum(parts) / zones == pytest.approx(wet_share(filling * 0.016, 0.016))


@pytest.mark.parametrize("units", [0.01, 0.6, 3.0])
def test_many_zones_warm_vapour_as_a_long_tube_does(units):
    """Zones in a row tend to 1 - exp(-N), and one zone stays below.

    Source: tube with a wall of one temperature, any textbook of heat transfer.
    """
    flow, heat_capacity, cold, metal = 0.0005, 1600.0, 247.15, 257.15
    conductance = units * flow * heat_capacity
    tube = (metal - cold) * (1 - math.exp(-units))
    assert vapor_warming(cold, metal, conductance, flow, heat_capacity) <= tube
    vapor = cold
    for _ in range(2000):
        vapor += vapor_warming(vapor, metal, conductance / 2000, flow, heat_capacity)
    assert vapor - cold == pytest.approx(tube, rel=2e-3)


def test_arrays_and_floats_agree():
    """An array goes through the same equations as each of its floats, and a float gives a float."""
    shares = np.array([0.0, 0.3, 1.0])
    one_by_one = [boiling_conductance(float(one), 22.0, 50.0) for one in shares]
    assert all(type(one) is float for one in one_by_one)
    assert boiling_conductance(shares, 22.0, 50.0).tolist() == one_by_one
    assert wet_share(np.array([0.004, 0.02]), 0.016).tolist() == [wet_share(0.004, 0.016), 1.0]


@pytest.mark.parametrize(
    ("function", "arguments", "words"),
    [
        (wet_share, (16.0, 0.016), "Sixteen grams"),
        (wet_share, (0.008, 0.0), "holding"),
        (boiling_conductance, (50.0, 22.0, 50.0), "Half wet is 0.5"),
        (boiling_conductance, (0.5, 0.0, 50.0), "outside conductance"),
        (boiling_conductance, (0.5, 22.0, 0.0), "refrigerant conductance"),
        (vapor_warming, (-26.0, 257.15, 1.0, 0.0005, 1600.0), "vapor temperature"),
        (vapor_warming, (247.15, -16.0, 1.0, 0.0005, 1600.0), "surface temperature"),
        (vapor_warming, (247.15, 257.15, -1.0, 0.0005, 1600.0), "conductance"),
        (vapor_warming, (247.15, 257.15, 1.0, 0.5, 1600.0), "gram a second"),
        (vapor_warming, (247.15, 257.15, 1.0, 0.0005, 1.6), "vapor heat capacity"),
    ],
)
def test_out_of_range_is_refused_in_a_sentence(function, arguments, words):
    with pytest.raises(OutOfRange, match=words):
        function(*arguments)
