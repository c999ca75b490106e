"""The text of a machine's step: two functions of plain lines.

What is inside: `StepText`. Its ``prepare(plant)`` works out, once a run, what the description alone decides;
its ``run(plant, prepared, steps, due, stride, rows)`` takes the plant's numbers out, moves them on by many
steps in the order of `coldbench.machine.plant.Plant.step`, takes readings on the way, and puts them back.
"""

from __future__ import annotations

from coldbench.machine.plant import BOARD_DUE, MOISTURE_DUE
from coldbench.machine.straight_arrays import NAMES
from coldbench.machine.straight_source import frontier, reached, written
from coldbench.machine.straight_trace import TracedStep, names_for

__all__: list[str] = []

CLOCKS = ("plant.time", "plant.board_clock", "plant.moisture_clock")
TAKEN = (*NAMES, "plant", "prepared", "steps", "due", "stride", "rows", "zero", "differ")  # used by the lines


class StepText:
    """Writes a traced step; ``writer`` says how its parts are written, for numbers or for arrays."""

    def __init__(self, traced: TracedStep, step: float, writer):
        self.traced, self.step, self.writer = traced, step, writer
        self.changed = {way for piece in traced.pieces for way in piece} | set(CLOCKS)
        symbols = {way: node for way, node in traced.symbols.items() if node.kind == "symbol"}
        self.roots = [*traced.readings, *[node for piece in traced.pieces for node in piece.values()]]
        self.nodes = reached(self.roots, {})
        self.ways = {node.number: way for way, node in symbols.items()}
        self.known = {node.number: traced.names[way] for way, node in symbols.items()}
        self.moving = {node.number for way, node in symbols.items() if way in self.changed}
        for node in self.nodes:
            if any(part.number in self.moving for part in node.parts):
                self.moving.add(node.number)

    def text(self) -> str:
        """Write both functions."""
        fixed = frontier(self.roots, self.nodes, lambda node: not node.fixed)
        prepared = {node.number: f"k{index}" for index, node in enumerate(fixed)}
        prepare = self._prepare(fixed)
        still = self._still(prepared)
        loop = self._loop()  # before `begin`, which gathers what the parts need
        begin = [f"({_listed(prepared.values())}) = prepared", *self.writer.begin(), *still]
        run = [*begin, *self._taken_out(), "for _ in range(steps):", *_indented(loop), *self._put_back()]
        return "\n".join(
            [
                "def prepare(plant):",
                *_indented(prepare),
                "def run(plant, prepared, steps, due, stride, rows):",
                *_indented(run),
            ]
        )

    def _prepare(self, fixed) -> list[str]:
        """What the description alone decides."""
        lines, said = written(fixed, self.ways, self.writer.ways, "a")
        return [*lines, f"return ({_listed(self.writer.still(said[node.number]) for node in fixed)})"]

    def _still(self, prepared) -> list[str]:
        """What stays the same within a call, such as the room."""
        nodes = frontier(self.roots, self.nodes, lambda node: node.number in self.moving)
        nodes = [node for node in nodes if not node.fixed]
        lines, said = written(nodes, self.ways | prepared, self.writer.ways, "c")
        names = {node.number: f"r{index}" for index, node in enumerate(nodes)}
        self.known |= prepared | names
        return lines + [f"{name} = {self.writer.still(said[number])}" for number, name in names.items()]

    def _loop(self) -> list[str]:
        """One step, as `Plant.step` takes it, and the readings where they are due."""
        traced, names = self.traced, self.traced.names
        lines = [f"if board_clock >= {BOARD_DUE!r}:", *_indented(self._piece(traced.board))]
        lines.append("    board_clock = 0.0")
        unlike = "{} != {}" if self.writer.ways == "floats" else "differ({}, {})"
        for place, piece in enumerate(traced.renewals):
            speed, had = f"plant.fan_speeds[{place}]", f"plant.coils[{place}].fan_speed"
            if speed in self.changed:
                lines.append(f"    if {unlike.format(names[speed], names[had])}:")
                lines += _indented(_indented(self._piece(piece)))
        lines += self._piece(traced.heat)
        lines += [f"board_clock += {self.step!r}", f"moisture_clock += {self.step!r}"]
        lines += [f"if moisture_clock >= {MOISTURE_DUE!r}:", *_indented(self._piece(traced.moisture))]
        lines += ["    moisture_clock = 0.0", f"time += {self.step!r}"]
        read, said = written(traced.readings, self.known, self.writer.ways, "v")
        row = _listed(self.writer.own(said[node.number]) for node in traced.readings)
        taking = ["due = stride", *read, f"rows.append((time, {row}))"]
        return [*lines, "due -= 1", "if not due:", *_indented(taking)]

    def _piece(self, piece) -> list[str]:
        return self.writer.piece({self.traced.names[way]: node for way, node in piece.items()}, self.known)

    def _taken_out(self) -> list[str]:
        """The lines that take the numbers of the state out of the plant; what is never read stays there."""
        traced, own = self.traced, self.writer.own
        read = {node.number for node in self.nodes}
        kept = {way for piece in traced.pieces if piece is not traced.heat for way in piece}  # not every step
        holders = self._holders()
        lines = [f"{name} = {holder}" for holder, name in holders.items()]
        for place in traced.places:
            name = traced.names[place.way]
            if place.way in CLOCKS:
                lines.append(f"{name} = {place.way}")
            elif place.way in self.changed and (
                self.writer.ways == "arrays" or place.way in kept or traced.symbols[place.way].number in read
            ):
                lines.append(f"{name} = {own(_by(holders, place.way))}")
        return lines

    def _put_back(self) -> list[str]:
        """The lines that put the state back; a tuple is made anew."""
        traced, holders = self.traced, self._holders()
        lines, inside_tuples = [], set()
        for way, held in traced.tuples.items():
            if any(one.startswith(f"{way}[") for one in self.changed):
                lines.append(f"{_by(holders, way)} = {self._tuple(way, held, inside_tuples)}")
        return lines + [
            f"{_by(holders, place.way)} = {traced.names[place.way]}"
            for place in traced.places
            if place.way in self.changed and place.way not in inside_tuples
        ]

    def _holders(self) -> dict[str, str]:
        """Give a short name to each list, dictionary and object that holds a number of the state."""
        holders = [place.holder for place in self.traced.places if place.way in self.changed]
        names = names_for(dict.fromkeys(holders))
        return {holder: f"in_{name}" for holder, name in names.items() if holder != "plant"}

    def _tuple(self, way, held, inside_tuples) -> str:
        parts = []
        for at, one in enumerate(held):
            there = f"{way}[{at}]"
            if type(one) is tuple:
                parts.append(self._tuple(there, one, inside_tuples))
            else:
                inside_tuples.add(there)
                parts.append(self.traced.names[there] if there in self.changed else there)
        return f"({_listed(parts)})"


def _by(holders, way) -> str:
    """The way to a number, by the short name of what holds it."""
    holder = way.rpartition("[" if way.endswith("]") else ".")[0]
    return f"{holders.get(holder, holder)}{way[len(holder) :]}"


def _listed(texts) -> str:
    return "".join(f"{text}, " for text in texts)


def _indented(lines) -> list[str]:
    return [f"    {line}" for line in lines]
