"""Many machines of one kind as one: numbers that differ become arrays, one value a machine."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields, is_dataclass, replace

from coldbench.errors import CannotRead

__all__ = ["combined"]


def combined(machines: Sequence):
    """Combine descriptions that differ in numbers only.

    Parameters: ``machines`` descriptions of one kind of machine.
    Returns: one description, in which a number that differs is an array [SI units].
    Raises: `CannotRead` when there are none, or they differ in more than numbers.
    Source: arrangement of this project.
    """
    if not machines:
        raise CannotRead("There are no machines to run. Give at least one.")
    return _together("machine", list(machines))


def _together(name, parts):
    first = parts[0]
    if all(part is first or part == first for part in parts[1:]):
        return first
    if all(isinstance(part, float | int) and not isinstance(part, bool) for part in parts):
        import numpy

        return numpy.array(parts, dtype=float)
    if is_dataclass(first) and all(type(part) is type(first) for part in parts):
        found = {
            one.name: _together(f"{name}.{one.name}", [getattr(part, one.name) for part in parts])
            for one in fields(first)
        }
        return replace(first, **found)
    if isinstance(first, tuple) and all(
        isinstance(part, tuple) and len(part) == len(first) for part in parts
    ):
        return tuple(
            _together(f"{name}[{place}]", list(column))
            for place, column in enumerate(zip(*parts, strict=True))
        )
    raise CannotRead(
        f"These machines cannot run as one: they differ in {name}, not a number. Run them one by one."
    )
