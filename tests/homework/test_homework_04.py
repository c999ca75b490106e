"""Homework 04: keys and wrong ideas against numbers from outside, tickets that can be told apart."""

import csv
from itertools import pairwise
from pathlib import Path

import pytest
from coldbench.homework.drawing import faults

# Source: reference equations of state of R-134a (Tillner-Roth and Baehr 1994) and R-600a (Buecker and
# Wagner 2006) through CoolProp; the atmosphere [Pa] by NIST SP 811.
ATMOSPHERE = 101_325.0
FOLDER = Path(__file__).parents[2] / "solutions" / "homework-04"
MACHINE = {
    "coil_temperature": 5.0, "condenser_temperature": 105.0, "liquid_temperature": 95.0, "displacement": 5.0,
    "speed": 3000, "filling": 70, "power": 100,
}  # fmt: skip


def kelvin(fahrenheit: float) -> float:
    return (fahrenheit + 459.67) / 1.8


def reference(quantity: str, fahrenheit: float, quality: int, fluid: str = "R134a") -> float:
    coolprop = pytest.importorskip("CoolProp.CoolProp")
    return coolprop.PropsSI(quantity, "T", kelvin(fahrenheit), "Q", quality, fluid)


def test_ratio_by_the_reference_equation(real):
    """04.1: key, and what each idea divides."""
    key, wrong = real("04").answers("04.1", **MACHINE)
    low, high = reference("P", 5.0, 1), reference("P", 105.0, 0)
    assert key == pytest.approx(high / low, rel=1e-3)
    assert wrong["gauge_as_absolute"] == pytest.approx((high - ATMOSPHERE) / (low - ATMOSPHERE), rel=3e-3)
    isobutane = reference("P", 105.0, 0, "IsoButane") / reference("P", 5.0, 1, "IsoButane")
    assert wrong["wrong_refrigerant_curve"] == pytest.approx(isobutane, rel=1e-3)
    assert wrong["line_temperature_as_saturated"] == pytest.approx(reference("P", 95.0, 0) / low, rel=1e-3)
    assert wrong["upside_down"] == pytest.approx(low / high, rel=1e-3)
    assert wrong["air_added_twice"] == pytest.approx((high + ATMOSPHERE) / (low + ATMOSPHERE), rel=1e-3)


def test_cooling_per_kilogram_by_the_reference_equation(real):
    """04.2. The catalogue, flash_gas_forgotten, from the same equation: 141 kJ/kg, wrongly 209."""
    key, wrong = real("04").answers("04.2", **MACHINE)
    vapor, liquid = reference("H", 5.0, 1), reference("H", 95.0, 0)
    assert key == pytest.approx((vapor - liquid) / 1e3, abs=0.1)
    assert (round(key), round(wrong["flash_gas_forgotten"])) == (141, 209)
    isobutane = reference("H", 5.0, 1, "IsoButane") - reference("H", 95.0, 0, "IsoButane")
    assert wrong["wrong_refrigerant_curve"] == pytest.approx(isobutane / 1e3, abs=0.2)


def test_flow_by_the_reference_equation(real):
    """04.3: 5 cm³ × 50 turns a second × 0.70 × density; the slips by 60 and 0.70."""
    key, wrong = real("04").answers("04.3", **MACHINE)
    assert key == pytest.approx(5.0 * 50 * 0.70 * reference("D", 5.0, 1) / 1e3, rel=1e-3)
    isobutane = 5.0 * 50 * 0.70 * reference("D", 5.0, 1, "IsoButane") / 1e3
    assert wrong["wrong_refrigerant_curve"] == pytest.approx(isobutane, rel=1e-3)
    assert wrong["minutes_for_seconds"] == pytest.approx(60 * key)
    assert wrong["filling_left_out"] == pytest.approx(key / 0.70)


def test_cooling_and_heat_go_on_from_earlier_answers(real):
    """04.4 and 04.5 by hand: 140 kJ/kg × 1.5 g/s = 210 W; + 100 W = 310 W."""
    key, wrong = real("04").answers("04.4", {"04.2": 140e3, "04.3": 1.5e-3}, **MACHINE)
    assert key == pytest.approx(210.0)
    assert wrong["flash_gas_forgotten"] == pytest.approx(1.5 * 209, rel=3e-3)
    key, wrong = real("04").answers("04.5", {"04.4": 210.0}, **MACHINE)
    assert key == pytest.approx(310.0)
    assert wrong == {"compressor_heat_forgotten": pytest.approx(210.0), "taken_off": pytest.approx(110.0)}


