"""The air that a coil takes from the two boxes and gives back to them.

What is inside: a coil's share, the part of its air that comes from the fresh-food box; `mixed`, what meets at
a coil; `join`, what it draws from the boxes, as entries of their linear system.
"""

from __future__ import annotations

__all__: list[str] = []

FRESH_FOOD_ALONE, FREEZER_ALONE = 1, 0  # whole numbers, compared by identity: a coil's fixed share


def parts_of(share):
    """Columns of the boxes that a coil's air comes from, with their parts; 0 or 1 is one box alone."""
    if share is FRESH_FOOD_ALONE:
        return ((0, 1.0),)
    if share is FREEZER_ALONE:
        return ((1, 1.0),)
    return (0, share), (1, 1 - share)


def mixed(share, fresh_food, freezer):
    """Air of the two boxes as it meets at a coil."""
    if share is FRESH_FOOD_ALONE:
        return fresh_food
    if share is FREEZER_ALONE:
        return freezer
    return share * fresh_food + (1 - share) * freezer


def join(rows, right, share, flow, slope, constant):
    """Add to the rows of the boxes what a coil draws from them: constant + slope · (its inlet air)."""
    parts = parts_of(share)
    if len(parts) == 1:
        place = parts[0][0]
        rows[place][place] = rows[place][place] + slope
        right[place] = right[place] - constant
        return
    (one, share), (two, rest) = parts
    # Each box loses what it sends at its own state and gets back the mixture as it leaves the coil.
    mixing = slope - flow
    rows[one][one] = rows[one][one] + share * (flow + share * mixing)
    rows[one][two] = rows[one][two] + share * rest * mixing
    rows[two][two] = rows[two][two] + rest * (flow + rest * mixing)
    rows[two][one] = rows[two][one] + share * rest * mixing
    right[one] = right[one] - share * constant
    right[two] = right[two] - rest * constant


def as_constant(share):
    """A share of 0 or 1 as the constant that stands for one box alone."""
    if all_are(share, FRESH_FOOD_ALONE):
        return FRESH_FOOD_ALONE
    return FREEZER_ALONE if all_are(share, FREEZER_ALONE) else share


def all_are(number, value) -> bool:
    """Whether a number, or every one of an array, is a value."""
    same = number == value
    return same if isinstance(same, bool) else bool(same.all())
