"""The invented class: right answers are right, ideas answer as catalogued, hand-ins are as told."""

import csv
import json
import math
import sys
import zipfile
from importlib import import_module
from pathlib import Path
from random import Random

import pytest
from coldbench.homework.sheet import load
from CoolProp.CoolProp import PropsSI

HOME = Path(__file__).parents[2]
SOLUTIONS, EXERCISES = HOME / "solutions", HOME / "exercises"
sys.path.append(str(SOLUTIONS))
invented = import_module("invented_class")
thinking = import_module("invented_thinking")

with (SOLUTIONS / "wrong_ideas.csv").open(encoding="utf-8", newline="") as catalogue_file:
    CATALOGUE = {row["id"]: row for row in csv.DictReader(catalogue_file)}
SHEETS = [load(EXERCISES / f"homework-{homework}") for homework in invented.HOMEWORKS]
QUESTIONS = [(sheet, question) for sheet in SHEETS for question in sheet.items if question in thinking.WAYS]

NAMES = [question for _, question in QUESTIONS]


def seeded(number):
    return Random(number)  # noqa: S311


def numbers_of(sheet, question, count=40):
    return [sheet.numbers(f"tried{n}", question) for n in range(count)]


def figure(text):
    return float(text.split()[0])


@pytest.fixture(scope="module")
def hand_ins(tmp_path_factory):
    target = tmp_path_factory.mktemp("class")
    invented.make_hand_ins(EXERCISES, target, invented.in_this_process)
    return target


def table(path):
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


# Right answers. Source of the saturation states: CoolProp (R-134a: Tillner-Roth and Baehr 1994; R-600a:
# Buecker and Wagner 2006). 14.7 psia for 14.696 and one typed decimal: 0.1 °F, 0.1 K, 0.1 inHg.


@pytest.mark.parametrize("student", ["s07", "s12", "s20"])
def test_right_answers_on_refrigerants_agree_with_the_reference_equations(student):
    sheet = SHEETS[0]
    seen = sheet.numbers(student, "01.1")
    coil = PropsSI("T", "P", seen.gauge_pressure, "Q", 0, "R134a")
    condensing = PropsSI("T", "P", seen.high_gauge_pressure, "Q", 0, "R134a")
    expected = {
        "01.1": coil * 1.8 - 459.67,
        "01.4": seen.suction_line_temperature - coil,
        "01.5": (condensing - seen.liquid_line_temperature) * 1.8,
    }
    for question, value in expected.items():
        assert figure(invented.answer_right(question, seen.shown, seen.typed, {})) == pytest.approx(
            value, abs=0.1
        )
    ring = sheet.numbers(student, "01.9")
    vacuum = (101_325 - PropsSI("P", "T", ring.coil_temperature, "Q", 0, "IsoButane")) / 3386.389
    assert figure(invented.answer_right("01.9", ring.shown, ring.typed, {})) == pytest.approx(vacuum, abs=0.1)


def test_right_order_is_the_order_of_the_pressures_in_pascal():
    for seen in numbers_of(SHEETS[0], "01.6"):
        names = ("first_vacuum", "second_gauge_pressure", "third_pressure", "fourth_pressure")
        pascal = dict(zip("ABCD", (getattr(seen, name) for name in names), strict=True))
        assert invented.answer_right("01.6", seen.shown, seen.typed, {}).split() == sorted(
            pascal, key=pascal.get
        )


def test_right_answers_on_sensors_solve_the_b_formula():
    # Source of the formula: the B-parameter equation as in IEC 60539-1; the sensor is the homework's own.
    for seen in numbers_of(SHEETS[1], "05.9"):
        celsius = (figure(invented.answer_right("05.9", seen.shown, seen.typed, {})) - 32) / 1.8
        sensor = 10e3 * math.exp(3950 * (1 / seen.box_air_temperature - 1 / 298.15))
        both = 1 / (1 / sensor + 1 / seen.path_resistance)
        assert 10e3 * math.exp(3950 * (1 / (celsius + 273.15) - 1 / 298.15)) == pytest.approx(both, rel=0.002)


