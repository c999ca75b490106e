"""Condenser: heat against textbook forms, liquid at its end, air that got in; what is refused."""

import math

import numpy as np
import pytest
from coldbench.errors import OutOfRange
from coldbench.parts import condenser
from coldbench.parts.coil import AIR_HEAT_CAPACITY, air_outlet_temperature, coil_effectiveness
from CoolProp.CoolProp import PropsSI
from hypothesis import given
from hypothesis import strategies as st

conductances = st.floats(0.5, 200.0)
WARM, ROOM = 317.15, 298.15  # [K]


def test_rating_of_a_condenser():
    """12 kW between 50 °C condensing and air of 35 °C belong to 0.8 kW/K, here halved on either side.

    Source: a textbook of refrigeration, worked example (row C-FOO-009 of outside/checks.csv).
    """
    assert condenser.condenser_heat(323.15, 308.15, 1600.0, 1600.0) == pytest.approx(12e3)


@given(conductances, st.floats(0.005, 0.1), conductances, st.floats(300.0, 340.0))
def test_heat_is_conductance_times_the_logarithmic_mean(surface, air_flow, refrigerant, condensing):
    """An air stream along metal of one temperature: effectiveness and logarithmic mean tell the same heat.

    Source: effectiveness and number of transfer units against the logarithmic mean temperature difference,
    any textbook of heat transfer.
    """
    air_conductance = coil_effectiveness(surface, air_flow) * air_flow * AIR_HEAT_CAPACITY
    heat = condenser.condenser_heat(condensing, ROOM, refrigerant, air_conductance)
    metal = condensing - heat / refrigerant
    leaving = ROOM + heat / (air_flow * AIR_HEAT_CAPACITY)
    assert leaving == pytest.approx(air_outlet_temperature(ROOM, metal, surface, air_flow), abs=1e-6)
    if metal - leaving > 0.05:
        mean = (leaving - ROOM) / math.log((metal - ROOM) / (metal - leaving))
        assert heat == pytest.approx(surface * mean, rel=1e-6)


def test_fan_moves_the_conductance_between_its_two_ends():
    """At rest and at full speed it is what was measured there; between them it rises."""
    found = condenser.condenser_air_conductance(3.0, 9.0, np.array([0.0, 0.3, 0.7, 1.0]))
    assert found[0] == 3.0 and found[-1] == 9.0 and (np.diff(found) > 0).all()


@given(st.floats(0.0, 0.2), st.floats(0.001, 0.02))
def test_liquid_either_seals_or_floods(liquid, seal):
    """Vapour gets past only where nothing floods, and the flooded volume holds what is beyond the seal."""
    quality = condenser.unsealed_quality(liquid, seal)
    flooded = condenser.flooded_share(liquid, seal, 0.00025, 540.0)
    assert quality == 0.0 or flooded == 0.0
    assert 0.0 <= quality <= 1.0
    if 0.0 < flooded < condenser.MOST_FLOODED:
        assert flooded * 0.00025 * 540.0 + seal == pytest.approx(liquid)


@pytest.mark.parametrize("units", [0.01, 0.6, 3.0])
def test_subcooling_is_that_of_many_pools_in_a_row(units):
    """Pools in a row, each mixed and with its part of the surface, tend to a pipe's effectiveness.

    Source: mixed vessels in series tend to plug flow, any textbook of heat transfer.
    """
    flow, heat_capacity, pools = 0.0005, 2450.0, 2000
    conductance = units * flow * heat_capacity
    above_room = (WARM - ROOM) / (1 + units / pools) ** pools
    assert condenser.condenser_subcooling(WARM, ROOM, conductance, flow, heat_capacity) == pytest.approx(
        WARM - ROOM - above_room, rel=2e-3
    )


def test_a_room_warmer_than_the_refrigerant_cools_nothing():
    assert condenser.condenser_subcooling(ROOM, WARM, 0.6, 0.0005, 2450.0) == 0.0


@pytest.mark.parametrize("grams", [0.05, 0.3, 0.6])
def test_trapped_air_has_the_pressure_of_real_air(grams):
    """Source: reference equation of state of air, through CoolProp; its gas constant is known to 0.1 %."""
    real = PropsSI("P", "T", WARM, "D", grams / 1e3 / 0.00025, "Air")
    assert condenser.trapped_air_pressure(grams / 1e3, WARM, 0.00025) == pytest.approx(real, rel=2e-3)


