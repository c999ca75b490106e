"""Answers of invented students to homework 01, 04, 05 and 08, each with what was behind it.

Inside: `answer_right`, `answer_with_idea`, `ideas_for`, `as_value`, and `study_answer` by stratum: a
catalogued idea exactly, rounded, two at once; a slip of unit; a way of going wrong that no catalogue lists;
a bad copy. How the students think is in `invented_thinking.py` and `invented_machines.py` (homework 01 and
05), `invented_circuit.py` (04) and `invented_boxes.py` (08). ``typed`` and ``earlier`` are numbers as a
student reads and types them: in the units of the sheet's variables, and in the unit in which the earlier
question is asked.
"""

from __future__ import annotations

import itertools
import sys
from importlib import import_module
from pathlib import Path
from random import Random

sys.path.append(str(Path(__file__).parent))
thinking = import_module("invented_thinking")
for continued in map(import_module, ("invented_machines", "invented_circuit", "invented_boxes")):
    for part in ("WAYS", "CATALOGUED", "OUTSIDE", "TWO_WAYS", "DECIMALS"):
        getattr(thinking, part).update(getattr(continued, part, {}))
sentence = import_module("invented_sentences").sentence

STRATA = ("exact idea", "rounded idea", "unit slip", "two ideas", "outside the catalogue", "random slip")
TABLES = {  # with the letters they offer
    "01.7": "ABCDEFGH",
    "04.7": "ABCDEFGHIJKLM",
    "05.6": "ABCDEF",
    "05.7": "ABCDEFGHIJKL",
    "08.1": "ABCDE",
    "08.2": "ABCDE",
    "08.7": "ABCD",
    "08.8": "ABCDEFGHIJ",
}
ORDERS = ("01.6", "04.6")
CHOICES = {"08.3": "ABCD"}
DIFFERENCES = ("01.4", "01.5", "05.5", "08.4")
DEGREE_IS_A_DEGREE = "fahrenheit_degrees_as_kelvin"


def answer_right(question: str, shown: dict[str, str], typed: dict, earlier: dict) -> str:
    """Answer as one who knows it, from the numbers as shown (rounded, where the wording rounds them)."""
    seen = {name: float(text.split()[0].replace(",", "")) for name, text in shown.items()}
    if question not in thinking.WAYS:
        return sentence(question, 0, ("good",))[0]
    return thinking.written(question, thinking.worked(question, {**typed, **seen}, earlier))


def as_value(question: str, text: str) -> str | dict[str, str]:
    """Turn the text of an answer into what stands in its cell: a dict for a table."""
    return dict(pair.split(": ") for pair in text.split(", ")) if question in TABLES else text


def ideas_for(question: str) -> list[str]:
    """List the catalogue's ideas that change what one would answer to a question."""
    return list(thinking.CATALOGUED[question])


def answer_with_idea(question: str, idea: str, typed: dict, earlier: dict) -> str | None:
    """Answer as one who holds an idea; None where it gives nothing or changes nothing."""
    return _different(question, {idea}, typed, earlier) if idea in ideas_for(question) else None


def _different(question: str, ideas: set[str], typed: dict, earlier: dict, figures: int = 0) -> str | None:
    """The answer with these ideas; None where it reads like the right one."""
    text = thinking.written(question, thinking.worked(question, typed, earlier, ideas))
    right = thinking.written(question, thinking.worked(question, typed, earlier))
    if text is None or text == right:
        return None
    return thinking.written(question, thinking.worked(question, typed, earlier, ideas), figures)


def study_answer(stratum: str, question: str, typed: dict, earlier: dict, random: Random):
    """Answer for a study: one of `STRATA`.

    Parameters: ``stratum`` its name; ``question`` id; ``typed``, ``earlier`` numbers as above; ``random``
    a seeded generator.
    Returns: (text, idea), two ideas joined by "+", idea None where no catalogued idea is behind it; or
    None where the stratum gives nothing for this question.
    """
    if question not in thinking.WAYS:
        return None
    return STUDY[stratum](question, typed, earlier, random)


def _ways(question):
    """Each catalogued idea with its way of going wrong, or its two ways."""
    for idea in ideas_for(question):
        yield idea, idea
        if (question, idea) in thinking.TWO_WAYS:
            yield idea, idea + thinking.OTHER_WAY


