"""Looking further into a class: the lists hold what the report says, and reading changes nothing."""

import csv
import io

import coldbench.grading.box as box
import pytest
from coldbench.errors import CannotStart
from coldbench.grading import class_report, evening, idea_history, statistics
from coldbench.grading.look import OpenClass, open_class
from grading import invented_marks
from grading.invented_marks import IDEAS, ROSTER
from grading.small_course import fill_in, hand_in, make_class, make_course, right

LOOK = OpenClass(invented_marks.invented_class(), IDEAS)


def table(name: str) -> list[dict]:
    return list(csv.DictReader(io.StringIO(class_report.tables(LOOK.results, IDEAS)[name])))


@pytest.fixture
def marked(tmp_path, monkeypatch):
    """A small class, marked: its folder and the project's."""
    monkeypatch.setattr(box, "find_places", lambda: [])
    course = make_course(tmp_path / "course")
    folder = make_class(tmp_path / "class")
    (tmp_path / "in").mkdir()
    hand_in(tmp_path / "in", "s07/homework-05.ipynb", fill_in(course, "s07", right(course, "s07")))
    evening.mark(tmp_path / "in", folder, course, lambda line: None)
    return folder, course


def test_a_marked_class_is_opened_and_left_as_it_is(marked):
    """Marks as in marks.csv, troubles as told; no file is written or changed."""
    folder, course = marked

    def files():
        return {p: (p.read_bytes(), p.stat().st_mtime_ns) for p in folder.rglob("*") if p.is_file()}

    before = files()
    look = open_class(str(folder), str(course))
    assert [(one.question, one.outcome) for one in look.marks] == [
        ("05.1", "right"),
        ("05.2", "right"),
        ("05.3", "right"),
        ("05.4", "by_hand"),
    ]
    with (folder / "marks.csv").open(encoding="utf-8", newline="") as file:
        assert [float(row["points"]) for row in csv.DictReader(file)] == [one.points for one in look.marks]
    assert look.marks[3].waiting and look.totals[0].waiting == 1
    assert any("nothing could be marked" in one.sentence for one in look.troubles)
    assert files() == before


def test_only_a_marked_class_can_be_opened(tmp_path):
    """A sentence says what to do first."""
    with pytest.raises(CannotStart, match="Nothing was marked"):
        open_class(tmp_path)


def test_without_a_project_folder_it_looks_where_the_package_lies(marked):
    """The project's own homework 05 has these questions, too."""
    look = open_class(marked[0])
    assert look.results.homeworks[0].title == "Resistance tells temperature"


def test_questions_and_ideas_are_those_of_the_report():
    """The same figures as in the report's tables."""
    for row, question in zip(table("questions.csv"), LOOK.questions, strict=True):
        assert row["question"] == question.question
        assert row["facility"] == class_report._figure(question.facility)
        assert row["discrimination"] == class_report._figure(question.discrimination)
        assert len(row["look_again"].split()) == len(question.look_again)
    for row, idea in zip(table("wrong-ideas.csv"), LOOK.ideas, strict=True):
        assert (row["wrong_idea"], row["sentence"]) == (idea.id, idea.sentence)
        assert int(row["students"]) == len(idea.students)
        assert idea.still_there + idea.gone + idea.not_asked_again == len(idea.students)


def test_students_totals_and_history_are_whole():
    """Everybody, every hand-in, every holder."""
    assert [student.name for student in LOOK.students] == list(ROSTER.values())
    assert len(LOOK.totals) == len(LOOK.results.hand_ins)
    assert LOOK.totals[0].share == statistics.total(LOOK.results.hand_ins[0]).share
    assert [one.student for one in LOOK.totals if one.fits_student] == ["s18"]
    assert LOOK.history == idea_history.holdings(LOOK.results)
    assert len(LOOK.marks) == sum(len(each.marks) for each in LOOK.results.hand_ins)


def test_troubles_name_whose_they_are():
    """Those of files belong to nobody."""
    assert LOOK.troubles[0][:2] == ("", "")
    assert ("s11", "01") in [one[:2] for one in LOOK.troubles]


def test_an_idea_that_left_the_catalogue_has_no_sentence():
    """Its id still stands."""
    look = OpenClass(LOOK.results, {})
    assert {idea.sentence for idea in look.ideas} == {""}
    assert all(idea.id for idea in look.ideas)
