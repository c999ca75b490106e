"""Which unit a word means: "in. Hg vac", "deg F" or "kΩ" as people set them, looked up in the one table.

`word_key` writes a word in one settled way, `units_called` finds the units that it may mean, `find_unit`
the first of them or a unit by its name, and `hint` what to type instead of a word that says too little.
"""

from __future__ import annotations

from coldbench.errors import CannotRead
from coldbench.unit_table import TOO_LITTLE, UNITS, Unit

_SIGNS = str.maketrans(
    {"\u2126": "ohm", "\u03a9": "ohm", "\u03c9": "ohm", "\u212a": "K", "℃": "degC", "℉": "degF"}
    | dict.fromkeys("°º˚", "deg")
    | dict.fromkeys('"”“″', "in")
    | dict.fromkeys(" .·⋅*_-()")
)


def word_key(word: str) -> str:
    """Write a unit word without spaces, dots and signs that people set in different ways.

    Parameters
    ----------
    word : str
        Unit as typed, such as "in. Hg vac"

    Returns
    -------
    str
        Letters only, such as "inHgvac"; upper and lower case kept

    Source
    ------
    Arrangement of this project.

    Examples
    --------
    >>> word_key("°F"), word_key("in. Hg vac")
    ('degF', 'inHgvac')
    """
    return word.translate(_SIGNS)


_ANY_CASE: dict[str, list[Unit]] = {}
_EXACT: dict[str, list[Unit]] = {}
for _unit in UNITS.values():
    for _word in {word_key(word) for word in _unit.exact}:
        _EXACT.setdefault(_word, []).append(_unit)
    _spellings = _unit.words if _unit.exact else (_unit.name, *_unit.words)
    for _word in {word_key(word).lower() for word in _spellings}:
        _ANY_CASE.setdefault(_word, []).append(_unit)


def units_called(word: str) -> list[Unit]:
    """Find the units that a word may mean: "°F" is one of temperature and one of temperature difference.

    Parameters
    ----------
    word : str
        Unit as typed

    Returns
    -------
    list of Unit
        In the order of the table; empty when the word is unknown

    Source
    ------
    Words: common practice in the trade, no source.

    Examples
    --------
    >>> [unit.name for unit in units_called("deg F")]
    ['degF', 'delta_degF']
    """
    key = word_key(word)
    return _EXACT.get(key, []) + _ANY_CASE.get(key.lower(), [])


def find_unit(unit: str) -> Unit:
    """Find a unit by its name in `UNITS`, or else by a word for it (the first in the table).

    Parameters
    ----------
    unit : str
        Name or word, such as "degF", "psig", "inHg vacuum", "°F"

    Returns
    -------
    Unit
        Row of the table

    Raises
    ------
    CannotRead
        A `ValueError` that lists the known names.

    Source
    ------
    Arrangement of this project.

    Examples
    --------
    >>> find_unit("kΩ").name
    'kohm'
    """
    if unit in UNITS:
        return UNITS[unit]
    found = units_called(unit)
    if not found:
        raise CannotRead(f'There is no unit "{unit}" here. Use one of: {", ".join(UNITS)}.')
    return found[0]


_HINT = {(kind, word_key(word).lower()): advice for kind, words, advice in TOO_LITTLE for word in words}


def hint(word: str, kind: str) -> str:
    """Say why a word is not enough for this kind, and what to type instead.

    Parameters
    ----------
    word : str
        Unit as typed
    kind : str
        What was expected, a key of `KINDS`

    Returns
    -------
    str
        End of a sentence, or nothing

    Source
    ------
    Arrangement of this project.

    Examples
    --------
    >>> hint("degrees", "temperature")
    'does not say of which scale: type °F or °C'
    """
    return _HINT.get((kind, word_key(word).lower()), "")
