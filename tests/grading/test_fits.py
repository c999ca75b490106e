"""Comparing with keys finds at least whatever the marking would find right: being quick misses nobody."""

import pytest
from coldbench.grading.course_files import Course
from coldbench.grading.fits import GOOD, Keys
from coldbench.homework.marking import mark_homework
from grading.small_course import make_course, right
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as some


@pytest.fixture(scope="module")
def files(tmp_path_factory):
    """A small course's only homework, and its place."""
    place = make_course(tmp_path_factory.mktemp("course"))
    return place, Course(place)


def test_right_answers_fit_their_own_student(files):
    """Three questions have a key; the sentence has none."""
    place, course = files
    count = Keys(course.homework("05")).fitting(right(place, "s07"))
    assert count("s07") == 3
    assert count("s08") < 3


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=60)
@given(
    start=some.floats(30, 90), pick=some.sampled_from(["A", "B", "", None, "Z"]), text=some.text(max_size=5)
)
def test_never_fewer_than_the_marking_finds(files, start, pick, text):
    """For any answers and student: right and nearly right ones are all counted."""
    _, course = files
    homework = course.homework("05")
    answers = {"05.1": f"{start:.1f} degF", "05.2": f"{start - 10:.1f} degF", "05.3": pick, "05.4": text}
    count = Keys(homework).fitting(answers)
    for student in ("s07", "s08", "s09"):
        marks = mark_homework(homework.declaration, homework.sheet, course.ideas, student, answers)
        assert count(student) >= sum(mark.outcome in GOOD for mark in marks)


def test_a_key_whose_equations_do_not_hold_is_left_out(files, monkeypatch):
    """One question of one student that cannot be worked out stops nothing."""
    _, course = files
    homework = course.homework("05")

    def fails(numbers, earlier):
        raise ValueError

    monkeypatch.setattr(homework.declaration.questions["05.1"], "key_function", fails)
    assert set(Keys(homework).of("s07")) == {"05.3"}
