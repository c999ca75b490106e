"""The door between people's units and SI: the table against pint and published factors; pint at the door."""

import subprocess
import sys
from typing import NamedTuple

import pytest
from coldbench.errors import CannotRead
from coldbench.unit_table import KINDS, STANDARD_ATMOSPHERE, UNITS
from coldbench.unit_words import find_unit, hint, units_called, word_key
from coldbench.units import at_the_door, from_si, q, registry, to_si
from hypothesis import given
from hypothesis import strategies as st

# Source: NIST SP 811 (2008), appendix B.8, printed to seven digits, unless said otherwise.
PUBLISHED = [
    (1.0, "psi", 6_894.757),
    (1.0, "delta_inHg", 3_386.389),  # conventional inch of mercury
    (1.0, "lb", 0.453_592_4),
    (1.0, "oz", 0.028_349_52),
    (1.0, "ft", 0.3048),
    (1.0, "Btu", 1_055.056),  # International Table
    (1.0, "Btu/h", 0.293_071_1),
    (1.0, "kWh", 3.6e6),
    (1.0, "Btu/lb", 2_326.0),  # International Table, exact
    (1.0, "lb/h", 1.259_979e-4),
    (1.0, "kg/h", 2.777_778e-4),
    (14.695_95, "psia", 101_325.0),  # the standard atmosphere in psi, same source: 101325 / 6894.757
    (29.921_26, "inHg abs", 101_325.0),  # the same in inches of mercury
    (32.0, "degF", 273.15),  # ice point
    (212.0, "degF", 373.15),
    (-40.0, "degF", 233.15),  # where °F and °C meet
    (-40.0, "degC", 233.15),
    (9.0, "delta_degF", 5.0),
]


@pytest.mark.parametrize(("value", "unit", "expected"), PUBLISHED)
def test_conversion_agrees_with_published_factors(value, unit, expected):
    """Each factor is the published one, to the digits printed."""
    assert to_si(value, unit) == pytest.approx(expected, rel=3e-7)


@pytest.mark.parametrize("name", UNITS)
@pytest.mark.parametrize("value", [0.0, 1.0, -3.7, 1234.5])
def test_table_agrees_with_pint(name, value):
    """The fast table and pint give the same SI value for every unit, gauge and vacuum too."""
    row = UNITS[name]
    assert str(registry().Unit(row.pint_name)) == row.pint_name
    si = registry().Quantity(value, row.pint_name).to(UNITS[KINDS[row.kind].si_unit].pint_name).magnitude
    if row.share:
        si = STANDARD_ATMOSPHERE + (-si if "vacuum" in name else si)
    assert to_si(value, name) == pytest.approx(si, rel=1e-12, abs=1e-12)


@pytest.mark.parametrize("name", UNITS)
def test_every_unit_has_its_zero_where_pint_has(name):
    """Absolute zero and zero gauge convert without any rounding left over."""
    assert to_si(from_si(0.0, name), name) == pytest.approx(0.0, abs=1e-10)


@given(st.sampled_from(sorted(UNITS)), st.floats(-1e6, 1e6), st.floats(5e4, 1.1e5))
def test_from_si_undoes_to_si(name, value, atmosphere):
    """There and back gives the number again, at any atmosphere."""
    back = from_si(to_si(value, name, atmosphere), name, atmosphere)
    assert back == pytest.approx(value, rel=1e-9, abs=1e-3 if UNITS[name].share else 1e-6)


def test_absolute_zero_is_exactly_zero():
    """−459.67 °F is 0 K (NIST SP 811, appendix B.8: T/K = (t/°F + 459.67)/1.8)."""
    assert to_si(-459.67, "degF") == 0.0


def test_gauge_and_vacuum_count_from_the_stated_atmosphere():
    """The same gauge reading is a lower absolute pressure where the air is thinner."""
    assert to_si(0.0, "psig", 84_000.0) == 84_000.0
    assert to_si(10.0, "inHg vacuum", 84_000.0) == pytest.approx(84_000.0 - 33_863.89)
    assert from_si(84_000.0, "inHg vacuum", 84_000.0) == 0.0