def _one_idea(question, typed, earlier, random, figures=0):
    texts = [(_different(question, {way}, typed, earlier, figures), idea) for idea, way in _ways(question)]
    found = [(text, idea) for text, idea in texts if text]
    return random.choice(found) if found else None


def _rounded_idea(question, typed, earlier, random):
    numbers = not isinstance(thinking.worked(question, typed, earlier), str)
    return _one_idea(question, typed, earlier, random, random.choice((2, 3))) if numbers else None


def _two_ideas(question, typed, earlier, random):
    alone = {idea: answer_with_idea(question, idea, typed, earlier) for idea in ideas_for(question)}
    found = []
    for pair in itertools.combinations([idea for idea in alone if alone[idea]], 2):
        text = _different(question, set(pair), typed, earlier)
        found += [(text, "+".join(pair))] if text and text not in alone.values() else []
    return random.choice(found) if found else None


def _outside(question, typed, earlier, random):
    catalogued = [_different(question, {way}, typed, earlier) for _, way in _ways(question)]
    texts = [_different(question, {phrase}, typed, earlier) for phrase in thinking.OUTSIDE[question]]
    found = [text for text in texts if text and text not in catalogued]
    return (random.choice(found), None) if found else None


def _unit_slip(question, typed, earlier, random):
    """The right number under a wrong unit; °F and K mixed up in a difference is the idea itself."""
    result = thinking.worked(question, typed, earlier)
    if isinstance(result, str):
        return None
    number, unit = result
    if not unit:
        return None
    if question in DIFFERENCES:
        other = {"K": (number * 1.8, "degF"), "degF": (number / 1.8, "K")}[unit]
        slip = random.choice([(number, other[1]), (other[0], unit)])
        return thinking.written(question, slip), DEGREE_IS_A_DEGREE
    celsius = (number - 32) / 1.8
    slip = random.choice(
        {
            "degF": [(celsius, "degF"), (number, "degC"), (celsius + 273.15, "degF")],
            "inHg vacuum": [(number / thinking.INCHES, "inHg vacuum"), (number, "kPa")],
            "kohm": [(number * 1000, "kohm"), (number, "ohm")],
            "V": [(number * 1000, "V"), (number, "mV")],
            "kJ/kg": [(number, "J/kg"), (number, "Btu/lb"), (number * 1000, "kJ/kg")],
            "g/s": [(number, "kg/s"), (number * 60, "g/s"), (number * 1000, "g/s")],
            "W": [(number, "kW"), (number / 1000, "W"), (number * 3.412, "W")],
        }[unit]
    )
    return thinking.written(question, slip), None


def _random_slip(question, typed, earlier, random):
    """The right answer, badly copied: digits or letters swapped, one lost, a factor of ten, the sign."""
    right = thinking.written(question, thinking.worked(question, typed, earlier))
    if question in TABLES:
        row = random.choice(right.split(", "))
        letters = [letter for letter in TABLES[question] if letter != row[-1]]
        return right.replace(row, row[:-1] + random.choice(letters)), None
    if question in CHOICES:
        return random.choice(CHOICES[question].replace(right, "")), None
    figure, _, unit = right.partition(" ")
    signs = list(right.replace(" ", "")) if question in ORDERS else list(figure)
    digits = [place for place, sign in enumerate(signs) if sign.isdigit()]
    places = [
        place
        for place in range(len(signs) - 1)
        if signs[place].isalnum() and signs[place + 1].isalnum() and signs[place] != signs[place + 1]
    ]
    kinds = ["swap"] * bool(places) + ["drop"] * (len(digits) > 2) + ["ten"] * bool(digits)
    kind = random.choice(kinds + ["sign"] * (unit in ("degF", "K")))
    if kind == "swap":
        place = random.choice(places)
        signs[place : place + 2] = reversed(signs[place : place + 2])
    if question in ORDERS:
        return " ".join(signs), None
    if kind == "drop":
        del signs[random.choice(digits[:-1])]
    if kind == "ten":
        signs = list(f"{float(figure) * random.choice((10, 0.1)):.4g}")
    if kind == "sign":
        signs = signs[1:] if signs[0] == "-" else ["-", *signs]
    return f"{''.join(signs)} {unit}".rstrip(), None


STUDY = dict(
    zip(STRATA, (_one_idea, _rounded_idea, _unit_slip, _two_ideas, _outside, _random_slip), strict=True)
)
