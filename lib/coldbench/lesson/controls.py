"""Controls of a live picture: a slider over stops, a choice among a few words.

Every control is a row of stops, each with the value in SI that the picture is computed from and the
text that is shown and read aloud. So the browser always has the right words at once, and Python only
ever receives the number of a stop.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from coldbench.units import UNITS, to_si


@dataclass(frozen=True)
class Control:
    """One control: its stops, their texts, and where it starts.

    Parameters
    ----------
    name : str
        The argument of the drawing function that it sets
    label : str
        What stands beside it
    values : tuple
        What the drawing function is given at each stop [SI]
    texts : tuple of str
        What is shown and read aloud at each stop
    start : int
        Number of the first stop [-]
    form : str
        "slider" or "choice"

    Source
    ------
    Arrangement of this project.
    """

    name: str
    label: str
    values: tuple[Any, ...]
    texts: tuple[str, ...]
    start: int
    form: str


def slider(
    name: str,
    label: str,
    low: float,
    high: float,
    step: float,
    start: float,
    unit: str,
    show: Callable[[float], str] | None = None,
) -> Control:
    """Make a slider that runs from low to high in steps.

    Parameters
    ----------
    name : str
        The argument of the drawing function that it sets; it receives SI
    label : str
        What stands beside it, without the unit
    low, high, step, start : float
        Ends, step and first position [in ``unit``]
    unit : str
        Unit of the slider, as `coldbench.units` knows it
    show : callable, optional
        Gives the text of a stop from its value [SI]; left out: the number and the unit

    Returns
    -------
    Control
        The slider

    Raises
    ------
    ValueError
        The first position is not one of the stops.

    Source
    ------
    Arrangement of this project.
    """
    stops = [round(low + number * step, 9) for number in range(round((high - low) / step) + 1)]
    if start not in stops:
        raise ValueError(
            f"The slider {name} starts at {start:g}, but its stops go from {low:g} in steps of {step:g}."
        )
    values = tuple(to_si(stop, unit) for stop in stops)
    shown = UNITS[unit].shown
    texts = map(show, values) if show else (f"{stop:,.6g} {shown}".replace("-", "−") for stop in stops)
    return Control(name, label, values, tuple(texts), stops.index(start), "slider")


def choice(
    name: str, label: str, options: Sequence[Any], texts: Sequence[str] | None = None, start: int = 0
) -> Control:
    """Make a choice among a few things.

    Parameters
    ----------
    name : str
        The argument of the drawing function that it sets
    label : str
        What stands beside it
    options : sequence
        What the drawing function is given [SI]
    texts : sequence of str, optional
        What is shown for each; left out: the options themselves
    start : int
        Number of the option chosen at first [-]

    Returns
    -------
    Control
        The choice

    Source
    ------
    Arrangement of this project.
    """
    return Control(name, label, tuple(options), tuple(texts or map(str, options)), start, "choice")
