"""The feedback page: everything a student needs, nothing that is not theirs, nothing active."""

from dataclasses import replace
from html.parser import HTMLParser

import pytest
from coldbench.grading import feedback
from coldbench.grading.results import HandIn
from coldbench.grading.student_words import GENERAL
from coldbench.homework.declare import Homework
from grading.invented_marks import IDEAS, SENTENCE, hand_in, homework, mark
from hypothesis import given
from hypothesis import strategies as some

TROUBLE = "The cell of question 01.5 is missing and counts as not answered. Ask the student why."
ALL = [
    mark("01.1", "wrong_idea", 0.25, ("gauge_as_absolute",)),
    mark("01.2", "wrong_idea", 0.25, ("gauge_as_absolute", "vacuum_as_pressure_above")),
    mark("01.3", "right", 1.0),
    mark("01.4", "slip", 0.5),
    mark("01.5", "not_answered"),
    mark("01.6", "not_understood"),
    mark("01.8", "by_hand"),
    mark("01.9", "nearly", 0.5),
]


class _Text(HTMLParser):
    """The words of a page as a person reads them, and its tags."""

    def __init__(self):
        super().__init__()
        self.words, self.tags, self._quiet = [], [], False

    def handle_starttag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))
        self._quiet = tag == "style"
        self._part(tag)

    def handle_endtag(self, tag):
        self._part(tag)

    def _part(self, tag):
        if tag not in ("bdi", "span", "strong", "a"):
            self.words.append(" ")

    def handle_data(self, data):
        if not self._quiet:
            self.words.append(data)


def read(html: str) -> tuple[str, list]:
    parser = _Text()
    parser.feed(html)
    return " ".join("".join(parser.words).split()), parser.tags


def page(*marks, **parts) -> str:
    return feedback.page(HandIn("s01", "Ada Birch", "01", list(marks), **parts), homework("01"), IDEAS)


def test_every_question_tells_answer_expectation_reason_section_and_worked_answer():
    """A known wrong idea is met by its reason, and by the way back."""
    words, _ = read(page(*ALL))
    assert "01.1 Reading an R-134a gauge ◇ A wrong idea · 0.5 of 2 points" in words
    assert "You answered −37.4 °F Expected 3.0 °F, give or take 1 °F (half a psi on the dial)" in words
    assert (
        "The idea behind it Your answer follows from the idea “The number on the gauge is the whole" in words
    )
    assert "Read again Lesson 01, section “Where zero is: gauge, absolute, vacuum”" in words
    assert "Worked answer, with your numbers Your gauge shows 8 psig." in words


def test_why_an_answer_was_not_understood_is_said_once():
    """The label says what follows, and the reason does not say it again."""
    words, _ = read(page(*ALL))
    assert "Why not understood “8 psi” may be gauge or absolute." in words


def test_numbers_of_the_course_have_a_true_minus():
    """What the course says has it; what was typed stays as it was typed."""
    told = replace(mark("01.1", "wrong"), answered="-5 °F", worked="It boils at -3.2 °F.")
    words, _ = read(page(told))
    assert "You answered -5 °F" in words
    assert "It boils at −3.2 °F." in words


def test_total_leaves_waiting_points_open():
    """What is still to be read by hand is neither lost nor counted."""
    words, _ = read(page(*ALL))
    assert "5.5 of 15 points; up to 3 more to come from your instructor." in words
    assert "Waiting for your instructor · – of 3 points" in words
    assert SENTENCE in words


def test_points_given_by_hand_are_shown_with_the_comment():
    """Once given, points and comment of the instructor stand there, and what earned full points."""
    words, _ = read(page(mark("01.8", "by_hand", 2 / 3, comment="Say also who may open it.", waiting=False)))
    assert "Read by your instructor · 2 of 3 points" in words
    assert "Full points for the right fact, the right reason" in words
    assert "Your instructor writes Say also who may open it." in words
    assert "more to come" not in words


def test_a_right_answer_is_not_sent_back_to_the_lesson():
    """Who is right is told so once, and not to read again."""
    words, _ = read(page(mark("01.3", "right", 1.0)))
    assert "● Right · 2 of 2 points" in words
    assert "Read again" not in words
    assert "In short" not in words


def test_the_safety_of_an_idea_and_of_the_homework_is_shown():
    """Cautions stand where they apply."""
    words, _ = read(page(mark("01.2", "wrong_idea", 0.25, ("vacuum_as_pressure_above",))))
    assert "Take care: R-600a and R-290: gauges only by a licensed person" in words
    assert "Take care: On R-600a gauges are for a licensed person" in words


def test_notes_are_kind_and_whose_numbers_fit_is_not_told():
    """Late, another edition, a trouble: said plainly; the instructor's suspicion never."""
    words, _ = read(
        page(*ALL, late=True, edition_ok=False, troubles=[TROUBLE, "Ask s17."], fits_student="s17")
    )
    assert feedback.LATE in words
    assert feedback.OTHER_EDITION in words
    assert "it is no blame" in words
    assert "The cell of question 01.5 is missing from your notebook" in words
    assert GENERAL in words
    assert "s17" not in words and "Ask the student" not in words


