"""How invented students work out homework 08, One circuit, several boxes: rightly, or with something wrong.

Continues `invented_thinking.py`; `invented_study.py` puts them together. Written from the wording of the
questions as students get it, lesson 08, and the catalogue of wrong ideas alone.
"""

from __future__ import annotations

import sys
from importlib import import_module
from pathlib import Path

sys.path.append(str(Path(__file__).parent))
thinking = import_module("invented_thinking")
machines = import_module("invented_machines")

SERIES, VALVE, DAMPER, TWO_CIRCUIT, THERMOSTAT = 1, 2, 3, 4, 5  # numbers of the row, as the questions say
ENDLESS = 999.0  # kOhm, as question 08.8 says
CATALOGUED = {
    "08.1": ["satisfied_box_stops_compressor"],
    "08.2": ["satisfied_box_stops_compressor"],
    "08.3": ["coil_order_does_not_matter"],
    "08.4": ["fan_off_means_no_cooling", "difference_with_32"],
    "08.5": ["midpoint_is_average"],
    "08.6": ["temperature_difference_added"],
    "08.7": [],
    "08.8": ["dead_fan_as_low_charge", "vacuum_is_a_leak"],
    "08.9": [],
}
TWO_WAYS = {
    ("08.4", "difference_with_32"),  # on the way into the formula, or on the way out
}
OUTSIDE = {
    "08.1": [
        "all alike: a fan",
        "fan overlooked",
        "a damper is a valve",
        "the gap is a damper",
        "a compressor starts, that is all",
    ],
    "08.2": ["all fans run with the compressor", "the condenser fan follows the coil fan", "shut is no part"],
    "08.3": ["the first starves first", "only takes longer"],
    "08.4": ["still air added", "seconds left as they are", "coil against room", "walls through the coil"],
    "08.5": ["shares turned round", "warm part alone", "freezer air plus the share in degrees"],
    "08.6": ["below the freezer's air", "below the fresh food's air", "half the difference"],
    "08.7": [
        "the gap is a damper",
        "Damper has its own fan above",
        "Series has a valve",
        "first and second exchanged",
    ],
    "08.8": ["fans die first", "always the valve", "boards die first", "sensors die first"],
    "08.9": [],
}
DECIMALS = {}


def who_brings_cold(see: dict, earlier: dict, ideas: set[str]) -> str:
    letters = {"series": "C", "valve": "E", "damper": "B", "two_circuit": "A", "thermostat": "D"}
    for idea, changed in {
        "satisfied_box_stops_compressor": {"series": "D", "valve": "D", "damper": "D"},
        "fan overlooked": {"series": "D"},
        "all alike: a fan": dict.fromkeys(("valve", "damper", "two_circuit"), "C"),
        "a damper is a valve": {"valve": "B", "damper": "E"},
        "the gap is a damper": {"thermostat": "B"},
        "a compressor starts, that is all": {"series": "A", "two_circuit": "A"},
    }.items():
        letters |= changed if idea in ideas else {}
    return machines.table(**letters)


def who_runs(see: dict, earlier: dict, ideas: set[str]) -> str:
    machine = see["machine"]
    letters = {
        "compressor": "A",
        "fresh_food_fan": "E" if machine == DAMPER else "B",
        "freezer_fan": "A",
        "condenser_fan": "A",
        "valve_or_damper": "C" if machine in (VALVE, DAMPER) else "E",
    }
    if "satisfied_box_stops_compressor" in ideas and machine != TWO_CIRCUIT:
        letters |= dict.fromkeys(("compressor", "freezer_fan", "condenser_fan"), "B")
    if "all fans run with the compressor" in ideas:
        letters["fresh_food_fan"] = "A"
    if "the condenser fan follows the coil fan" in ideas:
        letters["condenser_fan"] = letters["fresh_food_fan"]
    if "shut is no part" in ideas:
        letters["valve_or_damper"] = {"C": "B", "E": "C"}[letters["valve_or_damper"]]
    return machines.table(**letters)


def which_starves(see: dict, earlier: dict, ideas: set[str]) -> str:
    if "coil_order_does_not_matter" in ideas:
        return "A"
    if "only takes longer" in ideas:
        return "D"
    fresh_food_last = (see["first_coil"] == 2) != ("the first starves first" in ideas)
    return "B" if fresh_food_last else "C"


