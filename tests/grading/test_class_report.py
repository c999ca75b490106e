"""The class report: one page that says what to do, the details behind it, and the same as tables."""

import csv
import io
from dataclasses import replace
from itertools import pairwise

import pytest
from coldbench.grading import class_report
from coldbench.grading.results import ClassResults, HandIn
from grading import invented_marks
from grading.invented_marks import IDEAS, ROSTER, hand_in, homework, mark
from grading.test_feedback import read

CLASS = invented_marks.invented_class()


@pytest.fixture(scope="module")
def words():
    return read(class_report.page(CLASS, IDEAS))[0]


def rows(text: str) -> list[dict]:
    return list(csv.DictReader(io.StringIO(text)))


def test_summary_names_what_to_show_and_why(words):
    """Idea, how many hold it, what to show at the bench, what holds, its caution."""
    assert "“A warmer sensor has more ohms.” 13 of 24 students · questions 05.2, 05.6" in words
    assert "Show at the bench Hold a sensor in your hand and watch the meter fall." in words
    assert "What holds These sensors lose ohms as they warm up." in words
    assert "Take care: Plug out before you measure ohms." in words


def test_summary_names_who_needs_a_word(words):
    """Missing, slipping with both shares, low, troubled."""
    assert "Homework 05 missing Ines Jay and Wim Yarrow" in words
    assert "Gita Holm (100 % → 40 %)" in words
    assert "Trouble with a file Kaja Lund, Dov Elm and Tara Thorn" in words


def test_summary_names_the_bench_sheet_and_doubtful_questions(words):
    """Where the sheet lies, and which question itself may be at fault, in a few words."""
    assert "Bench sheet course/05-resistance-tells-temperature/bench-sheet.html" in words
    reasons = "low discrimination: good students did hardly better; ambiguous? wrong answers are alike"
    first = f"05.1 From ohms to the box temperature ({reasons})"
    assert f"Here the question itself may be at fault: {first}" in words
    assert "05.1 From ohms to the box temperature. Those who did well elsewhere did hardly better" in words


def test_what_became_of_ideas_is_told_with_names():
    """Still there, gone, not asked again, and what only the latest homework showed; and in the first page."""
    held = ("gauge_as_absolute",)
    later = homework("05")
    later.questions["05.1"].wrong("gauge_as_absolute", 0.0)
    first = [
        HandIn(s, ROSTER[s], "01", [mark("01.1", "wrong_idea", 0.25, held)]) for s in ("s01", "s02", "s03")
    ]
    second = [
        HandIn("s01", ROSTER["s01"], "05", [mark("05.1", "wrong_idea", 0.25, held)]),
        HandIn("s02", ROSTER["s02"], "05", [mark("05.1", "right", 1.0)]),
        HandIn("s04", ROSTER["s04"], "05", [mark("05.1", "wrong_idea", 0.25, held)]),
    ]
    roster = {student: ROSTER[student] for student in ("s01", "s02", "s03", "s04")}
    results = ClassResults([homework("01"), later], first + second, roster)
    words, _ = read(class_report.page(results, IDEAS))
    assert "Still there: Ada Birch Gone: Ben Cove Not asked again: Cleo Dune New in 05: Dov Elm" in words
    assert "Holds an idea still Ada Birch (“The number on the gauge is the whole pressure.”)" in words
    assert "Who holds it Ada Birch, Cleo Dune and Dov Elm (still: Ada Birch)" in words
    assert "3 of 4 students, 1 still after an earlier homework" in words
    assert "Ben Cove 25 % 100 % Cleo Dune" in words
    assert "The number on the gauge is the whole pressure. Still there." in words
    hidden, _ = read(class_report.page(results, IDEAS, names=False))
    assert "Still there: 1 student Gone: 1 student" in hidden
    assert "3 of 4 students, 1 still after an earlier homework" in hidden
    files = class_report.tables(results, IDEAS)
    row = rows(files["wrong-ideas.csv"])[0]
    assert (row["still_there"], row["gone"], row["not_asked_again"]) == ("1", "1", "2")
    assert [row["now"] for row in rows(files["idea-history.csv"])] == [
        "still there",
        "gone",
        "not asked again",
        "not asked again",
    ]


