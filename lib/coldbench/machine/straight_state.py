"""The numbers that a machine at work holds, found by walking through its parts.

What is inside: `Walk`, which goes through lists, tuples, dictionaries and objects, notes every number with
the way to it, and builds the same anew with other numbers in their places. Whatever is no number is a part of
the shape: machines of one shape differ in numbers only.
"""

from __future__ import annotations

from dataclasses import is_dataclass
from functools import cache
from typing import NamedTuple

from coldbench.machine.straight_line import Node

__all__: list[str] = []


PLAIN = (str, int, bool, type(None))


class Place(NamedTuple):
    """Where a number stands.

    Attributes
    ----------
    way : str
        How Python reaches it from the plant, such as "plant.circuits[0].low_mass"
    holder : str
        The way to what holds it
    fixed : bool
        Whether it belongs to a description, which no step changes
    """

    way: str
    holder: str
    fixed: bool


class Walk:
    """One walk through all parts.

    ``numbers`` gives what was found by place, ``tuples`` the tuples that stand in something else, by way;
    ``shape`` is the same for two plants that differ in numbers only.
    """

    def __init__(self, replaced=None, stands_for=()):
        self.numbers: dict[Place, object] = {}
        self.tuples: dict[str, tuple] = {}
        self.shape: list = []
        self.built: dict[int, object] = {id(old): new for old, new in stands_for}
        self.replaced = replaced or (lambda place, number: number)

    def through(self, thing, way, holder="", fixed=False):
        """Walk through a thing.

        Parameters: ``thing`` a number or whatever holds numbers; ``way`` to it; ``holder`` the way to what
        holds it; ``fixed`` whether it belongs to a description.
        Returns: the same, built anew.
        """
        kind = type(thing)
        if kind is float or kind is Node or hasattr(kind, "dtype"):
            place = Place(way, holder, fixed)
            self.numbers[place] = thing
            self.shape.append("number")
            return self.replaced(place, thing)
        if kind in PLAIN:
            self.shape.append(thing)
            return thing
        if id(thing) in self.built:
            self.shape.append(list(self.built).index(id(thing)))
            return self.built[id(thing)]
        if kind is tuple:
            if holder not in self.tuples:
                self.tuples[way] = thing
            self.shape.append(len(thing))
            return tuple([self.through(one, f"{way}[{at}]", way, fixed) for at, one in enumerate(thing)])
        if kind is list:
            new = self.built[id(thing)] = []
            self.shape.append(len(thing))
            new += [self.through(one, f"{way}[{at}]", way, fixed) for at, one in enumerate(thing)]
            return new
        if kind is dict:
            new = self.built[id(thing)] = {}
            self.shape.append(tuple(thing))
            new.update({key: self.through(one, f"{way}[{key!r}]", way, fixed) for key, one in thing.items()})
            return new
        if _has_parts(kind):
            new = self.built[id(thing)] = object.__new__(kind)
            fixed = fixed or _is_description(kind)
            self.shape.append(kind)
            for name in (*_slots(kind), *getattr(thing, "__dict__", ())):
                held = getattr(thing, name, self)  # a slot may be empty yet
                if held is not self:
                    self.shape.append(name)
                    object.__setattr__(new, name, self.through(held, f"{way}.{name}", way, fixed))
            return new
        self.shape.append(thing)
        return thing


@cache
def _has_parts(kind) -> bool:
    """Whether it is an object with attributes: no table of constants, no function."""
    inside = dir(kind)
    return (
        ("__slots__" in inside or "__dict__" in inside)
        and not issubclass(kind, tuple | type)
        and ("__call__" not in inside)
    )


@cache
def _is_description(kind) -> bool:
    return is_dataclass(kind) and kind.__dataclass_params__.frozen


@cache
def _slots(kind) -> tuple[str, ...]:
    return tuple(name for one in kind.__mro__ for name in getattr(one, "__slots__", ()))
