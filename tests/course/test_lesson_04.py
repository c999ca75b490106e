"""Lesson 04 says nothing that the library doesn't compute, and shows what wrong ideas lead to.

The circuit behind its numbers is held against energy, published cycles and common practice in
tests/test_cycle.py, tests/test_cycle_balance.py and tests/outside/test_cycles.py.
"""

import json
import re
from pathlib import Path

import pytest
from coldbench.lesson import lesson_04
from coldbench.lesson import lesson_04_pictures as pictures
from coldbench.lesson.lesson_04_machine import BENCH, BOX, FAULTS, ROOM, SPEED, at, two_coils
from coldbench.lesson.saying import say_gauge, signed
from coldbench.parts.compressor import compressor_flow, volumetric_efficiency
from coldbench.properties.refrigerant import (
    latent_heat,
    liquid_enthalpy,
    saturation_pressure,
    vapor_density,
    vapor_enthalpy,
)
from coldbench.units import from_si, to_si

LESSON = Path(__file__).parents[2] / "course" / "04-round-the-circuit"
CELLS = json.loads((LESSON / "04-round-the-circuit.ipynb").read_text(encoding="utf-8"))["cells"]
TEXT = " ".join(" ".join("".join(cell["source"]).replace("> ", "").split()) for cell in CELLS)


def kelvin(fahrenheit):
    return to_si(float(fahrenheit), "degF")


def said(temperature):
    return f"{signed(from_si(temperature, 'degF'), 0)} °F"


def degrees(difference):
    return f"{from_si(difference, 'delta_degF'):.1f} °F"


def ratio(cold, warm):
    return saturation_pressure("R-134a", kelvin(warm)) / saturation_pressure("R-134a", kelvin(cold))


def moved(cold):
    return compressor_flow(BENCH.displacement, SPEED, vapor_density("R-134a", kelvin(cold)), ratio(cold, 110))


def effect(cold, liquid):
    return vapor_enthalpy("R-134a", kelvin(cold)) - liquid_enthalpy("R-134a", kelvin(liquid))


def flashed(cold, liquid):
    rise = liquid_enthalpy("R-134a", kelvin(liquid)) - liquid_enthalpy("R-134a", kelvin(cold))
    return rise / latent_heat("R-134a", kelvin(cold))


def row(name, cycle):
    return (
        f"| {name} | {say_gauge(cycle.suction_pressure)} | {say_gauge(cycle.discharge_pressure)} | "
        f"{cycle.capacity:.0f} W | {cycle.power:.0f} W | {cycle.coefficient_of_performance:.2f} |"
    )


def fault_row(fault):
    cycle = at(fault=fault).cycle
    name = "sound" if fault == "nothing" else fault
    return (
        f"| {name} | {say_gauge(cycle.suction_pressure)} | {say_gauge(cycle.discharge_pressure)} | "
        f"{degrees(cycle.superheat)} | {degrees(cycle.subcooling)} | {cycle.power:.0f} W |"
    )


SOUND, BARE = at().cycle, at(exchange=0.0).cycle
POINTS = SOUND.points
WARMED = from_si(POINTS["compressor_inlet"].temperature - POINTS["coil_outlet"].temperature, "delta_degF")
FIRST, SECOND = two_coils(True, 0.5).coil_heat, two_coils(False, 0.5).coil_heat

