"""Questions that are themselves suspect: before a class is told that it was wrong, was the question right?

Inside: `suspects`, with a `Suspicion` for each reason: good students did no better here, its numbers leave
ideas apart that they should tell, wrong answers lie together with no idea behind them, many are just outside
the tolerance, many could not be read. All are hints to look, from small numbers.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from coldbench.errors import CannotRead
from coldbench.grading.page import shorten, signed
from coldbench.grading.statistics import counting, of_homework, question_statistics
from coldbench.homework.kinds import Number

if TYPE_CHECKING:
    from coldbench.grading.results import ClassResults
    from coldbench.homework.declare import Question
    from coldbench.homework.marking import Mark

FEWEST = 3
"""So many answers at least; fewer say nothing about a question."""

MANY = 0.15
"""Share of the answers from which "not told apart" and "not understood" count as many [-]."""

MANY_JUST_OUTSIDE = 0.2
"""Share of the answers within or just outside the tolerance that lie just outside [-]."""

TOGETHER = 0.5
"""Share of the unexplained wrong answers that lie together [-]. Where errors are spread evenly over 20
tolerances each way, chance alone brings at least so many together in 0.3 to 4 % of questions with 3 to 8
such answers (20,000 draws each)."""

REACH = 1.0
"""Answers this close to each other lie together [tolerances]."""


IN_SHORT = {
    "weak": "low discrimination: good students did hardly better",
    "not_told_apart": "ideas not told apart",
    "together": "ambiguous? wrong answers are alike",
    "tight": "tolerance too tight? many just outside",
    "not_understood": "many could not be read",
}
"""Kind of suspicion to a few words."""


@dataclass(frozen=True)
class Suspicion:
    """A reason to look at a question again.

    Attributes
    ----------
    homework, question, title : str
        Number of the homework, id of the question, its few words
    kind : str
        weak, not_told_apart, together, tight or not_understood
    words : str
        What was seen and what to look for, as sentences for the instructor
    """

    homework: str
    question: str
    title: str
    kind: str
    words: str

    @property
    def in_short(self) -> str:
        """The reason in a few words."""
        return IN_SHORT[self.kind]


def suspects(results: ClassResults, homework: str) -> list[Suspicion]:
    """Find the questions of a homework that deserve a look.

    Parameters: ``results`` of the class; ``homework`` its number.
    Returns: `Suspicion` in the order of the questions; one question may have several.
    """
    declared = next(each for each in results.homeworks if each.number == homework)
    marks: dict[str, list[Mark]] = {}
    for hand_in in of_homework(results, homework):
        for mark in counting(hand_in):
            marks.setdefault(mark.question, []).append(mark)
    found = []
    for figures in question_statistics(results, homework):
        question = declared.questions[figures.question]
        own = marks.get(figures.question, [])
        reasons = {
            "weak": _weak(figures),
            "not_told_apart": _not_told_apart(own),
            "together": _together(question, own),
            "tight": _tight(own),
            "not_understood": _not_understood(own),
        }
        found += [
            Suspicion(homework, question.id, question.title, kind, words)
            for kind, words in reasons.items()
            if words
        ]
    return found


def _weak(figures) -> str:
    if not figures.is_weak:
        return ""
    return (
        "Those who did well elsewhere did hardly better here "
        f"(discrimination {signed(figures.discrimination)}). Does the question ask what it means to ask?"
    )


def _not_told_apart(marks: list[Mark]) -> str:
    answered = sum(mark.outcome != "not_answered" for mark in marks)
    several = sum(len(mark.wrong_ideas) > 1 for mark in marks)
    if several < FEWEST or several < MANY * answered:
        return ""
    return (
        f"{several} of {answered} answers follow from more than one idea: its numbers do not tell them apart."
        " Other ranges might."
    )


def _together(question: Question, marks: list[Mark]) -> str:
    """Wrong answers that no idea explains and that are alike: by distance from the key, or the very same."""
    wrong = [mark for mark in marks if mark.outcome in ("wrong", "partly") and not mark.wrong_ideas]
    if isinstance(question.kind, Number):
        far = [(distance, mark) for mark in wrong if (distance := _distance(question, mark)) is not None]
        far.sort(key=lambda pair: pair[0])
        groups = [[pair for pair in far if 0 <= pair[0] - near <= REACH] for near, _ in far]
        group, total = max(groups, key=len, default=[]), len(far)
        alike = len(group)
        where = _example(*group[alike // 2]) if group else ""
    else:
        same = Counter(mark.answered for mark in wrong).most_common(1)
        (text, alike), total = same[0] if same else ("", 0), len(wrong)
        where = f"“{shorten(text)}”"
    if alike < FEWEST or alike < TOGETHER * total:
        return ""
    return (
        f"{alike} of {total} wrong answers that no idea explains are alike: {where}. Can the question be "
        "read in a second way, or is a wrong idea missing from the catalogue?"
    )


def _example(distance: float, mark: Mark) -> str:
    side = "above" if distance > 0 else "below"
    away = f"about {abs(distance):.3g} tolerances {side} the key"
    return f"{away} (for example {shorten(mark.answered)} where {mark.expected} was expected)"


def _distance(question: Question, mark: Mark) -> float | None:
    """How far an answer lies from its key, with its sign [tolerances]; None where that cannot be told."""
    kind = question.kind
    try:
        answer, key = (kind.in_unit(kind.read(text).value) for text in (mark.answered, mark.expected))
    except CannotRead:
        return None
    width = question.tolerance.width(key)
    return (answer - key) / width if width else None


def _tight(marks: list[Mark]) -> str:
    outside = sum(mark.outcome == "nearly" for mark in marks)
    inside = sum(mark.outcome in ("right", "follow_through") for mark in marks)
    if outside < FEWEST or outside < MANY_JUST_OUTSIDE * (inside + outside):
        return ""
    return f"{outside} answers lie just outside the tolerance, {inside} within it: is it too tight?"


def _not_understood(marks: list[Mark]) -> str:
    answered = sum(mark.outcome != "not_answered" for mark in marks)
    unread = sum(mark.outcome == "not_understood" for mark in marks)
    if unread < FEWEST or unread < MANY * answered:
        return ""
    return f"{unread} of {answered} answers could not be read: does the question say how to type it?"
