"""Drawing personal numbers: a few hundred rows per chain in which every wrong idea shows itself.

A row is accepted when no wrong idea or slip lands within 1.5 tolerances of the key (so that none earns
more than its share) and any two wrong ideas stand apart, from each other and from the right number with
another unit, unless the question says that they cannot.
"""

from __future__ import annotations

import random
from itertools import combinations

from coldbench import units
from coldbench.errors import CannotStart
from coldbench.homework.declare import Homework, Mistake, Question
from coldbench.homework.kinds import Number, Sentence
from coldbench.homework.sheet import Numbers, Variable

ROWS = 300
TRIES = 60_000
CLEAR = 1.5


class Drawn:
    """What was drawn so far for one row: SI floats by name, hidden ones included."""

    def keep(self, name: str, number: float, unit: str) -> None:
        """Keep one number.

        Parameters: ``name`` of the variable; ``number`` drawn [in ``unit``]; ``unit`` its unit.
        """
        setattr(self, name, units.to_si(number, unit))


def accepted_draws(homework: Homework) -> dict[str, list[list[float]]]:
    """Draw the tables of a homework, the same ones on every run.

    Parameters: ``homework`` the declaration.
    Returns: chain to rows of numbers in the units of their variables; chains without personal numbers get
    one empty row.
    Raises: `CannotStart` when a chain's ranges give fewer than 20 rows in which its wrong ideas show, or
    two of its numbers have one name.
    """
    return {chain: _draw_chain(chain, questions) for chain, questions in homework.chains().items()}


def _draw_chain(chain: str, questions: list[Question]) -> list[list[float]]:
    variables = [variable for question in questions for variable in question.given()]
    names = [part.name for question in questions for part in question.draw]
    unfit = [name for name in names if names.count(name) > 1 or name in ("shown", "typed")]
    if unfit:
        raise CannotStart(f"In chain {chain} a number cannot be called {unfit[0]}: the name is taken.")
    if not variables:
        return [[]]
    source = random.Random(chain)  # noqa: S311 - a draw to be repeated, not a secret
    rows: list[list[float]] = []
    seen = set()
    for _ in range(TRIES):
        row = _one_row(questions, source)
        if row is not None and tuple(row) not in seen and faults(questions, variables, row) == []:
            seen.add(tuple(row))
            rows.append(row)
            if len(rows) == ROWS:
                break
    if len(rows) < 20:
        raise CannotStart(
            f"Chain {chain} gives only {len(rows)} accepted draws. Widen its ranges in questions.py."
        )
    return rows


def _one_row(questions: list[Question], source: random.Random) -> list[float] | None:
    drawn = Drawn()
    row = []
    for question in questions:
        for part in question.draw:
            try:
                number = part.draw(source, drawn)
            except ValueError:
                return None
            drawn.keep(part.name, number, part.unit)
            if not part.hidden:
                row.append(number)
        if question.accept is not None and not question.accept(drawn):
            return None
    return row


def faults(questions: list[Question], variables: list[Variable], row: list[float]) -> list[str]:
    """Say what speaks against a row.

    Parameters: ``questions`` of the chain; ``variables`` that the row holds; ``row`` the numbers.
    Returns: sentences; none when the row is accepted.
    """
    numbers = Numbers(variables, row)
    found: list[str] = []
    earlier: dict[str, object] = {}
    for question in questions:
        if isinstance(question.kind, Sentence):
            continue
        try:
            key = question.key_function(numbers, earlier)
            answers = [(mistake, mistake.function(numbers, earlier)) for mistake in question.mistakes]
        except (ValueError, ArithmeticError) as fault:
            return [*found, f"{question.id}: {fault}"]
        earlier[question.id] = key
        found += _not_apart(question, key, answers)
    return found


def _not_apart(question: Question, key: object, answers: list[tuple[Mistake, object]]) -> list[str]:
    found = [
        f"{question.id}: {mistake.id} lands on the key"
        for mistake, answer in answers
        if _near(question, key, key, answer)
    ]
    for (one, first), (other, second) in combinations(answers, 2):
        together = one.id == other.id or (one.is_slip and other.is_slip)
        if not together and not _alike(question, one.id, other.id) and _near(question, key, first, second):
            found.append(f"{question.id}: {one.id} and {other.id} answer alike")
    ideas = [(mistake, answer) for mistake, answer in answers if not mistake.is_slip]
    for unit, slipped in _with_wrong_unit(question, key) if ideas else ():
        found += [
            f"{question.id}: {mistake.id} answers like the right number of {unit}"
            for mistake, answer in ideas
            if not _alike(question, mistake.id, "unit") and _near(question, key, slipped, answer)
        ]
    return found


def _alike(question: Question, one: str, other: str) -> bool:
    return frozenset((one, other)) in question.alike


def _with_wrong_unit(question: Question, key: object) -> list[tuple[str, float]]:
    """List what the right number of each other unit would be, taken in the question's unit."""
    if not isinstance(question.kind, Number):
        return []
    asked, atmosphere = question.kind.unit, question.kind.atmosphere
    kind = units.UNITS[asked].kind
    others = [name for name, unit in units.UNITS.items() if unit.kind == kind and name != asked]
    return [(name, units.to_si(units.from_si(key, name, atmosphere), asked, atmosphere)) for name in others]


def _near(question: Question, key: object, first: object, second: object) -> bool:
    if not isinstance(question.kind, Number):
        return first == second
    one, other = question.kind.in_unit(first), question.kind.in_unit(second)
    return abs(one - other) <= CLEAR * question.tolerance.width(question.kind.in_unit(key))
