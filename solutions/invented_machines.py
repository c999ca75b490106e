"""How invented students judge a running machine: questions 01.7 and 05.7.

Continues `invented_thinking.py`, which holds charts, gauges and sensors; `invented_study.py` puts the two
together. Written from the wording of the questions and the catalogue of wrong ideas alone.
"""

from __future__ import annotations

import sys
from importlib import import_module
from pathlib import Path

sys.path.append(str(Path(__file__).parent))
thinking = import_module("invented_thinking")

GOOD_IN_ICE = 33.6  # kOhm, as question 05.7 says
ENDLESS = 999.0  # kOhm, as question 05.7 says of this meter
DRY = 10.0  # °F of superheat, above which a coil has run dry. Common practice, no source
CATALOGUED = {
    "01.7": ["vacuum_is_a_leak", "low_charge_raises_suction"],
    "05.7": ["part_replaced_cause_left"],
}
OUTSIDE = {
    "01.7": ["hums all day, so worn out", "cold boxes, so all is well", "machines always leak"],
    "05.7": ["a fan is always the first to die", "ice on the coil, surely", "displays never lie"],
}


def table(**letters: str) -> str:
    return ", ".join(f"{row}: {letter}" for row, letter in letters.items())


def is_it_a_leak(see: dict, earlier: dict, ideas: set[str]) -> str:
    risen = see["new_suction_vacuum"] - see["suction_vacuum"] > 0.8  # fewer inches: a higher pressure
    fallen = see["new_discharge_pressure"] - see["discharge_pressure"] > 2
    coil = thinking.boils_at("R-600a", thinking.absolute_of_vacuum(see["suction_vacuum"], set()), set())
    dry = see["suction_line_temperature"] - coil > DRY
    if "vacuum_is_a_leak" in ideas:
        return table(cause="B", proof="D")
    if "low_charge_raises_suction" in ideas:
        return table(cause="B", proof="G") if risen else table(cause="C" if dry else "A", proof="H")
    if "hums all day, so worn out" in ideas:
        return table(cause="C", proof="G")
    if "cold boxes, so all is well" in ideas:
        return table(cause="A", proof="E")
    if dry or "machines always leak" in ideas:
        return table(cause="B", proof="F")
    return table(cause="C", proof="G") if risen and fallen else table(cause="A", proof="E")


def sensor_or_fan(see: dict, earlier: dict, ideas: set[str]) -> str:
    in_ice, in_place = see["resistance_in_ice_bath"], see["resistance_in_place"]
    if in_ice == ENDLESS:
        cause, proof = "D", "F"
    elif abs(in_ice / GOOD_IN_ICE - 1) > 0.05:
        cause, proof = ("A", "G") if in_ice < GOOD_IN_ICE else ("B", "H")
    elif thinking.sensor_temperature(in_place, set()) < see["probe_temperature"] - 10:
        cause, proof = "C", "I"
    else:
        cause, proof = "E", "J"
    for phrase, judged in {
        "a fan is always the first to die": ("E", proof),
        "ice on the coil, surely": ("C", proof),
        "displays never lie": ("A" if see["displayed_temperature"] > 37 else "B", proof),
    }.items():
        cause, proof = judged if phrase in ideas else (cause, proof)
    return table(cause=cause, proof=proof, next="K" if "part_replaced_cause_left" in ideas else "L")


WAYS = {"01.7": is_it_a_leak, "05.7": sensor_or_fan}
