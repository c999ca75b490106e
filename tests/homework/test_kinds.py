"""Kinds of answers: what each reads, refuses and shows, and that plain values go round."""

import json

import pytest
from coldbench.errors import CannotRead
from coldbench.homework import kinds
from coldbench.homework.kinds import Choice, Number, Order, Sentence, Table, is_blank, shorten, true_minus
from hypothesis import given
from hypothesis import strategies as st

CHOICE = Choice({"A": "more", "B": "less"})
ORDER = Order({"A": "one", "B": "two", "C": "three"})
TABLE = Table({"fan": "a fan", "lamp": "a lamp"}, {"A": "on", "B": "off"})
TEMPERATURE = Number("temperature", "degF", 1, "12.5 degF")
VACUUM = Number("pressure", "inHg vacuum", 1, "5.0 inHg vacuum")
EVERY = (CHOICE, ORDER, TABLE, TEMPERATURE, VACUUM, Sentence())

JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(), inner, max_size=4),
    max_leaves=8,
)


@pytest.mark.parametrize("raw", ["b", " B ", "B.", ["b"], "(B)"])
def test_choice_reads_one_letter(raw):
    """A letter in any case, with a dot or in a list."""
    assert CHOICE.read(raw).value == "B"
    assert CHOICE.read(raw).shown == "B (less)"


@pytest.mark.parametrize(
    ("raw", "reason"),
    [("AB", "2 letters"), ("C", "C is not offered"), ("", "no letter"), (3, "not made of letters")],
)
def test_choice_refuses(raw, reason):
    """More than one letter, a strange one, none, or a number."""
    with pytest.raises(CannotRead, match=reason):
        CHOICE.read(raw)


@pytest.mark.parametrize(
    "raw", ["CAB", "c a b", "C, A, B", "C < A < B", "C→A→B", ["C", "A", "B"], ("c", "a", "b")]
)
def test_order_reads_every_way_of_writing(raw):
    """Letters together, with blanks, commas, signs, or as a list."""
    assert ORDER.read(raw).value == ("C", "A", "B")


@pytest.mark.parametrize(
    ("raw", "reason"), [("CA", "a letter is missing"), ("CAA", "there twice"), ("CABD", "D is not offered")]
)
def test_order_refuses(raw, reason):
    """A letter too few, twice, or strange."""
    with pytest.raises(CannotRead, match=reason):
        ORDER.read(raw)


def test_table_reads_the_rows_that_are_answered():
    """Rows left as dots or None stay out and show a dash."""
    read = TABLE.read({"fan": "a", "lamp": None})
    assert read.value == {"fan": "A"}
    assert read.shown == "fan: A, lamp: –"


@pytest.mark.parametrize(
    ("raw", "reason"),
    [
        ("A", "not a table"),
        ({"pump": "A"}, '"pump" that was not asked for'),
        ({"fan": "C"}, "C is not offered"),
        ({"fan": "AB"}, 'Row fan holds "AB"'),
        ({"fan": {"fan": "A"}}, "not made of letters"),
    ],
)
def test_table_refuses(raw, reason):
    """What is no table, rows not asked for, letters not offered."""
    with pytest.raises(CannotRead, match=reason):
        TABLE.read(raw)


def test_sentence_is_taken_as_it_is():
    """Blanks at the ends go, the rest stays; nothing is judged."""
    read = Sentence().read("  It burns.\n")
    assert read.value == "It burns."
    assert read.shown == "2 words for your instructor to read"
    assert Sentence().read("Air.").shown.startswith("1 word for")


@pytest.mark.parametrize("raw", [3.0, ["text"], "x" * (kinds.LONGEST_SENTENCE + 1)])
def test_sentence_refuses(raw):
    """What is no text, or too long to be one."""
    with pytest.raises(CannotRead, match="your own words"):
        Sentence().read(raw)


