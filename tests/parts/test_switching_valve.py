"""Switching valve: which capillary, which coil; what is refused."""

import numpy as np
import pytest
from coldbench.errors import OutOfRange
from coldbench.parts.capillary import capillary_flow
from coldbench.parts.switching_valve import capillary_length_in_use, flow_through_first_coil
from hypothesis import given
from hypothesis import strategies as st


@given(st.floats(0.0, 0.1), st.floats(0.0, 1.0))
def test_what_does_not_meet_the_first_coil_passes_it(flow, position):
    """The two ways together carry the whole flow."""
    passed = flow - flow_through_first_coil(flow, position)
    assert passed == pytest.approx(flow * position, abs=1e-15)


def test_each_position_has_its_capillary():
    """At its two ends the valve feeds one capillary alone, and the longer of the two lets less through."""
    lengths = capillary_length_in_use(np.array([0.0, 1.0]), 2.6, 3.4)
    assert lengths.tolist() == [2.6, 3.4]
    flows = capillary_flow("R-600a", 0.66e-3, lengths, 317.15, 60e3, subcooling=5.0)
    assert flows[0] > flows[1] > 0.8 * flows[0]


@pytest.mark.parametrize(
    ("function", "arguments", "words"),
    [
        (capillary_length_in_use, (2.0, 2.6, 3.4), "0 is series"),
        (capillary_length_in_use, (0.0, 260.0, 3.4), "length"),
        (capillary_length_in_use, (0.0, 2.6, 340.0), "bypass length"),
        (flow_through_first_coil, (0.5, 0.0), "gram a second"),
        (flow_through_first_coil, (0.0005, -1.0), "valve position"),
    ],
)
def test_out_of_range_is_refused_in_a_sentence(function, arguments, words):
    with pytest.raises(OutOfRange, match=words):
        function(*arguments)
