"""An invented class with invented marks, for pages and statistics: 24 students, two homeworks."""

from __future__ import annotations

import random
from dataclasses import replace

from coldbench.grading.results import ClassResults, HandIn
from coldbench.homework.declare import Homework, Tolerance
from coldbench.homework.kinds import Number, Sentence
from coldbench.homework.marking import Mark

IDEAS = {
    "gauge_as_absolute": {
        "sentence": "The number on the gauge is the whole pressure.",
        "right": "add the air's own pressure to the gauge's number before you use a table",
        "why_it_is_tempting": "the dial starts at 0",
        "read_again": "Where zero is: gauge, absolute, vacuum",
        "show_at_the_bench": "Open a gauge to the room: it reads 0 while a phone's barometer shows the air "
        "pressure. Add the two.",
        "safety": "",
    },
    "vacuum_as_pressure_above": {
        "sentence": "Inches of vacuum are so many units above the room's pressure.",
        "right": "take the vacuum away from the air's pressure",
        "why_it_is_tempting": "a bigger number looks like more pressure",
        "read_again": "Where zero is: gauge, absolute, vacuum",
        "show_at_the_bench": "Pull a syringe with a blocked tip on a compound gauge: the needle goes "
        "below zero while the figure grows.",
        "safety": "R-600a and R-290: gauges only by a licensed person, ventilated, no ignition source.",
    },
    "log10_for_ln": {
        "sentence": "The log key is the log of the formula.",
        "right": "the formula needs the natural logarithm, the ln key",
        "why_it_is_tempting": "the key says log",
        "read_again": "Which log?",
        "show_at_the_bench": "Work one sensor both ways and put it into the ice bath.",
        "safety": "",
    },
    "ohms_rise_with_temperature": {
        "sentence": "A warmer sensor has more ohms.",
        "right": "these sensors lose ohms as they warm up",
        "why_it_is_tempting": "copper does it that way",
        "read_again": "Negative temperature coefficient",
        "show_at_the_bench": "Hold a sensor in your hand and watch the meter fall.",
        "safety": "Plug out before you measure ohms.",
    },
}

NAMES = """
Ada Birch, Ben Cove, Cleo Dune, Dov Elm, Edda Ford, Finn Gale, Gita Holm, Hugo Ives,
Ines Jay, Jori Kemp, Kaja Lund, Levi Moss, Mina Nash, Nils Oaks, Olga Pike, Pavo Quill,
Rosa Reed, Sami Stone, Tara Thorn, Ugo Vale, Vera Wick, Wim Yarrow, Yara Zell, Zeno Ash
"""
ROSTER = {f"s{place:02d}": name.strip() for place, name in enumerate(NAMES.split(","), start=1)}

QUESTIONS = {
    "01": {
        "01.1": ("Reading an R-134a gauge", 2, "gauge_as_absolute"),
        "01.2": ("Reading a vacuum", 2, "vacuum_as_pressure_above"),
        "01.3": ("The same gauge in the mountains", 2, "gauge_as_absolute"),
        "01.4": ("Superheat", 3, ""),
        "01.5": ("Subcooling", 2, ""),
        "01.6": ("Lowest pressure first", 2, "vacuum_as_pressure_above"),
        "01.8": ("Air in, gas out", 3, "by hand"),
        "01.9": ("Thirteen inches of vacuum", 2, "vacuum_as_pressure_above"),
    },
    "05": {
        "05.1": ("From ohms to the box temperature", 2, "log10_for_ln"),
        "05.2": ("Ohms of a good sensor", 2, "ohms_rise_with_temperature"),
        "05.3": ("Reading between two rows", 2, ""),
        "05.4": ("Volts at the pin", 3, ""),
        "05.5": ("Ohms tolerance as degrees", 2, ""),
        "05.6": ("Open, short, wet, loose", 2, "ohms_rise_with_temperature"),
        "05.8": ("Why a bath", 3, "by hand"),
        "05.9": ("A wet connector", 2, ""),
    },
}
LESSONS = {
    "01": ("Pressure tells temperature", "01-pressure-tells-temperature"),
    "05": ("Resistance tells temperature", "05-resistance-tells-temperature"),
}
WORKED = "Your gauge shows 8 psig.\nAdd the air: 8 + 14.7 = 22.7 psi absolute.\nThe table gives 3.0 °F there."
SENTENCE = "Because the low side is below the room's pressure, so air goes in and not gas out."


def homework(number: str) -> Homework:
    title, lesson = LESSONS[number]
    declared = Homework(
        number, title, lesson, "A two-bay shop.", "On R-600a gauges are for a licensed person, in moving air."
    )
    for question, (words, points, about) in QUESTIONS[number].items():
        kind = Sentence() if about == "by hand" else Number("temperature", "degF", 1, "20 degF")
        declared.question(
            question,
            title=words,
            points=float(points),
            kind=kind,
            wording="…",
            read_again="Where zero is: gauge, absolute, vacuum",
            tolerance=Tolerance("half a psi on the dial", within=1.0),
            full_marks="the right fact, the right reason, said so that a customer understands",
        )
    return declared


