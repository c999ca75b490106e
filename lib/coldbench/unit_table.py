"""The one table of units and of the words people use for them.

`KINDS` lists what can be measured; `UNITS` every unit with its factor to SI and the words for it; `UNMARKED`
and `TOO_LITTLE` the words that leave something open. The rest is built on this table: looking up a word
(`coldbench.unit_words`), conversion and the pint door (`coldbench.units`), reading typed answers
(`coldbench.reading`).
"""

from __future__ import annotations

from typing import NamedTuple

STANDARD_ATMOSPHERE = 101_325.0
"""Pressure of the standard atmosphere [Pa]. Source: CODATA / NIST SP 811, exact by definition."""


class Kind(NamedTuple):
    """What can be measured.

    Attributes
    ----------
    noun : str
        Its name in a sentence, with the article
    si_unit : str
        Name of its SI unit in `UNITS`
    example : str
        A value that can be read
    from_zero : bool
        Whether it cannot be negative

    Source
    ------
    Arrangement of this project.
    """

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
    "specific enthalpy": Kind("a heat per kilogram", "J/kg", "146.6 kJ/kg"),
    "mass": Kind("a mass", "kg", "100 g", from_zero=True),
    "mass flow": Kind("a mass flow", "kg/s", "1.5 g/s"),
    "rotational speed": Kind("a rotational speed", "rev/s", "1500 rpm", from_zero=True),
    "frequency": Kind("a frequency", "Hz", "60 Hz", from_zero=True),
    "time": Kind("a time", "s", "25 min", from_zero=True),
    "percent": Kind("a percentage", "fraction", "45 %"),
    "length": Kind("a length", "m", "5000 ft"),
    "number": Kind("a plain number", "1", "3.2"),
}
"""What can be read, by the name that `read` takes. Values of "percent" are fractions (45 % is 0.45)."""


class Unit(NamedTuple):
    r"""One unit, with what turns a number x into the SI value y.

    .. math:: y = x f + o + s\,p_{atm}

    Attributes
    ----------
    kind : str
        What it measures, a key of `KINDS`
    name : str
        Its name in `UNITS`
    shown : str
        How it is written after a number
    pint_name : str
        What pint prints for it; gauge and vacuum share the name of the absolute unit
    factor, offset : float
        f [SI unit per unit] and o [SI unit]
    share : int
        s: 1 for what is counted from the atmosphere (gauge, vacuum), otherwise 0 [-]
    words, exact : tuple of str
        Words for it that may be typed in any case, and those that must stand as they are

    Source
    ------
    Factors: NIST SP 811 (2008), appendix B. Words: common practice, no source.
    """

    kind: str
    name: str
    shown: str
    pint_name: str
    factor: float
    offset: float
    share: int
    words: tuple[str, ...]
    exact: tuple[str, ...] = ()

    def to_si(self, value, atmosphere):
        """Give a number [in this unit] in SI, counted from ``atmosphere`` [Pa] where that matters.

        Parameters
        ----------
        value : float or array
            Number [in this unit]
        atmosphere : float
            Pressure of the air around the gauge [Pa]

        Returns
        -------
        float or array
            The same [in SI]

        Source
        ------
        Factors of the table.
        """
        return value * self.factor + self.offset + self.share * atmosphere

    def from_si(self, value, atmosphere):
        """Give an SI number in this unit, counted from ``atmosphere`` [Pa] where that matters.

        Parameters
        ----------
        value : float or array
            Number [in SI]
        atmosphere : float
            Pressure of the air around the gauge [Pa]

        Returns
        -------
        float or array
            The same [in this unit]

        Source
        ------
        Factors of the table.
        """
        return (value - self.offset - self.share * atmosphere) / self.factor


