"""When a hand-in came: which time counts for lateness, and where it is only a claim.

What whoever collected the hand-ins says counts before what a hand-in says of itself:

1. A file in a folder, or a zip file that one student packed, came when this computer's file system says
   that the file was written. Dates inside a student's own zip file count for nothing: its packer sets them.
2. In a folder as nbgrader's collecting makes it (``…/<student>/homework-05/``), ``timestamp.txt`` counts.
3. In a zip file that holds several students' work, the date that it gives to each: it was packed by whoever
   collected.

In 2 and 3 this program cannot see who wrote the time. Where the file itself is later, and by that time
the hand-in would be late (or later), the class report says so: “time as the hand-in says”.

Inside: `Came` with `of_file` and `in_zip`; `write_came`, `taken_time` and `later_time`, which keep it beside
a hand-in in the class folder.
"""

from __future__ import annotations

import os
import re
import stat
import zipfile
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from coldbench.grading.results import write_if_changed

STAMP, LATER = "timestamp.txt", "file-written.txt"
HOMEWORK_FOLDER = re.compile(r"homework-\d\d")


@dataclass(frozen=True)
class Came:
    """When a hand-in came.

    Attributes
    ----------
    time : datetime
        The time that counts [UTC]
    changed : datetime
        When it says that it was last changed: which of several versions is the newest [UTC]
    later : datetime or None
        When the file itself was written, where that is later and ``time`` is only a claim [UTC]
    """

    time: datetime
    changed: datetime
    later: datetime | None = None


def of_file(path: Path, parts: tuple[str, ...], modified: float) -> Came:
    """Say when a file in a folder came.

    Parameters: ``path`` the file; ``parts`` names of its folders and its own; ``modified`` its time [s].
    Returns: the `Came`.
    """
    written = datetime.fromtimestamp(modified, UTC)
    if len(parts) > 2 and HOMEWORK_FOLDER.fullmatch(parts[-2]):
        try:
            with os.fdopen(open_plainly(path.parent / STAMP), "rb") as file:
                if stat.S_ISREG(os.fstat(file.fileno()).st_mode):
                    stamped = _read_stamp(file.read(60).decode("utf-8"))
                    return Came(stamped, written, written if written > stamped else None)
        except (OSError, ValueError):
            pass
    return Came(written, written)


def in_zip(entry: zipfile.ZipInfo, archive: Came, packed_by_collector: bool) -> Came:
    """Say when a file in a zip file came.

    Parameters: ``entry`` of the zip file; ``archive`` when the zip file came; ``packed_by_collector`` whether
    it holds several students' work.
    Returns: the `Came`.
    """
    try:
        packed = datetime(*entry.date_time).astimezone(UTC)
    except ValueError:
        return archive
    if entry.date_time[0] <= 1980:  # the zero of a zip file's dates: it says nothing
        return archive
    if not packed_by_collector:
        return Came(archive.time, packed, archive.later)
    later = archive.later or archive.time
    return Came(packed, packed, later if later > packed else None)


def open_plainly(path: Path) -> int:
    """Open a file without following a link and without waiting for a pipe.

    Parameters: ``path`` of it.
    Returns: its handle.
    """
    return os.open(path, os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0))


def time_stamp(time: datetime) -> bytes:
    """Write a time as the gradebook's own collecting does.

    Parameters: ``time`` with its zone.
    Returns: what ``timestamp.txt`` holds.
    """
    return time.astimezone(UTC).strftime("%Y-%m-%d %H:%M:%S.%f UTC").encode()


def _read_stamp(words: str) -> datetime:
    time = datetime.fromisoformat(words.strip().removesuffix("UTC").strip())
    return time.astimezone(UTC) if time.tzinfo else time.replace(tzinfo=UTC)


def taken_time(path: Path) -> datetime:
    """Tell when a hand-in was handed in.

    Parameters: ``path`` the notebook in the class folder.
    Returns: what its ``timestamp.txt`` says, or when the file was changed, in UTC.
    """
    return _kept(path.parent / STAMP) or changed_time(path)


def later_time(path: Path) -> datetime | None:
    """Tell when the file of a hand-in was written, where the time that counts is only a claim.

    Parameters: ``path`` the notebook in the class folder.
    Returns: that time in UTC, or None.
    """
    return _kept(path.parent / LATER)


def changed_time(path: Path) -> datetime:
    """Tell when a hand-in says that it was last changed.

    Parameters: ``path`` the notebook in the class folder.
    Returns: that time in UTC.
    """
    return datetime.fromtimestamp(path.stat().st_mtime, UTC)


def _kept(path: Path) -> datetime | None:
    try:
        return _read_stamp(path.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return None


def kept_came(path: Path) -> Came:
    """Read back when a hand-in came.

    Parameters: ``path`` the notebook in the class folder.
    Returns: the `Came`.
    """
    return Came(taken_time(path), changed_time(path), later_time(path))


def write_came(path: Path, content: bytes, came: Came) -> None:
    """Write a hand-in and its times; whoever is killed on the way leaves no time of another one beside it.

    Parameters: ``path`` the notebook in the class folder; ``content`` of it; ``came`` when it came.
    """
    stamp, later = path.parent / STAMP, path.parent / LATER
    if path.is_file() and path.read_bytes() != content:
        stamp.unlink(missing_ok=True)
    if came.later:
        write_if_changed(later, time_stamp(came.later))
    else:
        later.unlink(missing_ok=True)
    write_if_changed(path, content, came.changed)
    write_if_changed(stamp, time_stamp(came.time))
