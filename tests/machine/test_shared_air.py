"""A coil's air from two boxes: what the coil draws is what both boxes lose."""

import pytest
from coldbench.machine.shared_air import FREEZER_ALONE, FRESH_FOOD_ALONE, as_constant, join, mixed
from hypothesis import given
from hypothesis import strategies as st

temperatures = st.floats(240.0, 300.0)
FLOW, SLOPE, CONSTANT = 12.0, 9.0, -2400.0  # [W/K], [W/K], [W]


def lost(share, fresh_food, freezer):
    """What each box loses to a coil at these temperatures [W]."""
    rows, right = [[0.0, 0.0], [0.0, 0.0]], [0.0, 0.0]
    join(rows, right, share, FLOW, SLOPE, CONSTANT)
    return [row[0] * fresh_food + row[1] * freezer - known for row, known in zip(rows, right, strict=True)]


@given(st.floats(0.0, 1.0), temperatures, temperatures)
def test_the_boxes_lose_what_the_coil_draws(share, fresh_food, freezer):
    """Heat balance of the mixture: neither share nor temperatures make or destroy any."""
    drawn = CONSTANT + SLOPE * mixed(share, fresh_food, freezer)
    assert sum(lost(share, fresh_food, freezer)) == pytest.approx(drawn, abs=1e-9)


@given(temperatures)
def test_boxes_that_are_alike_lose_by_their_shares(temperature):
    """Where both hold the same air nothing is carried from one to the other."""
    drawn = CONSTANT + SLOPE * temperature
    assert lost(0.15, temperature, temperature) == pytest.approx([0.15 * drawn, 0.85 * drawn], abs=1e-9)


@pytest.mark.parametrize(
    ("share", "alone", "other_box"), [(1.0, FRESH_FOOD_ALONE, 1), (0.0, FREEZER_ALONE, 0)]
)
def test_one_box_alone_is_the_end_of_the_range(share, alone, other_box):
    """The short way gives what the long one gives, and the other box loses nothing."""
    assert as_constant(share) is alone
    assert mixed(alone, 277.0, 255.0) == mixed(share, 277.0, 255.0)
    assert lost(alone, 277.0, 255.0) == pytest.approx(lost(share, 277.0, 255.0))
    assert lost(alone, 277.0, 255.0)[other_box] == 0.0
