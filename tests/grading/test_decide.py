"""What the instructor decides after marking: each decision does what it says, is logged, can be undone."""

import os
import shlex
import shutil
from datetime import UTC, datetime

import pytest
from coldbench.errors import CannotStart
from coldbench.grading.decide import Desk
from grading.small_class import NAME, SmallClass, as_in_table, explained, read_only
from grading.small_course import make_course

DUE = datetime(2027, 3, 1, 18, tzinfo=UTC)


@pytest.fixture(scope="module")
def one_course(tmp_path_factory):
    return make_course(tmp_path_factory.mktemp("course"))


@pytest.fixture
def small(tmp_path, one_course, monkeypatch):
    """A class of two hand-ins, marked: s07 all right, s08 with a wrong choice."""
    read_only(monkeypatch)
    small = SmallClass(tmp_path, one_course)
    small.hand_in("s07")
    small.hand_in("s08", question_3="B")
    small.run()
    return small


@pytest.fixture
def late(small):
    """The same class, whose s08 came a day and a half late."""
    for student, hours in (("s07", -1), ("s08", 36)):
        seconds = DUE.timestamp() + 3600 * hours
        os.utime(small.hand_ins / student / f"{NAME}.ipynb", (seconds, seconds))
    shutil.rmtree(small.folder / "hand-ins")
    (small.folder / "due.csv").write_text(f"homework,due\n05,{DUE.isoformat()}\n")
    small.run()
    return small


def desk(small):
    lines = []
    desk = Desk(small.folder, small.course, lines.append)
    desk.lines = lines
    return desk


def everything(small):
    """Marks, pages, report and gradebook, to see that an undo brings all of it back."""
    pages = {student: small.page(student) for student in ("s07", "s08")}
    cells = [small.grade(student, f"05.{n}") for student in pages for n in (1, 2, 3, 4)]
    return small.marks(), pages, (small.folder / "report" / "class-report.html").read_text(), cells


def penalty(small, student):
    with small.open_gradebook() as book:
        return book.find_submission(NAME, student).late_submission_penalty


def test_late_is_flagged_and_costs_nothing_unless_it_is_said(late):
    """By default a word on the page; the points are those of the answers."""
    assert late.marks()["s08", "05.1"]["late"] == "yes"
    assert late.points("s08", "05.1") == (2, 2)
    assert "It came after the time it was due." in late.page("s08")


def test_what_coming_late_costs(late):
    """10 % for each day begun, in marks, page and gradebook; free days, the most, and the undo."""
    before = everything(late)
    desk(late).late("5", 10)
    assert late.points("s08", "05.1") == (1.6, 2)
    assert late.points("s07", "05.1") == (2, 2)
    assert "It came late: 20 % of the points are taken off for 2 days late." in late.page("s08")
    assert (penalty(late, "s08"), penalty(late, "s07")) == (0.8, 0.0)
    desk(late).late("05", 30, at_most=50, free_days=0)
    assert late.points("s08", "05.1") == (1, 2)
    desk(late).late("05", 30, free_days=1)
    assert late.points("s08", "05.1") == (1.4, 2)
    desk(late).late("05", 30, free_days=2)
    assert late.points("s08", "05.1") == (2, 2)
    for _ in range(4):
        desk(late).undo()
    assert everything(late) == before
    assert penalty(late, "s08") == 0.0


def test_an_extension(late):
    """One student's own due time: to the end of the day that was given; the undo brings back the first."""
    desk(late).late("05", 10)
    before = everything(late)
    extended = desk(late)
    extended.extend("S08", "05", "2027-03-03", "was ill")
    assert late.marks()["s08", "05.1"]["late"] == "no"
    assert late.points("s08", "05.1") == (2, 2)
    assert "Why: coming late costs nothing here." in "\n".join(extended.lines)
    desk(late).extend("s08", "05", "2027-03-02 18:00+00:00")
    assert late.points("s08", "05.1") == (1.8, 2)
    desk(late).undo(3)
    desk(late).undo(2)
    assert everything(late) == before


def test_a_dropped_question_counts_for_nobody(small):
    """No points and none to be had, in marks, pages and gradebook; undone, all is as before."""
    before = everything(small)
    desk(small).drop("05.3", "two answers\n are right.")
    for student in ("s07", "s08"):
        assert small.points(student, "05.3") == (0, 0)
        assert small.grade(student, "05.3") == (0, None, False, 0)
        page = small.page(student)
        assert "This question was dropped and counts for nobody: two answers are right." in page
    small.run()
    assert small.grade("s07", "05.3") == (0, None, False, 0)
    desk(small).undo()
    assert everything(small) == before


