"""The gradebook: points and comments in nbgrader's database.

Inside: `Gradebook` (declare a homework, save marks, read and give points by hand, the cost of coming late)
and `GivenByHand`. Points given by hand stay; where the answer has changed since, or where a student asked to
look again, the cell is opened again in the form.
"""

from __future__ import annotations

import json
import os
from collections.abc import Collection
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from coldbench.errors import CannotStart
from coldbench.grading.form import DATABASE, cell_name, graded_cells, question_name
from coldbench.grading.quick_nbgrader import load_nbgrader

if TYPE_CHECKING:
    from coldbench.homework.marking import Mark

MARKED_BY_HAND = "Read and marked by your instructor."
INERT = str.maketrans({"<": "‹", ">": "›"})
"""Comments are shown by others as they are, so they must not be able to hold markup."""


@dataclass(frozen=True)
class GivenByHand:
    """Points or words that the instructor gave in the form.

    Parameters
    ----------
    points : float or None
        Points, extra credit included [points]; None when only words were given
    comment : str
        The instructor's words, may be empty
    reopened : bool
        Whether the answer changed since, so that the cell waits in the form again

    Source
    ------
    Arrangement of this project.
    """

    points: float | None
    comment: str
    reopened: bool = False

    def on(self, mark: Mark) -> Mark:
        """Put these points and words in place of a mark's own.

        Parameters
        ----------
        mark : Mark
            As the marking made it

        Returns
        -------
        Mark
            As the student sees it

        Source
        ------
        Arrangement of this project.
        """
        if self.reopened:
            return mark
        if self.points is None:
            return replace(mark, comment=f"{mark.comment} {self.comment}")
        own = "" if mark.outcome in ("by_hand", "not_answered") else mark.comment
        words = " ".join(part for part in (self.comment or MARKED_BY_HAND, own) if part)
        return replace(mark, points=self.points, comment=words, waiting=False)