def test_conversion_takes_arrays():
    """One table serves plain floats and arrays."""
    numpy = pytest.importorskip("numpy")
    assert to_si(numpy.array([32.0, 212.0]), "degF") == pytest.approx([273.15, 373.15])


def test_every_kind_has_an_si_unit_and_an_example_unit():
    """The SI unit of each kind is in the table, is of that kind and leaves numbers as they are."""
    for kind, row in KINDS.items():
        unit = UNITS[row.si_unit]
        assert (unit.kind, unit.factor, unit.offset, unit.share) == (kind, 1.0, 0.0, 0)


def test_no_word_means_two_units_of_one_kind():
    """Within a kind every word, in the spelling of the table, names one unit."""
    for unit in UNITS.values():
        for word in (unit.name, unit.shown, *unit.words, *unit.exact):
            meant = [other.name for other in units_called(word) if other.kind == unit.kind]
            assert word == "" or meant == [unit.name], word


def test_words_are_settled_before_they_are_looked_up():
    """Spaces, dots, both omegas, both quotes and all degree signs make no difference; case is kept."""
    assert {word_key(word) for word in ("k\u2126", "k\u03a9", "k ohm", "k-ohm")} == {"kohm"}
    assert {word_key(word) for word in ('" Hg', "in. Hg", "in_Hg", "” Hg")} == {"inHg"}
    assert {word_key(word) for word in ("°F", "ºF", "deg. F", "℉")} == {"degF"}


def test_find_unit_by_name_and_word():
    """Names come first; a word gives the first unit of the table."""
    assert find_unit("psi").kind == "pressure difference"
    assert find_unit("°F").name == "degF"
    assert find_unit("K").name == "K"


def test_unknown_unit_is_refused_with_the_list():
    """The refusal lists what is known."""
    with pytest.raises(CannotRead, match=r'no unit "furlong".*degF'):
        to_si(1.0, "furlong")


def test_hint_only_where_a_word_says_too_little():
    """Bare psi has a hint for a pressure, none for a pressure difference."""
    assert "psig" in hint("PSI", "pressure")
    assert hint("psi", "pressure difference") == ""


def test_units_load_no_pint():
    """Importing, converting and reading load neither pint nor numpy; making a quantity loads pint."""
    code = (
        "import sys; from coldbench.units import to_si, read, q;"
        "to_si(3, 'degF'); read('3 °F', 'temperature');"
        "assert not {'pint', 'numpy', 'matplotlib', 'ipywidgets', 'nbgrader'} & set(sys.modules);"
        "q(3, 'degF'); assert 'pint' in sys.modules"
    )
    subprocess.run([sys.executable, "-c", code], check=True)


def test_quantity_in_any_unit():
    """q knows the table, the words and pint's own expressions; gauge becomes absolute."""
    assert q(21, "degC").to("kelvin").magnitude == pytest.approx(294.15)
    assert q(0.0, "psig").to("pascal").magnitude == pytest.approx(101_325.0)
    assert q(13.5, "inHg vacuum", 101_325.0).to("Pa").magnitude == pytest.approx(55_608.75, abs=0.01)
    assert q(5, "J/(kg K)").to("kJ/(kg*K)").magnitude == pytest.approx(0.005)
    assert q(1, "-").dimensionless


@pytest.mark.parametrize("unit", ["furlongs of nonsense", "((", "1\n2", "import os", "m;", "in ``unit``"])
def test_quantity_in_unknown_unit_is_refused(unit):
    """Whatever pint's parser makes of it, the person gets one sentence."""
    with pytest.raises(CannotRead, match=r"no unit|not a unit"):
        q(1, unit)


def test_temperature_is_not_a_difference():
    """pint's own rule stands: adding two temperatures in °F is refused, a difference may be added."""
    pint = pytest.importorskip("pint")
    with pytest.raises(pint.OffsetUnitCalculusError):
        q(3, "degF") + q(3, "degF")
    assert (q(3, "degF") + q(9, "delta_degF")).to("degF").magnitude == pytest.approx(12)


def carnot(temperature, cold_temperature, efficiency=1.0):
    """Work out the share of heat that could become work.

    Parameters
    ----------
    temperature, cold_temperature : float
        Hot and cold side [K], see also [Carnot]_
    efficiency : float
        Share reached [-]

    Returns
    -------
    float
        Share [-]
    """
    return efficiency * (1 - cold_temperature / temperature)


