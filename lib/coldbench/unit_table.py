"""The one table of units and of the words people use for them; conversion of plain floats, without pint.

`KINDS` lists what can be measured, `UNITS` every unit with its factor to SI, `units_called` finds the
units that a word may mean, and `to_si` and `from_si` convert. The rest of `coldbench` (the pint door in
`coldbench.units`, the reading of typed answers in `coldbench.reading`) is built on this table.
"""

from __future__ import annotations

from typing import NamedTuple

from coldbench.errors import CannotRead

STANDARD_ATMOSPHERE = 101_325.0
"""Pressure of the standard atmosphere [Pa]. Source: CODATA / NIST SP 811, exact by definition."""


class Kind(NamedTuple):
    """What is measured: its name in a sentence, its SI unit, an example, whether it may be negative."""

    noun: str
    si_unit: str
    example: str
    from_zero: bool = False


KINDS = {
    "temperature": Kind("a temperature", "K", "-3 degF"),
    "temperature difference": Kind("a temperature difference", "delta_K", "9 degF"),
    "pressure": Kind("a pressure", "Pa", "13.5 inHg vacuum"),
    "pressure difference": Kind("a pressure difference", "delta_Pa", "2 psi"),
    "resistance": Kind("a resistance", "ohm", "28.7 kohm", from_zero=True),
    "voltage": Kind("a voltage", "V", "3.71 V"),
    "power": Kind("a power", "W", "90 W"),
    "energy": Kind("an energy", "J", "0.9 kWh"),
    "mass": Kind("a mass", "kg", "100 g", from_zero=True),
    "mass flow": Kind("a mass flow", "kg/s", "2.5 g/h"),
    "rotational speed": Kind("a rotational speed", "rev/s", "1500 rpm", from_zero=True),
    "frequency": Kind("a frequency", "Hz", "60 Hz", from_zero=True),
    "time": Kind("a time", "s", "25 min", from_zero=True),
    "percent": Kind("a percentage", "fraction", "45 %"),
    "length": Kind("a length", "m", "5000 ft"),
    "number": Kind("a plain number", "1", "3.2"),
}
"""What can be read, by the name that `read` takes. Values of "percent" are fractions (45 % is 0.45)."""


class Unit(NamedTuple):
    """One unit: SI value = value × factor + offset + share × atmosphere.

    ``share`` is 1 for what is counted from the atmosphere (gauge, vacuum), otherwise 0. ``words`` may be
    typed in any case, ``exact`` only as they stand. ``pint_name`` is the unit without its zero point.
    """

    name: str
    kind: str
    factor: float
    pint_name: str
    shown: str
    words: tuple[str, ...] = ()
    exact: tuple[str, ...] = ()
    offset: float = 0.0
    share: float = 0.0


# Source of all factors: NIST SP 811, appendix B; inch of mercury at 0 °C and British thermal unit by ISO 31.
_FAHRENHEIT = 5 / 9
_POUND = 0.453_592_37
_PSI = _POUND * 9.806_65 / 0.0254**2
_INCH_OF_MERCURY = 13_595.1 * 9.806_65 * 0.0254
_BTU = 1_055.056

_F_WORDS = ("F", "°F", "F°", "deg F", "degs F", "degree F", "degrees F", "F degrees", "fahrenheit")
_F_WORDS += ("degree fahrenheit", "degrees fahrenheit", "fahrenheit degrees")
_C_WORDS = ("C", "°C", "C°", "deg C", "degs C", "degree C", "degrees C", "C degrees", "celsius", "centigrade")
_C_WORDS += ("degree celsius", "degrees celsius", "celsius degrees")
_K_WORDS = ("K", "kelvin", "kelvins")
_INCHES_OF_MERCURY = ("in Hg", "inch Hg", "inches Hg", "inches of Hg", "inch mercury", "inches mercury")
_INCHES_OF_MERCURY += ("inch of mercury", "inches of mercury", "in mercury")
_VACUUM_WORDS = tuple(
    f"{inches} {vacuum}"
    for inches in (*_INCHES_OF_MERCURY, "in", "inch", "inches", "in of", "inch of", "inches of")
    for vacuum in ("vacuum", "vac", "of vacuum", "of vac")
)
_DIFFERENCE = ("difference", "diff")


def _with(words, *additions):
    return tuple(f"{word} {addition}" for word in words for addition in additions)


