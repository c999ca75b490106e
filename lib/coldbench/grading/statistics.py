"""What a class's marks say: how hard a question was, which ideas are held, who needs a word.

Inside: `question_statistics` (facility and discrimination), `held_ideas` and `not_told_apart` (wrong
ideas across questions and homeworks), `totals` and `needs_a_word` (students), `set_for_all`. Everybody
counts once: ideas are counted per student, not per answer.
"""

from __future__ import annotations

import statistics as standard
from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from coldbench.grading.results import ClassResults, HandIn
    from coldbench.homework.marking import Mark

FEWEST_FOR_DISCRIMINATION = 8
"""With fewer hand-ins a correlation says more about chance than about the question."""

WEAK_DISCRIMINATION = 0.2
"""Below this a question deserves a second look (Ebel and Frisbie, 1991, from memory)."""

LOW_SHARE = 0.5
"""A student below this share of a homework's points may need a word."""

FALL_SHARE = 0.2
"""So may one who fell by this share of the points more than the class did."""

SET_FOR_ALL = 0.25
"""A homework that at least this share of the class handed in was set for all [-]."""


@dataclass(frozen=True)
class QuestionStatistics:
    """How a question went in a class.

    Attributes
    ----------
    homework, question, title : str
        Number of the homework, id of the question, its few words
    marked, waiting : int
        Hand-ins whose points for this question are known, and that the instructor still has to read
    facility : float or None
        Mean share of the points earned by those who handed in [-]; None while answers wait to be read, or
        where the question counts for nobody
    discrimination : float or None
        Corrected item-rest correlation, -1 to 1 [-]; None while answers wait, with fewer than 8 hand-ins,
        or where all earned the same on the question or on the rest
    outcomes : Counter
        How many answers had each outcome
    """

    homework: str
    question: str
    title: str
    marked: int
    waiting: int
    facility: float | None
    discrimination: float | None
    outcomes: Counter

    @property
    def is_weak(self) -> bool:
        """Whether good and weak students did alike, so that the question itself deserves a look."""
        return self.discrimination is not None and self.discrimination < WEAK_DISCRIMINATION


@dataclass(frozen=True)
class HeldIdea:
    """A wrong idea that somebody's answers certainly follow from.

    Attributes
    ----------
    id : str
        Id in the catalogue
    holders : tuple of str
        Students who hold it, each once
    questions : tuple of str
        Questions that showed it
    homeworks : tuple of str
        Homeworks that showed it
    points_lost : float
        What such an answer lost on average [points]
    """

    id: str
    holders: tuple[str, ...]
    questions: tuple[str, ...]
    homeworks: tuple[str, ...]
    points_lost: float

    @property
    def weight(self) -> float:
        """How many hold it times the points that such an answer lost [points]."""
        return len(self.holders) * self.points_lost


@dataclass(frozen=True)
class Undecided:
    """Answers that follow from more than one idea, so that nobody is said to hold either."""

    question: str
    ideas: tuple[str, ...]
    students: tuple[str, ...]


@dataclass(frozen=True)
class Total:
    """One student's points in one homework.

    Attributes
    ----------
    points, out_of : float
        Points earned, and to be had, among the questions whose points are known [points]
    waiting : int
        Questions that the instructor still has to read
    """

    points: float
    out_of: float
    waiting: int

    @property
    def share(self) -> float:
        """Share of the points [-], 0 where none can be had yet."""
        return self.points / self.out_of if self.out_of else 0.0


@dataclass(frozen=True)
class NeedsWord:
    """Who needs a word, by reason.

    Attributes
    ----------
    missing : dict
        Homework that was set for all to the students who did not hand it in
    slipping : dict
        Student to the shares of the points before and in the latest homework [-]
    low : dict
        Student to the share of the points in the latest homework [-]
    troubled : dict
        Student to the homeworks whose file had a trouble
    """

    missing: dict[str, tuple[str, ...]]
    slipping: dict[str, tuple[float, float]]
    low: dict[str, float]
    troubled: dict[str, tuple[str, ...]]


def of_homework(results: ClassResults, homework: str) -> list[HandIn]:
    """Pick the hand-ins of one homework.

    Parameters: ``results`` of the class; ``homework`` its number.
    Returns: its hand-ins.
    """
    return [hand_in for hand_in in results.hand_ins if hand_in.homework == homework]


