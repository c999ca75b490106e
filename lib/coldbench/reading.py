"""Reading what a person typed: "13.5 inHg vacuum", "0,6 psig", "−3 °F", "28.7 kΩ", or a sentence why not.

`read` is the only door. Its grammar is small and closed: a sign, a number, a unit word from
`coldbench.unit_words`; nothing is evaluated and nothing is guessed. `read_number` tells thousands
separators from decimal commas, or refuses. `Reading` is what comes out.
"""

from __future__ import annotations

import math
import re
import sys
from dataclasses import dataclass
from numbers import Integral, Real

from coldbench.errors import CannotRead
from coldbench.unit_table import KINDS, STANDARD_ATMOSPHERE, UNITS, UNMARKED, Unit
from coldbench.unit_words import hint, units_called, word_key

LONGEST = 200
"""Characters in the longest text that is read [-]. Source: arrangement of this project."""

ROUNDING = 1e-5
"""How far below zero a value may fall by rounding: [K], and share of the atmosphere [-]. Own choice."""

_TOO_LARGE = "the number is too large to mean anything here"


@dataclass(frozen=True)
class Reading:
    """What was understood of what a person typed.

    Attributes
    ----------
    value : float
        Value in SI: [K], [Pa] absolute, [Ohm], [J] and so on; percent as a fraction
    unit : str
        Name of the unit, from `coldbench.unit_table.UNITS`
    shown : str
        The value in one settled form, such as "13.5 inHg vacuum"; `read` reads it back
    resolution : float
        Half a unit of the last digit given, in SI
    original : object
        What was given, unchanged
    note : str
        What was taken for granted, such as "taken as °F"; empty when nothing was

    Source
    ------
    Arrangement of this project.
    """

    value: float
    unit: str
    shown: str
    resolution: float
    original: object
    note: str = ""


_INVISIBLE = re.compile("[\u200b-\u200f\u2060\ufeff\u00ad]")
_SPACES = re.compile(r"\s+")
_MINUS = re.compile("^[\u2212\u2010\u2011\u2012\u2013\ufe63\uff0d]")
_TOLERANCE = re.compile(r"^(?:±|\+\s?/\s?-|\+-|\+/[\u2212\u2013])\s*")
_NUMBER = re.compile(r"([+-]?) ?((?:\d|[.,](?=\d)|(?<=\d)[.,]|(?<=\d) (?=\d))+)((?:[eE][+-]?\d+)?)")
_GROUPS = re.compile(r"[1-9]\d{0,2}([., ])\d{3}(?:\1\d{3})*")


def _brief(original: str) -> str:
    return f'"{original[:40]}…"' if len(original) > 40 else f'"{original}"'


def _refusal(original, kind: str, why: str) -> CannotRead:
    expected = KINDS[kind]
    if isinstance(original, str):
        why = f"You typed {_brief(original)}: {why}"
    elif isinstance(original, float) or (isinstance(original, int) and abs(original) < 10**12):
        why = f"You gave {original}: {why}"
    else:
        why = why[0].upper() + why[1:]
    sentence = f'{why}. Expected {expected.noun}, for example "{expected.example}".'
    return CannotRead("".join(sign if sign.isprintable() else " " for sign in sentence))


def read_number(text: str) -> tuple[str, int]:
    """Tell thousands separators from decimal commas in a number without sign.

    Parameters
    ----------
    text : str
        Digits with points, commas and single spaces, such as "1,234.5"

    Returns
    -------
    tuple of str and int
        The number with a decimal point and nothing else, and how many decimals it has [-]

    Raises
    ------
    CannotRead
        A `ValueError` that says why, as the middle of a sentence.

    Source
    ------
    Arrangement of this project: a point alone is always decimal; one comma before three digits may be
    either and is refused.

    Examples
    --------
    >>> read_number("1.234,5"), read_number("0,6")
    (('1234.5', 1), ('0.6', 1))
    """
    marks = re.findall("[., ]", text)
    if not marks:
        return text, 0
    last = marks[-1]
    whole, decimals = text[: text.rindex(last)], text[text.rindex(last) + 1 :]
    if marks == [","] and len(decimals) == 3 and _GROUPS.fullmatch(text):
        raise CannotRead(
            f"{text} may be {whole}{decimals} or {whole}.{decimals}; "
            f"type {whole}{decimals} without a comma, or {whole}.{decimals} with a point"
        )
    if last != " " and marks.count(last) == 1 and (len(marks) == 1 or _GROUPS.fullmatch(whole)):
        if last == "," and not decimals:
            raise CannotRead("the number ends in a comma")
        number = re.sub("[., ]", "", whole) or "0"
        return f"{number}.{decimals}" if decimals else number, len(decimals)
    if _GROUPS.fullmatch(text):
        return re.sub("[., ]", "", text), 0
    raise CannotRead(f"{text} is not one number; type digits with at most one decimal point")


