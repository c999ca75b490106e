"""Marking: from a student's answers to points, outcomes and reasons.

Pure functions of the declaration, the sheet and the answers. Nothing a student's code does reaches
them but the answers themselves, as plain values.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise
from math import floor, inf, isfinite, log10

from coldbench import units
from coldbench.errors import CannotRead
from coldbench.homework.declare import Homework, Mistake, Question
from coldbench.homework.kinds import Number, Order, Sentence, Table, is_blank, shorten
from coldbench.homework.sheet import Numbers, Sheet

SHARES = {"right": 1.0, "follow_through": 1.0, "nearly": 0.5, "slip": 0.5, "wrong_idea": 0.25}
"""Share of the points for each outcome; any other outcome has none, but orders and tables earn by parts."""

NEARLY = 1.5
"""An answer up to this many tolerances from the key is nearly right."""

SAME_THOUGHT = 0.35
"""An answer within this many tolerances of what an idea leads to is taken for that idea (roundings on
the way there are smaller); so is one that is that number rounded to two figures or more."""


@dataclass(frozen=True)
class Mark:
    """What one answer earned, and why.

    Attributes
    ----------
    question, outcome : str
        Id of the question; one of right, follow_through, nearly, slip, wrong_idea, partly, wrong,
        not_answered, not_understood, by_hand
    points, out_of : float
        Points earned, and to be had
    wrong_ideas : tuple of str
        Ids of the ideas that lead to this answer; more than one cannot be told apart
    answered, expected, comment, read_again, worked : str
        Plain text for the student's page
    waiting : bool
        Whether the instructor still has to read the answer and give its points
    """

    question: str
    points: float
    out_of: float
    outcome: str
    wrong_ideas: tuple[str, ...]
    answered: str
    expected: str
    comment: str
    read_again: str
    worked: str
    waiting: bool = False


@dataclass(frozen=True)
class Finding:
    """How an answer compares: outcome, share of the points, ideas behind it, a hint."""

    outcome: str
    share: float
    wrong_ideas: tuple[str, ...] = ()
    hint: str = ""


@dataclass
class Chain:
    """What is known of earlier questions: right answers, the student's own, and own ones not carried on."""

    right: dict[str, object] = field(default_factory=dict)
    own: dict[str, object] = field(default_factory=dict)
    impossible: set[str] = field(default_factory=set)

    def carried(self, question: Question) -> dict[str, object]:
        """Give the earlier answers as this student carries them on.

        Parameters: ``question`` that uses them.
        Returns: question id to value: own where there is one to carry, else right.
        """
        return self.right | {used: self.own[used] for used in question.uses if used in self.own}


def mark_homework(homework: Homework, sheet: Sheet, ideas: dict, student: str, answers: dict) -> list[Mark]:
    """Mark all answers of one student.

    Parameters: ``homework`` the declaration; ``sheet`` the half the student had; ``ideas`` the catalogue of
    wrong ideas; ``student`` the student number; ``answers`` question id to plain value (None or missing:
    not answered).
    Returns: one `Mark` a question, in order.
    """
    chain = Chain()
    return [
        _mark_one(
            question, sheet, ideas, sheet.numbers(student, question.id), chain, answers.get(question.id)
        )
        for question in homework.questions.values()
    ]


def _mark_one(
    question: Question, sheet: Sheet, ideas: dict, numbers: Numbers, chain: Chain, raw: object
) -> Mark:
    key = None if isinstance(question.kind, Sentence) else question.key_function(numbers, chain.right)
    if key is not None:
        chain.right[question.id] = key
    expected = "" if key is None else question.kind.show(key)
    shown, finding = "", Finding("not_answered", 0.0)
    if not is_blank(raw):
        try:
            understood = question.kind.read(raw)
        except CannotRead as refusal:
            shown, finding = shorten(raw), Finding("not_understood", 0.0, hint=str(refusal))
        else:
            shown = understood.value if isinstance(question.kind, Sentence) else understood.shown
            finding = compare(question, numbers, chain, key, understood)
            _carry(question, understood.value, chain)
    return Mark(
        question=question.id,
        points=round(finding.share * question.points, 2),
        out_of=question.points,
        outcome=finding.outcome,
        wrong_ideas=finding.wrong_ideas,
        answered=shown,
        expected=expected,
        comment=_comment(question, ideas, finding, key, expected),
        read_again=f"{sheet.lesson}: {question.read_again}",
        worked=question.worked_function(numbers, chain.right) if question.worked_function else "",
        waiting=finding.outcome == "by_hand",
    )


