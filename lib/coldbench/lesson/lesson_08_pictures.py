"""The pictures of lesson 08 about boards and what they command, each with its twin in words.

`who_runs` asks a machine's own board which parts run at the temperatures of its boxes, and says why;
`commanded_against_seen` puts beside a command what a meter and an eye find where a part has failed. What a
part does comes from the board (`coldbench.lesson.lesson_08_board`); only the reasons are written here.
"""

from __future__ import annotations

from typing import NamedTuple

from coldbench.lesson.lesson_08_board import CALLING, FULL_FAN, SATISFIED, Command, asked
from coldbench.lesson.picture import Picture, colour, sketch, words
from coldbench.lesson.saying import say_temperature
from coldbench.machine.description import Machine
from coldbench.machine.faults import apply_faults, faults_of
from coldbench.machine.five import machine_named
from coldbench.units import from_si

NEVER_MIND = 1e8  # [Ohm], above which a meter shows an open circuit


class Part(NamedTuple):
    """One line of what a machine does: the part, its state in words, whether it is at work, and why."""

    name: str
    state: str
    at_work: bool
    why: str


def calls(
    machine: Machine, believed: dict[str, float], before: tuple[float, float]
) -> dict[str, tuple[bool, str]]:
    """Say which boxes call, by the cut-ins and cut-outs of the machine's board.

    Parameters: ``machine`` its description; ``believed`` sensor to temperature [K]; ``before`` temperatures
    of the boxes an hour ago [K].
    Returns: box to whether it calls, and the reason; a box that nobody asks is left out.
    """
    board, found = machine.board, {}
    if hasattr(board, "cut_in"):
        bands = {"freezer": ("freezer_bulb", board.cut_in, board.cut_out)}
    else:
        bands = {
            box: (f"{box}_sensor", aim + band / 2, aim - band / 2)
            for box, aim, band in (
                ("fresh_food", board.fresh_food_aim, board.fresh_food_band),
                ("freezer", board.freezer_aim, board.freezer_band),
            )
        }
    for box, (sensor, cut_in, cut_out) in bands.items():
        felt = believed[sensor]
        if felt >= cut_in:
            found[box] = True, f"calls (cut-in {_short(cut_in)})"
        elif felt <= cut_out:
            found[box] = False, f"satisfied (cut-out {_short(cut_out)})"
        else:
            called = before == CALLING
            found[box] = called, f"in its band, so as before: {'calls' if called else 'satisfied'}"
    return found


def parts_of(machine: Machine, command: Command, called: dict[str, tuple[bool, str]]) -> list[Part]:
    """List what each part does and why.

    Parameters: ``machine`` its description; ``command`` of its board; ``called`` from `calls`.
    Returns: a line for each part.
    """
    fresh_food = called.get("fresh_food", (False, ""))[0]
    freezer = called["freezer"][0]
    reasons = _REASONS[machine.name](command, fresh_food, freezer)
    states = _states(machine, command)
    lines = [Part(name, *states[name], reasons[name]) for name in states if name != "condenser fan"]
    fan = "it goes with the compressor" if len(command.compressors) == 1 else "it goes with either compressor"
    return [*lines, Part("condenser fan", *states["condenser fan"], fan)]


def _states(machine: Machine, command: Command) -> dict[str, tuple[str, bool]]:
    """Say what the board commands, part by part."""

    def runs(duty):
        return ("runs", True) if duty > 0 else ("rests", False)

    if len(command.compressors) == 2:
        fresh_food, freezer = command.compressors
        found = {"fresh-food compressor": runs(fresh_food), "freezer compressor": runs(freezer)}
    else:
        found = {"compressor": runs(command.compressors[0])}
    if machine.valve_moves:
        found["valve"] = ("freezer's coil alone", False) if command.valve > 0.5 else ("both coils", True)
    if len(command.fans) == 2:
        found |= {"fresh-food fan": runs(command.fans[0]), "freezer fan": runs(command.fans[1])}
    else:
        found["fan"] = runs(command.fans[0])
    if machine.damper_moves:
        found["damper"] = ("open", True) if command.damper > 0.5 else ("shut", False)
    return found | {"condenser fan": runs(command.condenser_fan)}


