"""Suction line soldered to the capillary: cold vapour takes heat from the liquid on its way.

The vapour reaches the compressor warm and free of liquid, and the liquid gives just that heat before it
enters the coil. Of the two the vapour takes the less heat for each kelvin, so that it sets the limit.
"""

from __future__ import annotations

from coldbench.errors import check_range

__all__ = ["suction_line_exchange"]


def suction_line_exchange_of(exchange, difference, vapor_heat_capacity):
    """Heat that a kilogram of vapour takes from the liquid, unchecked [J/kg]."""
    return exchange * difference * vapor_heat_capacity


def suction_line_exchange(
    exchange: float, line_temperature: float, vapor_temperature: float, vapor_heat_capacity: float
) -> float:
    r"""Heat that each kilogram of vapour takes from the liquid beside it.

    .. math:: q = \varepsilon \, c_p (T_{liquid} - T_{vapour})

    Parameters
    ----------
    exchange : float or array
        Effectiveness: heat exchanged over the most that could be [-], valid from 0 to 1
    line_temperature : float or array
        Of the liquid line, where the liquid comes in [K], valid from 213.15 to 363.15
    vapor_temperature : float or array
        Of the vapour where it leaves the coil [K], valid from 203.15 to 363.15
    vapor_heat_capacity : float or array
        Of the vapour [J/(kg K)], valid from 300 to 3000

    Returns
    -------
    float or array
        Heat, as much per kilogram for the liquid as for the vapour [J/kg]

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.

    References
    ----------
    Effectiveness of a heat exchanger, any textbook of heat transfer; both streams are one mass flow, and the
    vapour has the smaller heat capacity.

    Examples
    --------
    >>> round(suction_line_exchange(0.8, 309.15, 247.15, 1600.0))
    79360
    """
    check_range("exchange", exchange, 0.0, 1.0, "(as a fraction)", "80 % is 0.8")
    check_range("line_temperature", line_temperature, 213.15, 363.15, "K", "give kelvin")
    check_range("vapor_temperature", vapor_temperature, 203.15, 363.15, "K", "give kelvin")
    check_range("vapor_heat_capacity", vapor_heat_capacity, 300.0, 3000.0, "J/(kg K)")
    return suction_line_exchange_of(exchange, line_temperature - vapor_temperature, vapor_heat_capacity)
