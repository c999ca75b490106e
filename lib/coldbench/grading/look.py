"""A class for those who want to look further, in a notebook: plain lists of named tuples.

Inside: `open_class`, which reads a class folder and changes nothing in it, and `OpenClass` with its lists:
`Student`, `MarkRow`, `TotalRow`, `QuestionRow`, `IdeaRow`, `Holding`, `TroubleRow`.
"""

from __future__ import annotations

from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import coldbench
from coldbench.errors import CannotStart
from coldbench.grading import statistics
from coldbench.grading.changes import Decisions
from coldbench.grading.class_files import is_class_folder, load_class
from coldbench.grading.course_files import Course
from coldbench.grading.evening import kept_troubles
from coldbench.grading.idea_history import GONE, NOT_ASKED_AGAIN, STILL_THERE, Holding, holdings
from coldbench.grading.marks_log import Log
from coldbench.grading.roster import read_due, read_roster
from coldbench.grading.suspect_questions import suspects

if TYPE_CHECKING:
    from coldbench.grading.results import ClassResults


class Student(NamedTuple):
    """One student of the roster."""

    number: str
    name: str


class MarkRow(NamedTuple):
    """One answer with its mark.

    Attributes
    ----------
    student, homework, question, title : str
        Whose, and to what
    points, out_of : float
        Points earned, and to be had [points]
    outcome : str
        As in ``marks.csv``, for example "wrong_idea"
    wrong_ideas : tuple of str
        Ids of the ideas that lead to this answer; more than one cannot be told apart
    answered, expected : str
        In words of the question
    waiting, late : bool
        Whether its points are still to be given by hand; whether it came late
    """

    student: str
    homework: str
    question: str
    title: str
    points: float
    out_of: float
    outcome: str
    wrong_ideas: tuple[str, ...]
    answered: str
    expected: str
    waiting: bool
    late: bool


class TotalRow(NamedTuple):
    """One hand-in.

    Attributes
    ----------
    student, homework : str
        Whose, and which
    points, out_of : float
        Points earned, and to be had, without answers that are still to be read [points]
    share : float
        Share of the points [-]
    waiting : int
        How many answers are still to be read
    late : bool
        Whether it came late
    fits_student : str or None
        Another student whose numbers the answers fit better: a reason to ask, not a verdict
    """

    student: str
    homework: str
    points: float
    out_of: float
    share: float
    waiting: int
    late: bool
    fits_student: str | None


class QuestionRow(NamedTuple):
    """How a question went.

    Attributes
    ----------
    homework, question, title : str
        Which
    marked, waiting : int
        Answers whose points are known, and that are still to be read
    facility : float or None
        Mean share of the points earned [-]; None while answers wait
    discrimination : float or None
        Corrected item-rest correlation, -1 to 1 [-]; None where it cannot be told
    look_again : tuple of str
        Sentences why the question itself may be at fault
    """

    homework: str
    question: str
    title: str
    marked: int
    waiting: int
    facility: float | None
    discrimination: float | None
    look_again: tuple[str, ...]


class IdeaRow(NamedTuple):
    """A wrong idea across all homeworks.

    Attributes
    ----------
    id, sentence : str
        Id in the catalogue, and what it says
    students, questions, homeworks : tuple of str
        Who held it, where it showed
    points_lost : float
        What such an answer lost on average [points]
    still_there, gone, not_asked_again : int
        How many students, by what later homework says
    """

    id: str
    sentence: str
    students: tuple[str, ...]
    questions: tuple[str, ...]
    homeworks: tuple[str, ...]
    points_lost: float
    still_there: int
    gone: int
    not_asked_again: int


class TroubleRow(NamedTuple):
    """Something that was odd; ``student`` and ``homework`` are empty where it belongs to no hand-in."""

    student: str
    homework: str
    sentence: str


