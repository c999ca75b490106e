"""Ice mould: freezing time against Plank, heat that is neither lost nor made, the flat stretch at 0 °C."""

import numpy
import pytest
from coldbench.errors import OutOfRange
from coldbench.operations import FLOATS
from coldbench.parts.ice_mould import (
    HEAT_OF_FUSION,
    SKIN,
    Mould,
    WaterAndIce,
    freezing_curve,
    melted_mass,
    mould_air_conductance,
    mould_to_front_conductance,
)
from coldbench.properties.freezing_time import one_sided_freezing_time
from coldbench.properties.water_and_ice import FREEZING, ice_density
from hypothesis import given
from hypothesis import strategies as st

MASS, AREA, ICE_CONDUCTIVITY = 0.100, 0.018, 2.2  # an invented mould: [kg], [m2], [W/(m K)]
THICKNESS = MASS / ice_density(FREEZING) / AREA
LAYER = THICKNESS / ICE_CONDUCTIVITY / AREA
AIR = 255.15


@pytest.mark.parametrize("conductance", [0.25, 0.5, 2.0])
@pytest.mark.parametrize("air", [248.15, 255.15, 263.15])
def test_water_at_freezing_point_freezes_in_planks_time(conductance, air):
    """Accepted: 3 %; Plank leaves out the little heat of the metal and the ice below 0 °C.

    Source: Plank's equation for a layer cooled from one side (Plank 1913, as in general texts of food
    engineering), through `one_sided_freezing_time`, which rows C-FRZ-002 and -004 of checks.csv hold.
    """
    contact = 12.0
    through = 1 / (1 / conductance + 1 / contact) / AREA
    plank = one_sided_freezing_time(
        ice_density(FREEZING), HEAT_OF_FUSION, FREEZING, air, THICKNESS, through, ICE_CONDUCTIVITY
    )
    times, _, shares = freezing_curve(
        MASS, FREEZING, air, conductance, contact, LAYER, duration=1.3 * plank, metal_capacity=1.0
    )
    frozen = numpy.interp(1.0 - 1e-9, shares, times)
    assert frozen == pytest.approx(plank, rel=0.03)


def test_warm_water_takes_longer_and_more_wind_less_time():
    """Every kilogram must first give off its warmth; a blown mould freezes sooner."""

    def time(temperature, conductance):
        times, _, shares = freezing_curve(MASS, temperature, AIR, conductance)
        return times[shares.index(1.0)]

    assert time(FREEZING, 0.5) < time(288.15, 0.5) < time(303.15, 0.5)
    assert time(288.15, 0.65) < time(288.15, 0.25) / 2


def test_the_sensor_stays_near_freezing_while_water_is_left():
    """Flat between 0 and -4 °C while ice grows, and below -7 °C only once all is solid.

    So 18 to 20 °F at the sensor (harvest by common practice, no source) means ice all through, and 32 °F does
    not: there the freezing has only begun.
    """
    _, temperatures, shares = freezing_curve(MASS, 288.15, AIR, 0.5)
    growing = [now - 273.15 for now, share in zip(temperatures, shares, strict=True) if 0.02 < share < 0.98]
    assert min(growing) > -4 and max(growing) < 0
    solid = [share for now, share in zip(temperatures, shares, strict=True) if now < (20 + 459.67) / 1.8]
    assert solid and min(solid) == 1.0
    at_zero = next(share for now, share in zip(temperatures, shares, strict=True) if now <= FREEZING)
    assert at_zero < 0.05


def mould_in(temperature, water, ice):
    return Mould(230.0, 12.0, 0.15, WaterAndIce(SKIN, temperature, water, ice))


@given(
    st.floats(223.15, 313.15), st.floats(0.0, 200.0), st.floats(0.01, 5.0), st.floats(0.001, 0.2),
    st.floats(250.15, 300.15),
)  # fmt: skip
def test_heat_is_neither_lost_nor_made(air, power, conductance, mass, begin):
    """What the mould stores is what came through its surface and from its heater, at any step."""
    frozen = begin < FREEZING
    mould = mould_in(begin, 0.0 if frozen else mass, mass if frozen else 0.0)
    stored, came = mould.stored_heat(), 0.0
    for step in (10.0, 1.0, 60.0, 600.0, 10.0):
        slope, constant = mould.eliminate(FLOATS, conductance, power, step)
        mould.put_back(FLOATS, air, step)
        came += (slope * air - constant + power) * step
        assert mould.content.water + mould.content.ice == pytest.approx(mass, rel=1e-12)
        assert min(mould.content.water, mould.content.ice) >= 0.0
    assert mould.stored_heat() - stored == pytest.approx(came, abs=1e-6 + 1e-9 * abs(came))


