"""Declaring a homework: the questions, their draws, keys, tolerances and wrong ideas.

The mechanism only. Each homework declares itself in ``solutions/homework-NN/questions.py``, which no
student receives; `Homework.sheet` gives the half that students hold.
"""

from __future__ import annotations

import csv
import importlib.util
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

from coldbench import units
from coldbench.errors import CannotStart
from coldbench.homework import kinds
from coldbench.homework.sheet import Variable


@dataclass(frozen=True)
class Steps:
    """A personal number that is drawn from evenly spaced values.

    Attributes
    ----------
    name, unit, show : str
        As in `Variable`
    low, high, step : float
        Ends, both included, and distance of the values [in ``unit``]
    hidden : bool
        Whether it only helps to draw (an answer, say) and is not given to the student
    """

    name: str
    low: float
    high: float
    step: float
    unit: str
    show: str = ""
    hidden: bool = False

    def draw(self, random, drawn) -> float:
        """Draw a value.

        Parameters: ``random`` a `random.Random`; ``drawn`` what was drawn before, unused here.
        Returns: a value [in ``unit``].
        """
        count = round((self.high - self.low) / self.step) + 1
        return round(self.low + self.step * int(random.random() * count), 6)


@dataclass(frozen=True)
class OneOf:
    """A personal number that is one of a few listed values.

    Attributes
    ----------
    name, unit, show : str
        As in `Variable`
    values : tuple of float
        What it may be [in ``unit``]
    """

    name: str
    values: tuple[float, ...]
    unit: str
    show: str
    hidden: bool = False

    def draw(self, random, drawn) -> float:
        """Draw a value.

        Parameters: ``random`` a `random.Random`; ``drawn`` what was drawn before, unused here.
        Returns: a value [in ``unit``].
        """
        return self.values[int(random.random() * len(self.values))]


@dataclass(frozen=True)
class Derived:
    """A given number that follows from numbers drawn before it, rounded as a meter would show it.

    Attributes
    ----------
    name, unit, show : str
        As in `Variable`
    step : float
        What it is rounded to [in ``unit``]
    function : Callable
        From the `Drawn` numbers to the value [SI]
    """

    name: str
    step: float
    unit: str
    show: str
    function: Callable
    hidden: bool = False

    def draw(self, random, drawn) -> float:
        """Work out the value.

        Parameters: ``random`` unused here; ``drawn`` what was drawn before it.
        Returns: a value [in ``unit``].
        """
        return round(self.step * round(units.from_si(self.function(drawn), self.unit) / self.step), 6)


@dataclass(frozen=True)
class Tolerance:
    """How far from the key an answer may lie and still be right, and why that far.

    Attributes
    ----------
    because : str
        The reason, as the end of a sentence
    within : float
        Absolute tolerance [in the question's unit]
    percent : float
        Relative tolerance [% of the key]; the larger of the two holds
    """

    because: str
    within: float = 0.0
    percent: float = 0.0

    def width(self, key: float) -> float:
        """Give the tolerance around a key.

        Parameters: ``key`` the right number [in the question's unit].
        Returns: the half width [in the question's unit].
        """
        return max(self.within, self.percent / 100 * abs(key))


@dataclass(frozen=True)
class Mistake:
    """A wrong idea or a slip: what it would answer.

    Attributes
    ----------
    id : str
        Of the catalogue for an idea, a word of its own for a slip
    function : Callable
        From (numbers, earlier) to the answer it leads to, of the same type as the key
    hint : str
        For a slip: one line to the student
    """

    id: str
    function: Callable
    hint: str = ""

    @property
    def is_slip(self) -> bool:
        """Whether it is a slip, with no idea behind it."""
        return bool(self.hint)


