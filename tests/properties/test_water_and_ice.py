"""Water and ice: the fits against their reference formulations, ice and vapour booked together, edges."""

import numpy as np
import pytest
from coldbench.errors import OutOfRange
from coldbench.properties import moist_air, water_and_ice
from CoolProp.CoolProp import PropsSI
from hypothesis import given
from hypothesis import strategies as st

ice_temperatures = st.floats(213.15, 273.15)
water_temperatures = st.floats(273.16, 333.15)

# Source: IAPWS R10-06 through the library iapws 1.5.5, at 0.101325 MPa:
# temperature [K], density [kg/m3], specific heat [J/(kg K)], enthalpy from ice at 0 °C [J/kg].
ICE = [
    (213.15, 924.6586, 1661.21, -112_655),
    (233.15, 922.2192, 1804.51, -78_001),
    (253.15, 919.5652, 1949.83, -40_461),
    (263.15, 918.1658, 2023.10, -20_597),
]


@pytest.mark.parametrize(("temperature", "density", "specific_heat", "enthalpy"), ICE)
def test_ice_agrees_with_the_reference_formulation(temperature, density, specific_heat, enthalpy):
    """Ice keeps to the differences that the docstrings state."""
    assert water_and_ice.ice_density(temperature) == pytest.approx(density, abs=0.01)
    assert water_and_ice.ice_specific_heat(temperature) == pytest.approx(specific_heat, abs=1.5)
    from_ice_at_zero = water_and_ice.ice_enthalpy(temperature) - water_and_ice.ice_enthalpy(273.15)
    assert from_ice_at_zero == pytest.approx(enthalpy, abs=100)


@given(water_temperatures)
def test_water_agrees_with_the_reference_formulation(temperature):
    """Water keeps to the differences that the docstrings state. Source: IAPWS-95 through CoolProp."""
    state = ("T", temperature, "P", 101_325.0, "Water")
    assert water_and_ice.water_density(temperature) == pytest.approx(PropsSI("D", *state), abs=0.02)
    assert water_and_ice.water_specific_heat(temperature) == pytest.approx(PropsSI("C", *state), abs=0.5)
    at_zero = PropsSI("H", "T", 273.153, "P", 101_325.0, "Water") - 0.003 * 4219.4
    assert water_and_ice.water_enthalpy(temperature) == pytest.approx(PropsSI("H", *state) - at_zero, abs=40)


# Source: engineering tables of ice, from memory: [°C], [W/(m K)].
@pytest.mark.parametrize(("degrees", "conductivity"), [(0, 2.22), (-20, 2.39), (-30, 2.50), (-40, 2.63)])
def test_conductivity_of_ice_agrees_with_tables(degrees, conductivity):
    """The conductivity of ice meets a second table within its scatter of 4 %."""
    assert water_and_ice.ice_conductivity(degrees + 273.15) == pytest.approx(conductivity, rel=0.04)


# Source: heat of sublimation of water by IAPWS: 2834.4 kJ/kg at 0 °C; 2838 at -20 °C and 2839 at -40 °C, both
# from memory.
@pytest.mark.parametrize(("degrees", "heat"), [(0, 2834.4e3), (-20, 2838e3), (-40, 2839e3)])
def test_heat_of_sublimation_agrees_with_tables(degrees, heat):
    """Vapour turning to ice sets free 2.83 to 2.84 MJ/kg."""
    assert water_and_ice.heat_of_sublimation(degrees + 273.15) == pytest.approx(heat, rel=0.001)


def test_sublimation_is_what_moist_air_loses():
    """Moist air that loses a little vapour loses the vapour's enthalpy: air and ice are booked alike."""
    lost = (moist_air.enthalpy(253.15, 0.0010) - moist_air.enthalpy(253.15, 0.0005)) / 0.0005
    assert water_and_ice.heat_of_sublimation(253.15) == pytest.approx(
        lost - water_and_ice.ice_enthalpy(253.15), rel=1e-9
    )


@given(st.floats(233.15, 273.15))
def test_sublimation_pressure_is_that_of_moist_air(temperature):
    """Within moist air's range both modules give one pressure over ice."""
    assert water_and_ice.sublimation_pressure(temperature) == moist_air.ice_saturation_pressure(temperature)


@given(ice_temperatures)
def test_specific_heat_of_ice_is_the_slope_of_its_enthalpy(temperature):
    """One kelvin of warming takes the specific heat of the middle."""
    low = min(temperature, 272.15)
    slope = water_and_ice.ice_enthalpy(low + 1) - water_and_ice.ice_enthalpy(low)
    assert slope == pytest.approx(water_and_ice.ice_specific_heat(low + 0.5), abs=0.01)


def test_ice_floats_and_bursts_pipes():
    """Water that freezes takes up 9 % more room. Source: common practice, no source."""
    assert water_and_ice.water_density(273.15) / water_and_ice.ice_density(273.15) == pytest.approx(
        1.09, abs=0.002
    )


OF_ICE = [
    water_and_ice.ice_density, water_and_ice.ice_specific_heat, water_and_ice.ice_conductivity,
    water_and_ice.ice_enthalpy, water_and_ice.heat_of_sublimation, water_and_ice.sublimation_pressure,
]  # fmt: skip
OF_WATER = [water_and_ice.water_density, water_and_ice.water_specific_heat, water_and_ice.water_enthalpy]


@pytest.mark.parametrize("function", OF_ICE + OF_WATER)
def test_arrays_and_floats_agree(function):
    """An array goes through the same equations as each of its floats, and a float gives a float."""
    kelvin = np.linspace(213.15, 273.15, 13) if function in OF_ICE else np.linspace(273.15, 333.15, 13)
    one_by_one = [function(float(value)) for value in kelvin]
    assert all(type(value) is float for value in one_by_one)
    np.testing.assert_allclose(function(kelvin), one_by_one, rtol=1e-13)


@pytest.mark.parametrize("function", OF_ICE)
def test_ice_ends_where_it_melts(function):
    """Ice is refused above 0.01 °C and below -60 °C."""
    for kelvin in (213.0, 274.0, -5.0):
        with pytest.raises(OutOfRange, match="Ice melts"):
            function(kelvin)


@pytest.mark.parametrize("function", OF_WATER)
def test_water_ends_where_it_freezes(function):
    """Water is refused below 0 °C and above 60 °C."""
    for kelvin in (273.0, 334.0):
        with pytest.raises(OutOfRange, match="Water freezes"):
            function(kelvin)