@given(st.floats(223.15, 313.15), st.floats(0.0, 0.5), st.floats(0.0, 0.5), st.floats(0.0, 5.0))
def test_one_temperature_keeps_its_heat_too(air, water, ice, power):
    """The same for water and ice at one temperature, with a second neighbour; both together only at 0 °C."""
    both = WaterAndIce(15.0, FREEZING, water, ice)
    stored, came = both.stored_heat(), 0.0
    for step in (10.0, 60.0, 10.0):
        slope, constant = both.eliminate(FLOATS, 0.04, 0.005, 298.15, power, step)
        felt = both.put_back(FLOATS, air, step)
        came += (slope * air - constant + 0.005 * (298.15 - felt) + power) * step
        if both.water * both.ice > 0:
            assert both.temperature == pytest.approx(FREEZING, abs=1e-9)
    assert both.stored_heat() - stored == pytest.approx(came, abs=1e-6)


def test_a_harvest_melts_the_wall_and_leaves_the_core():
    """100 W for a minute and a half: the metal is warm, and only a few parts in a hundred have melted."""
    mould = mould_in(263.15, 0.0, MASS)
    for _ in range(9):
        mould.eliminate(FLOATS, 0.5, 100.0, 10.0)
        mould.put_back(FLOATS, AIR, 10.0)
    assert mould.metal > FREEZING + 2
    assert 0.01 < mould.content.water / MASS < 0.12


@pytest.mark.parametrize("step", [1.0, 60.0])
def test_the_step_hardly_matters(step):
    """Accepted: freezing through within a step and 1 % of what ten-second steps give."""

    def frozen_after(step):
        mould = mould_in(288.15, MASS, 0.0)
        time = 0.0
        while mould.content.water > 0.0:
            mould.eliminate(FLOATS, 0.5, 0.0, step)
            mould.put_back(FLOATS, AIR, step)
            time += step
        return time

    assert frozen_after(step) == pytest.approx(frozen_after(10.0), rel=0.01, abs=step)


def test_one_and_many_are_the_same_equations():
    masses = numpy.array([0.05, 0.1])
    many = mould_in(numpy.full(2, 280.15), masses, numpy.zeros(2))
    alone = [mould_in(280.15, mass, 0.0) for mass in masses.tolist()]
    for _ in range(200):
        many.eliminate(numpy, 0.5, 0.0, 10.0)
        many.put_back(numpy, AIR, 10.0)
        for mould in alone:
            mould.eliminate(FLOATS, 0.5, 0.0, 10.0)
            mould.put_back(FLOATS, AIR, 10.0)
    assert many.metal.tolist() == pytest.approx([mould.metal for mould in alone], abs=1e-9)


def test_conductances_by_hand():
    """Square root of the flow; resistances in series: 1/12 + 0.15 K/W, and no layer where the wall melts."""
    assert mould_air_conductance(0.25, 0.65, 0.0) == 0.25
    assert mould_air_conductance(0.25, 0.65, 1.0) == pytest.approx(0.65)
    assert mould_to_front_conductance(12.0, 0.15, 1.0, 268.15) == pytest.approx(1 / (1 / 12 + 0.15))
    assert mould_to_front_conductance(12.0, 0.15, 1.0, 274.15) == pytest.approx(12.0)
    assert melted_mass(1e6, 0.0, 0.1) == 0.1 and melted_mass(-1e6, 0.1, 0.0) == -0.1
    assert melted_mass(HEAT_OF_FUSION * 0.02, 0.0, 0.1) == pytest.approx(0.02)


FINE = {
    freezing_curve: {
        "mass": 0.1, "water_temperature": 288.15, "air_temperature": AIR, "conductance": 0.5,
        "contact_conductance": 12.0, "layer_resistance": 0.15, "duration": 600.0, "metal_capacity": 230.0,
    },
    melted_mass: {"heat": 1.0, "water_mass": 0.1, "ice_mass": 0.1},
    mould_air_conductance: {
        "still_conductance": 0.25, "blown_conductance": 0.65, "relative_air_flow": 1.0,
    },
    mould_to_front_conductance: {
        "contact_conductance": 12.0, "layer_resistance": 0.15, "ice_share": 0.5, "mould_temperature": AIR,
    },
}  # fmt: skip


@pytest.mark.parametrize(
    ("function", "name"), [(function, name) for function, fine in FINE.items() for name in fine]
)
@pytest.mark.parametrize("wrong", [-1e12, 1e12])
def test_numbers_out_of_range_are_refused(function, name, wrong):
    """Each number of each function, far below and far above its range."""
    function(**FINE[function])
    with pytest.raises(OutOfRange, match=name.replace("_", " ")):
        function(**(FINE[function] | {name: wrong}))
