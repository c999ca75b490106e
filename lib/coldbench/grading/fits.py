"""Whose numbers do these answers fit? A reason to ask a student, never a verdict.

Inside: `fits_another`, and `Keys`, which keeps what is right for each student of a class, so that a large
class costs a comparison of numbers for each pair of students, not a marking.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, NamedTuple

from coldbench.errors import CannotRead
from coldbench.homework.kinds import Number, Sentence, is_blank
from coldbench.homework.marking import NEARLY

if TYPE_CHECKING:
    from coldbench.grading.course_files import HomeworkFiles
    from coldbench.homework.marking import Mark

FITS_BETTER = 3
"""So many more right answers with another student's numbers are worth a question."""

GOOD = ("right", "nearly")


class _Asked(NamedTuple):
    """A student's keys, made ready for comparing: question with its lowest and highest, or with its value."""

    spans: list[tuple[str, float, float]]
    plain: list[tuple[str, object]]


class Keys:
    """What is right for each student in one homework, worked out when it is first asked for.

    Parameters: ``files`` the homework.
    """

    def __init__(self, files: HomeworkFiles):
        self._questions, self._sheet = files.declaration.questions, files.sheet
        self._keys: dict[str, dict[str, object]] = {}
        self._spans: dict[str, _Asked] = {}

    def of(self, student: str) -> dict[str, object]:
        """Give the right answers of a student; where a key's equations do not hold, there is none.

        Parameters: ``student`` the number.
        Returns: question to value.
        """
        if student not in self._keys:
            keys = self._keys[student] = {}
            for question in self._questions.values():
                if not isinstance(question.kind, Sentence):
                    try:
                        numbers = self._sheet.numbers(student, question.id)
                        keys[question.id] = question.key_function(numbers, keys)
                    except (ValueError, ArithmeticError, KeyError):
                        continue
        return self._keys[student]

    def _asked(self, student: str) -> _Asked:
        """Sort a student's keys into spans of numbers, in the question's own unit, and all others."""
        if student not in self._spans:
            asked = self._spans[student] = _Asked([], [])
            for question, key in self.of(student).items():
                declared = self._questions[question]
                if isinstance(declared.kind, Number):
                    middle = declared.kind.in_unit(key)
                    reach = NEARLY * declared.tolerance.width(middle) + 1e-9
                    asked.spans.append((question, middle - reach, middle + reach))
                else:
                    asked.plain.append((question, key))
        return self._spans[student]

    def fitting(self, answers: dict[str, object]) -> Callable[[str], int]:
        """Read answers once, to be compared with many students' keys.

        Parameters: ``answers`` question to plain value.
        Returns: a function from a student number to how many answers are right or nearly so with it.
        """
        numbers, plain = {}, {}
        for question, raw in answers.items():
            declared = self._questions.get(question)
            if declared is None or is_blank(raw):
                continue
            try:
                value = declared.kind.read(raw).value
            except CannotRead:
                continue
            if isinstance(declared.kind, Number):
                numbers[question] = declared.kind.in_unit(value)
            else:
                plain[question] = value

        def count(student: str) -> int:
            asked = self._asked(student)
            near = sum(q in numbers and low <= numbers[q] <= high for q, low, high in asked.spans)
            return near + sum(q in plain and plain[q] == key for q, key in asked.plain)

        return count


def fits_another(
    mark: Callable,
    fitting: Callable[[dict], Callable[[str], int]],
    student: str,
    others: Iterable[str | None],
    answers: dict,
    marks: list[Mark],
) -> str | None:
    """Find a student whose numbers these answers fit clearly better: a reason to ask, not a verdict.

    Parameters: ``mark`` from student number and answers to the list of marks; ``fitting`` as that of `Keys`:
    at least as many as the marking would find right; ``student`` whose hand-in it is; ``others`` numbers of
    the class, and the one typed in the notebook, or None; ``answers`` question to plain value; ``marks`` as
    marked with the student's own numbers.
    Returns: the other student's number, when at least three more answers are right with it, or None.
    """
    needed = sum(one.outcome in GOOD for one in marks) + FITS_BETTER
    if needed > sum(one.outcome != "not_answered" and one.outcome != "by_hand" for one in marks):
        return None
    count = fitting(answers)
    best = (needed - 1, None)
    for other in sorted({number for number in others if number} - {student}):
        if count(other) > best[0]:
            right = sum(one.outcome in GOOD for one in mark(other, answers))
            best = max(best, (right, other), key=lambda pair: pair[0])
    return best[1]
