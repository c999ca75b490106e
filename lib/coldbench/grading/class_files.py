"""A class as it stands: read from its records and the gradebook, written as pages and tables.

Inside: `load_class` (records, with points as the gradebook has them), `write_pages` (a feedback page a
student, the class report with and without names, tables), `marks_table` (all marks as CSV).
"""

from __future__ import annotations

import csv
import io
from collections import Counter
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from coldbench.grading.arrival import later_time, taken_time
from coldbench.grading.changes import Lateness
from coldbench.grading.class_marking import record_path
from coldbench.grading.feedback import split_comment
from coldbench.grading.gradebook import Gradebook
from coldbench.grading.intake import HAND_INS, hand_in_path
from coldbench.grading.marks_log import digests, state
from coldbench.grading.plain_text import quoted
from coldbench.grading.results import ClassResults, HandIn, read_record, write_if_changed
from coldbench.grading.statistics import SET_FOR_ALL

if TYPE_CHECKING:
    from coldbench.grading.changes import Decisions
    from coldbench.grading.course_files import Course, HomeworkFiles
    from coldbench.grading.gradebook import GivenByHand
    from coldbench.grading.marks_log import Waiting
    from coldbench.homework.marking import Mark

REPORT, FEEDBACK, MARKS, CHANGES = "report", "feedback", "marks.csv", "changes.csv"

COLUMNS = ("student", "homework", "question", "points", "out_of", "outcome", "wrong_idea", "late")


def handed_in(class_folder: Path, roster: dict[str, str], homeworks: list[str]) -> list[tuple[str, str]]:
    """List what lies in the class folder.

    Parameters
    ----------
    class_folder : Path
        The class folder
    roster : dict of str to str
        Student number to name
    homeworks : list of str
        Homeworks of the course

    Returns
    -------
    list of tuple
        (student, homework), by homework, then by student

    Source
    ------
    Arrangement of this project.
    """
    every = [(student, homework) for homework in homeworks for student in sorted(roster)]
    return [pair for pair in every if hand_in_path(class_folder, *pair).is_file()]


def load_class(
    class_folder: Path, course: Course, roster: dict[str, str], decisions: Decisions, troubles: list[str]
) -> ClassResults:
    """Read the class as it stands: records for reasons, the gradebook for points, and what was decided.

    Parameters
    ----------
    class_folder : Path
        The class folder
    course : Course
        The homeworks
    roster : dict of str to str
        Student number to name
    decisions : Decisions
        When homework is due, what is dropped, what coming late costs
    troubles : list of str
        Sentences about files that belong to no hand-in

    Returns
    -------
    ClassResults
        Everything the class report tells about

    Source
    ------
    Arrangement of this project.
    """
    hand_ins = []
    lying = handed_in(class_folder, roster, course.numbers)
    homeworks = sorted({homework for _, homework in lying})
    with Gradebook(class_folder) as gradebook:
        given = {
            homework: gradebook.given_by_hand(f"homework-{homework}", decisions.regrades)
            for homework in homeworks
        }
        asked = _open_regrades(lying, roster, gradebook, decisions)
    lost: dict[str, dict[str, float]] = {homework: {} for homework in homeworks}
    for student, homework in lying:
        record = read_record(record_path(class_folder, student, homework))
        if record is None:
            continue
        by_hand = {m.question: given[homework].get((student, m.question)) for m in record["marks"]}
        reopened = [
            f"The answer to question {question} changed after its points were given by hand; it is open "
            "again in the form, with the points it had."
            for question, one in by_hand.items()
            if one and one.reopened
        ]
        path = hand_in_path(class_folder, student, homework)
        lateness = decisions.lateness(student, homework, taken_time(path))
        later = later_time(path)
        marks, states = _as_they_count(record, by_hand, decisions, lateness, course.homework(homework))
        on_time = []
        if lateness.share:
            on_time, _ = _as_they_count(record, by_hand, decisions, Lateness(), course.homework(homework))
            lost[homework][student] = round(sum(m.points for m in on_time) - sum(m.points for m in marks), 2)
        hand_ins.append(
            HandIn(
                student=student,
                name=roster[student],
                homework=homework,
                marks=marks,
                troubles=[*record["troubles"], *reopened],
                late=lateness.late,
                only_says=later is not None and decisions.lateness(student, homework, later) != lateness,
                edition_ok=record["edition_ok"],
                fits_student=record["fits_student"],
                notes=[f"It came late: {lateness.note.partition(' (')[0]}."] if lateness.note else [],
                states=states,
                on_time=on_time,
            )
        )
    with Gradebook(class_folder) as gradebook:
        for homework in decisions.costly(homeworks):
            gradebook.take_off(f"homework-{homework}", lost[homework])
    declarations = [course.homework(homework).declaration for homework in homeworks]
    missing = _missing(lying, roster, decisions.due)
    return ClassResults(declarations, hand_ins, roster, [*troubles, *asked, *missing])


def _open_regrades(
    lying: list[tuple[str, str]], roster: dict[str, str], gradebook: Gradebook, decisions: Decisions
) -> list[str]:
    """Say which answers students asked to look at again, where that was not done yet."""
    sentences = []
    for (student, question), one in decisions.regrades.items():
        cell = f"homework-{one['homework']}", student, question
        if (student, one["homework"]) in lying and gradebook.points_by_hand(*cell)[1]:
            said = quoted(one["reason"], 200)
            sentences.append(
                f"Homework {one['homework']}: {roster[student]} ({student}) asks to look at question "
                f"{question} again: {said}. Give its points in the form (change {one['number']})."
            )
    return sentences


