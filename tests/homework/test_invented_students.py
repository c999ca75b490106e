"""Invented students, who do not know the keys: their right answers against the marking, their ideas by hand.

Homework 01 and 05 have more of it in `tests/grading/test_invented_class.py`, where the class lives.
"""

import pytest
from coldbench.homework.kinds import Sentence
from coldbench.homework.marking import mark_homework
from studies import wrong_idea_study as study

invented = study.generator()


def figure(text: str) -> float:
    """Give the number of an answer, without its unit."""
    return float(text.split()[0])


@pytest.mark.parametrize("number", study.HOMEWORKS)
def test_who_works_rightly_from_the_text_alone_is_marked_right(real, number):
    """Two people read the question, one wrote the key: 60 students, every question, full marks."""
    course = real(number)
    for student in (f"s{place:03d}" for place in range(60)):
        answers = {}
        for question in course.homework.questions.values():
            if isinstance(question.kind, Sentence):
                continue
            numbers = course.sheet.numbers(student, question.id)
            earlier = {used: figure(answers[used]) for used in question.uses}
            answers[question.id] = invented.answer_right(question.id, numbers.shown, numbers.typed, earlier)
        given = {name: study.as_value(course[name], text) for name, text in answers.items()}
        marks = mark_homework(course.homework, course.sheet, course.ideas, student, given)
        assert [(m.question, m.answered) for m in marks if m.question in given and m.outcome != "right"] == []


# Source of the figures: the examples in the catalogue of wrong ideas, which were worked out by somebody else.
BOX = {"room_temperature": 77.0, "box_air_temperature": 37.0, "coil_temperature": -15.0}
BOX |= {"wall_conductance": 1.2, "still_conductance": 0.5, "heat_capacity": 18.0}
PUMP = {"displacement": 5.0, "speed": 3000, "filling": 70, "power": 90.0}
COIL = {"coil_temperature": 5.0, "liquid_temperature": 95.0, "condenser_temperature": 105.0}
AIR = {"freezer_air_temperature": 0.0, "fresh_food_air_temperature": 38.0, "fresh_food_share": 25.0}
EXAMPLES = [
    ("04.2", "flash_gas_forgotten", COIL, {}, 141.0, 209.0),
    ("04.5", "compressor_heat_forgotten", COIL | PUMP, {"04.4": 130.0}, 220.0, 130.0),
    ("08.4", "fan_off_means_no_cooling", BOX, {}, 4.4, 9.6),
    ("08.6", "temperature_difference_added", {"coil_to_air_difference": 16.0}, {"08.5": 38.0}, 22.0, 54.0),
]


@pytest.mark.parametrize(("question", "idea", "typed", "earlier", "right", "wrong"), EXAMPLES)
def test_ideas_answer_as_the_catalogue_says(question, idea, typed, earlier, right, wrong):
    """Right and wrong figures of each example, to its last digit."""
    within = 0.5 if question == "04.2" else 0.05
    typed = AIR | typed
    assert figure(invented.answer_right(question, {}, typed, earlier)) == pytest.approx(right, abs=within)
    held = invented.answer_with_idea(question, idea, typed, earlier)
    assert figure(held) == pytest.approx(wrong, abs=within)


def _work(question, see, ideas=frozenset()):
    return invented.thinking.worked(question, see, {}, ideas)


@pytest.mark.parametrize("number", ["04", "08"])
def test_every_way_outside_the_catalogue_changes_an_answer(real, number):
    """No phrase is dead: over 60 students each changes the answer of at least one."""
    course = real(number)
    for question, phrases in invented.thinking.OUTSIDE.items():
        if not question.startswith(number):
            continue
        seen = [course.sheet.numbers(f"s{place}", question).typed for place in range(60)]
        for phrase in phrases:
            changed = [_work(question, see) != _work(question, see, {phrase}) for see in seen]
            assert any(changed), (question, phrase)