def _series(command, fresh_food, freezer):
    cooling = command.compressors[0] > 0
    left = "" if cooling else ", and takes the cold that its coil still has"
    return {
        "compressor": "the freezer calls it"
        if freezer
        else "only the freezer may call it, and it is satisfied",
        "fresh-food fan": f"the fresh food calls it{left}" if fresh_food else "the fresh food is satisfied",
        "freezer fan": "it goes with the compressor",
    }


def _either(fresh_food, freezer):
    if fresh_food and freezer:
        return "both boxes call it"
    if not (fresh_food or freezer):
        return "both boxes are satisfied"
    return f"the {'fresh food' if fresh_food else 'freezer'} calls it"


def _valve(command, fresh_food, freezer):
    drying = command.fans[0] > 0 and not fresh_food
    after = "it blows on until its coil is dry" if drying else "the fresh food is satisfied"
    return {
        "compressor": _either(fresh_food, freezer),
        "valve": "the fresh food calls for its coil" if fresh_food else "the fresh food is satisfied",
        "fresh-food fan": "the fresh food calls, and its coil is fed" if fresh_food else after,
        "freezer fan": "the freezer calls" if freezer else "the freezer is satisfied",
    }


def _damper(command, fresh_food, freezer):
    return {
        "compressor": _either(fresh_food, freezer),
        "fan": "it goes with the compressor, one fan for both boxes",
        "damper": "the fresh food calls for air" if fresh_food else "the fresh food is satisfied",
    }


def _two_circuit(command, fresh_food, freezer):
    drying = command.fans[0] > 0 and not command.compressors[0] > 0
    waits = (
        "the fresh food calls, but its coil must dry first" if fresh_food else "the fresh food is satisfied"
    )
    after = "it blows on until its coil is dry" if drying else "it goes with its compressor"
    called = "the freezer calls it" if freezer else "the freezer is satisfied"
    return {
        "fresh-food compressor": "the fresh food calls it" if command.compressors[0] > 0 else waits,
        "freezer compressor": called,
        "fresh-food fan": after,
        "freezer fan": "it goes with its compressor",
    }


def _thermostat(command, fresh_food, freezer):
    switch = "the bulb in the freezer is warm" if freezer else "the bulb in the freezer is cold enough"
    return {"compressor": switch, "fan": "the same switch feeds it; nobody asks the fresh food"}


_REASONS = {
    "Series": _series,
    "Valve": _valve,
    "Damper": _damper,
    "Two-circuit": _two_circuit,
    "Thermostat": _thermostat,
}


def who_runs(
    name: str, fresh_food: float, freezer: float, before: tuple[float, float], coil: float
) -> Picture:
    """Show which parts of a machine run, and say why.

    Parameters: ``name`` of the machine; ``fresh_food``, ``freezer`` temperatures of the boxes [K]; ``before``
    what they were an hour ago [K]; ``coil`` temperature of the fresh-food coil, where there is one [K].
    Returns: the cabinet with its parts, and a line for each.
    """
    machine = machine_named(name)
    command = asked(machine, fresh_food, freezer, before, coil)
    called = calls(machine, command.believed, before)
    lines = parts_of(machine, command, called)
    boxes = {
        "fresh_food": ("Fresh food", fresh_food, called.get("fresh_food", (False, "nobody asks it"))[1]),
        "freezer": ("Freezer", freezer, called["freezer"][1]),
    }
    said = ". ".join(f"{title} {say_temperature(at, 0)}: {text}" for title, at, text in boxes.values())
    done = " ".join(f"{part.name.capitalize()}: {part.state}, because {part.why}." for part in lines)
    twin = f"{name}. {said}. {done}"
    return Picture(sketch(f"{name}: who runs, and why", twin, _cabinet(machine, command, boxes, lines)), twin)


