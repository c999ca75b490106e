"""Figures that standards, authorities and published measurements state for household refrigeration.

Inside: `Figure`, one such number with its unit and source, and `FIGURES`, all of them by a plain name. They
are facts to compare with, in SI; nothing in the physics is made to meet them.

Standards change, and local codes come first: look into the edition that is in force before relying on one.
"""

from __future__ import annotations

from typing import NamedTuple


class Figure(NamedTuple):
    """One published figure.

    Attributes
    ----------
    lowest : float
        Lower end of what is stated [in ``unit``]
    highest : float
        Upper end, the same as the lower one where a single number is stated [in ``unit``]
    unit : str
        Its SI unit
    source : str
        Who states it
    """

    lowest: float
    highest: float
    unit: str
    source: str

    @property
    def value(self) -> float:
        """The number, or the middle of a span."""
        return (self.lowest + self.highest) / 2


def _single(value: float, unit: str, source: str) -> Figure:
    return Figure(value, value, unit, source)


_IEC = "IEC 62552-3:2015, energy of household refrigerating appliances, from memory"
_DOE = "US 10 CFR 430 subpart B appendix A, from memory"
_FOOD_SAFETY = "US food-safety authorities (USDA, FDA), text for households"
_ACADEMIES = "National Academies, What you need to know about energy: refrigeration"
_MEASURED = "Measured study of a two-compartment R-600a household unit (2025), abstract"
_DAY, _HOUR, _KILOWATT_HOUR = 86400.0, 3600.0, 3.6e6

FIGURES = {
    "energy test, cool room (IEC)": _single(289.15, "K", _IEC),
    "energy test, warm room (IEC)": _single(305.15, "K", _IEC),
    "energy test, fresh food (IEC)": _single(277.15, "K", _IEC),
    "energy test, freezer of three or four stars (IEC)": _single(255.15, "K", _IEC),
    "energy test, room (US)": _single((90 + 459.67) / 1.8, "K", _DOE),
    "energy test, fresh food (US)": _single((39 + 459.67) / 1.8, "K", _DOE),
    "largest charge of flammable refrigerant in one circuit": _single(
        0.150, "kg", "UL and IEC 60335-2-24; newer editions allow more under conditions"
    ),
    "warmest safe fresh food (US)": _single((40 + 459.67) / 1.8, "K", _FOOD_SAFETY),
    "warmest advised freezer (US)": _single((0 + 459.67) / 1.8, "K", _FOOD_SAFETY),
    "longest time without cooling, time as the control (US)": _single(
        4 * _HOUR, "s", "Minnesota food code 4626.0408, for food shops; food starts at 41 °F or colder"
    ),
    "longest time out of the refrigerator (US)": _single(
        2 * _HOUR, "s", f"{_FOOD_SAFETY}; in a room below 90 °F"
    ),
    "energy of an average US refrigerator in 1974, a year": _single(1800 * _KILOWATT_HOUR, "J", _ACADEMIES),
    "energy of a typical new US refrigerator, a year": _single(450 * _KILOWATT_HOUR, "J", _ACADEMIES),
    "cooling load of a measured unit": _single(70.087, "W", _MEASURED),
    "freezer air of a measured unit": _single(253.31, "K", _MEASURED),
    "packed cod in ice keeps": _single(
        14 * _DAY, "s", "Huss (1995), FAO Fisheries Technical Paper 348, shelf-life table, from memory"
    ),
    "pasteurised milk at 0.5 to 2 °C keeps": Figure(
        5 * _DAY, 7 * _DAY, "s", "A table of dairy storage life; another says 8 to 20 days: an order of size"
    ),
}
