"""How invented students work out homework 04, Round the circuit: rightly, or with something wrong.

Continues `invented_thinking.py`; `invented_study.py` puts them together. Written from the wording of the
questions as students get it, lesson 04 with its bench sheet, and the catalogue of wrong ideas alone.
"""

from __future__ import annotations

import sys
from importlib import import_module
from pathlib import Path

from coldbench.properties.refrigerant import (
    liquid_enthalpy,
    saturation_pressure,
    vapor_density,
    vapor_enthalpy,
)

sys.path.append(str(Path(__file__).parent))
thinking = import_module("invented_thinking")
machines = import_module("invented_machines")

PLAIN = "R-134a"  # the refrigerant, as the opening of homework 04 says
DRIER = 6.0  # °F from coil inlet to outlet, above which a coil has run dry. Common practice, no source
STANDING = 8.0  # °F of subcooling, above which liquid stands in this condenser: lesson 04 has 1, 11 and 30
RISEN = 0.8  # psi
CATALOGUED = {
    "04.1": ["gauge_as_absolute", "wrong_refrigerant_curve", "line_temperature_as_saturated"],
    "04.2": ["flash_gas_forgotten"],
    "04.3": [],
    "04.4": [],
    "04.5": ["compressor_heat_forgotten"],
    "04.6": [],
    "04.7": [
        "low_charge_raises_suction",
        "colder_means_higher_pressure",
        "coil_order_does_not_matter",
    ],
    "04.8": [],
}
OUTSIDE = {
    "04.1": ["turned over", "air added to the table", "degrees divided", "pressures taken off"],
    "04.2": [
        "liquid as warm as the condenser",
        "both at the liquid pipe",
        "both at the condenser",
        "vapour column alone",
        "liquid column alone",
    ],
    "04.3": [
        "a full stroke",
        "vapour of the condenser",
        "two strokes a turn",
        "filling taken off",
        "rounded row",
    ],
    "04.4": ["divided", "added up", "sixty again"],
    "04.5": ["socket alone", "socket taken off", "ratio of the two", "shell counted twice"],
    "04.6": [
        "coldest first",
        "suction is the coldest",
        "condenser is the hottest",
        "liquid gathers heat",
        "exchanger beats the condenser",
    ],
    "04.7": [
        "watts are low, so it pumps badly",
        "always a leak",
        "first come, first dry",
        "hot liquid, blocked",
    ],
    "04.8": [],
}
TWO_WAYS = set()
DECIMALS = {"04.1": 2, "04.3": 2}


def kelvin(fahrenheit: float) -> float:
    return thinking.to_celsius(fahrenheit, set()) + 273.15


def pounds(fahrenheit: float, ideas: set[str]) -> float:
    return saturation_pressure(thinking.chart(PLAIN, ideas), kelvin(fahrenheit)) / thinking.PSI


def pressure_ratio(see: dict, earlier: dict, ideas: set[str]):
    warm, cold = see["condenser_temperature"], see["coil_temperature"]
    if "degrees divided" in ideas:
        return warm / cold, ""
    warm = see["liquid_temperature"] if "line_temperature_as_saturated" in ideas else warm
    high, low = pounds(warm, ideas), pounds(cold, ideas)
    if "gauge_as_absolute" in ideas:
        high, low = high - thinking.AIR, low - thinking.AIR
    if "air added to the table" in ideas:
        high, low = high + thinking.AIR, low + thinking.AIR
    if "pressures taken off" in ideas:
        return high - low, ""
    return (low / high if "turned over" in ideas else high / low), ""


