"""How a fault is written down: the numbers that it changes, and the rules by which it changes them.

What is inside: `Change`, `Fault`, the rules, and `fault`, which writes one on few lines.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

__all__ = ["Change", "Fault"]


@dataclass(frozen=True, slots=True)
class Change:
    """One number that a fault changes.

    Attributes
    ----------
    part : str
        Field of the machine, such as "circuits" or "sensors"; "" for the machine itself
    name : str
        Name of the part within it; "" for every part that there is
    number : str
        Field of the part
    rule : callable
        Gives the new number from the old one and the severity
    """

    part: str
    name: str
    number: str
    rule: Callable[[float, float], float]


@dataclass(frozen=True, slots=True)
class Fault:
    """Something that is broken, worn or wrong.

    Attributes
    ----------
    name : str
        Short name in trade words
    sentence : str
        What is wrong, in one sentence
    severity_means : str
        What the severity stands for
    changes : tuple of Change
        Numbers that it changes
    moves : dict
        Readings that it moves on a machine that has them: "up", "down", or a short word, for people
    usual : float
        Severity where none is given [-]
    """

    name: str
    sentence: str
    severity_means: str
    changes: tuple[Change, ...]
    moves: dict[str, str]
    usual: float = 1.0


def less(share: float = 1.0):
    """Take away up to a share of the number."""
    return lambda old, severity: old * (1 - share * severity)


def more(most: float):
    """Add up to ``most`` times the number."""
    return lambda old, severity: old * (1 + most * severity)


def plus(most: float):
    """Add up to ``most``."""
    return lambda old, severity: old + most * severity


def towards(new: float):
    """Move towards a number, whatever the old one."""
    return lambda old, severity: old + (new - old) * severity


def break_wire(old: float, severity: float) -> float:
    """Break a wire: ohms without end."""
    return old + 1e12 * severity


def bridge(old: float, severity: float) -> float:
    """Bridge a sensor: from a damp connector to a dead short."""
    return 10 ** (12 - 11.5 * severity)


def fault(name, sentence, severity_means, changes, moves, usual=1.0):
    return Fault(name, sentence, severity_means, tuple(Change(*change) for change in changes), moves, usual)
