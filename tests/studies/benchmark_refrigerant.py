"""Time the refrigerant functions on plain floats beside the reference library's plain call, in one run.

Run by hand: ``python tests/studies/benchmark_refrigerant.py``. Trust the ratios, not the microseconds.
"""

from __future__ import annotations

from timeit import repeat

from coldbench.properties import refrigerant
from CoolProp.CoolProp import PropsSI

STEPS = 2000
ROUNDS = 7
FLUID = "IsoButane"
THEIR_ENTROPY = PropsSI("S", "P", 60e3, "T", 293.15, FLUID)  # another reference state
ENTROPY = refrigerant.superheated_entropy("R-600a", 60e3, 293.15)
CALLS = {
    "saturation_pressure": (("R-600a", 260.0), ("P", "T", 260.0, "Q", 1)),
    "saturation_temperature": (("R-600a", 60e3), ("T", "P", 60e3, "Q", 1)),
    "vapor_density": (("R-600a", 260.0), ("D", "T", 260.0, "Q", 1)),
    "liquid_enthalpy": (("R-600a", 260.0), ("H", "T", 260.0, "Q", 0)),
    "superheated_enthalpy": (("R-600a", 60e3, 293.15), ("H", "P", 60e3, "T", 293.15)),
    "superheated_density": (("R-600a", 60e3, 293.15), ("D", "P", 60e3, "T", 293.15)),
    "superheated_temperature": (("R-600a", 600e3, ENTROPY), ("T", "P", 600e3, "S", THEIR_ENTROPY)),
}


def microseconds(function, arguments: tuple, calls: int) -> float:
    """Give the fastest of some rounds, a call."""
    return min(repeat(lambda: function(*arguments), number=calls, repeat=ROUNDS)) / calls * 1e6


if __name__ == "__main__":
    print(f"{'function':<24} {'ours, µs':>9} {'reference, µs':>14} {'ratio':>7}")
    for name, (ours, theirs) in CALLS.items():
        here = microseconds(getattr(refrigerant, name), ours, STEPS)
        there = microseconds(PropsSI, (*theirs, FLUID), STEPS // 20)
        print(f"{name:<24} {here:9.2f} {there:14.1f} {there / here:7.0f}")
