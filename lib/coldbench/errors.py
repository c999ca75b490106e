"""Errors that are sentences: what was wrong, what was expected, what to do."""

from __future__ import annotations


class OutOfRange(ValueError):
    """A number lies outside the range for which an equation holds."""


class CannotRead(ValueError):
    """Something a person typed or handed in cannot be understood as it stands."""


class CannotStart(RuntimeError):
    """A command cannot begin: something it needs is missing or is not what it should be."""


def check_range(name: str, value, low: float, high: float, unit: str, advice: str = "") -> None:
    """Refuse a value, or any element of an array, outside ``low`` to ``high``; nan is outside too.

    Parameters
    ----------
    name : str
        What the value is, in the glossary's words (underscores are shown as spaces)
    value : float or array
        Value [in ``unit``]
    low, high : float
        Ends of the valid range, both included [in ``unit``]
    unit : str
        Unit shown in the sentence
    advice : str
        What to do instead, a sentence without its full stop

    Raises
    ------
    OutOfRange
        A `ValueError` whose sentence names the value, the range and the advice.

    Source
    ------
    House rule of this project: no equation is used outside its stated range.
    """
    if isinstance(value, (float, int)):
        outside = not low <= value <= high
        shown = value
    else:
        inside = (value >= low) & (value <= high)
        outside = not inside.all()
        shown = value[~inside].flat[0] if outside and getattr(value, "ndim", 0) else value
    if outside:
        words = name.replace("_", " ")
        tail = f" {advice[0].upper()}{advice[1:]}." if advice else ""
        limits = f"must lie from {low:g} to {high:g} {unit}"
        raise OutOfRange(f"The {words} is {float(shown):.6g} {unit}, but {limits}.{tail}")
