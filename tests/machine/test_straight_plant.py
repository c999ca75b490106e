"""The lines written out for a step do what the plant's own step does, to the last bit."""

import ast
import dataclasses

import numpy
import pytest
from coldbench.machine import Door, running, simulate, simulate_many, straight_plant
from coldbench.machine.description import Machine
from coldbench.machine.five import MACHINES, machine_named
from coldbench.machine.plant import Plant
from coldbench.machine.quick_operations import QUICK_FLOATS
from coldbench.machine.straight_line import NotStraight
from coldbench.machine.straight_plant import lines_of, step_by_step, straightened

DOORS = (Door("fresh_food", 0.5, 10.0), Door("freezer", 1.0, 45.0), Door("fresh_food", 2.2, 3.0))


def both_ways(monkeypatch, run):
    """What a run gives written out, and step by step."""
    straight = run()
    with monkeypatch.context() as patched:
        patched.setattr(running, "straightened", step_by_step)
        return straight, run()


def assert_same(straight, plain):
    """Every reading of every moment, and the balances."""
    assert straight.names() == plain.names()
    for name in plain.names():
        assert numpy.array_equal(straight[name], plain[name]), name
    assert str(straight.about) == str(plain.about)


def soon_defrosting(name, refrigerant="R-600a") -> Machine:
    """A machine that defrosts after an hour of run time."""
    machine = machine_named(name, refrigerant)
    settings = dataclasses.replace(machine.board.defrosting, interval=3600.0)
    return dataclasses.replace(machine, board=dataclasses.replace(machine.board, defrosting=settings))


def started(machine="Series") -> Plant:
    """A plant at its start."""
    machine = machine_named(machine)
    return Plant(QUICK_FLOATS, machine, (277.0, 255.0), [255.0] * len(machine.coils), 298.15, 0.01)


@pytest.mark.parametrize("refrigerant", ["R-600a", "R-134a"])
@pytest.mark.parametrize("name", MACHINES)
def test_a_run_written_out_is_the_run(name, refrigerant, monkeypatch):
    """Two and a half hours with doors, frost and a defrost."""
    machine = soon_defrosting(name, refrigerant)
    straight, plain = both_ways(monkeypatch, lambda: simulate(machine, 2.5, 303.15, doors=DOORS, frost=0.1))
    assert plain["heater_energy"][-1] > 0
    assert_same(straight, plain)


@pytest.mark.parametrize(
    ("name", "faults"),
    [
        ("Series", ["low charge"]),
        ("Series", ["restricted capillary"]),
        ("Series", ["fan plugs swapped"]),
        ("Valve", ["valve stuck on the freezer"]),
        ("Damper", ["damper stuck open"]),
        ("Thermostat", ["dirty condenser"]),
        ("Two-circuit", ["heater open"]),
    ],
)
def test_a_fault_written_out_is_the_fault(name, faults, monkeypatch):
    assert_same(
        *both_ways(monkeypatch, lambda: simulate(soon_defrosting(name), 1.5, faults=faults, doors=DOORS))
    )


@pytest.mark.parametrize("name", MACHINES)
def test_many_written_out_are_the_many(name, monkeypatch):
    """Machines that differ in charge, in rooms that differ, with doors and a defrost."""
    sound = soon_defrosting(name)
    machines = [
        dataclasses.replace(
            sound,
            circuits=tuple(dataclasses.replace(one, charge=one.charge * part) for one in sound.circuits),
        )
        for part in (0.6, 0.8, 1.0)
    ]
    rooms = numpy.array([290.0, 298.0, 305.0])
    straight, plain = both_ways(
        monkeypatch, lambda: simulate_many(machines, 1.2, rooms, doors=DOORS, frost=0.1, interval=300.0)
    )
    assert_same(straight, plain)


@pytest.mark.parametrize("given", [{"step": 2.0}, {"step": 7.0, "interval": 70.0}, {"interval": 10.0}])
def test_any_step_and_interval_are_kept(given, monkeypatch):
    """Board and moisture come when their clocks say so, readings when they are due."""
    straight, plain = both_ways(monkeypatch, lambda: simulate("Damper", 0.5, doors=DOORS, **given))
    assert_same(straight, plain)


def test_a_room_that_changes_is_felt(monkeypatch):
    """The room is taken anew each time the board looks."""
    straight, plain = both_ways(
        monkeypatch, lambda: simulate("Series", 1.0, lambda time: 293.15 + time / 360, doors=DOORS)
    )
    assert_same(straight, plain)


