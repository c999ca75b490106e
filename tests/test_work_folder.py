"""The work folder: lessons arrive, a student's changes stay, nothing outside it is touched."""

import json
import os
from pathlib import Path

import pytest
from coldbench import __version__
from coldbench.errors import CannotStart
from coldbench.work_folder import RECORD, default_folder, prepare, student_files, write_whole
from hypothesis import given, settings
from hypothesis import strategies as st

LESSON = "course/01-pressure/01-pressure.ipynb"
NEW = f"01-pressure (new {__version__}).ipynb"


@pytest.fixture
def source(tmp_path):
    """A small course: a lesson, its notes for the instructor, an exercise, and things nobody hands out."""
    for inner, text in {
        LESSON: "lesson, first edition",
        "course/01-pressure/instructor-notes.md": "what to show",
        "course/01-pressure/pictures/class-report.png": "wrong ideas",
        "course/01-pressure/.ipynb_checkpoints/01-pressure.ipynb": "old",
        "course/01-pressure/__pycache__/x.pyc": "compiled",
        "exercises/homework-01/homework-01.ipynb": "homework",
        "solutions/homework-01/key.py": "key",
    }.items():
        write(tmp_path / "source" / inner, text)
    return tmp_path / "source"


@pytest.fixture
def work(tmp_path):
    return tmp_path / "wörk folder"


def write(path: Path, text: str) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text)


def everything(folder: Path) -> dict[str, str]:
    return {
        path.relative_to(folder).as_posix(): path.read_text()
        for path in folder.rglob("*")
        if path.is_file() and path.name != RECORD
    }


def bring(source, work) -> list[str]:
    said = []
    prepare(source, work, said.append)
    return said


def test_course_and_exercises_arrive(source, work):
    """A first start brings what students get, silently, and nothing else."""
    assert bring(source, work) == []
    assert everything(work) == {
        LESSON: "lesson, first edition",
        "exercises/homework-01/homework-01.ipynb": "homework",
    }
    assert set(student_files(source)) == set(everything(work))


def test_second_start_changes_nothing(source, work):
    """Starting again writes no file, the record neither."""
    bring(source, work)
    before = {path: path.stat().st_mtime_ns for path in work.rglob("*")}
    assert bring(source, work) == []
    assert before == {path: path.stat().st_mtime_ns for path in work.rglob("*")}


def test_unchanged_file_follows_the_course(source, work):
    """A lesson that the student did not change becomes the new one."""
    bring(source, work)
    write(source / LESSON, "second edition")
    assert len(bring(source, work)) == 1
    assert everything(work)[LESSON] == "second edition"


def test_changed_file_stays_and_the_new_one_lies_beside(source, work):
    """A lesson with the student's work in it is kept; the new one arrives beside it, once."""
    bring(source, work)
    write(work / LESSON, "my answers")
    assert bring(source, work) == []
    write(source / LESSON, "second edition")
    (said,) = bring(source, work)
    assert NEW in said
    assert bring(source, work) == []
    after = everything(work)
    assert after[LESSON] == "my answers"
    assert after[f"course/01-pressure/{NEW}"] == "second edition"
    assert len(after) == 3


def test_new_names_do_not_collide(source, work):
    """A third edition lies beside the second, even when the version has not moved."""
    bring(source, work)
    write(work / LESSON, "my answers")
    for text in ("second edition", "third edition"):
        write(source / LESSON, text)
        bring(source, work)
    after = everything(work)
    assert after[f"course/01-pressure/{NEW}"] == "second edition"
    assert after[f"course/01-pressure/01-pressure (new {__version__}, 2).ipynb"] == "third edition"
    assert after[LESSON] == "my answers"


def test_deleted_file_arrives_again(source, work):
    """A file that went missing comes back, and a sentence says so."""
    bring(source, work)
    (work / LESSON).unlink()
    (said,) = bring(source, work)
    assert "arrived again" in said
    assert LESSON in everything(work)


