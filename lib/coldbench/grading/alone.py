"""One at a time in a class folder: a lock that the system gives up by itself when a program ends.

Inside: `alone`. Linux and macOS lock the whole file, Windows its first byte.
"""

from __future__ import annotations

import contextlib
from collections.abc import Iterator
from pathlib import Path
from typing import IO

from coldbench.errors import CannotStart
from coldbench.grading.full_disk import naming, told_when_full
from coldbench.grading.leftovers import sweep

LOCK = ".marking"


@contextlib.contextmanager
def alone(class_folder: Path) -> Iterator[None]:
    """Make sure that only one works in a class folder at a time, and sweep it; a full disk is a sentence.

    Parameters: ``class_folder`` that is to be worked in; made where there is none.
    Yields: nothing.
    Raises: `CannotStart` when somebody works in it already, or when the disk is full.
    """
    with told_when_full(class_folder):
        path = class_folder / LOCK
        with naming(path):
            class_folder.mkdir(parents=True, exist_ok=True)
            file = path.open("a")
        with file:
            try:
                _lock(file)
            except OSError:
                raise CannotStart(
                    f"{class_folder} is being marked just now. Wait until that is done."
                ) from None
            sweep(class_folder)
            yield


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
