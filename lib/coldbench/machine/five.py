"""The five machines by name."""

from __future__ import annotations

from coldbench.errors import CannotRead
from coldbench.machine.damper import damper
from coldbench.machine.description import Machine
from coldbench.machine.series import series
from coldbench.machine.thermostat import thermostat
from coldbench.machine.two_circuit import two_circuit
from coldbench.machine.valve import valve

__all__ = ["MACHINES", "machine_named"]

MACHINES = {
    "Series": series, "Valve": valve, "Damper": damper, "Two-circuit": two_circuit, "Thermostat": thermostat,
}  # fmt: skip
REFRIGERANTS = ("R-600a", "R-134a")


def machine_named(name: str, refrigerant: str = "R-600a") -> Machine:
    """Describe one of the machines.

    Parameters: ``name`` one of `MACHINES`; ``refrigerant`` "R-600a" or "R-134a".
    Returns: its description, which may be changed with `dataclasses.replace`.
    Raises: `CannotRead` when there is no such machine, or it was not built for the refrigerant.
    Source: invented machines; each module says how it is built.
    """
    if name not in MACHINES:
        raise CannotRead(f'There is no machine "{name}". The machines are {", ".join(MACHINES)}.')
    if refrigerant not in REFRIGERANTS:
        raise CannotRead(f'No machine was built for "{refrigerant}". Write one of {", ".join(REFRIGERANTS)}.')
    return MACHINES[name](refrigerant)
