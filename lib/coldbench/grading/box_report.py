"""What the box said: lines of JSON that a stranger wrote, checked for size, shape and types.

Inside: `read_report`, which never raises and never believes. Nothing is unpickled or executed.
"""

from __future__ import annotations

import json
from dataclasses import dataclass, field

from coldbench.errors import CannotRead
from coldbench.grading.plain_values import is_blank, is_plain, is_question
from coldbench.homework.sheet import student_number

WORDS = ("time", "asked", "memory", "syntax", "error")
MOST_QUESTIONS, MOST_PROBLEMS, MOST_UNUSABLE = 60, 40, 1_000


@dataclass
class Report:
    """Everything usable that a box reported.

    Parameters
    ----------
    answers : dict
        Question to a plain value
    student : str or None
        Student number as typed
    problems : list of tuple
        Code cell's number, the box's word for what went wrong, and a detail
    troubles : list of str
        Sentences about lines that could not be used
    finished : bool
        Whether the last cell was left
    reached : int
        Number of the last code cell that was begun

    Source
    ------
    Arrangement of this project.
    """

    answers: dict[str, object] = field(default_factory=dict)
    student: str | None = None
    problems: list[tuple[int, str, str]] = field(default_factory=list)
    troubles: list[str] = field(default_factory=list)
    finished: bool = False
    reached: int = 0


def read_report(content: bytes, largest: int) -> Report:
    """Read what a box reported, line by line, leaving out what is not as it should be.

    Parameters
    ----------
    content : bytes
        The file that the box could write to, up to one byte more than ``largest``
    largest : int
        Largest report that is read [bytes]

    Returns
    -------
    Report
        What was usable; the last answer to a question counts, a blank never replaces an answer

    Source
    ------
    Arrangement of this project.
    """
    report = Report()
    if len(content) > largest:
        report.troubles.append(
            f"The notebook gave more than {largest / 1e6:g} MB of answers; only the first were read. "
            "Ask the student what the notebook does in a loop."
        )
        content = content[: content.rfind(b"\n", 0, largest) + 1]
    unusable = 0
    changed: dict[str, None] = {}
    for line in content.split(b"\n"):
        if line.strip():
            unusable += not _take(line, report, changed)
            if unusable == MOST_UNUSABLE:
                break
    if unusable:
        report.troubles.append(
            f"{unusable} of the answers given could not be read, because each must be a number, a text or a "
            "short list. Ask the student to type plain values."
        )
    if changed:
        report.troubles.append(
            f"Answered more than once, differently: {', '.join(changed)}. The last answer was counted."
        )
    return report


def _take(line: bytes, report: Report, changed: dict) -> bool:
    """Use one line if it is as it should be; say whether it was."""
    try:
        told = json.loads(line.decode("utf-8"), parse_constant=str)
    except (ValueError, RecursionError):
        return False
    match told:
        case {"question": str(question), "answer": value, **rest} if not rest:
            if not is_question(question) or not is_plain(value):
                return False
            return _keep(question, value, report, changed)
        case {"student": str(student), **rest} if not rest and len(student) <= 60:
            try:
                report.student = student_number(student)
            except CannotRead:
                return False
        case {"cell": int(number), "problem": str(word), "detail": str(detail)} if word in WORDS:
            if len(report.problems) < MOST_PROBLEMS and number >= 0:
                report.problems.append((number, word, " ".join(detail.split())[:200]))
        case {"cell": int(number), **rest} if not rest and number >= 0:
            report.reached = number
        case {"finished": True}:
            report.finished = True
        case _:
            return False
    return True


def _keep(question: str, value: object, report: Report, changed: dict) -> bool:
    earlier = report.answers.get(question)
    if len(report.answers) >= MOST_QUESTIONS and question not in report.answers:
        return False
    if is_blank(value):
        report.answers.setdefault(question, value)
        return True
    if not is_blank(earlier) and earlier != value:
        changed[question] = None
    report.answers[question] = value
    return True
