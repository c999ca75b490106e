"""Tickets: readings of machines that were run beforehand, one machine drawn whole for each student.

Inside: `Tickets`, over a table of readings beside the questions. The number of the ticket is a personal
number of the question, and every reading follows from it. What is wrong with the machine stands in the table,
which no student receives.
"""

from __future__ import annotations

import csv
from pathlib import Path

from coldbench import units
from coldbench.homework.declare import Derived, OneOf
from coldbench.homework.sheet import Numbers


class Tickets:
    """A table of readings: a row a machine, with the columns "ticket" and "fault".

    Parameters: ``path`` of the CSV file; its readings stand in the units in which they are shown.
    """

    def __init__(self, path: Path):
        with path.open(encoding="utf-8", newline="") as file:
            self.rows = {int(row["ticket"]): row for row in csv.DictReader(file)}

    def draw(self, *readings: tuple[str, str, str]) -> tuple[OneOf | Derived, ...]:
        """Give what a question draws: the number of a ticket, and the readings that belong to it.

        Parameters: ``readings`` name, unit and way to show it, of each reading that the student sees.
        Returns: for the question's ``draw``.
        """
        numbers = tuple(float(ticket) for ticket in self.rows)
        return (
            OneOf("ticket", numbers, "1", "{:.0f}"),
            *(self._reading(name, unit, show) for name, unit, show in readings),
        )

    def _reading(self, name: str, unit: str, show: str) -> Derived:
        def of_ticket(drawn):
            return units.to_si(float(self.rows[round(drawn.ticket)][name]), unit)

        return Derived(name, 0.1, unit, show, of_ticket)

    def fault(self, numbers: Numbers) -> str:
        """Give what is wrong with a student's machine.

        Parameters: ``numbers`` of the student for this question.
        Returns: the word in the column "fault".
        """
        return self.rows[round(numbers.ticket)]["fault"]
