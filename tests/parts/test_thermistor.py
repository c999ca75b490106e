"""Thermistor curves: both ways, from two points, fitted; floats and arrays; edges."""

import math
from itertools import pairwise

import numpy as np
import pytest
from coldbench.errors import CannotRead, OutOfRange
from coldbench.parts import thermistor
from hypothesis import assume, given
from hypothesis import strategies as st

temperatures = st.floats(213.15, 423.15)
nominal = st.floats(1.0, 1e7)
betas = st.floats(1000.0, 8000.0)

# Published coefficients [1/K]: rows C-NTC-011 and C-NTC-013 of tests/outside/checks.csv.
CURVES = [(1.40e-3, 2.37e-4, 9.90e-8), (1.129148e-3, 2.34125e-4, 8.76741e-8)]


@given(temperatures, nominal, betas)
def test_beta_curve_returns_to_the_temperature(temperature, resistance_25, beta):
    """Ohms of a temperature give that temperature back, over the whole range."""
    ohms = thermistor.beta_resistance(temperature, resistance_25, beta)
    assert thermistor.beta_temperature(ohms, resistance_25, beta) == pytest.approx(temperature, abs=1e-9)


@given(temperatures, nominal, betas)
def test_beta_curve_falls_as_it_warms(temperature, resistance_25, beta):
    """Warmer means fewer ohms."""
    assume(temperature < 422.0)
    ohms = thermistor.beta_resistance(temperature, resistance_25, beta)
    assert thermistor.beta_resistance(temperature + 1.0, resistance_25, beta) < ohms


@given(nominal, betas)
def test_beta_curve_passes_through_its_nominal_resistance(resistance_25, beta):
    """At 25 °C the resistance is the nominal one. Source: IEC 60539-1, definition."""
    assert thermistor.beta_resistance(298.15, resistance_25, beta) == pytest.approx(resistance_25, rel=1e-12)


@given(temperatures, temperatures, nominal, betas)
def test_beta_comes_back_from_two_points(first, second, resistance_25, beta):
    """Two readings of a B curve give its B."""
    assume(abs(first - second) > 1.0 and 1001 < beta < 7999)
    ohms = [thermistor.beta_resistance(t, resistance_25, beta) for t in (first, second)]
    assert thermistor.beta_from_two_points(first, ohms[0], second, ohms[1]) == pytest.approx(beta, rel=1e-8)


@pytest.mark.parametrize("curve", CURVES)
@given(temperature=temperatures)
def test_steinhart_hart_returns_to_the_temperature(curve, temperature):
    """Ohms of a temperature give that temperature back."""
    ohms = thermistor.steinhart_hart_resistance(temperature, *curve)
    assert thermistor.steinhart_hart_temperature(ohms, *curve) == pytest.approx(temperature, abs=1e-9)


@given(temperatures, st.floats(5e-4, 2e-3), st.floats(1.5e-4, 4e-4), st.floats(-5e-8, 1e-6))
def test_steinhart_hart_inverse_over_many_coefficients(temperature, a, b, c):
    """The inverse holds for the coefficients of common sensors; where there is none, it is refused."""
    try:
        ohms = thermistor.steinhart_hart_resistance(temperature, a, b, c)
    except OutOfRange:
        assume(False)
    assert thermistor.steinhart_hart_temperature(ohms, a, b, c) == pytest.approx(temperature, abs=2e-6)


@given(temperatures, nominal, betas)
def test_steinhart_hart_without_its_cube_is_the_beta_curve(temperature, resistance_25, beta):
    """With c = 0 the two curves are one: a = 1/298.15 - ln(R25)/B, b = 1/B."""
    a, b = 1 / 298.15 - math.log(resistance_25) / beta, 1 / beta
    expected = thermistor.beta_resistance(temperature, resistance_25, beta)
    assert thermistor.steinhart_hart_resistance(temperature, a, b, 0.0) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize("curve", CURVES)
@given(points=st.lists(temperatures, min_size=4, max_size=12))
def test_fit_finds_the_curve_of_exact_readings(curve, points):
    """Readings taken from a curve give that curve back within their span."""
    points = sorted(points)
    assume(all(high - low > 4.0 for low, high in pairwise(points)))
    ohms = [thermistor.steinhart_hart_resistance(t, *curve) for t in points]
    found = thermistor.fit_steinhart_hart(points, ohms)
    middle = (points[0] + points[-1]) / 2
    between = thermistor.steinhart_hart_resistance(middle, *curve)
    assert thermistor.steinhart_hart_temperature(between, *found) == pytest.approx(middle, abs=1e-6)


def test_fit_is_least_squares_in_kelvin():
    """No small change of a coefficient brings the curve nearer to noisy readings."""
    kelvin = np.array([255.0, 265.0, 273.0, 283.0, 295.0, 310.0, 330.0])
    ohms = thermistor.steinhart_hart_resistance(kelvin, *CURVES[1]) * (1 + 0.01 * np.sin(7 * kelvin))
    best = np.array(thermistor.fit_steinhart_hart(kelvin, ohms))

    def misfit(coefficients):
        logarithm = np.log(ohms)
        inverse = coefficients[0] + coefficients[1] * logarithm + coefficients[2] * logarithm**3
        return float(np.sum((kelvin**2 * (1 / kelvin - inverse)) ** 2))

    for step in np.vstack([np.eye(3), -np.eye(3)]) * 1e-4:
        assert misfit(best * (1 + step)) > misfit(best)


