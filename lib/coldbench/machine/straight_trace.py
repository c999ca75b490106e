"""A step of a machine traced: each of its parts called once, with symbols for the plant's numbers.

What is inside: `TracedStep`, which holds the plant's numbers by the way to them, a symbol for each, and for
each part of a step the numbers that it leaves changed, as nodes of `coldbench.machine.straight_line`.
"""

from __future__ import annotations

import re

from coldbench.machine import plant as of_plant
from coldbench.machine.readings import readings
from coldbench.machine.straight_line import Lines, NotStraight, TracedOperations
from coldbench.machine.straight_state import Walk

__all__: list[str] = []


class TracedStep:
    """The parts of a step of one plant, which has taken its first, for one length of step [s].

    ``board``, ``renewals`` (one a coil), ``heat`` and ``moisture`` give by way what a part leaves changed;
    ``readings`` the nodes of the readings. ``names`` and ``symbols`` give a name and a symbol for each
    number, by way; ``places`` where they stand, ``tuples`` the tuples that hold some.
    """

    def __init__(self, plant, step, taken_names=()):
        self.plant, self.lines = plant, Lines()
        walk = Walk(stands_for=[(plant.op, plant.op)])
        walk.through(plant, "plant")
        self.places, self.tuples = list(walk.numbers), walk.tuples
        self.names = names_for([place.way for place in self.places], taken_names)
        self.symbols = {
            place.way: self.lines.symbol(self.names[place.way], place.fixed) for place in self.places
        }
        board, moisture = (_elapsed(step, due) for due in (of_plant.BOARD_DUE, of_plant.MOISTURE_DUE))
        self._op = TracedOperations(self.lines)
        self._symbolic = self._with_symbols(plant, plant.op)[0]
        self.board = self._changed_by(lambda plant: plant.run_board(board))
        # What the board always leaves the same is so from the start: known to the parts that follow.
        always = {way: node for way, node in self.board.items() if node.kind == "constant"}
        self.symbols |= always
        self.board = {way: node for way, node in self.board.items() if way not in always}
        self._symbolic = self._with_symbols(plant, plant.op)[0]
        self.renewals = [
            self._changed_by(lambda plant, place=place: plant.renew_air_side(place))
            for place in range(len(plant.coils))
        ]
        self.heat = self._changed_by(lambda plant: plant.step_heat(step))
        self.moisture = self._changed_by(lambda plant: plant.step_moisture(moisture))
        plant = self._symbolic
        self.readings = [self.lines.constant(take(plant)) for _, _, take in readings(plant)]
        self.pieces = [self.board, *self.renewals, self.heat, self.moisture]
        for way in always:
            if any(way in piece for piece in self.pieces):
                raise NotStraight(f"{way} is set by the board, always the same, and again by another part.")

    def _with_symbols(self, plant, op):
        """Build a plant anew, with symbols for its numbers; gives it and the numbers that it had."""
        walk = Walk(self._symbol_at, [(op, self._op)])
        return walk.through(plant, "plant"), walk.numbers

    def _symbol_at(self, place, _):
        if place.way not in self.symbols:
            raise NotStraight(f"{place.way} appears only after the first step. Set it when the plant starts.")
        return self.symbols[place.way]

    def _changed_by(self, part) -> dict:
        """Call a part of the step with symbols; gives what it leaves changed, by way."""
        part(self._symbolic)
        self._symbolic, numbers = self._with_symbols(self._symbolic, self._op)
        return {
            place.way: self.lines.constant(number)
            for place, number in numbers.items()
            if number is not self.symbols[place.way]
        }


def names_for(ways, taken=()) -> dict[str, str]:
    """Give each number or holder of numbers a name of its own that tells where it stands.

    Parameters: ``ways`` to them; ``taken`` names that are not free.
    Returns: names by way.
    """
    found: dict[str, str] = dict.fromkeys(taken, "")
    for way in ways:
        name = re.sub(r"\W+", "_", way.removeprefix("plant.")).strip("_")
        while name in found or re.fullmatch(r"[a-z]\d+", name):  # so are called what is on the way
            name += "_"
        found[name] = way
    return {way: name for name, way in found.items() if way}


def _elapsed(step, due):
    """What a clock shows when it is due: steps summed up as the plant sums them."""
    clock = step
    while clock < due:
        clock += step
    return clock