def test_number_takes_a_bare_number_in_its_unit_but_no_bare_pressure():
    """A plain temperature is taken in the question's unit and says so; a plain pressure is refused."""
    read = TEMPERATURE.read(5)
    assert TEMPERATURE.in_unit(read.value) == pytest.approx(5)
    assert read.note == "taken as °F"
    with pytest.raises(CannotRead, match="pressure"):
        VACUUM.read(5)


def test_gauge_counts_from_the_atmosphere_of_the_question():
    """At 12.0 psia of air, 3 psig is 15.0 psia (common practice, no source)."""
    high = Number("pressure", "psig", 1, "3 psig", atmosphere=12.0 * 6894.757)
    assert high.in_unit(high.read("3 psig").value, "psia") == pytest.approx(15.0, abs=1e-4)


def test_number_above_the_atmosphere_is_not_shown_as_a_vacuum():
    """What a gauge shows above zero is psig, and what is shown can be typed."""
    assert VACUUM.show(101_325.0 + 2 * 6894.757) == "2.0 psig"
    assert VACUUM.show(101_325.0 - 2 * 3386.389) == "2.0 inHg vacuum"
    assert TEMPERATURE.show(255.372_22 - 0.02) == "0.0 °F"


@given(st.floats(20_000, 400_000))
def test_a_shown_pressure_is_read_back(pressure):
    """Whatever is shown as expected can be typed as an answer, within its decimals."""
    assert VACUUM.read(VACUUM.show(pressure)).value == pytest.approx(pressure, abs=400)


@given(JSON)
def test_reading_only_ever_refuses_in_a_sentence(raw):
    """No plain value makes a kind fail in another way than a sentence."""
    for kind in EVERY:
        try:
            sentence = kind.show(kind.read(raw).value)
        except CannotRead as refusal:
            sentence = str(refusal)
            assert sentence.endswith(".")
        assert isinstance(sentence, str)


@pytest.mark.parametrize("kind", EVERY, ids=lambda kind: kind.name)
def test_kinds_go_round_as_plain_values(kind):
    """A kind is the same after a round through the sheet's JSON; its hint says what to type."""
    assert kinds.from_plain(json.loads(json.dumps(kinds.to_plain(kind)))) == kind
    assert kind.hint()


@pytest.mark.parametrize("raw", [..., None, "", "  ", "...", "…", {"fan": ..., "lamp": None}])
def test_blank_answers(raw):
    """What a student never filled in."""
    assert is_blank(raw)


@pytest.mark.parametrize("raw", [0, "0", [], {}, False, {"fan": "A", "lamp": ...}])
def test_answers_that_are_not_blank(raw):
    """A zero is an answer."""
    assert not is_blank(raw)


def test_quotations_are_short_and_never_fail():
    """Text is quoted, long text cut; a number of 5,000 digits or a deep list is named, not printed."""
    deep: list = []
    for _ in range(100_000):
        deep = [deep]
    assert shorten("ab") == '"ab"'
    assert len(shorten("x" * 500)) <= 61
    assert shorten(10**5000) == "something too large to show"
    assert shorten(deep) == "something too large to show"


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("boils at -35.1 °F: 15.7 − (-0.8) = 16.5 °F", "boils at −35.1 °F: 15.7 − (−0.8) = 16.5 °F"),
        ("-4 °F", "−4 °F"),
        ("R-600a, due 2027-03-01, 10-20 °F, 1e-3 s07-05", "R-600a, due 2027-03-01, 10-20 °F, 1e-3 s07-05"),
        ('for example "-3 degF" or “-3 °F”', 'for example "-3 degF" or “-3 °F”'),
        ("−5 °F, and a dash - 2 more", "−5 °F, and a dash - 2 more"),
    ],
)
def test_numbers_have_a_true_minus(text, shown):
    """Dates, refrigerants, spans and what is to be typed stay as they are."""
    assert true_minus(text) == shown