def _short(temperature: float) -> str:
    return f"{from_si(temperature, 'degF'):.1f} °F".replace("-", "−")


_BOX = 'fill="none" stroke="currentColor" stroke-width="2.5"'


def _cabinet(machine: Machine, command: Command, boxes: dict, lines: list[Part]) -> list[str]:
    parts = [f'<rect x="12" y="12" width="286" height="380" {_BOX}/>']
    tops = {"fresh_food": 12, "freezer": 166}
    for box, top in tops.items():
        title, at, text = boxes[box]
        parts.append(words(24, top + 26, f"{title} {_short(at)}", "start", "bold"))
        parts.append(words(24, top + 46, text, "start"))
    gap = machine.name == "Thermostat" or (machine.damper_moves and command.damper > 0.5)
    parts.append(f'<path d="{"M12,166H40M76,166H298" if gap else "M12,166H298"}M12,312H298" {_BOX}/>')
    for coil, duty in zip(machine.coils, command.fans, strict=True):
        top = tops[coil.name]
        parts += [
            f'<rect x="180" y="{top + 62}" width="104" height="66" fill="none" stroke-width="3" '
            f'stroke-dasharray="6 4" style="stroke:{colour(0)}"/>',
            words(232, top + 100, "coil"),
            *_turning(130, top + 80, duty > 0, "fan"),
        ]
    if machine.damper_moves:
        parts.append(words(82, 160, f"damper {'open' if command.damper > 0.5 else 'shut'}", "start", "bold"))
    if machine.name == "Thermostat":
        parts.append(words(82, 160, "a fixed gap", "start", "bold"))
    if machine.valve_moves:
        feeds = "freezer's coil alone" if command.valve > 0.5 else "both coils"
        parts.append(words(24, 304, f"valve: {feeds}", "start", "bold"))
    below = ("fresh food", "freezer") if len(command.compressors) == 2 else ("compressor",)
    for place, (speed, name) in enumerate(zip(command.compressors, below, strict=True)):
        parts += _turning(58 + 92 * place, 342, speed > 0, name)
    parts += _turning(240, 342, command.condenser_fan > 0, "condenser fan")
    for row, part in enumerate(lines):
        top = 34 + 62 * row
        mark = "●" if part.at_work else "○"
        parts.append(words(316, top, f"{mark} {part.name}: {part.state}", "start", "bold"))
        parts += [words(334, top + 18 + 17 * at, line, "start") for at, line in enumerate(_wrapped(part.why))]
    return parts


def _wrapped(text: str, width: int = 42) -> list[str]:
    lines = [""]
    for word in text.split():
        if len(lines[-1]) + len(word) >= width:
            lines.append("")
        lines[-1] = f"{lines[-1]} {word}".strip()
    return lines


def _turning(x: float, y: float, runs: bool, name: str) -> list[str]:
    """Draw a thing that turns: full with a cross of blades where it runs, an empty ring where it rests."""
    fill = f'style="fill:{colour(2)}"' if runs else 'fill="none"'
    blades = (
        f'<path d="M{x - 14},{y}H{x + 14}M{x},{y - 14}V{y + 14}" stroke="currentColor" stroke-width="3"/>'
    )
    return [
        f'<circle cx="{x}" cy="{y}" r="20" stroke="currentColor" stroke-width="2" {fill}/>',
        *([blades] if runs else []),
        words(x, y + 38, name),
    ]


FAULTS = {
    "none": "",
    "fresh-food fan stands still": "fresh-food fan dead",
    "no voltage for the fresh-food fan": "fresh-food fan output dead",
    "fresh-food sensor: wire broken": "fresh-food sensor open",
    "fresh-food sensor fell onto the coil": "fresh-food sensor loose",
    "valve stuck on the freezer": "valve stuck on the freezer",
    "damper stuck shut": "damper stuck shut",
}


class Look(NamedTuple):
    """One row of a search: the part, what the board wants or believes, what is found, whether they agree."""

    name: str
    commanded: str
    seen: str
    agrees: bool