@pytest.mark.parametrize("record", ["", "{", "[]", '{"files": 3}'])
def test_lost_record_loses_no_work(source, work, record):
    """Without a readable record every file that differs counts as the student's."""
    bring(source, work)
    write(work / LESSON, "my answers")
    (work / RECORD).write_text(record)
    assert any("cannot be read" in sentence for sentence in bring(source, work))
    assert everything(work)[LESSON] == "my answers"
    assert json.loads((work / RECORD).read_text())["files"]


@pytest.mark.parametrize("step", ["course", "course/01-pressure", LESSON])
def test_links_in_the_work_folder_are_not_followed(source, work, tmp_path, step):
    """A link that leads out of the work folder is left alone, and so is what it leads to."""
    outside = tmp_path / "outside"
    outside.mkdir()
    work.mkdir()
    (work / step).parent.mkdir(parents=True, exist_ok=True)
    (work / step).symlink_to(outside if step != LESSON else outside / "file")
    assert any("left alone" in sentence for sentence in bring(source, work))
    assert list(outside.iterdir()) == []


@pytest.mark.parametrize("step", ["course", LESSON])
def test_something_else_in_the_way_is_left_alone(source, work, step):
    """A file where a folder should be, or a folder where a file should be, stays as it is."""
    if step == LESSON:
        (work / step).mkdir(parents=True)
    else:
        write(work / step, "a file of mine")
    assert any("left alone" in sentence for sentence in bring(source, work))
    assert (work / step).is_dir() == (step == LESSON)
    assert "exercises/homework-01/homework-01.ipynb" in everything(work)


@settings(max_examples=40, deadline=None)
@given(
    st.lists(
        st.tuples(st.sampled_from(["edition", "edit", "delete", "start"]), st.integers(0, 3)), max_size=12
    )
)
def test_no_text_of_the_student_is_ever_lost(tmp_path_factory, steps):
    """Whatever the order of editions, edits, deletions and starts, only the student changes their text."""
    folder = tmp_path_factory.mktemp("steps")
    source, work = folder / "source", folder / "work"
    write(source / LESSON, "edition 0")
    bring(source, work)
    mine = None
    for step, number in [*steps, ("start", 0)]:
        if step == "edition":
            write(source / LESSON, f"edition {number}")
        elif step == "edit":
            mine = f"mine {number}"
            write(work / LESSON, mine)
        elif step == "delete":
            mine = None
            (work / LESSON).unlink(missing_ok=True)
        else:
            bring(source, work)
        if mine:
            assert (work / LESSON).read_text() == mine
    newest = (source / LESSON).read_text()
    present = everything(work).values()
    assert newest in present or mine, "the newest edition is there, unless it had arrived and was changed"


def test_work_folder_inside_the_project_is_refused(source):
    """Nobody works in the clone, not through a link either."""
    for folder in (source, source / "course" / "mine"):
        with pytest.raises(CannotStart, match="lies inside"):
            prepare(source, folder)
    link = source.parent / "link"
    link.symlink_to(source)
    with pytest.raises(CannotStart, match="lies inside"):
        prepare(source, link / "mine")


def test_source_without_a_course_is_refused(tmp_path, work):
    """A wrong --source is answered before anything is written."""
    with pytest.raises(CannotStart, match="no folder “course”"):
        prepare(tmp_path, work)
    assert not work.exists()


def test_unusable_work_folder_is_refused(source, tmp_path):
    """A file where the work folder should be is no work folder."""
    write(tmp_path / "file", "")
    with pytest.raises(CannotStart, match="cannot be used"):
        prepare(source, tmp_path / "file")


def test_a_write_that_fails_leaves_the_old_file(tmp_path, monkeypatch):
    """A full disk in the middle of a write leaves the old file whole and nothing beside it."""
    write(tmp_path / "file", "old")

    def fail(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "replace", fail)
    with pytest.raises(OSError, match="No space"):
        write_whole(tmp_path / "file", b"new")
    assert everything(tmp_path) == {"file": "old"}


def test_default_folder(monkeypatch, tmp_path):
    """COLDBENCH_WORK chooses the folder; otherwise it lies in the home folder."""
    monkeypatch.setenv("COLDBENCH_WORK", str(tmp_path))
    assert default_folder() == tmp_path
    monkeypatch.delenv("COLDBENCH_WORK")
    assert default_folder() == Path.home() / "coldbench-work"
