"""The machines by name."""

from __future__ import annotations

from coldbench.errors import CannotRead
from coldbench.machine.description import Machine
from coldbench.machine.series import series

__all__ = ["MACHINES", "machine_named"]

MACHINES = {"Series": series}
REFRIGERANTS = ("R-600a", "R-134a")


def machine_named(name: str, refrigerant: str = "R-600a") -> Machine:
    """Describe one of the machines.

    Parameters: ``name`` "Series"; ``refrigerant`` "R-600a" or "R-134a".
    Returns: its description, which may be changed with `dataclasses.replace`.
    Raises: `CannotRead` when there is no such machine, or it was not built for the refrigerant.
    Source: invented machines; each module says what its sizes follow.
    """
    if name not in MACHINES:
        raise CannotRead(f'There is no machine "{name}". The machines are {", ".join(MACHINES)}.')
    if refrigerant not in REFRIGERANTS:
        raise CannotRead(f'No machine was built for "{refrigerant}". Write one of {", ".join(REFRIGERANTS)}.')
    return MACHINES[name](refrigerant)