# Each phrase is built from the library; the lesson must hold it word for word.
CLAIMS = {
    "the meter": f"The meter shows {SOUND.power:.0f} W",
    "the order of the pipes": f"discharge pipe {said(POINTS['compressor_outlet'].temperature)}, middle of "
    f"the "
    f"condenser {said(SOUND.condensing_temperature)}, liquid pipe "
    f"{said(POINTS['condenser_outlet'].temperature)}, "
    f"suction pipe at the compressor {said(POINTS['compressor_inlet'].temperature)}, coil "
    f"{said(SOUND.evaporating_temperature)}",
    "warmed by the exchanger": f"warmed it by {WARMED:.0f} °F",
    "subcooling": f"liquid pipe** is {from_si(SOUND.subcooling, 'delta_degF'):.0f} °F colder",
    "superheat": f"superheat {from_si(SOUND.superheat, 'delta_degF'):.0f} °F",
    "filling": f"ratio {ratio(-14, 111):.1f}, and {100 * volumetric_efficiency(ratio(-14, 111)):.0f} % of "
    f"each",
    "filling of a colder coil": f"ratio {ratio(-30, 111):.1f}, only "
    f"{100 * volumetric_efficiency(ratio(-30, 111)):.0f} %",
    "flow": f"4.5 cm³ at 3,000 rpm, filled to {100 * volumetric_efficiency(ratio(-14, 110)):.0f} %, with "
    f"vapour of "
    f"{vapor_density('R-134a', kelvin(-14)):.2f} kg/m³: {moved(-14) * 1e3:.2f} g in a second",
    "flow of the running machine": f"it is only {SOUND.mass_flow * 1e3:.2f} g/s",
    "flow of a colder coil": f"At −30 °F the same strokes move {moved(-30) * 1e3:.2f} g/s",
    "flash gas": f"Coil −14 °F, liquid 100 °F: {100 * flashed(-14, 100):.0f} % has boiled off before the "
    f"coil. Each "
    f"kilogram brings {effect(-14, 100) / 1e3:.0f} kJ, not the "
    f"{latent_heat('R-134a', kelvin(-14)) / 1e3:.0f} kJ",
    "flash gas of cooler liquid": f"Liquid at 60 °F: {100 * flashed(-14, 60):.0f} % boiled off, "
    f"{effect(-14, 60) / 1e3:.0f} kJ",
    "cooling": f"{SOUND.cooling_effect / 1e3:.0f} kJ/kg × {SOUND.mass_flow * 1e3:.2f} g/s = "
    f"{SOUND.capacity:.0f} W",
    "COP": f"(COP) = {SOUND.capacity:.0f} W ÷ {SOUND.power:.0f} W = {SOUND.coefficient_of_performance:.2f}",
    "sound": row("nothing", SOUND),
    "warm room": row("room 95 °F", at(room=kelvin(95)).cycle),
    "half speed": row("1,500 rpm", at(speed=SPEED / 2).cycle),
    "exchanger": f"Without it {BARE.cooling_effect / 1e3:.0f} kJ/kg, with it "
    f"{SOUND.cooling_effect / 1e3:.0f} kJ/kg",
    "thinner vapour": f"{BARE.mass_flow * 1e3:.2f} g/s become {SOUND.mass_flow * 1e3:.2f} g/s, and the "
    f"cooling stays "
    f"at {SOUND.capacity:.0f} W",
    "dry pipe": f"the pipe outside is at {said(POINTS['compressor_inlet'].temperature)} instead of "
    f"{said(BARE.points['compressor_inlet'].temperature)}",
    "hotter discharge": f"{said(POINTS['compressor_outlet'].temperature)}, not "
    f"{said(BARE.points['compressor_outlet'].temperature)}",
    "where the watts go": f"In: {SOUND.capacity:.0f} W from the box and {SOUND.power:.0f} W from the socket. "
    f"Out: "
    f"{SOUND.heat_rejected:.0f} W at the condenser and {SOUND.shell_heat:.0f} W at the shell, "
    f"{SOUND.heat_rejected + SOUND.shell_heat:.0f} W in all",
    "order of coils": f"it still takes {FIRST[0]:.0f} W, and the freezer's coil {FIRST[1]:.0f} W. Swapped, "
    f"the "
    f"freezer's coil takes {SECOND[0]:.0f} W and the fresh-food coil {SECOND[1]:.0f} W",
    **{fault: fault_row(fault) for fault in FAULTS},
}
WITHOUT_STARS = TEXT.replace("**", "")


@pytest.mark.parametrize("claim", CLAIMS)
def test_lesson_says_what_the_library_computes(claim):
    """The phrase with its numbers stands in the lesson as the library gives it."""
    assert CLAIMS[claim].replace("**", "") in WITHOUT_STARS