class Gradebook:
    """The class's gradebook, open until `close`.

    Parameters
    ----------
    class_folder : Path
        The class folder; the database is made where there is none

    Source
    ------
    The database is nbgrader's, through its own interface.
    """

    def __init__(self, class_folder: Path):
        load_nbgrader()
        from nbgrader.api import Gradebook as Database

        path = (class_folder / DATABASE).resolve()
        if not path.is_file() or not path.stat().st_size:
            _make_database(path)
        self._database = Database(f"sqlite:///{path}")

    def __enter__(self) -> Gradebook:
        return self

    def __exit__(self, *_) -> None:
        self.close()

    def close(self) -> None:
        """Close the database."""
        self._database.close()

    def undo(self) -> None:
        """Drop what was begun and not yet entered as a whole."""
        self._database.db.rollback()

    def declare(
        self, homework: str, release: bytes, due: datetime | None, dropped: Collection[str] = ()
    ) -> None:
        """Enter a homework with the cells and points of its release notebook; what is there stays.

        Parameters: ``homework`` folder name, for example "homework-05"; ``release`` the release notebook;
        ``due`` when it is due [UTC] or None; ``dropped`` questions that count for nobody.
        """
        from nbgrader.api import Assignment, GradeCell, MissingEntry, Notebook, SolutionCell, SourceCell

        book, session = self._database, self._database.db
        try:
            assignment = book.find_assignment(homework)
        except MissingEntry:
            assignment = Assignment(name=homework, course_id=book.course_id)
            session.add(assignment)
        assignment.duedate = due.replace(tzinfo=None) if due else None
        notebook = next((entry for entry in assignment.notebooks if entry.name == homework), None)
        if notebook is None:
            tree = json.loads(release)
            notebook = Notebook(name=homework, kernelspec=json.dumps(tree["metadata"].get("kernelspec", {})))
            assignment.notebooks.append(notebook)
            session.flush()
        grades = {cell.name: cell for cell in notebook.grade_cells}
        solutions = {cell.name for cell in notebook.solution_cells}
        sources = {cell.name: cell for cell in notebook.source_cells}
        for name, points, source in graded_cells(release):
            if name not in grades:
                grades[name] = GradeCell(name=name, max_score=points, cell_type="code", notebook=notebook)
                session.add(grades[name])
            grades[name].max_score = 0.0 if question_name(name) in dropped else points
            if name not in solutions:
                session.add(SolutionCell(name=name, notebook=notebook))
            if name not in sources:
                sources[name] = SourceCell(name=name, cell_type="code", notebook=notebook)
                session.add(sources[name])
            sources[name].source = source
        session.flush()
        self._set_aside(assignment, list(grades.values()), dropped)
        session.commit()

    def _set_aside(self, assignment, cells: list, dropped: Collection[str]) -> None:
        """Let points by hand on a dropped question count for nobody in nbgrader's totals, and back again.

        The points stay as they are; an extra credit of as much below zero, which the form itself lets nobody
        give, takes them out of every total.
        """
        from nbgrader.api import Grade, SubmittedAssignment, SubmittedNotebook
        from sqlalchemy import or_

        out = [cell.id for cell in cells if question_name(cell.name) in dropped]
        found = (
            self._database.db.query(Grade)
            .join(SubmittedNotebook, SubmittedNotebook.id == Grade.notebook_id)
            .join(SubmittedAssignment, SubmittedAssignment.id == SubmittedNotebook.assignment_id)
            .filter(SubmittedAssignment.assignment_id == assignment.id)
            .filter(or_(Grade.cell_id.in_(out), Grade.extra_credit < 0))
        )
        for grade in found:
            extra = grade.extra_credit or 0.0
            if grade.cell_id not in out:
                grade.extra_credit = None
            elif grade.manual_score is not None or extra > 0:
                own = grade.auto_score or 0.0 if grade.manual_score is None else grade.manual_score
                grade.manual_score = own + max(extra, 0.0)
                grade.extra_credit = -grade.manual_score or None

    def save(
        self,
        student: str,
        name: str,
        homework: str,
        time: datetime,
        marks: list[Mark],
        changed: set,
        dropped: Collection[str] = (),
        asked: Collection[tuple[str, str]] = (),
    ) -> None:
        """Enter one student's marks. Points given by hand stay, and stay finished unless the answer changed.

        Parameters
        ----------
        student, name : str
            Number and name as in the roster
        homework : str
            Folder name, for example "homework-05"
        time : datetime
            When it was handed in [UTC]
        marks : list of Mark
            Of all questions
        changed : set of str
            Questions whose answer differs from the one that was marked before
        dropped : collection of str
            Questions that count for nobody
        asked : collection of tuple
            (student, question) to look at again; a cell that is open for that stays open

        Source
        ------
        Arrangement of this project.
        """
        from nbgrader.api import MissingEntry

        book = self._database
        first, _, last = name.rpartition(" ")
        try:
            entry = book.find_student(student)
        except MissingEntry:
            entry = book.add_student(student)
        entry.first_name, entry.last_name = first or None, last
        notebook = self._notebook(student, homework, time)
        grades = {grade.cell_id: grade for grade in notebook.grades}
        comments = {comment.cell_id: comment for comment in notebook.comments}
        cells = {cell.name: cell for cell in notebook.notebook.grade_cells}
        texts = {cell.name: cell for cell in notebook.notebook.solution_cells}
        for mark in marks:
            cell = cell_name(mark.question)
            if cell not in cells:
                continue
            if mark.question in dropped:
                mark = replace(mark, points=0.0, outcome="dropped")
            is_asked = (student, mark.question) in asked
            _enter(grades[cells[cell].id], mark, mark.question in changed, is_asked)
            text = mark.comment.translate(INERT)
            if comments[texts[cell].id].auto_comment != text:
                comments[texts[cell].id].auto_comment = text
        book.db.commit()

    def _notebook(self, student: str, homework: str, time: datetime):
        """Find or make a student's entry for a homework, with a grade and a comment for every cell."""
        from nbgrader.api import Comment, Grade, MissingEntry

        book = self._database
        try:
            submission = book.find_submission(homework, student)
        except MissingEntry:
            with book.db.no_autoflush:
                submission = book.add_submission(homework, student)
        submission.timestamp = time.replace(tzinfo=None)
        notebook = next(entry for entry in submission.notebooks if entry.name == homework)
        graded = {grade.cell_id for grade in notebook.grades}
        commented = {comment.cell_id for comment in notebook.comments}
        for cell in notebook.notebook.grade_cells:
            if cell.id not in graded:
                book.db.add(Grade(cell_id=cell.id, notebook=notebook))
        for cell in notebook.notebook.solution_cells:
            if cell.id not in commented:
                book.db.add(Comment(cell_id=cell.id, notebook=notebook))
        book.db.flush()
        return notebook

    def given_by_hand(
        self, homework: str, asked: Collection[tuple[str, str]] = ()
    ) -> dict[tuple[str, str], GivenByHand]:
        """Read every point and word that was given by hand.

        Parameters: ``homework`` folder name; ``asked`` (student, question) to look at again: until that is
        done the points stand.
        Returns: (student, question) to `GivenByHand`, only where something was given.
        """
        given = {}
        entered = any(entry.name == homework for entry in self._database.assignments)
        for submission in self._database.assignment_submissions(homework) if entered else ():
            for notebook in submission.notebooks:
                words = {text.name: text.manual_comment or "" for text in notebook.comments}
                for grade in notebook.grades:
                    by_hand = grade.manual_score is not None or bool(grade.extra_credit)
                    comment = words.get(grade.name, "").strip()
                    if by_hand or comment:
                        points = _by_hand(grade) if by_hand else None
                        key = submission.student.id, question_name(grade.name)
                        is_open = grade.manual_score is not None and grade.needs_manual_grade
                        reopened = is_open and key not in asked
                        given[key] = GivenByHand(points, comment, reopened)
        return given

    def points_by_hand(self, homework: str, student: str, question: str) -> tuple[float | None, bool]:
        """Read the points of one question that were given by hand, and whether it is open in the form.

        Parameters: ``homework``, ``student``, ``question`` for example "homework-05", "s07", "05.3".
        Returns: the points, or None where none were given by hand [points]; whether the form waits for some.
        Raises: `CannotStart` when there is no such hand-in in the gradebook.
        """
        grade = self._grade(homework, student, question)
        return grade.manual_score, bool(grade.needs_manual_grade)

    def give_by_hand(
        self, homework: str, student: str, question: str, points: float | None, is_open: bool
    ) -> None:
        """Give points by hand, or take them back, and open or close the question in the form.

        Parameters: ``homework``, ``student``, ``question`` for example "homework-05", "s07", "05.3";
        ``points`` by hand, or None to leave those of the marking [points]; ``is_open`` whether the form shall
        wait for points.
        Raises: `CannotStart` when there is no such hand-in in the gradebook.
        """
        grade = self._grade(homework, student, question)
        grade.manual_score, grade.needs_manual_grade = points, is_open
        self._database.db.commit()

    def _grade(self, homework: str, student: str, question: str):
        from nbgrader.api import MissingEntry

        try:
            return self._database.find_grade(cell_name(question), homework, homework, student)
        except MissingEntry:
            raise CannotStart(
                f"Nothing of {student} with question {question} was marked yet. Run “coldbench mark” first."
            ) from None

    def open_in_form(self) -> dict[str, int]:
        """Count the answers that wait in the form for points by hand.

        Returns: folder name of a homework to how many; only homeworks in which some wait.
        """
        from nbgrader.api import Assignment, Grade, SubmittedAssignment, SubmittedNotebook
        from sqlalchemy import func

        found = (
            self._database.db.query(Assignment.name, func.count(Grade.id))
            .join(SubmittedAssignment, SubmittedAssignment.assignment_id == Assignment.id)
            .join(SubmittedNotebook, SubmittedNotebook.assignment_id == SubmittedAssignment.id)
            .join(Grade, Grade.notebook_id == SubmittedNotebook.id)
            .filter(Grade.needs_manual_grade)
            .group_by(Assignment.name)
        )
        return dict(sorted(found.all()))

    def take_off(self, homework: str, lost: dict[str, float]) -> None:
        """Enter what coming late cost.

        Parameters: ``homework`` folder name; ``lost`` student number to the points that are taken off
        [points].
        """
        for submission in self._database.assignment_submissions(homework):
            for notebook in submission.notebooks:
                points = lost.get(submission.student.id, 0.0)
                if (notebook.late_submission_penalty or 0.0) != points:
                    notebook.late_submission_penalty = points
        self._database.db.commit()