def counting(hand_in: HandIn) -> list[Mark]:
    """Pick the marks that count; a question that was dropped has no points to be had, and says nothing.

    Parameters: ``hand_in`` one student's.
    Returns: its marks of questions that count, as answered: what coming late cost says nothing of a question.
    """
    return [mark for mark in hand_in.as_answered if mark.out_of]


def set_for_all(results: ClassResults) -> list[str]:
    """Tell which homeworks were set for the whole class, not just begun early by a few.

    Parameters: ``results`` of the class.
    Returns: the numbers of those that at least a quarter of the roster handed in, in order.
    """
    least = SET_FOR_ALL * len(results.roster)
    counts = {homework.number: len(of_homework(results, homework.number)) for homework in results.homeworks}
    return [number for number, count in sorted(counts.items()) if count and count >= least]


def total(hand_in: HandIn) -> Total:
    """Add up a hand-in; answers still to be read by hand are left out on both sides.

    Parameters: ``hand_in`` one student's.
    Returns: its `Total`.
    """
    known = [mark for mark in hand_in.marks if not mark.waiting]
    points = round(sum(mark.points for mark in known), 2)
    return Total(points, sum(mark.out_of for mark in known), len(hand_in.marks) - len(known))


def totals(results: ClassResults) -> dict[str, dict[str, Total]]:
    """Add up every hand-in of a class.

    Parameters: ``results`` of the class.
    Returns: homework to student to `Total`; who did not hand in is not there.
    """
    return {
        homework.number: {
            hand_in.student: total(hand_in) for hand_in in of_homework(results, homework.number)
        }
        for homework in results.homeworks
    }


def discrimination(scores: list[float], rests: list[float]) -> float | None:
    r"""Correlate a question's points with the points of the rest of the homework.

    .. math:: r = \frac{\sum_i (x_i - \bar x)(y_i - \bar y)}
              {\sqrt{\sum_i (x_i - \bar x)^2 \sum_i (y_i - \bar y)^2}}

    The question's own points are left out of the rest: a correlation with the whole would count them
    twice and flatter the question. 1: who did well elsewhere did well here; 0: no relation; below 0: who
    did well elsewhere did worse here.

    Parameters
    ----------
    scores : list of float
        Points for the question x, one a hand-in [points]
    rests : list of float
        Points for all other questions y of the same hand-in [points]

    Returns
    -------
    float or None
        Corrected item-rest correlation, -1 to 1 [-]; valid from 8 hand-ins, otherwise None, as where
        one side has no spread

    References
    ----------
    Crocker and Algina, Introduction to Classical and Modern Test Theory (1986), chapter on item
    analysis; Nunnally and Bernstein, Psychometric Theory (3rd edition, 1994), corrected item-total
    correlation. Both from memory.

    Examples
    --------
    >>> round(discrimination([0, 0, 1, 1, 2, 2, 3, 3], [1, 2, 3, 4, 5, 6, 7, 8]), 3)
    0.976
    >>> discrimination([1, 1, 1, 1, 1, 1, 1, 1], [1, 2, 3, 4, 5, 6, 7, 8]) is None
    True
    """
    if len(scores) < FEWEST_FOR_DISCRIMINATION or len(set(scores)) < 2 or len(set(rests)) < 2:
        return None
    return standard.correlation(scores, rests)


def question_statistics(results: ClassResults, homework: str) -> list[QuestionStatistics]:
    """Say how each question of a homework went.

    Parameters: ``results`` of the class; ``homework`` its number.
    Returns: one `QuestionStatistics` a question, in the homework's order.
    """
    declared = next(each for each in results.homeworks if each.number == homework)
    hand_ins = of_homework(results, homework)
    return [_one_question(declared, question, hand_ins) for question in declared.questions]


