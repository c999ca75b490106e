"""Ice that people take out of the bin, at the same hours each day.

What is inside: `IceTaken`, one taking; `Takings`, which tells a run when the next is due.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from coldbench.errors import CannotRead, check_range
from coldbench.machine.description import Machine

__all__ = ["NO_ICE_TAKEN", "IceTaken"]

DAY = 86_400.0  # [s]


class IceTaken(NamedTuple):
    """Ice taken out of the bin, each day at the same hour.

    Attributes
    ----------
    hour : float
        Of the day, 0 to 24 [h]
    mass : float
        What is taken, as far as there is so much [kg]
    """

    hour: float
    mass: float


NO_ICE_TAKEN: tuple[IceTaken, ...] = ()


class Takings:
    """The takings of a day, by the number of the step before which they happen."""

    def __init__(self, ice_taken: Iterable[IceTaken], machine: Machine, step: float):
        self.day = round(DAY / step)
        self.masses: dict[int, float] = {}
        for hour, mass in ice_taken:
            if machine.ice_maker is None:
                raise CannotRead(f"The machine {machine.name} has no ice maker: no ice can be taken from it.")
            check_range("hour", hour, 0.0, 24.0, "h")
            check_range("mass", mass, 0.0, 100.0, "kg")
            at = round(hour * 3600 / step) % self.day
            self.masses[at] = self.masses.get(at, 0.0) + mass

    def at(self, step_number: int) -> float:
        """Give what is taken before a step [kg].

        Parameters: ``step_number`` counted from the start of the run.
        Returns: mass [kg].
        """
        return self.masses.get(step_number % self.day, 0.0)

    def steps_to_next(self, step_number: int) -> int:
        """Give how many steps pass until ice is taken again, at least one.

        Parameters: ``step_number`` counted from the start of the run.
        Returns: number of steps; a day where none is taken.
        """
        now = step_number % self.day
        return min([(at - now) % self.day or self.day for at in self.masses], default=self.day)
