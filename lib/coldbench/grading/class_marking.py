"""From hand-ins in the class folder to records: boxes run side by side, answers marked, reasons kept.

Inside: `mark_hand_ins`, and what it is made of: `answers_of` (the box, or what it gave last time),
`marks_of` (the marking, one answer that breaks it set aside). From hand-in to answers is a function of files
alone; only a few hand-ins are under way at a time, so that a large class takes no more memory than a small.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
import sys
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING

import coldbench
from coldbench.grading.arrival import taken_time, time_stamp
from coldbench.grading.box import BoxOutcome, run_in_box
from coldbench.grading.fits import Keys, fits_another
from coldbench.grading.form import form_notebook
from coldbench.grading.full_disk import is_full
from coldbench.grading.gradebook import Gradebook
from coldbench.grading.hand_in_file import read_notebook
from coldbench.grading.intake import TakenIn, hand_in_path, other_versions
from coldbench.grading.many_troubles import cut_short
from coldbench.grading.marks_log import Log, digests, same_answers
from coldbench.grading.results import read_record, write_if_changed, write_record
from coldbench.homework.marking import mark_homework

if TYPE_CHECKING:
    from coldbench.grading.changes import Decisions
    from coldbench.grading.course_files import Course, HomeworkFiles
    from coldbench.homework.marking import Mark

WORKERS = min(max(2, os.cpu_count() or 2), 8)
AHEAD = 2 * WORKERS
"""So many hand-ins are run before their turn to be recorded, at most."""


def record_path(class_folder: Path, student: str, homework: str) -> Path:
    """Say where the record of a hand-in lies.

    Parameters
    ----------
    class_folder : Path
        The class folder
    student, homework : str
        For example "s07", "05"

    Returns
    -------
    Path
        Its JSON file

    Source
    ------
    Arrangement of this project.
    """
    return class_folder / "marks" / student / f"{homework}.json"


def mark_hand_ins(
    taken: Iterable[TakenIn],
    class_folder: Path,
    course: Course,
    roster: dict[str, str],
    log: Log,
    decisions: Decisions,
) -> list[str]:
    """Run, mark and record hand-ins that lie in the class folder.

    Parameters
    ----------
    taken : iterable of TakenIn
        Which
    class_folder : Path
        The class folder
    course : Course
        The homeworks
    roster : dict of str to str
        Student number to name
    log : Log
        What the marks were before
    decisions : Decisions
        When homework is due, what is dropped, where a student asked to look again

    Returns
    -------
    list of str
        Sentences about hand-ins that could not be marked at all

    Source
    ------
    Arrangement of this project.
    """
    taken = sorted(taken, key=lambda one: (one.homework, one.student))
    troubles = []
    with _workers() as pool:
        running = _run_ahead(pool, taken, class_folder, course)  # before the gradebook, which is slow to load
        with Gradebook(class_folder) as gradebook:
            numbers = sorted({one.homework for one in taken})
            for number in numbers:
                release, dropped = course.homework(number).release, decisions.dropped(number)
                gradebook.declare(f"homework-{number}", release, decisions.due.get(number), dropped)
            keys = {number: Keys(course.homework(number)) for number in numbers}
            whole_class = WholeClass(class_folder, course, roster, gradebook, log, decisions, keys)
            for one, outcome in _with_progress(running, len(taken)):
                try:
                    _record(one, outcome.result(), whole_class)
                except Exception as fault:  # one hand-in never stops the class
                    gradebook.undo()
                    if is_full(fault):
                        raise
                    troubles.append(
                        f"Homework {one.homework} of {one.student} could not be marked "
                        f"({type(fault).__name__}: {fault}). It is kept; mark it by hand and report this."
                    )
    return troubles


def enter_again(
    homeworks: Iterable[str], class_folder: Path, course: Course, roster: dict[str, str], decisions: Decisions
) -> None:
    """Enter the marks of records in the gradebook again, after it was decided which questions count.

    Parameters: ``homeworks`` their numbers; ``class_folder``, ``course``, ``roster`` of the class;
    ``decisions`` what counts.
    """
    with Gradebook(class_folder) as gradebook:
        for number in homeworks:
            dropped = decisions.dropped(number)
            name, release = f"homework-{number}", course.homework(number).release
            gradebook.declare(name, release, decisions.due.get(number), dropped)
            for student in sorted(roster):
                record = read_record(record_path(class_folder, student, number))
                if record:
                    time = taken_time(hand_in_path(class_folder, student, number))
                    marks, asked = record["marks"], decisions.regrades
                    gradebook.save(student, roster[student], name, time, marks, set(), dropped, asked)


@contextlib.contextmanager
def _workers() -> Iterator[ThreadPoolExecutor]:
    """Threads that run hand-ins; after a fault or Ctrl-C nothing is begun that had not begun before."""
    with ThreadPoolExecutor(WORKERS) as pool:
        try:
            yield pool
        finally:
            pool.shutdown(wait=False, cancel_futures=True)


def _run_ahead(
    pool: ThreadPoolExecutor, taken: list[TakenIn], class_folder: Path, course: Course
) -> Iterator[tuple[TakenIn, Future]]:
    """Start the first few at once; then give each in its turn, start another, and forget the one given."""

    def started(one: TakenIn) -> tuple[TakenIn, Future]:
        return one, pool.submit(answers_of, one, class_folder, course.homework(one.homework))

    waiting = iter(taken)
    under_way = deque(started(one) for one in islice(waiting, AHEAD))

    def in_turn() -> Iterator[tuple[TakenIn, Future]]:
        while under_way:
            yield under_way.popleft()
            under_way.extend(started(one) for one in islice(waiting, 1))

    return in_turn()


def _with_progress(running: Iterator, total: int) -> Iterator:
    """Pass on what is done in its order, with a line that grows where a person watches."""
    watched = sys.stderr.isatty()
    for count, one in enumerate(running, start=1):
        yield one
        if watched:
            filled = "█" * round(24 * count / total)
            end = "\n" if count == total else ""
            line = f"\rHand-ins run and marked: {filled:·<24} {count} of {total}"
            print(line, end=end, file=sys.stderr, flush=True)


def answers_of(one: TakenIn, class_folder: Path, files: HomeworkFiles) -> tuple[str, BoxOutcome]:
    """Run a hand-in in the box; where the same file was run before without trouble, take what it gave.

    Parameters
    ----------
    one : TakenIn
        Which
    class_folder : Path
        The class folder
    files : HomeworkFiles
        Its homework

    Returns
    -------
    tuple
        A name for what was run (hash of notebook, sheet and version), and the outcome

    Source
    ------
    Arrangement of this project.
    """
    content = hand_in_path(class_folder, one.student, one.homework).read_bytes()
    parts = (content, files.sheet_bytes, coldbench.__version__.encode())
    name = hashlib.sha256(b"".join(hashlib.sha256(part).digest() for part in parts)).hexdigest()
    before = read_record(record_path(class_folder, one.student, one.homework))
    if before and before["run"] == name and not before["box_troubles"]:
        return name, BoxOutcome(before["answers"], before["typed_student"], executed=before["executed"])
    return name, run_in_box(content, files.sheet_bytes)


@dataclass
class WholeClass:
    """What is the same for every hand-in of one marking.

    Attributes
    ----------
    class_folder : Path
        Where it lies
    course : Course
        The homeworks
    roster : dict of str to str
        Student number to name
    gradebook : Gradebook
        Open
    log : Log
        What the marks were before
    decisions : Decisions
        What the instructor decided
    keys : dict of str to Keys
        Homework to what is right for each student
    """

    class_folder: Path
    course: Course
    roster: dict[str, str]
    gradebook: Gradebook
    log: Log
    decisions: Decisions
    keys: dict[str, Keys]


def _record(one: TakenIn, run: tuple[str, BoxOutcome], whole_class: WholeClass) -> None:
    """Mark one hand-in, and write its record, its entry in the gradebook and its page for the form."""
    name, outcome = run
    class_folder, course = whole_class.class_folder, whole_class.course
    files, student = course.homework(one.homework), one.student
    path = hand_in_path(class_folder, student, one.homework)
    notebook = read_notebook(path.read_bytes())
    before = read_record(record_path(class_folder, student, one.homework))

    def mark(number: str, answers: dict) -> list[Mark]:
        return mark_homework(files.declaration, files.sheet, course.ideas, number, answers)

    marks, unmarked = marks_of(mark, student, outcome.answers)
    missing = [q for q in files.declaration.questions if q not in {*outcome.answers, *notebook.questions}]
    edition_ok = notebook.edition in (None, files.sheet.edition)
    changed = {m.question for m in marks if _is_new(m.question, one, outcome.answers, before, whole_class)}
    decisions = whole_class.decisions
    whole_class.gradebook.save(
        student,
        whole_class.roster[student],
        path.stem,
        taken_time(path),
        marks,
        changed,
        decisions.dropped(one.homework),
        decisions.regrades,
    )
    shown = class_folder / "autograded" / student / path.stem
    write_if_changed(
        shown / path.name, form_notebook(files.release, _wordings(files, student), outcome.answers)
    )
    write_if_changed(shown / "timestamp.txt", time_stamp(taken_time(path)))
    record = {
        "student": student,
        "homework": one.homework,
        "run": name,
        "typed_student": outcome.student,
        "executed": outcome.executed,
        "box_troubles": list(outcome.troubles),
        "intake": one.troubles,
        "troubles": cut_short(
            [
                *one.troubles,
                *other_versions(class_folder, student, one.homework),
                *_about_cells(missing, edition_ok, unmarked),
                *outcome.troubles,
            ]
        ),
        "edition_ok": edition_ok,
        "fits_student": fits_another(
            lambda number, answers: marks_of(mark, number, answers)[0],
            whole_class.keys[one.homework].fitting,
            student,
            [*whole_class.roster, outcome.student],
            outcome.answers,
            marks,
        ),
        "answers": outcome.answers,
        "marks": marks,
    }
    write_record(record_path(class_folder, student, one.homework), record)


def _is_new(question: str, one: TakenIn, answers: dict, before: dict | None, whole_class: WholeClass) -> bool:
    """Whether an answer is another than the one marked before, by its record or else by the log."""
    if before:
        return before["answers"].get(question) != answers.get(question)
    old = whole_class.log.marks.get((one.student, one.homework, question))
    behind = whole_class.course.homework(one.homework).answers_behind(question, answers)
    return old is None or not same_answers(old["answers"], digests(behind))


def _wordings(files: HomeworkFiles, student: str) -> dict[str, str]:
    """Every question as this student read it; for a sentence, also what earns its points."""
    wordings = {}
    for question, item in files.sheet.items.items():
        full = files.declaration.questions[question].full_marks
        text = item.text(files.sheet.numbers(student, question))
        wordings[question] = f"{text}\nFull points for: {full}" if full else text
    return wordings


def _about_cells(missing: list[str], edition_ok: bool, unmarked: list[str]) -> list[str]:
    troubles = []
    if missing:
        cells = (
            f"The cell of question {missing[0]} is"
            if len(missing) == 1
            else f"The cells of {', '.join(missing)} are"
        )
        troubles.append(
            f"{cells} missing and counts as not answered. Ask the student whether it was deleted by mistake; "
            "a fresh copy of the homework has it."
        )
    if not edition_ok:
        troubles.append(
            "The notebook was made from another edition of this homework, whose numbers may differ; it was "
            "marked with the present one. Compare the questions, or ask for answers in the present edition."
        )
    troubles += [
        f"The answer to question {question} broke the marking; mark it by hand." for question in unmarked
    ]
    return troubles


def marks_of(mark: Callable, student: str, answers: dict[str, object]) -> tuple[list[Mark], list[str]]:
    """Mark all answers; set aside an answer that breaks the marking, whatever it is.

    Parameters
    ----------
    mark : callable
        From student number and answers to the list of marks
    student : str
        Student number
    answers : dict
        Question to plain value

    Returns
    -------
    tuple
        The marks, and the questions whose answers were set aside

    Source
    ------
    Arrangement of this project.
    """
    try:
        return mark(student, answers), []
    except Exception:  # find which answer it was
        aside = [
            question for question in answers if not _can_mark(mark, student, {question: answers[question]})
        ]
        kept = {question: answer for question, answer in answers.items() if question not in aside}
        return mark(student, kept), aside


def _can_mark(mark: Callable, student: str, answers: dict) -> bool:
    try:
        mark(student, answers)
    except Exception:
        return False
    return True
