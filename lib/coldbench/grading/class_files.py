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

from coldbench.grading.class_marking import record_path
from coldbench.grading.gradebook import Gradebook
from coldbench.grading.intake import HAND_INS, hand_in_path, taken_time
from coldbench.grading.results import ClassResults, HandIn, read_record, write_if_changed

if TYPE_CHECKING:
    from coldbench.grading.course_files import Course

REPORT, FEEDBACK, MARKS = "report", "feedback", "marks.csv"
SET_FOR_ALL = 0.25
"""A homework that at least this share of the class handed in was set for all [-]."""

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
    class_folder: Path, course: Course, roster: dict[str, str], due: dict[str, datetime], troubles: list[str]
) -> ClassResults:
    """Read the class as it stands: records for reasons, the gradebook for points.

    Parameters
    ----------
    class_folder : Path
        The class folder
    course : Course
        The homeworks
    roster : dict of str to str
        Student number to name
    due : dict of str to datetime
        When each homework is due
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
        given = {homework: gradebook.given_by_hand(f"homework-{homework}") for homework in homeworks}
    for student, homework in lying:
        record = read_record(record_path(class_folder, student, homework))
        if record is None:
            continue
        by_hand = {q: one for (whose, q), one in given[homework].items() if whose == student}
        reopened = [
            f"The answer to question {question} changed after its points were given by hand; it is open "
            "again in the form, with the points it had."
            for question, one in by_hand.items()
            if one.reopened
        ]
        late = homework in due and taken_time(hand_in_path(class_folder, student, homework)) > due[homework]
        marks = [by_hand[m.question].on(m) if m.question in by_hand else m for m in record["marks"]]
        hand_ins.append(
            HandIn(
                student=student,
                name=roster[student],
                homework=homework,
                marks=marks,
                troubles=[*record["troubles"], *reopened],
                late=late,
                edition_ok=record["edition_ok"],
                fits_student=record["fits_student"],
            )
        )
    declarations = [course.homework(homework).declaration for homework in homeworks]
    missing = _missing(lying, roster, due)
    return ClassResults(declarations, hand_ins, roster, [*troubles, *missing])


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


def write_pages(class_folder: Path, results: ClassResults, course: Course) -> None:
    """Write every feedback page, the class report and the tables; equal files are left untouched.

    Parameters
    ----------
    class_folder : Path
        The class folder
    results : ClassResults
        The class as it stands
    course : Course
        The homeworks

    Source
    ------
    Arrangement of this project.
    """
    from coldbench.grading import class_report, feedback

    def write(place: str, text: str) -> None:
        write_if_changed(class_folder / place, text.encode())

    for hand_in in results.hand_ins:
        name = f"homework-{hand_in.homework}"
        declaration = course.homework(hand_in.homework).declaration
        page = feedback.page(hand_in, declaration, course.ideas)
        write(f"{FEEDBACK}/{hand_in.student}/{name}/{name}.html", page)
    write(f"{REPORT}/class-report.html", class_report.page(results, course.ideas))
    write(f"{REPORT}/class-report-without-names.html", class_report.page(results, course.ideas, names=False))
    for name, table in class_report.tables(results, course.ideas).items():
        write(f"{REPORT}/{name}", table)
    write(MARKS, marks_table(results))


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
