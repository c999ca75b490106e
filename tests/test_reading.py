"""Reading what a person typed: understood to the digit, or refused in a sentence that helps."""

import math
from fractions import Fraction

import pytest
from coldbench.errors import CannotRead
from coldbench.reading import read, read_number
from coldbench.unit_table import KINDS, UNITS
from coldbench.units import q, to_si
from hypothesis import given
from hypothesis import strategies as st

INCH = 3_386.388_64  # [Pa]; NIST SP 811, appendix B.8: 3.386389 E+03
PSI = 6_894.757_29  # [Pa]; NIST SP 811, appendix B.8: 6.894757 E+03

# typed, kind, SI value, settled text. Ways of typing: common practice, no source.
UNDERSTOOD = [
    ("13.5 inHg vacuum", "pressure", 101_325 - 13.5 * INCH, "13.5 inHg vacuum"),
    ("13.5 in. Hg vac", "pressure", 101_325 - 13.5 * INCH, "13.5 inHg vacuum"),
    ('13.5" Hg vacuum', "pressure", 101_325 - 13.5 * INCH, "13.5 inHg vacuum"),
    ("13.5” Hg vacuum", "pressure", 101_325 - 13.5 * INCH, "13.5 inHg vacuum"),
    ("13.5 inches of vacuum", "pressure", 101_325 - 13.5 * INCH, "13.5 inHg vacuum"),
    ("13.5 Inches Mercury Vacuum", "pressure", 101_325 - 13.5 * INCH, "13.5 inHg vacuum"),
    ("29.92 inHg abs", "pressure", 29.92 * INCH, "29.92 inHg abs"),
    ("0,6 psig", "pressure", 101_325 + 0.6 * PSI, "0.6 psig"),
    (".6 PSIG", "pressure", 101_325 + 0.6 * PSI, "0.6 psig"),
    ("-5 psig", "pressure", 101_325 - 5 * PSI, "-5 psig"),
    ("14.7 psi a", "pressure", 14.7 * PSI, "14.7 psia"),
    ("4.1 kPa abs", "pressure", 4_100, "4.1 kPa abs"),
    ("4.1 kPa", "pressure", 4_100, "4.1 kPa abs"),
    ("4.1 kPa gauge", "pressure", 105_425, "4.1 kPa gauge"),
    ("-3 °F", "temperature", 253.705_555_6, "-3 °F"),
    ("\u22123°F", "temperature", 253.705_555_6, "-3 °F"),
    ("\u20133 ºF", "temperature", 253.705_555_6, "-3 °F"),
    ("- 3 deg. F", "temperature", 253.705_555_6, "-3 °F"),
    ("-3 degrees F", "temperature", 253.705_555_6, "-3 °F"),
    ("-3 fahrenheit.", "temperature", 253.705_555_6, "-3 °F"),
    ("\ufeff-3\u200b °F", "temperature", 253.705_555_6, "-3 °F"),
    ("+21\u00a0℃", "temperature", 294.15, "21 °C"),
    ("12 K", "temperature", 12, "12 K"),
    ("12 K", "temperature difference", 12, "12 K"),
    ("7 F degrees", "temperature difference", 7 / 1.8, "7 °F"),
    ("±0.9 °F", "temperature difference", 0.5, "0.9 °F"),
    ("+/- 0.9 F", "temperature difference", 0.5, "0.9 °F"),
    ("-14 delta_degF", "temperature difference", -14 / 1.8, "-14 °F"),
    ("2 psi", "pressure difference", 2 * PSI, "2 psi"),
    ("28.7 k\u2126", "resistance", 28_700, "28.7 kΩ"),
    ("28.7 k\u03a9", "resistance", 28_700, "28.7 kΩ"),
    ("28.7k", "resistance", 28_700, "28.7 kΩ"),
    ("10K", "resistance", 10_000, "10 kΩ"),
    ("28700 ohms", "resistance", 28_700, "28700 Ω"),
    ("2.87e4 ohm", "resistance", 28_700, "2.87e4 Ω"),
    ("1.2 MΩ", "resistance", 1.2e6, "1.2 MΩ"),
    ("1.2 MOhm", "resistance", 1.2e6, "1.2 MΩ"),
    ("1,234.5 ohm", "resistance", 1_234.5, "1234.5 Ω"),
    ("1.234,5 ohm", "resistance", 1_234.5, "1234.5 Ω"),
    ("1 234 ohm", "resistance", 1_234, "1234 Ω"),
    ("1\u202f234,5 ohm", "resistance", 1_234.5, "1234.5 Ω"),
    ("1,234,567 ohm", "resistance", 1_234_567, "1234567 Ω"),
    ("1.234.567 ohm", "resistance", 1_234_567, "1234567 Ω"),
    ("1.234 ohm", "resistance", 1.234, "1.234 Ω"),
    ("0,600 ohm", "resistance", 0.6, "0.600 Ω"),
    ("1234,567 ohm", "resistance", 1_234.567, "1234.567 Ω"),
    ("120 VAC", "voltage", 120, "120 V"),
    ("5 mV", "voltage", 0.005, "5 mV"),
    ("400 BTU/hr", "power", 400 * 1_055.056 / 3600, "400 Btu/h"),
    ("0.9 kW-h", "energy", 3.24e6, "0.9 kWh"),
    ("146,6 kJ/kg", "specific enthalpy", 146_600, "146.6 kJ/kg"),
    ("146.6 kj per kg", "specific enthalpy", 146_600, "146.6 kJ/kg"),
    ("146.6 kJ", "specific enthalpy", 146_600, "146.6 kJ/kg"),  # of a kilogram, as °F is of a difference
    ("63 BTU/lb", "specific enthalpy", 63 * 1_055.056 / 0.453_592_37, "63 Btu/lb"),
    ("2 lbs", "mass", 0.907_184_74, "2 lb"),
    ("2.5 g/h", "mass flow", 2.5e-3 / 3600, "2.5 g/h"),
    ("1.46 grams a second", "mass flow", 1.46e-3, "1.46 g/s"),
    ("1,46 g per sec", "mass flow", 1.46e-3, "1.46 g/s"),
    ("88 g/min", "mass flow", 88e-3 / 60, "88 g/min"),
    ("5.3 kg/hr", "mass flow", 5.3 / 3600, "5.3 kg/h"),
    ("11.6 lbs/hr", "mass flow", 11.6 * 0.453_592_37 / 3600, "11.6 lb/h"),
    ("1500 rpm", "rotational speed", 25, "1500 rpm"),
    ("60 hz", "frequency", 60, "60 Hz"),
    ("25 min", "time", 1_500, "25 min"),
    ("45 %", "percent", 0.45, "45 %"),
    ("5000 feet", "length", 1_524, "5000 ft"),
    ("743", "number", 743, "743"),
    ("743.", "number", 743, "743"),
    ("979.kPa", "pressure", 979_000, "979 kPa abs"),
    ("743 counts", "number", 743, "743"),
    ("7.9:1", "number", 7.9, "7.9"),  # as ratios are written in the trade
    ("7,9 : 1", "number", 7.9, "7.9"),
    ("7.9 to 1", "number", 7.9, "7.9"),
    ("7.9x", "number", 7.9, "7.9"),
    ("202 J/s", "power", 202, "202 W"),
]


