"""What the board believes: sound, open, short, drifted, wet, loose; its own heat; its tolerances."""

import math

import numpy as np
import pytest
from coldbench.errors import OutOfRange
from coldbench.parts import sensor_board as board
from coldbench.parts.sensor_circuit import converter_counts, divider_voltage, sensor_temperature
from coldbench.parts.thermistor import beta_resistance, beta_temperature
from hypothesis import given
from hypothesis import strategies as st

SENSOR = (10_000.0, 10_000.0, 3435.0)  # pull-up [Ohm], resistance at 25 °C [Ohm], B [K]; invented


@given(st.floats(234.0, 353.0))
def test_a_sound_sensor_reads_true_within_half_a_count(temperature):
    """Through divider and 10-bit converter the board is as near as half a count allows."""
    half = board.temperature_tolerance(temperature, 10_000, 3435, 10_000, 0, 0, 0).converter
    assert board.board_reading(temperature, *SENSOR) == pytest.approx(temperature, abs=1.05 * half)


@pytest.mark.parametrize(
    ("fault", "reading"),
    [({"series_resistance": math.inf}, 233.15), ({"leak_resistance": 0.1}, 373.15)],
)
def test_open_reads_coldest_and_short_reads_warmest(fault, reading):
    """Open reads as the cold end of the table, short as its warm end. Common practice, no source."""
    assert board.board_reading(275.0, *SENSOR, **fault) == pytest.approx(reading, abs=1e-6)


def test_a_wet_connector_reads_warmer_the_colder_the_sensor():
    """A leak hides a cold sensor's many ohms more than a warm one's few."""
    errors = [board.board_reading(t, *SENSOR, leak_resistance=50_000) - t for t in (253.15, 273.15, 293.15)]
    assert errors[0] > errors[1] > errors[2] > 0


def test_a_corroded_contact_reads_colder_and_drift_follows_its_factor():
    """More ohms read colder; 10 % more ohms are T²/B times ln 1.1. Source: derivative of the B curve."""
    assert board.board_reading(275.0, *SENSOR, series_resistance=3_000) < 274.0
    shift = board.board_reading(275.0, *SENSOR, bits=20, drift=1.1) - 275.0
    assert shift == pytest.approx(-(275.0**2) / 3435 * math.log(1.1), rel=0.02)


def test_a_loose_coil_sensor_reads_the_air():
    """Off its pipe the coil sensor reads warmer than the coil: the board ends a defrost too early."""
    seen = board.board_reading(sensor_temperature(248.15, 258.15, contact=0.1), *SENSOR)
    assert 256.0 < seen < 258.5


def test_board_takes_arrays_of_counts_as_it_takes_floats():
    """All counts of a 10-bit converter, ends included, both ways."""
    counts = np.arange(0.0, 1024.0)
    one_by_one = [board.board_temperature(float(n), *SENSOR) for n in counts]
    np.testing.assert_allclose(board.board_temperature(counts, *SENSOR), one_by_one, rtol=1e-13)
    assert all(np.diff(one_by_one) <= 0)


@given(st.floats(100.0, 1e6), st.floats(100.0, 1e6), st.floats(0.5, 24.0))
def test_sensor_heats_most_where_it_equals_the_pull_up(resistance, pull_up, supply):
    """Power is greatest at equal ohms, where it is U²/(4 R). Source: maximum power transfer, Ohm's law."""
    most = board.sensor_power(pull_up, pull_up, supply)
    assert most == pytest.approx(supply**2 / (4 * pull_up))
    assert board.sensor_power(resistance, pull_up, supply) <= most * (1 + 1e-12)
    volts = divider_voltage(resistance, pull_up, supply)
    assert board.sensor_power(resistance, pull_up, supply) == pytest.approx(volts**2 / resistance)


def test_an_open_sensor_does_not_heat_and_moving_air_cools():
    """No current, no heat; four times the dissipation, a quarter of the self-heating."""
    assert board.sensor_power(math.inf, 10_000, 5.0) == 0
    still = board.self_heating(10_000, 10_000, 5.0, 0.002)
    assert board.self_heating(10_000, 10_000, 5.0, 0.008) == pytest.approx(still / 4)


@given(st.floats(240.0, 330.0), st.floats(0.001, 0.03), st.floats(0.001, 0.03), st.floats(0.001, 0.03))
def test_tolerance_links_agree_with_doing_it_to_the_parts(temperature, of_resistance, of_beta, of_pull_up):
    """Each link is what the true curve shows when that part alone is off, to 6 % (first order of ±3 %)."""
    chain = board.temperature_tolerance(temperature, 1e4, 3435.0, 1e4, of_resistance, of_beta, of_pull_up)
    ohms = beta_resistance(temperature, 1e4 * (1 + of_resistance), 3435.0)
    assert abs(beta_temperature(ohms, 1e4, 3435.0) - temperature) == pytest.approx(
        chain.resistance_25, rel=0.06
    )
    ohms = beta_resistance(temperature, 1e4, 3435.0 * (1 + of_beta))
    assert abs(beta_temperature(ohms, 1e4, 3435.0) - temperature) == pytest.approx(
        chain.beta, rel=0.06, abs=1e-9
    )
    share = divider_voltage(beta_resistance(temperature, 1e4, 3435.0), 1e4 * (1 + of_pull_up), 1.0)
    seen = beta_temperature(1e4 * share / (1 - share), 1e4, 3435.0)
    assert abs(seen - temperature) == pytest.approx(chain.pull_up_resistance, rel=0.06)


def test_half_a_count_is_the_converter_link():
    """Half a count more or less moves the temperature by the converter's link."""
    ohms = beta_resistance(255.15, 1e4, 3435.0)
    share = divider_voltage(ohms, 1e4, 1.0) + 0.5 / 1023
    moved = beta_temperature(1e4 * share / (1 - share), 1e4, 3435.0)
    link = board.temperature_tolerance(255.15, 1e4, 3435.0, 1e4, 0, 0, 0).converter
    assert 255.15 - moved == pytest.approx(link, rel=0.01)
    assert converter_counts(share, 1.0) - converter_counts(share - 1 / 1023, 1.0) == 1


def test_worst_case_and_root_sum_square():
    """The worst case adds the links, the root sum square adds their squares. Source: JCGM 100:2008, 5.1.2."""
    chain = board.ToleranceChain(3.0, 4.0, 0.0, 12.0)
    assert chain.worst_case == 19.0
    assert chain.root_sum_square == 13.0
    many = board.temperature_tolerance(np.array([255.0, 298.15]), 1e4, 3435.0, 1e4, 0.01, 0.01, 0.01)
    assert many.root_sum_square.shape == (2,)
    assert many.beta[1] == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize(
    ("function", "arguments", "words"),
    [
        (board.board_temperature, (1024, *SENSOR), "counts"),
        (board.board_temperature, (-1, *SENSOR), "counts"),
        (board.board_reading, (20.0, *SENSOR), "temperature is 20 K"),
        (board.sensor_power, (100.0, 100.0, 230.0), "a few volts"),
        (board.self_heating, (1e4, 1e4, 5.0, 2.0), "2 mW/K is 0.002"),
        (board.temperature_tolerance, (273.15, 1e4, 3435.0, 1e4, 1.0, 0.01, 0.01), "1 % is 0.01"),
    ],
)
def test_out_of_range_is_refused_in_a_sentence(function, arguments, words):
    """Outside its range each function refuses and says what it expected."""
    with pytest.raises(OutOfRange, match=words):
        function(*arguments)
