"""Lesson 00, Start here: what its cells show, in the order of the lesson.

Pictures: `thermometer` (a first slider) and `personal_numbers`. Guess `guess_air` and `look_back_at_air`.
What typed answers come to: `understood` and `refused`. Practice answers in a cell, as homework has them, but
told at once: `practice` and `practice_letter`. Self-checks: `check_slider`, `check_vacuum`, `check_hand_in`,
`check_safety`.
"""

from __future__ import annotations

from coldbench.errors import CannotRead
from coldbench.homework.answers import Shown
from coldbench.homework.kinds import Choice as Letter
from coldbench.homework.kinds import Number as Typed
from coldbench.homework.kinds import true_minus
from coldbench.homework.sheet import row_of
from coldbench.lesson.ask import Choice, LookBack, Number, Question, check, check_number, guess, look_back
from coldbench.lesson.chart import Axis, Chart
from coldbench.lesson.controls import choice, slider
from coldbench.lesson.explore import Explorer, explore
from coldbench.lesson.picture import Picture, sketch, words
from coldbench.lesson.said_table import SaidTable
from coldbench.lesson.saying import say_temperature, signed
from coldbench.units import STANDARD_ATMOSPHERE, from_si, read, to_si

COLD_ENOUGH = to_si(40.0, "degF")
DISPLAY = to_si(38.0, "degF")

UNDERSTOOD = (
    ("-3 °F", "temperature"),
    ("-3 degF", "temperature"),
    ("2.5 °C", "temperature"),
    ("13.5 inHg vacuum", "pressure"),
    ("0,6 psig", "pressure"),
    ("4.1 kPa abs", "pressure"),
    ("28.7 kΩ", "resistance"),
    ("28700 ohm", "resistance"),
    ("1.234,5 ohm", "resistance"),
)
REFUSED = (
    ("37", "temperature"),
    ("37 degrees", "temperature"),
    ("40 psia", "temperature"),
    ("ten psig", "pressure"),
    ("12 psi", "pressure"),
    ("13.5 inHg", "pressure"),
    ("28,700 ohm", "resistance"),
)


def thermometer(temperature: float) -> Picture:
    """Show one temperature on two scales.

    Parameters: ``temperature`` to be shown [K].
    Returns: a scale in °F with the same place in °C.
    """
    fahrenheit, celsius = from_si(temperature, "degF"), from_si(temperature, "degC")
    twin = f"{signed(fahrenheit, 0)} °F is the same temperature as {signed(celsius)} °C."
    marks = [(mark, signed(mark, 0)) for mark in range(-20, 101, 10)]
    chart = Chart("One temperature, two scales", Axis(-20, 100, "°F", marks), Axis(0, 2, "", []), height=170)
    side = "start" if fahrenheit < 40 else "end"
    text = f"{signed(fahrenheit, 0)} °F = {signed(celsius)} °C"
    chart.rule(across=fahrenheit).marker(fahrenheit, 1, 1, text, side, 5)
    return chart.picture(twin)


def first_slider() -> Explorer:
    """Show a first slider.

    Returns: a slider over a temperature, and two scales.
    """
    control = slider("temperature", "Temperature", -20, 100, 1, 38, "degF")
    return explore(thermometer, control, title="One temperature, two scales")


def guess_air() -> Question:
    """Ask how cold the student's refrigerator is.

    Returns: guess 00-a.
    """
    return guess(
        "00-a",
        "How cold is the air in your refrigerator at home? Guess.",
        kind="temperature",
        hint="A number with its unit, for example: 50 °F, or 10 °C.",
    )


def look_back_at_air() -> LookBack:
    """Show guess 00-a beside what food needs.

    Returns: the guess and the number.
    """
    return look_back(
        "00-a", f"Food keeps safe at {say_temperature(COLD_ENOUGH, 0)} or colder. Measure yours!"
    )


def understood() -> SaidTable:
    """Show answers that are understood, and as what.

    Returns: a table, made by reading each answer.
    """
    rows = [(typed, kind, true_minus(read(typed, kind).shown)) for typed, kind in UNDERSTOOD]
    return SaidTable(("You type", "asked for", "understood as"), rows)


def refused() -> SaidTable:
    """Show answers that are refused, and why.

    Returns: a table, made by reading each answer.
    """
    rows = []
    for typed, kind in REFUSED:
        try:
            reply = read(typed, kind).shown
        except CannotRead as refusal:
            reply = str(refusal)
        rows.append((typed, kind, reply))
    return SaidTable(("You type", "asked for", "reply"), rows)


def check_slider() -> Question:
    """Ask for 5 °C in °F, to be read off the slider.

    Returns: self-check 00-1.
    """
    right = to_si(5.0, "degC")
    return check_number(
        "00-1",
        "Question 1. With the slider above: which temperature in °F is 5 °C?",
        "temperature",
        right=Number(right, "By hand: 1.8 × 5 + 32 = 41."),
        within=to_si(0.4, "delta_degF"),
        wrong=[
            Number(to_si(9.0, "degF"), "That is 1.8 × 5. The 32 is missing: 0 °C is 32 °F."),
            Number(to_si(5.0, "degF"), "5 °F is far colder: −15 °C. Move the slider until it says 5.0 °C."),
        ],
        otherwise="Move the slider until the sentence says 5.0 °C, and read the °F.",
        hint="A number with its unit, for example: 60 °F.",
        not_in=("degC",),
    )


