"""A machine's step written out as plain lines: the same equations, several times quicker.

What is inside: `straightened`, which gives for a plant a function that moves it on by many steps. The parts of
a step are called once each with numbers that remember how they were worked out (`straight_line`); what they
leave in the plant is its new state, and `straight_source` writes it as plain lines of Python without a call,
an attribute or a branch that is not needed. What depends on the description alone is worked out once a run.

`Plant` stays what it is: the equations are read and changed there, and a test holds the two together. The
lines belong to a shape of machine, not to its numbers: charge, wear or severity of a fault need no new ones.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable

from coldbench.machine import plant as of_plant
from coldbench.machine.readings import readings
from coldbench.machine.straight_arrays import NAMES, ArrayLines
from coldbench.machine.straight_line import Lines, NotStraight, TracedOperations
from coldbench.machine.straight_source import FloatLines, frontier, reached, written
from coldbench.machine.straight_state import Walk
from coldbench.operations import FloatOperations

__all__: list[str] = []

CLOCKS = ("plant.time", "plant.board_clock", "plant.moisture_clock")
TAKEN = (
    *NAMES,
    "plant",
    "prepared",
    "steps",
    "due",
    "stride",
    "rows",
    "zero",
    "differ",
)  # names that the lines use
MOST_KEPT = 64  # shapes whose lines are kept
_kept: dict[tuple, tuple] = {}


def straightened(plant: of_plant.Plant, step: float) -> Callable:
    """Give a function that moves a plant on by a number of steps, quicker than `Plant.step`.

    Parameters: ``plant`` at the start of its run; ``step`` length of every step [s].
    Returns: a function of ``steps`` to take, at least one; ``due``, after how many of them readings are to be
    taken, and ``stride``, after how many more each time; ``rows``, a list to which each taking adds the time
    and all `readings`. The very first step is taken by the plant itself: from then on it holds every number
    that it will ever hold.
    Raises: `NotStraight`, a `TypeError`, when the function is called: an equation asks "if" about a state, or
    the plant grew a new part.
    """
    ready = []

    def move(steps: int, due: int, stride: int, rows: list) -> None:
        if not ready:
            step_by_step(plant, step)(1, due, stride, rows)
            steps, due = steps - 1, due - 1 or stride
            prepare, run = _functions_for(plant, step)
            ready.extend((run, prepare(plant)))
        if steps:
            run, prepared = ready
            run(plant, prepared, steps, due, stride, rows)

    return move


def step_by_step(plant: of_plant.Plant, step: float) -> Callable:
    """Give the function that `straightened` gives, by the plant's own steps: the same, slower.

    Parameters: ``plant`` and ``step`` as there.
    Returns: the function, of the same arguments.
    """
    taken = [take for _, _, take in readings(plant)]
    zero = 0.0 * plant.like  # gives every reading its column for each machine

    def move(steps: int, due: int, stride: int, rows: list) -> None:
        for _ in range(steps):
            plant.step(step)
            due -= 1
            if not due:
                rows.append((plant.time, *[take(plant) + zero for take in taken]))
                due = stride

    return move


def _functions_for(plant, step):
    """Find the lines for a plant of this shape, or write them."""
    walk = Walk(stands_for=[(plant.op, plant.op)])
    walk.through(plant, "plant")
    key = type(plant.op), step, tuple(walk.shape)
    if key not in _kept:
        if len(_kept) >= MOST_KEPT:
            del _kept[next(iter(_kept))]
        _kept[key] = _functions(plant, step)
    return _kept[key]


def _functions(plant, step):
    source = Sources(plant, step).source()
    names = _names_for(plant.op)
    exec(compile(source, "<a machine's step, written out>", "exec"), names)  # noqa: S102  our own lines alone
    return names["prepare"], names["run"]


def _names_for(op) -> dict:
    """Whatever the lines call."""
    names = {name: getattr(op, name) for name in ("exp", "log", "sqrt", "where", "minimum", "maximum")}
    if not isinstance(op, FloatOperations):
        import numpy

        names |= {name: getattr(numpy, name) for name in NAMES}
    return names | {"inf": math.inf, "nan": math.nan, "differ": of_plant.differ}


class Sources:
    """The parts of a step of one plant, traced, and the text that does the same."""

    def __init__(self, plant, step):
        self.plant, self.step = plant, step
        self.writer = FloatLines() if isinstance(plant.like, float) else ArrayLines()
        self.lines = Lines()
        walk = Walk(stands_for=[(plant.op, plant.op)])
        walk.through(plant, "plant")
        self.tuples = walk.tuples
        self.places = list(walk.numbers)
        self.names = _names([place.way for place in self.places])
        self.symbols = {
            place.way: self.lines.symbol(self.names[place.way], place.fixed) for place in self.places
        }
        board, moisture = (_elapsed(step, due) for due in (of_plant.BOARD_DUE, of_plant.MOISTURE_DUE))
        self.board = self.traced(lambda plant: plant.run_board(board))
        # What the board always leaves the same is known to the parts that follow.
        always = {way: node for way, node in self.board.items() if node.kind == "constant"}
        self.symbols |= always
        self.board = {way: node for way, node in self.board.items() if way not in always}
        self.renewals = [
            self.traced(lambda plant, place=place: plant.renew_air_side(place))
            for place in range(len(plant.coils))
        ]
        self.heat = self.traced(lambda plant: plant.step_heat(step))
        self.moisture = self.traced(lambda plant: plant.step_moisture(moisture))
        symbolic = self.symbolic(TracedOperations(self.lines))
        self.readings = [self.lines.constant(take(symbolic)) for _, _, take in readings(symbolic)]
        self.pieces = [self.board, *self.renewals, self.heat, self.moisture]
        for piece in self.pieces[1:]:
            for way in always.keys() & piece.keys():
                raise NotStraight(f"{way} is set by the board, always the same, and again by another part.")

    def symbolic(self, op):
        """Build the plant anew, with symbols for its numbers."""
        symbols = self.symbols
        walk = Walk(lambda place, _: symbols[place.way], [(self.plant.op, op)])
        return walk.through(self.plant, "plant")

    def traced(self, part) -> dict:
        """Call a part of the step with symbols; gives what it leaves changed, by way."""
        op, symbols = TracedOperations(self.lines), self.symbols
        plant = self.symbolic(op)
        part(plant)
        after = Walk(stands_for=[(op, op)])
        after.through(plant, "plant")
        found = {}
        for place, number in after.numbers.items():
            symbol = symbols.get(place.way)
            if symbol is None:
                raise NotStraight(
                    f"{place.way} appears only after the first step. Set it when the plant starts."
                )
            if number is not symbol:
                found[place.way] = self.lines.constant(number)
        return found

    def source(self) -> str:
        """Write the two functions: what is worked out once a run, and the loop over the steps."""
        writer, own = self.writer, self.writer.own
        changed = {way for piece in self.pieces for way in piece} | set(CLOCKS)
        symbols = {way: node for way, node in self.symbols.items() if node.kind == "symbol"}
        roots = [*self.readings, *[node for piece in self.pieces for node in piece.values()]]
        nodes = reached(roots, {})
        moving = {node.number for way, node in symbols.items() if way in changed}
        for node in nodes:
            if any([part.number in moving for part in node.parts]):
                moving.add(node.number)
        ways = {node.number: way for way, node in symbols.items()}
        # Once a run
        fixed = frontier(roots, nodes, lambda node: not node.fixed)
        lines, said = written(fixed, ways, writer.ways, "a")
        prepare = ["zero = 0.0 * plant.like", *lines]
        prepare.append(f"return ({_listed(writer.still(said[node.number]) for node in fixed)})")
        prepared = {node.number: f"k{index}" for index, node in enumerate(fixed)}
        # Once a call
        still = frontier(roots, nodes, lambda node: node.number in moving)
        still = [node for node in still if not node.fixed]
        lines, said = written(still, ways | prepared, writer.ways, "c")
        lines += [f"r{index} = {writer.still(said[node.number])}" for index, node in enumerate(still)]
        known = {node.number: self.names[way] for way, node in symbols.items()} | prepared
        known |= {node.number: f"r{index}" for index, node in enumerate(still)}
        state = [place for place in self.places if place.way in changed]
        holders, short = self._holders(state)
        needed = {node.number for node in nodes}
        sometimes = {way for piece in self.pieces if piece is not self.heat for way in piece}
        lines += holders
        for place in state:
            if place.way in CLOCKS:
                lines.append(f"{self.names[place.way]} = {place.way}")
            elif (
                writer.ways == "arrays" or place.way in sometimes or self.symbols[place.way].number in needed
            ):
                lines.append(f"{self.names[place.way]} = {own(short(place.way))}")
        # Each step
        board, heat, moisture = (
            writer.piece(self._named(piece), known) for piece in (self.board, self.heat, self.moisture)
        )
        loop = [f"if board_clock >= {of_plant.BOARD_DUE!r}:", *_indented(board, 1), "    board_clock = 0.0"]
        unlike = "{} != {}" if writer.ways == "floats" else "differ({}, {})"
        for index, piece in enumerate(self.renewals):
            if f"plant.fan_speeds[{index}]" not in changed:
                continue
            speeds = self.names[f"plant.fan_speeds[{index}]"], self.names[f"plant.coils[{index}].fan_speed"]
            loop.append(f"    if {unlike.format(*speeds)}:")
            loop += _indented(writer.piece(self._named(piece), known), 2)
        loop += heat
        loop += [f"board_clock += {self.step!r}", f"moisture_clock += {self.step!r}"]
        loop += [f"if moisture_clock >= {of_plant.MOISTURE_DUE!r}:", *_indented(moisture, 1)]
        loop += [
            "    moisture_clock = 0.0",
            f"time += {self.step!r}",
            "due -= 1",
            "if not due:",
            "    due = stride",
        ]
        lines_of_row, said = written(self.readings, known, writer.ways, "v")
        row = _listed(own(said[node.number]) for node in self.readings)
        loop += _indented([*lines_of_row, f"rows.append((time, {row}))"], 1)
        run = [f"({_listed(prepared.values())}) = prepared", *writer.begin(), *lines]
        run += ["for _ in range(steps):", *_indented(loop, 1), *self._stores(changed, short)]
        text = ["def prepare(plant):", *_indented(prepare, 1)]
        text += ["", "def run(plant, prepared, steps, due, stride, rows):", *_indented(run, 1)]
        return "\n".join(text)

    def _named(self, piece):
        return {self.names[way]: node for way, node in piece.items()}

    def _holders(self, state):
        """Give a short name to each list, dictionary and object that holds a number of the state."""
        holders = dict.fromkeys([place.holder for place in state if place.holder != "plant"])
        names = {holder: f"in_{name}" for holder, name in _names(list(holders)).items()}

        def short(way: str) -> str:
            holder, _, last = way.rpartition("[") if way.endswith("]") else way.rpartition(".")
            return f"{names.get(holder, holder)}{way[len(holder) :]}"

        return [f"{name} = {holder}" for holder, name in names.items()], short

    def _stores(self, changed, short) -> list[str]:
        lines = []
        inside_tuples = set()
        for way, held in self.tuples.items():
            if any(one.startswith(f"{way}[") for one in changed):
                lines.append(f"{short(way)} = {self._tuple(way, held, changed, inside_tuples)}")
        return lines + [
            f"{short(place.way)} = {self.names[place.way]}"
            for place in self.places
            if place.way in changed and place.way not in inside_tuples
        ]

    def _tuple(self, way, held, changed, inside_tuples) -> str:
        parts = []
        for at, one in enumerate(held):
            there = f"{way}[{at}]"
            if type(one) is tuple:
                parts.append(self._tuple(there, one, changed, inside_tuples))
            else:
                inside_tuples.add(there)
                parts.append(self.names[there] if there in changed else there)
        return f"({_listed(parts)})"


def _elapsed(step, due):
    """What a clock shows when it is due: steps summed up as the plant sums them."""
    clock = step
    while clock < due:
        clock += step
    return clock


def _names(ways: list[str]) -> dict[str, str]:
    """Give each number a name of its own that tells where it stands."""
    found: dict[str, str] = dict.fromkeys(TAKEN, "")
    for way in ways:
        name = re.sub(r"\W+", "_", way.removeprefix("plant.")).strip("_")
        while name in found:
            name += "_"
        found[name] = way
    return {way: name for name, way in found.items() if way}


def _listed(texts) -> str:
    return "".join(f"{text}, " for text in texts)


def _indented(lines, depth):
    return [f"{'    ' * depth}{line}" for line in lines]
