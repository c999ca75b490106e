"""How the tables are read: Horner's rule, slopes, scaled variables at their ends."""

import numpy as np
import pytest
from coldbench.properties.refrigerant_polynomials import (
    HIGHEST,
    HOTTEST,
    LOWEST,
    TABLES,
    closeness,
    degree_7,
    degree_8,
    log_pressure_at,
    log_pressure_slope,
    saturation_temperature_at,
    superheat_scale,
    superheated_at,
    table_of,
)
from hypothesis import given
from hypothesis import strategies as st

NUMBERS = st.lists(st.floats(-10, 10), min_size=9, max_size=9)


@given(NUMBERS, st.floats(-1, 1))
def test_written_out_polynomials_agree_with_numpy(numbers, x):
    """Source: numpy.polyval, which takes the highest power first as well."""
    assert degree_8(tuple(numbers), x) == pytest.approx(np.polyval(numbers, x), abs=1e-9)
    assert degree_7(tuple(numbers[1:]), x) == pytest.approx(np.polyval(numbers[1:], x), abs=1e-9)


@pytest.mark.parametrize("name", TABLES)
def test_slope_of_log_pressure_is_its_derivative(name):
    """The slope is what a small step in temperature shows."""
    table = table_of(name)
    line = np.linspace(LOWEST + 1, HIGHEST - 1, 50)
    step = 1e-3
    difference = (log_pressure_at(table, line + step) - log_pressure_at(table, line - step)) / (2 * step)
    assert log_pressure_slope(table, line) == pytest.approx(difference, rel=1e-7)


@pytest.mark.parametrize("name", TABLES)
def test_saturation_temperature_solves_the_pressure_equation(name):
    """One Newton step after the first guess leaves nothing that matters."""
    table = table_of(name)
    line = np.linspace(LOWEST, HIGHEST, 500)
    assert saturation_temperature_at(table, np.exp(log_pressure_at(table, line))) == pytest.approx(
        line, abs=1e-7
    )


@pytest.mark.parametrize("name", TABLES)
def test_scaled_variables_run_from_minus_one_to_one(name):
    """Both variables fill the span in which the polynomials were fixed."""
    table = table_of(name)
    assert closeness(table, LOWEST) == pytest.approx(-1)
    assert closeness(table, HIGHEST) == pytest.approx(1)
    for saturation in (LOWEST, 290.0, HIGHEST):
        assert superheat_scale(table, saturation, 0.0) == -1
        assert superheat_scale(table, saturation, HOTTEST - saturation) == pytest.approx(1)


def test_superheated_value_starts_from_the_saturated_line():
    """Without superheat the plane does not matter."""
    table = table_of("R-290")
    start = degree_8(table.vapor_enthalpy, closeness(table, 280.0))
    assert superheated_at(table, table.vapor_enthalpy, table.superheated_enthalpy, 280.0, 280.0) == start
