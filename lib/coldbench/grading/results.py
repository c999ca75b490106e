"""What the marking of a class found: the data that feedback pages and the class report are made of.

Inside: `HandIn` (one hand-in with its marks), `ClassResults` (the whole class), and the record of one
hand-in as a small JSON file, written by `write_record` and read by `read_record`.
"""

from __future__ import annotations

import json
import os
import tempfile
from dataclasses import asdict, dataclass, field
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from coldbench.errors import CannotStart
from coldbench.grading.full_disk import naming

if TYPE_CHECKING:
    from coldbench.homework.marking import Mark


FIELDS = (
    *("student", "homework", "run", "typed_student", "executed", "box_troubles", "intake", "troubles"),
    *("edition_ok", "fits_student", "answers", "marks"),
)
"""What every record has; one that lacks something is made again from the hand-in."""


@dataclass(frozen=True)
class HandIn:
    """One hand-in of one student, marked.

    Parameters
    ----------
    student : str
        The student's number as the roster has it
    name : str
        The student's name as the roster has it; the number again when the roster has none
    homework : str
        The homework's number, for example "05"
    marks : list of Mark
        One mark a question in the homework's order; points as the gradebook has them [points]
    troubles : list of str
        Sentences for the instructor: what was odd about this hand-in and what to do
    late : bool
        Whether it came after the due time in ``due.csv``
    only_says : bool
        Whether it is in time, or less late, only by the time that the hand-in itself says
    edition_ok : bool
        Whether the notebook was made from the homework's present edition
    fits_student : str or None
        Number of another student whose numbers these answers fit better; for the instructor's eyes,
        a reason to ask, not a verdict
    notes : list of str
        Sentences for the student: what coming late cost
    states : dict of str to dict
        What the log of marks keeps of each question
    on_time : list of Mark
        The marks as they would be had it come in time; empty where coming late cost nothing

    Source
    ------
    Arrangement of this project.
    """

    student: str
    name: str
    homework: str
    marks: list[Mark]
    troubles: list[str] = field(default_factory=list)
    late: bool = False
    only_says: bool = False
    edition_ok: bool = True
    fits_student: str | None = None
    notes: list[str] = field(default_factory=list)
    states: dict[str, dict] = field(default_factory=dict)
    on_time: list[Mark] = field(default_factory=list)

    @property
    def as_answered(self) -> list[Mark]:
        """The marks for what was answered, whenever it came: what tells about questions and ideas."""
        return self.on_time or self.marks


@dataclass(frozen=True)
class ClassResults:
    """Everything the class report tells about a class.

    Parameters
    ----------
    homeworks : list
        The declared homeworks (as ``coldbench.homework.declare.load`` gives them) that were handed in
    hand_ins : list of HandIn
        All marked hand-ins, sorted by homework, then by student
    roster : dict of str to str
        Student number to name, for everybody in the class
    troubles : list of str
        Sentences about files that belong to no hand-in: not understood, nobody's, missing

    Source
    ------
    Arrangement of this project.
    """

    homeworks: list
    hand_ins: list[HandIn]
    roster: dict[str, str]
    troubles: list[str] = field(default_factory=list)


def write_if_changed(path: Path, content: bytes, time: datetime | None = None) -> bool:
    """Write a file whole or not at all, and only when its content differs.

    Parameters
    ----------
    path : Path
        The file; missing folders are made
    content : bytes
        What it shall hold
    time : datetime, optional
        When the file shall say that it was changed; now, when left out

    Returns
    -------
    bool
        Whether the file was written

    Raises
    ------
    CannotStart
        Something else holds its place.

    Source
    ------
    Arrangement of this project.
    """
    if path.is_file() and path.read_bytes() == content:
        return False
    with naming(path):
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, temporary = tempfile.mkstemp(dir=path.parent, prefix=".writing-")
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(content)
                file.flush()
                os.fsync(file.fileno())
            os.chmod(temporary, 0o644)
            if time:
                os.utime(temporary, (time.timestamp(),) * 2)
            os.replace(temporary, path)
        except (PermissionError, IsADirectoryError) as fault:  # on Windows: it is open in another program
            Path(temporary).unlink(missing_ok=True)
            raise CannotStart(
                f"{path} could not be written ({fault.strerror}). Close it where it is open, perhaps in a "
                "spreadsheet, then run the same again: it goes on from here."
            ) from fault
        except BaseException:
            Path(temporary).unlink(missing_ok=True)
            raise
    return True


def write_record(path: Path, record: dict) -> bool:
    """Keep one hand-in's answers, marks and troubles as JSON; an equal record is left untouched.

    Parameters
    ----------
    path : Path
        ``CLASS/marks/<student>/<homework>.json``
    record : dict
        Plain values; under ``marks`` a list of Mark

    Returns
    -------
    bool
        Whether the file was written

    Source
    ------
    Arrangement of this project.
    """
    plain = {**record, "marks": [asdict(mark) for mark in record["marks"]]}
    return write_if_changed(path, (json.dumps(plain, indent=1, ensure_ascii=False) + "\n").encode())


def _mark(plain: dict) -> Mark:
    """Give a mark back; one that does not say whether it waits is of an older form, and no record."""
    from coldbench.homework.marking import Mark

    return Mark(**{**plain, "wrong_ideas": tuple(plain["wrong_ideas"]), "waiting": plain["waiting"]})


def read_record(path: Path) -> dict | None:
    """Give the record that `write_record` kept, or None where there is none that can be read.

    Parameters
    ----------
    path : Path
        ``CLASS/marks/<student>/<homework>.json``

    Returns
    -------
    dict or None
        The record, its marks as Mark

    Source
    ------
    Arrangement of this project.
    """
    try:
        record = json.loads(path.read_text(encoding="utf-8"))
        if missing := set(FIELDS) - set(record):
            raise KeyError(missing)
        marks = [_mark(plain) for plain in record["marks"]]
    except (OSError, ValueError, KeyError, TypeError):
        return None
    return {**record, "marks": marks}
