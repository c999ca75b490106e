"""The whole public surface at once: every public function and class says what a reader needs.

Read from the source. Public is what a module lists in ``__all__``, or, without such a
list, every function and class that does not begin with an underscore.

A docstring's sections are headings underlined with dashes, as the physics has them throughout, or, in the
machinery of homework and grading, lines that begin with "Parameters:", "Returns:" and "Raises:", where
parameters stand in double backticks.
"""

from __future__ import annotations

import ast
import doctest
import importlib
import inspect
import re
from pathlib import Path
from typing import NamedTuple

import pytest
from coldbench.glossary import GLOSSARY

LIBRARY = Path(__file__).parents[1] / "lib" / "coldbench"
MOST_LINES = 400
NUMBER = re.compile(r"\b(float|array)s?\b")
UNIT = re.compile(r"\[[^\]]+\]")
PHYSICS = {"properties", "parts"}
# These arrange lessons, questions and marks around the physics: a function there has no source to name.
WITHOUT_SOURCE = {"homework", "grading", "lesson"}
SHORT_SECTION = re.compile(r"(Parameters|Returns|Yields|Raises|Source|References):(?= )")
Function = ast.FunctionDef | ast.AsyncFunctionDef


class Found(NamedTuple):
    """A public function, method or class, and where it stands."""

    where: str
    node: Function | ast.ClassDef
    module: ast.Module
    package: str
    is_method: bool


def modules() -> list[tuple[Path, ast.Module]]:
    return [
        (path, ast.parse(path.read_text(encoding="utf-8"), str(path)))
        for path in sorted(LIBRARY.rglob("*.py"))
    ]


def listed(module: ast.Module) -> set[str] | None:
    for node in module.body:
        targets = node.targets if isinstance(node, ast.Assign) else [getattr(node, "target", None)]
        if any(getattr(target, "id", "") == "__all__" for target in targets):
            return set(ast.literal_eval(node.value))
    return None


def surface() -> list[Found]:
    found = []
    for path, module in modules():
        parts = path.relative_to(LIBRARY).parts
        names = listed(module)
        for node in module.body:
            if not isinstance(node, Function | ast.ClassDef):
                continue
            if node.name.startswith("_") if names is None else node.name not in names:
                continue
            where = f"{'/'.join(parts)}:{node.lineno} {node.name}"
            found.append(Found(where, node, module, parts[0], False))
            if isinstance(node, ast.ClassDef):
                found += [
                    Found(
                        f"{'/'.join(parts)}:{inner.lineno} {node.name}.{inner.name}",
                        inner,
                        module,
                        parts[0],
                        True,
                    )
                    for inner in node.body
                    if isinstance(inner, Function) and not inner.name.startswith("_")
                ]
    return found


def sections(docstring: str) -> dict[str, list[str]]:
    """Give the lines of each section of a docstring, in either form."""
    found: dict[str, list[str]] = {}
    title = ""
    lines = inspect.cleandoc(docstring).splitlines()
    for line, following in zip(lines, [*lines[1:], ""], strict=True):
        if line.strip() and re.fullmatch(r"-{3,}", following.strip()):
            title = line.strip()
            found[title] = []
        elif short := SHORT_SECTION.match(line):
            title = short[1]
            found[title] = [line[short.end() :].strip()]
        elif title and not re.fullmatch(r"-{3,}", line.strip()):
            found[title].append(line)
    return found


def entries(section: list[str]) -> dict[str, tuple[str, str]]:
    """Give for each name of a section its type and its whole text."""
    found: dict[str, tuple[str, str]] = {}
    names: list[str] = []
    if section and section[0].startswith("``"):
        return dict.fromkeys(re.findall(r"``(\w+)``", " ".join(section)), ("", ""))
    for line in section:
        if line and not line[0].isspace():
            left, _, kind = line.partition(" : ")
            names = [name.strip().lstrip("*") for name in left.split(",")]
            found.update(dict.fromkeys(names, (kind, line)))
        else:
            found.update({name: (found[name][0], f"{found[name][1]} {line.strip()}") for name in names})
    return found


