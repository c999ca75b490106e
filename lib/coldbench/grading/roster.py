"""Who is in the class and when homework is due: two small CSV files in the class folder.

Inside: `read_roster` (``roster.csv``: student, name), `read_due` (``due.csv``: homework, due).
"""

from __future__ import annotations

import csv
from datetime import UTC, datetime
from pathlib import Path

from coldbench.errors import CannotRead, CannotStart
from coldbench.homework.sheet import student_number

STUDENT_WORDS = ("student", "student number", "student_number", "number", "id")
EXAMPLE = "student,name\ns07,Mia Example"


def read_roster(path: Path) -> dict[str, str]:
    """Read the roster: a CSV file with a header, one student a line.

    Parameters
    ----------
    path : Path
        The class folder's ``roster.csv``; commas or semicolons, a byte-order mark is accepted

    Returns
    -------
    dict of str to str
        Student number, tidied, to name (the number again where there is no name)

    Raises
    ------
    CannotStart
        There is no roster, no column for the student number, or a number that is missing, not readable or
        there twice: a mark must never land with the wrong student.

    Source
    ------
    Arrangement of this project.
    """
    header, rows = _table(path, f"Write one with a header and one student a line, for example:\n{EXAMPLE}")
    column = next((word for word in STUDENT_WORDS if word in header), None)
    if column is None:
        raise CannotStart(
            f"{path} has no column “student” (found: {', '.join(header) or 'nothing'}). "
            f"Write a header and one student a line, for example:\n{EXAMPLE}"
        )
    roster: dict[str, str] = {}
    for line, row in enumerate(rows, start=2):
        try:
            number = student_number(row[column])
        except CannotRead as refusal:
            raise CannotStart(f"{path}, line {line}: {refusal}") from refusal
        if number in roster:
            raise CannotStart(
                f"{path}, line {line}: student {number} is there twice. Give each a number of their own."
            )
        roster[number] = " ".join(row.get("name", "").split()) or number
    if not roster:
        raise CannotStart(f"{path} names no student. Write one student a line, for example:\n{EXAMPLE}")
    return roster


def read_due(path: Path) -> dict[str, datetime]:
    """Read when each homework is due, where that was written down.

    Parameters
    ----------
    path : Path
        The class folder's ``due.csv`` with the columns homework and due; it may be missing

    Returns
    -------
    dict of str to datetime
        Homework number to the time in UTC; a time without a zone is this computer's local time

    Raises
    ------
    CannotStart
        A column is missing, or a line cannot be read.

    Source
    ------
    Times as ISO 8601 writes them, read by the standard library.
    """
    if not path.is_file():
        return {}
    due = {}
    header, rows = _table(path, "")
    advice = "Write a header and one homework a line, for example:\nhomework,due\n05,2027-03-01 18:00"
    if header and not {"homework", "due"} <= set(header):
        raise CannotStart(f"{path} has no columns “homework” and “due”. {advice}")
    for line, row in enumerate(rows, start=2):
        try:
            number = int(row["homework"].removeprefix("homework-"))
            due[f"{number:02}"] = datetime.fromisoformat(row["due"]).astimezone(UTC)
        except (KeyError, ValueError):
            raise CannotStart(f"{path}, line {line} cannot be read. {advice}") from None
    return due


def _table(path: Path, advice: str) -> tuple[list[str], list[dict[str, str]]]:
    """Read a CSV file: the words of its header in small letters, and its rows."""
    try:
        text = path.read_text(encoding="utf-8-sig")
    except FileNotFoundError:
        raise CannotStart(f"There is no {path}. {advice}") from None
    except (OSError, UnicodeDecodeError):
        raise CannotStart(f"{path} cannot be read. Save it as CSV with UTF-8 letters.") from None
    lines = [line for line in text.splitlines() if line.strip()]
    between = ";" if lines and lines[0].count(";") > lines[0].count(",") else ","
    table = list(csv.reader(lines, delimiter=between))
    header = [word.strip().lower() for word in table[0]] if table else []
    return header, [dict(zip(header, (cell.strip() for cell in row), strict=False)) for row in table[1:]]