def assert_reads_back(reading, kind):
    """The settled text means the same value with the same resolution, and is settled."""
    again = read(reading.shown, kind)
    assert (again.value, again.resolution, again.shown) == (reading.value, reading.resolution, reading.shown)


@pytest.mark.parametrize(("typed", "kind", "value", "shown"), UNDERSTOOD)
def test_read_understands(typed, kind, value, shown):
    """Each way of typing gives the value in SI and one settled text, which reads back the same."""
    reading = read(typed, kind)
    assert reading.value == pytest.approx(value, rel=1e-8)
    assert reading.shown == shown
    assert reading.original == typed
    assert_reads_back(reading, kind)


# typed, kind, a part of the sentence
REFUSED = [
    ("1,234 ohm", "resistance", "may be 1234 or 1.234"),
    ("-12,345 °F", "temperature", "may be 12345 or 12.345"),
    ("1 23 ohm", "resistance", "not one number"),
    ("12,34.5 ohm", "resistance", "not one number"),
    ("1,234.567.8 ohm", "resistance", "not one number"),
    ("5, ohm", "resistance", "ends in a comma"),
    ("5-6 psig", "pressure", "more than one number"),
    ("1'234 ohm", "resistance", "more than one number"),
    ("about 3 °F", "temperature", 'begins with "about"'),
    ("", "temperature", "nothing in it"),
    ("   ", "number", "nothing in it"),
    ("nan °F", "temperature", '"nan" is not a finite number'),
    ("-inf", "number", '"-inf" is not a finite number'),
    ("1e400 ohm", "resistance", "too large"),
    ("1e305 Mohm", "resistance", "too large"),
    ("3 wibbles", "temperature", 'unit "wibbles" is not known'),
    ("5 psi", "pressure", "psig .* or psia"),
    ("5 lbs", "pressure", "psig .* or psia"),
    ("13.5 inHg", "pressure", "inHg vacuum .* or inHg abs"),
    ("13.5 in", "pressure", "inHg vacuum .* or inHg abs"),
    ("500 microns", "pressure", "deep vacuum"),
    ("7 degrees", "temperature", "°F or °C"),
    ("7°", "temperature difference", "°F or °C"),
    ("63 Btu", "specific enthalpy", "of how much: type Btu/lb or kJ/kg"),
    ("1.2 mΩ", "resistance", "thousandths or millions"),
    ("5 MV", "voltage", "not known"),
    ("28.7 kohm", "temperature", 'that is a resistance. Expected a temperature, for example "-3 degF"'),
    ("9 °F difference", "temperature", "that is a temperature difference"),
    ("5 psig", "pressure difference", "that is a pressure. Expected a pressure difference"),
    ("5 %", "number", "that is a percentage"),
    ("3", "temperature", "without a unit"),
    ("3", "pressure", "without a unit"),
    ("±0.9 °F", "temperature", "tolerance"),
    ("±-0.9 °F", "temperature difference", "tolerance"),
    ("-500 °F", "temperature", "absolute zero, -459.67 °F"),
    ("-1 K", "temperature", "absolute zero"),
    ("-1 psia", "pressure", "cannot be negative"),
    ("-15 psig", "pressure", "-14.70 psig in this atmosphere"),
    ("30 inHg vacuum", "pressure", "29.92 inHg vacuum in this atmosphere"),
    ("-13.5 inHg vacuum", "pressure", "without a minus"),
    ("-3 ohm", "resistance", "resistance cannot be negative"),
    ("-3 min", "time", "time cannot be negative"),
    ("٣ °F", "temperature", "digits other than 0 to 9"),
    ("13½ psig", "pressure", "digits other than 0 to 9"),
    ("9" * 201, "number", "longer than 200"),
    ("9" * 200 + "e200", "number", "longer than 200"),
    (None, "number", "Nothing was given"),
    (..., "number", "Nothing was given"),
    (True, "number", "yes or no"),
    ([3], "number", "A list cannot be read"),
    (b"3", "number", "A bytes cannot be read"),
    (3 + 0j, "number", "A complex cannot be read"),
    (10**400, "number", "too large"),
    pytest.param(-(10**5000), "number", "too large", id="5000 digits"),
    (float("nan"), "number", "not a finite number"),
    (float("inf"), "number", "not a finite number"),
    (3, "temperature", "You gave 3: a number without a unit"),
]


