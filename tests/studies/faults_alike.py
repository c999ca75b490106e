"""Faults that readings hardly tell apart: pairs whose every reading agrees within a meter's error.

Run by hand: ``python tests/studies/faults_alike.py`` prints, for each machine, the pairs that no reading
separates by more than twice its meter's error, and those that one or two readings separate. Readings are
means over the last hours of a day, gauges and watts while the compressor runs; the errors are those of usual
shop meters.
"""

from __future__ import annotations

from itertools import combinations

import numpy
from coldbench.machine import NO_ICE_TAKEN, NORMAL_DAY, IceTaken, simulate_many
from coldbench.machine.faults import apply_faults, faults_of
from coldbench.machine.five import MACHINES, machine_named

HOURS, LATE = 26.0, 10.0
ICE_TAKEN = [
    IceTaken(hour, 0.3) for hour in range(0, 24, 4)
]  # with a full bin the ice maker has nothing to show
# Error of a usual shop meter, to either side: common practice, no source. Energy and frost as a share.
ERRORS = {"K": 1.0, "Pa": 8e3, "W": 3.0, "V": 0.3, "rev/s": 1.0, "-": 0.06, "kg/s": 0.002}
SHARES = {"Ohm": 0.03, "J": 0.04, "kg": 0.25}
HIDDEN = (
    "believed",
    "refrigerant_flow",
    "liquid_on_low_side",
    "felt",
    "command",
    "food_food",
    "freezer_food",
    "humidity",
    "drained",
)
GAUGES = (
    "pressure",
    "evaporating",
    "condensing",
    "superheat",
    "subcooling",
    "line_temperature",
    "compressor_power",
)


def readings_of(record, column):
    """Means of what a technician could read, by name."""
    late = record["time"] > record["time"][-1] - LATE * 3600
    running = {}
    for mark in ("", "fresh_food_", "freezer_"):
        if f"{mark}refrigerant_flow" in record.names():
            running[mark] = late & (record[f"{mark}refrigerant_flow"][:, column] > 1e-5)
    found = {}
    for name in record.names()[1:]:
        if any(word in name for word in HIDDEN):
            continue
        rows = late
        if any(word in name for word in GAUGES):
            mark = next((mark for mark in running if mark and name.startswith(mark)), "")
            rows = running.get(mark, late)
        found[name] = float(record[name][rows, column].mean()) if rows.any() else 0.0
    return found


def separate(record, one, other):
    """Names of the readings that differ by more than twice a meter's error."""
    names = []
    for name, value in one.items():
        unit = record.unit(name)
        error = ERRORS.get(unit) or SHARES[unit] * max(abs(value), abs(other[name]))
        if abs(value - other[name]) > 2 * error:
            names.append(name)
    return names


def main() -> None:
    for name in MACHINES:
        sound = machine_named(name)
        faults = ["sound", *[fault.name for fault in faults_of(sound)]]
        machines = [apply_faults(sound, [] if fault == "sound" else [fault]) for fault in faults]
        ice_taken = ICE_TAKEN if sound.ice_maker else NO_ICE_TAKEN
        record = simulate_many(machines, HOURS, doors=NORMAL_DAY, ice_taken=ice_taken, interval=120.0)
        seen = [readings_of(record, column) for column in range(len(faults))]
        alike, nearly = [], []
        for one, other in combinations(range(len(faults)), 2):
            names = separate(record, seen[one], seen[other])
            if not names:
                alike.append(f"{faults[one]} / {faults[other]}")
            elif len(names) <= 2:
                nearly.append(f"{faults[one]} / {faults[other]} ({', '.join(names)})")
        print(f"{name}: {len(faults)} states; no reading separates {len(alike)} pairs:")
        print(*(f"    {pair}" for pair in alike), sep="\n")
        print(f"  one or two readings separate {len(nearly)} pairs:")
        print(*(f"    {pair}" for pair in nearly), sep="\n", flush=True)


if __name__ == "__main__":
    numpy.seterr(invalid="raise", divide="raise")
    main()
