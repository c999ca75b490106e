"""Marking: from a student's answers to points, outcomes and reasons.

Pure functions of the declaration, the sheet and the answers. Nothing a student's code does reaches
them but the answers themselves, as plain values.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import floor, isfinite, log10

from coldbench import units
from coldbench.errors import CannotRead
from coldbench.homework.declare import Homework, Question
from coldbench.homework.kinds import Number, Order, Sentence, Table
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


@dataclass(frozen=True)
class Finding:
    """How an answer compares: outcome, share of the points, ideas behind it, a hint."""

    outcome: str
    share: float
    wrong_ideas: tuple[str, ...] = ()
    hint: str = ""


def mark_homework(homework: Homework, sheet: Sheet, ideas: dict, student: str, answers: dict) -> list[Mark]:
    """Mark all answers of one student.

    Parameters: ``homework`` the declaration; ``sheet`` the half the student had; ``ideas`` the catalogue of
    wrong ideas; ``student`` the student number; ``answers`` question id to plain value (None or missing:
    not answered).
    Returns: one `Mark` a question, in order.
    """
    own: dict[str, object] = {}
    right: dict[str, object] = {}
    marks = []
    for question in homework.questions.values():
        numbers = sheet.numbers(student, question.id)
        marks.append(_mark_one(question, sheet, ideas, numbers, (own, right), answers.get(question.id)))
    return marks


def _mark_one(
    question: Question, sheet: Sheet, ideas: dict, numbers: Numbers, chain: tuple, raw: object
) -> Mark:
    own, right = chain
    key = None if isinstance(question.kind, Sentence) else question.key_function(numbers, right)
    if key is not None:
        right[question.id] = key
    expected = "" if key is None else question.kind.show(key)
    worked = question.worked_function(numbers, right) if question.worked_function else ""
    shown, finding = "", None
    if raw is None or (isinstance(raw, str) and not raw.strip()):
        finding = Finding("not_answered", 0.0)
    else:
        try:
            understood = question.kind.read(raw)
            shown = understood.value if isinstance(question.kind, Sentence) else understood.shown
        except CannotRead as refusal:
            shown, finding = str(raw)[:200], Finding("not_understood", 0.0, hint=str(refusal))
    if finding is None:
        finding = compare(question, numbers, right, own, key, understood)
        if _is_possible(question, understood.value):
            own[question.id] = understood.value
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
        worked=worked,
    )


def compare(question: Question, numbers: Numbers, right: dict, own: dict, key: object, understood) -> Finding:
    """Compare an answer with the key, with what follows from earlier answers, and with wrong ideas.

    Parameters: ``question`` it answers; ``numbers`` the student's; ``right`` earlier keys; ``own`` the
    student's
    earlier answers; ``key`` the right answer; ``understood`` the answer.
    Returns: the `Finding`.
    """
    if isinstance(question.kind, Sentence):
        return Finding("by_hand", 0.0)
    value = understood.value
    if isinstance(question.kind, Number):
        return _compare_number(question, numbers, right, own, key, understood)
    if value == key:
        return Finding("right", 1.0)
    if isinstance(question.kind, Table) and not value:
        return Finding("not_answered", 0.0)
    held = _ideas_of(question, numbers, right, lambda answer: _same_thought(question, key, value, answer))
    share = _part_share(question, key, value)
    if held:
        return Finding("wrong_idea", max(SHARES["wrong_idea"], share), held)
    return Finding("partly" if share else "wrong", share)


def _compare_number(question, numbers, right, own, key, understood) -> Finding:
    distance = _distance(question, key, understood.value)
    if distance <= 1:
        return Finding("right", 1.0)
    carried = {used: own.get(used, right[used]) for used in question.uses}
    changed = any(carried[used] != right[used] for used in question.uses)
    earlier_own = {**right, **carried}
    if changed:
        follow = _try(lambda: question.key_function(numbers, earlier_own))
        if follow is not None and _distance(question, follow, understood.value) <= 1:
            return Finding("follow_through", 1.0)
    if distance <= NEARLY:
        return Finding("nearly", SHARES["nearly"])

    def same(answer) -> bool:
        return _same_number(question, key, understood, answer)

    for earlier in (right, earlier_own) if changed else (right,):
        held = _ideas_of(question, numbers, earlier, same)
        if held:
            return Finding("wrong_idea", SHARES["wrong_idea"], held)
    for earlier in (right, earlier_own) if changed else (right,):
        for mistake in question.mistakes:
            answer = _try(lambda: mistake.function(numbers, earlier)) if mistake.is_slip else None  # noqa: B023
            if answer is not None and same(answer):
                return Finding("slip", SHARES["slip"], hint=mistake.hint)
    unit = _unit_slip(question, key, understood)
    if unit:
        hint = (
            f"The number is right if its unit is {unit}, but you wrote {units.UNITS[understood.unit].shown}."
        )
        return Finding("slip", SHARES["slip"], hint=hint)
    return Finding("wrong", 0.0)


def _is_possible(question: Question, value: object) -> bool:
    """Whether an answer may be carried on to the next question."""
    low, high = question.possible
    return not isinstance(question.kind, Number) or low <= question.kind.in_unit(value) <= high


def _distance(question: Question, key: float, value: float) -> float:
    """Distance of an answer from a key, in tolerances."""
    middle, at = question.kind.in_unit(key), question.kind.in_unit(value)
    width = question.tolerance.width(middle)
    return (abs(at - middle) - 1e-9) / width if isfinite(at) else float("inf")


def _same_number(question: Question, key: float, understood, answer: float) -> bool:
    kind = question.kind
    width = question.tolerance.width(kind.in_unit(key))
    if abs(kind.in_unit(answer) - kind.in_unit(understood.value)) <= SAME_THOUGHT * width:
        return True
    typed = kind.in_unit(understood.value, understood.unit)
    expected = kind.in_unit(answer, understood.unit)
    return any(abs(rounded(expected, figures) - typed) <= 1e-9 * abs(typed) for figures in (2, 3))


def rounded(number: float, figures: int) -> float:
    """Round to a number of figures.

    Parameters: ``number`` any; ``figures`` how many to keep.
    Returns: the rounded number.
    """
    if number == 0 or not isfinite(number):
        return number
    return round(number, figures - 1 - floor(log10(abs(number))))


def _unit_slip(question: Question, key: float, understood) -> str:
    """Name the unit with which the typed number would have been right, if there is one."""
    typed = question.kind.in_unit(understood.value, understood.unit)
    quantity = units.UNITS[understood.unit].kind
    for name, unit in units.UNITS.items():
        if unit.kind == quantity and name != understood.unit:
            other = units.to_si(typed, name, question.kind.atmosphere)
            if _distance(question, key, other) <= 1:
                return unit.shown
    return ""


def _ideas_of(question: Question, numbers: Numbers, earlier: dict, same) -> tuple[str, ...]:
    held = []
    for mistake in question.mistakes:
        if not mistake.is_slip:
            answer = _try(lambda: mistake.function(numbers, earlier))  # noqa: B023
            if answer is not None and same(answer):
                held.append(mistake.id)
    return tuple(dict.fromkeys(held))


def _try(function):
    """What a function answers, or None where its equations do not hold for these numbers."""
    try:
        return function()
    except (ValueError, ZeroDivisionError, OverflowError):
        return None


def _same_thought(question: Question, key: object, value: object, answer: object) -> bool:
    if not isinstance(question.kind, Table):
        return value == answer
    telling = [row for row in answer if answer[row] != key[row]]
    return bool(telling) and all(value.get(row) == answer[row] for row in telling)


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
        width = question.tolerance.width(question.kind.in_unit(key))
        unit = units.UNITS[question.kind.unit].shown
        expects += f", give or take {rounded(width, 2):g} {unit} ({question.tolerance.because})".replace(
            " )", ")"
        )
    sentences = {
        "right": f"Right. {expects}.",
        "follow_through": "Right from your own earlier answer, so full points. "
        f"With the right earlier answer: {expected}.",
        "nearly": f"Just outside: half the points. {expects}.",
        "slip": f"{expects}. {finding.hint}",
        "partly": f"Partly right. {expects}.",
        "wrong": f"{expects}. Compare your steps with the worked answer.",
        "wrong_idea": f"{expects}. " + _about(finding.wrong_ideas, ideas),
    }
    return sentences[finding.outcome]


def _about(held: tuple[str, ...], ideas: dict) -> str:
    if len(held) > 1:
        listed = " or ".join(f"“{ideas[idea]['sentence']}”" for idea in held)
        return (
            f"Your answer follows from one of these ideas, which this question cannot tell apart: {listed}."
        )
    row = ideas[held[0]]
    return (
        f"Your answer follows from the idea “{row['sentence']}” "
        f"It tempts, because: {row['why_it_is_tempting']}. "
        f"What holds instead: {row['right']}."
    )
