"""Lesson 00's cells: what is understood and refused, practice told at once, self-checks, personal numbers."""

import pytest
from coldbench.lesson import lesson_00
from coldbench.lesson.lesson_00 import REFUSED, UNDERSTOOD, personal_card, thermometer
from coldbench.lesson.said_table import SaidTable
from coldbench.units import to_si


@pytest.fixture(autouse=True)
def own_folder(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)


def test_understood_table_holds_only_what_is_understood():
    """Every row was read, none refused; comma, point and minus come out as one settled form."""
    rows = lesson_00.understood().rows
    assert len(rows) == len(UNDERSTOOD)
    shown = {typed: reply for typed, _, reply in rows}
    assert shown["0,6 psig"] == "0.6 psig" and shown["1.234,5 ohm"] == "1234.5 Ω"
    assert shown["-3 degF"] == shown["-3 °F"]


def test_refused_table_holds_only_refusals_with_reasons():
    """Every reply says what was typed and what was expected."""
    rows = lesson_00.refused().rows
    assert len(rows) == len(REFUSED)
    for typed, kind, reply in rows:
        assert reply.startswith(f'You typed "{typed}": ') and f"Expected a {kind}" in reply


def test_said_table_is_a_table_with_a_plain_copy_and_escapes_what_was_typed():
    """Headings are headings; signs of HTML are shown, not obeyed."""
    table = SaidTable(("typed", "reply"), [("<b>", "no & no")])
    assert repr(table) == "typed | reply\n<b> | no & no"
    assert '<th scope="col"' in table._repr_html_()
    assert "&lt;b&gt;" in table._repr_html_() and "no &amp; no" in table._repr_html_()


def test_thermometer_says_both_scales():
    """By hand: 41 °F = 5 °C, −4 °F = −20 °C."""
    assert thermometer(to_si(41, "degF")).twin == "41 °F is the same temperature as 5.0 °C."
    assert "−4 °F is the same temperature as −20.0 °C" in thermometer(to_si(-4, "degF")).twin


def test_every_stop_of_the_first_slider_has_a_picture_and_a_sentence():
    """From end to end."""
    shown = lesson_00.first_slider()
    for at in range(len(shown._controls[0].values)):
        shown.positions = [at]
        assert shown.svg.startswith("<svg role=") and shown.twin.endswith("°C.")


def test_a_guess_without_unit_is_refused_and_with_one_comes_back():
    """What the lesson asks to try."""
    asked = lesson_00.guess_air()
    assert asked.take("37").mood == "not understood" and "without a unit" in asked.reply
    assert asked.take("45 °F").mood == "kept"
    assert "45 °F" in (seen := lesson_00.look_back_at_air().value) and "40 °F (4.4 °C)" in seen


@pytest.mark.parametrize(
    ("typed", "mood", "reason"),
    [
        ("10 inHg vacuum", "right", "down from the air"),
        ("10", "not understood", "without a unit"),
        ("10 inHg", "not understood", "inHg vacuum"),
        ("10 inHg abs", "not yet", "counts up"),
        ("10 psig", "not yet", "above the air"),
        ("-10 psig", "not yet", "no pounds"),
        ("5 inHg vacuum", "not yet", "Just the reading"),
    ],
)
def test_check_vacuum_answers(typed, mood, reason):
    """The word that says from where it is counted."""
    asked = lesson_00.check_vacuum().take(typed)
    assert (asked.mood, reason in asked.reply) == (mood, True), asked.reply


@pytest.mark.parametrize(
    ("typed", "mood", "reason"),
    [
        ("41 °F", "right", "1.8 × 5 + 32 = 41"),
        ("9 °F", "not yet", "32 is missing"),
        ("5 °F", "not yet", "−15 °C"),
        ("50 °F", "not yet", "Move the slider"),
        ("5 °C", "not understood", "says the question again"),
    ],
)
def test_check_slider_answers(typed, mood, reason):
    """5 °C is 41 °F."""
    asked = lesson_00.check_slider().take(typed)
    assert (asked.mood, reason in asked.reply) == (mood, True), asked.reply


@pytest.mark.parametrize(
    ("check", "right"),
    [
        ("check_hand_in", "The notebook homework-01.ipynb, saved first"),
        (
            "check_safety",
            "The board's capacitor is checked empty, with a meter, by someone who has been shown how",
        ),
    ],
)
def test_checks_with_choices_have_one_right_answer_and_reasons_for_all(check, right):
    """One right; every reply says why."""
    choices = getattr(lesson_00, check)().choices
    replies = {text: getattr(lesson_00, check)().take(text) for text in choices}
    assert [text for text, one in replies.items() if one.mood == "right"] == [right]
    assert all(len(one.reply) > 50 for one in replies.values())


@pytest.mark.parametrize(
    ("value", "said"),
    [
        (..., "Not answered yet."),
        ("38 °F", "✓ Right"),
        ("38 degF", "✓ Right"),
        ("3.3 °C", "✓ Right"),
        (38, "✓ Right"),
        ("40 °F", "✗ Not yet"),
        ("38 psig", "Not understood"),
        (None, "Not understood"),
    ],
)
def test_practice_tells_at_once(value, said):
    """As homework reads it, and right or not besides."""
    assert any(line.startswith(said) for line in str(lesson_00.practice(value)).splitlines())


@pytest.mark.parametrize(
    ("value", "said"),
    [(..., "Not answered yet."), ("b", "✓ Right"), ("A", "✗ Not yet"), ("D", "Not understood")],
)
def test_practice_letter_tells_at_once(value, said):
    """Small letters are taken, too."""
    assert any(line.startswith(said) for line in str(lesson_00.practice_letter(value)).splitlines())


def test_personal_numbers_differ_and_stay():
    """Three students, three cards; the same student, the same card."""
    cards = [personal_card(student).twin.split("reads: ")[1] for student in ("s07", "s12", "s19")]
    assert len(set(cards)) == 3
    assert personal_card("s07") == personal_card("s07")
    shown = lesson_00.personal_numbers().move(student="s19")
    assert shown.twin == personal_card("s19").twin
