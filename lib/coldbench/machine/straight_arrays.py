"""Nodes of a calculation written out as lines for arrays, each result put into an array that is there.

What is inside: `ArrayLines`, which writes the parts of a step for many machines at once. One line is one
numpy call; a result goes into the array of a number that is done with, or into that of the state which it
replaces, so that a step makes next to no new arrays. Known numbers are arrays too: numpy takes those quicker.
"""

from __future__ import annotations

from coldbench.machine.straight_line import COMPARISONS, Node
from coldbench.machine.straight_source import reached

__all__: list[str] = []

FUNCTIONS = {
    "less_or_equal": "less_equal", "greater_or_equal": "greater_equal",
} | {
    name: name
    for name in (
        "add", "subtract", "multiply", "divide", "floor_divide", "power", "negative", "absolute", "exp",
        "log", "sqrt", "less", "greater", "equal",
    )
}  # fmt: skip
NAMES = (*FUNCTIONS.values(), "minimum", "maximum", "where", "floor", "square", "asarray", "empty", "copyto")
SWITCHES = {(1.0, 0.0): "{}.astype(float)", (0.0, 1.0): "(~{}).astype(float)"}  # 1 or 0 by a condition
ALWAYS = 1 << 60  # a line beyond the last


class ArrayLines:
    """Writes the parts of a step for arrays; all share the same arrays for what is on the way."""

    ways = "arrays"

    def __init__(self):
        self.constants: dict[float, str] = {}
        self.made = {"t": 0, "q": 0}  # arrays for numbers and for conditions

    @staticmethod
    def own(text: str) -> str:
        """Write a number as an array of its own, one number a machine."""
        return f"{text} + zero"

    @staticmethod
    def still(text: str) -> str:
        """Write a number that no line changes as an array, of a single number where all machines share it."""
        return f"asarray({text})"

    def begin(self) -> list[str]:
        """Write the lines that make what all parts share."""
        constants = [f"{name} = asarray({value!r})" for value, name in self.constants.items()]
        numbers = [f"t{index} = empty(zero.shape)" for index in range(self.made["t"])]
        conditions = [f"q{index} = empty(zero.shape, bool)" for index in range(self.made["q"])]
        return ["zero = 0.0 * plant.like", *constants, *numbers, *conditions]

    def piece(self, roots: dict[str, Node], known: dict[int, str]) -> list[str]:
        """Write the lines that leave new numbers in the arrays of the state.

        Parameters: ``roots`` the new numbers by the names of the old; ``known`` names of the symbols and of
        what was worked out before, by number of node.
        Returns: the lines.
        """
        return _Piece(self, roots, known).lines()


class _Piece:
    """One part of a step on its way to lines."""

    def __init__(self, writer, roots, known):
        self.writer, self.roots = writer, roots
        self.nodes = reached(roots.values(), known)
        self.called = dict(known)
        self.on_the_way: dict[int, str] = {}
        self.free: dict[str, list[str]] = {"t": [], "q": []}
        self.used = {"t": 0, "q": 0}
        self.last_use: dict[int | str, int] = {}
        for at, node in enumerate(self.nodes):
            for part in node.parts:
                self.last_use[known.get(part.number, part.number)] = at
        for node in roots.values():
            self.last_use[known.get(node.number, node.number)] = ALWAYS
        self.wanted = {node.number: name for name, node in reversed(roots.items())}

    def lines(self) -> list[str]:
        lines = []
        for at, node in enumerate(self.nodes):
            given = [self._said(part, node) for part in node.parts]
            done_with = {
                self.on_the_way[part.number]
                for part in node.parts
                if part.number in self.on_the_way and self.last_use[part.number] == at
            }
            in_two_calls = node.kind == "clamp"  # its last number must outlive the first call
            if not in_two_calls:
                self._release(done_with)
            target = self._target(node, at - in_two_calls)
            lines.append(self._line(node, given, target))
            if in_two_calls:
                self._release(done_with)
        return lines + self._ends()

    def _said(self, part, node) -> str:
        if part.kind == "constant":
            constants = self.writer.constants
            return constants.setdefault(float(part.value), f"z{len(constants)}")
        name = self.called[part.number]
        asked = node.kind == "where" and part is node.parts[0]
        return f"{name}.astype(float)" if part.kind in COMPARISONS and not asked else name

    def _release(self, names) -> None:
        for name in sorted(names):
            self.free[name[0]].append(name)

    def _fresh(self, mark) -> str:
        if self.free[mark]:
            return self.free[mark].pop()
        name = f"{mark}{self.used[mark]}"
        self.used[mark] += 1
        self.writer.made[mark] = max(self.writer.made[mark], self.used[mark])
        return name

    def _target(self, node, at) -> str:
        """The array for a result: of the state itself, where its old number is needed no more."""
        state = self.wanted.get(node.number)
        if state is not None and node.kind not in COMPARISONS and self.last_use.get(state, -1) <= at:
            self.called[node.number] = state
            return state
        name = self._fresh("q" if node.kind in COMPARISONS else "t")
        self.called[node.number] = self.on_the_way[node.number] = name
        return name

    @staticmethod
    def _line(node, given, target) -> str:
        kind, values = node.kind, [part.value for part in node.parts if part.kind == "constant"]
        if kind == "where":
            if node.parts[0].kind in COMPARISONS and tuple(values) in SWITCHES:
                return f"{target} = {SWITCHES[tuple(values)].format(given[0])}"
            return f"{target} = where({', '.join(given)})"
        if kind in ("minimum", "maximum"):
            return f"{kind}({given[0]}, {given[1]}, out={target})"
        if kind == "clamp":
            value, low, high = given
            return f"minimum(maximum({value}, {low}, out={target}), {high}, out={target})"
        if kind == "floor_divide" and values == [1.0]:
            return f"floor({given[0]}, {target})"
        if kind == "power" and node.parts[1].kind == "constant":
            if values == [2.0]:
                return f"square({given[0]}, {target})"
            given = [given[0], repr(values[0])]
        return f"{FUNCTIONS[kind]}({', '.join(given)}, {target})"

    def _ends(self) -> list[str]:
        """The lines after which every number of the state has its new value."""
        copies, ends = [], []
        for state, node in self.roots.items():
            if node.kind == "symbol":  # an old number of the state: held apart before it may change
                name = self._fresh("t")
                copies.append(f"copyto({name}, {self.called[node.number]})")
                ends.append(f"{state}, {name} = {name}, {state}")
            elif node.kind == "constant":
                ends.append(f"{state}.fill({node.value!r})")
            elif (
                node.number in self.on_the_way
                and self.wanted[node.number] == state
                and node.kind not in COMPARISONS
            ):
                name = self.called[node.number]
                ends.append(f"{state}, {name} = {name}, {state}")
                self.called[node.number] = state
            elif self.called[node.number] != state:
                ends.append(f"copyto({state}, {self.called[node.number]})")
        return copies + ends
