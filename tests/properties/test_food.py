"""Food that freezes and thaws: both ways, heat conserved, published enthalpies, edges."""

import numpy as np
import pytest
from coldbench.errors import CannotRead, OutOfRange
from coldbench.properties import food
from coldbench.properties.food import FOODS, Food
from hypothesis import given
from hypothesis import strategies as st

temperatures = st.floats(233.15, 313.15)
foods = st.sampled_from(sorted(FOODS)).map(FOODS.get)


@given(foods, temperatures)
def test_heat_content_gives_the_temperature_back(data, temperature):
    """The closed inverse returns to the temperature, frozen, thawing and thawed."""
    enthalpy = food.food_enthalpy(data, temperature)
    assert food.food_temperature(data, enthalpy) == pytest.approx(temperature, abs=1e-6)


@given(foods, temperatures)
def test_apparent_specific_heat_is_the_slope(data, temperature):
    """Away from the first ice, a small warming takes the apparent specific heat."""
    step = 0.01
    middle = min(max(temperature, 233.2), 313.1)
    if abs(middle - data.freezing_temperature) < 0.1:
        middle -= 0.3
    slope = food.food_enthalpy(data, middle + step) - food.food_enthalpy(data, middle - step)
    assert slope / (2 * step) == pytest.approx(food.apparent_specific_heat(data, middle), rel=1e-3)


@given(foods, temperatures, temperatures)
def test_warmer_food_holds_more_heat_and_less_ice(data, one, other):
    """Heat content rises and ice shrinks with temperature."""
    low, high = sorted((one, other))
    assert food.food_enthalpy(data, low) <= food.food_enthalpy(data, high)
    assert food.frozen_share(data, low) >= food.frozen_share(data, high)


@given(foods)
def test_ice_begins_at_the_freezing_point(data):
    """No ice at the freezing point or above, half at twice its depth, nearly all at -40 °C."""
    depth = 273.15 - data.freezing_temperature
    assert food.frozen_share(data, data.freezing_temperature) == 0.0
    assert food.frozen_share(data, 300.0) == 0.0
    assert food.frozen_share(data, 273.15 - 2 * depth) == pytest.approx(0.5)
    assert food.frozen_share(data, 233.15) >= 0.94


# Source: ASHRAE Handbook, Refrigeration (2006), chapter 9, worked example of freezing a beef carcass, from
# memory: 58.21 % water, 17.48 % protein, first ice at -2.2 °C; 50.9 kJ/kg at -20 °C by Chen's equation.
def test_frozen_beef_carcass_agrees_with_a_worked_example():
    """At -20 °C a beef carcass holds 50.9 kJ/kg more than at -40 °C."""
    water, bound, solids = 0.5821, 0.4 * 0.1748, 1 - 0.5821
    carcass = Food(water, 273.15 - 2.2, 3180.0, 1550.0 + 1260.0 * solids, (water - bound) * 333.6e3)
    assert food.food_enthalpy(carcass, 253.15) == pytest.approx(50.9e3, rel=0.002)


def test_thawing_food_holds_the_cold():
    """From -18 °C to 2 °C beef takes more than six times the heat that its specific heats alone would say.

    Source: energy balance; the table's row of beef.
    """
    beef = FOODS["beef"]
    sensible = 16 * beef.specific_heat_below + 4 * beef.specific_heat_above
    whole = food.food_enthalpy(beef, 275.15) - food.food_enthalpy(beef, 255.15)
    assert whole == pytest.approx(sensible + food.frozen_share(beef, 255.15) * 255e3, rel=1e-9)
    assert whole > 6.5 * sensible


@pytest.mark.parametrize("name", FOODS)
def test_the_rule_for_latent_heat_is_near_the_table(name):
    """335 kJ/kg times the water content is within 5 % of the table, but 15 % below it for fish."""
    data = FOODS[name]
    miss = food.latent_heat_from_water(data.water_fraction) / data.latent_heat_of_fusion - 1
    assert abs(miss) < (0.16 if name == "fish" else 0.05)


def test_foods_are_found_by_name():
    """A food of the table is found; another is refused with those that there are."""
    assert food.food_named("peas") is FOODS["peas"]
    with pytest.raises(CannotRead, match=r"no food 'soup'.*apples, beef"):
        food.food_named("soup")


@pytest.mark.parametrize(
    ("function", "array"),
    [
        (lambda x: food.food_enthalpy(FOODS["milk"], x), np.linspace(233.15, 313.15, 41)),
        (lambda x: food.frozen_share(FOODS["milk"], x), np.linspace(233.15, 313.15, 41)),
        (lambda x: food.apparent_specific_heat(FOODS["milk"], x), np.linspace(233.15, 313.15, 41)),
        (lambda x: food.food_temperature(FOODS["milk"], x), np.linspace(0.0, 450e3, 41)),
        (food.specific_heat_from_water, np.linspace(0.0, 1.0, 11)),
        (food.latent_heat_from_water, np.linspace(0.0, 1.0, 11)),
    ],
)
def test_arrays_and_floats_agree(function, array):
    """An array goes through the same equations as each of its floats, and a float gives a float."""
    one_by_one = [function(float(value)) for value in array]
    assert all(type(value) is float for value in one_by_one)
    np.testing.assert_allclose(function(array), one_by_one, rtol=1e-12, atol=1e-8)


@pytest.mark.parametrize(
    ("function", "arguments", "words"),
    [
        (food.food_enthalpy, (FOODS["beef"], -18.0), "temperature is -18 K"),
        (food.frozen_share, (FOODS["beef"], 330.0), "from -40 to 40 °C"),
        (food.apparent_specific_heat, (FOODS["beef"], 200.0), "temperature is 200 K"),
        (food.food_temperature, (FOODS["beef"], -1.0), "counted from -40 °C"),
        (food.food_temperature, (FOODS["beef"], 9e5), "enthalpy is 900000"),
        (food.food_enthalpy, (Food(1.0, 273.15, 4190.0, 2050.0, 335e3), 260.0), "For plain water"),
        (food.specific_heat_from_water, (75.0,), "75 % is 0.75"),
        (food.latent_heat_from_water, (-0.1,), "water fraction"),
    ],
)
def test_out_of_range_is_refused_in_a_sentence(function, arguments, words):
    """Outside its range each function refuses and says what to look at."""
    with pytest.raises(OutOfRange, match=words):
        function(*arguments)
