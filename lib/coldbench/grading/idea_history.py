"""What became of wrong ideas: who held one, and whether that student's later homework still shows it.

Inside: `Holding` (one student, one idea, and what later homework says), `holdings` (all of a class),
`current_holders`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from coldbench.grading.statistics import counting

if TYPE_CHECKING:
    from coldbench.grading.results import ClassResults, HandIn

STILL_THERE, GONE, NOT_ASKED_AGAIN = "still there", "gone", "not asked again"
FREE_OF_IDEAS = ("right", "follow_through", "nearly", "slip")
"""Outcomes of an answer that was thought rightly."""


class Holding(NamedTuple):
    """A wrong idea in one student's work.

    Attributes
    ----------
    idea, student : str
        Id in the catalogue, student number
    shown : tuple of str
        Homeworks in which some answer follows from this idea alone
    now : str
        "still there", "gone", or "not asked again", by the latest later homework that tells
    """

    idea: str
    student: str
    shown: tuple[str, ...]
    now: str


def holdings(results: ClassResults) -> list[Holding]:
    """Follow every wrong idea of every student from homework to homework.

    A later homework says "still there" when an answer follows from the idea again, and "gone" when a
    question that could show it was thought rightly and none shows it. Otherwise it does not tell.

    Parameters: ``results`` of the class.
    Returns: `Holding` by idea, then by student.
    """
    declared = {homework.number: homework for homework in results.homeworks}
    found: dict[tuple[str, str], list[HandIn]] = {}
    by_student: dict[str, list[HandIn]] = {}
    for hand_in in sorted(results.hand_ins, key=lambda each: each.homework):
        by_student.setdefault(hand_in.student, []).append(hand_in)
        for idea in _shown(hand_in):
            found.setdefault((idea, hand_in.student), []).append(hand_in)
    holding = []
    for (idea, student), shown in sorted(found.items()):
        later = [each for each in by_student[student] if each.homework > shown[0].homework]
        told = [now for each in later if (now := _tells(each, idea, declared[each.homework]))]
        homeworks = tuple(dict.fromkeys(each.homework for each in shown))
        holding.append(Holding(idea, student, homeworks, told[-1] if told else NOT_ASKED_AGAIN))
    return holding


def _shown(hand_in: HandIn) -> set[str]:
    return {mark.wrong_ideas[0] for mark in counting(hand_in) if len(mark.wrong_ideas) == 1}


def _tells(hand_in: HandIn, idea: str, homework) -> str:
    """What one later hand-in says of an idea; nothing where it could not show, or may be one of several."""
    if idea in _shown(hand_in):
        return STILL_THERE
    if any(idea in mark.wrong_ideas for mark in counting(hand_in)):
        return ""
    free = any(
        mark.outcome in FREE_OF_IDEAS
        and mark.question in homework.questions
        and idea in {mistake.id for mistake in homework.questions[mark.question].mistakes}
        for mark in counting(hand_in)
    )
    return GONE if free else ""


def current_holders(holding: list[Holding]) -> dict[str, tuple[str, ...]]:
    """Say who may still hold an idea.

    Parameters: ``holding`` from `holdings`.
    Returns: idea to students, without those whose later work is free of it.
    """
    holders: dict[str, tuple[str, ...]] = {}
    for each in holding:
        if each.now != GONE:
            holders[each.idea] = (*holders.get(each.idea, ()), each.student)
    return holders