# Source of all factors: NIST SP 811, appendix B; inch of mercury at 0 °C and British thermal unit by ISO 31.
_FAHRENHEIT = 5 / 9
_POUND = 0.453_592_37
_PSI = _POUND * 9.806_65 / 0.0254**2
_INCH_OF_MERCURY = 13_595.1 * 9.806_65 * 0.0254
_BTU = 1_055.056


def _split(words: str) -> tuple[str, ...]:
    return tuple(words.split(", ")) if words else ()


def _each_with(words, endings: str) -> tuple[str, ...]:
    return tuple(f"{word} {ending}" for word in words for ending in _split(endings))


_K = _split("K, kelvin, kelvins")
_C = _split("C, °C, C°, deg C, degs C, degree C, degrees C, C degrees, celsius, centigrade")
_C += _split("degree celsius, degrees celsius, celsius degrees")
_F = _split("F, °F, F°, deg F, degs F, degree F, degrees F, F degrees, fahrenheit")
_F += _split("degree fahrenheit, degrees fahrenheit, fahrenheit degrees")
_INCHES = _split("in, inch, inches")
_IN_HG = _each_with(_INCHES, "Hg, mercury, of Hg, of mercury")
_VACUUM = _each_with(_IN_HG + _INCHES, "vacuum, vac, of vacuum, of vac")
_PA, _KPA = _split("Pa, pascal, pascals"), _split("kPa, kilopascal, kilopascals")
_LESS = "difference, diff"
_PSI_NAME = "pound_force_per_square_inch"

