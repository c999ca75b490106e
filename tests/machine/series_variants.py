"""Machines Series, sound and changed, run side by side: for the tests and the study of what emerges."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import NamedTuple

import numpy
from coldbench.machine import simulate_many
from coldbench.machine.faults import apply_faults
from coldbench.machine.five import machine_named

HOURS, SETTLED = 18.0, 9.0  # the means are taken over the last nine hours
BETA, FRESH_FOOD, FREEZER = 3950.0, 276.65, 255.15
NEVER = 1e9  # [s]


class Variant(NamedTuple):
    """A machine, its room and the ice it begins with."""

    machine: object
    room: float = 298.15
    frost: float = 0.0


def never_defrosting(machine):
    board = machine.board
    return replace(machine, board=replace(board, defrosting=replace(board.defrosting, interval=NEVER)))


def reading_too_cold(machine, name, aim, kelvin):
    """A sensor whose ohms are those of a temperature some kelvin lower."""
    factor = math.exp(BETA * kelvin / aim**2)
    sensors = tuple(
        replace(sensor, drift=factor) if sensor.name == name else sensor for sensor in machine.sensors
    )
    return replace(machine, sensors=sensors)


def variants(refrigerant: str) -> dict[str, Variant]:
    sound = machine_named("Series", refrigerant)
    plain = never_defrosting(sound)
    found = {"sound": Variant(plain)}
    for left in (0.85, 0.8, 0.6, 0.5, 0.4):
        found[f"charge {left}"] = Variant(apply_faults(plain, [("low charge", 1 - left)]))
    for ice in (0.4, 0.5, 0.56, 0.6):
        found[f"ice {ice}"] = Variant(plain, frost=ice)
    found["fresh-food fan dead"] = Variant(apply_faults(plain, ["fresh-food fan dead"]))
    for left in (0.6, 0.35, 0.2):
        found[f"condenser {left}"] = Variant(apply_faults(plain, [("dirty condenser", (1 - left) / 0.95)]))
    for kelvin in (2.0, -2.0):
        changed = reading_too_cold(plain, "fresh_food_sensor", FRESH_FOOD, kelvin)
        found[f"fresh food reads {-kelvin:+.0f} K"] = Variant(changed)
    for kelvin in (3.0, -3.0):
        changed = reading_too_cold(plain, "freezer_sensor", FREEZER, kelvin)
        found[f"freezer reads {-kelvin:+.0f} K"] = Variant(changed)
    for celsius in (4.4, 16.0, 32.0, 43.0):
        found[f"room {celsius}"] = Variant(plain, room=celsius + 273.15)
    found["restriction 0.5"] = Variant(apply_faults(plain, [("restricted capillary", 0.5)]))
    found["weak compressor 0.6"] = Variant(apply_faults(plain, [("weak compressor", 0.4)]))
    found["freezer fan dead"] = Variant(apply_faults(plain, ["freezer fan dead"]))
    return found


class Summary(NamedTuple):
    """Means of a settled machine; gauges and watts while it runs. Degrees Celsius, bar, grams."""

    running: float
    fresh_food: float
    freezer: float
    fresh_food_swing: float
    evaporating: float
    condensing: float
    superheat: float
    subcooling: float
    watts: float
    kilowatt_hours: float
    air_flow: float
    loop_error: float
    cabinet_error: float


def summaries(refrigerant: str = "R-600a") -> dict[str, Summary]:
    """Run all variants in one run of arrays."""
    found = variants(refrigerant)
    record = simulate_many(
        [variant.machine for variant in found.values()],
        HOURS,
        numpy.array([variant.room for variant in found.values()]),
        frost=numpy.array([variant.frost for variant in found.values()]),
        interval=60.0,
    )
    return {name: summary(record, column) for column, name in enumerate(found)}


def summary(record, column) -> Summary:
    rows = record["time"] > (record["time"][-1] - SETTLED * 3600)
    running = record["refrigerant_flow"][rows, column] > 1e-5
    celsius = {
        name: record[f"{name}_temperature"][rows, column] - 273.15
        for name in ("fresh_food_air", "freezer_air", "evaporating", "condensing")
    }

    def while_running(values):
        return float(values[running].mean()) if running.any() else math.nan

    energy = record["energy"][rows, column]
    balances = record.about["balances"]
    return Summary(
        running.mean(), celsius["fresh_food_air"].mean(), celsius["freezer_air"].mean(),
        numpy.ptp(celsius["fresh_food_air"]), while_running(celsius["evaporating"]),
        while_running(celsius["condensing"]), while_running(record["superheat"][rows, column]),
        while_running(record["subcooling"][rows, column]),
        while_running(record["compressor_power"][rows, column]),
        (energy[-1] - energy[0]) / 3.6e6 * 24 / SETTLED,
        while_running(record["freezer_air_flow"][rows, column]) * 1e3,
        abs(balances["refrigerant_loop"][column]), abs(balances["cabinet"][column]),
    )  # fmt: skip