def test_a_dropped_question_counts_for_nobody():
    """No points beside it, nothing to read again, and the opening does not begin with it."""
    dropped = mark("01.1", "wrong_idea", 0.0, ("gauge_as_absolute",), points=0.0, out_of=0.0)
    words, _ = read(page(dropped, mark("01.3", "right", 1.0)))
    assert "× Counts for nobody – 01.3" in words
    assert "of 0" not in words
    assert "Everything that is marked so far is right." in words
    assert "Read again" not in words


def test_right_answers_that_came_late_are_right():
    """Points are lost for coming late, and nobody is sent back to the lesson for it."""
    words, _ = read(page(mark("01.3", "right", 0.9), late=True))
    assert "1.8 of 2 points" in words
    assert "Everything that is marked so far is right." in words
    assert "Read again" not in words


def test_what_coming_late_cost_is_said_in_place_of_the_plain_note():
    """Where coming late has a price, the page says the price."""
    words, _ = read(page(*ALL, late=True, notes=["It came late: 2 days, 10 % of its points each."]))
    assert "10 % of its points each." in words
    assert feedback.LATE not in words


@pytest.mark.parametrize(
    ("marks", "opening"),
    [
        ([mark("01.5", "not_answered")], "No answer reached us."),
        ([], "No answer reached us."),
        ([mark("01.3", "right", 1.0)], "Everything that is marked so far is right."),
        (ALL[:1], "Begin with question 01.1:"),
        (ALL[:2], "Begin with questions 01.1 and 01.2:"),
        ([mark("01.4", "wrong")], "Look first at the questions that lost points"),
    ],
)
def test_opening_says_where_to_begin(marks, opening):
    """One sentence for each way it can have gone."""
    assert opening in read(page(*marks))[0]


def test_outcomes_are_told_by_words():
    """Every outcome has its words beside its sign."""
    words, _ = read(page(*ALL))
    for word in ("A wrong idea", "Right", "A slip", "Not answered", "Not understood", "Nearly right"):
        assert word in words


def test_page_stands_alone():
    """No script, no address to load from, a policy that forbids both, headings in order, heads with scope."""
    html = page(*ALL)
    _, tags = read(html)
    names = [name for name, _ in tags]
    assert not {"script", "link", "img", "iframe", "object"} & set(names)
    assert ("default-src 'none'; style-src 'unsafe-inline'; img-src data:") in html
    assert not any(name.startswith("on") or name in ("src", "style") for _, given in tags for name in given)
    assert all(parts["href"].startswith("#") for _, parts in tags if "href" in parts)
    assert names.count("h1") == 1
    assert all("scope" in parts for name, parts in tags if name == "th")
    identities = [parts["id"] for _, parts in tags if "id" in parts]
    assert len(set(identities)) == len(identities)
    assert {parts["href"][1:] for _, parts in tags if "href" in parts} <= set(identities)


def test_the_same_marks_give_the_same_page():
    """Nothing on the page depends on when it was made."""
    assert page(*ALL) == page(*ALL)


@given(
    some.text(max_size=60), some.text(max_size=60), some.sampled_from(["<script>", "</dd>", "&lt;", "\u202e"])
)
def test_whatever_was_typed_stays_text(name, answer, hostile):
    """Any name and answer leave the page's tags as they are with plain ones, and can be written."""
    plain = page(mark("01.1", "wrong", answered="x"))
    own = mark(
        "01.1", "wrong", answered=f"x{answer}{hostile}", comment=f"Expected: 3.0 °F. {hostile}{answer}"
    )
    html = feedback.page(HandIn("s01", name + hostile, "01", [own]), homework("01"), IDEAS)
    html.encode("utf-8")
    assert read(html)[1] == read(plain)[1]


COMMENT = some.text(alphabet="ab .():", max_size=40)


@given(before=COMMENT, reason=COMMENT, after=COMMENT)
def test_parting_a_comment_leaves_nothing_out(before, reason, after):
    """Whatever the comment, every letter of it is on the page: with what was expected or with the reasons."""
    comment = f"{before}Expected: 3.0 °F, give or take 1 °F ({reason}). {after}"
    expected, why = feedback.split_comment(mark("01.1", "wrong", comment=comment))
    assert expected.startswith("3.0 °F")
    shown = why if why == comment else f"{expected}{why}"
    assert all(shown.count(letter) == comment.count(letter) for letter in "ab()°")


def test_a_reason_with_a_full_stop_stays_whole():
    """A decimal point or a stop within the brackets does not end the expectation."""
    tricky = mark("01.1", "wrong", comment="So. Expected: 3.0 °F (about 0.5. or so). Then this.")
    assert feedback.split_comment(tricky) == ("3.0 °F (about 0.5. or so)", "So. Then this.")


def test_questions_and_ideas_that_are_no_longer_known_do_not_stop_the_page():
    """An older record, marked before a question was renamed, still gives a page."""
    marks = [
        mark("01.1", "wrong_idea", 0.25, ("gauge_as_absolute",)),
        mark("01.8", "by_hand", 1.0, comment="", waiting=False),
    ]
    words, _ = read(feedback.page(HandIn("s01", "Ada", "01", marks), Homework("01", "t", "l", "", ""), {}))
    assert "01.1 ◇ A wrong idea" in words
    assert "Your instructor writes" not in words


def test_a_whole_invented_hand_in_is_written():
    """Every hand-in of the invented class gives a page with its total."""
    words, _ = read(feedback.page(replace(hand_in("s03", "05"), late=True), homework("05"), IDEAS))
    assert "Homework 05: Resistance tells temperature Feedback for Cleo Dune" in words
