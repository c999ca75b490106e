"""Records of hand-ins: written whole or not at all, untouched when equal, read back as they were."""

import os

import pytest
from coldbench.errors import CannotStart
from coldbench.grading.results import FIELDS, read_record, write_if_changed, write_record
from coldbench.homework.marking import Mark

MARK = Mark("05.1", 0.5, 2.0, "wrong_idea", ("a", "b"), "3", "4", "Because “x” < y.", "05: Falling", "Steps")
RECORD = {**dict.fromkeys(FIELDS), "student": "s07", "answers": {"05.1": "3 °F"}, "marks": [MARK]}


def test_a_record_comes_back_as_it_was(tmp_path):
    """Marks are marks again, wrong ideas a tuple."""
    path = tmp_path / "s07" / "05.json"
    assert write_record(path, RECORD)
    assert read_record(path) == RECORD


def test_an_equal_record_is_left_untouched(tmp_path):
    """A second writing changes neither bytes nor time."""
    path = tmp_path / "05.json"
    write_record(path, RECORD)
    os.utime(path, (1, 1))
    assert not write_record(path, RECORD)
    assert path.stat().st_mtime == 1


@pytest.mark.parametrize("text", ["", "{", "[]", "{}", '{"marks": [{}]}', '{"marks": []}', '{"marks": 7}'])
def test_a_damaged_record_counts_as_none(tmp_path, text):
    """It is made again from the hand-in."""
    path = tmp_path / "05.json"
    path.write_text(text)
    assert read_record(path) is None
    assert read_record(tmp_path / "missing.json") is None


def test_a_record_of_an_older_form_counts_as_none(tmp_path):
    """One whose marks do not say whether they wait is made again, not taken for points given."""
    path = tmp_path / "05.json"
    write_record(path, RECORD)
    path.write_text(path.read_text().replace(',\n   "waiting": false', ""))
    assert '"worked"' in path.read_text()
    assert read_record(path) is None


def test_a_failed_writing_leaves_the_old_file(tmp_path, monkeypatch):
    """Nothing half-written, nothing left over."""
    path = tmp_path / "file"
    write_if_changed(path, b"old")

    def full(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("coldbench.grading.results.os.replace", full)
    with pytest.raises(OSError, match="No space"):
        write_if_changed(path, b"new")
    assert [entry.read_bytes() for entry in tmp_path.iterdir()] == [b"old"]


def test_a_file_that_is_open_elsewhere_is_a_sentence(tmp_path, monkeypatch):
    """Windows refuses to replace a file that a spreadsheet has open: its name is said, the old file stays."""
    path = tmp_path / "marks.csv"
    write_if_changed(path, b"old")

    def held(*_):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("coldbench.grading.results.os.replace", held)
    with pytest.raises(CannotStart, match=r"marks\.csv could not be written .*Close it"):
        write_if_changed(path, b"new")
    assert [entry.read_bytes() for entry in tmp_path.iterdir()] == [b"old"]