def both(refrigerant, pressure):
    """Give back two results.

    Parameters
    ----------
    refrigerant : str
        Name
    pressure : float
        Pressure [Pa], absolute

    Returns
    -------
    tuple of float
        Pressure [Pa] and density [kg/m3]
    """
    return pressure, pressure / 1e5


def test_door_reads_units_from_the_docstring():
    """Quantities in, quantity out; defaults and plain numbers stay plain where the mark is [-]."""
    share = at_the_door(carnot)(q(212, "degF"), q(0, "degC"))
    assert share.dimensionless
    assert share.magnitude == pytest.approx(1 - 273.15 / 373.15)
    assert at_the_door(carnot)(
        q(212, "degF"), q(0, "degC"), efficiency=q(50, "%")
    ).magnitude == pytest.approx(share.magnitude / 2)
    assert at_the_door(carnot).__wrapped__ is carnot


def test_door_gives_several_results_their_own_units():
    """A tuple gets one unit after the other; unmarked arguments such as names pass unchanged."""
    pressure, density = at_the_door(both)("R-600a", pressure=q(0, "psig"))
    assert f"{pressure.to('kPa'):.1f~P}" == "101.3 kPa"
    assert str(density.units) == "kilogram / meter ** 3"


class Pair(NamedTuple):
    """Two results by name."""

    pressure: float
    density: float


def test_door_with_other_results():
    """One unit serves every result, a record stays as it is, a count that does not fit is refused."""
    document = "Do.\n\nReturns\n-------\ntuple\n    Pressures [Pa]\n"

    def three():
        return 1.0, 2.0, 3.0

    def record():
        return Pair(1.0, 2.0)

    three.__doc__ = record.__doc__ = document
    assert [str(pressure.units) for pressure in at_the_door(three)()] == ["pascal"] * 3
    assert at_the_door(record)() == Pair(1.0, 2.0)
    three.__doc__ = document + "    and density [kg/m3]\n"
    with pytest.raises(CannotRead, match="three gives 3 results, but its docstring marks 2 units"):
        at_the_door(three)()


def test_door_of_the_real_physics():
    """A vacuum becomes a temperature: R-600a at 13.5 inHg vacuum evaporates at −15 °F.

    Source: CoolProp, equation of state of Bücker and Wagner (2006), in the same run.
    """
    propsi = pytest.importorskip("CoolProp.CoolProp").PropsSI
    from coldbench.properties import refrigerant

    temperature = at_the_door(refrigerant.saturation_temperature)("R-600a", q(13.5, "inHg vacuum"))
    assert temperature.magnitude == pytest.approx(propsi("T", "P", 55_608.75, "Q", 1, "IsoButane"), abs=0.02)
    assert f"{temperature.to('degF'):.0f~P}" == "-15 °F"


def test_door_without_marks_leaves_results_alone():
    """A function whose docstring says nothing about units works as before."""
    assert at_the_door(lambda value: value)(3) == 3


def test_door_refuses_a_number_without_unit():
    """The sentence names function, argument, unit and the way out."""
    with pytest.raises(
        CannotRead, match=r'"temperature" of carnot needs a value in K, but 300 has no unit.*q\(300'
    ):
        at_the_door(carnot)(300, q(0, "degC"))


def test_door_refuses_the_wrong_unit():
    """The sentence names function, argument and what was given; also for a number that has no unit."""
    with pytest.raises(CannotRead, match='"pressure" of both needs a value in Pa, but 21 Ω was given'):
        at_the_door(both)("R-600a", q(21, "ohm"))
    with pytest.raises(CannotRead, match='"efficiency" of carnot needs a plain number, but 21 Ω'):
        at_the_door(carnot)(q(300, "K"), q(0, "degC"), q(21, "ohm"))


def test_door_refuses_a_docstring_whose_mark_is_no_unit():
    """A slip in a docstring shows when the function is wrapped."""

    def odd(value):
        """Do nothing.

        Parameters
        ----------
        value : float
            Something [wibble]
        """

    with pytest.raises(CannotRead, match='no unit "wibble"'):
        at_the_door(odd)
