"""The sheet: personal numbers for ever, damaged sheets said so, student numbers tidied."""

import json

import pytest
from coldbench.errors import CannotRead
from coldbench.homework import sheet as sheets
from coldbench.homework.drawing import accepted_draws
from coldbench.homework.sheet import Numbers, Sheet, Variable, edition, load, row_of, student_number
from hypothesis import given
from hypothesis import strategies as st


@pytest.mark.parametrize(
    ("student", "chain", "row"), [("s01", "01.1", 236), ("s07", "05.2", 110), ("2024-113", "01.6", 169)]
)
def test_row_of_a_student_stays_for_ever(student, chain, row):
    """Pinned: a student who asks again in ten years has the same numbers."""
    assert row_of(student, chain, 300) == row


@given(st.text(), st.text(), st.integers(1, 1000))
def test_row_lies_in_the_table(student, chain, rows):
    """Any student, any chain, any table."""
    assert 0 <= row_of(student, chain, rows) < rows


def test_rows_spread_over_the_table():
    """2,000 students over 300 rows: nearly all rows are used and none by a crowd."""
    used = [row_of(f"s{number}", "05.1", 300) for number in range(2000)]
    assert len(set(used)) > 290
    assert max(used.count(row) for row in set(used)) < 25


def test_numbers_are_si_and_shown_as_typed():
    """A variable is an SI float by name, and reads in its own words."""
    numbers = Numbers([Variable("box_air_temperature", "degF", "{:.1f} °F")], [32.0])
    assert numbers.box_air_temperature == pytest.approx(273.15)
    assert numbers.shown == {"box_air_temperature": "32.0 °F"}
    assert numbers.typed == {"box_air_temperature": 32.0}


def test_text_has_the_students_numbers_and_every_letter(small_sheet):
    """Wording with numbers in it; rows and letters of a table are told apart."""
    numbers = small_sheet.numbers("s07", "99.1")
    assert numbers.shown["heater"] in small_sheet.items["99.1"].text(numbers)
    text = small_sheet.items["99.5"].text(small_sheet.numbers("s07", "99.5"))
    assert text.index("fan: a fan") < text.index("The letters stand for:") < text.index("A: on")


def test_questions_of_a_chain_share_their_numbers(small_sheet):
    """99.2 uses 99.1, so both see one row."""
    assert small_sheet.numbers("s07", "99.1").typed == small_sheet.numbers("s07", "99.2").typed


def test_sheet_holds_only_the_students_half(small):
    """No key, tolerance, wrong idea, hidden number or worked answer leaves with it."""
    text = json.dumps(small.sheet(accepted_draws(small)))
    for secret in ("sum_forgotten", "upside_down", "meter is good", "took it twice", "Because", "hidden"):
        assert secret not in text


def test_edition_changes_with_anything_in_the_sheet(small):
    """A changed word gives another edition, the same sheet the same one."""
    plain = small.sheet(accepted_draws(small))
    before = edition(plain)
    assert before == edition(json.loads(json.dumps(plain)))
    plain["questions"][0]["wording"] += "!"
    assert edition(plain) != before


def test_load_reads_the_sheet_beside_the_notebook(small, tmp_path):
    """What was written is what is read."""
    plain = small.sheet(accepted_draws(small))
    (tmp_path / sheets.FILE_NAME).write_text(json.dumps(plain), encoding="utf-8")
    assert load(tmp_path).edition == edition(plain)


def test_load_says_that_there_is_no_sheet(tmp_path):
    """A notebook moved away from its folder."""
    with pytest.raises(CannotRead, match=r"There is no sheet\.json beside this notebook"):
        load(tmp_path)


def _spoil(**change):
    return lambda plain: plain["questions"][0].update(change)


HOSTILE = {
    "cut off": lambda plain: None,
    "a list": lambda plain: plain.clear(),
    "a question without a kind": lambda plain: plain["questions"][0].pop("kind"),
    "a strange kind": _spoil(kind={"name": "spell"}),
    "a chain without rows": lambda plain: plain["draws"]["99.1"].update(rows=[]),
    "a row too short": lambda plain: plain["draws"]["99.1"]["rows"].__setitem__(0, [1]),
    "a strange unit": lambda plain: plain["draws"]["99.1"]["variables"][0].__setitem__(1, "furlong"),
    "a number that was not drawn": _spoil(wording="{nobody}"),
    "a look inside": _spoil(wording="{heater.__class__.__mro__[9]}"),
    "an unknown chain": _spoil(chain="98.1"),
}


@pytest.mark.parametrize("damage", HOSTILE)
def test_load_refuses_a_damaged_sheet(damage, small, tmp_path):
    """However the sheet was spoiled, a sentence says what to do."""
    plain = small.sheet(accepted_draws(small))
    HOSTILE[damage](plain)
    text = json.dumps(plain)
    (tmp_path / sheets.FILE_NAME).write_text(text[:200] if damage == "cut off" else text, encoding="utf-8")
    with pytest.raises(CannotRead, match=r"is damaged\. Put the notebook back"):
        load(tmp_path)


def test_load_refuses_nesting_without_end(tmp_path):
    """A sheet of a hundred thousand brackets is damaged, not a crash."""
    (tmp_path / sheets.FILE_NAME).write_text("[" * 100_000, encoding="utf-8")
    with pytest.raises(CannotRead, match="damaged"):
        load(tmp_path)


@pytest.mark.parametrize(("raw", "tidy"), [(" S07 ", "s07"), (113, "113"), ("2024-11.3", "2024-11.3")])
def test_student_number_is_tidied(raw, tidy):
    """Blanks off, small letters; whole numbers too."""
    assert student_number(raw) == tidy


@pytest.mark.parametrize(
    "raw",
    ["", "   ", None, ..., True, 3.5, -4, "Ann Lee", "s/../07", "é7", "x" * 33, 10**40, ["s07"]],
    ids=str,
)
def test_student_number_refused(raw):
    """Anything but letters, digits, dot and hyphen; too long; no text."""
    with pytest.raises(CannotRead, match="is not a student number"):
        student_number(raw)


def test_student_number_of_thousands_of_digits_refused():
    """A number that cannot even be printed."""
    with pytest.raises(CannotRead, match="too large to show is not a student number"):
        student_number(10**5000)


def test_sheet_of_rows_is_the_same_after_json(small, small_sheet):
    """The marker's sheet and the student's give the same numbers."""
    again = Sheet(json.loads(json.dumps(small.sheet(accepted_draws(small)))))
    for number in range(50):
        assert again.numbers(f"s{number}", "99.2").typed == small_sheet.numbers(f"s{number}", "99.2").typed
