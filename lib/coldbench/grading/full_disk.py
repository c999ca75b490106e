"""A full disk while a class is worked on: a sentence in place of a traceback.

Inside: `naming` (a writing door says which file it was writing), `is_full`, and `told_when_full`, which turns
what came of it into the sentence. Every file is written whole or not at all, so nothing has to be put back.
"""

from __future__ import annotations

import contextlib
import errno
from collections.abc import Iterator
from pathlib import Path

from coldbench.errors import CannotStart

NO_ROOM = {errno.ENOSPC, errno.EFBIG, getattr(errno, "EDQUOT", errno.ENOSPC)}
"""The disk is full, the file is larger than it may be, this user's share of the disk is used up."""

GRADEBOOK_FULL = "database or disk is full"
"""What the database says; its own words, as its list of result codes has them."""


@contextlib.contextmanager
def naming(path: Path) -> Iterator[None]:
    """Put the name of the file to a fault of the system that has none, or a passing one.

    Parameters: ``path`` of the file that is being written.
    Yields: nothing.
    Raises: `OSError` as it came, with the name.
    """
    try:
        yield
    except OSError as fault:
        fault.filename = str(path)
        raise


def is_full(fault: BaseException) -> bool:
    """Tell whether something failed because there is no room on the disk.

    Parameters: ``fault`` whatever was raised.
    Returns: whether it says so.
    """
    return (isinstance(fault, OSError) and fault.errno in NO_ROOM) or GRADEBOOK_FULL in str(fault)


@contextlib.contextmanager
def told_when_full(class_folder: Path) -> Iterator[None]:
    """Say in a sentence that the disk is full, whatever was being written.

    Parameters: ``class_folder`` that is worked in.
    Yields: nothing.
    Raises: `CannotStart` when the disk is full; any other fault as it came.
    """
    try:
        yield
    except Exception as fault:
        if not is_full(fault):
            raise
        what = getattr(fault, "filename", None) or f"the gradebook of {class_folder}"
        raise CannotStart(
            f"The disk is full: {what} could not be written. No mark and no hand-in is lost, and what was "
            "finished before stays. Make room on that disk, then run the same again: it goes on from here."
        ) from fault