def test_a_dropped_sentence_waits_for_nobody(small):
    """It is not in the form any more; points that were given stay in the gradebook for the undo."""
    small.give("s07", "05.4", 2.0)
    desk(small).drop("05.4")
    assert small.points("s07", "05.4") == (0, 0)
    assert small.grade("s08", "05.4")[2] is False
    assert small.run() == 1
    assert "to read and mark by hand" not in small.said
    desk(small).undo()
    assert small.points("s07", "05.4") == (2, 3)
    assert small.grade("s08", "05.4")[2] is True


def totals_of_nbgrader(small, student):
    """Points and points to be had, as nbgrader's own pages and its exported tables have them."""
    with small.open_gradebook() as book:
        found = book.find_submission(NAME, student)
        return found.score, found.max_score


def test_points_by_hand_on_a_dropped_question_count_in_no_total(small):
    """Neither in ours nor in nbgrader's own; extra credit, points given meanwhile and the undo included."""
    small.give("s07", "05.4", 2.0)
    small.give("s08", "05.3", 1.0)
    with small.open_gradebook() as book:
        book.find_grade("question-05-3", NAME, NAME, "s08").extra_credit = 0.5
        book.find_grade("question-05-3", NAME, NAME, "s07").extra_credit = 0.25
        book.db.commit()
    small.run()
    before = small.marks(), totals_of_nbgrader(small, "s07"), totals_of_nbgrader(small, "s08")
    assert before[1:] == ((7.25, 8), (5.5, 8))
    desk(small).drop("05.3")
    desk(small).drop("05.4")
    assert totals_of_nbgrader(small, "s07") == (4, 4)
    assert totals_of_nbgrader(small, "s08") == (4, 4)
    small.run()
    assert totals_of_nbgrader(small, "s07") == (4, 4)
    assert small.grade("s07", "05.4")[1] == 2
    entries = [entry for entry in small.log() if "by hand" in entry.get("reason", "")]
    assert {entry["question"] for entry in entries} == {"05.3", "05.4"}
    assert all(entry["new"]["by_hand"] is not None for entry in entries)
    with small.open_gradebook() as book:
        book.find_grade("question-05-4", NAME, NAME, "s07").extra_credit = 0.0  # as the form does on a save
        book.db.commit()
    small.run()
    assert totals_of_nbgrader(small, "s07") == (4, 4)
    desk(small).undo()
    desk(small).undo()
    assert (small.marks(), totals_of_nbgrader(small, "s07"), totals_of_nbgrader(small, "s08")) == before


def test_what_coming_late_costs_says_nothing_about_questions(late):
    """Facility, discrimination and ideas are those of the answers, the same with and without the cost."""

    def figures():
        names = ("questions.csv", "wrong-ideas.csv")
        return [(late.folder / "report" / name).read_text(encoding="utf-8") for name in names]

    before, total = figures(), late.points("s08", "05.1")
    desk(late).late("5", 40)
    assert late.points("s08", "05.1") == (total[0] * 0.2, total[1])
    assert figures() == before


def test_a_regrade_request_is_open_until_points_are_given(small):
    """The question waits in the form and the points stand meanwhile; marking again does not close it."""
    before = everything(small)
    desk(small).regrade("s08", "05.3", "my valve moves air, too")
    assert small.grade("s08", "05.3")[:3] == (0, None, True)
    small.run()
    assert (
        "Jörg Sample (s08) asks to look at question 05.3 again: “my valve moves air, too”. Give its"
        in small.said
    )
    assert small.grade("s08", "05.3")[:3] == (0, None, True)
    small.give("s08", "05.3", 0.5)
    small.run()
    assert "asks to look" not in small.said
    assert "points were given by hand (change 1, asked to look again: my valve moves air, too)" in small.said
    assert small.points("s08", "05.3") == (0.5, 1)
    desk(small).undo(1)
    assert everything(small) == before


def test_points_given_before_stand_while_a_regrade_is_open(small):
    """Asking again takes nothing away."""
    small.give("s07", "05.4", 2.0, "Good.")
    desk(small).regrade("s07", "05.4", "I also named the drop")
    assert small.points("s07", "05.4") == (2, 3)
    small.run()
    assert small.points("s07", "05.4") == (2, 3)
    assert small.grade("s07", "05.4")[1:3] == (2, True)


def test_a_regrade_decided_at_once(small):
    """Points straight away, and the undo gives back those from before."""
    small.give("s08", "05.3", 0.5)
    desk(small).regrade("s08", "05.3", "agreed in class", points=1)
    assert small.points("s08", "05.3") == (1, 1)
    assert small.grade("s08", "05.3")[1:3] == (1, False)
    desk(small).undo()
    assert small.points("s08", "05.3") == (0.5, 1)


