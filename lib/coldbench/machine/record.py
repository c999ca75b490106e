"""A record of a run: named arrays with units, saved and read again without loss.

What is inside: `Record`, and `read_record`, which reads what `Record.save` wrote.
"""

from __future__ import annotations

import json
from pathlib import Path

from coldbench.errors import CannotRead

__all__ = ["Record", "read_record"]

FORM = "coldbench record 1"


class Record:
    """Readings of a run, one row each interval.

    ``record.names()`` lists them, ``record["fresh_food_air_temperature"]`` gives one as an array,
    ``record.unit(name)`` its unit. ``record.about`` holds what was run, and the balances at its end.
    """

    def __init__(self, units: dict[str, str], columns: dict[str, list], about: dict):
        self._units, self._columns, self.about = units, columns, about

    def names(self) -> list[str]:
        """Give the names of all readings.

        Returns: names in a fixed order, "time" first.
        """
        return list(self._units)

    def unit(self, name: str) -> str:
        """Give the SI unit of a reading.

        Parameters: ``name`` of the reading.
        Returns: its unit; "-" for a number without one.
        Raises: `CannotRead` when there is no such reading.
        """
        self._check(name)
        return self._units[name]

    def __getitem__(self, name: str):
        """Give a reading as an array, a row each interval (and a column each machine, if they were many)."""
        import numpy

        self._check(name)
        return numpy.asarray(self._columns[name], dtype=float)

    def last(self, name: str) -> float:
        """Give the last value of a reading.

        Parameters: ``name`` of the reading.
        Returns: its last value, in its unit.
        Raises: `CannotRead` when there is no such reading.
        """
        self._check(name)
        return self._columns[name][-1]

    def _check(self, name: str) -> None:
        if name not in self._units:
            words = set(name.split("_"))
            near = sorted(self._units, key=lambda other: (-len(words & set(other.split("_"))), other))[:4]
            raise CannotRead(
                f'This record has no reading "{name}". Near it are {", ".join(near)}; names() lists them all.'
            )

    def save(self, path) -> None:
        """Write the record to a file, every number in full.

        Parameters: ``path`` of the file to write.
        """
        content = {"form": FORM, "about": self.about, "units": self._units, "columns": self._columns}
        Path(path).write_text(json.dumps(content, default=_plain), encoding="utf-8")


def _plain(value):
    return value.tolist()


def read_record(path) -> Record:
    """Read a record that was saved.

    Parameters: ``path`` of the file.
    Returns: a `Record` with the same names, units and numbers.
    Raises: `CannotRead` when the file is not a record.
    Source: arrangement of this project.
    """
    try:
        content = json.loads(Path(path).read_text(encoding="utf-8"))
        if content["form"] != FORM:
            raise KeyError(content["form"])
        return Record(content["units"], content["columns"], content["about"])
    except (OSError, ValueError, KeyError, TypeError) as trouble:
        raise CannotRead(
            f"{path} cannot be read as a record of a run ({trouble}). Give a file that Record.save wrote."
        ) from None