@dataclass
class Question:
    """One question, both halves.

    Attributes
    ----------
    id, title, wording, read_again : str
        As in the sheet
    points : float
        Full points
    kind : Number, Choice, Order, Table or Sentence
        What is to be answered
    draw : tuple
        `Steps`, `OneOf` and `Derived`
    tolerance : Tolerance
        For numbers
    uses : tuple
        Earlier questions whose answers are carried on, and whose personal numbers it shares
    shares : tuple
        Earlier questions whose personal numbers it shares, without carrying an answer on
    accept : Callable
        A further condition on the draw: from `Drawn` numbers to bool
    full_marks : str
        For a sentence: what earns its points
    alike : tuple of frozenset
        Pairs of wrong ideas that this question cannot tell apart; "unit" in a pair stands for the right
        number with another unit
    possible : tuple of float
        Ends of what is physically possible [in the question's unit]; only such an answer is carried on
    """

    id: str
    title: str
    points: float
    kind: object
    wording: str
    read_again: str
    draw: tuple = ()
    tolerance: Tolerance | None = None
    uses: tuple[str, ...] = ()
    shares: tuple[str, ...] = ()
    accept: Callable | None = None
    full_marks: str = ""
    alike: tuple[frozenset, ...] = ()
    possible: tuple[float, float] = (float("-inf"), float("inf"))
    mistakes: list[Mistake] = field(default_factory=list)
    key_function: Callable | None = None
    worked_function: Callable | None = None
    chain: str = ""

    def key(self, function: Callable) -> Callable:
        """Declare the key (a decorator).

        Parameters: ``function`` from (numbers, earlier) to the right answer: SI float, letter, letters,
        dict of rows.
        Returns: the function.
        """
        self.key_function = function
        return function

    def worked(self, function: Callable) -> Callable:
        """Declare the worked answer (a decorator).

        Parameters: ``function`` from (numbers, earlier) to a few plain sentences with the numbers in them.
        Returns: the function.
        """
        self.worked_function = function
        return function

    def wrong(self, idea: str, gives: object = None) -> Callable:
        """Declare what a wrong idea would answer (a decorator, or with ``gives`` a plain call).

        Parameters: ``idea`` its id in the catalogue; ``gives`` the answer where it needs no numbers.
        Returns: the decorator.
        """
        if gives is not None:
            self.mistakes.append(Mistake(idea, lambda numbers, earlier: gives))

        def decorate(function: Callable) -> Callable:
            self.mistakes.append(Mistake(idea, function))
            return function

        return decorate

    def slip(self, name: str, hint: str) -> Callable:
        """Declare a slip (a decorator): an error with a known result but no idea behind it.

        Parameters: ``name`` a word for it; ``hint`` one line to the student.
        Returns: the decorator.
        """

        def decorate(function: Callable) -> Callable:
            self.mistakes.append(Mistake(name, function, hint))
            return function

        return decorate

    def given(self) -> list[Variable]:
        """List the personal numbers that the student sees.

        Returns: the `Variable` of each.
        """
        return [Variable(part.name, part.unit, part.show) for part in self.draw if not part.hidden]


@dataclass
class Homework:
    """A homework: its questions in order.

    Attributes
    ----------
    number, title, lesson, story : str
        For example "05", its title, the folder of its lesson, the invented scene as a paragraph
    cautions : str
        What can hurt someone in this work, as a paragraph
    """

    number: str
    title: str
    lesson: str
    story: str
    cautions: str
    questions: dict[str, Question] = field(default_factory=dict)

    @property
    def name(self) -> str:
        """Name of its folder and notebook, for example ``"homework-05"``."""
        return f"homework-{self.number}"

    def question(self, question_id: str, **parts) -> Question:
        """Declare a question; one that uses or shares an earlier one has the same row of personal numbers.

        Parameters: ``question_id`` such as "05.3"; ``parts`` the attributes of `Question`.
        Returns: the `Question`, to which key and wrong ideas are then added.
        """
        question = Question(question_id, **parts)
        question.chain = question_id
        for used in (*question.uses, *question.shares):
            self._join(self.questions[used].chain, question)
        self.questions[question_id] = question
        return question

    def _join(self, chain: str, question: Question) -> None:
        for other in (*self.questions.values(), question):
            if other.chain == question.chain:
                other.chain = chain

    def chains(self) -> dict[str, list[Question]]:
        """Group the questions that share personal numbers.

        Returns: chain to its questions, in order.
        """
        grouped: dict[str, list[Question]] = {}
        for question in self.questions.values():
            grouped.setdefault(question.chain, []).append(question)
        return grouped

    def sheet(self, draws: dict[str, list[list[float]]]) -> dict:
        """Write the half that students hold.

        Parameters: ``draws`` chain to accepted rows, from `coldbench.homework.drawing`.
        Returns: plain values for ``sheet.json``; no key, tolerance, wrong idea or worked answer is in it.
        """
        words = ("id", "title", "points", "wording", "read_again", "chain")
        return {
            "homework": self.number,
            "title": self.title,
            "lesson": self.lesson,
            "questions": [
                {word: getattr(question, word) for word in words} | {"kind": kinds.to_plain(question.kind)}
                for question in self.questions.values()
            ],
            "draws": {
                chain: {
                    "variables": [
                        [part.name, part.unit, part.show]
                        for question in questions
                        for part in question.given()
                    ],
                    "rows": draws[chain],
                }
                for chain, questions in self.chains().items()
            },
        }


def load(folder: Path) -> Homework:
    """Load the declaration of a homework.

    Parameters: ``folder`` such as ``solutions/homework-05``.
    Returns: the `Homework` that its ``questions.py`` calls ``homework``.
    Raises: `CannotStart` when there is none.
    """
    path = Path(folder) / "questions.py"
    if not path.is_file():
        raise CannotStart(
            f"There is no {path}. Marking needs the instructor's solutions folder: run it from the clone."
        )
    name = f"coldbench_solutions_{path.parent.name.replace('-', '_')}"
    spec = importlib.util.spec_from_file_location(name, path)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module.homework


def wrong_ideas(solutions: Path) -> dict[str, dict[str, str]]:
    """Read the catalogue of wrong ideas.

    Parameters: ``solutions`` the instructor's solutions folder.
    Returns: idea id to its row: sentence, right, why_it_is_tempting, read_again, show_at_the_bench, safety.
    Raises: `CannotStart` when there is none.
    """
    path = Path(solutions) / "wrong_ideas.csv"
    if not path.is_file():
        raise CannotStart(
            f"There is no {path}. Marking needs the instructor's solutions folder: run it from the clone."
        )
    with path.open(encoding="utf-8", newline="") as file:
        return {row["id"]: row for row in csv.DictReader(file)}
