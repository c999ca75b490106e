"""The saturation line: properties that must hold whatever the numbers."""

import numpy as np
import pytest
from coldbench.properties import refrigerant
from coldbench.properties.refrigerant_polynomials import TABLES, log_pressure_slope
from hypothesis import given
from hypothesis import strategies as st

NAMES = st.sampled_from(list(TABLES))
TEMPERATURES = st.floats(213.15, 363.15)
LINE = np.linspace(213.15, 363.15, 3001)
STRICT = (LINE >= 228.15) & (LINE <= 343.15)  # -45 to 70 °C


@given(NAMES, TEMPERATURES)
def test_temperature_of_pressure_of_temperature_is_the_same(name, temperature):
    """T(p(T)) = T within 0.1 microkelvin."""
    pressure = refrigerant.saturation_pressure(name, temperature)
    assert refrigerant.saturation_temperature(name, pressure) == pytest.approx(temperature, abs=1e-7)


@pytest.mark.parametrize("name", TABLES)
def test_ends_of_the_range_are_inside(name):
    """-60 °C and 90 °C count, also where adding 273.15 rounds to a hair below, and also back again."""
    for celsius in (-60, 90):
        pressure = refrigerant.saturation_pressure(name, celsius + 273.15)
        assert refrigerant.saturation_temperature(name, pressure) == pytest.approx(celsius + 273.15, abs=1e-6)


@given(NAMES, TEMPERATURES)
def test_latent_heat_is_positive_and_what_the_enthalpies_say(name, temperature):
    """Boiling takes heat, the difference between vapour and liquid."""
    latent = refrigerant.latent_heat(name, temperature)
    difference = refrigerant.vapor_enthalpy(name, temperature) - refrigerant.liquid_enthalpy(
        name, temperature
    )
    assert latent > 0
    assert latent == pytest.approx(difference, rel=1e-12)


@pytest.mark.parametrize("name", TABLES)
@pytest.mark.parametrize(
    ("function", "sign"),
    [
        ("saturation_pressure", 1),
        ("vapor_density", 1),
        ("liquid_enthalpy", 1),
        ("liquid_entropy", 1),
        ("liquid_density", -1),
        ("latent_heat", -1),
    ],
)
def test_quantity_rises_or_falls_all_the_way(name, function, sign):
    """No wiggle of a polynomial shows: warmer means more pressure, denser vapour, lighter liquid ..."""
    assert np.all(sign * np.diff(getattr(refrigerant, function)(name, LINE)) > 0)


@pytest.mark.parametrize("name", TABLES)
def test_slope_of_the_pressure_obeys_clapeyron(name):
    """Source: Clapeyron's equation, h_lv = T (v_v - v_l) dp/dT; bounds as in the module's docstring."""
    pressure = refrigerant.saturation_pressure(name, LINE)
    volume = 1 / refrigerant.vapor_density(name, LINE) - 1 / refrigerant.liquid_density(name, LINE)
    predicted = LINE * volume * pressure * log_pressure_slope(TABLES[name], LINE)
    error = abs(predicted / refrigerant.latent_heat(name, LINE) - 1)
    assert error[STRICT].max() < 1e-4
    assert error.max() < 1.2e-3


@pytest.mark.parametrize("name", TABLES)
def test_entropy_of_boiling_is_latent_heat_over_temperature(name):
    """Source: second law at constant temperature, s_v - s_l = h_lv / T."""
    entropy = refrigerant.vapor_entropy(name, LINE) - refrigerant.liquid_entropy(name, LINE)
    assert abs(entropy * LINE / refrigerant.latent_heat(name, LINE) - 1).max() < 4e-5


def test_trade_rule_of_thumb_for_the_coldest_shelf():
    """Common practice, no source: R-600a at 0 °F runs in a vacuum, R-134a and R-290 above the atmosphere."""
    zero_fahrenheit = 255.372
    assert refrigerant.saturation_pressure("R-600a", zero_fahrenheit) < 101_325
    assert refrigerant.saturation_pressure("R-134a", zero_fahrenheit) > 101_325
    assert refrigerant.saturation_pressure("R-290", zero_fahrenheit) > 101_325
