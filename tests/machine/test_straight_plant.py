"""The lines written out for a step do what the plant's own step does."""

import dataclasses

import numpy
import pytest
from coldbench.machine import NORMAL_DAY, Door, running, simulate, simulate_many
from coldbench.machine.five import MACHINES, machine_named
from coldbench.machine.straight_plant import step_by_step


def both_ways(monkeypatch, run):
    """What a run gives written out, and step by step."""
    straight = run()
    with monkeypatch.context() as patched:
        patched.setattr(running, "straightened", step_by_step)
        return straight, run()


def assert_same(straight, plain):
    """Every reading of every moment, to the last bit."""
    assert straight.names() == plain.names()
    for name in plain.names():
        assert (straight[name] == plain[name]).all(), name
    assert straight.about == plain.about


def soon_defrosting(name, refrigerant="R-600a"):
    """A machine that defrosts after an hour of run time."""
    machine = machine_named(name, refrigerant)
    settings = dataclasses.replace(machine.board.defrosting, interval=3600.0)
    return dataclasses.replace(machine, board=dataclasses.replace(machine.board, defrosting=settings))


@pytest.mark.parametrize("refrigerant", ["R-600a", "R-134a"])
@pytest.mark.parametrize("name", MACHINES)
def test_a_run_written_out_is_the_run(name, refrigerant, monkeypatch):
    """Four hours with doors, frost and a defrost: every reading is the same."""
    machine = soon_defrosting(name, refrigerant)
    doors = [Door("fresh_food", 0.5, 10.0), Door("freezer", 1.0, 45.0), Door("fresh_food", 2.2, 3.0)]
    straight, plain = both_ways(monkeypatch, lambda: simulate(machine, 4.0, 303.15, doors=doors, frost=0.1))
    assert plain["heater_energy"][-1] > 0
    assert_same(straight, plain)
