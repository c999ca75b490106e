"""The sheet: the half of a homework that students hold.

It has the wording, the kinds of answers and the table of accepted draws, and lies as ``sheet.json``
beside the notebook. A stable hash of student and chain picks the row of the table, for ever.
"""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass
from pathlib import Path

from coldbench import units
from coldbench.errors import CannotRead
from coldbench.homework import kinds

FILE_NAME = "sheet.json"
LONGEST_STUDENT_NUMBER = 32


@dataclass(frozen=True)
class Variable:
    """One personal number as the student sees it.

    Attributes
    ----------
    name : str
        Its name, in trade words
    unit : str
        Unit of the number in the table
    show : str
        How it reads in the wording, for example ``"{:g} psig"``
    """

    name: str
    unit: str
    show: str


class Numbers:
    """The personal numbers of one chain of questions: SI floats by name, and how they read.

    ``numbers.gauge_pressure`` is in SI units, ``numbers.typed["gauge_pressure"]`` as in the table,
    ``numbers.shown["gauge_pressure"]`` as the student reads it.
    """

    def __init__(self, variables: list[Variable], row: list[float]):
        self.typed = {variable.name: number for variable, number in zip(variables, row, strict=True)}
        self.shown = {
            variable.name: variable.show.format(self.typed[variable.name]) for variable in variables
        }
        for variable in variables:
            setattr(self, variable.name, units.to_si(self.typed[variable.name], variable.unit))


@dataclass(frozen=True)
class Item:
    """One question of the sheet.

    Attributes
    ----------
    id : str
        For example ``"05.3"``
    title : str
        A few words
    points : float
        Full points
    kind : Number, Choice, Order, Table or Sentence
        What is to be answered
    wording : str
        The question, with the names of personal numbers in braces
    read_again : str
        Section of the lesson
    chain : str
        Questions that share one row of personal numbers have the same chain
    """

    id: str
    title: str
    points: float
    kind: object
    wording: str
    read_again: str
    chain: str

    def text(self, numbers: Numbers) -> str:
        """Write the question with the student's own numbers.

        Parameters: ``numbers`` the student's numbers for this chain.
        Returns: the wording, items and options included, as plain lines of text.
        """
        rows, items, options = (getattr(self.kind, part, {}) for part in ("rows", "items", "options"))
        lines = [f"   {letter}: {text}" for letter, text in {**rows, **items}.items()]
        lines += ["The letters stand for:"] if rows else []
        lines += [f"   {letter}: {text}" for letter, text in options.items()]
        return "\n".join([self.wording, *lines]).format(**numbers.shown)


class Sheet:
    """A homework as a student holds it.

    Attributes
    ----------
    homework, title, lesson, edition : str
        Number, title, folder of the lesson, and the version of wording and draws
    items : dict
        Question id to `Item`
    draws : dict
        Chain to ``{"variables": …, "rows": …}``
    """

    def __init__(self, plain: dict):
        self.homework = plain["homework"]
        self.title = plain["title"]
        self.lesson = plain["lesson"]
        self.edition = edition(plain)
        self.items = {
            item["id"]: Item(**{**item, "kind": kinds.from_plain(item["kind"])})
            for item in plain["questions"]
        }
        self.draws = plain["draws"]
        self._variables = {
            chain: [Variable(*triple) for triple in table["variables"]] for chain, table in self.draws.items()
        }
        for item in self.items.values():
            rows = self.draws[item.chain]["rows"]
            item.text(Numbers(self._variables[item.chain], rows[0]))

    def numbers(self, student: str, question: str) -> Numbers:
        """Look up a student's personal numbers.

        Parameters: ``student`` student number, tidied; ``question`` id of the question.
        Returns: the `Numbers` of the chain that the question belongs to, the same on every machine.
        """
        chain = self.items[question].chain
        rows = self.draws[chain]["rows"]
        return Numbers(self._variables[chain], rows[row_of(student, chain, len(rows))])


def row_of(student: str, chain: str, rows: int) -> int:
    """Pick the row of a student by a stable hash.

    Parameters: ``student`` student number; ``chain`` name of the chain; ``rows`` length of the table.
    Returns: a row number from 0 to ``rows - 1``.
    """
    digest = hashlib.sha256(f"{student}|{chain}".encode()).digest()
    return int.from_bytes(digest[:8], "big") % rows


def edition(plain: dict) -> str:
    """Name the version of a sheet.

    Parameters: ``plain`` the sheet as plain values.
    Returns: eight hexadecimal digits that change when anything in the sheet changes.
    """
    return hashlib.sha256(json.dumps(plain, sort_keys=True).encode()).hexdigest()[:8]


def load(folder: Path) -> Sheet:
    """Read the sheet that lies in a folder.

    Parameters: ``folder`` the folder of the homework.
    Returns: the `Sheet`.
    Raises: `CannotRead` when there is none or it is damaged.
    """
    path = Path(folder) / FILE_NAME
    advice = "Put the notebook back into the homework's folder, or copy sheet.json from the bundle beside it."
    if not path.is_file():
        raise CannotRead(
            f"There is no {FILE_NAME} beside this notebook, so it has no questions to show. {advice}"
        )
    try:
        return Sheet(json.loads(path.read_text(encoding="utf-8")))
    except (ValueError, LookupError, TypeError, AttributeError, RecursionError, OSError) as fault:
        raise CannotRead(f"The {FILE_NAME} beside this notebook is damaged. {advice}") from fault


def student_number(raw: object) -> str:
    """Tidy a student number: blanks off, small letters.

    Parameters: ``raw`` what was typed, text or a whole number.
    Returns: the student number as text.
    Raises: `CannotRead` when it is empty, too long, or holds other than letters, digits, dot or hyphen.
    """
    is_number = isinstance(raw, int) and not isinstance(raw, bool) and 0 <= raw < 10**LONGEST_STUDENT_NUMBER
    text = str(raw).strip().lower() if isinstance(raw, str) or is_number else ""
    fine = text.isascii() and text.replace("-", "").replace(".", "").isalnum()
    if not fine or len(text) > LONGEST_STUDENT_NUMBER:
        raise CannotRead(
            f"{kinds.shorten(raw)} is not a student number. Expected letters and digits, as your instructor "
            'gave it to you, for example "s07". Type it between the quotation marks.'
        )
    return text
