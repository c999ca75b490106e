"""What to show at the next session: three things at most, leaning on the latest homework.

Inside: `next_session`, with a `Thing` for each: a wrong idea, or a hard question where ideas are few;
`latest_homework`, which is the one that enough of the class handed in.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from coldbench.grading.idea_history import current_holders, holdings
from coldbench.grading.statistics import held_ideas, of_homework, question_statistics, set_for_all

if TYPE_CHECKING:
    from coldbench.grading.results import ClassResults
    from coldbench.grading.statistics import HeldIdea, QuestionStatistics

THINGS_TO_SHOW = 3

EARLIER_WEIGHT = 0.5
"""An idea that the latest homework does not show weighs this much of one that it shows [-]."""

HARD_FACILITY = 0.5
"""Where too few ideas stand out, questions that earned less than this share are shown [-]."""


@dataclass(frozen=True)
class Thing:
    """One thing to show.

    Attributes
    ----------
    idea : HeldIdea or None
        The wrong idea
    question : QuestionStatistics or None
        The hard question, where no idea is behind it
    holders : tuple of str
        Students whose later work is not free of the idea
    homework : str
        The latest homework that showed it
    bench_sheet : str
        The printable sheet to use, in the project's folder
    weight : float
        How many hold it times the points that such an answer lost, less for earlier homework [points]
    """

    idea: HeldIdea | None
    question: QuestionStatistics | None
    holders: tuple[str, ...]
    homework: str
    bench_sheet: str
    weight: float


def latest_homework(results: ClassResults) -> str | None:
    """Tell which homework the class did last.

    Parameters: ``results`` of the class.
    Returns: the number of the last one that a quarter of the class handed in; failing that, of the last one
    handed in at all; None where there is none.
    """
    handed_in = [each.number for each in results.homeworks if of_homework(results, each.number)]
    return (set_for_all(results) or sorted(handed_in) or [None])[-1]


def next_session(results: ClassResults) -> list[Thing]:
    """Choose the things to show at the next session.

    Parameters: ``results`` of the class.
    Returns: up to three `Thing`: the heaviest wrong ideas that students still hold, those of the latest
    homework before others; where there are fewer, the hardest questions that no idea explains.
    """
    latest, holders = latest_homework(results), current_holders(holdings(results))
    sheets = {homework.number: _bench_sheet(homework) for homework in results.homeworks}
    things = []
    for idea in held_ideas(results):
        if who := holders.get(idea.id, ()):
            share = 1.0 if latest in idea.homeworks else EARLIER_WEIGHT
            number = idea.homeworks[-1]
            weight = share * len(who) * idea.points_lost
            things.append(Thing(idea, None, who, number, sheets[number], weight))
    things.sort(key=lambda thing: (-round(thing.weight, 6), -len(thing.holders), thing.idea.id))
    things = things[:THINGS_TO_SHOW]
    explained = {question for thing in things for question in thing.idea.questions}
    hard = [
        Thing(None, question, (), homework.number, sheets[homework.number], 0.0)
        for homework in results.homeworks
        for question in question_statistics(results, homework.number)
        if question.facility is not None
        and question.facility < HARD_FACILITY
        and question.question not in explained
    ]
    hard.sort(key=lambda thing: (thing.homework != latest, thing.question.facility, thing.question.question))
    return (things + hard)[:THINGS_TO_SHOW]


def _bench_sheet(homework) -> str:
    """The sheet lies in the lesson's folder."""
    return f"course/{homework.lesson.rstrip('/').rpartition('/')[2]}/bench-sheet.html"