def own_nodes(function: Function, only_uncaught: bool = False):
    """Give the nodes of a function's body without those of functions inside it, or of what is caught."""
    waiting: list[ast.AST] = list(function.body)
    while waiting:
        node = waiting.pop()
        yield node
        if only_uncaught and isinstance(node, ast.Try) and node.handlers:
            waiting.extend([*node.handlers, *node.orelse, *node.finalbody])
        elif not isinstance(node, Function | ast.ClassDef | ast.Lambda):
            waiting.extend(ast.iter_child_nodes(node))


def can_refuse(function: Function, module: ast.Module, package: str) -> bool:
    """Whether the function raises, checks a range, or calls a private helper of its module that does."""
    private = {n.name: n for n in module.body if isinstance(n, Function) and n.name.startswith("_")}
    seen: set[str] = set()
    waiting = [function]
    while waiting:
        for node in own_nodes(waiting.pop(), only_uncaught=True):
            if isinstance(node, ast.Raise) and node.exc is not None:
                return True
            name = getattr(node.func, "id", "") if isinstance(node, ast.Call) else ""
            if name == "check_range" or (package in PHYSICS and name.lstrip("_").startswith("check_")):
                return True
            if name in private and name not in seen:
                seen.add(name)
                waiting.append(private[name])
    return False


def parameters(function: Function) -> list[str]:
    given = function.args
    every = [*given.posonlyargs, *given.args, given.vararg, *given.kwonlyargs, given.kwarg]
    named = [one.arg for one in every if one is not None]
    return [name for name in named if name not in ("self", "cls") and name.strip("_")]


def gives_something(function: Function) -> bool:
    returned = (n for n in own_nodes(function) if isinstance(n, ast.Return | ast.Yield | ast.YieldFrom))
    return any(
        n.value is not None and not (isinstance(n.value, ast.Constant) and n.value.value is None)
        for n in returned
    )


def decorators(node: Function | ast.ClassDef) -> set[str]:
    plain = (one.func if isinstance(one, ast.Call) else one for one in node.decorator_list)
    return {getattr(one, "id", getattr(one, "attr", "")) for one in plain}


def fields(node: ast.ClassDef) -> dict[str, bool]:
    """Give the public fields of a dataclass or named tuple, and whether each must be given."""
    stated = [n for n in node.body if isinstance(n, ast.AnnAssign) and isinstance(n.target, ast.Name)]
    return {n.target.id: n.value is None for n in stated if not n.target.id.startswith("_")}


def lacks(found: Found) -> list[str]:
    """Give what the docstring of one function or class lacks, in words."""
    docstring = ast.get_docstring(found.node)
    if not docstring:
        return ["a docstring"]
    have = sections(docstring)
    if isinstance(found.node, ast.ClassDef):
        named, real = entries(have.get("Attributes", [])), fields(found.node)
        missing = [
            f"`{name}` under Attributes" for name, needed in real.items() if needed and name not in named
        ]
        missing += [f"a real attribute for the described `{name}`" for name in named if name not in real]
        unitless = (
            name for name, (kind, text) in named.items() if NUMBER.search(kind) and not UNIT.search(text)
        )
        missing += [f"the unit of `{name}` in brackets" for name in unitless if found.package in PHYSICS]
        return missing if named and real else []
    if decorators(found.node) & {"property", "cached_property", "overload", "setter"}:
        return []
    missing = []
    described = entries(have.get("Parameters", []))
    for name in parameters(found.node):
        kind, text = described.get(name, ("", ""))
        if name not in described:
            missing.append(f"`{name}` under Parameters")
        elif NUMBER.search(kind) and "str" not in kind and not UNIT.search(text):
            missing.append(f"the unit of `{name}` in brackets, such as [K], or [-] for none")
    real = parameters(found.node)
    ghosts = (name for name, (_, text) in described.items() if text and name not in real)
    missing += [f"a real parameter for the described `{name}`" for name in ghosts]
    if gives_something(found.node):
        result = have.get("Returns") or have.get("Yields")
        if not result:
            missing.append("a section Returns")
        elif NUMBER.search(result[0]) and not UNIT.search(" ".join(result)):
            missing.append("the unit of what it returns in brackets")
    if can_refuse(found.node, found.module, found.package) and "Raises" not in have:
        missing.append("a section Raises")
    if (
        not found.is_method
        and found.package not in WITHOUT_SOURCE
        and not have.keys() & {"Source", "References"}
    ):
        missing.append('a section Source or References (if there is none: "Arrangement of this project.")')
    return missing