def test_power_is_drawn_for_a_coefficient_of_performance_from_1_2_to_1_8(real):
    """04.5: the meter's watts belong to the cooling of the same row."""
    course = real("04")
    for row in course.draws[course.sheet.items["04.5"].chain][:60]:
        variables = [v for q in course.homework.chains()["04.1"] for v in q.given()]
        typed = {variable.name: number for variable, number in zip(variables, row, strict=True)}
        earlier = {}
        numbers = course.numbers("04.1", **typed)
        for name in ("04.1", "04.2", "04.3", "04.4"):
            earlier[name] = course[name].key_function(numbers, earlier)
        assert 1.18 < earlier["04.4"] / typed["power"] < 1.82


@pytest.mark.parametrize("chain", ["04.1", "04.6", "04.7"])
def test_each_chain_has_at_least_200_rows_that_keep_the_ideas_apart(real, chain):
    """The rows that are shipped hold against the apartness rule when it is asked again."""
    course = real("04")
    questions = course.homework.chains()[chain]
    variables = [variable for question in questions for variable in question.given()]
    rows = course.draws[chain]
    assert len(rows) >= 200
    assert all(faults(questions, variables, row) == [] for row in rows[::10])


def tickets(name: str) -> list[dict]:
    with (FOLDER / name).open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    words = ("ticket", "fault")
    return [{key: one[key] if key in words else float(one[key]) for key in one} for one in rows]


def verdict(one: dict) -> str:
    """What a technician says who knows lesson 04 and nothing of the table."""
    superheat = one["coil_outlet_pipe"] - one["coil_inlet"]
    subcooling = one["mid_condenser"] - one["liquid_pipe"]
    if superheat > 8:
        return "restricted capillary" if subcooling > 8 else "low charge"
    risen = one["suction_pressure"] - one["new_suction_pressure"] > 0.8
    fallen = one["new_discharge_pressure"] - one["discharge_pressure"] > 8
    return "weak compressor" if risen and fallen else "none"


def test_every_ticket_can_be_judged_from_its_readings():
    """04.7. Source of the rule: common practice, no source; the lesson's three bullets."""
    rows = tickets("series_tickets.csv")
    assert {one["fault"] for one in rows} == {
        "none", "low charge", "restricted capillary", "weak compressor"
    }  # fmt: skip
    assert [one["ticket"] for one in rows if verdict(one) != one["fault"]] == []


def test_pipes_of_a_sound_machine_stand_in_the_order_of_the_key():
    """04.6: discharge, condenser, liquid, suction at the compressor, coil: common practice, no source."""
    places = ("discharge_pipe", "mid_condenser", "liquid_pipe", "shell_suction_pipe", "coil_inlet")
    rows = [one for one in tickets("pipe_tickets.csv") if one["mid_condenser"] - one["liquid_pipe"] > 1.5]
    assert len(rows) > 200
    assert all(
        [one[place] for place in places] == sorted((one[p] for p in places), reverse=True) for one in rows
    )


def test_a_ticket_s_number_says_nothing_about_its_fault():
    """Neighbouring tickets have the same fault no more often than shuffled ones (about 1 in 4)."""
    rows = tickets("series_tickets.csv")
    same = sum(one["fault"] == other["fault"] for one, other in pairwise(rows))
    assert 0.15 < same / len(rows) < 0.40


def test_ideas_of_the_fault_question_show_themselves(real):
    """04.7: with each fault, each idea gives tables of its own, and none the key."""
    course = real("04")
    question = course["04.7"]
    seen = set()
    for row in course.draws["04.7"]:
        numbers = course.numbers("04.7", **dict(zip([v.name for v in question.given()], row, strict=True)))
        key = question.key_function(numbers, {})
        answers = {(one.id, *one.function(numbers, {}).values()) for one in question.mistakes}
        apart = {("right", *key.values()), *answers}
        assert len({one[0] for one in apart}) == 4 and len({one[1:] for one in apart}) == len(apart)
        seen.add(key["cause"])
    assert seen == set("ABCD")


def test_a_missed_flash_gas_is_carried_on(real):
    """Who answers 04.2 with the latent heat gets full marks in 04.4 and 04.5 for going on rightly."""
    from coldbench.homework.marking import mark_homework

    course, student = real("04"), "s07"
    right, answers = {}, {}
    for name in ("04.1", "04.2", "04.3", "04.4", "04.5"):
        question = course[name]
        numbers = course.sheet.numbers(student, name)
        right[name] = question.key_function(numbers, right)
        if name == "04.2":
            right[name] = question.mistakes[0].function(numbers, right)
        answers[name] = question.kind.show(right[name])
    marks = {
        m.question: m for m in mark_homework(course.homework, course.sheet, course.ideas, student, answers)
    }
    assert marks["04.2"].wrong_ideas == ("flash_gas_forgotten",)
    assert [marks[name].points for name in ("04.4", "04.5")] == [2, 2]