@pytest.mark.parametrize(("typed", "kind", "part"), REFUSED)
def test_read_refuses_in_a_sentence(typed, kind, part):
    """Each refusal says what is wrong, what was expected, and gives one example that can be read."""
    with pytest.raises(CannotRead, match=part) as refusal:
        read(typed, kind)
    sentence = str(refusal.value)
    assert sentence[0].isupper() and len(sentence) < 300
    assert sentence.endswith(f'Expected {KINDS[kind].noun}, for example "{KINDS[kind].example}".')


@pytest.mark.parametrize("kind", KINDS)
def test_the_example_of_each_kind_can_be_read(kind):
    """What a refusal proposes is understood."""
    assert math.isfinite(read(KINDS[kind].example, kind).value)


@pytest.mark.parametrize(
    ("given_number", "resolution"),
    [
        (3, 0.5),
        (13.5, 0.05),
        (37.38888888888889, 5e-15),
        (1e-7, 5e-8),
        (Fraction(1, 4), 0.005),
        ("28700", 0.5),
        ("13.50", 0.005),
        ("2.87e4", 50),
        ("1e-300", 5e-301),
    ],
)
def test_resolution_is_half_of_the_last_digit(given_number, resolution):
    """A coarse answer says how coarse it is; a computed float is taken as exact."""
    assert read(given_number, "number").resolution == pytest.approx(resolution)