def mark(question: str, outcome: str, share: float = 0.0, ideas: tuple = (), **parts) -> Mark:
    """One invented mark whose comment is put together as marking does it."""
    number = question[:2]
    _, out_of, about = QUESTIONS[number][question]
    by_hand = about == "by hand"
    expected = "" if by_hand else "3.0 °F"
    expects = "Expected: 3.0 °F, give or take 1 °F (half a psi on the dial)."
    comments = {
        "right": f"Right. {expects}",
        "follow_through": f"Right from your own earlier answer, so full points. {expects}",
        "nearly": f"Just outside: half the points. {expects}",
        "slip": f"{expects} The number is right if its unit is °C, but you wrote °F.",
        "wrong": f"{expects} Compare your steps with the worked answer.",
        "not_answered": f"Not answered. Expected: {expected}." if expected else "Not answered.",
        "not_understood": "Not understood: “8 psi” may be gauge or absolute. Write psig or psia.",
        "by_hand": "Your instructor reads this one and gives its points.",
    }
    if len(ideas) == 1:
        row = IDEAS[ideas[0]]
        comments["wrong_idea"] = (
            f"{expects} Your answer follows from the idea “{row['sentence']}” "
            f"It tempts, because: {row['why_it_is_tempting']}. What holds instead: {row['right']}."
        )
    elif ideas:
        comments["wrong_idea"] = (
            f"{expects} Your answer follows from one of these ideas, which this question cannot tell apart: "
            + " or ".join(f"“{IDEAS[idea]['sentence']}”" for idea in ideas)
            + "."
        )
    made = Mark(
        question=question,
        points=round(share * out_of, 2),
        out_of=float(out_of),
        outcome=outcome,
        wrong_ideas=ideas,
        answered="" if outcome == "not_answered" else SENTENCE if by_hand else "−37.4 °F",
        expected=expected,
        comment=comments[outcome],
        read_again=f"{LESSONS[number][1]}: Where zero is: gauge, absolute, vacuum",
        worked="" if by_hand else WORKED,
        waiting=outcome == "by_hand",
    )
    return replace(made, **parts)


def hand_in(student: str, number: str, skill: float = 0.7, seed: int = 0, **parts) -> HandIn:
    """One invented hand-in: the more skill, the more right answers."""
    chance = random.Random(f"{student} {number} {seed}")  # noqa: S311  invented marks
    marks = []
    for question, (_, _, about) in QUESTIONS[number].items():
        luck = chance.random()
        if about == "by hand":
            marks.append(mark(question, "by_hand"))
        elif luck < skill:
            marks.append(mark(question, "right", 1.0))
        elif about and luck < skill + 0.7 * (1 - skill):
            ideas = (about,)
            if chance.random() < 0.15:
                ideas = ("gauge_as_absolute", "vacuum_as_pressure_above")
            marks.append(mark(question, "wrong_idea", 0.25, ideas))
        else:
            outcome, share = chance.choice(
                [("wrong", 0), ("not_answered", 0), ("nearly", 0.5), ("slip", 0.5), ("not_understood", 0)]
            )
            marks.append(mark(question, outcome, share))
    return HandIn(student, ROSTER[student], number, marks, **parts)


def invented_class() -> ClassResults:
    """Two homeworks, 24 students, a few of them missing, late, troubled or slipping."""
    chance = random.Random(5)  # noqa: S311  invented marks
    skills = {student: min(0.97, max(0.15, chance.gauss(0.66, 0.2))) for student in ROSTER}
    troubles = {
        (
            "s04",
            "05",
        ): "The cell of question 05.4 ran longer than 20 s and was stopped; answers before and "
        "after it were kept. Ask the student to look for a loop that never ends.",
        ("s11", "01"): "The file was called “Untitled3.ipynb”; it holds homework 01 and was marked as such.",
        (
            "s19",
            "05",
        ): "The cell of question 05.2 was deleted, so question 05.2 is not answered. Give the "
        "student a fresh copy of the notebook.",
    }
    made = []
    for number in ("01", "05"):
        for student, skill in skills.items():
            if (student, number) in {("s09", "05"), ("s16", "01"), ("s22", "05")}:
                continue
            if (student, number) in {("s07", "05"), ("s13", "05")}:
                skill = 0.2
            made.append(
                hand_in(
                    student,
                    number,
                    skill,
                    troubles=[troubles[student, number]] if (student, number) in troubles else [],
                    late=(student, number) == ("s20", "05"),
                    edition_ok=(student, number) != ("s02", "01"),
                    fits_student="s05" if (student, number) == ("s18", "05") else None,
                )
            )
    class_troubles = ["“old.zip” could not be opened. Ask who sent it, and for a new copy."]
    return ClassResults([homework("01"), homework("05")], made, ROSTER, class_troubles)
