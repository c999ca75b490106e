"""Moist air beside another program of the same equations, over its whole range, and beside itself."""

import numpy as np
import psychrolib
import pytest
from coldbench.errors import OutOfRange
from coldbench.properties import moist_air
from hypothesis import assume, example, given
from hypothesis import strategies as st

psychrolib.SetUnitSystem(psychrolib.SI)

temperatures = st.floats(233.15, 333.15)
shares = st.floats(0.0, 1.0)
pressures = st.floats(60e3, 110e3)


# Source: PsychroLib 2.5.0, an independent program of ASHRAE (2017), eq. 5 and 6. rel=1e-11: rounding only.
@given(temperatures)
@example(273.15)
@example(273.16)
def test_saturation_pressure_agrees_with_reference(temperature):
    """Over ice and over water the saturation pressure is that of the reference program."""
    expected = psychrolib.GetSatVapPres(temperature - 273.15)
    # At the joint the two programs may pick different curves for one rounding of the temperature.
    tolerance = 1e-8 if abs(temperature - 273.16) < 1e-9 else 1e-11
    assert moist_air.saturation_pressure(temperature) == pytest.approx(expected, rel=tolerance)


@given(temperatures, shares, pressures)
def test_humidity_ratio_volume_and_enthalpy_agree_with_reference(temperature, share, pressure):
    """Humidity, vapour pressure, volume and enthalpy agree. Source: PsychroLib 2.5.0."""
    share = max(share, 0.01)  # the reference keeps at least 1e-7 kg/kg
    celsius = temperature - 273.15
    ratio = moist_air.humidity_ratio(temperature, share, pressure)
    assume(ratio > 1e-7)
    assert ratio == pytest.approx(psychrolib.GetHumRatioFromRelHum(celsius, share, pressure), rel=1e-7)
    part = psychrolib.GetVapPresFromHumRatio(ratio, pressure)
    assert moist_air.vapor_pressure(ratio, pressure) == pytest.approx(part, rel=1e-12)
    assert moist_air.relative_humidity(temperature, ratio, pressure) == pytest.approx(share, rel=1e-9)
    volume = psychrolib.GetMoistAirVolume(celsius, ratio, pressure)
    assert moist_air.specific_volume(temperature, ratio, pressure) == pytest.approx(volume, rel=1e-12)
    heat = psychrolib.GetMoistAirEnthalpy(celsius, ratio)
    assert moist_air.enthalpy(temperature, ratio) == pytest.approx(heat, rel=1e-10, abs=1e-6)


@given(temperatures, shares, pressures)
def test_dew_point_agrees_with_reference(temperature, share, pressure):
    """Dew and frost points agree. Source: PsychroLib 2.5.0, which stops within 0.001 K."""
    ratio = moist_air.humidity_ratio(temperature, max(share, 0.01), pressure)
    assume(ratio > 1e-7)
    expected = psychrolib.GetTDewPointFromHumRatio(temperature - 273.15, ratio, pressure) + 273.15
    assert moist_air.dew_point(ratio, pressure) == pytest.approx(expected, abs=0.0015)


@given(st.floats(233.15, 333.15), pressures)
def test_dew_point_of_saturated_air_is_its_temperature(temperature, pressure):
    """Saturated air is at its own dew point, to a millionth of a kelvin, through the joint at 0.01 °C."""
    ratio = moist_air.humidity_ratio(temperature, 1.0, pressure)
    assert moist_air.dew_point(ratio, pressure) == pytest.approx(temperature, abs=1e-6)


def test_dew_point_reaches_down_to_a_hundred_below():
    """The driest air allowed has a frost point near -100 °C. Source: ASHRAE (2017), eq. 5 ends there."""
    driest = 0.621945 * 0.0015 / (101325 - 0.0015) * 1.001
    assert moist_air.dew_point(driest) == pytest.approx(173.15, abs=0.6)
    back = psychrolib.GetSatVapPres(moist_air.dew_point(1e-7) - 273.15)
    assert back == pytest.approx(moist_air.vapor_pressure(1e-7), rel=1e-6)


@given(temperatures, st.floats(0.0, 30.0), pressures)
def test_humidity_ratio_from_wet_bulb_agrees_with_reference(temperature, depression, pressure):
    """The wick's heat balance agrees, wet and iced. Source: PsychroLib 2.5.0.

    Between 0 and 0.01 °C the reference takes the pressure over ice for a wet wick: up to 1e-4 apart.
    """
    wick = temperature - depression
    assume(wick >= 233.15 and not 273.15 <= wick <= 273.16)
    expected = psychrolib.GetHumRatioFromTWetBulb(temperature - 273.15, wick - 273.15, pressure)
    assume(expected > 1e-7)
    found = moist_air.humidity_ratio_from_wet_bulb(temperature, wick, pressure)
    assert found == pytest.approx(expected, rel=1e-9, abs=1e-15)