_ROWS = (
    Unit("K", "temperature", 1.0, "kelvin", "K", _K_WORDS),
    Unit("degC", "temperature", 1.0, "degree_Celsius", "°C", _C_WORDS, offset=273.15),
    Unit(
        "degF", "temperature", _FAHRENHEIT, "degree_Fahrenheit", "°F", _F_WORDS, offset=459.67 * _FAHRENHEIT
    ),
    Unit("delta_K", "temperature difference", 1.0, "kelvin", "K", _K_WORDS + _with(_K_WORDS, *_DIFFERENCE)),
    Unit(
        "delta_degC",
        "temperature difference",
        1.0,
        "delta_degree_Celsius",
        "°C",
        _C_WORDS + _with(_C_WORDS, *_DIFFERENCE),
    ),
    Unit(
        "delta_degF",
        "temperature difference",
        _FAHRENHEIT,
        "delta_degree_Fahrenheit",
        "°F",
        _F_WORDS + _with(_F_WORDS, *_DIFFERENCE),
    ),
    Unit("Pa", "pressure", 1.0, "pascal", "Pa abs", ("Pa", "Pa abs", "Pa absolute", "pascal", "pascals")),
    Unit(
        "kPa", "pressure", 1e3, "kilopascal", "kPa abs", ("kPa abs", "kPa absolute", "kPa a", "kilopascals")
    ),
    Unit("bar", "pressure", 1e5, "bar", "bar abs", ("bar abs", "bar absolute", "bar a")),
    Unit("psia", "pressure", _PSI, "psi", "psia", ("psi a", "psi abs", "psi absolute")),
    Unit(
        "inHg abs",
        "pressure",
        _INCH_OF_MERCURY,
        "inch_Hg",
        "inHg abs",
        _with(_INCHES_OF_MERCURY, "abs", "absolute", "a"),
    ),
    Unit("Pa gauge", "pressure", 1.0, "pascal", "Pa gauge", ("Pa g",), share=1.0),
    Unit("kPa gauge", "pressure", 1e3, "kilopascal", "kPa gauge", ("kPa g", "kPa gage"), share=1.0),
    Unit("bar gauge", "pressure", 1e5, "bar", "bar gauge", ("bar g", "bar gage"), share=1.0),
    Unit("psig", "pressure", _PSI, "psi", "psig", ("psi g", "psi gauge", "psi gage"), share=1.0),
    Unit("inHg vacuum", "pressure", -_INCH_OF_MERCURY, "inch_Hg", "inHg vacuum", _VACUUM_WORDS, share=1.0),
    Unit("delta_Pa", "pressure difference", 1.0, "pascal", "Pa", ("Pa", "pascal", "pascals")),
    Unit("delta_kPa", "pressure difference", 1e3, "kilopascal", "kPa", ("kPa", "kilopascals")),
    Unit("delta_bar", "pressure difference", 1e5, "bar", "bar", ("bar",)),
    Unit("psi", "pressure difference", _PSI, "psi", "psi", ("psi difference", "psi diff", "lb/in2", "psid")),
    Unit("delta_inHg", "pressure difference", _INCH_OF_MERCURY, "inch_Hg", "inHg", _INCHES_OF_MERCURY),
    Unit("ohm", "resistance", 1.0, "ohm", "Ω", ("Ω", "ohms", "R")),
    Unit(
        "kohm",
        "resistance",
        1e3,
        "kiloohm",
        "kΩ",
        ("kΩ", "k", "kohms", "kilohm", "kilohms", "kiloohm", "kiloohms"),
    ),
    Unit(
        "Mohm",
        "resistance",
        1e6,
        "megaohm",
        "MΩ",
        ("megohm", "megohms", "megaohm", "megaohms"),
        ("Mohm", "MΩ", "M", "Mohms"),
    ),
    Unit("V", "voltage", 1.0, "volt", "V", ("volt", "volts", "V AC", "V DC", "volts AC", "volts DC")),
    Unit("mV", "voltage", 1e-3, "millivolt", "mV", ("millivolt", "millivolts"), ("mV", "mv")),
    Unit("W", "power", 1.0, "watt", "W", ("watt", "watts")),
    Unit("kW", "power", 1e3, "kilowatt", "kW", ("kilowatt", "kilowatts")),
    Unit(
        "Btu/h",
        "power",
        _BTU / 3600,
        "Btu/hour",
        "Btu/h",
        ("Btuh", "Btu/hr", "Btu per hour", "Btus per hour", "Btu/hour"),
    ),
    Unit("J", "energy", 1.0, "joule", "J", ("joule", "joules")),
    Unit("kJ", "energy", 1e3, "kilojoule", "kJ", ("kilojoule", "kilojoules")),
    Unit("Wh", "energy", 3.6e3, "watt_hour", "Wh", ("watt hour", "watt hours")),
    Unit(
        "kWh",
        "energy",
        3.6e6,
        "kilowatt_hour",
        "kWh",
        ("kilowatt hour", "kilowatt hours", "kW hr", "kW hours"),
    ),
    Unit("Btu", "energy", _BTU, "Btu", "Btu", ("Btus",)),
    Unit("kg", "mass", 1.0, "kilogram", "kg", ("kilogram", "kilograms", "kilo", "kilos")),
    Unit("g", "mass", 1e-3, "gram", "g", ("gram", "grams")),
    Unit("lb", "mass", _POUND, "pound", "lb", ("lbs", "pound", "pounds")),
    Unit("oz", "mass", _POUND / 16, "ounce", "oz", ("ounce", "ounces")),
    Unit("kg/s", "mass flow", 1.0, "kilogram/second", "kg/s", ("kg per second",)),
    Unit("g/s", "mass flow", 1e-3, "gram/second", "g/s", ("g per second", "grams per second", "g/sec")),
    Unit(
        "g/h",
        "mass flow",
        1e-3 / 3600,
        "gram/hour",
        "g/h",
        ("g/hr", "g per hour", "grams per hour", "g/hour"),
    ),
    Unit(
        "lb/day",
        "mass flow",
        _POUND / 86_400,
        "pound/day",
        "lb/day",
        ("lb/d", "lb per day", "lbs/day", "pounds per day"),
    ),
    Unit("rev/s", "rotational speed", 1.0, "revolution/second", "rev/s", ("rps", "revolutions per second")),
    Unit("rpm", "rotational speed", 1 / 60, "rpm", "rpm", ("rev/min", "r/min", "revolutions per minute")),
    Unit("Hz", "frequency", 1.0, "hertz", "Hz", ("hertz", "cycles per second")),
    Unit("s", "time", 1.0, "second", "s", ("sec", "secs", "second", "seconds")),
    Unit("min", "time", 60.0, "minute", "min", ("mins", "minute", "minutes")),
    Unit("h", "time", 3600.0, "hour", "h", ("hr", "hrs", "hour", "hours")),
    Unit("day", "time", 86_400.0, "day", "days", ("d", "days")),
    Unit("fraction", "percent", 1.0, "dimensionless", "(as a fraction)", ("as a fraction",)),
    Unit("%", "percent", 0.01, "percent", "%", ("percent", "per cent", "pct", "% RH", "percent RH")),
    Unit("m", "length", 1.0, "meter", "m", ("meter", "meters", "metre", "metres")),
    Unit("ft", "length", 0.3048, "foot", "ft", ("foot", "feet")),
    Unit("1", "number", 1.0, "dimensionless", "", ("count", "counts")),
)
UNITS = {unit.name: unit for unit in _ROWS}
"""Every unit by its name."""

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
for _unit in _ROWS:
    for _word in dict.fromkeys(map(word_key, _unit.exact)):
        _EXACT.setdefault(_word, []).append(_unit)
    for _word in dict.fromkeys(
        word_key(word).lower() for word in _unit.words + (_unit.name,) * (not _unit.exact)
    ):
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


