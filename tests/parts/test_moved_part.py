"""Dampers and valves that move, or are stuck."""

import numpy as np
import pytest
from coldbench.errors import OutOfRange
from coldbench.parts.moved_part import position_reached
from hypothesis import given
from hypothesis import strategies as st

positions = st.floats(0.0, 1.0)


@given(positions, positions)
def test_a_stuck_part_does_not_hear_the_board(commanded, stuck):
    """One that moves stands where it is sent; a stuck one where it is stuck, shut included."""
    assert position_reached(commanded) == commanded
    assert position_reached(commanded, stuck) == stuck
    assert position_reached(np.array([commanded, commanded]), np.array([-1.0, stuck])).tolist() == [
        commanded,
        stuck,
    ]


def test_out_of_range_is_refused_in_a_sentence():
    with pytest.raises(OutOfRange, match=r"Half open is 0\.5"):
        position_reached(50.0)
    with pytest.raises(OutOfRange, match="that moves has -1"):
        position_reached(0.5, -2.0)
