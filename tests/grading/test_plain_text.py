"""Words of strangers: one line, nothing that steers, and quoted so that they are nobody's but theirs."""

from coldbench.grading.plain_text import UNFIT, one_line, quoted
from hypothesis import given
from hypothesis import strategies as some


@given(some.text(some.characters()))
def test_one_line_is_one_line_that_steers_nothing(text):
    """Whatever came in: no line end, no control, and it can be written to a file."""
    line = one_line(text)
    assert len(line.splitlines()) <= 1
    assert not UNFIT.search(line)
    assert line.encode() is not None


def test_words_stay_as_they_are():
    """Ordinary writing of any alphabet is kept; escape codes and turned writing are not."""
    assert one_line("Größe 温度 🧊 “x”") == "Größe 温度 🧊 “x”"
    assert one_line("a\n  b\x1b[2J\u202ec") == "a b�[2J�c"


@given(some.text())
def test_a_quotation_cannot_be_ended_from_inside(text):
    """One mark at each end, none between, never longer than asked for."""
    words = quoted(text, longest=20)
    assert (words[0], words[-1]) == ("“", "”")
    assert not {"“", "”"} & set(words[1:-1])
    assert len(words) <= 22