FAULTS = {
    "01.7": ("leak", {"none": "AE", "low charge": "BF", "weak compressor": "CG"}),
    "05.7": (
        "sensor",
        {"too warm": "AGL", "too cold": "BHL", "loose": "CIL", "open": "DFL", "fan dead": "EJL"},
    ),
}


@pytest.mark.parametrize("question", FAULTS)
def test_who_reads_a_machine_rightly_finds_the_fault_that_was_put_in(question):
    """The fault of the simulated machine stands in the table of tickets, which the student never sees."""
    table_of, letters = FAULTS[question]
    homework = question[:2]
    faults = {
        row["ticket"]: row["fault"]
        for row in table(SOLUTIONS / f"homework-{homework}" / f"{table_of}_tickets.csv")
    }
    sheet = SHEETS[invented.HOMEWORKS.index(homework)]
    for seen in numbers_of(sheet, question, 200):
        right = invented.as_value(question, invented.answer_right(question, seen.shown, seen.typed, {}))
        assert "".join(right.values()) == letters[faults[seen.shown["ticket"]]]


@pytest.mark.parametrize(("sheet", "question"), QUESTIONS, ids=NAMES)
def test_a_notebook_understands_every_right_answer(sheet, question):
    for seen in numbers_of(sheet, question):
        right = invented.answer_right(question, seen.shown, seen.typed, {})
        sheet.items[question].kind.read(invented.as_value(question, right))


def test_a_right_answer_follows_an_earlier_one():
    assert (
        invented.answer_right(
            "05.4",
            {},
            {"supply_voltage": 5.0, "fixed_resistance": 10.0, "box_air_temperature": 38.0},
            {"05.2": 30.0},
        )
        == "3.75 V"
    )
    sentence = invented.answer_right("01.8", {}, {}, {})
    assert len(sentence.split()) > 20


# Wrong ideas. Source of the figures: the examples in the catalogue of wrong ideas, which were worked out by
# somebody else.
BENCH = {"gauge_pressure": 5.0, "suction_line_temperature": 4.0, "box_air_temperature": 38.0}
BENCH |= {"high_gauge_pressure": 120.0, "liquid_line_temperature": 90.0}
OHMS, CELL = {"resistance": 28.733}, {"supply_voltage": 5.0, "fixed_resistance": 10.0}
EXAMPLES = [
    ("01.1", "gauge_as_absolute", {"gauge_pressure": 8.0}, {}, 3.0, -37.4),
    ("01.3", "altitude_ignored", {"altitude": 5000, "mountain_gauge_pressure": 6.0}, {}, -6.3, -1.0),
    ("01.4", "superheat_from_box", BENCH, {}, 7.0 / 1.8, 41.0 / 1.8),
    ("01.5", "superheat_subcooling_exchanged", BENCH | {"suction_line_temperature": 8.0}, {}, 8.0, 11.0),
    ("05.1", "celsius_for_kelvin", OHMS, {}, 37.4, 76.7),
    ("05.1", "ohms_rise_with_temperature", OHMS, {}, 37.4, 123.5),
    ("05.1", "log10_for_ln", OHMS, {}, 37.4, 59.1),
    ("05.1", "offset_32_forgotten", OHMS, {}, 37.4, 5.4),
    ("05.4", "divider_upside_down", CELL | {"box_air_temperature": 37.4}, {"05.2": 28.7}, 3.71, 1.29),
    (
        "05.5",
        "ohms_percent_is_degree_percent",
        {"ohms_tolerance": 3, "freezer_air_temperature": 5.0},
        {},
        0.91,
        0.15,
    ),
]


@pytest.mark.parametrize(("question", "idea", "typed", "earlier", "right", "wrong"), EXAMPLES)
def test_ideas_answer_as_the_catalogue_says(question, idea, typed, earlier, right, wrong):
    decimals = 0.01 if question in ("05.4", "05.5") else 0.1
    assert figure(invented.answer_right(question, {}, typed, earlier)) == pytest.approx(right, abs=decimals)
    assert figure(invented.answer_with_idea(question, idea, typed, earlier)) == pytest.approx(
        wrong, abs=decimals
    )


