"""Tickets: a machine's readings come together, and the fault stays out of what a student sees."""

import random

import pytest
from coldbench.homework.drawing import Drawn
from coldbench.homework.sheet import Numbers, Variable
from coldbench.homework.tickets import Tickets

TABLE = "ticket,fault,room_temperature,fan_speed\n101,fan dead,70,0\n102,none,82.5,2400\n"


@pytest.fixture
def tickets(tmp_path):
    path = tmp_path / "tickets.csv"
    path.write_text(TABLE, encoding="utf-8")
    return Tickets(path)


def test_readings_of_a_draw_belong_to_one_machine(tickets):
    """Whatever ticket is drawn, each reading is that row's, in the unit of the table."""
    parts = tickets.draw(("room_temperature", "degF", "{:.1f} °F"), ("fan_speed", "rpm", "{:.0f} rpm"))
    source, seen = random.Random(1), set()  # noqa: S311
    for _ in range(20):
        drawn, row = Drawn(), []
        for part in parts:
            row.append(part.draw(source, drawn))
            drawn.keep(part.name, row[-1], part.unit)
        seen.add(tuple(row))
    assert seen == {(101.0, 70.0, 0.0), (102.0, 82.5, 2400.0)}


def test_the_fault_is_found_by_the_ticket_and_is_not_drawn(tickets):
    """The key half asks for the fault; no drawn number carries it."""
    parts = tickets.draw(("fan_speed", "rpm", "{:.0f} rpm"))
    assert [part.name for part in parts] == ["ticket", "fan_speed"]
    assert tickets.fault(Numbers([Variable("ticket", "1", "{:.0f}")], [102.0])) == "none"
