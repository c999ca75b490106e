"""Wiring, divider and converter: both ways, and faults that are only ohms."""

import math

import numpy as np
import pytest
from coldbench.errors import OutOfRange
from coldbench.parts import sensor_circuit as circuit
from hypothesis import given
from hypothesis import strategies as st

resistances = st.floats(1.0, 1e7)
pull_ups = st.floats(100.0, 1e6)
supplies = st.floats(0.5, 24.0)


@given(resistances, pull_ups, supplies)
def test_divider_returns_to_the_resistance(resistance, pull_up, supply):
    """Volts of a resistance give that resistance back."""
    volts = circuit.divider_voltage(resistance, pull_up, supply)
    assert 0 < volts < supply
    assert circuit.resistance_from_voltage(volts, pull_up, supply) == pytest.approx(resistance, rel=1e-9)


@given(resistances, pull_ups, supplies, st.integers(4, 24))
def test_counts_are_whole_and_within_half_a_count(resistance, pull_up, supply, bits):
    """The converter gives a whole number whose voltage is within half a count of the true one."""
    volts = circuit.divider_voltage(resistance, pull_up, supply)
    counts = circuit.converter_counts(volts, supply, bits)
    assert counts == int(counts)
    step = supply / (2**bits - 1)
    assert abs(circuit.voltage_from_counts(counts, supply, bits) - volts) <= 0.5 * step * (1 + 1e-7)


@given(st.integers(1, 1022), pull_ups, supplies)
def test_counts_return_through_the_resistance(counts, pull_up, supply):
    """Each count has a resistance that gives the same count, whatever the supply: it cancels out."""
    ohms = circuit.resistance_from_counts(counts, pull_up)
    assert circuit.converter_counts(circuit.divider_voltage(ohms, pull_up, supply), supply) == counts


@given(resistances, st.floats(0, 1e6), st.floats(0.1, 1e7))
def test_a_leak_lowers_and_a_bad_contact_raises_the_resistance(resistance, series, leak):
    """Series resistance never lowers, a parallel path never raises; both paths bound the result."""
    rounding = 1 + 1e-12
    assert circuit.wired_resistance(resistance, series_resistance=series) * rounding >= resistance
    wet = circuit.wired_resistance(resistance, leak_resistance=leak)
    assert wet <= min(resistance, leak) * rounding


@given(resistances)
def test_a_sound_sensor_is_seen_as_it_is(resistance):
    """Without series, leak or drift the board sees the sensor's own ohms."""
    assert circuit.wired_resistance(resistance) == pytest.approx(resistance, rel=1e-14)


def test_open_and_short_reach_the_ends_of_the_converter():
    """A broken wire gives full scale, a short gives zero counts; nobody told the converter which."""
    broken = circuit.wired_resistance(10_000, series_resistance=math.inf)
    assert circuit.converter_counts(circuit.divider_voltage(broken, 10_000, 5.0), 5.0) == 1023
    short = circuit.wired_resistance(10_000, leak_resistance=0.1)
    assert circuit.converter_counts(circuit.divider_voltage(short, 10_000, 5.0), 5.0) == 0


def test_a_broken_wire_in_a_wet_connector_shows_the_water():
    """Two faults at once: only the leak is left."""
    assert circuit.wired_resistance(1e4, series_resistance=math.inf, leak_resistance=4e4) == pytest.approx(
        4e4
    )


def test_drift_is_a_factor_on_the_sensor_alone():
    """A sensor that aged to 1.2 times its ohms, in sound wiring."""
    assert circuit.wired_resistance(10_000, drift=1.2) == pytest.approx(12_000)


@given(st.floats(213.15, 423.15), st.floats(213.15, 423.15), st.floats(0, 1))
def test_a_loose_sensor_lies_between_surface_and_air(surface, air, contact):
    """Clamped it reads the surface, hanging it reads the air, else something between."""
    found = circuit.sensor_temperature(surface, air, contact)
    assert min(surface, air) - 1e-9 <= found <= max(surface, air) + 1e-9
    assert circuit.sensor_temperature(surface, air) == pytest.approx(surface)
    assert circuit.sensor_temperature(surface, air, 0.0) == air


OHMS = np.geomspace(200.0, 1e6, 30)
VOLTS = np.linspace(0.01, 4.99, 30)
COUNTS = np.arange(1.0, 1023.0, 37.0)


@pytest.mark.parametrize(
    ("function", "array", "rest"),
    [
        (circuit.wired_resistance, OHMS, (100.0, 1e5, 1.1)),
        (circuit.wired_resistance, OHMS, (math.inf,)),
        (circuit.divider_voltage, OHMS, (10_000, 5.0)),
        (circuit.resistance_from_voltage, VOLTS, (10_000, 5.0)),
        (circuit.converter_counts, VOLTS, (5.0,)),
        (circuit.voltage_from_counts, COUNTS, (5.0,)),
        (circuit.resistance_from_counts, COUNTS, (10_000,)),
        (circuit.sensor_temperature, np.linspace(240.0, 300.0, 9), (280.0, 0.5)),
    ],
)
def test_arrays_and_floats_agree(function, array, rest):
    """An array goes through the same equations as each of its floats."""
    one_by_one = [function(float(value), *rest) for value in array]
    np.testing.assert_allclose(function(array, *rest), one_by_one, rtol=1e-13)


@pytest.mark.parametrize(
    ("function", "arguments", "words"),
    [
        (circuit.wired_resistance, (0.0,), "resistance is 0"),
        (circuit.wired_resistance, (100.0, -1.0), "series resistance"),
        (circuit.wired_resistance, (100.0, 0.0, 0.0), "A short is about"),
        (circuit.wired_resistance, (100.0, 0.0, 100.0, 0.0), "sound sensor"),
        (circuit.sensor_temperature, (300.0, 300.0, 1.1), "contact"),
        (circuit.sensor_temperature, (20.0, 300.0), "temperature is 20 K"),
        (circuit.divider_voltage, (0.0, 10_000, 5.0), "An open circuit"),
        (circuit.divider_voltage, (100.0, 0.0, 5.0), "pull up resistance"),
        (circuit.divider_voltage, (100.0, 100.0, 120.0), "a few volts"),
        (circuit.resistance_from_voltage, (0.0, 10_000, 5.0), "at 1 it is open"),
        (circuit.resistance_from_voltage, (5.0, 10_000, 5.0), "at 1 it is open"),
        (circuit.resistance_from_voltage, (1.0, 0.5, 5.0), "pull up resistance"),
        (circuit.converter_counts, (5.1, 5.0), "share of the supply"),
        (circuit.converter_counts, (1.0, 5.0, 40), "bits"),
        (circuit.voltage_from_counts, (1024, 5.0), "counts"),
        (circuit.resistance_from_counts, (0, 10_000), "means a short"),
        (circuit.resistance_from_counts, (1023, 10_000), "full scale an open"),
    ],
)
def test_out_of_range_is_refused_in_a_sentence(function, arguments, words):
    """Outside its range each function refuses and says what it expected."""
    with pytest.raises(OutOfRange, match=words):
        function(*arguments)
