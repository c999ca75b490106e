"""How fast fresh food spoils, and how long it keeps, at another temperature.

Inside: two published rates of spoilage relative to that at 0 °C, and the shelf life that follows from a known
one.

These say how quality fades, for one kind of food and one kind of spoilage. They never say that food is safe:
the bacteria that make people ill can neither be smelled nor are they the ones modelled here. For safety the
limits of the authorities hold (`coldbench.properties.standards`); when in doubt, throw it out.
"""

from __future__ import annotations

from coldbench.errors import check_range
from coldbench.operations import operations

WARMEST = 298.15  # 25 °C [K]
NO_GROWTH = 263.15  # -10 °C [K], of the bacteria that spoil fresh fish


def relative_spoilage_rate(temperature: float, no_growth_temperature: float = NO_GROWTH) -> float:
    r"""Rate of spoilage compared with that at 0 °C, by the square-root model.

    .. math:: r = \left(\frac{T - T_{min}}{273.15 - T_{min}}\right)^2

    As the curve bends upward, a box that swings spoils more than one that holds the same mean: for a swing of
    standard deviation s the mean rate is greater by (s / (273.15 - Tmin)) squared.

    Parameters
    ----------
    temperature : float or array
        Temperature of the food [K], valid from 253.15 to 298.15 (-20 to 25 °C); nothing
        spoils where nothing grows
    no_growth_temperature : float or array
        Temperature at which the model's growth ends [K], valid from 253.15 to 272.15; 263.15 (-10 °C) for
        fresh fish

    Returns
    -------
    float or array
        Rate relative to 0 °C [-]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    Square-root model with a lowest temperature of -10 °C: Dalgaard and others, relative rate of spoilage of
    fresh fish from temperate waters (a technical university's spoilage models).

    Examples
    --------
    >>> round(relative_spoilage_rate(283.15), 6)  # at 10 °C four times as fast as in ice
    4.0
    """
    check_range(
        "no_growth_temperature",
        no_growth_temperature,
        253.15,
        272.15,
        "K",
        "263.15 K (-10 °C) for fresh fish",
    )
    check_range("temperature", temperature, 253.15, WARMEST, "K", "the model holds up to 25 °C")
    op = operations(temperature, no_growth_temperature)
    warmer = op.maximum(temperature - no_growth_temperature, 0.0)
    return (warmer / (273.15 - no_growth_temperature)) ** 2


def exponential_spoilage_rate(temperature: float, sensitivity: float = 0.089) -> float:
    r"""Rate of spoilage compared with that at 0 °C, where it grows by the same share for each kelvin.

    .. math:: r = \exp\left(a\,(T - 273.15)\right)

    Parameters
    ----------
    temperature : float or array
        Temperature of the food [K], valid from 273.15 to 298.15 (0 to 25 °C)
    sensitivity : float or array
        Growth for each kelvin [1/K], valid from 0 to 0.5; 0.089 for cold-smoked salmon

    Returns
    -------
    float or array
        Rate relative to 0 °C [-]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    Relative rate of spoilage of cold-smoked salmon: a technical university's spoilage models.

    Examples
    --------
    >>> round(exponential_spoilage_rate(288.15), 1)
    3.8
    """
    check_range("temperature", temperature, 273.15, WARMEST, "K", "the model holds from 0 to 25 °C")
    check_range("sensitivity", sensitivity, 0.0, 0.5, "1/K")
    return operations(temperature, sensitivity).exp(sensitivity * (temperature - 273.15))


def shelf_life(temperature: float, known_shelf_life: float, known_temperature: float) -> float:
    r"""How long fresh fish keeps its quality, from how long it does at another temperature.

    .. math:: t = t_{known} \, \frac{r(T_{known})}{r(T)}

    with the rate of the square-root model.

    Parameters
    ----------
    temperature : float or array
        Temperature of the food [K], valid from 268.15 to 298.15 (-5 to 25 °C)
    known_shelf_life : float or array
        Time that it keeps at the known temperature [s], valid from 0 up
    known_temperature : float or array
        Temperature at which that is known [K], valid from 268.15 to 298.15 (-5 to 25 °C)

    Returns
    -------
    float or array
        Shelf life [s], for quality, not for safety

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    Square-root model with a lowest temperature of -10 °C, as in `relative_spoilage_rate`.

    Examples
    --------
    >>> round(shelf_life(273.15, 21 * 86400.0, 278.15) / 86400.0, 2)  # 21 days at 5 °C, and at 0 °C
    47.25
    """
    check_range("known_shelf_life", known_shelf_life, 0.0, float("inf"), "s")
    check_range("temperature", temperature, 268.15, WARMEST, "K", "the model holds from -5 to 25 °C")
    check_range("known_temperature", known_temperature, 268.15, WARMEST, "K", "from -5 to 25 °C")
    return known_shelf_life * relative_spoilage_rate(known_temperature) / relative_spoilage_rate(temperature)
