"""What a board sees: the quick chain for the machines is the checked one of `parts.sensor_board`."""

import numpy
import pytest
from coldbench.control.reading import PULL_UP, believed_temperature, resistance_at_pins
from coldbench.operations import FLOATS
from coldbench.parts.sensor_board import board_reading
from hypothesis import given
from hypothesis import strategies as st

BETA = 3950.0


@given(st.floats(220.0, 380.0), st.floats(0.5, 2.0), st.floats(0.0, 1e5), st.floats(10.0, 1e12))
def test_the_quick_chain_is_the_checked_one(temperature, drift, series, leak):
    """Both give the same believed temperature, sound or drifted, with bad contacts and damp connectors."""
    ohms = resistance_at_pins(FLOATS, temperature, 10_000.0, BETA, drift, series, leak)
    found = believed_temperature(FLOATS, ohms, 10_000.0, BETA)
    checked = board_reading(
        temperature, PULL_UP, 10_000.0, BETA, series_resistance=series, leak_resistance=leak, drift=drift
    )
    # one count may fall to either side of its rounding: at most its width apart
    width = abs(
        believed_temperature(FLOATS, ohms * 1.02, 10_000.0, BETA)
        - believed_temperature(FLOATS, ohms * 0.98, 10_000.0, BETA)
    )
    assert abs(found - checked) <= 1e-9 or abs(found - checked) <= width


def test_a_broken_wire_reads_cold_and_a_bridge_reads_hot():
    """No branch for either: the ohms alone do it."""
    broken = resistance_at_pins(FLOATS, 277.0, 10_000.0, BETA, 1.0, 1e12, 1e12)
    bridged = resistance_at_pins(FLOATS, 277.0, 10_000.0, BETA, 1.0, 0.0, 1.0)
    assert believed_temperature(FLOATS, broken, 10_000.0, BETA) == pytest.approx(233.15)
    assert believed_temperature(FLOATS, bridged, 10_000.0, BETA) == pytest.approx(373.15)


def test_floats_and_arrays_agree():
    temperatures = numpy.array([240.0, 277.0, 300.0])
    ohms = resistance_at_pins(numpy, temperatures, 10_000.0, BETA, 1.0, 0.0, 1e12)
    found = believed_temperature(numpy, ohms, 10_000.0, BETA)
    alone = [
        believed_temperature(
            FLOATS, resistance_at_pins(FLOATS, one, 10_000.0, BETA, 1.0, 0.0, 1e12), 10_000.0, BETA
        )
        for one in temperatures.tolist()
    ]
    assert found == pytest.approx(alone)
