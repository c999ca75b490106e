"""Boards: which output answers which box, in all five machines."""

import pytest
from coldbench.control.boards_for_one_coil import DamperBoard, ThermostatBoard
from coldbench.control.boards_for_two_coils import SeriesBoard, TwoCircuitBoard, ValveBoard
from coldbench.operations import FLOATS

WARM, COLD = {"fresh_food": 281.15, "freezer": 262.15}, {"fresh_food": 274.15, "freezer": 250.15}


def outputs(board, fresh_food, freezer, coil=265.15, room=298.15, calls=60):
    """Outputs of a board once it has seen the same readings for some calls."""
    memory = board.start(1.0)
    seen = {
        "fresh_food_sensor": fresh_food, "freezer_sensor": freezer, "freezer_bulb": freezer,
        "defrost_sensor": 255.15, "defrost_bimetal": 255.15, "fresh_food_coil_sensor": coil,
        "room_sensor": room,
    }  # fmt: skip
    for _ in range(calls):
        found = board.decide(FLOATS, memory, seen, 10.0)
    return found


def boxes(warm):
    return [WARM[name] if name in warm else COLD[name] for name in ("fresh_food", "freezer")]


# Source: how each machine is built (the opening docstring of its module).
ANSWERS = [
    (SeriesBoard, ("fresh_food",), (0.0,), (1.0, 0.0), None, None),
    (SeriesBoard, ("freezer",), (1.0,), (0.0, 1.0), None, None),
    (SeriesBoard, (), (0.0,), (0.0, 0.0), None, None),
    (ValveBoard, ("fresh_food",), (1.0,), (1.0, 0.0), None, 0.0),
    (ValveBoard, ("freezer",), (1.0,), (0.0, 1.0), None, 1.0),
    (ValveBoard, ("fresh_food", "freezer"), (1.0,), (1.0, 1.0), None, 0.0),
    (DamperBoard, ("fresh_food",), (1.0,), (1.0,), 1.0, None),
    (DamperBoard, ("freezer",), (1.0,), (1.0,), 0.0, None),
    (TwoCircuitBoard, ("fresh_food",), (1.0, 0.0), (1.0, 0.0), None, None),
    (TwoCircuitBoard, ("freezer",), (0.0, 1.0), (0.0, 1.0), None, None),
    (ThermostatBoard, ("fresh_food",), (0.0,), (0.0,), None, None),
    (ThermostatBoard, ("freezer",), (1.0,), (1.0,), None, None),
]


@pytest.mark.parametrize(("board", "warm", "compressors", "fans", "damper", "valve"), ANSWERS)
def test_who_answers_whom(board, warm, compressors, fans, damper, valve):
    """A warm box switches its own part and no other's."""
    found = outputs(board(), *boxes(warm))
    assert (found.compressors, found.fans) == (compressors, fans)
    assert damper is None or found.damper == damper
    assert valve is None or found.valve == valve
    assert not any(found.heaters)


@pytest.mark.parametrize("board", [ValveBoard, TwoCircuitBoard])
def test_a_coil_without_heater_is_blown_until_it_is_warm(board):
    """After cooling the fan goes on while the coil is cold, and stops once it is above freezing."""
    one = board()
    memory = one.start(1.0)
    seen = {
        "fresh_food_sensor": 281.15, "freezer_sensor": 250.15, "defrost_sensor": 255.15,
        "room_sensor": 298.15, "fresh_food_coil_sensor": 265.15,
    }  # fmt: skip
    for _ in range(60):
        one.decide(FLOATS, memory, seen, 10.0)
    seen["fresh_food_sensor"] = 274.15
    for _ in range(30):
        drying = one.decide(FLOATS, memory, seen, 10.0)
    seen["fresh_food_coil_sensor"] = 278.15
    done = one.decide(FLOATS, memory, seen, 10.0)
    assert drying.compressors[0] == 0.0 and drying.fans[0] == 1.0 and done.fans[0] == 0.0


def test_a_modulating_board_runs_faster_for_a_warmer_box():
    slow, fast = (
        outputs(SeriesBoard(modulating=True), 276.65, 255.15 + over, calls=3).compressors[0]
        for over in (2.05, 6.0)
    )
    assert 0 < slow < fast <= 1.0


def test_a_cool_room_slows_the_condenser_fan():
    """Common practice, no source: so that the high side keeps the pressure that feeds the capillary."""
    warm, cool = (outputs(SeriesBoard(), 276.0, 262.0, room=room).condenser_fan for room in (298.15, 283.15))
    assert warm == 1.0 and cool == 0.5
