"""Superheated vapour: it meets saturated vapour, obeys the laws that tie the functions together."""

import numpy as np
import pytest
from coldbench.errors import OutOfRange
from coldbench.properties import refrigerant as r
from coldbench.properties.refrigerant_polynomials import TABLES
from hypothesis import given
from hypothesis import strategies as st

NAMES = st.sampled_from(list(TABLES))
SATURATION = st.floats(213.16, 363.14)
SHARE = st.floats(0.0, 1.0)
GRID = np.linspace(214.0, 362.0, 149)[:, np.newaxis]
STRICT = ((GRID >= 228.15) & (GRID <= 343.15)).ravel()  # saturation from -45 to 70 °C
STATES = GRID + 0.02 + np.linspace(0.01, 0.99, 60) * (413.1 - GRID - 0.04)


@given(NAMES, SATURATION)
def test_superheated_vapour_meets_saturated_vapour(name, temperature):
    """At its saturation temperature superheated vapour is saturated vapour."""
    pressure = r.saturation_pressure(name, temperature)
    pairs = [
        (r.superheated_density, r.vapor_density),
        (r.superheated_enthalpy, r.vapor_enthalpy),
        (r.superheated_entropy, r.vapor_entropy),
    ]
    for superheated, saturated in pairs:
        assert superheated(name, pressure, temperature) == pytest.approx(
            saturated(name, temperature), rel=1e-7
        )


@given(NAMES, SATURATION, SHARE)
def test_temperature_of_entropy_of_temperature_is_the_same(name, saturation, share):
    """The isentropic step undoes the entropy within a microkelvin, from saturation to 140 °C."""
    pressure = r.saturation_pressure(name, saturation)
    temperature = saturation + share * (413.15 - saturation)
    entropy = r.superheated_entropy(name, pressure, temperature)
    assert r.superheated_temperature(name, pressure, entropy) == pytest.approx(temperature, abs=1e-6)


@pytest.mark.parametrize(("entropy", "where"), [(2000.0, "low"), (4000.0, "high"), (float("nan"), "nan")])
def test_entropy_off_the_tables_is_refused(entropy, where):
    """Less entropy than saturated vapour is a mixture; more than at 140 °C is off the tables."""
    with pytest.raises(OutOfRange, match=r"entropy is .* J/\(kg K\)\. Less than saturated vapour"):
        r.superheated_temperature("R-600a", 60e3, entropy)
    with pytest.raises(OutOfRange, match=r"entropy is .* J/\(kg K\)\. Less than saturated vapour"):
        r.superheated_temperature("R-600a", np.array([60e3, 80e3]), np.array([2500.0, entropy]))


@pytest.mark.parametrize("name", TABLES)
def test_saturated_vapour_from_another_table_is_let_in(name):
    """A state 3 mK below our saturation line, as rounding elsewhere leaves it, counts as saturated."""
    pressure = r.saturation_pressure(name, 260.0)
    assert r.superheated_enthalpy(name, pressure, 259.997) == pytest.approx(
        r.vapor_enthalpy(name, 260.0), rel=1e-4
    )
    assert r.superheated_temperature(name, pressure, r.vapor_entropy(name, 260.0) - 0.1) == pytest.approx(
        260.0
    )


@pytest.mark.parametrize("name", TABLES)
def test_heating_at_constant_pressure_obeys_dh_is_t_ds(name):
    """Source: second law, dh = T ds at constant pressure; bounds are those of the module's docstring."""
    pressure = r.saturation_pressure(name, GRID) + 0 * STATES
    step = 0.01
    enthalpy, entropy = (
        (f(name, pressure, STATES + step) - f(name, pressure, STATES - step))
        for f in (r.superheated_enthalpy, r.superheated_entropy)
    )
    assert np.all(enthalpy > 0)
    error = abs(enthalpy / (STATES * entropy) - 1)
    assert error[STRICT].max() < 6e-4
    assert error.max() < 4.5e-3


@pytest.mark.parametrize("name", TABLES)
def test_compression_at_constant_entropy_obeys_dh_is_v_dp_and_gives_the_speed_of_sound(name):
    """Source: dh = v dp and w² = dp/dρ, both at constant entropy; bounds as in the module's docstring."""
    pressure = r.saturation_pressure(name, GRID) + 0 * STATES
    below = pressure * (1 - 1e-4)
    colder = r.superheated_temperature(name, below, r.superheated_entropy(name, pressure, STATES))
    rise = r.superheated_enthalpy(name, pressure, STATES) - r.superheated_enthalpy(name, below, colder)
    density, thinner = (
        r.superheated_density(name, pressure, STATES),
        r.superheated_density(name, below, colder),
    )
    error = abs(rise * (density + thinner) / 2 / (pressure - below) - 1)
    assert error[STRICT].max() < 1.2e-3
    assert error.max() < 1.8e-2
    sound = np.sqrt((pressure - below) / (density - thinner))
    error = abs(sound / r.superheated_speed_of_sound(name, pressure, STATES) - 1)
    assert error[STRICT].max() < 1e-4
    assert error.max() < 1.2e-3


@pytest.mark.parametrize("name", TABLES)
def test_thin_warm_vapour_comes_near_an_ideal_gas(name):
    """Source: ideal-gas law, p = ρ R T, with the molar gas constant of the SI (2019)."""
    pressure, temperature = r.saturation_pressure(name, 213.15), 413.15
    ideal = pressure * TABLES[name].molar_mass / (8.314462618 * temperature)
    density = r.superheated_density(name, pressure, temperature)
    assert ideal < density < 1.01 * ideal