def _one_question(declared, question: str, hand_ins: list[HandIn]) -> QuestionStatistics:
    scores, rests, shares, outcomes, waiting = [], [], [], Counter(), 0
    for hand_in in hand_ins:
        counted = counting(hand_in)
        mark = next((mark for mark in counted if mark.question == question), None)
        if mark is None:
            continue
        if mark.waiting:
            waiting += 1
            continue
        scores.append(mark.points)
        rests.append(round(sum(one.points for one in counted if not one.waiting) - mark.points, 2))
        shares.append(mark.points / mark.out_of)
        outcomes[mark.outcome] += 1
    return QuestionStatistics(
        homework=declared.number,
        question=question,
        title=declared.questions[question].title,
        marked=len(scores),
        waiting=waiting,
        facility=standard.fmean(shares) if shares and not waiting else None,
        discrimination=None if waiting else discrimination(scores, rests),
        outcomes=outcomes,
    )


def held_ideas(results: ClassResults, homework: str | None = None) -> list[HeldIdea]:
    """Rank the wrong ideas that answers certainly follow from.

    Parameters: ``results`` of the class; ``homework`` one homework's number, or None for all.
    Returns: `HeldIdea` by weight, heaviest first; answers that fit several ideas are not counted here.
    """
    found: dict[str, list[tuple[str, str, Mark]]] = {}
    for hand_in in results.hand_ins:
        if homework in (None, hand_in.homework):
            for mark in counting(hand_in):
                if len(mark.wrong_ideas) == 1:
                    found.setdefault(mark.wrong_ideas[0], []).append(
                        (hand_in.student, hand_in.homework, mark)
                    )
    ideas = [
        HeldIdea(
            id=idea,
            holders=tuple(sorted({student for student, _, _ in shown})),
            questions=tuple(sorted({mark.question for _, _, mark in shown})),
            homeworks=tuple(sorted({number for _, number, _ in shown})),
            points_lost=standard.fmean(mark.out_of - mark.points for _, _, mark in shown),
        )
        for idea, shown in found.items()
    ]
    return sorted(ideas, key=lambda idea: (-round(idea.weight, 6), -len(idea.holders), idea.id))


def not_told_apart(results: ClassResults, homework: str | None = None) -> list[Undecided]:
    """Collect answers that follow from more than one idea.

    Parameters: ``results`` of the class; ``homework`` one homework's number, or None for all.
    Returns: `Undecided` by question, then by ideas.
    """
    found: dict[tuple, list[str]] = {}
    for hand_in in results.hand_ins:
        if homework in (None, hand_in.homework):
            for mark in counting(hand_in):
                if len(mark.wrong_ideas) > 1:
                    found.setdefault((mark.question, mark.wrong_ideas), []).append(hand_in.student)
    return [Undecided(*key, tuple(dict.fromkeys(students))) for key, students in sorted(found.items())]


def needs_a_word(results: ClassResults) -> NeedsWord:
    """Say who needs a word, and why.

    A student is slipping who, in the latest homework that was handed in, fell below the mean of the earlier
    ones by 20 % of the points more than the class did (the class: median of everybody's change). A hand-in
    whose answers fit another student's numbers says nothing about that, and is left out.

    Parameters: ``results`` of the class.
    Returns: `NeedsWord`.
    """
    by_homework, everybodys = totals(results), set_for_all(results)
    missing = {
        number: tuple(student for student in results.roster if student not in handed_in)
        for number, handed_in in by_homework.items()
        if number in everybodys
    }
    anothers = {(each.student, each.homework) for each in results.hand_ins if each.fits_student}
    shares: dict[str, list[float]] = {}
    for number, handed_in in by_homework.items():
        for student, sum_ in handed_in.items():
            if sum_.out_of and (student, number) not in anothers:
                shares.setdefault(student, []).append(sum_.share)
    changes = {
        student: (standard.fmean(own[:-1]), own[-1]) for student, own in shares.items() if len(own) > 1
    }
    usual = standard.median(now - before for before, now in changes.values()) if changes else 0.0
    slipping = {
        student: (before, now)
        for student, (before, now) in changes.items()
        if now - before - min(usual, 0.0) <= -FALL_SHARE
    }
    low = {
        student: own[-1] for student, own in shares.items() if own[-1] < LOW_SHARE and student not in slipping
    }
    troubled: dict[str, tuple[str, ...]] = {}
    for hand_in in results.hand_ins:
        if hand_in.troubles:
            troubled[hand_in.student] = (*troubled.get(hand_in.student, ()), hand_in.homework)
    return NeedsWord({number: who for number, who in missing.items() if who}, slipping, low, troubled)