def test_resolution_is_in_si():
    """Half a tenth of a kilo-ohm is 50 Ω; half a degree Fahrenheit is 0.28 K; never negative."""
    assert read("28.7 kohm", "resistance").resolution == pytest.approx(50)
    assert read("-3 °F", "temperature").resolution == pytest.approx(0.5 / 1.8)
    assert read("13.5 inHg vacuum", "pressure").resolution == pytest.approx(0.05 * INCH)


@pytest.mark.parametrize("number", [-3, -3.0, "-3", "\u22123"])
def test_bare_number_takes_the_unit_that_the_question_states(number):
    """What was taken for granted is said in the note."""
    reading = read(number, "temperature", bare_unit="degF")
    assert reading.value == pytest.approx(253.705_555_6)
    assert (reading.unit, reading.note) == ("degF", "taken as °F")
    assert read(9, "temperature difference", bare_unit="°F").unit == "delta_degF"


def test_numpy_numbers_are_numbers():
    """A result worked out with arrays is read like any other."""
    numpy = pytest.importorskip("numpy")
    assert read(numpy.float64(13.5), "number").shown == "13.5"
    assert read(numpy.int64(13), "number").resolution == 0.5
    with pytest.raises(CannotRead, match="cannot be read"):
        read(numpy.array([1.0, 2.0]), "number")


def test_vacuum_depends_on_the_stated_atmosphere():
    """The same vacuum is a lower pressure up in the hills, and the deepest one is shallower there."""
    assert read("10 inHg vacuum", "pressure", atmosphere=84_000).value == pytest.approx(84_000 - 10 * INCH)
    with pytest.raises(CannotRead, match=r"24.81 inHg vacuum in this atmosphere"):
        read("25 inHg vacuum", "pressure", atmosphere=84_000)


def test_notes_say_what_was_taken_for_granted():
    """The standard atmosphere, kilopascals without a mark, and a tolerance are named; nothing else is."""
    assert read("0.6 psig", "pressure").note == "counted from the standard atmosphere"
    assert read("0.6 psig", "pressure", atmosphere=84_000).note == ""
    assert read("4.1 kPa", "pressure").note == "taken as kPa abs"
    assert read("4.1 kPa abs", "pressure").note == ""
    assert read("±0.9 °F", "temperature difference").note == "taken as a tolerance"


def test_slips_of_the_author_are_not_blamed_on_the_student():
    """An unknown kind, or a bare unit that does not fit the kind, is a plain ValueError."""
    with pytest.raises(ValueError, match='no kind "warmth"') as slip:
        read("3 °F", "warmth")
    assert not isinstance(slip.value, CannotRead)
    with pytest.raises(ValueError, match='bare unit "psi" is not a unit of a pressure') as slip:
        read(3, "pressure", bare_unit="psi")
    assert not isinstance(slip.value, CannotRead)


def test_quantities_are_read():
    """A pint quantity keeps its unit where the table has it, and is converted where not."""
    reading = read(q(-3, "degF"), "temperature")
    assert (reading.shown, reading.unit) == ("-3 °F", "degF")
    assert read(q(13.5, "inHg vacuum"), "pressure").value == pytest.approx(101_325 - 13.5 * INCH)
    assert read(q(2, "psi"), "pressure").unit == "psia"
    assert read(q(2, "psi"), "pressure difference").unit == "psi"
    assert read(q(5, "delta_degC"), "temperature difference").value == 5
    assert read(q(1.5, "millibar"), "pressure").value == pytest.approx(150)
    assert read(q(3, "-"), "number").value == 3


