"""Balances of every machine, refrigerant, room and fault, with a day's doors and ice: worst cases, a table.

Run by hand: ``python tests/studies/balance_matrix.py`` writes balance_matrix.csv beside this file.
Accepted: 0.2 % of the coils' heat missing in the refrigerant loop, 0.3 % in the cabinet.
"""

from __future__ import annotations

import csv
import sys
import time
from pathlib import Path

import numpy
from coldbench.machine import NO_ICE_TAKEN, NORMAL_DAY, IceTaken, simulate_many
from coldbench.machine.faults import apply_faults, faults_of
from coldbench.machine.five import MACHINES, REFRIGERANTS, machine_named

ROOMS = (277.55, 289.15, 298.15, 305.15, 316.15)  # [K]: 4.4, 16, 25, 32, 43 °C
HOURS = 24.0
ICE_TAKEN = [IceTaken(hour, 2.0) for hour in range(0, 24, 4)]  # all that is made, and more
TABLE = Path(__file__).with_name("balance_matrix.csv")


def main(hours: float = HOURS) -> None:
    lines = []
    for name in MACHINES:
        for refrigerant in REFRIGERANTS:
            begin = time.perf_counter()
            sound = machine_named(name, refrigerant)
            faults = ["", *[fault.name for fault in faults_of(sound)]]
            machines = [apply_faults(sound, [fault] if fault else []) for fault in faults]
            record = simulate_many(
                machines * len(ROOMS),
                hours,
                numpy.repeat(ROOMS, len(faults)),
                doors=NORMAL_DAY,
                ice_taken=ICE_TAKEN if sound.ice_maker else NO_ICE_TAKEN,
                interval=3600.0,
            )
            balances = record.about["balances"]
            for column, (room, fault) in enumerate((room, fault) for room in ROOMS for fault in faults):
                found = [
                    float(balances[kind][column])
                    for kind in ("refrigerant_loop", "cabinet", "water", "charge")
                ]
                lines.append([name, refrigerant, f"{room - 273.15:.1f}", fault or "sound", *found])
            values = numpy.array([line[4:7] for line in lines[-len(machines) * len(ROOMS) :]])
            worst = numpy.abs(values).max(axis=0)  # not a number, should there be one, shows
            print(
                f"{name:12s} {refrigerant} {len(values)} machines: loop {worst[0]:.1e}, cabinet "
                f"{worst[1]:.1e}, water {worst[2]:.1e} ({time.perf_counter() - begin:.0f} s)",
                flush=True,
            )
    with TABLE.open("w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(
            ["machine", "refrigerant", "room_celsius", "fault", "loop", "cabinet", "water", "charge"]
        )
        writer.writerows([*line[:4], *(f"{value:.1e}" for value in line[4:])] for line in lines)


if __name__ == "__main__":
    main(*map(float, sys.argv[1:]))
