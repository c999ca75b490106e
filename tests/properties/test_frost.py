"""Frost: shapes of the fits, the mass balance, edges."""

import numpy as np
import pytest
from coldbench.errors import OutOfRange
from coldbench.properties import frost
from coldbench.properties.water_and_ice import ice_conductivity, ice_density
from hypothesis import given
from hypothesis import strategies as st

densities = st.floats(10.0, 573.0)
humidities = st.floats(0.0, 0.02)


@given(st.floats(258.15, 267.15))
def test_warmer_frost_is_denser(temperature):
    """One kelvin warmer makes frost a third denser, and it stays lighter than ice."""
    ratio = frost.frost_density(temperature + 1) / frost.frost_density(temperature)
    assert ratio == pytest.approx(np.exp(0.277))
    assert frost.frost_density(temperature + 1) < ice_density(temperature)


@given(densities)
def test_frost_carries_heat_better_than_air_and_worse_than_ice(density):
    """Frost lies between still air (0.024 W/(m K), from memory) and solid ice."""
    assert 0.024 < frost.frost_conductivity(density) < ice_conductivity(263.15)


@given(densities, st.floats(0.001, 2.0), st.floats(0.5, 5.0))
def test_thickness_gives_the_mass_back(density, mass, area):
    """Thickness times area times density is the mass."""
    assert frost.frost_thickness(mass, density, area) * area * density == pytest.approx(mass)


@given(st.floats(0.0, 0.1), humidities, humidities)
def test_water_that_air_loses_is_water_that_the_coil_gains(flow, entering, leaving):
    """The balance changes its sign with the direction: a coil can also dry."""
    assert frost.frost_rate(flow, entering, leaving) == -frost.frost_rate(flow, leaving, entering)


@given(st.floats(0.01, 2.0), st.floats(213.15, 273.15))
def test_defrost_takes_at_least_the_melting(mass, temperature):
    """Frost takes its heat of fusion and more the colder it is, up to a third more at -60 °C."""
    assert mass * 333.4e3 < frost.defrost_energy(mass, temperature) < mass * 333.4e3 * 1.34


@pytest.mark.parametrize(
    ("function", "array", "rest"),
    [
        (frost.frost_density, np.linspace(258.15, 268.15, 11), ()),
        (frost.frost_conductivity, np.linspace(10.0, 573.0, 11), ()),
        (frost.frost_thickness, np.linspace(0.0, 1.0, 11), (200.0, 1.5)),
        (frost.frost_rate, np.linspace(0.0, 0.05, 11), (0.004, 0.002)),
        (frost.defrost_energy, np.linspace(0.0, 1.0, 11), (250.0,)),
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
        (frost.frost_density, (245.15,), "state a density"),
        (frost.frost_density, (272.15,), "surface temperature is 272.15 K"),
        (frost.frost_conductivity, (900.0,), "density is 900"),
        (frost.frost_thickness, (500.0, 200.0, 1.0), "few hundred grams"),
        (frost.frost_thickness, (0.5, 2.0, 1.0), "density is 2"),
        (frost.frost_thickness, (0.5, 200.0, 0.0), "area is 0 m2"),
        (frost.frost_rate, (-0.01, 0.004, 0.002), "dry air flow"),
        (frost.frost_rate, (0.01, 4.0, 0.002), "humidity ratio is 4"),
        (frost.frost_rate, (0.01, 0.004, -0.002), "humidity ratio is -0.002"),
        (frost.defrost_energy, (-0.5, 253.15), "mass is -0.5 kg"),
        (frost.defrost_energy, (0.5, 280.0), "Ice melts"),
    ],
)
def test_out_of_range_is_refused_in_a_sentence(function, arguments, words):
    """Outside its range each function refuses and says what to look at."""
    with pytest.raises(OutOfRange, match=words):
        function(*arguments)