@given(temperatures, shares, pressures)
@example(333.15, 0.0, 110e3)
@example(333.15, 0.0, 60e3)
@example(233.15, 0.0, 110e3)
def test_wet_bulb_gives_the_humidity_ratio_back(temperature, share, pressure):
    """The wet bulb found satisfies the wick's balance within 0.0001 K. Source: PsychroLib 2.5.0."""
    ratio = moist_air.humidity_ratio(temperature, share, pressure)
    wick = moist_air.wet_bulb(temperature, ratio, pressure)
    assume(wick >= 233.15 and wick <= temperature and abs(wick - 273.15) > 2e-4)
    slack = 1e-4
    drier = psychrolib.GetHumRatioFromTWetBulb(temperature - 273.15, wick - slack - 273.15, pressure)
    wetter = psychrolib.GetHumRatioFromTWetBulb(
        temperature - 273.15, min(wick + slack, temperature) - 273.15, pressure
    )
    assert ratio <= wetter + 1e-12
    assert drier <= max(ratio, 1e-7) + 1e-12  # the reference gives at least 1e-7


@given(temperatures, st.floats(0.02, 1.0), pressures)
def test_wet_bulb_agrees_with_reference(temperature, share, pressure):
    """Wet bulbs agree within 0.002 K. Source: PsychroLib 2.5.0, which stops within 0.001 K.

    Left out: air in which a wick may be wet or iced (two wet bulbs, one above and one below 0 °C);
    there the reference stops at either, and ours gives the wet one.
    """
    ratio = moist_air.humidity_ratio(temperature, share, pressure)
    wick = moist_air.wet_bulb(temperature, ratio, pressure)
    if temperature > 273.15:
        wet = psychrolib.GetHumRatioFromTWetBulb(temperature - 273.15, 0.0, pressure)
        iced = psychrolib.GetHumRatioFromTWetBulb(temperature - 273.15, -1e-9, pressure)
        assume(not wet * 0.999 <= ratio <= iced * 1.001)
    expected = psychrolib.GetTWetBulbFromHumRatio(temperature - 273.15, ratio, pressure) + 273.15
    assert wick == pytest.approx(expected, abs=0.002)


def test_wet_bulb_near_freezing_is_the_wet_one_where_there_are_two():
    """Cold-room air whose wick could be at +0.2 °C wet or colder iced: the wet one is given."""
    ratio = moist_air.humidity_ratio_from_wet_bulb(278.15, 273.35)
    assert moist_air.wet_bulb(278.15, ratio) == pytest.approx(273.35, abs=1e-4)


@given(temperatures, st.floats(0.01, 1.0), pressures)
def test_dew_point_wet_bulb_and_air_stand_in_order(temperature, share, pressure):
    """Dew point ≤ wet bulb ≤ air temperature. Source: common practice, no source."""
    ratio = moist_air.humidity_ratio(temperature, share, pressure)
    wick = moist_air.wet_bulb(temperature, ratio, pressure)
    assert moist_air.dew_point(ratio, pressure) <= wick + 1e-4
    assert wick <= temperature + 1e-4


# Source: Murphy and Koop (2005), Q. J. R. Meteorol. Soc. 131, 1539, eq. 10, coefficients from memory.
@given(st.floats(233.15, 273.16))
def test_supercooled_water_agrees_with_murphy_and_koop(temperature):
    """Over supercooled water the equation carried on stays within 0.8 % of one made for it."""
    t = temperature
    low = 54.842763 - 6763.22 / t - 4.210 * np.log(t) + 0.000367 * t
    bend = np.tanh(0.0415 * (t - 218.8)) * (53.878 - 1331.22 / t - 9.44523 * np.log(t) + 0.014025 * t)
    assert moist_air.water_saturation_pressure(t) == pytest.approx(float(np.exp(low + bend)), rel=0.008)


@given(st.floats(233.15, 273.159))
def test_supercooled_water_holds_more_vapour_than_ice(temperature):
    """Below the triple point more vapour stands over liquid than over ice, and saturation is over ice."""
    over_ice = moist_air.ice_saturation_pressure(temperature)
    assert moist_air.water_saturation_pressure(temperature) > over_ice
    assert moist_air.saturation_pressure(temperature) == over_ice


@given(st.floats(273.16, 333.15))
def test_saturation_above_freezing_is_over_water(temperature):
    """From the triple point up, saturation is over liquid water."""
    assert moist_air.saturation_pressure(temperature) == moist_air.water_saturation_pressure(temperature)


@given(st.floats(-5000, 10000))
def test_pressure_at_altitude_agrees_with_reference(altitude):
    """The standard atmosphere agrees. Source: PsychroLib 2.5.0."""
    assert moist_air.pressure_at_altitude(altitude) == pytest.approx(
        psychrolib.GetStandardAtmPressure(altitude)
    )