def test_every_public_docstring_is_complete():
    """Every parameter, unit, result, error and source of the public surface is stated."""
    gaps = [f"{one.where} lacks {missing}" for one in surface() for missing in lacks(one)]
    assert not gaps, f"{len(gaps)} gaps in public docstrings:\n" + "\n".join(gaps)


def test_every_parameter_of_the_physics_is_in_the_glossary():
    """One word for one quantity: properties and parts take only words of the glossary."""
    unknown = [
        f"{one.where} takes `{name}`"
        for one in surface()
        if one.package in PHYSICS and isinstance(one.node, Function)
        for name in parameters(one.node)
        if name not in GLOSSARY
    ]
    assert not unknown, (
        "Words that the glossary does not know. Use the glossary's word for this quantity if it has one; "
        "otherwise add the new word with its unit and meaning to lib/coldbench/glossary.py:\n"
        + "\n".join(unknown)
    )


def test_units_in_docstrings_are_the_glossarys():
    """The unit that a docstring of the physics states for a parameter is the one in the glossary."""
    differing = []
    for one in surface():
        if one.package not in PHYSICS or not isinstance(one.node, Function):
            continue
        described = entries(sections(ast.get_docstring(one.node) or "").get("Parameters", []))
        for name, (_, text) in described.items():
            stated = UNIT.search(text)
            if (
                stated
                and name in GLOSSARY
                and GLOSSARY[name].unit[0] not in "o"
                and stated[0] != f"[{GLOSSARY[name].unit}]"
            ):
                differing.append(
                    f"{one.where}: `{name}` is {stated[0]} here, [{GLOSSARY[name].unit}] in the glossary"
                )
    assert not differing, "Units that differ from the glossary:\n" + "\n".join(differing)


@pytest.mark.parametrize("word", GLOSSARY)
def test_glossary_words_are_whole_and_explained(word):
    """Each word is in lower case, has a unit, and one sentence of meaning."""
    unit, meaning = GLOSSARY[word]
    assert re.fullmatch(r"[a-z][a-z0-9_]*", word)
    assert unit.strip()
    assert meaning[0].isupper() and meaning.endswith(".") and ". " not in meaning


def test_every_module_tells_its_story_and_is_short():
    """Each module opens with a docstring and has at most 400 lines."""
    faults = [
        f"{path.relative_to(LIBRARY)} has no opening docstring"
        for path, module in modules()
        if not ast.get_docstring(module)
    ]
    for path, _ in modules():
        lines = len(path.read_text(encoding="utf-8").splitlines())
        if lines > MOST_LINES:
            faults.append(f"{path.relative_to(LIBRARY)} has {lines} lines: split it at a topic")
    assert not faults, "\n".join(faults)


INCOMPLETE = '''
def f(pressure, *, speed, names):
    """Do.

    Parameters
    ----------
    pressure : float
        Without its unit
    speed : float
        Speed [m/s]
    other : int
        Nobody's
    """
    _check_speed(speed)
    return 1.0
'''


def test_the_walk_sees_what_is_missing():
    """A function that lacks a parameter, a unit, a result, an error and a source is told all five."""
    module = ast.parse(INCOMPLETE)
    told = " | ".join(lacks(Found("here", module.body[0], module, "parts", False)))
    for word in ("`names` under", "unit of `pressure`", "real parameter", "Returns", "Raises", "Source"):
        assert word in told
    assert "speed" not in told


def test_the_walk_sees_the_library():
    """The walk is not empty: it meets functions known to be public, and none that is not."""
    names = {one.where.split(maxsplit=1)[1] for one in surface()}
    assert {"dew_point", "beta_resistance", "check_range", "SteinhartHartFit.standard_error"} <= names
    assert "log_pressure_over_ice" not in names


EXAMPLES = [path for path in sorted(LIBRARY.rglob("*.py")) if ">>> " in path.read_text(encoding="utf-8")]


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.relative_to(LIBRARY).as_posix())
def test_examples_in_docstrings_give_what_they_show(path):
    """Every example of a docstring runs and prints what stands below it."""
    parts = path.relative_to(LIBRARY.parent).with_suffix("").parts
    result = doctest.testmod(importlib.import_module(".".join(parts)))
    assert result.attempted and not result.failed