def test_standard_error_covers_the_truth_as_often_as_it_says():
    """Over 400 noisy sets of readings the true curve lies within one standard error as often as it should."""
    generator = np.random.default_rng(5)
    kelvin = np.array([253.0, 263.0, 273.15, 283.0, 295.0, 310.0, 325.0])
    exact = thermistor.steinhart_hart_resistance(kelvin, *CURVES[1])
    ohms = float(thermistor.steinhart_hart_resistance(268.0, *CURVES[1]))
    squares = []
    for _ in range(400):
        fit = thermistor.fit_steinhart_hart_with_uncertainty(kelvin + generator.normal(0, 0.2, 7), exact)
        squares.append(((fit.temperature(ohms) - 268.0) / fit.standard_error(ohms)) ** 2)
    # Student's t with 7 - 3 degrees of freedom: 62.6 % lie within one; 400 sets leave 7.3 % at 3 sigma.
    assert np.mean(np.array(squares) < 1) == pytest.approx(0.626, abs=0.073)


def test_fit_with_uncertainty_names_the_same_coefficients():
    """Both fits agree, the scatter is that of the readings, and beyond the readings the error grows."""
    kelvin = [263.15, 273.15, 283.15, 295.15, 310.15]
    ohms = [thermistor.beta_resistance(t + 0.1 * (-1) ** i, 10_000, 3435) for i, t in enumerate(kelvin)]
    fit = thermistor.fit_steinhart_hart_with_uncertainty(kelvin, ohms)
    assert (fit.a, fit.b, fit.c) == pytest.approx(thermistor.fit_steinhart_hart(kelvin, ohms))
    assert fit.readings == 5
    assert 0.03 < fit.scatter < 0.3
    assert fit.standard_error(ohms[2]) < fit.standard_error(10 * ohms[0])
    assert fit.standard_error(np.array(ohms)).shape == (5,)


KELVIN = np.linspace(220.0, 400.0, 25)
OHMS = np.geomspace(500.0, 200e3, 25)


@pytest.mark.parametrize(
    ("function", "array", "rest"),
    [
        (thermistor.beta_resistance, KELVIN, (10_000, 3435)),
        (thermistor.beta_temperature, OHMS, (10_000, 3435)),
        (thermistor.steinhart_hart_temperature, OHMS, CURVES[1]),
        (thermistor.steinhart_hart_resistance, KELVIN, CURVES[1]),
    ],
)
def test_arrays_and_floats_agree(function, array, rest):
    """An array goes through the same equations as each of its floats, and a float gives a float."""
    one_by_one = [function(float(value), *rest) for value in array]
    assert all(type(value) is float for value in one_by_one)
    np.testing.assert_allclose(function(array, *rest), one_by_one, rtol=1e-13)


@pytest.mark.parametrize(
    ("function", "arguments", "words"),
    [
        (thermistor.beta_resistance, (25.0, 10_000, 3435), "temperature is 25 K"),
        (thermistor.beta_resistance, (298.15, 0.0, 3435), "resistance at 25 °C"),
        (thermistor.beta_resistance, (298.15, 10_000, 3.4), "B in kelvin"),
        (thermistor.beta_temperature, (0.0, 10_000, 3435), "short or open"),
        (thermistor.beta_temperature, (math.inf, 10_000, 3435), "short or open"),
        (thermistor.beta_temperature, (0.1, 10_000, 3435), "do not fit this sensor"),
        (thermistor.beta_temperature, (5e7, 10_000, 3435), "do not fit this sensor"),
        (thermistor.beta_from_two_points, (273.15, 28_704, 273.65, 28_000), "another temperature"),
        (thermistor.beta_from_two_points, (273.15, 10_000, 298.15, 28_704), "swapped"),
        (thermistor.beta_from_two_points, (200.0, 10_000, 298.15, 28_704), "temperature is 200 K"),
        (thermistor.beta_from_two_points, (273.15, 0.0, 298.15, 28_704), "short or open"),
        (thermistor.steinhart_hart_temperature, (10_000, 1.4, 2.37e-4, 9.9e-8), "powers of ten"),
        (thermistor.steinhart_hart_temperature, (10_000, 1.4e-3, -2.37e-4, 9.9e-8), "powers of ten"),
        (thermistor.steinhart_hart_temperature, (1e-4, 1.4e-3, 2.37e-4, 9.9e-8), "do not fit"),
        (thermistor.steinhart_hart_resistance, (500.0, 1.4e-3, 2.37e-4, 9.9e-8), "temperature is 500 K"),
        (thermistor.steinhart_hart_resistance, (298.15, 1.4e-3, 1e-5, 0.0), "resistance is"),
        (thermistor.steinhart_hart_resistance, (298.15, 1.4e-3, 2.37e-4, -1e-5), "no single resistance"),
        (thermistor.fit_steinhart_hart, ([273.15, 298.15], [28_704, 10_000]), "well apart"),
        (thermistor.fit_steinhart_hart, ([273.15, 298.15, 299.0], [28_704, 10_000, 10_000]), "well apart"),
        (thermistor.fit_steinhart_hart, ([0.0, 25.0, 50.0], [28_704, 10_000, 4_000]), "temperature is 0 K"),
        (
            thermistor.fit_steinhart_hart_with_uncertainty,
            ([273.15, 293.15, 323.15], [32_128, 12_262, 3_542]),
            "no scatter",
        ),
    ],
)
def test_out_of_range_is_refused_in_a_sentence(function, arguments, words):
    """Outside its range each function refuses and says what to look at."""
    with pytest.raises(OutOfRange, match=words):
        function(*arguments)


def test_fit_needs_a_temperature_for_each_resistance():
    """Lists of different lengths are refused, with both lengths in the sentence."""
    with pytest.raises(CannotRead, match="3 temperatures and 2 resistances"):
        thermistor.fit_steinhart_hart([273.15, 298.15, 310.15], [28_704, 10_000])
