"""One at a time in a class folder: a lock that the system gives up by itself when a program ends.

Inside: `alone`. Linux and macOS lock the whole file, Windows its first byte.
"""

from __future__ import annotations

import contextlib
import errno
from collections.abc import Iterator
from pathlib import Path
from typing import IO

from coldbench.errors import CannotStart
from coldbench.grading.form import DATABASE
from coldbench.grading.full_disk import is_full, naming, told_when_full
from coldbench.grading.leftovers import sweep

LOCK = ".marking"
NO_LOCKS = (errno.ENOLCK, errno.ENOSYS, errno.EOPNOTSUPP)  # what some network disks answer

DAMAGED = ("file is not a database", "database disk image is malformed")
"""What the database says; its own words, as its list of result codes has them."""


@contextlib.contextmanager
def alone(class_folder: Path) -> Iterator[None]:
    """Make sure that only one works in a class folder at a time, and sweep it; a full disk is a sentence.

    Parameters: ``class_folder`` that is to be worked in; made where there is none.
    Yields: nothing.
    Raises: `CannotStart` when somebody works in it already, when the disk is full or knows no locks,
    when nothing can be written there, or when its gradebook is damaged.
    """
    with told_when_full(class_folder), _told_when_damaged(class_folder):
        path = class_folder / LOCK
        with naming(path):
            file = _opened(path)
        with file:
            try:
                _lock(file)
            except OSError as fault:
                raise CannotStart(
                    f"{class_folder} lies on a disk that knows no locks ({fault.strerror}), so two could "
                    "work in it at once. Give a folder on this computer's own disk, with --class-folder."
                    if fault.errno in NO_LOCKS
                    else f"{class_folder} is being marked just now. Wait until that is done."
                ) from None
            sweep(class_folder)
            yield


def _opened(path: Path) -> IO:
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        return path.open("a")
    except OSError as fault:
        if is_full(fault):
            raise
        raise CannotStart(
            f"{path.parent} cannot be used as the class folder ({fault.strerror}). "
            "Give a folder that you may write to, with --class-folder."
        ) from fault


@contextlib.contextmanager
def _told_when_damaged(class_folder: Path) -> Iterator[None]:
    """Say in a sentence that the gradebook is damaged, whatever was read from it."""
    try:
        yield
    except Exception as fault:
        if not any(words in str(fault) for words in DAMAGED):
            raise
        raise CannotStart(
            f"The gradebook {class_folder / DATABASE} is damaged. Put your latest copy of it in its place. "
            "Without one, move it away and mark again: a new one is made. Points that you gave by hand "
            "are written in log.jsonl."
        ) from fault


def _lock(file: IO) -> None:
    """Take the lock, or fail at once where another program has it; it goes when the file is closed."""
    try:
        import fcntl
    except ImportError:
        import msvcrt

        file.seek(0)
        msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
    else:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
