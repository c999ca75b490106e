"""The lock of a class folder: held by one, told to the next, given up at the end; on Windows, too."""

import errno
import os
import sys
import types

import pytest
from coldbench.errors import CannotStart
from coldbench.grading.alone import LOCK, alone
from coldbench.grading.gradebook import Gradebook


def test_the_second_one_is_told_and_afterwards_it_is_free(tmp_path):
    """While one works the next gets a sentence; the folder is made where there is none."""
    folder = tmp_path / "new" / "class"
    with alone(folder), pytest.raises(CannotStart, match="being marked just now"), alone(folder):
        pass
    with alone(folder):
        assert (folder / LOCK).is_file()


def test_a_disk_without_locks_is_not_called_busy(tmp_path, monkeypatch):
    """Some network disks know none: waiting would not help, another folder does."""
    fcntl = pytest.importorskip("fcntl")

    def flock(*_):
        raise OSError(errno.ENOLCK, os.strerror(errno.ENOLCK))

    monkeypatch.setattr(fcntl, "flock", flock)
    with pytest.raises(CannotStart, match=r"knows no locks .* this computer's own disk"), alone(tmp_path):
        pass


@pytest.fixture
def windows(monkeypatch):
    """A pretended msvcrt in place of fcntl: it locks bytes of open files and fails where one is locked.

    Source: the standard library's documentation of msvcrt.locking: LK_NBLCK raises OSError at once when the
    bytes cannot be locked; the region starts at the file's present position.
    """
    held = []

    def locking(handle, mode, count):
        assert (mode, count) == ("at once", 1)
        place = os.lseek(handle, 0, 1), os.fstat(handle).st_ino
        if place in held:
            raise OSError(36, "Resource deadlock avoided")
        held.append(place)

    monkeypatch.setitem(sys.modules, "fcntl", None)
    monkeypatch.setitem(sys.modules, "msvcrt", types.SimpleNamespace(LK_NBLCK="at once", locking=locking))
    return held


def test_windows_locks_the_first_byte(tmp_path, windows):
    """Where there is no fcntl the first byte is locked, and a second marking gets the same sentence."""
    with alone(tmp_path):
        assert [position for position, _ in windows] == [0]
        with pytest.raises(CannotStart, match="being marked just now"), alone(tmp_path):
            pass


def test_what_cannot_be_the_class_folder_is_a_sentence(tmp_path):
    """A file in its place, or above it."""
    (tmp_path / "class").write_text("a file")
    for folder in (tmp_path / "class", tmp_path / "class" / "inner"):
        with pytest.raises(CannotStart, match="cannot be used as the class folder"), alone(folder):
            pass


@pytest.mark.parametrize("content", [b"garbage" * 1000, None])
def test_a_damaged_gradebook_is_a_sentence(tmp_path, content):
    """No database at all, and one that breaks off; the damaged file stays as it is."""
    path = tmp_path / "gradebook.db"
    with Gradebook(tmp_path):
        pass
    path.write_bytes(content or path.read_bytes()[:20_000])
    damaged = path.read_bytes()
    with pytest.raises(CannotStart, match="is damaged"), alone(tmp_path), Gradebook(tmp_path):
        pass
    assert path.read_bytes() == damaged


def test_another_fault_is_not_called_damage(tmp_path):
    """What is no fault of the gradebook comes as it came."""
    with pytest.raises(ZeroDivisionError), alone(tmp_path):
        raise ZeroDivisionError
