"""A machine's step written out as plain lines: the same equations, several times quicker.

What is inside: `straightened`, which gives for a plant a function that moves it on by many steps;
`step_by_step`, which gives the same function by the plant's own steps. The parts of a step are called once
with numbers that remember how they were worked out (`straight_line`); what they leave in the plant is its new
state (`straight_trace`), and that is written as plain lines of Python without a call, an attribute or a
branch that is not needed (`straight_text`). What the description alone decides is worked out once a run.

`Plant` stays what it is: the equations are read and changed there, and tests hold the two together to the
last bit. The lines belong to a shape of machine, not to its numbers: another charge, wear or severity of a
fault needs no new ones.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from coldbench.machine.plant import Plant, differ
from coldbench.machine.readings import readings
from coldbench.machine.straight_arrays import NAMES, ArrayLines
from coldbench.machine.straight_source import FloatLines
from coldbench.machine.straight_state import Walk
from coldbench.machine.straight_text import TAKEN, StepText
from coldbench.machine.straight_trace import TracedStep
from coldbench.operations import FloatOperations

__all__: list[str] = []

MOST_KEPT = 64  # shapes whose lines are kept
_kept: dict[tuple, tuple] = {}


def straightened(plant: Plant, step: float) -> Callable:
    """Give a function that moves a plant on by a number of steps, quicker than `Plant.step`.

    Parameters: ``plant`` at the start of its run; ``step`` length of every step [s].
    Returns: a function of ``steps`` to take, at least one; ``due``, after how many of them readings are to be
    taken, and ``stride``, after how many more each time; ``rows``, a list to which each taking adds the time
    and all `readings`. The very first step is taken by the plant itself: from then on it holds every number
    that it will ever hold.
    Raises: `NotStraight`, a `TypeError`, when the function is called: an equation asks "if" about a state, or
    the plant grew a new part.
    """
    ready = []

    def move(steps: int, due: int, stride: int, rows: list) -> None:
        if not ready:
            step_by_step(plant, step)(1, due, stride, rows)
            steps, due = steps - 1, due - 1 or stride
            prepare, run = _functions_for(plant, step)
            ready.extend((run, prepare(plant)))
        if steps:
            run, prepared = ready
            run(plant, prepared, steps, due, stride, rows)

    return move


def step_by_step(plant: Plant, step: float) -> Callable:
    """Give the function that `straightened` gives, by the plant's own steps: the same, slower.

    Parameters: ``plant`` and ``step`` as there.
    Returns: the function, of the same arguments.
    """
    taken = [take for _, _, take in readings(plant)]
    zero = 0.0 * plant.like  # gives every reading its column for each machine

    def move(steps: int, due: int, stride: int, rows: list) -> None:
        for _ in range(steps):
            plant.step(step)
            due -= 1
            if not due:
                rows.append((plant.time, *[take(plant) + zero for take in taken]))
                due = stride

    return move


def _functions_for(plant, step):
    """Find the lines for a plant of this shape, or write them."""
    walk = Walk(stands_for=[(plant.op, plant.op)])
    walk.through(plant, "plant")
    key = type(plant.op), step, tuple(walk.shape)
    if key not in _kept:
        if len(_kept) >= MOST_KEPT:
            del _kept[next(iter(_kept))]
        _kept[key] = _functions(plant, step)
    return _kept[key]


def lines_of(plant: Plant, step: float) -> str:
    """Write the two functions that `straightened` runs, as text.

    Parameters: ``plant`` which has taken its first step; ``step`` length of every step [s].
    Returns: the text.
    Raises: `NotStraight`, as `straightened`.
    """
    writer = FloatLines() if isinstance(plant.op, FloatOperations) else ArrayLines()
    return StepText(TracedStep(plant, step, TAKEN), step, writer).text()


def _functions(plant, step):
    names = _names_for(plant.op)
    lines = compile(lines_of(plant, step), "<a machine's step, written out>", "exec")
    exec(lines, names)  # noqa: S102  our own lines alone
    return names["prepare"], names["run"]


def _names_for(op) -> dict:
    """Whatever the lines call."""
    names = {name: getattr(op, name) for name in ("exp", "log", "sqrt", "where", "minimum", "maximum")}
    if not isinstance(op, FloatOperations):
        import numpy

        names |= {name: getattr(numpy, name) for name in NAMES}
    return names | {"inf": math.inf, "nan": math.nan, "differ": differ}
