"""Means over whole cycles of the compressor, so that a run's last, unfinished cycle does not count."""

from __future__ import annotations

import numpy


def over_whole_cycles(record, skip: int = 1) -> dict[str, float]:
    """Mean power [W] and box temperatures [K] from one start of the compressor to another."""
    running = record["refrigerant_flow"] > 1e-5
    starts = numpy.flatnonzero(running[1:] & ~running[:-1])[skip:]
    first, last = starts[0], starts[-1]
    time, energy = record["time"], record["energy"]
    found = {"power": (energy[last] - energy[first]) / (time[last] - time[first]), "cycles": len(starts) - 1}
    for box in ("fresh_food", "freezer"):
        found[box] = record[f"{box}_air_temperature"][first:last].mean()
    return found