def looks(machine: Machine, fresh_food: float, freezer: float) -> list[Look]:
    """Put commands and findings side by side, while the fresh food is too warm.

    Parameters: ``machine`` its description, sound or faulty; ``fresh_food``, ``freezer`` temperatures [K].
    Returns: a row for sensor, fan, valve or damper.
    """
    command = asked(machine, fresh_food, freezer, (fresh_food, freezer))
    believed = command.believed["fresh_food_sensor"]
    ohms = command.resistances["fresh_food_sensor"]
    shown = "endless" if ohms > NEVER_MIND else f"{ohms / 1000:.1f} kΩ"
    rows = [
        Look(
            "fresh-food sensor",
            f"believes {_short(believed)}",
            f"probe {_short(fresh_food)}, {shown} unplugged",
            abs(believed - fresh_food) < 1.0,
        )
    ]
    if len(command.fans) == 2:
        volts, speed = command.fan_voltages[0], command.fan_speeds[0]
        turns = machine.fans[0].full_speed * 60 * speed
        rows.append(
            Look(
                "fresh-food fan",
                "on" if command.fans[0] > 0 else "off",
                f"{volts:.1f} V, {turns:,.0f} rpm",
                abs(volts - FULL_FAN * command.fans[0]) < 0.1 and abs(speed - command.fans[0]) < 0.01,
            )
        )
    if machine.valve_moves:
        says = ("both coils", "freezer alone")
        rows.append(_position("valve", command.valve, command.valve_seen, says))
    if machine.damper_moves:
        rows.append(_position("damper", command.damper, command.damper_seen, ("shut", "open")))
    return rows


def _position(name: str, commanded: float, seen: float, says: tuple[str, str]) -> Look:
    return Look(name, says[commanded > 0.5], says[seen > 0.5], (commanded > 0.5) == (seen > 0.5))


WARM_ABOVE, COLD_BELOW = CALLING[0], SATISFIED[1]


def commanded_against_seen(name: str, fault: str) -> Picture:
    """Show what the board wants beside what is found, with the fresh food too warm and the freezer cold.

    Parameters: ``name`` of the machine; ``fault`` one of `FAULTS`.
    Returns: a table as a picture.
    """
    sound = machine_named(name)
    title = f"{name}: commanded against seen"
    if FAULTS[fault] and FAULTS[fault] not in [one.name for one in faults_of(sound)]:
        twin = f"{name} has no such part, so this cannot fail there."
        return Picture(sketch(title, twin, [words(320, 60, twin)], height=120), twin)
    machine = apply_faults(sound, [FAULTS[fault]] if FAULTS[fault] else [])
    rows = looks(machine, WARM_ABOVE, COLD_BELOW)
    parts = [
        words(20, 34, "part", "start", "bold"), words(190, 34, "the board", "start", "bold"),
        words(360, 34, "meter and eye", "start", "bold"),
        '<path d="M20,44H620" stroke="currentColor" stroke-width="2"/>',
    ]  # fmt: skip
    for place, row in enumerate(rows):
        top = 74 + 44 * place
        mark = "agree" if row.agrees else "≠"
        parts += [
            words(20, top, row.name, "start", "normal" if row.agrees else "bold"),
            words(190, top, row.commanded, "start"), words(360, top, row.seen, "start"),
            words(622, top, mark, "end", "bold"),
        ]  # fmt: skip
    said = " ".join(
        f"{row.name.capitalize()}: the board "
        f"{'' if 'believes' in row.commanded else 'commands '}{row.commanded}; found: {row.seen}; they "
        f"{'agree' if row.agrees else 'do not agree'}."
        for row in rows
    )
    boxes = f"fresh food {say_temperature(WARM_ABOVE, 0)}, freezer {say_temperature(COLD_BELOW, 0)}"
    twin = f"{name}, {boxes}. {said}"
    return Picture(sketch(title, twin, parts, height=74 + 44 * len(rows)), twin)
