"""Measure how far the refrigerant functions lie from the reference equations of state.

Run by hand in the folder ``tests``: ``python -m studies.measure_refrigerant_tables`` prints the table
and writes ``studies/refrigerant_table_errors.csv``. The docstrings state these errors, and a test
measures again on a coarser grid. Needs CoolProp, a dependency of developers only.
"""

from __future__ import annotations

import csv
import sys
from math import ceil, floor, log10
from pathlib import Path

import CoolProp
from coldbench.properties import refrigerant as subject
from studies.make_refrigerant_tables import FLUIDS, HIGHEST, HOTTEST, LOWEST, Fluid

REPORT = Path(__file__).with_name("refrigerant_table_errors.csv")
STRICT = (228.15, 343.15)  # -45 to 70 degC [K]
UNITS = {"temperature": "K", "enthalpy": "kJ/kg", "heat": "kJ/kg"}  # by the last word of a name; else %


def unit_of(function: str) -> str:
    """Give the unit in which the error of a function is stated."""
    return UNITS.get(function.rsplit("_", 1)[-1], "%")


def error(function: str, found: float, true: float) -> float:
    """Give the size of one difference, in the unit of the function."""
    scale = {"K": 1.0, "kJ/kg": 1e-3, "%": 100 / true}[unit_of(function)]
    return abs(found - true) * scale


def saturated_errors(name: str, fluid: Fluid, temperature: float) -> dict[str, float]:
    """Compare every function of the saturation line at one temperature."""
    liquid, vapor = fluid.saturated(temperature, vapor=False), fluid.saturated(temperature, vapor=True)
    true = {
        "saturation_pressure": vapor["pressure"],
        "latent_heat": vapor["enthalpy"] - liquid["enthalpy"],
        **{f"liquid_{q}": liquid[q] for q in ("density", "enthalpy", "entropy")},
        **{f"vapor_{q}": vapor[q] for q in ("density", "enthalpy", "entropy")},
    }
    errors = {f: error(f, getattr(subject, f)(name, temperature), value) for f, value in true.items()}
    inverse = "saturation_temperature"
    errors[inverse] = error(inverse, subject.saturation_temperature(name, vapor["pressure"]), temperature)
    return errors


def superheated_errors(name: str, fluid: Fluid, pressure: float, temperature: float) -> dict[str, float]:
    """Compare every function of superheated vapour at one state."""
    true = fluid.superheated(pressure, temperature)
    functions = {f"superheated_{q}": true[q] for q in ("density", "enthalpy", "entropy", "speed_of_sound")}
    errors = {
        f: error(f, getattr(subject, f)(name, pressure, temperature), value) for f, value in functions.items()
    }
    inverse = "superheated_temperature"
    errors[inverse] = error(
        inverse, subject.superheated_temperature(name, pressure, true["entropy"]), temperature
    )
    return errors


def measured(
    line_points: int, saturation_points: int, superheat_points: int
) -> dict[tuple[str, str, str], float]:
    """Give the largest errors by refrigerant, function and range, on an even grid of these sizes."""
    largest: dict[tuple[str, str, str], float] = {}

    def note(name: str, saturation: float, errors: dict[str, float]) -> None:
        ranges = ["whole"] + ["strict"] * (STRICT[0] <= saturation <= STRICT[1])
        for function, size in errors.items():
            for span in ranges:
                key = (name, function, span)
                largest[key] = max(largest.get(key, 0.0), size)

    for name, (coolprop_name, _) in FLUIDS.items():
        fluid = Fluid(coolprop_name)
        for i in range(line_points):
            temperature = LOWEST + (HIGHEST - LOWEST) * i / (line_points - 1)
            note(name, temperature, saturated_errors(name, fluid, temperature))
        for i in range(saturation_points):
            saturation = LOWEST + (HIGHEST - LOWEST) * i / (saturation_points - 1)
            fluid.state.update(CoolProp.QT_INPUTS, 1.0, saturation)
            pressure = fluid.state.p()
            for j in range(superheat_points):
                superheat = 0.01 + (HOTTEST - saturation - 0.02) * (j / (superheat_points - 1)) ** 2
                note(name, saturation, superheated_errors(name, fluid, pressure, saturation + superheat))
    return largest


def upwards(size: float) -> float:
    """Round up to two digits, so that what is stated is never less than what was found."""
    step = 10.0 ** (floor(log10(size)) - 1)
    return float(f"{ceil(size / step) * step:.2g}")


def stated(largest: dict[tuple[str, str, str], float], function: str, span: str) -> float:
    """Give the largest error of a function over all refrigerants, as its docstring states it."""
    return upwards(max(size for (_, f, s), size in largest.items() if (f, s) == (function, span)))


if __name__ == "__main__":
    found = measured(line_points=1501, saturation_points=151, superheat_points=81)
    rows = [
        [name, function, unit_of(function), upwards(found[name, function, "strict"]), upwards(size)]
        for (name, function, span), size in found.items()
        if span == "whole"
    ]
    head = ["refrigerant", "function", "unit", "largest error -45 to 70 degC", "largest error, whole range"]
    with REPORT.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file, lineterminator="\n").writerows([head, *rows])
    csv.writer(sys.stdout).writerows([head, *rows])
    for function in dict.fromkeys(row[1] for row in rows):
        print(
            function, unit_of(function), stated(found, function, "strict"), stated(found, function, "whole")
        )