def _by_hand(grade) -> float:
    """Points by hand with extra credit; one below zero is none, it only sets a dropped question aside."""
    aside = grade.manual_score is not None and (grade.extra_credit or 0.0) < 0
    return float(grade.manual_score if aside else grade.score)


def _make_database(path: Path) -> None:
    """Make an empty database, whole or not at all, with the version of its tables, as nbgrader does."""
    from alembic.script import ScriptDirectory
    from nbgrader import api
    from sqlalchemy import create_engine, text

    version = ScriptDirectory(str(Path(api.__file__).parent / "alembic")).get_current_head()
    unfinished = path.with_suffix(".unfinished")
    unfinished.unlink(missing_ok=True)
    engine = create_engine(f"sqlite:///{unfinished}")
    with engine.begin() as connection:
        api.Base.metadata.create_all(connection)
        connection.execute(text("CREATE TABLE alembic_version (version_num VARCHAR(32) NOT NULL)"))
        connection.execute(text("INSERT INTO alembic_version VALUES (:version)"), {"version": version})
    engine.dispose()
    os.replace(unfinished, path)


def _enter(grade, mark: Mark, changed: bool, asked: bool) -> None:
    """Put one mark into the database; a cell finished by hand is opened again only by a changed answer."""
    by_hand = mark.outcome == "by_hand"
    points = None if by_hand else mark.points
    if grade.auto_score != points:
        grade.auto_score = points
    if grade.manual_score is None:
        grade.needs_manual_grade = by_hand or (asked and grade.needs_manual_grade)
    elif changed:
        grade.needs_manual_grade = True
