"""Faults as data: each changes numbers of parts, never the equations.

What is inside: the list `FAULTS`, each with its sentence, the meaning of its severity and the readings that
it moves; `faults_of` a machine; `apply_faults`, which changes a machine's description. A severity runs from
0 (sound) to 1 (as bad as this fault gets).

A fault is found by its readings with the plug out wherever that will do. Mains voltage, a charged capacitor,
a hot heater and a flammable refrigerant hurt; the sealed circuit is for licensed hands, by local codes and
the maker's instructions.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from coldbench.errors import CannotRead, check_range
from coldbench.machine.description import Machine
from coldbench.machine.fault_kinds import Change, Fault
from coldbench.machine.faults_of_cooling import CIRCUIT_FAULTS, DEFROST_FAULTS, FAN_FAULTS
from coldbench.machine.faults_of_ice_making import ICE_FAULTS
from coldbench.machine.faults_of_the_rest import CABINET_FAULTS, SENSOR_FAULTS

__all__ = ["FAULTS", "apply_faults", "faults_of"]


FAULTS: dict[str, Fault] = {
    fault.name: fault
    for fault in (*CIRCUIT_FAULTS, *FAN_FAULTS, *DEFROST_FAULTS, *SENSOR_FAULTS, *CABINET_FAULTS, *ICE_FAULTS)
}


def _fits(machine: Machine, fault: Fault) -> bool:
    """Whether the machine has every part that the fault changes."""
    numbers = {change.number for change in fault.changes}
    if ("stuck_damper" in numbers and not machine.damper_moves) or (
        "stuck_valve" in numbers and not machine.valve_moves
    ):
        return False
    if "crossed_fans" in numbers and len(machine.fans) < 2:
        return False
    return all(not change.part or _parts(machine, change) for change in fault.changes)


def _parts(machine: Machine, change: Change) -> list[int]:
    held = getattr(machine, change.part)
    if not isinstance(held, tuple):
        return [] if held is None else [0]
    return [
        place
        for place, part in enumerate(held)
        if hasattr(part, change.number) and change.name in ("", getattr(part, "name", ""))
    ]


def faults_of(machine: Machine) -> list[Fault]:
    """List the faults that a machine can have.

    Parameters: ``machine`` its description.
    Returns: the faults whose parts it has.
    Source: arrangement of this project.
    """
    return [fault for fault in FAULTS.values() if _fits(machine, fault)]


def apply_faults(machine: Machine, faults: Iterable) -> Machine:
    """Change a machine as its faults change it.

    Parameters: ``machine`` its description; ``faults`` names, or pairs of name and severity from 0 to 1.
    Returns: a new description; the old one stays as it is.
    Raises: `CannotRead` when there is no such fault or the machine has no such part; `OutOfRange` for a
    severity outside 0 to 1.
    Source: arrangement of this project.
    """
    for given in faults:
        name, severity = (given, None) if isinstance(given, str) else given
        fault = FAULTS.get(name)
        if fault is None:
            raise CannotRead(f'There is no fault "{name}". The faults are: {", ".join(FAULTS)}.')
        if not _fits(machine, fault):
            raise CannotRead(f'The machine {machine.name} has no part for the fault "{name}".')
        severity = fault.usual if severity is None else severity
        check_range("severity", severity, 0.0, 1.0, "(as a fraction)")
        if severity > 0:
            for change in fault.changes:
                machine = _changed(machine, change, float(severity))
    return machine


def _changed(machine: Machine, change: Change, severity) -> Machine:
    if not change.part:
        return replace(machine, **{change.number: change.rule(getattr(machine, change.number), severity)})
    held = getattr(machine, change.part)
    if not isinstance(held, tuple):
        return replace(machine, **{change.part: _renumbered(held, change, severity)})
    chosen = _parts(machine, change)
    parts = tuple(
        _renumbered(part, change, severity) if place in chosen else part for place, part in enumerate(held)
    )
    return replace(machine, **{change.part: parts})


def _renumbered(part, change: Change, severity):
    return replace(part, **{change.number: change.rule(getattr(part, change.number), severity)})
