"""Pictures and self-checks of lesson 08: boards are asked, reasons fit them, twins say what is drawn.

Machines in time are held against balances and expectations in the tests of `machine`.
"""

import re

import pytest
from coldbench.lesson import lesson_08
from coldbench.lesson.lesson_08_board import CALLING, COLD_COIL, SATISFIED, WARM_COIL, asked
from coldbench.lesson.lesson_08_checks import FREEZER, FRESH_FOOD, SHARE
from coldbench.lesson.lesson_08_pictures import (
    FAULTS,
    calls,
    commanded_against_seen,
    looks,
    parts_of,
    who_runs,
)
from coldbench.lesson.lesson_08_record import FIVE, ORDERS
from coldbench.lesson.lesson_08_runs import (
    LANES,
    drift_with_fan_off,
    five_in_a_room,
    hours_of,
    run,
    starving_coils,
    two_returns,
    with_fan_off,
)
from coldbench.machine import simulate
from coldbench.machine.faults import apply_faults, faults_of
from coldbench.machine.five import MACHINES, machine_named
from coldbench.units import from_si, to_si
from hypothesis import given, settings
from hypothesis import strategies as st


@pytest.fixture(autouse=True)
def own_folder(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)


def at(figure):
    return to_si(figure, "degF")


# Which part answers which call in each kind of machine: common practice, no source. The boards are the
# machines' own; this says it once more, apart from them.
def expected(name, fresh_food, freezer):
    """Parts at work when the boxes call so, with a coil that is dry."""
    either = fresh_food or freezer
    return {
        "Series": {"compressor": freezer, "fresh-food fan": fresh_food, "freezer fan": freezer},
        "Valve": {
            "compressor": either, "valve": fresh_food, "fresh-food fan": fresh_food,
            "freezer fan": freezer,
        },
        "Damper": {"compressor": either, "fan": either, "damper": fresh_food},
        "Two-circuit": {
            "fresh-food compressor": fresh_food, "freezer compressor": freezer,
            "fresh-food fan": fresh_food, "freezer fan": freezer,
        },
        "Thermostat": {"compressor": freezer, "fan": freezer},
    }[name]  # fmt: skip


@settings(max_examples=150, deadline=None)
@given(
    name=st.sampled_from(list(MACHINES)),
    fresh_food=st.integers(28, 60),
    freezer=st.integers(-12, 32),
    before=st.sampled_from([SATISFIED, CALLING]),
)
def test_any_mix_of_warm_and_cold_boxes_is_answered_by_the_right_parts(name, fresh_food, freezer, before):
    """The board, fed with ohms, does what a practitioner expects, and the reasons name who calls."""
    machine = machine_named(name)
    command = asked(machine, at(fresh_food), at(freezer), before, WARM_COIL)
    called = calls(machine, command.believed, before)
    parts = {part.name: part for part in parts_of(machine, command, called)}
    wanted = expected(name, called.get("fresh_food", (False, ""))[0], called["freezer"][0])
    assert {part: parts[part].at_work for part in wanted} == wanted
    assert parts["condenser fan"].at_work == any(command.compressors)
    assert all(part.why for part in parts.values())


@pytest.mark.parametrize("name", ["Series", "Valve", "Damper", "Two-circuit"])
@pytest.mark.parametrize("figure", range(33, 46))
def test_reason_for_a_call_is_the_boards_own_switching(name, figure):
    """Cut-in, cut-out and the hour before, as the reason says them, agree with what the board's part does."""
    machine = machine_named(name)
    part = {"Series": "fresh-food fan", "Valve": "valve", "Damper": "damper"}.get(
        name, "fresh-food compressor"
    )
    for before in (SATISFIED, CALLING):
        command = asked(machine, at(figure), SATISFIED[1], before, WARM_COIL)
        called = calls(machine, command.believed, before)
        parts = {one.name: one.at_work for one in parts_of(machine, command, called)}
        assert parts[part] == called["fresh_food"][0], (before, called)


