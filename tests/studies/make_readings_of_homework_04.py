"""Readings of simulated machines for homework 04, written to two small tables beside its questions.

Run by hand in the folder ``tests``: ``python -m studies.make_readings_of_homework_04``; again whenever the
machines have changed, then ``python -m coldbench.grading.release``. Series with R-134a, at full speed, sound
or with one of three faults of its circuit, read at the end of a run. Every reading carries a meter's error,
drawn once and for ever. A ticket's number says nothing about its fault.
"""

from __future__ import annotations

import csv
from collections.abc import Iterator
from pathlib import Path
from random import Random

from coldbench.machine import Record, simulate
from coldbench.units import from_si, to_si

FOLDER = Path(__file__).parents[2] / "solutions" / "homework-04"
ROOMS = (70, 74, 78, 82)  # [°F]
COOL_ROOMS = (60, 62, 64, 66, 68, 70, 72, 74)  # [°F]; in warmer ones this machine has hardly any subcooling
TIMES = 5  # that each machine is read, with other errors
FAULTS = {
    "none": (0.0, 0.0),
    "low charge": (0.46, 0.50, 0.54),
    "restricted capillary": (0.46, 0.50, 0.54),
    "weak compressor": (0.36, 0.40, 0.44),
}
PIPES = {
    "discharge_pipe": "discharge_line_temperature",
    "mid_condenser": "condensing_temperature",
    "liquid_pipe": "liquid_line_temperature",
    "shell_suction_pipe": "suction_line_temperature",
    "coil_inlet": "evaporating_temperature",
}


def end_of_a_run(record: Record) -> int:
    """Give the coldest moment of the second half: the end of a long run, not one soon after a defrost."""
    rows = range(len(record["compressor_power"]) // 2, len(record["compressor_power"]))
    running = [row for row in rows if record["compressor_power"][row] > 0]
    return min(running, key=lambda row: record["freezer_air_temperature"][row])


def readings(record: Record, random: Random) -> dict[str, float]:
    """Read gauges, pipes, coils and watts."""
    row = end_of_a_run(record)

    def at(name: str) -> float:
        return float(record[name][row])

    def clamp(kelvin: float, error: float = 0.5) -> float:
        return round(from_si(kelvin, "degF") + random.uniform(-error, error), 1)

    found = {
        "suction_pressure": round(from_si(at("suction_pressure"), "psia") + random.uniform(-0.1, 0.1), 1),
        "discharge_pressure": round(from_si(at("discharge_pressure"), "psia") + random.uniform(-0.5, 0.5)),
        "coil_outlet_pipe": clamp(at("evaporating_temperature") + at("superheat")),
        "compressor_power": round(at("compressor_power") + random.uniform(-1.0, 1.0)),
        "first_coil_end": clamp(at("fresh_food_coil_outlet_temperature")),
        "second_coil_end": clamp(at("freezer_coil_outlet_temperature")),
        "freezer_air": clamp(at("freezer_air_temperature")),
    }
    return found | {name: clamp(at(reading)) for name, reading in PIPES.items()}


def tickets() -> Iterator[dict]:
    """Give the cases of 04.6 and 04.7."""
    random = Random("04.7")  # noqa: S311 - meters, not secrets
    for room in ROOMS:
        new = readings(simulate("Series", 14.0, to_si(room, "degF"), "R-134a"), random)
        named = ("suction_pressure", "discharge_pressure", "compressor_power")
        when_new = {f"new_{name}": new[name] for name in named}
        for fault, severities in FAULTS.items():
            for severity in severities:
                faults = [(fault, severity)] if severity else []
                record = simulate("Series", 14.0, to_si(room, "degF"), "R-134a", faults)
                for _ in range(TIMES):
                    read = readings(record, random)
                    yield {"fault": fault, "room_temperature": room, **read, **when_new}


def pipes() -> Iterator[dict]:
    """Give the cases of 04.6: five pipes of a sound machine."""
    random = Random("04.6")  # noqa: S311
    for room in COOL_ROOMS:
        record = simulate("Series", 14.0, to_si(room, "degF"), "R-134a")
        for _ in range(6 * TIMES):
            read = readings(record, random)
            yield {"fault": "none", "room_temperature": room, **{name: read[name] for name in PIPES}}


def write(name: str, rows: list[dict], first: int) -> None:
    """Write a table whose rows are shuffled and numbered."""
    Random(first).shuffle(rows)  # noqa: S311
    rows = [{"ticket": first + place} | row for place, row in enumerate(rows)]
    with (FOLDER / name).open("w", encoding="utf-8", newline="") as file:
        table = csv.DictWriter(file, list(rows[0]), lineterminator="\n")
        table.writeheader()
        table.writerows(rows)
    print(f"{name}: {len(rows)} rows")


if __name__ == "__main__":
    write("series_tickets.csv", list(tickets()), 201)
    write("pipe_tickets.csv", list(pipes()), 501)