def test_details_tell_questions_ideas_and_marks(words):
    """Figures as a table and a picture, ideas that could not be told apart, the matrix."""
    assert "05.1: facility 50 %, discrimination 0.10." in words
    assert "05.1 From ohms to the box temperature 50 % 0.10 look again" in words
    assert "These answers follow from more than one idea, so nobody is said to hold either." in words
    assert "Ada Birch ◐1 ◇0.5 ◇0.5 ◐1.5 ●2 ●2 … ●2 9.5 of 15" in words


def test_another_students_numbers_are_no_verdict(words):
    """Who fits whose numbers is told with the other explanations."""
    assert "A reason to ask, not a verdict" in words
    assert "Sami Stone, homework 05: fits the numbers of Edda Ford" in words


def test_troubles_are_told_with_what_to_do(words):
    """Troubles of hand-ins and of files that belong to nobody."""
    assert "“old.zip” could not be opened." in words
    assert "Tara Thorn 05 The cell of question 05.2 was deleted" in words


def test_hidden_names_leave_single_students_out():
    """No name, number, trouble or suspicion; rows of the matrix go by total, not by name."""
    html = class_report.page(CLASS, IDEAS, names=False)
    words, _ = read(html)
    for student, name in ROSTER.items():
        assert name not in html
        assert student not in words.split()
    assert "old.zip" not in html
    assert "Hand-in 1 " in words
    assert "Names are hidden" in words
    totals = [row["total"].share for row in _matrix_of(html_names=False)]
    assert totals == sorted(totals, reverse=True)


def _matrix_of(html_names: bool) -> list[dict]:
    called = class_report._Names(ROSTER, hidden=not html_names)
    return class_report._homework(CLASS, homework("01"), IDEAS, called)["matrix"]


def test_a_dropped_question_counts_for_nobody():
    """In the table of questions and in the matrix."""
    dropped = replace(mark("01.1", "wrong"), points=0.0, out_of=0.0)
    one = HandIn("s01", "Ada Birch", "01", [dropped, mark("01.3", "right", 1.0)])
    words, _ = read(class_report.page(ClassResults([homework("01")], [one], ROSTER), IDEAS))
    assert "01.1 Reading an R-134a gauge – – counts for nobody" in words
    assert "Ada Birch × – ●2" in words


def test_small_class_has_no_discrimination_and_says_so():
    """Seven hand-ins: a dash, and the reason."""
    few = ClassResults([homework("01")], [hand_in(student, "01") for student in list(ROSTER)[:7]], ROSTER)
    words, _ = read(class_report.page(few, IDEAS))
    assert "Discrimination is left out: 7 hand-ins cannot tell it (at least 8)." in words
    assert "discrimination –." in words


def test_sentences_read_by_hand_join_the_figures():
    """Once read, a sentence has a facility; before, it waits."""
    read_now = [
        replace(
            each,
            marks=[
                replace(m, points=1.5, comment="", waiting=False) if m.outcome == "by_hand" else m
                for m in each.marks
            ],
        )
        for each in CLASS.hand_ins
    ]
    words, _ = read(class_report.page(replace(CLASS, hand_ins=read_now), IDEAS))
    assert "01.8 Air in, gas out 50 % – 23 answers read by hand" in words
    assert "to read by hand" not in words


def test_an_empty_class_has_a_page():
    """No homework, nobody handed in, and nothing to show: sentences, no failure."""
    words, _ = read(class_report.page(ClassResults([], [], {}), {}))
    assert "nothing needs showing again" in words
    words, _ = read(class_report.page(ClassResults([homework("01")], [], ROSTER), {}))
    assert "Homework 01: 0 handed in" in words


def test_hard_questions_are_shown_where_no_idea_is():
    """A question with no idea behind it is worked through at the board."""
    results = ClassResults(
        [homework("01")], [replace(hand_in("s01", "01"), marks=[mark("01.4", "wrong")])], ROSTER
    )
    assert "Question 01.4: Superheat Hard: 0 % of the points" in read(class_report.page(results, IDEAS))[0]


def test_strangers_namesakes_and_unknown_ideas():
    """A student off the roster keeps a name; two of one name get their numbers; an id stands for its idea."""
    roster = {"s01": "Ada Birch", "s02": "Ada Birch"}
    held = mark("01.1", "wrong", 0.25, wrong_ideas=("some_new_idea",))
    ones = [replace(hand_in(student, "01"), marks=[held]) for student in ("s01", "s02", "s03")]
    words, _ = read(class_report.page(ClassResults([homework("01")], ones, roster), {}))
    assert "“some new idea”" in words
    assert "Ada Birch (s01), Ada Birch (s02) and Cleo Dune" in words


