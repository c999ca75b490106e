"""Make ``lib/coldbench/properties/refrigerant_tables.py`` from the reference equations of state.

Run by hand: ``python tests/studies/make_refrigerant_tables.py``. A second run writes the same bytes
(sums are exact, coefficients are rounded); with ``--check`` nothing is written, and the exit code says
whether the committed tables are what this script makes. Needs CoolProp, a dependency of developers only.

What is inside: the fluids and their papers, the scaled variables, interpolation at Chebyshev points
in one and in two variables, the writer.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from math import ceil, cos, exp, fsum, log, log10, pi
from pathlib import Path
from textwrap import fill

import CoolProp
from CoolProp import AbstractState

TARGET = Path(__file__).parents[2] / "lib" / "coldbench" / "properties" / "refrigerant_tables.py"

FLUIDS = {
    "R-134a": ("R134a", "Tillner-Roth and Baehr 1994"),
    "R-600a": ("IsoButane", "Buecker and Wagner 2006"),
    "R-290": ("n-Propane", "Lemmon, McLinden and Wagner 2009"),
    "R-12": ("R12", "Marx, Pruss and Wagner 1992"),
}
LOWEST, HIGHEST, HOTTEST = 213.15, 363.15, 413.15  # saturated from, to; superheated vapour up to [K]
LINE_POINTS = 9  # a polynomial of degree 8 along the saturation line
SUPERHEAT_POINTS = 8  # degree 7 away from it
DIGITS = 10  # kept in the largest coefficient of a polynomial


def chebyshev_points(count: int) -> list[float]:
    """Give the points in -1…1 at which a polynomial is fixed."""
    return [cos(pi * (j + 0.5) / count) for j in range(count)]


def interpolate(values: Sequence[float]) -> list[float]:
    """Give the coefficients, highest power first, of the polynomial through values at Chebyshev points."""
    count = len(values)
    weights = [
        (2 - (k == 0)) / count * fsum(v * cos(pi * k * (j + 0.5) / count) for j, v in enumerate(values))
        for k in range(count)
    ]
    before, now = [1.0] + [0.0] * (count - 1), [0.0, 1.0] + [0.0] * (count - 2)
    powers = [weights[0] * b for b in before]
    for weight in weights[1:]:
        powers = [p + weight * n for p, n in zip(powers, now, strict=True)]
        before, now = now, [2 * up - b for up, b in zip([0.0, *now[:-1]], before, strict=True)]
    return powers[::-1]


def rounded(numbers: Sequence[float]) -> tuple[float, ...]:
    """Round to ``DIGITS`` digits of the largest, so that noise in the last bits never reaches the file."""
    places = DIGITS - ceil(log10(max(abs(n) for n in numbers)))
    return tuple(round(n, places) + 0.0 for n in numbers)


def shortened(number: float) -> float:
    """Keep ``DIGITS`` digits of one number."""
    return rounded([number])[0]


class Fluid:
    """The reference equation of one refrigerant, with the reference state of the tables."""

    def __init__(self, fluid: str) -> None:
        """Set enthalpy 200 kJ/kg and entropy 1 kJ/(kg K) for saturated liquid at 0 degC."""
        self.state = AbstractState("HEOS", fluid)
        self.state.update(CoolProp.QT_INPUTS, 0.0, 273.15)
        self.enthalpy_shift = 200e3 - self.state.hmass()
        self.entropy_shift = 1e3 - self.state.smass()
        self.critical_temperature = shortened(self.state.T_critical())
        self.critical_pressure = self.state.p_critical()
        self.molar_mass = self.state.molar_mass()
        self.gas_constant = self.state.gas_constant() / self.molar_mass

    def read(self) -> dict[str, float]:
        """Read the state that was set last."""
        state = self.state
        temperature, pressure, density = state.T(), state.p(), state.rhomass()
        return {
            "pressure": pressure,
            "density": density,
            "compressibility": pressure / (density * self.gas_constant * temperature),
            "enthalpy": state.hmass() + self.enthalpy_shift,
            "entropy": state.smass() + self.entropy_shift,
            "speed_of_sound": state.speed_sound(),
        }

    def saturated(self, temperature: float, vapor: bool) -> dict[str, float]:
        """Give saturated liquid or saturated vapour."""
        self.state.update(CoolProp.QT_INPUTS, float(vapor), temperature)
        return self.read()

    def superheated(self, pressure: float, temperature: float) -> dict[str, float]:
        """Give superheated vapour."""
        self.state.specify_phase(CoolProp.iphase_gas)
        self.state.update(CoolProp.PT_INPUTS, pressure, temperature)
        self.state.unspecify_phase()
        return self.read()


def closeness_scale(fluid: Fluid) -> tuple[float, float, Callable[[float], float]]:
    """Scale the cube root of the distance from the critical point to -1…1, and back."""
    low = (1 - LOWEST / fluid.critical_temperature) ** (1 / 3)
    high = (1 - HIGHEST / fluid.critical_temperature) ** (1 / 3)
    slope, offset = shortened(2 / (high - low)), shortened(-(high + low) / (high - low))

    def temperature(scaled: float) -> float:
        return fluid.critical_temperature * (1 - ((scaled - offset) / slope) ** 3)

    return slope, offset, temperature


def tables_of(name: str) -> dict[str, object]:
    """Give every number that the library keeps for one refrigerant."""
    fluid = Fluid(FLUIDS[name][0])
    critical = fluid.critical_temperature
    slope, offset, temperature_at = closeness_scale(fluid)
    middle, half = (LOWEST + HIGHEST) / 2, (HIGHEST - LOWEST) / 2

    points = chebyshev_points(LINE_POINTS)
    low, high = (log(fluid.saturated(t, vapor=True)["pressure"]) for t in (LOWEST, HIGHEST))
    pressures = [fluid.saturated(middle + half * x, vapor=True)["pressure"] for x in points]
    temperatures = []
    for x in points:
        fluid.state.update(CoolProp.PQ_INPUTS, exp((low + high) / 2 + (high - low) / 2 * x), 1.0)
        temperatures.append(fluid.state.T())
    liquid = [fluid.saturated(temperature_at(x), vapor=False) for x in points]
    vapor = [fluid.saturated(temperature_at(x), vapor=True) for x in points]
    table: dict[str, object] = {
        "critical_temperature": critical,
        "critical_pressure": shortened(fluid.critical_pressure),
        "molar_mass": shortened(fluid.molar_mass),
        "gas_constant": shortened(fluid.gas_constant),
        "closeness_slope": slope,
        "closeness_offset": offset,
        "log_pressure_slope": shortened(2 / (high - low)),
        "log_pressure_offset": shortened(-(high + low) / (high - low)),
        "log_pressure": rounded(interpolate([log(p) for p in pressures])),
        "temperature": rounded(interpolate(temperatures)),
        "liquid_density": rounded(interpolate([s["density"] for s in liquid])),
        "liquid_enthalpy": rounded(interpolate([s["enthalpy"] for s in liquid])),
        "liquid_entropy": rounded(interpolate([s["entropy"] for s in liquid])),
    }
    quantities = ("compressibility", "enthalpy", "entropy", "speed_of_sound")
    for quantity in quantities:
        table[f"vapor_{quantity}"] = rounded(interpolate([s[quantity] for s in vapor]))

    superheats = chebyshev_points(SUPERHEAT_POINTS)
    gains: dict[str, list[list[float]]] = {quantity: [] for quantity in quantities}
    for x, start in zip(points, vapor, strict=True):
        saturation = temperature_at(x)
        top = (HOTTEST - saturation) / (HOTTEST + critical - 2 * saturation)
        columns: dict[str, list[float]] = {quantity: [] for quantity in quantities}
        for z in superheats:
            ratio = top * (z + 1) / 2
            superheat = ratio * (critical - saturation) / (1 - ratio)
            state = fluid.superheated(start["pressure"], saturation + superheat)
            for quantity in quantities:
                columns[quantity].append((state[quantity] - start[quantity]) / superheat)
        for quantity in quantities:
            gains[quantity].append(interpolate(columns[quantity]))
    for quantity in quantities:
        rows = [interpolate(row) for row in zip(*gains[quantity], strict=True)]
        flat = rounded([number for row in rows for number in row])
        table[f"superheated_{quantity}"] = tuple(
            flat[i : i + LINE_POINTS] for i in range(0, len(flat), LINE_POINTS)
        )
    return table


def text() -> str:
    """Write the module."""
    lines = [
        '"""Polynomials of the refrigerants, written by tests/studies/make_refrigerant_tables.py.',
        "",
        f"Made with CoolProp {CoolProp.__version__} from the reference equations of state:",
        *(f"{name}: {paper}" for name, (_, paper) in FLUIDS.items()),
        "",
        "Highest power first. `coldbench.properties.refrigerant_polynomials` says of which variable.",
        '"""',
        "",
        "# fmt: off",
        f"LOWEST, HIGHEST, HOTTEST = {LOWEST}, {HIGHEST}, {HOTTEST}  # saturated from, to; vapour up to [K]",
        "",
        "TABLES = {",
    ]
    for name in FLUIDS:
        lines.append(f'    "{name}": {{')
        for key, value in tables_of(name).items():
            body = f'"{key}": {value},'
            lines.append(fill(body, 108, initial_indent=" " * 8, subsequent_indent=" " * 12))
        lines.append("    },")
    return "\n".join([*lines, "}", "# fmt: on", ""])


if __name__ == "__main__":
    made = text()
    if "--check" in sys.argv:
        sys.exit(
            0 if TARGET.read_text(encoding="utf-8") == made else "The committed tables differ from these."
        )
    TARGET.write_text(made, encoding="utf-8")
    print(f"{TARGET.name}: {len(made)} bytes")