def _split(text: str) -> tuple[float, str, float, str]:
    """Give value, settled digits, half a unit of the last digit, and the rest of a cleaned text."""
    found = _NUMBER.match(text)
    if not found:
        first = text.split(" ")[0]
        if first.lower().lstrip("+-") in ("nan", "inf", "infinity"):
            raise CannotRead(f'"{first}" is not a finite number')
        raise CannotRead(
            f'it begins with "{first[:20]}", not with a number' if first else "there is nothing in it"
        )
    sign, digits, exponent = found.groups()
    number, decimals = read_number(digits)
    shown = ("-" if sign == "-" else "") + number + exponent
    value = float(shown)
    if not math.isfinite(value):
        raise CannotRead(_TOO_LARGE)
    power = max(int(exponent[1:] or 0), -400) - decimals
    return value, shown, float(f"0.5e{power}"), text[found.end() :].strip()


def _unit_from_word(word: str, kind: str, bare_unit: str | None) -> tuple[Unit, str]:
    """Find the unit that a word, or no word, means for this kind, and what was taken for granted."""
    if not word and kind == "number":
        return UNITS["1"], ""
    if not word:
        if bare_unit is None:
            raise CannotRead("a number without a unit can mean many things")
        unit = _of_kind(bare_unit, kind)
        if unit is None:
            raise ValueError(f'The bare unit "{bare_unit}" is not a unit of {KINDS[kind].noun}.')
        return unit, f"taken as {unit.shown}"
    unit = _of_kind(word, kind)
    if unit:
        return unit, f"taken as {unit.shown}" if kind == "pressure" and word_key(word) in UNMARKED else ""
    advice = hint(word, kind)
    if advice:
        raise CannotRead(f'"{word[:30]}" {advice}')
    nouns = " or ".join(dict.fromkeys(KINDS[unit.kind].noun for unit in units_called(word)))
    if nouns:
        raise CannotRead(f"that is {nouns}")
    if any(sign.isdigit() for sign in word):
        raise CannotRead("there is more than one number in it")
    raise CannotRead(f'the unit "{word[:30]}" is not known here')


def _of_kind(word: str, kind: str) -> Unit | None:
    named = UNITS.get(word)
    return next((unit for unit in (named, *units_called(word)) if unit and unit.kind == kind), None)


def _check(number: float, unit: Unit, atmosphere: float) -> float:
    """Give the SI value, or refuse what cannot be."""
    value = unit.to_si(number, atmosphere)
    if not math.isfinite(value):
        raise CannotRead(_TOO_LARGE)
    if KINDS[unit.kind].from_zero and number < 0:
        raise CannotRead(f"{KINDS[unit.kind].noun} cannot be negative")
    if unit.name == "inHg vacuum" and number < 0:
        raise CannotRead("a vacuum is typed without a minus; above the atmosphere use psig")
    if unit.kind not in ("temperature", "pressure"):
        return value
    lowest = f"{unit.from_si(0.0, atmosphere):.2f} {unit.shown}"
    if unit.kind == "temperature" and value < -ROUNDING:
        raise CannotRead(f"that is colder than absolute zero, {lowest}")
    if value < -ROUNDING * atmosphere:
        if not unit.share:
            raise CannotRead("an absolute pressure cannot be negative")
        raise CannotRead(f"no pressure is lower than zero, which is {lowest} in this atmosphere")
    return max(value, 0.0)


