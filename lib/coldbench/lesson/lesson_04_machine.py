"""The machine of lesson 04: its parts, and what it does at any setting of the sliders.

What is inside: `BENCH`, the parts of an invented R-134a machine with one coil; `at`, the circuit that it
settles to; the three faults of its circuit; ways to say what it does; `two_coils`, a machine with two in one
loop.
"""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

from coldbench.cycle_balance import Balance, CircuitParts, CoilPart, circuit_at
from coldbench.lesson.saying import signed
from coldbench.properties.refrigerant import (
    liquid_enthalpy,
    saturation_pressure,
    vapor_density,
    vapor_enthalpy,
)
from coldbench.units import from_si, to_si

__all__ = [
    "BENCH",
    "BOX",
    "FAULTS",
    "ROOM",
    "SPEED",
    "at",
    "say_flow",
    "say_heat",
    "say_per_kilogram",
    "two_coils",
]

REFRIGERANT = "R-134a"
BTU_PER_POUND, POUND = 2326.0, 0.45359237  # [J/kg], [kg]; both exact
BENCH = CircuitParts(
    REFRIGERANT, (CoilPart(15.0, holding=0.036),), charge=0.130, displacement=4.5e-6,
    capillary_diameter=0.60e-3, capillary_length=3.4, condenser_conductance=9.0, exchange=0.6,
)  # fmt: skip
BOX, ROOM, SPEED = to_si(0.0, "degF"), to_si(77.0, "degF"), to_si(3000.0, "rpm")
FAULTS = {
    "nothing": {},
    "60 % of the charge gone": {"charge": 0.4 * BENCH.charge},
    "capillary half blocked": {"capillary_opening": 0.5},
    "valves leak, pumps 60 %": {"pumping": 0.6},
}


@lru_cache(maxsize=256)
def at(
    box: float = BOX, room: float = ROOM, speed: float = SPEED, exchange: float = BENCH.exchange,
    fault: str = "nothing",
) -> Balance:  # fmt: skip
    """Let the machine settle.

    Parameters: ``box`` and ``room`` temperatures [K]; ``speed`` of the compressor [rev/s]; ``exchange``
    effectiveness of the suction-line exchanger [-]; ``fault`` one of `FAULTS`.
    Returns: the `Balance`.
    Raises: `OutOfRange` where the circuit finds none.
    """
    return circuit_at(replace(BENCH, exchange=exchange, **FAULTS[fault]), (box,), room, speed)


def say_heat(watts: float) -> str:
    """Say a flow of heat, both ways.

    Parameters: ``watts`` [W].
    Returns: for example "113 W (386 Btu/h)".
    """
    return f"{watts:.0f} W ({from_si(watts, 'Btu/h'):.0f} Btu/h)"


def say_per_kilogram(enthalpy: float) -> str:
    """Say heat per mass, both ways.

    Parameters: ``enthalpy`` or a difference of two [J/kg].
    Returns: for example "141 kJ/kg (60.6 Btu/lb)".
    """
    return f"{enthalpy / 1e3:.0f} kJ/kg ({enthalpy / BTU_PER_POUND:.1f} Btu/lb)"


def say_flow(flow: float) -> str:
    """Say a flow of refrigerant, both ways.

    Parameters: ``flow`` [kg/s].
    Returns: for example "0.69 g/s (5.5 lb/h)".
    """
    return f"{flow * 1e3:.2f} g/s ({flow * 3600 / POUND:.1f} lb/h)"


def two_coils(fresh_food_first: bool, charge_share: float) -> Balance:
    """Let a machine with two coils in one loop settle: fresh food at 37 °F, freezer at 0 °F.

    Parameters: ``fresh_food_first`` which coil refrigerant meets first; ``charge_share`` of its charge [-].
    Returns: the `Balance`, its coils in the order in which refrigerant meets them.
    """
    coils = (CoilPart(4.0, holding=0.027), CoilPart(15.0, holding=0.036))
    airs = (to_si(37.0, "degF"), BOX)
    step = 1 if fresh_food_first else -1
    parts = replace(BENCH, coils=coils[::step], charge=0.160 * charge_share)
    return circuit_at(parts, airs[::step], ROOM, SPEED)


def property_rows() -> list[tuple[str, ...]]:
    """Give the rows of the printed table of R-134a: °F, psia, heat content of liquid and vapour, density.

    Returns: rows of text, every 5 °F from −20 to 125.
    """
    rows = []
    for fahrenheit in range(-20, 126, 5):
        temperature = to_si(float(fahrenheit), "degF")
        rows.append(
            (
                signed(fahrenheit, 0),
                f"{from_si(saturation_pressure(REFRIGERANT, temperature), 'psia'):.2f}",
                f"{liquid_enthalpy(REFRIGERANT, temperature) / 1e3:.1f}",
                f"{vapor_enthalpy(REFRIGERANT, temperature) / 1e3:.1f}",
                f"{vapor_density(REFRIGERANT, temperature):.2f}",
            )
        )
    return rows