def test_more_than_saturation_shows_as_relative_humidity_above_one():
    """Warm moist air taken to the freezer without losing water: more than it can keep."""
    ratio = moist_air.humidity_ratio(298.15, 0.5)
    assert moist_air.relative_humidity(255.15, ratio) > 10


AIR = np.linspace(235.0, 330.0, 40)
SHARES = np.linspace(0.05, 1.0, 40)
RATIOS = np.array([moist_air.humidity_ratio(float(t), float(s)) for t, s in zip(AIR, SHARES, strict=True)])
WICKS = np.array([moist_air.wet_bulb(float(t), float(w)) for t, w in zip(AIR, RATIOS, strict=True)])


@pytest.mark.parametrize(
    ("function", "arrays"),
    [
        (moist_air.saturation_pressure, (AIR,)),
        (moist_air.water_saturation_pressure, (AIR,)),
        (moist_air.ice_saturation_pressure, (AIR[AIR < 273.15],)),
        (moist_air.humidity_ratio, (AIR, SHARES)),
        (moist_air.humidity_ratio_from_wet_bulb, (AIR[5:], WICKS[5:])),
        (moist_air.relative_humidity, (AIR, RATIOS)),
        (moist_air.vapor_pressure, (RATIOS,)),
        (moist_air.dew_point, (RATIOS,)),
        (moist_air.wet_bulb, (AIR, RATIOS)),
        (moist_air.enthalpy, (AIR, RATIOS)),
        (moist_air.specific_volume, (AIR, RATIOS)),
        (moist_air.pressure_at_altitude, (AIR,)),
    ],
)
def test_arrays_and_floats_agree(function, arrays):
    """An array goes through the same equations as each of its floats, and a float gives a float."""
    one_by_one = [function(*map(float, values)) for values in zip(*arrays, strict=True)]
    assert all(type(value) is float for value in one_by_one)
    np.testing.assert_allclose(function(*arrays), one_by_one, rtol=1e-13)


def test_a_float_and_an_array_mix():
    """One temperature with many humidities, and many pressures with one air."""
    assert moist_air.humidity_ratio(298.15, SHARES).shape == SHARES.shape
    many = np.array([70e3, 101325.0])
    assert moist_air.wet_bulb(298.15, 0.008, many)[1] == pytest.approx(moist_air.wet_bulb(298.15, 0.008))
    assert moist_air.humidity_ratio_from_wet_bulb(298.15, 290.15, many).shape == (2,)


@pytest.mark.parametrize(
    ("function", "arguments", "words"),
    [
        (moist_air.saturation_pressure, (233.0,), "temperature is 233 K"),
        (moist_air.saturation_pressure, (float("nan"),), "temperature"),
        (moist_air.water_saturation_pressure, (334.0,), "233.15 to 333.15"),
        (moist_air.ice_saturation_pressure, (274.0,), "Warmer water is liquid"),
        (moist_air.pressure_at_altitude, (10001.0,), "altitude"),
        (moist_air.humidity_ratio, (298.15, 50.0), "50 % is 0.5"),
        (moist_air.humidity_ratio, (25.0, 0.5), "temperature is 25 K"),
        (moist_air.humidity_ratio, (298.15, 0.5, 14.7), "pressure is 14.7 Pa"),
        (moist_air.vapor_pressure, (9.0,), "kilograms of vapour per kilogram"),
        (moist_air.vapor_pressure, (0.01, 1.0), "pressure"),
        (moist_air.relative_humidity, (298.15, -0.001), "humidity ratio"),
        (moist_air.dew_point, (0.0,), "no dew point"),
        (moist_air.dew_point, (0.30, 110e3), "vapor pressure"),
        (moist_air.humidity_ratio_from_wet_bulb, (290.0, 291.0), "mixed-up thermometers"),
        (moist_air.humidity_ratio_from_wet_bulb, (313.15, 275.0), "perfectly dry air"),
        (moist_air.humidity_ratio_from_wet_bulb, (235.0, 232.0), "wet bulb is 232 K"),
        (moist_air.wet_bulb, (290.0, 0.05), "no wet bulb"),
        (moist_air.enthalpy, (400.0, 0.0), "temperature"),
        (moist_air.enthalpy, (300.0, 1.0), "humidity ratio"),
        (moist_air.specific_volume, (300.0, 0.01, 200e3), "pressure"),
    ],
)
def test_out_of_range_is_refused_in_a_sentence(function, arguments, words):
    """Outside its range each function refuses and says what it expected."""
    with pytest.raises(OutOfRange, match=words):
        function(*arguments)


def test_one_bad_element_of_an_array_is_refused():
    """An array with one value outside the range is refused as a whole."""
    with pytest.raises(OutOfRange, match="500"):
        moist_air.saturation_pressure(np.array([280.0, 500.0]))