def test_every_number_with_a_unit_is_covered():
    """No figure in the lesson's text stands outside a claim above or the list of given readings."""
    given = (
        "0 °F; 77 °F; 80 W; 200 °F; −14 °F; 111 °F; −30 °F; 100 °F; 60 °F; 3,000 rpm; 1,500 rpm; 95 °F; "
        "37 °F; 10 °F; 32 °F; 200 kJ"
    )
    covered = " ".join([*CLAIMS.values(), given])
    numbers = set(re.findall(r"−?[\d.,]*\d (?:°F|°C|K|psig|psia|psi|inHg|kPa|W|g/s|kJ|kJ/kg|rpm)\b", TEXT))
    assert {number for number in numbers if number not in covered} == set()
    assert len(numbers) > 40


def test_discharge_pipe_burns():
    """Far above 200 °F would be too much said in a cool room; at 77 °F it holds."""
    assert from_si(POINTS["compressor_outlet"].temperature, "degF") > 200


HEADINGS = [
    "Strokes and ratio",
    "What leaves the capillary",
    "Strokes per second",
    "Pressure–enthalpy picture",
    "Where the watts go",
    "Round the circuit",
    "Three faults, one pair of gauges",
    "Suction-line exchange",
    "Order of coils",
]


@pytest.mark.parametrize("heading", HEADINGS)
def test_feedback_finds_its_section(heading):
    """Where feedback says "read again", the lesson has a section with exactly this heading."""
    lines = [line for cell in CELLS for line in "".join(cell["source"]).splitlines()]
    assert re.search(rf"^##+ {re.escape(heading)}$", "\n".join(lines), re.M)


# Directions that the lesson states


def test_only_a_weak_pump_raises_the_low_side():
    """Common practice, no source; the words of the lesson's three bullets."""
    sick = {fault: at(fault=fault) for fault in FAULTS if fault != "nothing"}
    up = [name for name, one in sick.items() if one.cycle.suction_pressure > SOUND.suction_pressure]
    assert up == ["valves leak, pumps 60 %"]
    starved = {name: one.cycle for name, one in sick.items() if one.wet_share[0] < 0.5}
    assert set(starved) == {"60 % of the charge gone", "capillary half blocked"}
    assert starved["capillary half blocked"].subcooling > 2 * SOUND.subcooling
    assert starved["60 % of the charge gone"].subcooling < SOUND.subcooling / 4


def test_every_stop_of_every_slider_has_a_picture_and_a_sentence():
    """Each slider from end to end, the others at their start; and the four together at their ends."""
    for name in (
        "walk",
        "picture",
        "strokes",
        "flow",
        "flash",
        "exchanger",
        "watts",
        "faults",
        "order_of_coils",
    ):
        shown = getattr(lesson_04, name)()
        start = list(shown.positions)
        for number, control in enumerate(shown._controls):
            for stop in range(len(control.values)):
                shown.positions = [stop if place == number else start[place] for place in range(len(start))]
                assert shown.svg.startswith("<svg role=") and "must lie" not in shown.twin
                assert "no balance" not in shown.twin and "140 °C" not in shown.twin


def test_a_setting_beyond_the_tables_says_so():
    """Hot room, warm box, full speed: the sentence instead of numbers."""
    shown = lesson_04.picture().move(room="105 °F", box="40 °F", speed="4,000 rpm", exchange="70 %")
    assert "more than 140 °C" in shown.twin


# The twins say the numbers.


def test_pressure_enthalpy_twin_says_what_the_loop_shows():
    twin = pictures.enthalpies(BOX, ROOM, SPEED, BENCH.exchange).twin
    assert "0.3 psig" in twin and "147.9 psig" in twin and "161 kJ/kg × 0.74 g/s" in twin and "119 W" in twin


def test_watts_twin_adds_up():
    """In and out are one number."""
    twin = pictures.watts(BOX, ROOM, SPEED).twin
    assert "119 W (405 Btu/h) from the box and 80 W" in twin and "Both are 199 W." in twin


def test_ratio_twin_warns_of_gauges():
    """Where both gauges stand above zero, the twin says what dividing them would give."""
    assert "Dividing the two gauge readings would give" in pictures.filling(kelvin(5), kelvin(110)).twin
    assert "Dividing" not in pictures.filling(kelvin(-20), kelvin(110)).twin


# Guesses, checks, looking back.


@pytest.fixture
def own_folder(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)