def cooling_per_kilogram(see: dict, earlier: dict, ideas: set[str]):
    coil, liquid, condenser = (
        see["coil_temperature"],
        see["liquid_temperature"],
        see["condenser_temperature"],
    )
    vapour_at, liquid_at = coil, liquid
    if "flash_gas_forgotten" in ideas:
        liquid_at = coil
    for phrase, places in {
        "liquid as warm as the condenser": (coil, condenser),
        "both at the liquid pipe": (liquid, liquid),
        "both at the condenser": (condenser, condenser),
    }.items():
        vapour_at, liquid_at = places if phrase in ideas else (vapour_at, liquid_at)
    vapour = vapor_enthalpy(PLAIN, kelvin(vapour_at)) / 1000
    before = liquid_enthalpy(PLAIN, kelvin(liquid_at)) / 1000
    if "vapour column alone" in ideas:
        return vapour, "kJ/kg"
    return (before if "liquid column alone" in ideas else vapour - before), "kJ/kg"


def flow(see: dict, earlier: dict, ideas: set[str]):
    warm = see["condenser_temperature"] if "vapour of the condenser" in ideas else see["coil_temperature"]
    warm = 5 * round(warm / 5) if "rounded row" in ideas else warm
    filled = see["filling"] / 100
    filled = 1.0 if "a full stroke" in ideas else 1 - filled if "filling taken off" in ideas else filled
    strokes = see["speed"] / 60 * (2 if "two strokes a turn" in ideas else 1)
    # cm3 times kg/m3 is a thousandth of a gram
    return see["displacement"] * vapor_density(PLAIN, kelvin(warm)) / 1000 * strokes * filled, "g/s"


def cooling(see: dict, earlier: dict, ideas: set[str]):
    each = earlier.get("04.2", cooling_per_kilogram(see, earlier, set())[0])
    grams = earlier.get("04.3", flow(see, earlier, set())[0])
    if "divided" in ideas:
        return each / grams, "W"
    if "added up" in ideas:
        return each + grams, "W"
    return each * grams / (60 if "sixty again" in ideas else 1), "W"


def heat_to_the_room(see: dict, earlier: dict, ideas: set[str]):
    box = earlier.get("04.4", cooling(see, earlier, set())[0])
    socket = see["power"]
    for phrase, watts in {
        "compressor_heat_forgotten": box,
        "socket alone": socket,
        "socket taken off": box - socket,
        "ratio of the two": box / socket,
        "shell counted twice": box + 2 * socket,
    }.items():
        if phrase in ideas:
            return watts, "W"
    return box + socket, "W"


def five_clamps(see: dict, earlier: dict, ideas: set[str]) -> str:
    for phrase, order in {
        "coldest first": "B D A E C",
        "suction is the coldest": "C E A B D",
        "condenser is the hottest": "E C A D B",
        "liquid gathers heat": "C A E D B",
        "exchanger beats the condenser": "C D E A B",
    }.items():
        if phrase in ideas:
            return order
    return "C E A D B"


def three_faults(see: dict, earlier: dict, ideas: set[str]) -> str:
    risen = see["suction_pressure"] - see["new_suction_pressure"] > RISEN
    dry = see["coil_outlet_pipe"] - see["coil_inlet"] > DRIER
    standing = see["mid_condenser"] - see["liquid_pipe"] > STANDING
    if dry:
        cause, proof = ("C", "G") if standing else ("B", "F")
    else:
        cause, proof = ("D", "H") if risen else ("A", "E")
    if "low_charge_raises_suction" in ideas:
        cause, proof = "B" if risen else "C" if dry else "A", "I"
    if "colder_means_higher_pressure" in ideas:
        proof = "J"
    if "watts are low, so it pumps badly" in ideas and see["compressor_power"] < see["new_compressor_power"]:
        cause, proof = "D", "H"
    if "always a leak" in ideas:
        cause, proof = "B", "F"
    if "hot liquid, blocked" in ideas and dry:
        cause, proof = ("B", "G") if standing else ("C", "F")
    short = "M" if "coil_order_does_not_matter" in ideas else "K" if "first come, first dry" in ideas else "L"
    return machines.table(cause=cause, proof=proof, short=short)


WAYS = {
    "04.1": pressure_ratio,
    "04.2": cooling_per_kilogram,
    "04.3": flow,
    "04.4": cooling,
    "04.5": heat_to_the_room,
    "04.6": five_clamps,
    "04.7": three_faults,
}