def in_kelvin(difference: float, ideas: set[str]) -> float:
    return (difference - (32 if "difference_with_32" in ideas else 0)) / 1.8


def warming(see: dict, earlier: dict, ideas: set[str]):
    room, box, coil = (see[name + "_temperature"] for name in ("room", "box_air", "coil"))
    colder = room if "coil against room" in ideas else box
    walls = see["wall_conductance"] * in_kelvin(room - box, ideas)
    still = see["still_conductance"] * in_kelvin(colder - coil, ideas)
    if "walls through the coil" in ideas:
        still = see["still_conductance"] * in_kelvin(room - box, ideas)
    if "fan_off_means_no_cooling" in ideas:
        still = 0
    still = -still if "still air added" in ideas else still
    hour = 1.0 if "seconds left as they are" in ideas else 3.6
    risen = (walls - still) * hour / see["heat_capacity"] * 1.8
    return risen + (32 if "difference_with_32" + thinking.OTHER_WAY in ideas else 0), "degF"


def mixed_air(see: dict, earlier: dict, ideas: set[str]):
    warm, cold = see["fresh_food_air_temperature"], see["freezer_air_temperature"]
    share = see["fresh_food_share"] / 100
    share = 0.5 if "midpoint_is_average" in ideas else 1 - share if "shares turned round" in ideas else share
    if "warm part alone" in ideas:
        return share * warm, "degF"
    if "freezer air plus the share in degrees" in ideas:
        return cold + 100 * share, "degF"
    return share * warm + (1 - share) * cold, "degF"


def shared_coil(see: dict, earlier: dict, ideas: set[str]):
    air = earlier.get("08.5", mixed_air(see, earlier, set())[0])
    air = see["freezer_air_temperature"] if "below the freezer's air" in ideas else air
    air = see["fresh_food_air_temperature"] if "below the fresh food's air" in ideas else air
    difference = see["coil_to_air_difference"] / (2 if "half the difference" in ideas else 1)
    return air + (difference if "temperature_difference_added" in ideas else -difference), "degF"


def parts_counted(see: dict, earlier: dict, ideas: set[str]) -> str:
    has = {
        "fan": {SERIES, VALVE, TWO_CIRCUIT},
        "sensor": {SERIES, VALVE, DAMPER, TWO_CIRCUIT},
        "valve": {VALVE},
        "damper": {DAMPER},
        "compressor": {TWO_CIRCUIT},
    }
    for phrase, part, machine in (
        ("the gap is a damper", "damper", THERMOSTAT),
        ("Damper has its own fan above", "fan", DAMPER),
        ("Series has a valve", "valve", SERIES),
    ):
        has[part] |= {machine} if phrase in ideas else set()
    first, second = see["first_machine"], see["second_machine"]
    if "first and second exchanged" in ideas:
        first, second = second, first
    letter = {(True, False): "A", (False, True): "B", (True, True): "C", (False, False): "D"}
    return machines.table(**{part: letter[first in of, second in of] for part, of in has.items()})


def warm_above(see: dict, earlier: dict, ideas: set[str]) -> str:
    if see["sensor_resistance"] == ENDLESS:
        cause = "C"
    elif see["fan_voltage"] < 1:
        cause = "B"
    elif see["fan_speed"] < 1:
        cause = "A"
    else:
        cause = "D" if see["fresh_food_coil_temperature"] > see["fresh_food_air_temperature"] - 10 else "E"
    if ideas & {"dead_fan_as_low_charge", "vacuum_is_a_leak"}:
        cause = "E"
    for phrase, suspect in {
        "fans die first": "A",
        "boards die first": "B",
        "sensors die first": "C",
        "always the valve": "D",
    }.items():
        cause = suspect if phrase in ideas else cause
    proof = {"A": "J", "B": "H", "C": "G", "D": "F", "E": "I"}[cause]
    return machines.table(cause=cause, proof=proof)


WAYS = {
    "08.1": who_brings_cold,
    "08.2": who_runs,
    "08.3": which_starves,
    "08.4": warming,
    "08.5": mixed_air,
    "08.6": shared_coil,
    "08.7": parts_counted,
    "08.8": warm_above,
}