@pytest.mark.parametrize(
    ("typed", "mood", "reason"),
    [
        # By hand: 154.7 / 18.7 = 8.27; 140 / 4 = 35; 136 / 14.7 = 9.25; 18.7 / 154.7 = 0.12
        ("8.3", "right", "154.7 ÷ 18.7"),
        ("35", "not yet", "divides the gauge readings"),
        ("9.25", "not yet", "difference in atmospheres"),
        ("0.12", "not yet", "wrong way up"),
        ("12", "not yet", "Add 14.7"),
    ],
)
def test_check_ratio_finds_the_idea(own_folder, typed, mood, reason):
    asked = lesson_04.check_ratio().take(typed)
    assert (asked.mood, reason in asked.reply) == (mood, True)


@pytest.mark.parametrize(
    ("typed", "mood", "reason"),
    [
        ("185 W", "right", "110 + 75"),
        ("631 Btu/h", "right", "110 + 75"),
        ("110 W", "not yet", "leaves out the compressor"),
        ("75 W", "not yet", "only what comes from the socket"),
        ("35 W", "not yet", "Nothing is taken off"),
        ("150 W", "not yet", "What goes in comes out"),
    ],
)
def test_check_heat_finds_the_idea(own_folder, typed, mood, reason):
    asked = lesson_04.check_heat().take(typed)
    assert (asked.mood, reason in asked.reply) == (mood, True)


def test_check_fault_has_one_right_answer_and_its_readings_are_the_machine_s(own_folder):
    """The readings of the question are those of the machine with refrigerant missing."""
    asked = lesson_04.check_fault()
    right = [text for text in asked.choices if lesson_04.check_fault().take(text).mood == "right"]
    assert right == ["Refrigerant is missing"]
    sick = at(fault="60 % of the charge gone").cycle
    for cycle in (SOUND, sick):
        assert f"{from_si(cycle.superheat, 'delta_degF'):.0f} °F" in asked.question
        assert f"subcooling {from_si(cycle.subcooling, 'delta_degF'):.0f} °F" in asked.question
        assert f"{from_si(cycle.discharge_pressure, 'psig'):.0f} psig" in asked.question
        assert say_gauge(cycle.suction_pressure) in asked.question


def test_looking_back_shows_the_guess_and_what_came_out(own_folder):
    """All three guesses."""
    lesson_04.guess_heat().take("Just 80 W")
    lesson_04.guess_speed().take("Just as much")
    lesson_04.guess_pipe().take("To keep the thin tube from shaking")
    assert "Just 80 W" in (seen := lesson_04.look_back_at_heat().value) and "199 W" in seen
    assert "Just as much" in (seen := lesson_04.look_back_at_speed().value) and "1.75" in seen
    assert "shaking" in (seen := lesson_04.look_back_at_pipe().value) and "161 kJ/kg" in seen


def test_printed_table_is_the_library_s():
    """Every row of the bench sheet's table, and of the lesson's, comes from the property functions."""
    sheet = (LESSON / "bench-sheet.html").read_text(encoding="utf-8")
    rows = re.findall(r'<tr><th scope="row">(−?\d+)</th>((?:<td>[\d.]+</td>){4})</tr>', sheet)
    printed = [(first, *re.findall(r"<td>([\d.]+)</td>", rest)) for first, rest in rows]
    assert printed == lesson_04.property_table().rows and len(printed) == 30
    for first, pressure, liquid, vapor, density in printed:
        temperature = kelvin(first.replace("−", "-"))
        assert float(pressure) == pytest.approx(
            from_si(saturation_pressure("R-134a", temperature), "psia"), abs=0.006
        )
        assert float(liquid) == pytest.approx(liquid_enthalpy("R-134a", temperature) / 1e3, abs=0.06)
        assert float(vapor) == pytest.approx(vapor_enthalpy("R-134a", temperature) / 1e3, abs=0.06)
        assert float(density) == pytest.approx(vapor_density("R-134a", temperature), abs=0.006)


def test_proportion_between_rows_is_good_enough_for_homework():
    """Half-way between two rows of the table pressure is off by less than 0.2 %, density too."""
    for middle in (2.5, 7.5, 97.5, 112.5):
        for function in (saturation_pressure, vapor_density):
            ends = [function("R-134a", kelvin(middle + off)) for off in (-2.5, 2.5)]
            assert sum(ends) / 2 == pytest.approx(function("R-134a", kelvin(middle)), rel=2e-3)
