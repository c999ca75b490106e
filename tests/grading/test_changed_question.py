"""A question that changed after it was marked: who is marked otherwise, and why, before a student sees it."""

import csv
import json
import os
import shutil

import pytest
from coldbench.grading.decide import Desk
from grading.small_class import NAME, SmallClass, as_in_table, explained, read_only
from grading.small_course import make_course


@pytest.fixture(scope="module")
def one_course(tmp_path_factory):
    return make_course(tmp_path_factory.mktemp("course"))


@pytest.fixture
def small(tmp_path, one_course, monkeypatch):
    """A marked class whose s08 chose B; its course is a copy that a test may change."""
    read_only(monkeypatch)
    course = shutil.copytree(one_course, tmp_path / "course")
    small = SmallClass(tmp_path, course)
    small.hand_in("s07")
    small.hand_in("s08", question_3="B")
    small.run()
    return small


def change(small, old, new):
    """Edit the declaration, as an instructor would."""
    path = small.course / "solutions" / NAME / "questions.py"
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")


def table(small):
    with (small.folder / "report" / "changes.csv").open(encoding="utf-8") as file:
        return list(csv.DictReader(file))


SLIP = 'drop.slip("none", "Down.")(lambda numbers, earlier: numbers.start)'
KEY = 'pick.key(lambda numbers, earlier: "A")', 'pick.key(lambda numbers, earlier: "B")'


def test_a_changed_key_waits_for_release(small):
    """Both marks are listed with the reason; marks.csv has them, the students' pages not before release."""
    pages = small.page("s07"), small.page("s08")
    change(small, *KEY)
    assert small.run() == 1
    assert "2 marks changed because a question changed:" in small.said
    for whose, points in (
        ("Mia Example (s07)", "1 of 1 (right) → 0 of 1 (wrong)"),
        ("Jörg Sample (s08)", "0 of 1 (wrong) → 1 of 1 (right)"),
    ):
        (line,) = (line for line in small.said.splitlines() if whose in line and "05.3" in line)
        assert points in line
        assert "Why: expected is B (valve), before A (fan)." in line
    assert [(row["student"], row["points_before"], row["points"]) for row in table(small)] == [
        ("s07", "1", "0"),
        ("s08", "0", "1"),
    ]
    assert (small.points("s07", "05.3"), small.points("s08", "05.3")) == ((0, 1), (1, 1))
    assert (small.page("s07"), small.page("s08")) == pages
    assert explained(small.log()) == as_in_table(small)
    assert Desk(small.folder, small.course, lambda line: None).drop("05.2") == 1
    assert Desk(small.folder, small.course, lambda line: None).undo() == 1
    assert Desk(small.folder, small.course, lambda line: None).release("5") == 0
    assert "B (valve)" in small.page("s07")
    assert table(small) == []
    assert small.run() == 1  # the student who handed nothing in is the trouble
    assert "because a question changed" not in small.said


def test_it_is_said_until_it_is_released_and_logged_once(small):
    """A second marking repeats the list; the log does not."""
    change(small, *KEY)
    small.run()
    said, entries = small.said, small.log()
    small.run()
    assert (small.said, small.log()) == (said, entries)


def test_a_change_taken_back_releases_the_pages(small):
    """The key as it was: nobody's mark is another, nothing waits, and the log tells both ways."""
    before = small.marks(), small.page("s07")
    change(small, *KEY)
    small.run()
    change(small, *reversed(KEY))
    small.run()
    assert "because a question changed" not in small.said
    assert (small.marks(), small.page("s07")) == before
    assert sum(entry.get("question") == "05.3" for entry in small.log()) == 6


@pytest.mark.parametrize(
    ("old", "new", "question", "moved", "why"),
    [
        ("points=1, kind=Choice", "points=4, kind=Choice", 3, 0, "the question counts 4 points, before 1"),
        ("numbers.start - 50 / 9)\ndrop.worked", "numbers.start - 5)\ndrop.worked", 1, 0, "expected is"),
        (
            'drop.wrong("up',
            'drop.slip("none", "Down.")(lambda n, e: n.start)\ndrop.wrong("up',
            1,
            10,
            "wrong ideas",
        ),
        ("within=0.2),\n)\ndrop", "within=0.7),\n)\ndrop", 1, 0.5, "give or take 0.7 °F"),
    ],
    ids=["points", "key", "slip", "tolerance"],
)
def test_what_about_the_question_changed_is_said(small, old, new, question, moved, why):
    """Points, key, a slip that is known now, tolerance: each named for whose mark is another."""
    record = json.loads((small.folder / "marks" / "s07" / "05.json").read_text(encoding="utf-8"))
    answer = float(record["answers"]["05.1"].removesuffix(" degF"))
    small.hand_in("s07", question_1=f"{answer + moved:g} degF")
    os.utime(small.hand_ins / "s07" / f"{NAME}.ipynb", (2e9, 2e9))
    small.run()
    change(small, old, new)
    small.run()
    lines = [line for line in small.said.splitlines() if line.startswith(f"  - 05.{question},")]
    assert any(why in line and "(s07)" in line for line in lines)