def test_page_stands_alone_and_is_built_for_keyboard_and_reader():
    """No script, a policy, one first heading, heads with scope, named regions to scroll, a named picture."""
    html = class_report.page(CLASS, IDEAS)
    _, tags = read(html)
    names = [name for name, _ in tags]
    assert not {"script", "link", "img", "iframe", "object"} & set(names)
    assert "default-src 'none'" in html
    assert names.count("h1") == 1
    levels = [int(name[1]) for name in names if name in ("h1", "h2", "h3", "h4")]
    assert all(later - earlier <= 1 for earlier, later in pairwise(levels))
    assert all("scope" in parts for name, parts in tags if name == "th")
    regions = [parts for _, parts in tags if parts.get("role") == "region"]
    assert regions and all("tabindex" in each for each in regions)
    assert all("aria-label" in each or "aria-labelledby" in each for each in regions)
    assert names.count("svg") == names.count("desc") == 2
    identities = [parts["id"] for _, parts in tags if "id" in parts]
    assert len(set(identities)) == len(identities)
    assert {parts["href"][1:] for _, parts in tags if "href" in parts} <= set(identities)


def test_tables_hold_the_same_figures():
    """Questions, ideas and students as CSV, with heads."""
    files = class_report.tables(CLASS, IDEAS)
    questions = {row["question"]: row for row in rows(files["questions.csv"])}
    assert questions["05.1"]["facility"] == "0.500"
    assert questions["01.8"]["discrimination"] == ""
    assert int(questions["05.1"]["wrong_idea"]) == 6
    idea = rows(files["wrong-ideas.csv"])[0]
    assert (idea["wrong_idea"], idea["students"]) == ("ohms_rise_with_temperature", "13")
    assert len(idea["held_by"].split()) == 13
    assert questions["05.1"]["look_again"].split() == ["weak", "together"]
    gradebook = rows(files["gradebook.csv"])
    assert list(gradebook[0]) == ["student", "homework", "points", "out_of", "percent", "late"]
    assert gradebook[0] == {
        "student": "s01",
        "homework": "01",
        "points": "9.5",
        "out_of": "15",
        "percent": "63.3",
        "late": "no",
    }
    assert [row["student"] for row in gradebook if row["late"] == "yes"] == ["s20"]
    students = rows(files["students.csv"])
    assert len(students) == 2 * len(ROSTER)
    assert [row["student"] for row in students if row["handed_in"] == "no"] == ["s16", "s09", "s22"]


def test_tables_without_names_name_nobody():
    """The table of students is left out, and so is who holds an idea."""
    files = class_report.tables(CLASS, IDEAS, names=False)
    assert set(files) == {"questions.csv", "wrong-ideas.csv"}
    assert "held_by" not in files["wrong-ideas.csv"]
    assert "s01" not in files["wrong-ideas.csv"]


@pytest.mark.parametrize("name", ["=1+1", "+1 2", "-a", "@a", "\ta"])
def test_a_spreadsheet_takes_no_name_for_a_formula(name):
    """A text that begins like a formula gets an apostrophe; a negative number stays a number."""
    results = ClassResults([homework("01")], [], {"s01": name})
    assert rows(class_report.tables(results, IDEAS)["students.csv"])[0]["name"] == f"'{name}"
    assert class_report._plain("-0.120") == "-0.120"


def test_half_characters_can_be_written():
    """A name with half of a character does not stop the class."""
    results = ClassResults([homework("01")], [], {"s01": "A\ud800"})
    class_report.page(results, IDEAS).encode("utf-8")
    class_report.tables(results, IDEAS)["students.csv"].encode("utf-8")


def test_the_page_names_the_tables_that_lie_beside_it(words):
    """Every table, and the page without names; where names are hidden neither is mentioned."""
    assert tuple(class_report.tables(CLASS, IDEAS)) == class_report.TABLES
    assert all(name in words for name in (*class_report.TABLES, class_report.WITHOUT_NAMES))
    assert "students.csv" not in class_report.page(CLASS, IDEAS, names=False)