def test_the_far_line_answers_as_the_catalogue_says():
    # Right is asked between neighbouring rows here, by the curve there: only the wrong one is compared.
    wrong = invented.answer_with_idea("05.3", "far_straight_line", {"table_resistance": 48.275}, {})
    assert figure(wrong) == pytest.approx(32.2, abs=0.1)


def test_vacuum_and_curve_ideas_answer_as_the_catalogue_says():
    # 0.04 psi: the example's 10.4 inHg stand for 10.35 to 10.45, and its air for 14.696 psia.
    vacuum = thinking.absolute_of_vacuum(10.4, {"vacuum_as_pressure_above"})
    assert (thinking.absolute_of_vacuum(10.4, set()), vacuum) == pytest.approx((9.56, 19.83), abs=0.04)
    assert thinking.boils_at("R-600a", 17.696, set()) == pytest.approx(19.6, abs=0.1)
    assert thinking.boils_at("R-600a", 17.696, {"wrong_refrigerant_curve"}) == pytest.approx(-7.5, abs=0.1)


@pytest.mark.parametrize(("sheet", "question"), QUESTIONS, ids=NAMES)
def test_every_idea_listed_is_catalogued_and_answers_most_draws(sheet, question):
    draws = numbers_of(sheet, question)
    for idea in invented.ideas_for(question):
        assert idea in CATALOGUE
        wrong = [invented.answer_with_idea(question, idea, seen.typed, {}) for seen in draws]
        assert sum(text is None for text in wrong) <= 0.1 * len(draws), idea
    assert invented.answer_with_idea(question, "kw_kwh_exchanged", draws[0].typed, {}) is None


# Strata of the study.


@pytest.mark.parametrize("stratum", invented.STRATA)
def test_a_stratum_says_what_is_behind_its_answers_and_repeats_itself(stratum):
    found = 0
    for sheet, question in QUESTIONS:
        for number, seen in enumerate(numbers_of(sheet, question, 12)):
            one, again = (
                invented.study_answer(stratum, question, seen.typed, {}, seeded(number)) for _ in range(2)
            )
            assert one == again
            if one is None:
                continue
            text, idea = one
            found += 1
            ideas = idea.split("+") if idea else []
            assert set(ideas) <= set(CATALOGUE)
            assert len(ideas) in {
                "exact idea": [1],
                "rounded idea": [1],
                "two ideas": [2],
                "unit slip": [0, 1],
            }.get(stratum, [0])
            if stratum not in ("rounded idea", "unit slip"):
                assert text != invented.answer_right(question, {}, seen.typed, {})
    assert found > 40
    assert invented.study_answer(stratum, "01.8", {}, {}, seeded(1)) is None


def test_ideas_outside_the_catalogue_are_many_and_never_read_like_a_catalogued_one():
    assert len({phrase for phrases in thinking.OUTSIDE.values() for phrase in phrases}) >= 12
    for sheet, question in QUESTIONS:
        for number, seen in enumerate(numbers_of(sheet, question)):
            found = invented.study_answer("outside the catalogue", question, seen.typed, {}, seeded(number))
            ideas = invented.ideas_for(question)
            wrong = [invented.answer_with_idea(question, idea, seen.typed, {}) for idea in ideas]
            assert found is None or found[0] not in wrong


def test_rounding_keeps_the_figures_asked_for():
    assert [thinking.written("05.1", (-37.44, "degF"), figures) for figures in (0, 2, 3)] == [
        "-37.4 degF",
        "-37 degF",
        "-37.4 degF",
    ]
    assert thinking.written("01.5", (104.26, "degF"), 2) == "100 degF"
    assert thinking.written("05.1", None) is None
    assert thinking.worked("05.1", {"resistance": 0.0}, {}) is None


# The class.


def test_there_are_24_students_on_the_roster_and_each_hands_in(hand_ins):
    roster = table(hand_ins / "roster.csv")
    assert [row["student"] for row in roster] == [f"s{n:02}" for n in range(1, 25)]
    assert len({row["name"] for row in roster}) == 24
    assert all(any((hand_ins / row["student"]).iterdir()) for row in roster)


