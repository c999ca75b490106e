"""Suction line at the capillary: heat against the logarithmic mean; what is refused."""

import math

import numpy as np
import pytest
from coldbench.errors import OutOfRange
from coldbench.parts.suction_line import suction_line_exchange
from hypothesis import given
from hypothesis import strategies as st


@given(st.floats(0.2, 4.0), st.floats(0.3, 0.9), st.floats(285.0, 330.0), st.floats(240.0, 280.0))
def test_exchange_agrees_with_a_counterflow_exchanger(units, ratio, liquid, vapor):
    """Heat by the effectiveness is conductance times the logarithmic mean difference.

    Source: counterflow exchanger, effectiveness from the number of transfer units N and the ratio of heat
    capacities c, ε = (1 - e^(-N(1-c))) / (1 - c e^(-N(1-c))), any textbook of heat transfer.
    """
    vapor_heat_capacity = 1600.0
    decay = math.exp(-units * (1 - ratio))
    heat = suction_line_exchange((1 - decay) / (1 - ratio * decay), liquid, vapor, vapor_heat_capacity)
    warm_end = liquid - (vapor + heat / vapor_heat_capacity)
    cold_end = (liquid - heat * ratio / vapor_heat_capacity) - vapor
    mean = (warm_end - cold_end) / math.log(warm_end / cold_end)
    assert heat == pytest.approx(units * vapor_heat_capacity * mean, rel=1e-6)


def test_the_vapour_comes_no_nearer_than_to_the_liquid():
    """At effectiveness 1 the vapour ends as warm as the liquid comes in, at 0 as cold as it was."""
    heats = suction_line_exchange(np.array([0.0, 0.8, 1.0]), 309.15, 247.15, 1600.0)
    assert (247.15 + heats / 1600.0).tolist() == pytest.approx([247.15, 247.15 + 0.8 * 62.0, 309.15])


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ((80.0, 309.15, 247.15, 1600.0), "80 % is 0.8"),
        ((0.8, 36.0, 247.15, 1600.0), "line temperature"),
        ((0.8, 309.15, -26.0, 1600.0), "vapor temperature"),
        ((0.8, 309.15, 247.15, 1.6), "vapor heat capacity"),
    ],
)
def test_out_of_range_is_refused_in_a_sentence(arguments, words):
    with pytest.raises(OutOfRange, match=words):
        suction_line_exchange(*arguments)
