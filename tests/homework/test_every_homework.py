"""What holds for every homework: worked answers earn full marks, ideas and headings exist."""

import json
import re
from pathlib import Path

import pytest
from coldbench.homework.kinds import Number, Order, Sentence
from coldbench.homework.marking import mark_homework

SOLUTIONS = Path(__file__).parents[2] / "solutions"
NUMBERS = sorted(path.parent.name[-2:] for path in SOLUTIONS.glob("homework-*/questions.py"))
STUDENTS = [f"s{number:03d}" for number in range(200)]


def typed(question, key, expected: str):
    """What a student types who answers as the worked answer says."""
    if isinstance(question.kind, (Number, Order)):
        return expected
    return key


@pytest.mark.parametrize("number", NUMBERS)
def test_worked_answers_earn_full_marks(real, number):
    """200 students type what the feedback would show as expected: all right, in one go."""
    course = real(number)
    for student in STUDENTS:
        right, answers = {}, {}
        for question in course.homework.questions.values():
            if question.key_function is not None:
                numbers = course.sheet.numbers(student, question.id)
                key = right[question.id] = question.key_function(numbers, right)
                answers[question.id] = typed(question, key, question.kind.show(key))
        marks = mark_homework(course.homework, course.sheet, course.ideas, student, answers)
        assert [mark.outcome for mark in marks if mark.question in answers] == ["right"] * len(answers)
        assert sum(mark.points for mark in marks) == sum(
            question.points for question in course.homework.questions.values() if question.id in answers
        )


@pytest.mark.parametrize("number", NUMBERS)
def test_every_wrong_idea_is_recognised_from_its_shown_answer(real, number):
    """60 students with one idea at a time, typed with the decimals of the question: that idea, a quarter."""
    course = real(number)
    for student in STUDENTS[:60]:
        right = {}
        for question in course.homework.questions.values():
            if question.key_function is None:
                continue
            numbers = course.sheet.numbers(student, question.id)
            right[question.id] = question.key_function(numbers, right)
            for mistake in question.mistakes:
                answer = mistake.function(numbers, right)
                given = {question.id: typed(question, answer, question.kind.show(answer))}
                marks = mark_homework(course.homework, course.sheet, course.ideas, student, given)
                mark = next(mark for mark in marks if mark.question == question.id)
                if mistake.is_slip:
                    assert (mark.outcome, mark.wrong_ideas) == ("slip", ()), (
                        student,
                        question.id,
                        mistake.id,
                    )
                else:
                    alike = {mistake.id}.union(*(pair for pair in question.alike if mistake.id in pair))
                    assert mistake.id in mark.wrong_ideas, (student, question.id, mistake.id)
                    assert alike.issuperset(mark.wrong_ideas), (student, question.id, mistake.id)


@pytest.mark.parametrize("number", NUMBERS)
def test_every_idea_is_in_the_catalogue(real, number):
    """An idea that is named in feedback has its sentence there; a slip has a sentence of its own."""
    course = real(number)
    for question in course.homework.questions.values():
        for mistake in question.mistakes:
            if mistake.is_slip:
                assert mistake.id not in course.ideas and mistake.hint.endswith(".")
            else:
                assert number in course.ideas[mistake.id]["lessons"].split(";"), (question.id, mistake.id)


@pytest.mark.parametrize("number", NUMBERS)
def test_every_read_again_is_a_heading_of_the_lesson(real, number):
    """Where feedback sends a student, there is a section of that name."""
    homework = real(number).homework
    folder = SOLUTIONS.parent / homework.lesson
    notebooks = list(folder.glob("*.ipynb"))
    if not notebooks:
        pytest.skip(f"{homework.lesson} has no notebook yet")
    cells = json.loads(notebooks[0].read_text(encoding="utf-8"))["cells"]
    text = "\n".join("".join(cell["source"]) for cell in cells if cell["cell_type"] == "markdown")
    headings = set(re.findall(r"^#+ +(.+?) *$", text, re.MULTILINE))
    missing = {question.read_again for question in homework.questions.values()} - headings
    assert not missing


@pytest.mark.parametrize("number", NUMBERS)
def test_a_homework_is_whole(real, number):
    """At least half of its questions on personal numbers, a chain, a choice, order or table, one sentence."""
    course = real(number)
    questions = list(course.homework.questions.values())
    personal = [q for q in questions if course.draws[course.sheet.items[q.id].chain] != [[]]]
    assert len(questions) >= 8 and len(personal) * 2 >= len(questions)
    assert any(question.uses for question in questions)
    assert sum(isinstance(question.kind, Sentence) for question in questions) == 1
    assert any(not isinstance(question.kind, (Number, Sentence)) for question in questions)
    for question in questions:
        assert question.full_marks if isinstance(question.kind, Sentence) else question.worked_function
        assert not isinstance(question.kind, Number) or question.tolerance.because


def test_catalogue_reads_as_part_of_a_comment(real):
    """Sentences end in a full stop; the parts put into sentences do not, and begin small."""
    for row in real("01").ideas.values():
        assert row["sentence"].endswith(".") and row["sentence"][0].isupper()
        assert not row["right"].endswith(".") and not row["why_it_is_tempting"].endswith(".")
        assert row["why_it_is_tempting"][0].islower() or row["why_it_is_tempting"].split()[0] in (
            "334",
            "32",
            "Ohm's",
        )
        assert row["read_again"] and row["show_at_the_bench"]


def test_catalogue_right_is_words_not_program_text(real):
    """A student reads it: no function names, no brackets of code."""
    for row in real("01").ideas.values():
        assert not re.search(r"\w+\(\w+\)|_|\*|=", row["right"]), row["id"]