def compare(question: Question, numbers: Numbers, chain: Chain, key: object, understood) -> Finding:
    """Compare an answer with the key, with what follows from earlier answers, and with wrong ideas.

    Parameters: ``question`` it answers; ``numbers`` the student's; ``chain`` what is known of earlier
    questions; ``key`` the right answer; ``understood`` the answer.
    Returns: the `Finding`.
    """
    if isinstance(question.kind, Sentence):
        return Finding("by_hand", 0.0)
    if isinstance(question.kind, Number):
        return _compare_number(question, numbers, chain, key, understood)
    value = understood.value
    if value == key:
        return Finding("right", 1.0)
    if isinstance(question.kind, Table) and not value:
        return Finding("not_answered", 0.0)
    share = _part_share(question, key, value)
    held = _ideas_shown(question, numbers, chain.right, key, value)
    if held:
        return Finding("wrong_idea", max(SHARES["wrong_idea"], share), held)
    return Finding("partly" if share else "wrong", share)


def _compare_number(question: Question, numbers: Numbers, chain: Chain, key: float, understood) -> Finding:
    distance = _distance(question, key, understood.value)
    if distance <= 1:
        return Finding("right", 1.0)
    carried = chain.carried(question)
    starts, keys = [chain.right], [key]
    if carried != chain.right:
        starts.append(carried)
        follow = _try(question.key_function, numbers, carried)
        if follow is not None:
            keys.append(follow)
            if _distance(question, follow, understood.value) <= 1:
                return Finding("follow_through", SHARES["follow_through"])
    if distance <= NEARLY:
        return Finding("nearly", SHARES["nearly"])
    for earlier in starts:
        held = _held(question, numbers, earlier, key, understood)
        ideas = tuple(dict.fromkeys(mistake.id for mistake in held if not mistake.is_slip))
        if ideas:
            return Finding("wrong_idea", SHARES["wrong_idea"], ideas)
        if held:
            return Finding("slip", SHARES["slip"], hint=held[0].hint)
    for target in keys:
        hint = _unit_slip(question, target, understood)
        if hint:
            return Finding("slip", SHARES["slip"], hint=hint)
    lost = [used for used in question.uses if used in chain.impossible]
    hint = f"Your answer to {' and '.join(lost)} cannot be, so it was not carried on. " if lost else ""
    return Finding("wrong", 0.0, hint=hint)


def _held(question: Question, numbers: Numbers, earlier: dict, key: float, understood) -> list[Mistake]:
    """List the mistakes that lead to this number: those close to it, or else those that round to it."""
    answers = [(mistake, _try(mistake.function, numbers, earlier)) for mistake in question.mistakes]
    answers = [(mistake, answer) for mistake, answer in answers if answer is not None]
    reach = SAME_THOUGHT * question.tolerance.width(question.kind.in_unit(key))
    at = question.kind.in_unit(understood.value)
    near = [mistake for mistake, answer in answers if abs(question.kind.in_unit(answer) - at) <= reach]
    return near or [mistake for mistake, answer in answers if _rounds_to(question, answer, understood)]


def _rounds_to(question: Question, answer: float, understood) -> bool:
    typed = question.kind.in_unit(understood.value, understood.unit)
    exact = question.kind.in_unit(answer, understood.unit)
    return any(abs(rounded(exact, figures) - typed) <= 1e-9 * abs(typed) for figures in (2, 3))


def _carry(question: Question, value: object, chain: Chain) -> None:
    """Keep an answer for the questions that use it, unless it is physically impossible."""
    if _is_possible(question, value):
        chain.own[question.id] = value
    else:
        chain.impossible.add(question.id)


def _is_possible(question: Question, value: object) -> bool:
    """Whether an answer may be carried on to the next question."""
    low, high = question.possible
    return not isinstance(question.kind, Number) or low <= question.kind.in_unit(value) <= high


def _distance(question: Question, key: float, value: float) -> float:
    """Distance of an answer from a key, in tolerances."""
    middle, at = question.kind.in_unit(key), question.kind.in_unit(value)
    away = max(abs(at - middle) - 1e-9, 0.0)
    width = question.tolerance.width(middle)
    if width:
        return away / width
    return inf if away else 0.0


