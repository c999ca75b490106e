"""A disk that is full while a class is marked: a sentence, nothing lost, and the next run completes."""

import errno
import os
import subprocess
import sys
import textwrap

import needs
import pytest
from coldbench.errors import CannotStart
from coldbench.grading import full_disk
from coldbench.grading.decide import Desk
from coldbench.grading.marks_log import Log
from grading.small_class import SmallClass, as_in_table, explained, read_only
from grading.small_course import make_course


@pytest.fixture(scope="module")
def course(tmp_path_factory):
    return make_course(tmp_path_factory.mktemp("course"))


@pytest.fixture
def small(tmp_path, course, monkeypatch):
    """A class with two hand-ins, not marked yet."""
    read_only(monkeypatch)
    small = SmallClass(tmp_path, course)
    small.hand_in("s07")
    small.hand_in("s08", question_3="B")
    return small


def full_from(monkeypatch, first):
    """The disk is full from the so many-th file on: it is noticed when the bytes are seen onto the disk."""
    written = []

    def fsync(handle):
        written.append(handle)
        if len(written) >= first:
            raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "fsync", fsync)
    return written


def test_whichever_file_it_is(small, monkeypatch):
    """From the first file to the last: a sentence that names it, and the next run gives the same."""
    honest = os.fsync
    count = full_from(monkeypatch, 1_000)
    small.run()
    marks, total = small.marks(), len(count)
    assert total > 15
    for first in [*range(1, total, 5), total]:
        place = small.folder.with_name(f"class-{first}")
        place.mkdir()
        (place / "roster.csv").write_bytes((small.folder / "roster.csv").read_bytes())
        other = SmallClass.__new__(SmallClass)
        other.hand_ins, other.folder, other.course = small.hand_ins, place, small.course
        full_from(monkeypatch, first)
        with pytest.raises(CannotStart, match=r"The disk is full: .*class-\d+/.* could not be written"):
            other.run()
        monkeypatch.setattr(os, "fsync", honest)
        other.run()
        assert other.marks() == marks
        assert explained(other.log()) == as_in_table(other)
        assert not list(place.rglob(".writing-*"))


def test_the_log_is_written_whole_or_not(small, monkeypatch):
    """A decision that could not be written was not made; the log is as before, byte for byte."""
    small.run()
    before = (small.folder / "log.jsonl").read_bytes()
    honest = os.fsync
    full_from(monkeypatch, 1)
    with pytest.raises(CannotStart, match=r"log\.jsonl could not be written"):
        Desk(small.folder, small.course, lambda line: None).drop("05.3")
    assert (small.folder / "log.jsonl").read_bytes() == before
    monkeypatch.setattr(os, "fsync", honest)
    Desk(small.folder, small.course, lambda line: None).drop("05.3")
    assert [entry["number"] for entry in Log(small.folder).entries if entry["kind"] == "change"] == [1]


def test_another_fault_stays_as_it_is(tmp_path):
    """Only a full disk becomes this sentence; the file's name is put to any fault."""
    told, named = full_disk.told_when_full(tmp_path), full_disk.naming(tmp_path / "log.jsonl")
    with pytest.raises(PermissionError, match=r"log\.jsonl"), told, named:
        raise PermissionError(errno.EACCES, "Permission denied")


SMALL_DISK = """
import errno, os, subprocess, sys
from pathlib import Path

hand_ins, roster, course, room = *map(Path, sys.argv[1:4]), int(sys.argv[4])
disk = Path("/small")
(disk / "class").mkdir()
(disk / "class" / "roster.csv").write_bytes(roster.read_bytes())
command = [sys.executable, "-m", "coldbench.command", "mark", str(hand_ins)]
command += ["--class-folder", str(disk / "class"), "--source", str(course)]


def mark():
    run = subprocess.run(command, capture_output=True, text=True)
    assert "Traceback" not in run.stderr, run.stderr
    return run


free = os.statvfs(disk).f_bavail * os.statvfs(disk).f_frsize
(disk / "ballast").write_bytes(bytes(free - room))
full = mark()
assert full.returncode == 2, (full.returncode, full.stdout)
assert full.stderr.startswith("The disk is full: "), full.stderr
(disk / "ballast").unlink()
again = mark()
assert again.returncode in (0, 1), again.stderr
assert "2 hand-ins marked" in again.stdout
"""


@pytest.mark.parametrize("room", [40_000, 270_000], ids=["gradebook", "pages"])
def test_a_disk_that_is_really_full(small, room):
    """A small disk in memory with too little room left [bytes]: exit code 2, one sentence, no traceback."""
    bubblewrap = needs.bubblewrap()
    for inner in ("course", "lib"):
        (small.course / inner).mkdir(exist_ok=True)
    (small.course / "lib" / "start.py").touch()
    command = [bubblewrap, "--bind", "/", "/", "--dev-bind", "/dev", "/dev", "--size", "4000000"]
    command += ["--tmpfs", "/small", sys.executable, "-c", textwrap.dedent(SMALL_DISK)]
    given = [small.hand_ins, small.folder / "roster.csv", small.course, room]
    run = subprocess.run([*command, *map(str, given)], capture_output=True, text=True)
    assert run.returncode == 0, run.stderr
