"""A small invented homework of every kind, and the two real ones, shared by the tests of homework."""

from pathlib import Path

import pytest
from coldbench.homework import declare
from coldbench.homework.declare import Derived, Homework, OneOf, Steps, Tolerance
from coldbench.homework.drawing import accepted_draws
from coldbench.homework.kinds import Choice, Number, Order, Sentence, Table
from coldbench.homework.sheet import Numbers, Sheet

SOLUTIONS = Path(__file__).parents[2] / "solutions"

SMALL_IDEAS = {
    name: {"sentence": f"The {name}.", "right": f"not the {name}", "why_it_is_tempting": "it is near"}
    for name in ("sum_forgotten", "sign_lost", "upside_down", "all_alike")
}


def declare_small() -> Homework:
    """Declare a homework with a chain of numbers, a choice, an order, a table and a sentence."""
    small = Homework("99", "Small", "course/99-small", "A shop.", "Plug out.")
    watts = small.question(
        "99.1",
        title="Watts",
        points=2,
        kind=Number("power", "W", 1, "12 W"),
        wording="A heater of {heater} and one of {second}. Watts together?",
        read_again="Watts",
        draw=(
            Steps("heater", 100, 300, 1, "W", "{:.0f} W"),
            OneOf("second", (40.0, 60.0), "W", "{:.0f} W"),
            Steps("hidden", 0, 10, 1, "W", hidden=True),
            Derived("plate", 5, "W", "{:.0f} W", lambda drawn: drawn.heater + drawn.hidden),
        ),
        accept=lambda drawn: drawn.heater != 150,
        tolerance=Tolerance("a meter is good to a watt or so", within=2.0, percent=1.0),
        possible=(0.0, 2000.0),
    )
    watts.key(lambda numbers, earlier: numbers.heater + numbers.second)
    watts.wrong("sum_forgotten")(lambda numbers, earlier: numbers.heater)
    watts.wrong("sign_lost")(lambda numbers, earlier: numbers.heater - numbers.second)
    watts.slip("doubled", "You took it twice.")(
        lambda numbers, earlier: 2 * (numbers.heater + numbers.second)
    )
    watts.worked(lambda numbers, earlier: f"{numbers.shown['heater']} and {numbers.shown['second']}.")
    energy = small.question(
        "99.2",
        title="Energy",
        points=3,
        kind=Number("energy", "Wh", 0, "300 Wh"),
        wording="Both for {hours}?",
        read_again="Energy",
        draw=(Steps("hours", 3, 8, 1, "h", "{:.0f} h"),),
        tolerance=Tolerance("rounding", percent=2.0),
        uses=("99.1",),
    )
    energy.key(lambda numbers, earlier: earlier["99.1"] * numbers.hours)
    energy.wrong("upside_down")(lambda numbers, earlier: earlier["99.1"] * 3600**2 / numbers.hours)
    choice = small.question(
        "99.3",
        title="Choice",
        points=1,
        kind=Choice({"A": "more", "B": "less", "C": "the same"}),
        wording="And then?",
        read_again="Energy",
    )
    choice.key(lambda numbers, earlier: "B")
    choice.wrong("all_alike", gives="C")
    order = small.question(
        "99.4",
        title="Order",
        points=2,
        kind=Order({"A": "one", "B": "two", "C": "three", "D": "four"}),
        wording="In order?",
        read_again="Energy",
    )
    order.key(lambda numbers, earlier: tuple("ABCD"))
    order.wrong("upside_down", gives=tuple("DCBA"))
    table = small.question(
        "99.5",
        title="Table",
        points=2,
        kind=Table(
            {"fan": "a fan", "lamp": "a lamp", "coil": "a coil"}, {"A": "on", "B": "off", "C": "pulsed"}
        ),
        wording="Each?",
        read_again="Energy",
    )
    table.key(lambda numbers, earlier: {"fan": "A", "lamp": "A", "coil": "A"})
    table.wrong("upside_down", gives={"fan": "B", "lamp": "B", "coil": "A"})
    table.wrong("all_alike", gives={"fan": "B", "lamp": "B", "coil": "B"})
    small.question(
        "99.6",
        title="Say",
        points=3,
        kind=Sentence(),
        wording="Why?",
        read_again="Energy",
        full_marks="Because.",
    )
    return small


@pytest.fixture
def small() -> Homework:
    """The small homework, fresh."""
    return declare_small()


@pytest.fixture(scope="session")
def small_sheet() -> Sheet:
    """The sheet of the small homework, as a student holds it."""
    declared = declare_small()
    return Sheet(declared.sheet(accepted_draws(declared)))


@pytest.fixture(scope="session")
def small_declared(small_sheet) -> tuple:
    """Declaration, sheet and catalogue of the small homework, for tests that change none of them."""
    return declare_small(), small_sheet, SMALL_IDEAS


@pytest.fixture
def small_ideas() -> dict:
    """Catalogue of the small homework."""
    return SMALL_IDEAS


class Real:
    """A homework of the course with its sheet and the catalogue."""

    def __init__(self, number: str):
        self.homework = declare.load(SOLUTIONS / f"homework-{number}")
        self.draws = accepted_draws(self.homework)
        self.sheet = Sheet(self.homework.sheet(self.draws))
        self.ideas = declare.wrong_ideas(SOLUTIONS)

    def __getitem__(self, question_id: str):
        return self.homework.questions[question_id]

    def numbers(self, question_id: str, **typed: float) -> Numbers:
        """Give the numbers of the first accepted row, some of them replaced [in their units]."""
        item = self.sheet.items[question_id]
        variables = [
            variable for question in self.homework.chains()[item.chain] for variable in question.given()
        ]
        row = self.draws[item.chain][0]
        return Numbers(
            variables,
            [typed.get(variable.name, number) for variable, number in zip(variables, row, strict=True)],
        )

    def answers(self, question_id: str, earlier: dict | None = None, **typed: float) -> tuple[float, dict]:
        """Give the key and what each wrong idea leads to [in the question's unit, first of each idea]."""
        question = self[question_id]
        numbers = self.numbers(question_id, **typed)
        earlier = earlier or {}
        in_unit = question.kind.in_unit
        wrong = {}
        for mistake in question.mistakes:
            wrong.setdefault(mistake.id, in_unit(mistake.function(numbers, earlier)))
        return in_unit(question.key_function(numbers, earlier)), wrong


@pytest.fixture(scope="session")
def real():
    """Give a homework of the course by its number; made once."""
    made: dict[str, Real] = {}
    return lambda number: made.setdefault(number, Real(number)) if number not in made else made[number]