def rounded(number: float, figures: int) -> float:
    """Round to a number of figures.

    Parameters: ``number`` any; ``figures`` how many to keep.
    Returns: the rounded number.
    """
    if number == 0 or not isfinite(number):
        return number
    return round(number, figures - 1 - floor(log10(abs(number))))


def _unit_slip(question: Question, key: float, understood) -> str:
    """Say with which unit the typed number would have been right, if there is one."""
    typed = question.kind.in_unit(understood.value, understood.unit)
    written = units.UNITS[understood.unit]
    for name, unit in units.UNITS.items():
        if unit.kind == written.kind and name != understood.unit:
            other = units.to_si(typed, name, question.kind.atmosphere)
            if _distance(question, key, other) <= 1:
                bare = f"taken as {written.shown}" in understood.note
                found = f"{'it was taken as' if bare else 'you wrote'} {written.shown}"
                return f"The number is right if its unit is {unit.shown}, but {found}."
    return ""


def _try(function, numbers: Numbers, earlier: dict):
    """What a function answers, or None where its equations do not hold for these numbers."""
    try:
        return function(numbers, earlier)
    except (ValueError, ArithmeticError):
        return None


def _ideas_shown(
    question: Question, numbers: Numbers, earlier: dict, key: object, value: object
) -> tuple[str, ...]:
    """Ideas that lead to this choice, order or table; of a table's, only those that explain the most rows."""
    explained = {}
    for mistake in question.mistakes:
        answer = mistake.function(numbers, earlier)
        if isinstance(question.kind, Table):
            telling = {row for row in key if answer[row] != key[row]}
            shown = bool(telling) and all(value.get(row) == answer[row] for row in telling)
        else:
            telling, shown = {value}, value == answer
        if shown:
            explained[mistake.id] = telling
    return tuple(
        idea
        for idea, telling in explained.items()
        if not any(telling < others for others in explained.values())
    )


def _part_share(question: Question, key: object, value: object) -> float:
    """Part marks: rows of a table, neighbours of an order that follow each other as they should."""
    if isinstance(question.kind, Table):
        return sum(value.get(row) == key[row] for row in key) / len(key)
    if isinstance(question.kind, Order):
        pairs = set(pairwise(key))
        return len(pairs & set(pairwise(value))) / len(pairs)
    return 0.0


def _comment(question: Question, ideas: dict, finding: Finding, key: object, expected: str) -> str:
    if finding.outcome == "by_hand":
        return "Your instructor reads this one and gives its points."
    if finding.outcome == "not_answered":
        return "Not answered." + (f" Expected: {expected}." if expected else "")
    if finding.outcome == "not_understood":
        return f"Not understood: {finding.hint}"
    expects = f"Expected: {expected}"
    if isinstance(question.kind, Number):
        expects += f", give or take {_width_shown(question, key)} ({question.tolerance.because})"
    if finding.outcome == "wrong_idea":
        return f"{expects}. {_about(finding.wrong_ideas, ideas)}"
    sentences = {
        "right": f"Right. {expects}.",
        "follow_through": f"Right from your own earlier answer, so full points. {expects}.",
        "nearly": f"Just outside, so half the points. {expects}.",
        "slip": f"{expects}. {finding.hint}",
        "partly": f"Partly right. {expects}.",
        "wrong": f"{expects}. {finding.hint}Compare your steps with the worked answer.",
    }
    return sentences[finding.outcome]


def _width_shown(question: Question, key: float) -> str:
    """Write the tolerance with its unit; that of a gauge reading counts from nowhere, so it is plain psi."""
    width = question.tolerance.width(question.kind.in_unit(key))
    unit = units.UNITS[question.kind.unit].shown.split(" ")[0]
    return f"{rounded(width, 2):g} {'psi' if unit in ('psig', 'psia') else unit}".rstrip()


def _about(held: tuple[str, ...], ideas: dict) -> str:
    if len(held) > 1:
        listed = " or ".join(f"“{ideas[idea]['sentence']}”" for idea in held)
        return f"Your answer follows from one of these ideas, and this question cannot tell which: {listed}"
    row = ideas[held[0]]
    return (
        f"Your answer follows from the idea “{row['sentence']}” "
        f"It is tempting because {row['why_it_is_tempting']}. "
        f"What holds instead: {row['right']}."
    )
