"""Freezing and melting water from its heat content: both ways, the flat stretch, edges."""

import numpy as np
import pytest
from coldbench.errors import OutOfRange
from coldbench.properties.melting import (
    LEAST_ENTHALPY,
    MOST_ENTHALPY,
    ice_share,
    temperature_of_water_or_ice,
)
from coldbench.properties.water_and_ice import HEAT_OF_FUSION, ice_enthalpy, water_enthalpy
from hypothesis import given
from hypothesis import strategies as st

enthalpies = st.floats(LEAST_ENTHALPY, MOST_ENTHALPY)


@given(st.floats(213.15, 273.15))
def test_ice_returns_to_its_temperature(temperature):
    """The heat content of ice gives its temperature back."""
    assert temperature_of_water_or_ice(ice_enthalpy(temperature)) == pytest.approx(temperature, abs=1e-6)


@given(st.floats(273.15, 333.15))
def test_water_returns_to_its_temperature(temperature):
    """The heat content of water gives its temperature back."""
    assert temperature_of_water_or_ice(water_enthalpy(temperature)) == pytest.approx(temperature, abs=1e-5)


@given(st.floats(0.0, 1.0))
def test_a_mixture_stays_at_zero(share):
    """Any mixture of ice and water has 0 °C, and its share of ice comes back."""
    enthalpy = -share * HEAT_OF_FUSION
    assert temperature_of_water_or_ice(enthalpy) == pytest.approx(273.15, abs=1e-9)
    assert ice_share(enthalpy) == pytest.approx(share, abs=1e-12)


@given(enthalpies, enthalpies)
def test_more_heat_is_never_colder_nor_icier(one, other):
    """Temperature rises and ice shrinks with the heat content."""
    low, high = sorted((one, other))
    assert temperature_of_water_or_ice(low) <= temperature_of_water_or_ice(high) + 1e-9
    assert ice_share(low) >= ice_share(high)


def test_freezing_takes_four_times_the_heat_of_cooling_tap_water():
    """Water of 20 °C gives off 84 kJ/kg down to 0 °C, then 333 more. Source: row C-ICE-004 of checks.csv."""
    assert HEAT_OF_FUSION / water_enthalpy(293.15) == pytest.approx(333.6 / 83.9, rel=0.005)


@pytest.mark.parametrize("function", [ice_share, temperature_of_water_or_ice])
def test_arrays_and_floats_agree(function):
    """An array goes through the same equations as each of its floats, and a float gives a float."""
    heat = np.linspace(LEAST_ENTHALPY, MOST_ENTHALPY, 41)
    one_by_one = [function(float(value)) for value in heat]
    assert all(type(value) is float for value in one_by_one)
    np.testing.assert_allclose(function(heat), one_by_one, rtol=1e-13, atol=1e-15)


@pytest.mark.parametrize("function", [ice_share, temperature_of_water_or_ice])
@pytest.mark.parametrize("enthalpy", [-500e3, 300e3, float("nan")])
def test_heat_beyond_the_range_is_refused(function, enthalpy):
    """Colder than -60 °C or warmer than 60 °C is refused."""
    with pytest.raises(OutOfRange, match="Ice at -60"):
        function(enthalpy)