def _as_they_count(
    record: dict,
    by_hand: dict[str, GivenByHand | None],
    decisions: Decisions,
    lateness: Lateness,
    files: HomeworkFiles,
) -> tuple[list[Mark], dict[str, dict]]:
    """Put points by hand and decisions on a record's marks; give these, and what the log keeps of them."""
    marks, states = [], {}
    for automatic in record["marks"]:
        question, given = automatic.question, by_hand[automatic.question]
        final, notes = decisions.on(given.on(automatic) if given else automatic, lateness)
        marks.append(final)
        states[question] = state(
            final,
            automatic,
            digests(files.answers_behind(question, record["answers"])),
            split_comment(automatic)[0],
            given.points if given and not given.reopened else None,
            notes,
        )
    return marks, states


def _missing(lying: list[tuple[str, str]], roster: dict[str, str], due: dict[str, datetime]) -> list[str]:
    """Say from whom nothing came, for each homework that was set for all."""
    counts = Counter(homework for _, homework in lying)
    sentences = []
    for homework, count in sorted(counts.items()):
        absent = [student for student in sorted(roster) if (student, homework) not in lying]
        if absent and (homework in due or count >= SET_FOR_ALL * len(roster)):
            named = ", ".join(f"{roster[student]} ({student})" for student in absent)
            sentences.append(
                f"Homework {homework}: nothing could be marked from {named}. Ask whether it was handed in."
            )
    return sentences


def write_pages(class_folder: Path, results: ClassResults, course: Course, waiting: list[Waiting]) -> None:
    """Write every feedback page, the class report and the tables; equal files are left untouched.

    A student's page on which a mark would change because its question changed stays as it is until it is
    released; everything that is the instructor's shows the new mark at once.

    Parameters
    ----------
    class_folder : Path
        The class folder
    results : ClassResults
        The class as it stands
    course : Course
        The homeworks
    waiting : list of Waiting
        Marks whose change is not released yet

    Source
    ------
    Arrangement of this project.
    """
    from coldbench.grading import class_report, feedback

    held = {(one.student, one.homework) for one in waiting}

    def write(place: str, text: str) -> None:
        write_if_changed(class_folder / place, text.encode())

    for hand_in in results.hand_ins:
        name = f"homework-{hand_in.homework}"
        declaration = course.homework(hand_in.homework).declaration
        page = feedback.page(hand_in, declaration, course.ideas)
        place = f"{FEEDBACK}/{hand_in.student}/{name}/{name}.html"
        if (hand_in.student, hand_in.homework) not in held or not (class_folder / place).is_file():
            write(place, page)
    write(f"{REPORT}/{class_report.WITH_NAMES}", class_report.page(results, course.ideas))
    write(f"{REPORT}/{class_report.WITHOUT_NAMES}", class_report.page(results, course.ideas, names=False))
    for name, table in class_report.tables(results, course.ideas).items():
        write(f"{REPORT}/{name}", table)
    write(f"{REPORT}/{CHANGES}", changes_table(waiting, results.roster))
    write(MARKS, marks_table(results))


def changes_table(waiting: list[Waiting], roster: dict[str, str]) -> str:
    """Write the marks whose change is not released yet as CSV.

    Parameters: ``waiting`` those marks; ``roster`` student number to name.
    Returns: student, name, homework, question, points and points out of, before and now, the reason.
    """
    text = io.StringIO()
    table = csv.writer(text, lineterminator="\n")
    sides = [(side, name) for side in ("before", "now") for name in ("points", "out_of", "outcome")]
    names = ("points_before", "out_of_before", "outcome_before", "points", "out_of", "outcome")
    table.writerow(("student", "name", "homework", "question", *names, "reason"))
    for one in waiting:
        figures = [getattr(one, side).get(name, "") for side, name in sides]
        plain = [f"{figure:g}" if isinstance(figure, float) else figure for figure in figures]
        who = one.student, roster.get(one.student, one.student)
        table.writerow((*who, one.homework, one.question, *plain, one.reason))
    return text.getvalue()


def marks_table(results: ClassResults) -> str:
    """Write all marks as CSV.

    Parameters
    ----------
    results : ClassResults
        The class as it stands

    Returns
    -------
    str
        student, homework, question, points, out_of, outcome, wrong_idea, late: one line a question; ideas
        that could not be told apart are joined by " | "

    Source
    ------
    Arrangement of this project.
    """
    text = io.StringIO()
    table = csv.writer(text, lineterminator="\n")
    table.writerow(COLUMNS)
    for one in results.hand_ins:
        for m in one.marks:
            figures = (f"{m.points:g}", f"{m.out_of:g}")
            ideas = " | ".join(m.wrong_ideas)
            late = "yes" if one.late else "no"
            table.writerow((one.student, one.homework, m.question, *figures, m.outcome, ideas, late))
    return text.getvalue()


def is_class_folder(folder: Path) -> bool:
    """Tell whether a folder holds hand-ins of a class.

    Parameters
    ----------
    folder : Path
        Any folder

    Returns
    -------
    bool
        Whether something was taken in there

    Source
    ------
    Arrangement of this project.
    """
    return (folder / HAND_INS).is_dir()