def test_air_and_liquid_keep_vapour_from_the_metal():
    """Each alone takes conductance away; air that carries a third of the pressure takes half (assumed)."""
    whole = condenser.condensing_conductance(45.0, 0.0, 0.0, 6e5)
    assert whole == 45.0
    assert condenser.condensing_conductance(45.0, 0.0, 2e5, 6e5) == pytest.approx(whole / 2)
    shares = condenser.condensing_conductance(45.0, np.linspace(0.0, 0.9, 5), 1e5, 6e5)
    assert (np.diff(shares) < 0).all()


@pytest.mark.parametrize(
    ("function", "arguments"),
    [
        (condenser.condenser_air_conductance, (3.0, 9.0, 0.5)),
        (condenser.unsealed_quality, (0.003, 0.006)),
        (condenser.flooded_share, (0.02, 0.006, 0.00025, 540.0)),
        (condenser.condenser_subcooling, (WARM, ROOM, 0.6, 0.0005, 2450.0)),
        (condenser.trapped_air_pressure, (0.0003, WARM, 0.00025)),
        (condenser.condensing_conductance, (45.0, 0.1, 1e5, 6e5)),
        (condenser.condenser_heat, (WARM, ROOM, 45.0, 9.0)),
    ],
)
def test_arrays_and_floats_agree(function, arguments):
    """An array goes through the same equations as each of its floats, and a float gives a float."""
    one = function(*arguments)
    assert type(one) is float
    for place, value in enumerate(arguments):
        many = function(*arguments[:place], np.array([value, value]), *arguments[place + 1 :])
        assert np.asarray(many).tolist() == [one, one]


@pytest.mark.parametrize(
    ("function", "arguments", "words"),
    [
        (condenser.condenser_air_conductance, (-1.0, 9.0, 0.5), "still conductance"),
        (condenser.condenser_air_conductance, (3.0, -9.0, 0.5), "air conductance"),
        (condenser.condenser_air_conductance, (3.0, 9.0, 50.0), "full speed is 1|Full speed is 1"),
        (condenser.unsealed_quality, (20.0, 0.006), "Six grams are 0.006"),
        (condenser.unsealed_quality, (0.003, 0.0), "seal"),
        (condenser.flooded_share, (-1.0, 0.006, 0.00025, 540.0), "condenser liquid"),
        (condenser.flooded_share, (0.02, 60.0, 0.00025, 540.0), "seal"),
        (condenser.flooded_share, (0.02, 0.006, 0.25, 540.0), "quarter of a litre"),
        (condenser.flooded_share, (0.02, 0.006, 0.00025, 0.5), "liquid density"),
        (condenser.condenser_subcooling, (44.0, ROOM, 0.6, 0.0005, 2450.0), "condensing temperature"),
        (condenser.condenser_subcooling, (WARM, 25.0, 0.6, 0.0005, 2450.0), "outside temperature"),
        (condenser.condenser_subcooling, (WARM, ROOM, -0.6, 0.0005, 2450.0), "conductance"),
        (condenser.condenser_subcooling, (WARM, ROOM, 0.6, 0.5, 2450.0), "half a gram|Half a gram"),
        (condenser.condenser_subcooling, (WARM, ROOM, 0.6, 0.0005, 2.4), "liquid heat capacity"),
        (condenser.trapped_air_pressure, (0.3, WARM, 0.00025), "air mass"),
        (condenser.trapped_air_pressure, (0.0003, 44.0, 0.00025), "kelvin"),
        (condenser.trapped_air_pressure, (0.0003, WARM, 0.25), "condenser volume"),
        (condenser.condensing_conductance, (-45.0, 0.1, 1e5, 6e5), "refrigerant conductance"),
        (condenser.condensing_conductance, (45.0, 40.0, 1e5, 6e5), "40 % is 0.4"),
        (condenser.condensing_conductance, (45.0, 0.1, 1e5, 6.0), "absolute"),
        (condenser.condensing_conductance, (45.0, 0.1, 7e5, 6e5), "share of air"),
        (condenser.condenser_heat, (44.0, ROOM, 45.0, 9.0), "condensing temperature"),
        (condenser.condenser_heat, (WARM, 25.0, 45.0, 9.0), "outside temperature"),
        (condenser.condenser_heat, (WARM, ROOM, 0.0, 9.0), "refrigerant conductance"),
        (condenser.condenser_heat, (WARM, ROOM, 45.0, 0.0), "air conductance"),
    ],
)
def test_out_of_range_is_refused_in_a_sentence(function, arguments, words):
    """Outside its range each function refuses and says what to look at."""
    with pytest.raises(OutOfRange, match=words):
        function(*arguments)
