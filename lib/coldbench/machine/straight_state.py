"""The numbers that a machine at work holds, found by walking through its parts.

What is inside: `Walk`, which goes through lists, tuples, dictionaries and this package's own objects, notes
every number with the way to it, and builds the same anew with other numbers in their places. Whatever is no
number is a part of the shape: machines of one shape differ in numbers only.
"""

from __future__ import annotations

from dataclasses import is_dataclass
from typing import NamedTuple

from coldbench.machine.straight_line import Node

__all__: list[str] = []


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
        if isinstance(thing, Node | float) or hasattr(thing, "dtype"):
            place = Place(way, holder, fixed)
            self.numbers[place] = thing
            self.shape.append("number")
            return self.replaced(place, thing)
        kind = type(thing)
        known = self.built.get(id(thing))
        if known is not None:
            return known
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
        if kind.__module__.startswith("coldbench.") and not issubclass(kind, tuple):
            new = self.built[id(thing)] = object.__new__(kind)
            fixed = fixed or (is_dataclass(kind) and kind.__dataclass_params__.frozen)
            names = [name for name in _names(thing) if hasattr(thing, name)]
            self.shape += [kind, *names]
            for name in names:
                object.__setattr__(new, name, self.through(getattr(thing, name), f"{way}.{name}", way, fixed))
            return new
        self.shape.append(thing if isinstance(thing, str | int | None) else id(thing))
        return thing


def _names(thing) -> list[str]:
    slots = [name for kind in type(thing).__mro__ for name in getattr(kind, "__slots__", ())]
    return slots + list(getattr(thing, "__dict__", ()))
