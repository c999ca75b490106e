"""Running a machine: hours of it in one call, with doors, a room and faults.

What is inside: `Door`, the usual openings of a day, `simulate` for one machine, `simulate_many` for many at
once in one run of the same equations.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import NamedTuple

from coldbench.errors import CannotRead, check_range
from coldbench.machine.circuit_side import Side
from coldbench.machine.coil_zones import VAPOR_HEAT
from coldbench.machine.combine import combined
from coldbench.machine.description import Machine
from coldbench.machine.faults import apply_faults
from coldbench.machine.five import machine_named
from coldbench.machine.ice_taken import NO_ICE_TAKEN, IceTaken, Takings
from coldbench.machine.plant import BOARD_PERIOD, Plant
from coldbench.machine.quick_operations import QUICK_FLOATS, QuickArrays
from coldbench.machine.readings import readings
from coldbench.machine.record import Record
from coldbench.machine.straight_plant import straightened
from coldbench.properties import moist_air

__all__ = ["NORMAL_DAY", "NO_DOORS", "Door", "simulate", "simulate_many"]

LONGEST_STEP, SHORTEST_STEP = 10.0, 0.05  # [s]
COLD_START = (276.65, 255.65)  # [K], of the two boxes of a machine that has been running
COLD_COILS = {"fresh_food": 262.0, "freezer": 250.0}  # [K]


class Door(NamedTuple):
    """One opening of a door, each day at the same hour.

    Attributes
    ----------
    box : str
        "fresh_food" or "freezer"
    hour : float
        Of the day at which it opens, 0 to 24 [h]
    seconds : float
        For which it stays open [s]
    """

    box: str
    hour: float
    seconds: float


NO_DOORS: tuple[Door, ...] = ()
# 24 openings of the fresh-food door and 6 of the freezer's, ten seconds each, from 7 to 22 o'clock: invented
NORMAL_DAY = tuple(Door("fresh_food", 7 + 15 * (i + 0.5) / 24, 10.0) for i in range(24)) + tuple(
    Door("freezer", 7 + 15 * (i + 0.25) / 6, 10.0) for i in range(6)
)


def simulate(
    machine: str | Machine, hours: float = 24.0, room: float | Callable[[float], float] = 298.15,
    refrigerant: str = "R-600a", faults: Iterable = (), *, doors: Iterable[Door] = NO_DOORS,
    room_relative_humidity: float = 0.50, start: str = "cold", interval: float = 60.0, step: float = 10.0,
    frost: float = 0.0, ice_taken: Iterable[IceTaken] = NO_ICE_TAKEN,
) -> Record:  # fmt: skip
    """Run one machine and record what could be read on it.

    Parameters
    ----------
    machine : str or Machine
        "Series", "Valve", "Damper", "Two-circuit" or "Thermostat", or a description of your own
    hours : float
        How long it runs [h], valid from 0.01 to 2000
    room : float or callable
        Temperature of the room [K], valid from 273.15 to 323.15; or a function that gives it for the time
        since the start in seconds
    refrigerant : str
        "R-600a" or "R-134a", where the machine is given by name
    faults : iterable
        Names of faults, or (name, severity) pairs; see `coldbench.machine.faults`
    doors : iterable of Door
        Openings of each day, which begins with the run at 0 o'clock
    room_relative_humidity : float
        Of the room's air [-], valid from 0 to 1
    start : str
        "cold", as after days of running, or "warm", everything at room temperature
    interval : float
        Between two rows of the record [s], at least a step
    step : float
        Length of a step [s], valid from 0.05 to 10; a longer one is refused
    frost : float
        Frost on the freezer's coil at the start [kg], valid from 0 to 1
    ice_taken : iterable of IceTaken
        Ice that people take out of the bin each day, at a machine with an ice maker

    Returns
    -------
    Record
        Named arrays in SI units

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.
    CannotRead
        A `ValueError`: there is no such machine, refrigerant, fault or start; or ice is taken from a machine
        that makes none.

    Source
    ------
    The equations of `coldbench.parts`, moved on by `coldbench.machine.plant`.
    """
    described = machine_named(machine, refrigerant) if isinstance(machine, str) else machine
    described = apply_faults(described, faults)
    return _run(
        QUICK_FLOATS, described, 1.0, hours, room, doors, room_relative_humidity, start, interval, step,
        frost, ice_taken,
    )  # fmt: skip


def simulate_many(
    machines: Iterable[Machine], hours: float = 24.0, room: float = 298.15, *,
    doors: Iterable[Door] = NO_DOORS, room_relative_humidity: float = 0.50, start: str = "cold",
    interval: float = 600.0, step: float = 10.0, frost: float = 0.0,
    ice_taken: Iterable[IceTaken] = NO_ICE_TAKEN,
) -> Record:  # fmt: skip
    """Run many machines of one kind at once; each reading gets a column a machine.

    Parameters
    ----------
    machines : iterable of Machine
        Descriptions that differ in numbers only
    hours : float
        How long they run [h], valid from 0.01 to 2000
    room : float or array
        Temperature of the room, or of each machine's room [K], valid from 273.15 to 323.15
    doors : iterable of Door
        Openings of each day
    room_relative_humidity : float
        Of the room's air [-], valid from 0 to 1
    start : str
        "cold" or "warm"
    interval : float
        Between two rows of the record [s], at least a step
    step : float
        Length of a step [s], valid from 0.05 to 10
    frost : float
        Frost on the freezer's coil at the start [kg], valid from 0 to 1
    ice_taken : iterable of IceTaken
        Ice that people take out of the bin each day, at a machine with an ice maker

    Returns
    -------
    Record
        Named arrays in SI units, a row each interval and a column each machine

    Raises
    ------
    OutOfRange
        A `ValueError`: an argument lies outside its valid range.
    CannotRead
        A `ValueError`: the machines are not of one kind.

    Source
    ------
    The same equations as `simulate`, with arrays in place of numbers.
    """
    import numpy

    machines = list(machines)
    return _run(
        QuickArrays(), combined(machines), numpy.ones(len(machines)), hours, room, doors,
        room_relative_humidity, start, interval, step, frost, ice_taken,
    )  # fmt: skip


def _run(
    op, machine, like, hours, room, doors, relative_humidity, start, interval, step, frost, ice_taken
) -> Record:  # fmt: skip
    check_range("hours", hours, 0.01, 2000.0, "h")
    check_range("step", step, SHORTEST_STEP, LONGEST_STEP, "s", "the board looks every ten seconds")
    check_range("interval", interval, step, 86_400.0, "s", "a record needs at least a step between its rows")
    check_range("room_relative_humidity", relative_humidity, 0.0, 1.0, "(as a fraction)", "50 % is 0.5")
    check_range("frost", frost, 0.0, 1.0, "kg")
    step, frost, relative_humidity = float(step), _plain(frost), _plain(relative_humidity)

    def room_at(time):
        now = room(time) if callable(room) else room
        check_range("room", now, 273.15, 323.15, "K", "give kelvin: 25 °C is 298.15 K")
        return _plain(now)

    room_now = room_at(0.0)
    if start not in ("cold", "warm"):
        raise CannotRead(f'A run starts "cold" or "warm", not "{start}".')
    cold = start == "cold"
    plant = Plant(
        op, machine, COLD_START if cold else (room_now, room_now),
        [COLD_COILS[coil.name] if cold else room_now for coil in machine.coils], room_now,
        moist_air.humidity_ratio(room_now, relative_humidity), like,
    )  # fmt: skip
    plant.coils[-1].lay_frost(frost)
    openings = _Openings(doors, [box.name for box in machine.boxes])
    takings = Takings(ice_taken, machine, step)
    rows: list[tuple] = []
    audit = Audit(plant)
    steps = round(hours * 3600 / step)
    stride = max(1, round(interval / step))
    looks = max(1, round(BOARD_PERIOD / step)) if callable(room) else steps
    move = straightened(plant, step)
    done = 0
    while done < steps:
        if callable(room) and done % looks == 0:
            plant.room = room_at(plant.time)
            plant.room_humidity_ratio = moist_air.humidity_ratio(plant.room, relative_humidity)
        if mass := takings.at(done):
            plant.ice_maker.take(op, mass)
        ahead = min(steps - done, looks - done % looks, takings.steps_to_next(done))
        if openings.any:
            opened = openings.parts(plant.time, step)
            plant.set_doors(opened)
            ahead = 1 if any(opened) else min(ahead, openings.shut_for(plant.time, step))
        move(ahead, stride - done % stride, stride, rows)
        done += ahead
    units = {"time": "s"} | {name: unit for name, unit, _ in readings(plant)}
    columns = {name: [row[place] for row in rows] for place, name in enumerate(units)}
    about = {
        "machine": machine.name, "refrigerant": machine.refrigerant, "hours": hours, "step": step,
        "balances": audit.result(),
    }  # fmt: skip
    return Record(units, columns, about)


def _plain(number):
    """Give a number as a plain float: whole, the plant takes it for a part of its shape; numpy's is slow."""
    return float(number) if isinstance(number, int | float) else 1.0 * number


