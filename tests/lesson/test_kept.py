"""Kept work survives: restarts, broken files, full disks."""

import json
import os

import pytest
from coldbench.lesson import kept
from coldbench.lesson.kept import FILE_NAME, KeptWork, kept_work


def test_what_was_typed_is_there_for_the_next_kernel(tmp_path):
    """A second reader of the same folder finds the answer, letters and signs as typed."""
    KeptWork(tmp_path).keep("01-a", "−3 °F, naïve guess")
    assert KeptWork(tmp_path).answer("01-a") == "−3 °F, naïve guess"
    assert KeptWork(tmp_path).answer("01-b") is None


def test_nothing_is_written_before_something_is_typed(tmp_path):
    """Looking does not make a file."""
    assert KeptWork(tmp_path).answer("01-a") is None
    assert list(tmp_path.iterdir()) == []


def test_two_notebooks_of_one_folder_do_not_lose_each_others_answers(tmp_path):
    """Each keeps its own key; both are there afterwards."""
    one, other = KeptWork(tmp_path), KeptWork(tmp_path)
    one.keep("01-a", "cold")
    other.keep("01-b", "warm")
    one.keep("01-c", "hot")
    assert [one.answer(f"01-{letter}") for letter in "abc"] == ["cold", "warm", "hot"]


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"{",
        b"\xff\xfe\x00",
        b"[]",
        b"[" * 100_000,
        b'{"format": 2, "answers": {}}',
        b'{"format": 1, "answers": {"a": 1}}',
        b'{"format": 1, "answers": 3}',
    ],
)
def test_a_broken_file_is_set_aside_with_a_sentence_and_never_lost(tmp_path, content):
    """The broken bytes are still there under another name, and the new answer is kept."""
    (tmp_path / FILE_NAME).write_bytes(content)
    work = KeptWork(tmp_path)
    work.keep("01-a", "cold")
    assert (tmp_path / "kept-work-set-aside-1.json").read_bytes() == content
    assert "kept-work-set-aside-1.json" in work.trouble and work.trouble.endswith(".")
    assert work.answer("01-a") == "cold"


def test_a_second_broken_file_does_not_replace_the_first(tmp_path):
    """Set-aside files are numbered."""
    for content in ("one", "two"):
        (tmp_path / FILE_NAME).write_text(content)
        KeptWork(tmp_path).keep("01-a", "cold")
    assert (tmp_path / "kept-work-set-aside-1.json").read_text() == "one"
    assert (tmp_path / "kept-work-set-aside-2.json").read_text() == "two"


def test_a_full_disk_is_a_sentence_and_the_old_file_stays(tmp_path, monkeypatch):
    """When the new file cannot be put in place, the old answers are unharmed and no scrap is left."""
    work = KeptWork(tmp_path)
    work.keep("01-a", "cold")

    def full(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(kept.os, "fsync", full)
    work.keep("01-b", "warm")
    assert "could not be kept (No space left on device)" in work.trouble
    assert json.loads((tmp_path / FILE_NAME).read_text(encoding="utf-8"))["answers"] == {"01-a": "cold"}
    assert [path.name for path in tmp_path.iterdir()] == [FILE_NAME]


def test_a_file_that_can_neither_be_read_nor_moved_is_left_alone(tmp_path, monkeypatch):
    """Nothing is written over it, and the sentence says that the answer is not kept."""
    (tmp_path / FILE_NAME).write_text("broken")

    def locked(*_):
        raise OSError(13, "Permission denied")

    monkeypatch.setattr(kept.os, "replace", locked)
    work = KeptWork(tmp_path)
    work.keep("01-a", "cold")
    assert "not kept" in work.trouble
    assert (tmp_path / FILE_NAME).read_text() == "broken"


def test_a_file_that_cannot_be_opened_is_left_alone(tmp_path):
    """A folder in the file's place: a sentence, and nothing is overwritten."""
    (tmp_path / FILE_NAME).mkdir()
    work = KeptWork(tmp_path)
    work.keep("01-a", "cold")
    assert "cannot be opened" in work.trouble
    assert (tmp_path / FILE_NAME).is_dir()


def test_an_interrupted_write_leaves_the_old_answers(tmp_path, monkeypatch):
    """The file is only ever replaced as a whole: at the moment of replacing, the new one is complete."""
    work = KeptWork(tmp_path)
    work.keep("01-a", "cold")
    seen = []

    def watch(source, target, replace=os.replace):
        seen.append(
            (json.loads(source.read_text(encoding="utf-8")), json.loads(target.read_text(encoding="utf-8")))
        )
        replace(source, target)

    monkeypatch.setattr(kept.os, "replace", watch)
    work.keep("01-b", "warm")
    assert [set(file["answers"]) for file in seen[0]] == [{"01-a", "01-b"}, {"01-a"}]


def test_listeners_hear_what_is_kept_under_their_key(tmp_path):
    """Only their own key."""
    work, heard = KeptWork(tmp_path), []
    work.listen("01-a", heard.append)
    work.keep("01-a", "cold")
    work.keep("01-b", "warm")
    assert heard == ["cold"]


def test_one_folder_has_one_kept_work(tmp_path, monkeypatch):
    """So that a look back hears what a guess keeps."""
    monkeypatch.chdir(tmp_path)
    assert kept_work() is kept_work()
    assert kept_work().path.parent == tmp_path