def to_si(value: float, unit: str, atmosphere: float = STANDARD_ATMOSPHERE) -> float:
    r"""Convert a plain number to SI; gauge pressure and vacuum become absolute pressure.

    .. math:: y = x f + o + s\,p_{atm}

    with the unit's factor f, offset o, and s = 1 for what is counted from the atmosphere (else 0).

    Parameters
    ----------
    value : float or array
        Number [in ``unit``]
    unit : str
        Name from `UNITS` or a word for it
    atmosphere : float
        Pressure of the air around the gauge [Pa]

    Returns
    -------
    float or array
        The same in SI: [K], [Pa] absolute, [Ohm], [V], [W], [J], [kg], [kg/s], [1/s], [s], [m]; "%" as a fraction

    Raises
    ------
    CannotRead
        A `ValueError` when the unit is unknown. No range is checked here; `coldbench.reading.read` does.

    Source
    ------
    NIST SP 811, appendix B (conversion factors).

    Examples
    --------
    >>> round(to_si(13.5, "inHg vacuum"))
    55609
    """
    row = UNITS.get(unit) or find_unit(unit)
    return value * row.factor + row.offset + row.share * atmosphere


def from_si(value: float, unit: str, atmosphere: float = STANDARD_ATMOSPHERE) -> float:
    r"""Convert a plain SI number to a unit; the inverse of `to_si`.

    .. math:: x = (y - o - s\,p_{atm}) / f

    Parameters
    ----------
    value : float or array
        Number in SI [K], [Pa] absolute, [Ohm] and so on
    unit : str
        Name from `UNITS` or a word for it
    atmosphere : float
        Pressure of the air around the gauge [Pa]

    Returns
    -------
    float or array
        The same [in ``unit``]

    Raises
    ------
    CannotRead
        A `ValueError` when the unit is unknown.

    Source
    ------
    NIST SP 811, appendix B (conversion factors).

    Examples
    --------
    >>> round(from_si(255.372, "degF"), 2)
    0.0
    """
    row = UNITS.get(unit) or find_unit(unit)
    return (value - row.offset - row.share * atmosphere) / row.factor