class _Openings:
    """The openings of a day as parts of a step."""

    def __init__(self, doors, names):
        self.spans = []
        for box, hour, seconds in doors:
            if box not in names:
                raise CannotRead(f'There is no door "{box}". The doors are {" and ".join(names)}.')
            check_range("hour", hour, 0.0, 24.0, "h")
            check_range("seconds", seconds, 0.0, 86_400.0, "s")
            begin = hour * 3600
            self.spans.append((names.index(box), begin, begin + seconds))
            if begin + seconds > 86_400:
                self.spans.append((names.index(box), begin - 86_400, begin + seconds - 86_400))
        self.any = bool(self.spans)
        self.shut = (0.0,) * len(names)

    def parts(self, time, step):
        """Give the part of the step that each door is open."""
        begin = time % 86_400.0
        end = begin + step
        found = None
        for place, opens, shuts in self.spans:
            if opens < end and shuts > begin:
                found = found or list(self.shut)
                found[place] = min(1.0, found[place] + (min(shuts, end) - max(opens, begin)) / step)
        return found or self.shut

    def shut_for(self, time, step) -> int:
        """Give for how many steps at least all doors stay shut that are shut in this one."""
        now = time % 86_400.0
        ahead = min([opens + (86_400.0 if opens <= now else 0.0) for _, opens, _ in self.spans]) - now
        return max(1, int(ahead / step) - 1)  # a step less: time is a sum, and rounded


