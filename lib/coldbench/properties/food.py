"""Food: the heat that it holds warm, frozen and in between.

Inside: `Food`, the thermal data of one food, and `FOODS`, a table of some; the heat content of a kilogram
from its temperature and back, how much of its water is ice, and the heat that warms it by a kelvin where
part of that heat melts ice; and two rules of thumb from the water content alone.

Food does not freeze at one temperature. Its water holds salts and sugars: as ice forms, what is left of the
water gets stronger and freezes lower. Most of the ice is made within some kelvin below the first.
"""

from __future__ import annotations

from typing import NamedTuple

from coldbench.errors import CannotRead, check_range
from coldbench.operations import operations

COLDEST, WARMEST = 233.15, 313.15  # -40 and 40 °C [K]


class Food(NamedTuple):
    """Thermal data of one food.

    Attributes
    ----------
    water_fraction : float
        Share of water by mass [-]
    freezing_temperature : float
        Temperature at which the first ice forms [K]
    specific_heat_above : float
        Specific heat with no ice in it [J/(kg K)]
    specific_heat_below : float
        Specific heat when wholly frozen [J/(kg K)]
    latent_heat_of_fusion : float
        Heat that freezing all of its freezable water sets free [J/kg of food]
    """

    water_fraction: float
    freezing_temperature: float
    specific_heat_above: float
    specific_heat_below: float
    latent_heat_of_fusion: float


# Earle, Unit Operations in Food Processing, appendix 7 (from ASHRAE data books). The freezing points are
# rounded to whole degrees there; newer tables have -1.7 °C for lean beef and -0.6 °C for milk.
FOODS = {
    "apples": Food(0.84, 271.15, 3600.0, 1880.0, 280e3),
    "beef": Food(0.75, 271.15, 3220.0, 1670.0, 255e3),
    "fish": Food(0.70, 271.15, 3180.0, 1670.0, 276e3),
    "milk": Food(0.875, 272.15, 3900.0, 2050.0, 289e3),
    "peas": Food(0.74, 272.15, 3310.0, 1760.0, 247e3),
    "tomatoes": Food(0.95, 272.15, 3980.0, 2010.0, 310e3),
}


def food_named(food: str) -> Food:
    """Thermal data of a food of the table.

    Parameters
    ----------
    food : str
        Its name, such as "beef"

    Returns
    -------
    Food
        Its thermal data

    Raises
    ------
    CannotRead
        A `ValueError`: the table has no such food; the sentence lists those it has.

    Source
    ------
    Earle, Unit Operations in Food Processing, appendix 7.

    Examples
    --------
    >>> food_named("beef").water_fraction
    0.75
    """
    try:
        return FOODS[food]
    except KeyError:
        raise CannotRead(
            f"There is no food {food!r} in the table. It has {', '.join(FOODS)}; "
            "for another make a Food of its data."
        ) from None


def _check_temperature(temperature):
    check_range("temperature", temperature, COLDEST, WARMEST, "K", "give kelvin: from -40 to 40 °C")


def _depression(food: Food) -> float:
    """Degrees below 0 °C at which the first ice forms, as a positive number."""
    depression = 273.15 - food.freezing_temperature
    check_range(
        "freezing_point_depression", depression, 0.05, 20.0, "K",
        "for plain water use coldbench.properties.melting",
    )  # fmt: skip
    return depression


def frozen_share(food: Food, temperature: float) -> float:
    r"""Share of the freezable water that is ice: half of it at twice the depth of the first ice.

    .. math:: x = \max\left(0, 1 - \frac{t_f}{t}\right), \quad t = T - 273.15

    Parameters
    ----------
    food : Food
        Which food
    temperature : float or array
        Temperature of the food [K], valid from 233.15 to 313.15 (-40 to 40 °C)

    Returns
    -------
    float or array
        Share of the freezable water [-]

    Raises
    ------
    OutOfRange
        A `ValueError`: the temperature or the food's freezing point lies outside its valid range.

    References
    ----------
    Freezing-point depression of an ideal solution, as in ASHRAE Handbook, Refrigeration, thermal properties
    of foods (ice fraction).

    Examples
    --------
    >>> round(frozen_share(FOODS["beef"], 255.15), 2)  # at -18 °C a ninth is still liquid
    0.89
    """
    _check_temperature(temperature)
    depression = _depression(food)
    return 1 - depression / operations(temperature).maximum(273.15 - temperature, depression)


def food_enthalpy(food: Food, temperature: float) -> float:
    r"""Heat content of a kilogram of food, counted from -40 °C.

    .. math:: h = h_f + c_{above}\,(t - t_f) \quad (t > t_f), \qquad
              h = h_f + c_{below}\,(t - t_f) - L \left(1 - \frac{t_f}{t}\right) \quad (t \le t_f)

    Parameters
    ----------
    food : Food
        Which food
    temperature : float or array
        Temperature of the food [K], valid from 233.15 to 313.15 (-40 to 40 °C)

    Returns
    -------
    float or array
        Enthalpy [J/kg]; heat loads from models of this form come within about 10 % of measured ones

    Raises
    ------
    OutOfRange
        A `ValueError`: the temperature or the food's freezing point lies outside its valid range.

    References
    ----------
    Form of Schwartzberg (1976) and Chen (1985), ASHRAE Handbook, Refrigeration, thermal properties of foods.
    Accuracy: Pham, Journal of Food Engineering 30 (1996) 95, abstract.

    Examples
    --------
    >>> beef = FOODS["beef"]
    >>> round(food_enthalpy(beef, 275.15) - food_enthalpy(beef, 255.15), -3)  # to thaw a kilogram
    266000.0
    """
    _check_temperature(temperature)
    return _above_freezing(food, temperature) - _above_freezing(food, COLDEST)


