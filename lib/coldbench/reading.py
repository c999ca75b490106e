"""Reading what a person typed: "13.5 inHg vacuum", "0,6 psig", "−3 °F", "28.7 kΩ", or a sentence why not.

`read` is the only door. Its grammar is small and closed: a sign, a number, a unit word from
`coldbench.unit_table`; nothing is evaluated and nothing is guessed. `read_number` tells thousands
separators from decimal commas, or refuses. `Reading` is what comes out.
"""

from __future__ import annotations

import math
import re
import sys
from dataclasses import dataclass
from numbers import Real

from coldbench.errors import CannotRead
from coldbench.unit_table import (
    KINDS,
    STANDARD_ATMOSPHERE,
    UNITS,
    Unit,
    find_unit,
    from_si,
    to_si,
    units_called,
    word_key,
)

LONGEST = 200
"""Characters in the longest text that is read [-]. Source: arrangement of this project."""


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


# Any unit word that does not say enough: (kind read for, words, what to type instead).
_NO_ZERO = "does not say from where it is counted: type"
_HINTS = (
    (
        "pressure",
        ("psi", "lb", "lbs", "pound", "pounds", "#", "lb/in2", "pounds per square inch"),
        f"{_NO_ZERO} psig (from the atmosphere) or psia (from zero)",
    ),
    (
        "pressure",
        (
            "in Hg",
            "in",
            "inch",
            "inches",
            "inches Hg",
            "inch Hg",
            "in mercury",
            "inches mercury",
            "inches of mercury",
        ),
        f"{_NO_ZERO} inHg vacuum (down from the atmosphere) or inHg abs (up from zero)",
    ),
    (
        "pressure",
        ("micron", "microns", "µ", "μ", "µm Hg", "μm Hg", "torr", "mm Hg"),
        "belongs to a vacuum pump's gauge and is not used here: type inHg vacuum, psig or kPa abs",
    ),
    ("temperature", ("deg", "degs", "degree", "degrees"), "does not say of which scale: type °F or °C"),
    (
        "temperature difference",
        ("deg", "degs", "degree", "degrees"),
        "does not say of which scale: type °F or °C",
    ),
    ("resistance", ("mohm", "mohms"), "may be thousandths or millions: type ohm, kohm or Mohm"),
)
_HINT = {(kind, word_key(word).lower()): advice for kind, words, advice in _HINTS for word in words}

_SPACES = re.compile(r"\s+")
_MINUS = re.compile("^[\u2212\u2010\u2011\u2012\u2013\ufe63\uff0d]")
_TOLERANCE = re.compile(r"^(?:±|\+\s?/\s?-|\+-|\+/[\u2212\u2013])\s*")
_NUMBER = re.compile(r"([+-]?) ?((?:\d|[.,](?=\d)|(?<=\d)[.,]|(?<=\d) (?=\d))+)((?:[eE][+-]?\d+)?)")
_GROUPS = re.compile(r"[1-9]\d{0,2}([., ])\d{3}(?:\1\d{3})*")


def _brief(original) -> str:
    text = "".join(sign if sign.isprintable() else " " for sign in original)
    return f'"{text[:40]}…"' if len(text) > 40 else f'"{text}"'


def _refusal(original, kind: str, why: str) -> CannotRead:
    expected = KINDS[kind]
    given = f"You typed {_brief(original)}: " if isinstance(original, str) else ""
    return CannotRead(f'{given}{why}. Expected {expected.noun}, for example "{expected.example}".')


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
        return f"{re.sub('[., ]', '', whole) or '0'}.{decimals or '0'}", len(decimals)
    if _GROUPS.fullmatch(text):
        return re.sub("[., ]", "", text), 0
    raise CannotRead(f"{text} is not one number; type digits with at most one decimal point")


def _split(text: str) -> tuple[float, str, float, str]:
    """Give value, settled digits, half a unit of the last digit, and the rest of a cleaned text."""
    found = _NUMBER.match(text)
    if not found:
        first = text.split(" ")[0]
        raise CannotRead(
            f'it begins with "{first[:20]}", not with a number' if first else "there is nothing in it"
        )
    sign, digits, exponent = found.groups()
    number, decimals = read_number(digits)
    shown = ("-" if sign == "-" else "") + number + exponent
    value = float(shown)
    if not math.isfinite(value):
        raise CannotRead("the number is too large to mean anything here")
    half_digit = float(
        f"0.5e{max(-300, min(300, int(exponent[1:] or 0))) - decimals}" if exponent else f"0.5e-{decimals}"
    )
    return value, shown, half_digit, text[found.end() :].strip()


