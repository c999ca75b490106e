"""How long a machine-day takes, alone and in many at once, and how far 10 s steps are off 0.1 s steps.

Run by hand: ``python tests/studies/benchmark_machine.py`` prints its lines; nothing passes or fails.
Processor time of one core, the best of several parts of a day, so that a busy computer tells less; the first
line says how quick this computer is at plain Python. A run goes by the step written out as plain lines; in
brackets what the same run takes by the plant's own steps.
"""

from __future__ import annotations

import gc
import sys
import time
import tracemalloc
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

import numpy
from coldbench.machine import running, simulate, simulate_many, straight_plant
from coldbench.machine.five import MACHINES, machine_named

sys.path.insert(0, str(Path(__file__).parents[1]))

from machine.series_variants import never_defrosting
from machine.whole_cycles import over_whole_cycles

DAY = 24.0  # [h]


def plain_python() -> float:
    """Time of a million multiplications and additions in a loop [ms]."""

    def once() -> float:
        begin = time.process_time()
        value = 0.5
        for _ in range(50_000):
            value = value * 0.99 + 0.1
        return (time.process_time() - begin) * 20_000

    return min(once() for _ in range(20))


@contextmanager
def step_by_step():
    """Runs go by the plant's own steps."""
    written_out = running.straightened
    running.straightened = straight_plant.step_by_step
    try:
        yield
    finally:
        running.straightened = written_out


def writing(name: str, parts: int = 8) -> tuple[float, float]:
    """Time [ms] in which the lines of a machine are written and compiled, and memory that they keep [kB]."""

    def once() -> float:
        straight_plant._kept.clear()
        begin = time.process_time()
        simulate(name, 0.02)
        new = time.process_time()
        simulate(name, 0.02)
        return (2 * new - begin - time.process_time()) * 1e3

    best = min(once() for _ in range(parts))
    straight_plant._kept.clear()
    tracemalloc.start()
    simulate(name, 0.02)
    gc.collect()
    kept = tracemalloc.get_traced_memory()[0] / 1e3
    tracemalloc.stop()
    return best, kept


def machine_day(name: str, parts: int = 4, hours: float = 6.0) -> float:
    """Time of a day of one machine in plain numbers [s]."""

    def once() -> float:
        begin = time.process_time()
        simulate(name, hours)
        return (time.process_time() - begin) * DAY / hours

    return min(once() for _ in range(parts))


def many_days(count: int, hours: float = 0.5, parts: int = 3) -> float:
    """Time of a day of each machine, run as one run of arrays [ms]."""
    sound = machine_named("Series")
    machines = [
        replace(sound, circuits=(replace(sound.circuits[0], charge=0.030 + 0.030 * place / count),))
        for place in range(count)
    ]

    def once() -> float:
        begin = time.process_time()
        simulate_many(machines, hours)
        return (time.process_time() - begin) * 1e3 * DAY / hours / count

    return min(once() for _ in range(parts))


def step_errors(hours: float, steps: tuple[float, ...], finest: float) -> dict[float, tuple[float, ...]]:
    """Errors of mean temperatures [K] and of power [%] over whole cycles, against the finest step."""
    machine = never_defrosting(machine_named("Series"))

    def means(step: float) -> dict[str, float]:
        return over_whole_cycles(simulate(machine, hours, interval=10.0, step=step), skip=3)

    true = means(finest)
    found = {}
    for step in steps:
        mean = means(step)
        kelvin = [mean[box] - true[box] for box in ("fresh_food", "freezer")]
        found[step] = (*kelvin, 100 * (mean["power"] / true["power"] - 1))
    return found


def main() -> None:
    print(f"plain Python: {plain_python():.0f} ms for a million multiplications and additions in a loop")
    for name in MACHINES:
        day = machine_day(name)
        with step_by_step():
            print(f"{name}: {day:.2f} s a machine-day, alone (step by step {machine_day(name):.2f} s)")
    for name in MACHINES:
        milliseconds, kilobytes = writing(name)
        print(f"{name}: lines written in {milliseconds:.0f} ms, once; they keep {kilobytes:.0f} kB")
    for count in (16, 256, 1000):
        day = many_days(count)
        with step_by_step():
            plain = many_days(count)
        print(f"Series, {count} at once: {day:.0f} ms a machine-day (step by step {plain:.0f} ms)")
    for step, (fresh_food, freezer, power) in step_errors(DAY, (10.0, 5.0, 2.0), 0.1).items():
        print(
            f"Series, a day, {step:g} s against 0.1 s: fresh food {fresh_food:+.3f} K, "
            f"freezer {freezer:+.3f} K, energy {power:+.2f} %"
        )


if __name__ == "__main__":
    numpy.seterr(all="raise", under="ignore")
    main()