def test_a_new_question_and_one_that_is_gone(small):
    """Both are changes that wait; the log explains the marks all the same."""
    more = '\nhomework.question("05.5", title="More", points=1, kind=Choice({"A": "a", "B": "b"}),\n'
    more += '    wording="Which?", read_again="Why").key(lambda numbers, earlier: "A")\n'
    path = small.course / "solutions" / NAME / "questions.py"
    text = path.read_text(encoding="utf-8")
    path.write_text(text + more, encoding="utf-8")
    from coldbench.grading import release

    release.main([str(small.course)])
    small.run()
    assert "no mark → 0 of 1 (not answered)" in small.said
    assert "Why: the question is new in this homework." in small.said
    assert explained(small.log()) == as_in_table(small)
    path.write_text(text, encoding="utf-8")
    release.main([str(small.course)])
    small.run()
    assert explained(small.log()) == as_in_table(small)
    assert "05.5" not in {question for _, question in small.marks()}


def test_a_new_answer_is_no_changed_question(small):
    """Who hands in again sees the new mark at once."""
    small.hand_in("s08")
    os.utime(small.hand_ins / "s08" / f"{NAME}.ipynb", (2e9, 2e9))
    small.run()
    assert "because a question changed" not in small.said
    assert "0 of 1 (wrong) → 1 of 1 (right): Jörg Sample (s08). Why: the answer changed." in small.said
    assert small.points("s08", "05.3") == (1, 1)
    assert "B (valve)" not in small.page("s08")


def test_who_hands_in_again_while_a_change_waits(small):
    """The new answer's mark is shown; the other student's page still waits."""
    change(small, *KEY)
    small.run()
    small.hand_in("s08")
    os.utime(small.hand_ins / "s08" / f"{NAME}.ipynb", (2e9, 2e9))
    small.run()
    assert [row["student"] for row in table(small)] == ["s07"]
    assert explained(small.log()) == as_in_table(small)


def test_points_by_hand_while_a_change_waits(small):
    """They count at once, and the page waits on."""
    change(small, *KEY)
    small.run()
    small.give("s07", "05.3", 1.0)
    small.run()
    assert small.points("s07", "05.3") == (1, 1)
    assert {row["student"] for row in table(small)} == {"s07", "s08"}
    assert explained(small.log()) == as_in_table(small)


def test_building_on_other_answers_is_a_change_of_the_question(small):
    """Only ``uses`` changed: no answer did, so the mark waits, and the reason says on what it builds now."""
    record = json.loads((small.folder / "marks" / "s07" / "05.json").read_text(encoding="utf-8"))
    first, second = (float(record["answers"][f"05.{n}"].removesuffix(" degF")) for n in (1, 2))
    small.hand_in("s07", question_1=f"{first + 30:g} degF", question_2=f"{second + 30:g} degF")
    os.utime(small.hand_ins / "s07" / f"{NAME}.ipynb", (2e9, 2e9))
    small.run()
    assert small.marks()["s07", "05.2"]["outcome"] == "follow_through"
    page = small.page("s07")
    uses = '    uses=("05.1",),\n', 'lambda numbers, earlier: earlier["05.1"] - 50 / 9'
    change(small, uses[0], "")
    change(small, uses[1], "lambda numbers, earlier: numbers.start - 100 / 9")
    small.run()
    (line,) = (line for line in small.said.splitlines() if line.startswith("  - 05.2,") and "(s07)" in line)
    assert line.endswith("it builds on 05.1 no more.")
    assert "the answer changed" not in small.said
    assert small.page("s07") == page
    change(small, "numbers.start - 100 / 9", 'earlier["05.1"] - 50 / 9')
    change(small, "within=0.2),\n)\nagain", 'within=0.2),\n    uses=("05.1",),\n)\nagain')
    small.run()
    assert "because a question changed" not in small.said
    assert explained(small.log()) == as_in_table(small)


def test_many_changes_are_cut_short(small, monkeypatch):
    """A screen full of lines ends with where the rest is."""
    from coldbench.grading import evening

    monkeypatch.setattr(evening, "MOST_LINES", 1)
    change(small, *KEY)
    small.run()
    assert "  … and 1 lines more; log.jsonl in the class folder has every one." in small.said
