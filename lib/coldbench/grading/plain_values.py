"""Plain values: what an answer may be, whoever says so.

Inside: `is_question`, `is_plain`, `is_blank`, `cut`, each about a value that a stranger gave.
"""

from __future__ import annotations

import re

LONGEST_TEXT, LONGEST_LIST, LARGEST_NUMBER = 5_000, 200, 1e300
"""Largest answer: characters of a text, entries of a list or rows of a table, size of a number."""

QUESTION_NAME = re.compile(r"[0-9]{2}\.[0-9]{1,2}")
HALF_LETTER = re.compile("[\ud800-\udfff]")
"""Half of a character: no file can be written with one in it."""


def is_question(value: object) -> bool:
    """Tell whether a value has the form of a question's id.

    Parameters
    ----------
    value : object
        For example "05.3"

    Returns
    -------
    bool
        Whether it is two digits, a dot, and one or two digits more

    Source
    ------
    Arrangement of this project.
    """
    return isinstance(value, str) and bool(QUESTION_NAME.fullmatch(value))


def is_plain(value: object, depth: int = 0) -> bool:
    """Tell whether a value is a number, a text, or a short list or table of these.

    Parameters
    ----------
    value : object
        What was given as an answer
    depth : int
        How many lists it lies in [-]

    Returns
    -------
    bool
        Whether it may be kept as an answer

    Source
    ------
    Arrangement of this project.
    """
    if isinstance(value, dict):
        rows = list(value)
        if not all(isinstance(row, str) and len(row) <= LONGEST_LIST and is_plain(row) for row in rows):
            return False
        return is_plain(list(value.values()), depth)
    if isinstance(value, list):
        return depth < 2 and len(value) <= LONGEST_LIST and all(is_plain(part, depth + 1) for part in value)
    if isinstance(value, str):
        return len(value) <= LONGEST_TEXT and not HALF_LETTER.search(value)
    if isinstance(value, int | float):
        return -LARGEST_NUMBER <= value <= LARGEST_NUMBER
    return value is None


def is_blank(value: object) -> bool:
    """Tell whether an answer says nothing: None, blanks only, or a table of such.

    Parameters
    ----------
    value : object
        A plain value

    Returns
    -------
    bool
        Whether the question counts as not answered

    Source
    ------
    Arrangement of this project.
    """
    if isinstance(value, dict):
        return all(is_blank(part) for part in value.values())
    return value is None or (isinstance(value, str) and not value.strip())


def cut(value: object) -> object:
    """Keep the beginning of a text that is longer than any answer: enough to be refused with the reason.

    Parameters
    ----------
    value : object
        What was given as an answer

    Returns
    -------
    object
        The value itself, or of a text at most `LONGEST_TEXT` characters

    Source
    ------
    Arrangement of this project.
    """
    return value[:LONGEST_TEXT] if isinstance(value, str) else value