class OpenClass:
    """A class as it stands, in lists.

    Parameters: ``results`` of the class; ``ideas`` the catalogue of wrong ideas.
    """

    def __init__(self, results: ClassResults, ideas: dict[str, dict[str, str]]):
        self.results, self._catalogue = results, ideas

    @cached_property
    def students(self) -> list[Student]:
        """Everybody of the roster."""
        return [Student(number, name) for number, name in self.results.roster.items()]

    @cached_property
    def marks(self) -> list[MarkRow]:
        """Every answer, by homework, then by student, in the order of the questions."""
        titles = {
            question.id: question.title
            for homework in self.results.homeworks
            for question in homework.questions.values()
        }
        return [
            MarkRow(
                student=hand_in.student,
                homework=hand_in.homework,
                question=mark.question,
                title=titles.get(mark.question, ""),
                points=mark.points,
                out_of=mark.out_of,
                outcome=mark.outcome,
                wrong_ideas=mark.wrong_ideas,
                answered=mark.answered,
                expected=mark.expected,
                waiting=mark.waiting,
                late=hand_in.late,
            )
            for hand_in in self.results.hand_ins
            for mark in hand_in.marks
        ]

    @cached_property
    def totals(self) -> list[TotalRow]:
        """Every hand-in, by homework, then by student."""
        rows = []
        for each in self.results.hand_ins:
            total = statistics.total(each)
            sums = (total.points, total.out_of, total.share, total.waiting)
            rows.append(TotalRow(each.student, each.homework, *sums, each.late, each.fits_student))
        return rows

    @cached_property
    def questions(self) -> list[QuestionRow]:
        """Every question of the homeworks that were handed in, in their order."""
        rows = []
        for homework in self.results.homeworks:
            doubtful = suspects(self.results, homework.number)
            for one in statistics.question_statistics(self.results, homework.number):
                figures = (one.marked, one.waiting, one.facility, one.discrimination)
                why = tuple(each.words for each in doubtful if each.question == one.question)
                rows.append(QuestionRow(one.homework, one.question, one.title, *figures, why))
        return rows

    @cached_property
    def history(self) -> list[Holding]:
        """Who held which wrong idea, in which homeworks it showed, and what later homework says of it."""
        return holdings(self.results)

    @cached_property
    def ideas(self) -> list[IdeaRow]:
        """Wrong ideas, heaviest first: how many hold one times the points that such an answer lost."""
        rows = []
        for idea in statistics.held_ideas(self.results):
            now = [holding.now for holding in self.history if holding.idea == idea.id]
            counts = (now.count(STILL_THERE), now.count(GONE), now.count(NOT_ASKED_AGAIN))
            sentence = self._catalogue.get(idea.id, {}).get("sentence", "")
            places = (idea.holders, idea.questions, idea.homeworks)
            rows.append(IdeaRow(idea.id, sentence, *places, idea.points_lost, *counts))
        return rows

    @cached_property
    def troubles(self) -> list[TroubleRow]:
        """What was odd, about files and about hand-ins."""
        of_files = [TroubleRow("", "", sentence) for sentence in self.results.troubles]
        return of_files + [
            TroubleRow(hand_in.student, hand_in.homework, sentence)
            for hand_in in self.results.hand_ins
            for sentence in hand_in.troubles
        ]


def open_class(class_folder: str | Path, source: str | Path | None = None) -> OpenClass:
    """Open a class to look into it; nothing in its folder is changed.

    Parameters: ``class_folder`` of a class that was marked; ``source`` the project's folder, or None for the
    one that this package lies in.
    Returns: the `OpenClass`, as it stands now; open it again after marking.
    Raises: `CannotStart` when nothing was marked in the folder yet, or the project's folder has no homework.
    """
    folder = Path(class_folder)
    if not is_class_folder(folder):
        raise CannotStart(f"Nothing was marked in {folder} yet. Run “coldbench mark” first.")
    course = Course(Path(source) if source else Path(coldbench.__file__).resolve().parents[2])
    roster, due = read_roster(folder / "roster.csv"), read_due(folder / "due.csv")
    decisions = Decisions(Log(folder), due)
    return OpenClass(load_class(folder, course, roster, decisions, kept_troubles(folder)), course.ideas)
