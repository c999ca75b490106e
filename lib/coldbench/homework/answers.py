"""What a homework notebook calls: ``student("…")`` once, then ``answer("05.3", …)`` for each question.

On the spot the student reads the question with numbers of their own and whether the answer was
understood; never whether it is right.
"""

from __future__ import annotations

import contextlib
import html
import json
import os
from pathlib import Path

from coldbench.errors import CannotRead
from coldbench.homework import sheet as sheets
from coldbench.homework.kinds import LONGEST_SENTENCE, Table, is_blank, shorten, true_minus

ANSWERS_FILE = "COLDBENCH_ANSWERS"


class Shown:
    """A few lines for the notebook, as plain text and as HTML: a text, then what is said to it, in bold.

    Attributes
    ----------
    text : str
        One or more lines
    said : tuple of str
        What the student should not overlook
    """

    def __init__(self, text: str, *said: str):
        self.text, self.said = text, said

    def __repr__(self) -> str:
        return "\n".join([self.text, *self.said])

    def _repr_html_(self) -> str:
        lines = [_as_line(html.escape(one)) for one in self.text.split("\n")]
        body = "".join([*lines, *(f"<div><strong>{html.escape(one)}</strong></div>" for one in self.said)])
        return f'<div role="status" style="max-width:46em;line-height:1.5">{body}</div>'


def _as_line(line: str) -> str:
    """Give a line of escaped text as HTML; an entry of a list stays set in where it runs over."""
    if line.startswith("   "):
        return f'<div style="padding-left:3em;text-indent:-1.5em">{line.lstrip()}</div>'
    return f"<div>{line}</div>"


class Desk:
    """One notebook's state: who is writing, and on which sheet."""

    def __init__(self):
        self.student = ""
        self.sheet: sheets.Sheet | None = None

    def open_sheet(self) -> sheets.Sheet:
        """Read the sheet beside the notebook, once.

        Returns: the `Sheet`.
        Raises: `CannotRead` when there is none.
        """
        if self.sheet is None:
            self.sheet = sheets.load(Path.cwd())
        return self.sheet


desk = Desk()


def student(number: object = ...) -> Shown:
    """Say whose homework this is; the personal numbers follow from it.

    Parameters: ``number`` the student number, as the instructor gave it.
    Returns: a greeting, or what is missing, to be shown in the notebook.
    """
    try:
        sheet = desk.open_sheet()
        if number is ...:
            desk.student = ""
            return Shown(
                'Type your student number in place of the three dots, between quotation marks: student("s07")'
            )
        desk.student = sheets.student_number(number)
    except CannotRead as refusal:
        desk.student = ""
        return Shown(str(refusal))
    hand_on({"student": desk.student})
    return Shown(
        f"Homework {sheet.homework}, {sheet.title}. "
        f"Student {desk.student}: the numbers below are yours alone.",
        "Choose Run, then Run All Cells: each question appears below its answer cell.",
    )


def answer(question: str, value: object = ...) -> Shown:
    """Answer a question; leave ``...`` to read it with your own numbers first.

    Parameters: ``question`` its id, such as ``"05.3"``; ``value`` the answer: text with a unit, a plain
    number, letters, a table or your own sentence.
    Returns: the question with the student's numbers and what was understood, to be shown in the notebook.
    """
    hand_on({"question": question, "answer": plain(value)})
    try:
        sheet = desk.open_sheet()
        item = sheet.items.get(question)
        if item is None:
            known = ", ".join(sheet.items)
            raise CannotRead(
                f"There is no question {shorten(question)} in homework {sheet.homework}. It has {known}."
            )
        if not desk.student:
            raise CannotRead(
                "Run the cell with your student number first; this question needs numbers of your own."
            )
        text = item.text(sheet.numbers(desk.student, question))
    except CannotRead as refusal:
        return Shown(str(refusal))
    return Shown(true_minus(text), *map(true_minus, understanding(item, value)))


def understanding(item: sheets.Item, value: object) -> list[str]:
    """Say whether an answer was understood.

    Parameters: ``item`` the question; ``value`` the answer as typed.
    Returns: lines of text; they never say whether the answer is right.
    """
    if is_blank(value):
        return [f"Not answered yet. Type {item.kind.hint()}."]
    try:
        understood = item.kind.read(plain(value))
    except CannotRead as refusal:
        return [f"Not understood: {refusal}"]
    if isinstance(item.kind, Table) and len(understood.value) < len(item.kind.rows):
        return [f"Understood so far: {understood.shown}. Rows with a dash are not answered yet."]
    note = f" ({understood.note})" if understood.note else ""
    return [f"Understood: {understood.shown}{note}."]


def plain(value: object, depth: int = 4) -> object:
    """Turn an answer into plain values, fit for JSON.

    Parameters: ``value`` the answer as typed: ``...`` becomes None; numpy and pint values, decimals and
    fractions become numbers and text; ``depth`` how far lists may be nested.
    Returns: None, a number, text, a list or a dict of such; anything else as its quoted text. The beginning
    of a text that is longer than any answer.
    """
    if value is ... or value is None:
        return None
    if isinstance(value, str):  # one letter too many is enough to be refused as too long
        return value[: LONGEST_SENTENCE + 1]
    if isinstance(value, (bool, float)) or (isinstance(value, int) and abs(value) < 10**300):
        return value
    if isinstance(value, (list, tuple)) and depth:
        return [plain(part, depth - 1) for part in value]
    if isinstance(value, dict) and depth:
        return {str(word): plain(part, depth - 1) for word, part in value.items()}
    if hasattr(value, "magnitude") and hasattr(value, "units"):
        return f"{value.magnitude!s} {value.units:~}"
    if hasattr(value, "item") and getattr(value, "size", 0) == 1:
        return plain(value.item())
    if hasattr(value, "as_integer_ratio") and not isinstance(value, int):  # a decimal or a fraction
        with contextlib.suppress(ArithmeticError, ValueError):
            return float(value)
    return shorten(value)


def hand_on(line: dict) -> None:
    """Write one line for the marking, when the notebook is being executed for it.

    Parameters: ``line`` plain values; the file is named by the environment variable COLDBENCH_ANSWERS.
    """
    path = os.environ.get(ANSWERS_FILE)
    if path:
        with open(path, "a", encoding="utf-8") as file:
            file.write(json.dumps(line) + "\n")
