"""From hand-ins in the class folder to records: boxes run side by side, answers marked, reasons kept.

Inside: `mark_hand_ins`, and what it is made of: `answers_of` (the box, or what it gave last time),
`marks_of` (the marking, one answer that breaks it set aside), `fits_another` (whose numbers fit better).
"""

from __future__ import annotations

import hashlib
import sys
from collections.abc import Callable, Iterable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import TYPE_CHECKING

import coldbench
from coldbench.grading.box import BoxOutcome, run_in_box
from coldbench.grading.form import form_notebook
from coldbench.grading.gradebook import Gradebook
from coldbench.grading.hand_in_file import read_notebook
from coldbench.grading.intake import TakenIn, hand_in_path, other_versions, taken_time
from coldbench.grading.results import read_record, write_if_changed, write_record
from coldbench.homework.marking import mark_homework

if TYPE_CHECKING:
    from datetime import datetime

    from coldbench.grading.course_files import Course, HomeworkFiles
    from coldbench.homework.marking import Mark

WORKERS = 2
FITS_BETTER = 3
"""So many more right answers with another student's numbers are worth a question."""

GOOD = ("right", "nearly")


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
    due: dict[str, datetime],
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
    due : dict of str to datetime
        When each homework is due

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
    with ThreadPoolExecutor(WORKERS) as pool:
        waiting = [pool.submit(answers_of, one, class_folder, course.homework(one.homework)) for one in taken]
        with Gradebook(class_folder) as gradebook:
            for number in sorted({one.homework for one in taken}):
                gradebook.declare(f"homework-{number}", course.homework(number).release, due.get(number))
            for one, outcome in zip(taken, _with_progress(waiting, "Hand-ins run and marked"), strict=True):
                try:
                    _record(one, outcome.result(), class_folder, course, roster, gradebook)
                except Exception as fault:  # one hand-in never stops the class
                    gradebook.undo()
                    troubles.append(
                        f"Homework {one.homework} of {one.student} could not be marked "
                        f"({type(fault).__name__}: {fault}). It is kept; mark it by hand and report this."
                    )
    return troubles


def _with_progress(waiting: list, words: str) -> Iterable:
    """Pass on what is done in its order, with a line that grows where a person watches."""
    watched = sys.stderr.isatty()
    for count, one in enumerate(waiting, start=1):
        yield one
        if watched:
            filled = "█" * round(24 * count / len(waiting))
            end = "\n" if count == len(waiting) else ""
            print(f"\r{words}: {filled:·<24} {count} of {len(waiting)}", end=end, file=sys.stderr, flush=True)


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


def _record(
    one: TakenIn,
    run: tuple[str, BoxOutcome],
    class_folder: Path,
    course: Course,
    roster: dict[str, str],
    gradebook: Gradebook,
) -> None:
    """Mark one hand-in, and write its record, its entry in the gradebook and its page for the form."""
    name, outcome = run
    files, student = course.homework(one.homework), one.student
    path = hand_in_path(class_folder, student, one.homework)
    notebook = read_notebook(path.read_bytes())
    before = read_record(record_path(class_folder, student, one.homework))
    mark = lambda number, answers: mark_homework(  # noqa: E731
        files.declaration, files.sheet, course.ideas, number, answers
    )
    marks, unmarked = marks_of(mark, student, outcome.answers)
    missing = [q for q in files.declaration.questions if q not in {*outcome.answers, *notebook.questions}]
    edition_ok = notebook.edition in (None, files.sheet.edition)
    old = (before or {}).get("answers", {})
    changed = {
        m.question for m in marks if before is None or old.get(m.question) != outcome.answers.get(m.question)
    }
    gradebook.save(student, roster[student], path.stem, taken_time(path), marks, changed)
    shown = class_folder / "autograded" / student / path.stem
    write_if_changed(
        shown / path.name, form_notebook(files.release, _wordings(files, student), outcome.answers)
    )
    write_if_changed(shown / "timestamp.txt", (path.parent / "timestamp.txt").read_bytes())
    record = {
        "student": student,
        "homework": one.homework,
        "run": name,
        "typed_student": outcome.student,
        "executed": outcome.executed,
        "box_troubles": list(outcome.troubles),
        "intake": one.troubles,
        "troubles": [
            *one.troubles,
            *other_versions(class_folder, student, one.homework),
            *_about_cells(missing, edition_ok, unmarked),
            *outcome.troubles,
        ],
        "edition_ok": edition_ok,
        "fits_student": fits_another(mark, student, [*roster, outcome.student], outcome.answers, marks),
        "answers": outcome.answers,
        "marks": marks,
    }
    write_record(record_path(class_folder, student, one.homework), record)


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


def fits_another(
    mark: Callable, student: str, others: Iterable[str | None], answers: dict, marks: list[Mark]
) -> str | None:
    """Find a student whose numbers these answers fit clearly better: a reason to ask, not a verdict.

    Parameters
    ----------
    mark : callable
        From student number and answers to the list of marks
    student : str
        Whose hand-in it is
    others : iterable of str or None
        Numbers of the class, and the one typed in the notebook
    answers : dict
        Question to plain value
    marks : list of Mark
        As marked with the student's own numbers

    Returns
    -------
    str or None
        The other student's number, when at least three more answers are right with it

    Source
    ------
    Arrangement of this project.
    """
    needed = sum(one.outcome in GOOD for one in marks) + FITS_BETTER
    if needed > sum(one.outcome != "not_answered" and one.outcome != "by_hand" for one in marks):
        return None
    best = (needed - 1, None)
    for other in sorted({number for number in others if number} - {student}):
        right = sum(one.outcome in GOOD for one in marks_of(mark, other, answers)[0])
        best = max(best, (right, other), key=lambda pair: pair[0])
    return best[1]