# fmt: off
# By kind: name, shown, pint's name, factor, offset, share of the atmosphere, words, words in exact case.
_ROWS = {
    "temperature": (
        ("K", "K", "kelvin", 1.0, 0.0, 0, _K),
        ("degC", "°C", "degree_Celsius", 1.0, 273.15, 0, _C),
        ("degF", "°F", "degree_Fahrenheit", _FAHRENHEIT, 459.67 * _FAHRENHEIT, 0, _F),
    ),
    "temperature difference": (
        ("delta_K", "K", "kelvin", 1.0, 0.0, 0, _K + _each_with(_K, _LESS)),
        ("delta_degC", "°C", "delta_degree_Celsius", 1.0, 0.0, 0, _C + _each_with(_C, _LESS)),
        ("delta_degF", "°F", "delta_degree_Fahrenheit", _FAHRENHEIT, 0.0, 0, _F + _each_with(_F, _LESS)),
    ),
    "pressure": (
        ("Pa", "Pa abs", "pascal", 1.0, 0.0, 0, (*_PA, *_each_with(_PA, "abs, absolute"))),
        ("kPa", "kPa abs", "kilopascal", 1e3, 0.0, 0, (*_KPA, "kPa a", *_each_with(_KPA, "abs, absolute"))),
        ("bar", "bar abs", "bar", 1e5, 0.0, 0, _split("bar abs, bar absolute, bar a")),
        ("psia", "psia", _PSI_NAME, _PSI, 0.0, 0, _split("psi abs, psi absolute")),
        ("inHg abs", "inHg abs", "inch_Hg", _INCH_OF_MERCURY, 0.0, 0, _each_with(_IN_HG, "abs, absolute")),
        ("Pa gauge", "Pa gauge", "pascal", 1.0, 0.0, 1, _each_with(_PA, "gauge, gage")),
        ("kPa gauge", "kPa gauge", "kilopascal", 1e3, 0.0, 1, ("kPa g", *_each_with(_KPA, "gauge, gage"))),
        ("bar gauge", "bar gauge", "bar", 1e5, 0.0, 1, _split("bar gage, bar g")),
        ("psig", "psig", _PSI_NAME, _PSI, 0.0, 1, _split("psi gauge, psi gage")),
        ("inHg vacuum", "inHg vacuum", "inch_Hg", -_INCH_OF_MERCURY, 0.0, 1, _VACUUM),
    ),
    "pressure difference": (
        ("delta_Pa", "Pa", "pascal", 1.0, 0.0, 0, _PA),
        ("delta_kPa", "kPa", "kilopascal", 1e3, 0.0, 0, _KPA),
        ("delta_bar", "bar", "bar", 1e5, 0.0, 0, ("bar",)),
        ("psi", "psi", _PSI_NAME, _PSI, 0.0, 0, _split("psi difference, psi diff, psid, lb/in2")),
        ("delta_inHg", "inHg", "inch_Hg", _INCH_OF_MERCURY, 0.0, 0, _IN_HG),
    ),
    "resistance": (
        ("ohm", "Ω", "ohm", 1.0, 0.0, 0, _split("ohms, R")),
        ("kohm", "kΩ", "kiloohm", 1e3, 0.0, 0, _split("k, kohms, kilohm, kilohms, kiloohm, kiloohms")),
        ("Mohm", "MΩ", "megaohm", 1e6, 0.0, 0, _split("megohm, megohms, megaohm"),
         _split("Mohm, MOhm, Mohms, M")),
    ),
    "voltage": (
        ("V", "V", "volt", 1.0, 0.0, 0, _split("volt, volts, V AC, V DC, volts AC, volts DC")),
        ("mV", "mV", "millivolt", 1e-3, 0.0, 0, _split("millivolt, millivolts"), ("mV", "mv")),
    ),
    "power": (
        ("W", "W", "watt", 1.0, 0.0, 0, _split("watt, watts, J/s")),
        ("kW", "kW", "kilowatt", 1e3, 0.0, 0, _split("kilowatt, kilowatts")),
        ("Btu/h", "Btu/h", "british_thermal_unit / hour", _BTU / 3600, 0.0, 0,
         _split("Btuh, Btu/hr, Btu/hour, Btu per hour, Btus per hour")),
    ),
    "energy": (
        ("J", "J", "joule", 1.0, 0.0, 0, _split("joule, joules")),
        ("kJ", "kJ", "kilojoule", 1e3, 0.0, 0, _split("kilojoule, kilojoules")),
        ("Wh", "Wh", "watt_hour", 3.6e3, 0.0, 0, _split("watt hour, watt hours")),
        ("kWh", "kWh", "kilowatt_hour", 3.6e6, 0.0, 0, _split("kilowatt hour, kilowatt hours, kW hours")),
        ("Btu", "Btu", "british_thermal_unit", _BTU, 0.0, 0, ("Btus",)),
    ),
    "specific enthalpy": (
        ("J/kg", "J/kg", "joule / kilogram", 1.0, 0.0, 0, _split("J, J per kg, joules per kilogram")),
        ("kJ/kg", "kJ/kg", "kilojoule / kilogram", 1e3, 0.0, 0,
         _split("kJ, kJ per kg, kJ per kilogram, kilojoule per kilogram, kilojoules per kilogram")),
        ("Btu/lb", "Btu/lb", "british_thermal_unit / pound", _BTU / _POUND, 0.0, 0,
         _split("Btu per lb, Btu per pound, Btus per pound")),
    ),
    "mass": (
        ("kg", "kg", "kilogram", 1.0, 0.0, 0, _split("kilogram, kilograms")),
        ("g", "g", "gram", 1e-3, 0.0, 0, _split("gram, grams")),
        ("lb", "lb", "pound", _POUND, 0.0, 0, _split("lbs, pound, pounds")),
        ("oz", "oz", "ounce", _POUND / 16, 0.0, 0, _split("ounce, ounces")),
    ),
    "mass flow": (
        ("kg/s", "kg/s", "kilogram / second", 1.0, 0.0, 0, ("kg per second",)),
        ("g/s", "g/s", "gram / second", 1e-3, 0.0, 0,
         _split("g/sec, g/second, g per s, g per sec, g per second, grams per s, grams per sec, "
                "grams per second, grams/s, grams/sec, grams/second, grams a second")),
        ("g/min", "g/min", "gram / minute", 1e-3 / 60, 0.0, 0, _split("g per minute, grams per minute")),
        ("kg/h", "kg/h", "kilogram / hour", 1 / 3600, 0.0, 0, _split("kg/hr, kg per hour")),
        ("g/h", "g/h", "gram / hour", 1e-3 / 3600, 0.0, 0, _split("g/hr, g per hour, grams per hour")),
        ("lb/h", "lb/h", "pound / hour", _POUND / 3600, 0.0, 0,
         _split("lb/hr, lbs/h, lbs/hr, lb per hour, lbs per hour, pounds per hour")),
        ("lb/day", "lb/day", "pound / day", _POUND / 86_400, 0.0, 0,
         _split("lb/d, lbs/day, lb per day, pounds per day")),
    ),
    "rotational speed": (
        ("rev/s", "rev/s", "turn / second", 1.0, 0.0, 0, _split("rps, revolutions per second")),
        ("rpm", "rpm", "revolutions_per_minute", 1 / 60, 0.0, 0, _split("rev/min, revolutions per minute")),
    ),
    "frequency": (("Hz", "Hz", "hertz", 1.0, 0.0, 0, _split("hertz, cycles per second")),),
    "time": (
        ("s", "s", "second", 1.0, 0.0, 0, _split("sec, secs, second, seconds")),
        ("min", "min", "minute", 60.0, 0.0, 0, _split("mins, minute, minutes")),
        ("h", "h", "hour", 3600.0, 0.0, 0, _split("hr, hrs, hour, hours")),
        ("day", "days", "day", 86_400.0, 0.0, 0, _split("d, days")),
    ),
    "percent": (
        ("fraction", "(as a fraction)", "dimensionless", 1.0, 0.0, 0, ("as a fraction",)),
        ("%", "%", "percent", 0.01, 0.0, 0, _split("percent, per cent, pct, % RH, percent RH")),
    ),
    "length": (
        ("m", "m", "meter", 1.0, 0.0, 0, _split("meter, meters, metre, metres")),
        ("ft", "ft", "foot", 0.3048, 0.0, 0, _split("foot, feet")),
    ),
    "number": (("1", "", "dimensionless", 1.0, 0.0, 0, _split("count, counts, : 1, to 1, times, x")),),
}
# fmt: on
UNITS = {row[0]: Unit(kind, *row) for kind, rows in _ROWS.items() for row in rows}
"""Every unit by its name."""