def _unit_from_word(word: str, kind: str, bare_unit: str | None, original) -> tuple[Unit, str]:
    """Find the unit that a word, or no word, means for this kind; with a note on what was taken for granted."""
    if not word:
        if kind == "number":
            return UNITS["1"], ""
        if bare_unit is None:
            raise _refusal(original, kind, "a number without a unit can mean many things")
        unit = next((unit for unit in units_called(bare_unit) if unit.kind == kind), None) or find_unit(
            bare_unit
        )
        return unit, f"taken as {unit.shown}"
    meant = units_called(word)
    for unit in meant:
        if unit.kind == kind:
            return unit, ""
    hint = _HINT.get((kind, word_key(word).lower()))
    if hint:
        raise _refusal(original, kind, f'"{word[:30]}" {hint}')
    if meant:
        nouns = " or ".join(dict.fromkeys(KINDS[unit.kind].noun for unit in meant))
        raise _refusal(original, kind, f"that is {nouns}")
    if word_key(word).lower() in ("nan", "inf", "infinity"):
        raise _refusal(original, kind, "that is not a number")
    raise _refusal(original, kind, f'the unit "{word[:30]}" is not known here')


def _check(value: float, unit: Unit, number: float, kind: str, atmosphere: float, original) -> float:
    """Refuse what cannot be; give the value back."""
    if KINDS[kind].from_zero and number < 0:
        raise _refusal(original, kind, f"{KINDS[kind].noun} cannot be negative")
    if kind == "temperature" and value < 0:
        if value < -1e-3:
            raise _refusal(
                original, kind, f"that is colder than absolute zero, {from_si(0, unit.name):.2f} {unit.shown}"
            )
        return 0.0
    if kind == "pressure":
        if unit.name == "inHg vacuum" and number < 0:
            raise _refusal(original, kind, "a vacuum is typed without a minus; above the atmosphere use psig")
        if value < -1e-5 * atmosphere:
            if unit.share:
                deepest = from_si(0.0, unit.name, atmosphere)
                why = f"that is below zero pressure: the atmosphere here allows {deepest:.2f} {unit.shown} at most"
            else:
                why = "an absolute pressure cannot be negative"
            raise _refusal(original, kind, why)
        return max(value, 0.0)
    return value


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
        Value in SI, unit, settled text, resolution, original, note

    Raises
    ------
    CannotRead
        A `ValueError` whose sentence says what was read, what was expected, with an example.

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
    pint = sys.modules.get("pint")
    if pint is not None and isinstance(text, pint.Quantity):
        from coldbench.units import read_quantity

        return read_quantity(text, kind)
    cleaned, tolerance = _clean(text, kind)
    try:
        number, digits, half_digit, word = _split(cleaned)
    except CannotRead as why:
        raise _refusal(text, kind, str(why)) from None
    if tolerance and (kind in ("temperature", "pressure") or number < 0):
        raise _refusal(text, kind, "a value with ± is a tolerance")
    unit, note = _unit_from_word(word, kind, bare_unit, text)
    air = STANDARD_ATMOSPHERE if atmosphere is None else atmosphere
    value = _check(to_si(number, unit.name, air), unit, number, kind, air, text)
    if not math.isfinite(value):
        raise _refusal(text, kind, "the number is too large to mean anything here")
    shown = f"{digits} {unit.shown}".strip()
    return Reading(value, unit.name, shown, half_digit * abs(unit.factor), text, note)


def _clean(text, kind: str) -> tuple[str, bool]:
    """Give the text with plain spaces, minus and digits, and whether it began with ±; refuse what is no text."""
    if text is None or text is ...:
        raise _refusal(text, kind, "Nothing was given")
    if isinstance(text, bool):
        raise _refusal(text, kind, f"{text} is a yes or no, not a number")
    if isinstance(text, Real):
        try:
            return (
                str(int(text))
                if isinstance(text, int) and abs(text) < 10**300
                else float.__repr__(float(text))
            ), False
        except (OverflowError, TypeError, ValueError):
            raise _refusal(text, kind, "The number is too large to mean anything here") from None
    if not isinstance(text, str):
        raise _refusal(text, kind, f"A {type(text).__name__} cannot be read as a value")
    if len(text) > LONGEST:
        raise _refusal(text, kind, f"that is longer than {LONGEST} characters")
    if any(sign.isnumeric() and not sign.isascii() for sign in text):
        raise _refusal(text, kind, "it has digits other than 0 to 9")
    cleaned = _SPACES.sub(" ", text).strip()
    without = _TOLERANCE.sub("", cleaned)
    return _MINUS.sub("-", without).rstrip("."), without != cleaned