def test_twin_says_machine_boxes_parts_and_reasons():
    """The machine of the lesson's question."""
    twin = who_runs("Series", at(34), at(6), SATISFIED, WARM_COIL).twin
    assert (
        "Fresh food 34 °F (1.1 °C): satisfied (cut-out" in twin and "Freezer 6 °F (−14.4 °C): calls" in twin
    )
    assert "Compressor: runs, because the freezer calls it. Fresh-food fan: rests" in twin


def test_a_frosted_coil_keeps_the_fan_and_holds_the_compressor():
    """A coil without heater melts its frost by the box's air. Source: common practice, no source."""
    valve = who_runs("Valve", at(34), at(-3), CALLING, COLD_COIL).twin
    assert "Fresh-food fan: runs, because it blows on until its coil is dry" in valve
    two = who_runs("Two-circuit", at(34), at(-3), CALLING, COLD_COIL).twin
    assert "Fresh-food compressor: rests" in two and "it blows on until its coil is dry" in two


def test_thermostat_asks_nobody_upstairs():
    """Whatever the fresh food's temperature, nothing changes."""
    found = [asked(machine_named("Thermostat"), at(figure), at(6)) for figure in (28, 60)]
    assert found[0] == found[1]
    assert "nobody asks it" in who_runs("Thermostat", at(60), at(-12), SATISFIED, WARM_COIL).twin


FIRST_TO_PART = {
    "fresh-food fan stands still": "fresh-food fan",
    "no voltage for the fresh-food fan": "fresh-food fan",
    "fresh-food sensor: wire broken": "fresh-food sensor",
    "fresh-food sensor fell onto the coil": "fresh-food sensor",
    "valve stuck on the freezer": "valve",
    "damper stuck shut": "damper",
}


@pytest.mark.parametrize("name", list(MACHINES)[:4])
@pytest.mark.parametrize("fault", list(FAULTS))
def test_the_line_that_parts_is_the_part_at_fault(name, fault):
    """Only the faulty part's line does not agree; a machine without the part says so."""
    machine = machine_named(name)
    if FAULTS[fault] and FAULTS[fault] not in [one.name for one in faults_of(machine)]:
        assert "no such part" in commanded_against_seen(name, fault).twin
        return
    faulty = apply_faults(machine, [FAULTS[fault]] if FAULTS[fault] else [])
    parted = [row.name for row in looks(faulty, at(50), at(-12)) if not row.agrees]
    assert parted == ([FIRST_TO_PART[fault]] if fault != "none" else [])
    twin = commanded_against_seen(name, fault).twin
    assert twin.count("do not agree") == len(parted)


def test_broken_sensor_is_obeyed():
    """The board believes the cold end of its table and commands nothing for the fresh food."""
    twin = commanded_against_seen("Valve", "fresh-food sensor: wire broken").twin
    assert "believes −40.0 °F" in twin and "endless unplugged" in twin
    assert "commands off" in twin and "commands freezer alone" in twin


@pytest.mark.parametrize("name", list(MACHINES))
def test_hours_say_shares_of_work(name):
    """Every lane works some of the time, not all of it; both boxes stay near what they should be."""
    twin = hours_of(name).twin
    shares = [int(share) for share in re.findall(r"(\d+) % of the time", twin)]
    assert len(shares) == len(LANES[name]) and all(0 < share < 100 for share in shares)
    found = run(name)
    mean = from_si(sum(found["fresh_food"]) / len(found["fresh_food"]), "degF")
    assert 34 < mean < 43


def test_valve_rests_its_freezer_fan_while_only_the_fresh_food_is_fed():
    """The lesson asks to find it: at some minutes the valve feeds both coils and the freezer's fan rests."""
    found = run("Valve")
    both, fan, compressor = (
        found[lane] for lane in ("valve_both", "freezer_fan_voltage", "compressor_power")
    )
    assert any(a and c and not b for a, b, c in zip(both, fan, compressor, strict=True))