@pytest.mark.parametrize(
    ("quantity", "kind", "part"),
    [
        (q(5, "delta_degF"), "temperature", "is a temperature difference"),
        (q(5, "degF"), "temperature difference", "is a temperature"),
        (q(5, "ohm"), "temperature", "is a resistance"),
        (q(5, "m/s"), "pressure", "is not a pressure"),
        (q(-5, "ohm"), "resistance", "cannot be negative"),
        (q(float("nan"), "ohm"), "resistance", "not a finite number"),
        (q([1, 2], "ohm"), "resistance", "many values"),
        (q(3 + 1j, "ohm"), "resistance", "many values"),
    ],
)
def test_quantities_are_refused(quantity, kind, part):
    """Quantities of the wrong kind, and those that cannot be, get a sentence too."""
    with pytest.raises(CannotRead, match=part):
        read(quantity, kind)


def test_read_number_alone():
    """Value and number of decimals, for the marks of both traditions."""
    assert read_number("1.234,50") == ("1234.50", 2)
    assert read_number("1,234.5") == ("1234.5", 1)
    assert read_number(",6") == ("0.6", 1)
    with pytest.raises(CannotRead, match=r"may be 1234 or 1\.234"):
        read_number("1,234")
    with pytest.raises(CannotRead, match="ends in a comma"):
        read_number("5,")
    with pytest.raises(CannotRead, match="not one number"):
        read_number("1 2")


def reading_or_sentence(*args, **kwargs):
    """Give the reading, or None after a look at the sentence of the refusal."""
    try:
        return read(*args, **kwargs)
    except CannotRead as refusal:
        sentence = str(refusal)
    assert sentence.endswith('".') and sentence.isprintable()
    return None


numbers = st.one_of(
    st.integers(), st.floats(), st.from_regex(r"[-+±−]?[0-9., ']{1,12}(e[-+]?[0-9]{1,4})?", fullmatch=True)
)
words = st.sampled_from(
    sorted({word for unit in UNITS.values() for word in (unit.name, *unit.words, *unit.exact)})
)


@given(
    st.one_of(st.text(max_size=250), st.builds("{}{}{}".format, numbers, st.sampled_from(["", " "]), words)),
    st.sampled_from(sorted(KINDS)),
)
def test_read_gives_a_reading_or_a_sentence_for_any_text(text, kind):
    """Whatever is typed, the only error is CannotRead, and what is read is finite and reads back."""
    reading = reading_or_sentence(text, kind)
    if reading is None:
        return
    assert math.isfinite(reading.value) and 0 <= reading.resolution < math.inf
    assert_reads_back(reading, kind)


@given(
    st.one_of(
        st.none(),
        st.booleans(),
        st.integers(),
        st.floats(),
        st.binary(),
        st.lists(st.integers()),
        st.fractions(),
        st.decimals(),
        st.complex_numbers(),
    ),
    st.sampled_from(sorted(KINDS)),
)
def test_read_gives_a_reading_or_a_sentence_for_any_object(given_object, kind):
    """The same for objects other than text."""
    reading = reading_or_sentence(given_object, kind, bare_unit=KINDS[kind].si_unit)
    assert reading is None or math.isfinite(reading.value)


@given(st.sampled_from(sorted(UNITS)), st.decimals(0, 25, places=2), st.booleans(), st.booleans())
def test_a_decimal_comma_is_a_decimal_point(name, number, comma, spaced):
    """Two decimals leave no doubt, so both traditions read the same value."""
    unit = UNITS[name]
    typed = f"{number}".replace(".", ",") if comma else f"{number}"
    reading = read(f"{typed}{' ' * spaced}{unit.shown}", unit.kind)
    assert reading.unit == name
    assert reading.value == pytest.approx(to_si(float(number), name), rel=1e-12)


@given(st.integers(1, 999), st.integers(0, 999), st.integers(0, 99))
def test_thousands_are_never_guessed(high, low, decimals):
    """With a decimal part both traditions are told apart; one comma before three digits is refused."""
    expected = float(f"{high}{low:03}.{decimals:02}")
    for typed in (
        f"{high},{low:03}.{decimals:02}",
        f"{high}.{low:03},{decimals:02}",
        f"{high} {low:03}.{decimals:02}",
    ):
        assert read(typed, "number").value == expected
    with pytest.raises(CannotRead, match="may be"):
        read(f"{high},{low:03}", "number")