def test_whole_numbers_are_numbers(monkeypatch):
    """A room and a step given as whole numbers, or as numpy's, are what they are as floats."""
    whole = simulate("Damper", 0.5, lambda time: 293 + int(time) // 600, step=5, frost=0)
    floats = simulate("Damper", 0.5, lambda time: 293.0 + int(time) // 600, step=5.0, frost=0.0)
    assert_same(whole, floats)
    room, severity, frost = map(numpy.float64, (298.15, 0.5, 0.1))
    ours = simulate("Damper", 0.1, room, faults=[("low charge", severity)], frost=frost)
    assert type(ours.about["balances"]["water"]) is float  # not numpy's, which are slow
    assert_same(ours, simulate("Damper", 0.1, 298.15, faults=[("low charge", 0.5)], frost=0.1))
    monkeypatch.setattr(straight_plant, "_kept", {})
    assert_same(
        simulate("Damper", 0.1, 300, step=numpy.float64(5.0)), simulate("Damper", 0.1, 300.0, step=5.0)
    )
    assert len(straight_plant._kept) == 1  # nor are lines written anew


def test_lines_belong_to_a_shape_not_to_numbers(monkeypatch):
    """Another charge, room or severity of a fault takes the lines that are there; a stuck part does not."""
    monkeypatch.setattr(straight_plant, "_kept", {})
    simulate("Damper", 0.1)
    simulate("Damper", 0.1, 305.0, faults=[("low charge", 0.3)])
    simulate("Damper", 0.1, faults=[("low charge", 0.7), ("dirty condenser", 0.5)])
    assert len(straight_plant._kept) == 1
    simulate("Damper", 0.1, faults=["damper stuck open"])
    assert len(straight_plant._kept) == 2


def test_no_more_lines_are_kept_than_said(monkeypatch):
    monkeypatch.setattr(straight_plant, "_kept", {})
    monkeypatch.setattr(straight_plant, "MOST_KEPT", 2)
    for step in (10.0, 8.0, 6.0):
        simulate("Thermostat", 0.05, step=step, interval=30.0)
    assert [key[1] for key in straight_plant._kept] == [8.0, 6.0]


def test_the_lines_are_nothing_but_sums_in_plain_names():
    """What is run: two functions, one loop, no import, no attribute but the ways to the plant's numbers."""
    plant = started()
    plant.step(10.0)
    text = lines_of(plant, 10.0)
    tree = ast.parse(text)
    assert [one.name for one in tree.body] == ["prepare", "run"]
    kinds = {type(one) for one in ast.walk(tree)}
    assert not kinds & {ast.Import, ast.ImportFrom, ast.Lambda, ast.ClassDef, ast.While, ast.Try, ast.Global}
    called = {
        one.func.id for one in ast.walk(tree) if isinstance(one, ast.Call) and isinstance(one.func, ast.Name)
    }
    assert called == {"exp", "log", "sqrt", "abs", "range"} & called
    loop = next(one for one in ast.walk(tree) if isinstance(one, ast.For))
    attributes = {one.attr for one in ast.walk(loop) if isinstance(one, ast.Attribute)}
    assert attributes == {"append"}


class Asking(Plant):
    """Somebody wrote an if on a state."""

    def step_moisture(self, step):
        if self.boxes[0].air > 280.0:
            super().step_moisture(step)


class Growing(Plant):
    """Somebody gave the plant a number late."""

    def step_moisture(self, step):
        super().step_moisture(step)
        self.mist = self.boxes[0].humidity_ratio * 2.0


class Meddling(Plant):
    """Somebody changes what the board sets and never changes."""

    def step_heat(self, step):
        super().step_heat(step)
        self.valve = self.boxes[0].air * 0.0001


@pytest.mark.parametrize(
    ("kind", "words"),
    [
        (Asking, "where, minimum, maximum or clamp"),
        (Growing, "plant.mist appears only after the first step"),
        (Meddling, "plant.valve is set by the board"),
    ],
)
def test_a_step_that_is_not_straight_is_refused(kind, words):
    """Whoever changes the machines is told at the first run."""
    plant = started()
    plant.__class__ = kind
    with pytest.raises(NotStraight, match=words):
        straightened(plant, 10.0)(100, 1, 1, [])