def test_everything_is_logged_and_nothing_is_rewritten(late):
    """After each step the log begins with what it held before, and explains the marks as they are."""
    steps = [
        lambda: desk(late).late("05", 10),
        lambda: desk(late).drop("05.3"),
        lambda: desk(late).extend("s08", "05", "2027-04-01"),
        lambda: late.give("s07", "05.4", 3.0),
        lambda: late.run(),
        lambda: desk(late).regrade("s08", "05.1", "please", points=0.5),
        lambda: desk(late).undo(2),
        lambda: (
            late.hand_in("s07", question_3="B")
            and os.utime(late.hand_ins / "s07" / f"{NAME}.ipynb", (2e9, 2e9))
        ),
        lambda: late.run(),
        lambda: desk(late).undo(),
        lambda: late.run(),
    ]
    log = late.folder / "log.jsonl"
    for step in steps:
        before = log.read_bytes()
        step()
        late.run()
        assert log.read_bytes().startswith(before)
        assert explained(late.log()) == as_in_table(late)
    kinds = [entry["kind"] for entry in late.log()]
    assert (kinds.count("change"), kinds.count("undo")) == (4, 2)


def test_the_line_that_takes_a_change_back_can_be_copied(small):
    """Python, command, folder and number come out of a shell whole, whatever the folder is called."""
    dropping = desk(small)
    dropping.drop("05.3")
    (line,) = [one.split("\n")[1] for one in dropping.lines if one.startswith("To take it back")]
    assert shlex.split(line)[1:] == [
        *("-m", "coldbench.command", "undo"),
        *("--class-folder", str(small.folder.resolve()), "1"),
    ]


def test_a_cost_of_coming_late_asks_for_the_due_time(late):
    """Without a due time the instructor is told so; with one nothing is said."""
    asked = desk(late)
    asked.late("05", 10)
    assert "due.csv" not in "".join(asked.lines)
    (late.folder / "due.csv").unlink()
    asked = desk(late)
    asked.late("05", 10)
    assert "due.csv does not say yet when homework 05 is due" in asked.lines[0]


def test_changes_are_listed(small):
    """In words, with their numbers, and which were undone."""
    empty = desk(small)
    empty.tell_changes()
    desk(small).drop("05.3", "unclear")
    desk(small).late("05", 10, at_most=50, free_days=2)
    desk(small).extend("s07", "05", "2027-03-01 18:00")
    desk(small).regrade("s07", "05.1", "why?", 1.5)
    desk(small).undo(1)
    listing = desk(small)
    assert listing.tell_changes() == 0
    assert empty.lines == ["Nothing was changed yet."]
    assert [line.split("  ", 2)[2] for line in (line.strip() for line in listing.lines)] == [
        "question 05.3 counts for nobody (unclear) [undone]",
        "coming late with homework 05 costs 10 % of the points a day after 2 free, at most 50 %",
        "s07 has until 2027-03-01 18:00 for homework 05",
        "s07 asks to look at question 05.1 again, decided: 1.5 points (why?)",
    ]


def test_what_cannot_be_decided_says_so(small, tmp_path):
    """Each a sentence that names what there is; nothing is logged."""
    before = small.log()
    refused = [
        (lambda: Desk(tmp_path / "other", small.course), "Nothing was marked"),
        (lambda: desk(small).extend("s55", "05", "2027-03-01"), "s55 is not in"),
        (lambda: desk(small).extend("!", "05", "2027-03-01"), "student number"),
        (lambda: desk(small).extend("s07", "09", "2027-03-01"), "no homework 09. There are: 05"),
        (lambda: desk(small).extend("s07", "05", "tomorrow"), "“tomorrow” is no date"),
        (lambda: desk(small).drop("05.9"), "no question 05.9. It has: 05.1, 05.2, 05.3, 05.4"),
        (lambda: desk(small).late("05", 110), "from 0 to 100"),
        (lambda: desk(small).regrade("s07", "05.1", "more", 3), "has 2 points; give 0 to 2"),
        (lambda: desk(small).regrade("s09", "05.1", "where?"), "Nothing of s09 with question 05.1"),
        (lambda: desk(small).undo(), "no change to undo"),
        (lambda: desk(small).release("09"), "no homework 09"),
    ]
    for attempt, words in refused:
        with pytest.raises(CannotStart, match=words):
            attempt()
    assert small.log() == before
    desk(small).drop("05.3")
    with pytest.raises(CannotStart, match=r"no change 7 to undo\. These can be undone: 1"):
        desk(small).undo(7)
