"""Readings of simulated machines for homework 01, 05 and 08 and for lesson 08, written to small tables.

Run by hand in the folder ``tests``: ``python -m studies.make_simulated_readings`` runs some 130 machines and
writes each table beside the questions that use it, and ``lesson_08_record.py`` into the library; with
``leaks``, ``sensors`` and so on behind it, that table only. Run it again whenever the machines have changed,
then ``python -m coldbench.grading.release``. Every reading carries a meter's error, drawn once and for ever;
each run gives several tickets, some 320 in all, so that a draw of 300 is soon made. A ticket's number says
nothing about its fault.
"""

from __future__ import annotations

import csv
import sys
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from random import Random

from coldbench.lesson.lesson_08_board import WARM_COIL, asked
from coldbench.machine import Record, simulate
from coldbench.machine.description import Machine
from coldbench.machine.five import MACHINES, machine_named
from coldbench.parts.thermistor import beta_resistance, beta_temperature
from coldbench.units import from_si, to_si

ROOT = Path(__file__).parents[2]
SOLUTIONS = ROOT / "solutions"
LESSON_RECORD = ROOT / "lib" / "coldbench" / "lesson" / "lesson_08_record.py"
ROOMS = (66, 70, 74, 78, 82)  # [°F]
OPEN = 999.0  # [kOhm], what a meter shows as OL
ICE_BATH = to_si(32.0, "degF")
FIVE_ROOMS = (41, 60, 77, 90)  # [°F], of the comparison in lesson 08


def fahrenheit(temperature: float) -> float:
    """Give a temperature in °F."""
    return from_si(temperature, "degF")


def shown(temperature: float) -> float:
    """Give a temperature in °F to a tenth, without a minus before a zero."""
    return round(fahrenheit(float(temperature)), 1) + 0.0


