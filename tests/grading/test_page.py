"""The shared page: formats, and that nothing which is put into a page stays markup."""

import pytest
from coldbench.grading import page
from coldbench.grading.statistics import Total
from coldbench.homework.marking import SHARES


def test_small_formats():
    """Points, shares, correlations and totals as a person writes them."""
    assert [page.points(number) for number in (2.0, 1.5, 0.25, 1 / 3)] == ["2", "1.5", "0.25", "0.33"]
    assert [page.percent(share) for share in (None, 0.0, 0.645)] == ["–", "0 %", "64 %"]
    assert [page.signed(number) for number in (None, -0.0, -0.1, 0.42)] == ["–", "0.00", "−0.10", "0.42"]
    assert (page.counted(1, "student"), page.counted(0, "student")) == ("1 student", "0 students")
    assert page.earned(Total(11.5, 18.0, 1)) == "11.5 of 18"


def test_lists_read_as_in_a_sentence():
    """One, two, many, and more than there is room for."""
    assert page.listed([]) == ""
    assert page.listed(["A"]) == "A"
    assert page.listed(["A", "B", "C"]) == "A, B and C"
    assert page.listed(["A", "B", "C", "D"], most=3) == "A, B and 2 more"


def test_section_names_lesson_and_heading():
    """The lesson's number comes from its folder, with or without the folders above it."""
    expected = "Lesson 05, section “Tolerance: ohms to degrees”"
    assert page.section("05-resistance: Tolerance: ohms to degrees") == expected
    assert page.section("course/05-resistance: Tolerance: ohms to degrees") == expected
    assert page.section("ask your instructor") == "ask your instructor"


def test_fragments_become_sentences():
    """A capital and a full stop, except where a formula begins or a stop is there."""
    assert page.sentence("add the air") == "Add the air."
    assert page.sentence("a difference is halved") == "A difference is halved."
    assert page.sentence("t = tsat(p)") == "t = tsat(p)."
    assert page.sentence("Plug out!") == "Plug out!"
    assert page.sentence("") == ""


def test_unfit_characters_are_replaced():
    """Controls and halves of characters are replaced; line ends stay; the page can be written."""
    assert page.tidy("a\x00b\ud800c\n\td") == "a�b�c\n\td"
    assert page.tidy(3) == 3
    page.tidy("\udfff").encode("utf-8")


def test_long_text_is_cut():
    """A cut text says so by an ellipsis."""
    assert page.shorten("abc", 3) == "abc"
    assert page.shorten("abcd", 3) == "ab…"


def test_every_outcome_has_its_own_words_and_a_sign():
    """Nothing is told by colour: words differ for each outcome."""
    words = [word for _, word in page.OUTCOMES.values()]
    assert len(set(words)) == len(words)
    assert all(sign.strip() for sign, _ in page.OUTCOMES.values())
    assert set(SHARES) <= set(page.OUTCOMES)


@pytest.mark.parametrize("template", ["feedback.html", "class_report.html"])
def test_a_forgotten_value_is_an_error_and_no_blank(template):
    """A template that is not given what it needs fails in a test, not on a student's page."""
    with pytest.raises(Exception, match="undefined"):
        page.render(template)