class Audit:
    """The balances of a run, from what was stored at its start and what has crossed since.

    Each is what is missing over what was moved: refrigerant loop and cabinet over the coils' heat; water over
    what came in; charge over itself. The refrigerant's energy is taken from its mass and temperature by the
    property tables, not from the sum of what flowed.
    """

    def __init__(self, plant: Plant):
        self.plant = plant
        self.heat, self.water = plant.stored_heat(), plant.stored_water()
        self.refrigerant = self._refrigerant()
        self.mass = self._mass()

    def _refrigerant(self):
        total = 0.0
        for circuit in self.plant.circuits:
            of = circuit.description
            for volume, mass, temperature in (
                (of.low_volume, circuit.low_mass, circuit.evaporating),
                (of.high_volume, circuit.high_mass, circuit.condensing),
            ):
                total = total + Side(self.plant.op, circuit, volume, mass, temperature).energy
        return total

    def _mass(self):
        return sum(circuit.low_mass + circuit.high_mass for circuit in self.plant.circuits)

    def result(self) -> dict[str, float]:
        """Give the balances.

        Returns: missing parts of refrigerant loop, cabinet, water and charge [-].
        """
        plant = self.plant
        circuits, coils = plant.circuits, plant.coils
        evaporated = sum(circuit.evaporated for circuit in circuits)
        moved = plant.op.maximum(abs(evaporated), 1000.0)
        compressed = sum(circuit.compressed - circuit.given_off for circuit in circuits)
        loop = evaporated + compressed - (self._refrigerant() - self.refrigerant)
        drained, drained_heat = sum(coil.drained for coil in coils), sum(coil.drained_heat for coil in coils)
        gained = plant.through_walls + plant.through_doors + plant.heat_inside + plant.vapor * VAPOR_HEAT
        came = plant.vapor
        if plant.ice_maker:
            gained, came = gained + plant.ice_maker.gained_heat(), came + plant.ice_maker.gained_water()
        cabinet = gained - evaporated - drained_heat - (plant.stored_heat() - self.heat)
        water = plant.stored_water() - self.water - came + drained
        scale = plant.op.maximum(abs(plant.vapor), 0.001)
        return {
            "refrigerant_loop": loop / moved, "cabinet": cabinet / moved, "water": water / scale,
            "charge": (self._mass() - self.mass) / self.mass,
        }  # fmt: skip