def test_the_truth_has_a_line_for_every_answer(hand_ins):
    truth = table(hand_ins / "truth.csv")
    told = [(row["student"], row["homework"], row["question"]) for row in truth if row["question"]]
    asked = [(s.number, sheet.homework, q) for s in invented.CLASS for sheet in SHEETS for q in sheet.items]
    assert sorted(told) == sorted(asked)
    assert all(row["stratum"] for row in truth)
    assert {idea for row in truth for idea in row["idea"].split("+") if idea} <= set(CATALOGUE)


def test_every_manner_of_answering_occurs(hand_ins):
    strata = {row["stratum"] for row in table(hand_ins / "truth.csv")}
    assert {"right", "right, rounded", "right, on an earlier answer", "blank", "lost"} <= strata
    assert {"sentence, good", "sentence, mixed", "sentence, poor", "exact idea", "two ideas"} <= strata
    assert {"unit slip", "random slip", "outside the catalogue"} <= strata


def test_the_class_comes_out_the_same_each_time(hand_ins, tmp_path):
    invented.make_hand_ins(EXERCISES, tmp_path, invented.in_this_process)
    files = [path.relative_to(hand_ins) for path in hand_ins.rglob("*") if path.is_file()]
    assert len(files) == 2 * 24 - 1 + 2
    assert all((hand_ins / file).read_bytes() == (tmp_path / file).read_bytes() for file in files)


def test_the_six_troubled_hand_ins_are_what_they_are_said_to_be(hand_ins):
    troubles = {
        row["stratum"].removeprefix("trouble: "): hand_ins / row["student"] / "homework-05.ipynb"
        for row in table(hand_ins / "truth.csv")
        if row["stratum"].startswith("trouble: ")
    }
    assert len(troubles) == 6
    text = {trouble: path.read_text(encoding="utf-8") for trouble, path in troubles.items()}
    with pytest.raises(json.JSONDecodeError):
        json.loads(text.pop("broken JSON"))
    cells = {trouble: json.loads(whole)["cells"] for trouble, whole in text.items()}
    sources = {trouble: {c["id"]: "".join(c["source"]) for c in some} for trouble, some in cells.items()}
    with pytest.raises(SyntaxError):
        compile(sources["syntax error"]["question-05-4"], "cell", "exec")
    assert sources["endless loop"]["own-try"] == "while True:\n    pass"
    assert not any(cell.get("outputs") for cell in cells["endless loop"])
    assert "question-05-4" not in sources["deleted question cell"]
    assert "question-01-1" in sources["wrong homework"] and "question-05-1" not in sources["wrong homework"]
    roster = {row["student"] for row in table(hand_ins / "roster.csv")}
    assert 'student("s42")' in sources["wrong student number"]["student-number"] and "s42" not in roster


def test_one_student_hands_in_a_zip_with_renamed_notebooks(hand_ins):
    with zipfile.ZipFile(hand_ins / "s16" / "my homework.zip") as pack:
        names = pack.namelist()
        assert names == [f"final version/homework-{n} (2).ipynb" for n in ("01", "05")]
        assert 'student("s16")' in pack.read(names[1]).decode().replace('\\"', '"')


def test_a_changed_exercise_is_noticed():
    cell = {"id": "question-05-1", "source": ['answer("05.1", "your answer")']}
    with pytest.raises(ValueError, match="question-05-1 has no"):
        invented.fill(cell, 'answer("05.1", ...', 'answer("05.1", "3 degF"')


def test_a_kernel_gives_the_same_outputs_as_this_process(hand_ins):
    home, own = EXERCISES / "homework-05", hand_ins / "s01" / "homework-05.ipynb"
    filled = json.loads(own.read_text(encoding="utf-8"))
    by_kernel = invented.in_a_kernel(filled, home)
    outputs = [
        ["".join(out["data"]["text/plain"]) for cell in book["cells"] for out in cell.get("outputs", [])]
        for book in (filled, by_kernel)
    ]
    assert len(outputs[0]) == 10 and outputs[0] == outputs[1]