def test_drift_by_hand():
    """1.2 × 22.2 − 0.5 × 28.9 = 12.2 W; × 3.6 ÷ 18 kJ/K = 2.44 K; × 1.8 = 4.40 °F, as in the catalogue."""
    walls, carried, drift = drift_with_fan_off(0.5, at(37), at(-15), at(77))
    assert (round(walls, 1), round(carried, 1), round(from_si(drift, "delta_degF"), 2)) == (26.7, 14.4, 4.40)
    assert "9.6 °F" in with_fan_off(0.5, at(-15), at(77)).twin
    assert "The box cools" in with_fan_off(0.5, at(-15), at(45)).twin


def test_mixed_air_by_hand():
    """A fifth of 40 and four fifths of 5 are 12 °F; a coil 12 °F below is at 0 °F."""
    twin = two_returns(0.2, at(40), at(5), to_si(12, "delta_degF")).twin
    assert "12.0 °F (−11.1 °C) enters the coil" in twin and "0.0 °F (−17.8 °C)." in twin


def test_record_of_starving_coils_is_told():
    """Both orders, at the charge that the lesson looks back at."""
    first = {row[:2]: row[2:] for row in ORDERS}
    assert first[1, 40][1] > 20 and abs(first[1, 40][0] - first[1, 100][0]) < 1
    assert first[2, 40][0] > 42 and abs(first[2, 40][1] - first[2, 100][1]) < 1
    assert "freezer to 0 °F" in starving_coils(2, 0.4).twin


@pytest.mark.parametrize("room", sorted({row[1] for row in FIVE}))
def test_every_machine_stands_in_every_room(room):
    """Five rows, five names in the twin."""
    twin = five_in_a_room(room).twin
    assert all(f"{name}: fresh food" in twin for name in MACHINES)


def test_record_is_that_of_the_machines_as_they_are():
    """One row of the record, run again: a machine that has changed asks for tests/studies to be run again."""
    name, room, fresh_food, freezer, *_ = next(row for row in FIVE if row[:2] == ("Thermostat", 60))
    record = simulate(name, hours=48, room=at(room))
    half = len(record["time"]) // 2 - 1
    for box, mean in (("fresh_food", fresh_food), ("freezer", freezer)):
        found = from_si(float(record[f"{box}_air_temperature"][half:].mean()), "degF")
        assert found == pytest.approx(mean, abs=0.06)


def test_guesses_are_looked_back_at():
    """Sentences that come from the records."""
    lesson_08.guess_starving().take("The freezer")
    assert "the freezer warms: with 40 %" in lesson_08.look_back_at_starving().value
    lesson_08.guess_garage().take("In all five")
    assert "in Series and Thermostat, at 41 °F" in lesson_08.look_back_at_garage().value
    lesson_08.guess_compressor().take("Compressor and both fans")
    assert "compressor and freezer fan run" in lesson_08.look_back_at_compressor().value


def test_checks_reply_with_the_idea():
    """Right answers are right; half-way and swapped shares are named."""
    assert lesson_08.check_returns().take("12 °F").mood == "right"
    assert "half of each" in lesson_08.check_returns().take(f"{(FRESH_FOOD + FREEZER) / 2} °F").reply
    assert "swapped" in lesson_08.check_returns().take(f"{0.8 * FRESH_FOOD + SHARE * FREEZER} °F").reply
    for question in (lesson_08.check_series(), lesson_08.check_valve()):
        moods = [question.take(text).mood for text in question.choices]
        assert moods.count("right") == 1


@pytest.mark.parametrize(
    "picture",
    ["who_runs", "still_air", "two_returns", "order_of_coils", "commanded_against_seen", "five_machines"],
)
def test_every_stop_is_drawn(picture):
    """Each control at each stop, the others as they start: a picture with a name and a twin."""
    live = getattr(lesson_08, picture)()
    for number, control in enumerate(live._controls):
        for stop in range(len(control.values)):
            positions = [one.start for one in live._controls]
            positions[number] = stop
            live.positions = positions
            assert 'role="img"' in live.svg and len(live.twin) > 20