def _above_freezing(food: Food, temperature):
    """Heat content counted from where the first ice forms [J/kg]."""
    op = operations(temperature)
    difference = temperature - food.freezing_temperature
    return (
        food.specific_heat_above * op.maximum(difference, 0.0)
        + food.specific_heat_below * op.minimum(difference, 0.0)
        - food.latent_heat_of_fusion * frozen_share(food, temperature)
    )


def food_temperature(food: Food, enthalpy: float) -> float:
    r"""Temperature of food from its heat content: the inverse of `food_enthalpy`, in closed form.

    Below freezing the equation of `food_enthalpy` is a quadratic in t with one negative root.

    Parameters
    ----------
    food : Food
        Which food
    enthalpy : float or array
        Heat content counted from -40 °C [J/kg], valid from that at -40 °C to that at 40 °C

    Returns
    -------
    float or array
        Temperature [K]

    Raises
    ------
    OutOfRange
        A `ValueError`: the enthalpy or the food's freezing point lies outside its valid range.

    References
    ----------
    Inverse of the form of Schwartzberg (1976) and Chen (1985).

    Examples
    --------
    >>> round(food_temperature(FOODS["beef"], 100_000.0) - 273.15, 1)
    -8.5
    """
    coldest = _above_freezing(food, COLDEST)
    warmest = food.specific_heat_above * (WARMEST - food.freezing_temperature)
    check_range(
        "enthalpy", enthalpy, 0.0, warmest - coldest, "J/kg",
        "this is heat content counted from -40 °C, up to 40 °C",
    )  # fmt: skip
    op = operations(enthalpy)
    depression, latent, below = _depression(food), food.latent_heat_of_fusion, food.specific_heat_below
    from_first_ice = enthalpy + coldest
    frozen = op.minimum(from_first_ice, 0.0)
    middle = latent + frozen - below * depression
    t = (middle - op.sqrt(middle**2 + 4 * below * latent * depression)) / (2 * below)
    return 273.15 + t + op.maximum(from_first_ice, 0.0) / food.specific_heat_above


def apparent_specific_heat(food: Food, temperature: float) -> float:
    r"""Heat that warms a kilogram of food by one kelvin, that which melts ice included.

    .. math:: c = c_{above} \quad (t > t_f), \qquad c = c_{below} + L \frac{-t_f}{t^2} \quad (t \le t_f)

    Just below freezing this is some forty times as much as above it, or more: thawing food holds a box cold.

    Parameters
    ----------
    food : Food
        Which food
    temperature : float or array
        Temperature of the food [K], valid from 233.15 to 313.15 (-40 to 40 °C)

    Returns
    -------
    float or array
        Apparent specific heat, the slope of `food_enthalpy` [J/(kg K)]

    Raises
    ------
    OutOfRange
        A `ValueError`: the temperature or the food's freezing point lies outside its valid range.

    References
    ----------
    Schwartzberg (1976), as in ASHRAE Handbook, Refrigeration, thermal properties of foods.

    Examples
    --------
    >>> round(apparent_specific_heat(FOODS["beef"], 255.15))
    3244
    """
    _check_temperature(temperature)
    op = operations(temperature)
    depression = _depression(food)
    depth = op.maximum(273.15 - temperature, depression)
    freezing = food.specific_heat_below + food.latent_heat_of_fusion * depression / depth**2
    return op.where(temperature > food.freezing_temperature, food.specific_heat_above, freezing)


def specific_heat_from_water(water_fraction: float) -> float:
    r"""Rule of thumb: specific heat above freezing from the water content alone.

    .. math:: c = 4190\,w + 840\,(1 - w)

    Parameters
    ----------
    water_fraction : float or array
        Share of water by mass [-], valid from 0 to 1

    Returns
    -------
    float or array
        Specific heat [J/(kg K)]; it misses tabulated foods by some percent, more where there is much fat

    Raises
    ------
    OutOfRange
        A `ValueError`: the water content lies outside the valid range.

    References
    ----------
    Earle, Unit Operations in Food Processing, appendix 7.

    Examples
    --------
    >>> round(specific_heat_from_water(0.75), 1)
    3352.5
    """
    check_range("water_fraction", water_fraction, 0.0, 1.0, "(as a fraction)", "75 % is 0.75")
    return 4190.0 * water_fraction + 840.0 * (1 - water_fraction)


def latent_heat_from_water(water_fraction: float) -> float:
    r"""Rule of thumb: heat that freezing sets free, from the water content alone.

    .. math:: L = 335000\,w

    Parameters
    ----------
    water_fraction : float or array
        Share of water by mass [-], valid from 0 to 1

    Returns
    -------
    float or array
        Latent heat of fusion [J/kg of food]; a few percent of the water never freezes

    Raises
    ------
    OutOfRange
        A `ValueError`: the water content lies outside the valid range.

    References
    ----------
    Earle, Unit Operations in Food Processing, appendix 7.

    Examples
    --------
    >>> round(latent_heat_from_water(0.60))
    201000
    """
    check_range("water_fraction", water_fraction, 0.0, 1.0, "(as a fraction)", "75 % is 0.75")
    return 335e3 * water_fraction
