"""Coil: air over cold metal, frost in its way, vapour over its surface."""

import numpy
import pytest
from coldbench.errors import OutOfRange
from coldbench.parts.coil import (
    air_outlet_temperature,
    coil_effectiveness,
    conductance_at_flow,
    frosted_conductance,
    frosted_flow,
    surface_humidity_ratio,
)
from coldbench.parts.wall import wall_conductance
from coldbench.properties import moist_air


def test_outlet_lies_between_air_and_metal():
    found = air_outlet_temperature(255.15, 247.15, 22.0, numpy.array([0.001, 0.018, 0.1]))
    assert (numpy.diff(found) > 0).all() and found[0] >= 247.15 and found[-1] < 255.15


def test_effectiveness_is_one_minus_exp_of_transfer_units():
    """Source: definition for a surface at one temperature, any textbook of heat transfer."""
    assert coil_effectiveness(1006.0 * 0.01, 0.01) == pytest.approx(1 - numpy.exp(-1))


def test_conductance_follows_a_power_of_the_flow():
    """Rated at its rated flow; ten times the flow gives 10^0.6 times as much (exponent from memory)."""
    found = conductance_at_flow(22.0, numpy.array([0.1, 1.0]))
    assert found[1] == 22.0 and found[1] / found[0] == pytest.approx(10**0.6)


def test_frost_is_a_wall_in_series():
    """A kilogram on 2 m2 is a slab of that thickness: its conductance and the air's stand in series.

    Source: Fourier's law for a flat wall, through `wall_conductance`.
    """
    slab = wall_conductance(2.0, 1.0 / (220.0 * 2.0), 0.16)
    assert frosted_conductance(22.0, 1.0, 2.0) == pytest.approx(1 / (1 / 22.0 + 1 / slab))
    assert frosted_conductance(22.0, 0.0, 2.0) == 22.0


def test_frost_closes_slowly_then_at_once():
    """The first half of the frost costs less flow than the last tenth: the cliff comes late."""
    flow = frosted_flow(numpy.array([0.0, 0.3, 0.5, 0.56]), 0.0029)
    assert flow[0] == 1.0 and (numpy.diff(flow) < 0).all()
    assert flow[1] > 0.6 and flow[3] < 0.35


@pytest.mark.parametrize("celsius", [-39.9, -25.0, -10.0, -0.1, 0.1, 10.0, 25.0, 45.0])
def test_surface_vapour_agrees_with_the_ashrae_equations(celsius):
    """Source: ASHRAE Handbook, Fundamentals (2017), chapter 1, equations 5 and 6, through `moist_air`."""
    found = surface_humidity_ratio(celsius + 273.15)
    assert found == pytest.approx(moist_air.humidity_ratio(celsius + 273.15, 1.0), rel=0.007)


def test_what_is_refused():
    with pytest.raises(OutOfRange, match="still"):
        coil_effectiveness(22.0, 0.0)
    with pytest.raises(OutOfRange):
        surface_humidity_ratio(200.0)
    with pytest.raises(OutOfRange):
        frosted_flow(-1.0, 0.0029)
    with pytest.raises(OutOfRange, match="still"):
        conductance_at_flow(22.0, 0.0)
    with pytest.raises(OutOfRange, match="frost mass"):
        frosted_conductance(22.0, -1.0, 2.0)
    with pytest.raises(OutOfRange, match="area"):
        frosted_conductance(22.0, 1.0, 0.0)
