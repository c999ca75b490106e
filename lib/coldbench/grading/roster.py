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
    rows = _rows(path, f"Write one with a header and one student a line, for example:\n{EXAMPLE}")
    header = list(rows[0]) if rows else []
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
        A line cannot be read.

    Source
    ------
    Times as ISO 8601 writes them, read by the standard library.
    """
    if not path.is_file():
        return {}
    due = {}
    for line, row in enumerate(_rows(path, ""), start=2):
        try:
            due[row["homework"].zfill(2)] = datetime.fromisoformat(row["due"]).astimezone(UTC)
        except (KeyError, ValueError):
            raise CannotStart(
                f"{path}, line {line} cannot be read. Write a header and one homework a line, for example:\n"
                "homework,due\n05,2027-03-01 18:00"
            ) from None
    return due


def _rows(path: Path, advice: str) -> list[dict[str, str]]:
    """Read a CSV file's rows, words of the header in small letters."""
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
    return [dict(zip(header, (cell.strip() for cell in row), strict=False)) for row in table[1:]]