def check_vacuum() -> Question:
    """Ask to type a reading in vacuum.

    Returns: self-check 00-2.
    """
    return check_number(
        "00-2",
        "Question 2. The needle stands at 10 inches of mercury, in vacuum. Type this reading with its unit.",
        "pressure",
        right=Number(
            to_si(10.0, "inHg vacuum"), "The word vacuum says from where it is counted: down from the air."
        ),
        within=to_si(0.05, "psi"),
        wrong=[
            Number(
                to_si(10.0, "inHg abs"),
                "That counts up from perfect vacuum. A needle in vacuum counts down from the air.",
            ),
            Number(to_si(10.0, "psig"), "That is above the air's pressure, and in pounds. Say: inHg vacuum."),
            Number(
                STANDARD_ATMOSPHERE - to_si(10.0, "psi"),
                "Inches of mercury are no pounds: ten of them are only 4.9 psi. Say: inHg vacuum.",
            ),
        ],
        otherwise="Just the reading: ten, inHg, and the word that says in which direction.",
        hint="Try 10, then 10 inHg, and see what is missing.",
    )


def personal_card(student: str) -> Picture:
    """Show the card of an invented student: a question with personal numbers.

    Parameters: ``student`` an invented student number.
    Returns: the card.
    """
    row = row_of(student, "00-practice", 200)
    psig, line = 2 + row % 20 / 2, 10 + row // 20
    question = f"The gauge shows {psig:.1f} psig, the pipe {line} °F."
    twin = f"Student {student} reads: {question} The next time, and on any machine, it is the same again."
    parts = [
        '<rect x="40" y="15" width="560" height="110" rx="8" fill="none" stroke="currentColor" '
        'stroke-width="2"/>',
        words(60, 50, f"Homework of {student}", "start", "bold"),
        words(60, 90, question, "start"),
    ]
    return Picture(sketch("Personal numbers", twin, parts, height=140), twin)


def personal_numbers() -> Explorer:
    """Show that each student has numbers of their own.

    Returns: a choice of three invented students, and their cards.
    """
    students = choice("student", "Student number", ["s07", "s12", "s19"])
    return explore(personal_card, students, title="Personal numbers")


def practice(value: object = ...) -> Shown:
    """Take a practice answer, as homework does, and tell at once whether it is right.

    Parameters: ``value`` the answer, or ``...`` as long as there is none.
    Returns: lines for the notebook.
    """
    kind = Typed("temperature", "degF", 0, "-3 degF")
    question = (
        "Practice 1. The display of the Valve machine shows 38 degrees Fahrenheit. Type that temperature."
    )

    def judge(temperature: float) -> str:
        if abs(temperature - DISPLAY) < to_si(0.4, "delta_degF"):
            return "✓ Right. In homework you would read only that it was understood."
        return "✗ Not yet: that is not what the display shows."

    return _practised(question, kind, value, judge)


def practice_letter(value: object = ...) -> Shown:
    """Take a letter as a practice answer, and tell at once whether it is right.

    Parameters: ``value`` the answer, or ``...`` as long as there is none.
    Returns: lines for the notebook.
    """
    options = {"A": "a guess is marked", "B": "a guess is kept, not marked", "C": "a guess is thrown away"}
    question = "\n".join(
        ["Practice 2. What happens to a guess?"]
        + [f"   {letter}: {text}" for letter, text in options.items()]
    )

    def judge(letter: str) -> str:
        return "✓ Right." if letter == "B" else "✗ Not yet: go back to where you typed one."

    return _practised(question, Letter(options), value, judge)


def check_hand_in() -> Question:
    """Ask what to hand in.

    Returns: self-check 00-3.
    """
    return check(
        "00-3",
        "Question 3. Homework 01 is done. What do you hand in?",
        [
            Choice(
                "The notebook homework-01.ipynb, saved first",
                "One file, with its name unchanged. Your answers are in it only after saving.",
                right=True,
            ),
            Choice(
                "A screenshot of the last page",
                "A picture can't be marked. Hand in the notebook file itself.",
            ),
            Choice(
                "The file sheet.json beside it",
                "That holds the questions, not your answers. It stays where it is.",
            ),
            Choice(
                "The file kept-work.json of the lesson",
                "That keeps the guesses and self-checks of a lesson. It is yours, and nobody marks it.",
            ),
        ],
    )


def check_safety() -> Question:
    """Ask what comes first at an opened machine.

    Returns: self-check 00-4.
    """
    return check(
        "00-4",
        "Question 4. A machine has been opened and its mains plug is out. You are asked to unplug a sensor "
        "from its board. What comes first?",
        [
            Choice(
                "Nothing: without the plug there is no voltage",
                "A capacitor on the board keeps its charge after the plug is out.",
            ),
            Choice(
                "The board's capacitor is checked empty, with a meter, by someone who has been shown how",
                "Plug out, kept out of others' reach, capacitor checked empty: then a hand may go to the "
                "board.",
                right=True,
            ),
            Choice(
                "Bridge the capacitor with a screwdriver",
                "That throws sparks and molten metal, beside a refrigerant that may burn. Ask your "
                "instructor.",
            ),
            Choice(
                "Be quick, and touch only plastic",
                "Charge doesn't wait. Stop, and ask whether the capacitor has been checked empty.",
            ),
        ],
    )


def _practised(question: str, kind, value: object, judge) -> Shown:
    if value is ...:
        return Shown(question, f"Not answered yet. In place of the three dots goes {kind.hint()}.")
    try:
        taken = kind.read(value)
    except CannotRead as refusal:
        return Shown(question, f"Not understood: {refusal}")
    understood = f"Understood: {true_minus(taken.shown)}. {taken.note}".rstrip()
    return Shown(question, understood, judge(taken.value))