UNMARKED = ("bar", *_PA, *_KPA)
"""Words of pressure that are taken as absolute, the convention of SI, when nothing else is said."""

_NO_ZERO = "does not say from where it is counted: type"
_DEGREES = ("deg", "degs", "degree", "degrees")
TOO_LITTLE = (
    (
        "pressure",
        ("psi", "lb", "lbs", "pound", "pounds", "#", "lb/in2", "pounds per square inch"),
        f"{_NO_ZERO} psig (from the atmosphere) or psia (from zero)",
    ),
    (
        "pressure",
        _INCHES + _IN_HG,
        f"{_NO_ZERO} inHg vacuum (down from the atmosphere) or inHg abs (up from zero)",
    ),
    (
        "pressure",
        ("micron", "microns", "\u00b5", "\u03bc", "\u00b5m Hg", "\u03bcm Hg", "torr", "mm Hg"),
        "is for deep vacuum and is not used here: type inHg vacuum, psig or kPa abs",
    ),
    ("temperature", _DEGREES, "does not say of which scale: type °F or °C"),
    ("temperature difference", _DEGREES, "does not say of which scale: type °F or °C"),
    ("specific enthalpy", ("Btu", "Btus"), "does not say of how much: type Btu/lb or kJ/kg"),
    ("resistance", ("mohm", "mohms"), "may be thousandths or millions: type ohm, kohm or Mohm"),
)
"""Words that do not say enough: for each the kind expected, the words, what is missing and what to type."""
