"""Nodes of a calculation written out as plain lines of Python, for plain numbers and for arrays.

What is inside: how each operation is written in either way; `written`, which gives the lines that work out a
few nodes, each common part once; `frontier`, the nodes that can be worked out before, once for many steps.

Only the operations listed here are ever written, and only names and numbers that this package has made.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from coldbench.machine.straight_line import COMPARISONS, Node

__all__: list[str] = []

DEEPEST = 24  # brackets within brackets; a longer expression gets a name on the way

BOTH_WAYS = {
    "add": "({0} + {1})", "subtract": "({0} - {1})", "multiply": "({0} * {1})", "divide": "({0} / {1})",
    "floor_divide": "({0} // {1})", "power": "({0} ** {1})", "negative": "(-{0})", "absolute": "abs({0})",
    "exp": "exp({0})", "log": "log({0})", "sqrt": "sqrt({0})",
} | {kind: f"({{0}} {sign} {{1}})" for kind, sign in COMPARISONS.items()}  # fmt: skip
# Comparisons as in `coldbench.machine.quick_operations`; only the branch that holds is worked out.
FOR_FLOATS = BOTH_WAYS | {
    "where": "({1} if {0} else {2})",
    "minimum": "({0} if {0} < {1} else {1})",
    "maximum": "({0} if {0} > {1} else {1})",
    "clamp": "({1} if {0} < {1} else {2} if {0} > {2} else {0})",
    "times_condition": "({0} if {1} else 0.0)",
}
FOR_ARRAYS = BOTH_WAYS | {
    "where": "where({0}, {1}, {2})",
    "minimum": "minimum({0}, {1})",
    "maximum": "maximum({0}, {1})",
    "clamp": "minimum(maximum({0}, {1}), {2})",
    "times_condition": "({0} * {1})",
}
TIMES_WRITTEN = {
    ways: {kind: [text.count(f"{{{place}}}") for place in range(3)] for kind, text in templates.items()}
    for ways, templates in (("floats", FOR_FLOATS), ("arrays", FOR_ARRAYS))
}
WORD = re.compile(r"([A-Za-z_]\w*)")
ON_THE_WAY = re.compile(r"t\d+")
TEMPLATES = {"floats": FOR_FLOATS, "arrays": FOR_ARRAYS}


def reached(roots: Iterable[Node], known: dict[int, str]) -> list[Node]:
    """List the nodes that the roots need and that are not known, in the order in which they were met."""
    found: dict[int, Node] = {}
    left = list(roots)
    while left:
        node = left.pop()
        if node.number not in found and node.number not in known and node.kind != "constant":
            found[node.number] = node
            left += node.parts
    return [found[number] for number in sorted(found)]


def frontier(roots: Iterable[Node], nodes: list[Node], inside) -> list[Node]:
    """List the nodes at which a calculation can be cut in two.

    Parameters: ``roots`` what is to be worked out; ``nodes`` all that they need; ``inside`` says of a node
    whether it belongs to the second half.
    Returns: the nodes of the first half that the second half, or a root, uses as they are; no constants.
    """
    used = {part.number: part for node in nodes if inside(node) for part in node.parts}
    used |= {root.number: root for root in roots}
    return [used[at] for at in sorted(used) if used[at].kind != "constant" and not inside(used[at])]


def written(roots: Iterable[Node], known: dict[int, str], ways: str, mark: str) -> tuple[list[str], dict]:
    """Write the lines that work out some nodes.

    Parameters: ``roots`` the nodes wanted; ``known`` how nodes are called that are worked out already, by
    number; ``ways`` "floats" or "arrays"; ``mark`` the letters with which new names begin.
    Returns: lines, and a dictionary of how each root is called or written, by number.
    """
    roots = list(roots)
    templates, written_times = TEMPLATES[ways], TIMES_WRITTEN[ways]
    nodes = reached(roots, known)
    uses = dict.fromkeys([node.number for node in nodes], 0)
    forms: dict[int, tuple[str, tuple[Node, ...]]] = {}
    for node in nodes:
        kind, parts = node.kind, node.parts
        if kind == "multiply" and any(part.kind in COMPARISONS for part in parts):
            kind = "times_condition"
            if parts[0].kind in COMPARISONS:
                parts = parts[::-1]
        forms[node.number] = kind, parts
        for part, times in zip(parts, written_times[kind], strict=False):
            if part.number in uses:
                uses[part.number] += times
    for root in roots:
        if root.number in uses:
            uses[root.number] += 2
    texts, depths, lines = dict(known), {}, []
    for node in nodes:
        kind, parts = forms[node.number]
        said = [_said(part, texts) for part in parts]
        text = templates[kind].format(*said)
        depth = 1 + max([depths.get(part.number, 0) for part in parts])
        if uses[node.number] > 1 or depth > DEEPEST:
            name = f"{mark}{len(lines)}"
            lines.append(f"{name} = {text[1:-1] if templates[kind][0] == '(' else text}")
            text, depth = name, 0
        texts[node.number], depths[node.number] = text, depth
    return lines, {root.number: _said(root, texts) for root in roots}


class FloatLines:
    """Writes the parts of a step for plain numbers."""

    ways = "floats"

    @staticmethod
    def own(text: str) -> str:
        """Write a number as it is."""
        return text

    still = own

    @staticmethod
    def begin() -> list[str]:
        """Write the lines that make what all parts share: none."""
        return []

    @staticmethod
    def piece(roots: dict[str, Node], known: dict[int, str]) -> list[str]:
        """Write the lines that leave new numbers under the names of the state.

        Parameters: ``roots`` the new numbers by the names of the old; ``known`` names of the symbols and of
        what was worked out before, by number of node.
        Returns: the lines.
        """
        lines, said = written(roots.values(), known, "floats", "t")
        lasting = {}
        for state, node in roots.items():
            text = said[node.number]
            if not ON_THE_WAY.fullmatch(text):
                lines.append(f"t{len(lines)} = {text}")
                text = f"t{len(lines) - 1}"
            lasting[state] = text
        return _with_few_names(lines, lasting)


def _with_few_names(lines: list[str], lasting: dict[str, str]) -> list[str]:
    """Use a name again once what it stood for is done with: fewer numbers are alive at a time.

    ``lasting`` gives the names on the way that are called otherwise in the end: at once where that other
    name's old number is needed no more, else after the last line.
    """
    split = [(name, WORD.split(text)) for name, text in [line.split(" = ", 1) for line in lines]]
    last_use = {word: at for at, (_, pieces) in enumerate(split) for word in pieces[1::2]}
    for name in lasting.values():
        last_use[name] = len(lines)
    wanted = {name: state for state, name in reversed(lasting.items())}
    called, free, made, found = {}, [], 0, []
    for at, (name, pieces) in enumerate(split):
        words = pieces[1::2]
        pieces[1::2] = [called.get(word, word) for word in words]
        done_with = [word for word in dict.fromkeys(words) if word in called and last_use[word] == at]
        free += [called[word] for word in done_with if ON_THE_WAY.fullmatch(called[word])]
        state = wanted.get(name)
        if state is not None and last_use.get(state, -1) <= at:
            called[name] = state
        elif free:
            called[name] = free.pop()
        else:
            called[name] = f"t{made}"
            made += 1
        found.append(f"{called[name]} = {''.join(pieces)}")
    return found + [f"{state} = {called[name]}" for state, name in lasting.items() if called[name] != state]


def _said(node: Node, texts: dict[int, str]) -> str:
    if node.kind != "constant":
        return texts[node.number]
    text = repr(node.value)
    return f"({text})" if text.startswith("-") else text