def read(text, kind: str, atmosphere: float | None = None, bare_unit: str | None = None) -> Reading:
    """Read a value with its unit that a person typed, or refuse in a sentence.

    Parameters
    ----------
    text : str, int, float or pint.Quantity
        What was typed, such as "13.5 inHg vacuum"; a bare number needs ``bare_unit``
    kind : str
        What is expected, a key of `coldbench.unit_table.KINDS`, such as "temperature"
    atmosphere : float, optional
        Pressure of the air from which gauge and vacuum count [Pa]; the standard atmosphere when absent
    bare_unit : str, optional
        Unit of a number that has none; absent: such a number is refused

    Returns
    -------
    Reading
        Value in SI [K], [Pa] absolute, [Ohm] and so on, unit, settled text, resolution, original, note

    Raises
    ------
    CannotRead
        A `ValueError` whose sentence says what was read, what was expected, with an example.
    ValueError
        When ``kind`` or ``bare_unit`` is not in the table: a slip of the question's author.

    Source
    ------
    Arrangement of this project.

    Examples
    --------
    >>> reading = read("13.5 in. Hg vac", "pressure")
    >>> round(reading.value), reading.shown
    (55609, '13.5 inHg vacuum')
    """
    if kind not in KINDS:
        raise ValueError(f'There is no kind "{kind}". Use one of: {", ".join(KINDS)}.')
    air = STANDARD_ATMOSPHERE if atmosphere is None else atmosphere
    try:
        if _is_quantity(text):
            cleaned, unit, notes = *_from_quantity(text, kind), []
            number, digits, half_digit, _ = _split(cleaned)
        else:
            cleaned, tolerance = _clean(text)
            number, digits, half_digit, word = _split(cleaned)
            unit, note = _unit_from_word(word, kind, bare_unit)
            notes = [note] if note else []
            if tolerance and (kind in ("temperature", "pressure") or number < 0):
                raise CannotRead("a value with ± is a tolerance")
            if tolerance:
                notes.append("taken as a tolerance")
        value = _check(number, unit, air)
    except CannotRead as why:
        raise _refusal(text, kind, str(why)) from None
    if unit.share and atmosphere is None:
        notes.append("counted from the standard atmosphere")
    shown = f"{digits} {unit.shown}".strip()
    return Reading(value, unit.name, shown, half_digit * abs(unit.factor), text, "; ".join(notes))


def _clean(text) -> tuple[str, bool]:
    """Give the text with plain spaces and minus, and whether it began with ±; refuse what is no text."""
    if text is None or text is ...:
        raise CannotRead("nothing was given")
    if isinstance(text, bool):
        raise CannotRead(f"{text} is a yes or no, not a number")
    if isinstance(text, Real):
        return _digits(text), False
    if not isinstance(text, str):
        raise CannotRead(f"a {type(text).__name__} cannot be read as a value")
    if len(text) > LONGEST:
        raise CannotRead(f"that is longer than {LONGEST} characters")
    if any(sign.isnumeric() and not sign.isascii() for sign in text):
        raise CannotRead("it has digits other than 0 to 9")
    cleaned = _SPACES.sub(" ", _INVISIBLE.sub("", text)).strip()
    without = _TOLERANCE.sub("", cleaned)
    return _MINUS.sub("-", without).rstrip("."), without != cleaned


def _digits(number) -> str:
    """Write a Python or numpy number with the digits that it has."""
    try:
        if isinstance(number, Integral) and abs(int(number)) < 10**LONGEST:
            return str(int(number))
        return float.__repr__(float(number))
    except (OverflowError, TypeError, ValueError):
        raise CannotRead(_TOO_LARGE) from None


def _is_quantity(value) -> bool:
    pint = sys.modules.get("pint")
    return pint is not None and isinstance(value, pint.Quantity)


def _from_quantity(quantity, kind: str) -> tuple[str, Unit]:
    """Give the digits and the unit of a pint quantity; a pressure in one is absolute."""
    name = str(quantity.units)
    rows = [unit for unit in UNITS.values() if unit.pint_name == name and not unit.share]
    row = next((unit for unit in rows if unit.kind == kind), None)
    if rows and row is None:
        raise CannotRead(f"the quantity {quantity} is {KINDS[rows[0].kind].noun}")
    if row is None:
        row = UNITS[KINDS[kind].si_unit]
        try:
            quantity = quantity.to(row.pint_name)
        except TypeError:  # pint's errors of dimension and offset are kinds of TypeError
            raise CannotRead(f"the quantity {quantity} is not {KINDS[kind].noun}") from None
    if not isinstance(quantity.magnitude, Real):
        raise CannotRead("a quantity of many values cannot be read as one")
    return _digits(quantity.magnitude), row
