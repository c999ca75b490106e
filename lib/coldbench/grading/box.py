"""The box: a hand-in is executed apart from everything, and only a small table of answers comes out.

Inside: `run_in_box`, the one door; `BoxOutcome`, what comes out; `find_places`, where it can be done.

In the box there are no rights, no network, no other processes, a read-only system, a private temporary
folder, an empty environment. In view are the system's programs, Python with its libraries and this library;
not the course, keys, gradebook, other hand-ins or anybody's home. On Linux it is made by bubblewrap,
elsewhere by a container engine. Where neither can be had nothing is executed: answers that are plain values
are read as they stand, and a sentence says so.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial

from coldbench.grading.box_order import Limits, Ran, order_for
from coldbench.grading.bubblewrap import find_bubblewrap
from coldbench.grading.container import find_engine, run_by_engine
from coldbench.grading.hand_in_file import Notebook, questions_in, read_notebook, typed_answers
from coldbench.grading.plain_text import quoted
from coldbench.grading.plain_values import is_blank
from coldbench.grading.warm import run_warm

ENDED_BY = {
    "": "ended itself, or used up its time or memory,",
    "time": "used up its time",
    "memory": "ended itself by using up the memory",
}


@dataclass(frozen=True)
class BoxOutcome:
    """What came out of the box.

    Parameters
    ----------
    answers : dict
        Question to a plain value: number, text, short list or table, or None where not answered
    student : str or None
        The student number as typed in the notebook
    troubles : tuple of str
        Sentences for the instructor
    seconds : float
        How long it took [s]
    executed : bool
        Whether the notebook was run; otherwise plain values were read

    Source
    ------
    Arrangement of this project.
    """

    answers: dict[str, object]
    student: str | None = None
    troubles: tuple[str, ...] = ()
    seconds: float = 0.0
    executed: bool = True


def run_in_box(notebook: bytes, sheet: bytes, limits: Limits | None = None) -> BoxOutcome:
    """Execute a hand-in apart from everything and give its answers: a function of its arguments alone.

    Parameters
    ----------
    notebook : bytes
        The notebook file as handed in
    sheet : bytes
        The homework's ``sheet.json``, our own copy
    limits : Limits, optional
        What it may use

    Returns
    -------
    BoxOutcome
        Answers, the typed student number, and troubles as sentences

    Raises
    ------
    CannotRead
        The file is not a notebook that can be read.

    Source
    ------
    Arrangement of this project.
    """
    limits = limits or Limits()
    began = time.perf_counter()
    handed_in = read_notebook(notebook)
    typed, typed_student, worked_out = typed_answers(handed_in)
    complaints: list[str] = []
    for run in find_places():
        ran = run(order_for(handed_in, limits), sheet, limits)
        if ran.started:
            break
        complaints.append(ran.complaint)
    else:
        troubles = [_not_executed("; ".join(complaints) or _missing(), worked_out)]
        return BoxOutcome(typed, typed_student, tuple(troubles), time.perf_counter() - began, executed=False)
    report = ran.report
    as_typed = {q: value for q, value in typed.items() if q not in report.answers and not is_blank(value)}
    answers = {**report.answers, **as_typed}
    troubles = _troubles(handed_in, ran, answers, as_typed, limits)
    student = report.student or typed_student
    return BoxOutcome(answers, student, tuple(troubles), time.perf_counter() - began)


def find_places() -> Iterator[Callable[[dict, bytes, Limits], Ran]]:
    """Find where hand-ins can be executed on this machine: bubblewrap, or else a container engine.

    Yields: for each place, the best first, what runs a hand-in there: from an order, the homework's sheet and
    limits to how it ended.
    """
    if bubblewrap := find_bubblewrap():
        yield partial(run_warm, bubblewrap)
    if engine := find_engine():
        yield partial(run_by_engine, engine)


def _missing() -> str:
    if sys.platform.startswith("linux"):
        return "bubblewrap is missing"
    return "no container engine was found (docker or podman)"


def _not_executed(reason: str, worked_out: tuple[str, ...]) -> str:
    left = f" Not read, because code works them out: {', '.join(worked_out)}." if worked_out else ""
    what = (
        "install bubblewrap (on Debian or Ubuntu: apt install bubblewrap)"
        if sys.platform.startswith("linux")
        else "install a container engine, docker or podman, and start it"
    )
    return (
        f"The notebook was not run, because {reason}; answers that are plain values were read as typed.{left}"
        f" To run notebooks safely, {what} and mark again."
    )


def _troubles(handed_in: Notebook, ran: Ran, answers: dict, as_typed: dict, limits: Limits) -> list[str]:
    """Put what went wrong into sentences: only what may have cost the student something."""
    code, report = handed_in.code, ran.report
    troubles = list(report.troubles)
    for number, word, detail in report.problems:
        if number >= len(code):
            continue
        lost = [question for question in questions_in(code[number]) if is_blank(answers.get(question))]
        place = _place(handed_in, number)
        if word == "time":
            troubles.append(
                f"{place} ran longer than {limits.cell_seconds:g} s and was stopped; answers before and "
                "after it were kept. Ask the student to look for a loop that never ends."
            )
        elif word == "asked":
            troubles.append(
                f"{place} asks for something to be typed, but nobody is there when homework is marked. "
                "Ask the student to write the answer into the cell itself."
            )
        elif lost:
            why = "is not written as Python can read it" if word == "syntax" else "stopped with an error"
            troubles.append(
                f"{place} {why} ({quoted(detail)}), so {_named(lost)} is not answered. "
                "Look at the cell with the student: the answer may be there."
                + _before(handed_in, ran, number)
            )
    if not report.finished:
        why = ENDED_BY[ran.overuse]
        where = _place(handed_in, min(report.reached, len(code) - 1)) if code else "The notebook"
        troubles.append(
            f"{where} {why} and the notebook was stopped there; answers before it were kept, "
            "later ones were read as typed. Look at that cell with the student."
        )
    elif as_typed:
        troubles.append(
            f"{_named(list(as_typed))[0].upper()}{_named(list(as_typed))[1:]} could not be run "
            "(for example because the first cell was deleted) and was read as typed."
        )
    return troubles


def _before(handed_in: Notebook, ran: Ran, number: int) -> str:
    """Name the first cell before this one that stopped with an error: this one may lack what it made."""
    code = handed_in.code
    for earlier, word, detail in ran.report.problems:
        if word == "error" and earlier < number and not questions_in(code[earlier]):
            return (
                f" Before it, {_place(handed_in, earlier).lower()} stopped with an error ({quoted(detail)})."
            )
    return ""


def _place(handed_in: Notebook, number: int) -> str:
    """Name a code cell in words that the instructor can find it by."""
    code = handed_in.code
    own = questions_in(code[number])
    if own:
        return f"The cell of {_named(list(own))}"
    for earlier in range(number - 1, -1, -1):
        if questions_in(code[earlier]):
            return f"The cell after question {questions_in(code[earlier])[-1]}"
    return f"Code cell {number + 1}"


def _named(questions: list[str]) -> str:
    return f"question {questions[0]}" if len(questions) == 1 else f"questions {', '.join(questions)}"
