"""Door: the exchange that the boxes' own cold drives."""

import pytest
from coldbench.errors import OutOfRange
from coldbench.parts.door import door_air_flow


def test_flow_grows_with_height_to_the_three_halves_and_with_the_root_of_the_difference():
    """Source: form of Brown, Wilson and Solvason (1963), from memory."""
    flow = door_air_flow(0.6, 1.0, 277.15, 298.15)
    assert door_air_flow(0.6, 2.0, 277.15, 298.15) == pytest.approx(flow * 2**1.5)
    assert door_air_flow(0.6, 1.0, 292.90, 298.15) == pytest.approx(flow / 2)


def test_equal_temperatures_exchange_nothing_and_ovens_are_refused():
    assert door_air_flow(0.6, 1.0, 298.15, 298.15) == 0.0
    with pytest.raises(OutOfRange):
        door_air_flow(0.6, 1.0, 400.0, 298.15)
