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
        self.board = self._changed_by(lambda plant: plant.run_board(board))
        # What the board always leaves the same is so from the start: known to the parts that follow.
        always = {way: node for way, node in self.board.items() if node.kind == "constant"}
        self.symbols |= always
        self.board = {way: node for way, node in self.board.items() if way not in always}
        self.renewals = [
            self._changed_by(lambda plant, place=place: plant.renew_air_side(place))
            for place in range(len(plant.coils))
        ]
        self.heat = self._changed_by(lambda plant: plant.step_heat(step))
        self.moisture = self._changed_by(lambda plant: plant.step_moisture(moisture))
        symbolic = self._symbolic(TracedOperations(self.lines))
        self.readings = [self.lines.constant(take(symbolic)) for _, _, take in readings(symbolic)]
        self.pieces = [self.board, *self.renewals, self.heat, self.moisture]
        for way in always:
            if any(way in piece for piece in self.pieces):
                raise NotStraight(f"{way} is set by the board, always the same, and again by another part.")

    def _symbolic(self, op):
        """Build the plant anew, with symbols for its numbers."""
        symbols = self.symbols
        walk = Walk(lambda place, _: symbols[place.way], [(self.plant.op, op)])
        return walk.through(self.plant, "plant")

    def _changed_by(self, part) -> dict:
        """Call a part of the step with symbols; gives what it leaves changed, by way."""
        op, symbols = TracedOperations(self.lines), self.symbols
        plant = self._symbolic(op)
        part(plant)
        after = Walk(stands_for=[(op, op)])
        after.through(plant, "plant")
        found = {}
        for place, number in after.numbers.items():
            if place.way not in symbols:
                raise NotStraight(
                    f"{place.way} appears only after the first step. Set it when the plant starts."
                )
            if number is not symbols[place.way]:
                found[place.way] = self.lines.constant(number)
        return found


def names_for(ways, taken=()) -> dict[str, str]:
    """Give each number or holder of numbers a name of its own that tells where it stands.

    Parameters: ``ways`` to them; ``taken`` names that are not free.
    Returns: names by way.
    """
    found: dict[str, str] = dict.fromkeys(taken, "")
    for way in ways:
        name = re.sub(r"\W+", "_", way.removeprefix("plant.")).strip("_")
        while name in found:
            name += "_"
        found[name] = way
    return {way: name for name, way in found.items() if way}


def _elapsed(step, due):
    """What a clock shows when it is due: steps summed up as the plant sums them."""
    clock = step
    while clock < due:
        clock += step
    return clock