def called(record: Record, name: str) -> list[int]:
    """Give the rows of the second half in which something is on; all of that half where it never is."""
    values = record[name]
    rows = range(len(values) // 2, len(values))
    return [row for row in rows if values[row] > 0] or list(rows)


def last_of_a_run(record: Record, name: str) -> int:
    """Give the last row of the latest whole run, when its readings have settled."""
    values = record[name]
    ends = [row for row in called(record, name) if row + 1 < len(values) and values[row + 1] == 0]
    return ends[-1] if ends else len(values) - 1


def rattled(random: Random, value: float, error: float) -> float:
    """Add a meter's error."""
    return value + random.uniform(-error, error)


def write(path: Path, rows: list[dict], shuffle: int | None = None) -> None:
    """Write a table; shuffled, its rows get the numbers of tickets."""
    if shuffle is not None:
        Random(shuffle).shuffle(rows)  # noqa: S311 - to be repeated, not a secret
        rows = [{"ticket": 101 + place} | row for place, row in enumerate(rows)]
    with path.open("w", encoding="utf-8", newline="") as file:
        table = csv.DictWriter(file, list(rows[0]), lineterminator="\n")
        table.writeheader()
        table.writerows(rows)
    print(f"{path.relative_to(ROOT)}: {len(rows)} rows")


# Homework 01: is it a leak?


def circuit_readings(record: Record, random: Random) -> dict[str, float]:
    """Read gauges, clamps and watts at the end of a run."""
    row = last_of_a_run(record, "compressor_power")

    def at(name):
        return float(record[name][row])

    return {
        "suction_vacuum": round(
            from_si(at("suction_pressure"), "inHg vacuum") + random.uniform(-0.1, 0.1), 1
        ),
        "discharge_pressure": round(from_si(at("discharge_pressure"), "psig") + random.uniform(-0.5, 0.5)),
        "suction_line_temperature": round(
            fahrenheit(at("evaporating_temperature") + at("superheat")) + random.uniform(0.0, 1.0), 1
        ),
        "liquid_line_temperature": round(
            fahrenheit(at("liquid_line_temperature")) + random.uniform(-0.5, 0.5), 1
        ),
        "compressor_power": round(rattled(random, at("compressor_power"), 1.0)),
        "fresh_food_air_temperature": round(fahrenheit(at("fresh_food_air_temperature"))),
        "freezer_air_temperature": round(fahrenheit(at("freezer_air_temperature"))),
    }


def leaks() -> Iterator[dict]:
    """Give the cases of 01.7: sound, low charge, weak compressor, beside the machine when it was new."""
    random = Random("01.7")  # noqa: S311 - to be repeated, not a secret
    sizes = {"none": (0.0, 0.0), "low charge": (0.48, 0.52), "weak compressor": (0.38, 0.42)}
    for room in ROOMS:
        new = simulate("Series", hours=14, room=to_si(room, "degF"))
        for fault, severities in sizes.items():
            for severity in severities:
                record = new
                if severity:
                    record = simulate(
                        "Series", hours=14, room=to_si(room, "degF"), faults=[(fault, severity)]
                    )
                for _ in range(11):
                    fresh = circuit_readings(new, random)
                    yield {
                        "fault": fault,
                        "room_temperature": room,
                        **circuit_readings(record, random),
                        "new_suction_vacuum": fresh["suction_vacuum"],
                        "new_discharge_pressure": fresh["discharge_pressure"],
                    }


# Homework 05: the sensor, or the fan?


def with_drift(drift: float) -> Machine:
    """Describe Series with a fresh-food sensor whose ohms are off by a factor."""
    series = machine_named("Series")
    sensor, *others = series.sensors
    return replace(series, sensors=(replace(sensor, drift=drift), *others))


def sensor_readings(record: Record, machine: Machine, fault: str, random: Random) -> dict[str, float]:
    """Read probe, display, ohms and fan: when air and sensor agree best, or where it fell off, worst."""
    sensor = machine.sensors[0]
    curve = (sensor.resistance_25, sensor.beta)

    def felt(row):
        return beta_temperature(record["fresh_food_sensor_resistance"][row] / sensor.drift, *curve)

    def apart(row):
        return abs(felt(row) - record["fresh_food_air_temperature"][row])

    rows = called(record, "fresh_food_fan_voltage")
    rows = list(range(len(record["time"]) // 2, len(record["time"]))) if fault == "loose" else rows
    row = rows[-1] if fault == "open" else (max if fault == "loose" else min)(rows, key=apart)
    air = record["fresh_food_air_temperature"][row]
    probed = air if fault in ("open", "loose") else felt(row)  # taped to the sensor, it follows as slowly
    in_place = record["fresh_food_sensor_resistance"][row] / 1000
    in_bath = beta_resistance(ICE_BATH, *curve) * sensor.drift / 1000
    if fault == "open":
        in_place = in_bath = OPEN
    else:
        in_place, in_bath = (ohms * (1 + random.uniform(-0.005, 0.005)) for ohms in (in_place, in_bath))
    return {
        "probe_temperature": round(rattled(random, fahrenheit(probed), 0.4), 1),
        "displayed_temperature": round(fahrenheit(record["fresh_food_sensor_believed"][row])),
        "resistance_in_place": round(in_place, 1),
        "resistance_in_ice_bath": round(in_bath, 1),
        "fan_voltage": round(float(record["fresh_food_fan_voltage"][row]), 1),
        "fan_speed": round(from_si(record["fresh_food_fan_speed"][row], "rpm")),
    }


def sensors() -> Iterator[dict]:
    """Give the cases of 05.7."""
    random = Random("05.7")  # noqa: S311 - to be repeated, not a secret
    named = {
        "loose": "fresh-food sensor loose",
        "open": "fresh-food sensor open",
        "fan dead": "fresh-food fan dead",
    }
    for room in ROOMS:
        for fault in ("too warm", "too cold", *named):
            drift = {"too warm": 0.9, "too cold": 1.11}.get(fault, 1.0)
            machine = with_drift(drift)
            faults = [named[fault]] if fault in named else []
            record = simulate(machine, hours=24, room=to_si(room, "degF"), faults=faults)
            for _ in range(13):
                yield {
                    "fault": fault,
                    "room_temperature": room,
                    **sensor_readings(record, machine, fault, random),
                }


# Homework 08.


def valve_readings(record: Record, fault: str, random: Random) -> dict[str, float]:
    """Read what the board of Valve commands and what is there, while the compressor runs."""
    calls = 1 - record["valve_command"]
    running = record["compressor_power"] > 0
    rows = [row for row in range(len(calls) // 2, len(calls)) if running[row]]
    fed = [row for row in rows if calls[row] > 0 and record["fresh_food_fan_voltage"][row] > 0]
    asked = [row for row in rows if calls[row] > 0]
    row = (fed or asked or rows)[-1]
    in_place = record["fresh_food_sensor_resistance"][row] / 1000
    in_place = OPEN if fault == "sensor open" else in_place * (1 + random.uniform(-0.005, 0.005))
    return {
        "fresh_food_air_temperature": round(
            rattled(random, fahrenheit(record["fresh_food_air_temperature"][row]), 0.5), 1
        ),
        "freezer_air_temperature": round(
            rattled(random, fahrenheit(record["freezer_air_temperature"][row]), 0.5), 1
        ),
        "displayed_temperature": round(fahrenheit(record["fresh_food_sensor_believed"][row])),
        "sensor_resistance": round(float(in_place), 1),
        "fan_voltage": round(float(record["fresh_food_fan_voltage"][row]), 1),
        "fan_speed": round(from_si(record["fresh_food_fan_speed"][row], "rpm")),
        "valve_signal": round(float(calls[row])),
        "fresh_food_coil_temperature": round(
            rattled(random, fahrenheit(record["fresh_food_coil_outlet_temperature"][row]), 0.5), 1
        ),
        "suction_vacuum": round(
            from_si(record["suction_pressure"][row], "inHg vacuum") + random.uniform(-0.1, 0.1), 1
        ),
    }


def valves() -> Iterator[dict]:
    """Give the cases of 08.8."""
    random = Random("08.8")  # noqa: S311 - to be repeated, not a secret
    named = {
        "fan dead": "fresh-food fan dead",
        "fan output dead": "fresh-food fan output dead",
        "sensor open": "fresh-food sensor open",
        "valve stuck": "valve stuck on the freezer",
    }
    for room in (70, 76, 82):
        for fault, name in named.items():
            record = simulate("Valve", hours=24, room=to_si(room, "degF"), faults=[name])
            for _ in range(27):
                yield {
                    "fault": fault,
                    "room_temperature": room,
                    **valve_readings(record, fault, random),
                }


def mean_boxes(machine: Machine, hours: float = 30, room: float = 77, faults=()) -> tuple[float, float]:
    """Run a machine and give the mean air temperatures of the second half, in °F."""
    record = simulate(machine, hours=hours, room=to_si(room, "degF"), faults=faults)
    half = len(record["time"]) // 2
    return tuple(shown(record[f"{box}_air_temperature"][half:].mean()) for box in ("fresh_food", "freezer"))


def in_order(first: int) -> Machine:
    """Describe Series with the fresh-food coil (1) or the freezer's coil (2) first."""
    series = machine_named("Series")
    (circuit,) = series.circuits
    return replace(series, circuits=(replace(circuit, coils=(0, 1) if first == 1 else (1, 0)),))


def orders() -> Iterator[dict]:
    """Give the grid behind 08.3."""
    for first in (1, 2):
        for room in (68, 77, 86):
            for left in (30, 35, 40):
                fresh_food, freezer = mean_boxes(
                    in_order(first), room=room, faults=[("low charge", 1 - left / 100)]
                )
                yield {
                    "first_coil": first, "room_temperature": room, "charge_left": left,
                    "fresh_food": fresh_food, "freezer": freezer,
                }  # fmt: skip


def own_compressor_dead(machine: Machine) -> Machine:
    """Describe a machine whose fresh-food compressor gets no voltage."""
    return replace(machine, circuits=(replace(machine.circuits[0], supplied=0.0), *machine.circuits[1:]))


PARTS = {
    "fan": ("fresh-food fan dead", ("Series", "Valve", "Two-circuit")),
    "sensor": ("fresh-food sensor open", ("Series", "Valve", "Damper", "Two-circuit")),
    "valve": ("valve stuck on the freezer", ("Valve",)),
    "damper": ("damper stuck shut", ("Damper",)),
    "compressor": (own_compressor_dead, ("Two-circuit",)),
}


def parts() -> Iterator[dict]:
    """Give what becomes of the boxes of each machine when one part fails: behind 08.7."""
    for name in MACHINES:
        machine = machine_named(name)
        fresh_food, freezer = mean_boxes(machine)
        yield {"machine": name, "part": "none", "fresh_food": fresh_food, "freezer": freezer}
        for part, (fault, machines) in PARTS.items():
            if name in machines:
                faulty = fault(machine) if callable(fault) else machine
                fresh_food, freezer = mean_boxes(faulty, faults=() if callable(fault) else [fault])
                yield {"machine": name, "part": part, "fresh_food": fresh_food, "freezer": freezer}
    for name in ("Series", "Valve", "Damper", "Thermostat"):
        fresh_food, freezer = mean_boxes(machine_named(name), faults=["compressor output dead"])
        yield {"machine": name, "part": "shared compressor", "fresh_food": fresh_food, "freezer": freezer}


SATISFIED_AND_CALLING = to_si(34.0, "degF"), to_si(12.0, "degF")


def commands() -> Iterator[dict]:
    """Give what the boards do while the freezer calls and the fresh food is satisfied: behind 08.2."""
    for name in ("Series", "Valve", "Damper", "Two-circuit"):
        machine = machine_named(name)
        found = asked(machine, *SATISFIED_AND_CALLING, coil=WARM_COIL)
        shared = "open" if found.damper or (machine.valve_moves and not found.valve) else "shut"
        yield {
            "machine": name,
            "compressor": on_or_off(found.compressors[-1]),
            "fresh_food_fan": on_or_off(found.fans[0]) if len(found.fans) == 2 else "none",
            "freezer_fan": on_or_off(found.fans[-1]),
            "condenser_fan": on_or_off(found.condenser_fan),
            "valve_or_damper": shared if machine.valve_moves or machine.damper_moves else "none",
        }


def on_or_off(duty: float) -> str:
    """Say whether an output is on."""
    return "on" if duty > 0 else "off"


# Lesson 08.


def five() -> Iterator[tuple]:
    """Give machine, room [°F], mean boxes [°F], coldest fresh food [°F], share of running, kWh a day."""
    for name in MACHINES:
        for room in FIVE_ROOMS:
            record = simulate(name, hours=48, room=to_si(room, "degF"))
            half = len(record["time"]) // 2 - 1
            powers = [reading for reading in record.names() if reading.endswith("compressor_power")]
            running = sum((record[power][half:] > 0) for power in powers) > 0
            days = (record["time"][-1] - record["time"][half]) / 86_400
            energy = (record["energy"][-1] - record["energy"][half]) / 3.6e6 / days
            fresh_food, freezer = (
                record[f"{box}_air_temperature"][half:] for box in ("fresh_food", "freezer")
            )
            yield (
                name, room, shown(fresh_food.mean()), shown(freezer.mean()), shown(fresh_food.min()),
                round(float(running.mean()), 2), round(float(energy), 2),
            )  # fmt: skip


def starving() -> Iterator[tuple]:
    """Give first coil, part of the charge that is left [%], mean fresh food and freezer [°F]."""
    for first in (1, 2):
        for left in (100, 60, 50, 45, 40, 35, 30):
            yield (first, left, *mean_boxes(in_order(first), faults=[("low charge", 1 - left / 100)]))


def write_lesson_record() -> None:
    """Write the comparison of the five machines, and of both orders of coils, as a module of the library."""
    lines = [
        '"""Runs for lesson 08: five machines in four rooms; both orders of coils as the charge goes.',
        "",
        "Made by ``tests/studies/make_simulated_readings.py``, never edited by hand. Doors shut, R-600a; "
        "figures are of",
        "the second half of each run.",
        '"""',
        "",
        "# machine, room, mean fresh food, mean freezer, coldest fresh food [°F], share of time running [-], "
        "kWh a",
        "# day",
        "FIVE = (",
        *[f"    {row!r},".replace("'", '"') for row in five()],
        ")",
        "",
        "# Series in a room at 77 °F: first coil (1 fresh food, 2 freezer), part of the charge that is left "
        "[%], mean",
        "# fresh food, mean freezer [°F]",
        "ORDERS = (",
        *[f"    {row!r}," for row in starving()],
        ")",
    ]
    LESSON_RECORD.write_text("\n".join(lines) + "\n", encoding="utf-8")
    print(LESSON_RECORD.relative_to(ROOT))


TABLES = {
    "leaks": lambda: write(SOLUTIONS / "homework-01" / "leak_tickets.csv", list(leaks()), shuffle=17),
    "sensors": lambda: write(SOLUTIONS / "homework-05" / "sensor_tickets.csv", list(sensors()), shuffle=57),
    "valves": lambda: write(SOLUTIONS / "homework-08" / "valve_tickets.csv", list(valves()), shuffle=88),
    "orders": lambda: write(SOLUTIONS / "homework-08" / "coil_order.csv", list(orders())),
    "parts": lambda: write(SOLUTIONS / "homework-08" / "failing_parts.csv", list(parts())),
    "commands": lambda: write(SOLUTIONS / "homework-08" / "commands.csv", list(commands())),
    "lesson": write_lesson_record,
}

if __name__ == "__main__":
    for table in sys.argv[1:] or TABLES:
        TABLES[table]()
