"""Equations as they are met: numbers that remember how they were worked out, and the operations on them.

What is inside: `Lines`, which collects every step of a calculation once; `Node`, one number in it, known or
not; `TracedOperations`, to be given to an equation in place of `coldbench.operations`. An equation that is
called with nodes answers with nodes; `coldbench.machine.straight_source` writes them out as plain lines of
Python. An equation that asks "if" about a state cannot be written out so, and is refused.

What is known is worked out at once, and what changes nothing (times one, plus nothing) is left away.
"""

from __future__ import annotations

import math
import operator

__all__: list[str] = []

COMPARISONS = {"less": "<", "less_or_equal": "<=", "greater": ">", "greater_or_equal": ">=", "equal": "=="}
EITHER_WAY_ROUND = ("add", "multiply")


class NotStraight(TypeError):
    """An equation cannot be written out as straight lines."""


def _clamp(value, low, high):
    return low if value < low else high if value > high else value


KNOWN = {
    "add": operator.add, "subtract": operator.sub, "multiply": operator.mul, "divide": operator.truediv,
    "floor_divide": operator.floordiv, "power": operator.pow, "negative": operator.neg, "absolute": abs,
    "less": operator.lt, "less_or_equal": operator.le, "greater": operator.gt,
    "greater_or_equal": operator.ge, "equal": operator.eq, "exp": math.exp, "log": math.log,
    "sqrt": math.sqrt, "where": lambda condition, one, other: one if condition else other,
    "minimum": min, "maximum": max, "clamp": _clamp,
}  # fmt: skip


class Node:
    """One number of a calculation: a constant, a symbol, or what an operation made of other nodes."""

    __slots__ = ("fixed", "kind", "lines", "number", "parts", "value")

    def __init__(self, lines: Lines, number: int, kind: str, parts: tuple[Node, ...], value, fixed: bool):
        self.lines, self.number, self.kind, self.parts = lines, number, kind, parts
        self.value, self.fixed = value, fixed

    def __repr__(self):
        return f"Node({self.kind}, {self.parts or self.value})"

    def __bool__(self):
        raise NotStraight(
            "An equation asks a state of the machine 'if': that cannot be written out for all states. "
            "Use where, minimum, maximum or clamp of the operations."
        )

    __hash__ = None

    def __add__(self, other):
        return self.lines.make("add", self, other)

    def __radd__(self, other):
        return self.lines.make("add", other, self)

    def __sub__(self, other):
        return self.lines.make("subtract", self, other)

    def __rsub__(self, other):
        return self.lines.make("subtract", other, self)

    def __mul__(self, other):
        return self.lines.make("multiply", self, other)

    def __rmul__(self, other):
        return self.lines.make("multiply", other, self)

    def __truediv__(self, other):
        return self.lines.make("divide", self, other)

    def __rtruediv__(self, other):
        return self.lines.make("divide", other, self)

    def __floordiv__(self, other):
        return self.lines.make("floor_divide", self, other)

    def __pow__(self, other):
        return self.lines.make("power", self, other)

    def __neg__(self):
        return self.lines.make("negative", self)

    def __abs__(self):
        return self.lines.make("absolute", self)

    def __lt__(self, other):
        return self.lines.make("less", self, other)

    def __le__(self, other):
        return self.lines.make("less_or_equal", self, other)

    def __gt__(self, other):
        return self.lines.make("greater", self, other)

    def __ge__(self, other):
        return self.lines.make("greater_or_equal", self, other)

    def __eq__(self, other):
        return self.lines.make("equal", self, other)


class Lines:
    """All steps of a calculation in the order in which they were met, each once."""

    def __init__(self):
        self.count = 0
        self._met: dict[tuple, Node] = {}

    def symbol(self, name: str, fixed: bool = False) -> Node:
        """Give the node of a number that is not known yet.

        Parameters: ``name`` under which it will be found; ``fixed`` whether it stays the same for a run.
        Returns: its node, the same for the same name.
        """
        return self._once(("symbol", name), "symbol", (), name, fixed)

    def constant(self, value) -> Node:
        """Give the node of a known number.

        Parameters: ``value`` the number, or a node, which is given back.
        Returns: its node.
        """
        if isinstance(value, Node):
            return value
        if isinstance(value, int):  # a truth, too: one kind of number, for Python mixes two more slowly
            value = float(value)
        return self._once(("constant", value), "constant", (), value, True)

    def make(self, kind: str, *given) -> Node:
        """Give the node of an operation.

        Parameters: ``kind`` of operation, a name in `KNOWN`; ``given`` nodes or numbers.
        Returns: a node that stands for the result.
        """
        parts = tuple([one if isinstance(one, Node) else self.constant(one) for one in given])
        known = fixed = True
        for part in parts:
            known = known and part.kind == "constant"
            fixed = fixed and part.fixed
        if known:
            return self.constant(KNOWN[kind](*[part.value for part in parts]))
        simpler = self._simpler(kind, parts)
        if simpler is not None:
            return simpler
        numbers = [part.number for part in parts]
        if kind in EITHER_WAY_ROUND:
            numbers.sort()
        return self._once((kind, *numbers), kind, parts, None, fixed)

    def _once(self, key, kind, parts, value, fixed):
        node = self._met.get(key)
        if node is None:
            node = self._met[key] = Node(self, self.count, kind, parts, value, fixed)
            self.count += 1
        return node

    def _simpler(self, kind, parts):
        """The result where a constant part decides it or changes nothing, else None."""
        first, last = parts[0], parts[-1]
        head = first.value if first.kind == "constant" else None
        tail = last.value if last.kind == "constant" else None
        if kind == "where":
            if head is not None:
                return parts[1] if head else last
            return last if parts[1] is last else None
        if head is None and tail is None:
            return None
        if kind == "add":
            return last if head == 0 else first if tail == 0 else None
        if kind == "subtract":
            return first if tail == 0 else self.make("negative", last) if head == 0 else None
        if kind == "multiply":
            if head == 0 or tail == 0:
                return self.constant(0.0)
            return last if head == 1 else first if tail == 1 else None
        if kind == "divide":
            return first if tail == 1 else self.constant(0.0) if head == 0 else None
        return None


class TracedOperations:
    """The operations of the machines in time, on nodes."""

    def __init__(self, lines: Lines):
        self.lines = lines

    def exp(self, value):
        """Exponential function."""
        return self.lines.make("exp", value)

    def log(self, value):
        """Natural logarithm."""
        return self.lines.make("log", value)

    def sqrt(self, value):
        """Square root."""
        return self.lines.make("sqrt", value)

    def where(self, condition, if_true, if_false):
        """Give one of two numbers."""
        return self.lines.make("where", condition, if_true, if_false)

    def minimum(self, one, other):
        """Give the smaller of two numbers."""
        return self.lines.make("minimum", one, other)

    def maximum(self, one, other):
        """Give the larger of two numbers."""
        return self.lines.make("maximum", one, other)

    def clamp(self, value, low, high):
        """Give the value, or the end of the range that it has left."""
        return self.lines.make("clamp", value, low, high)
