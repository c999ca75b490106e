"""Kinds of answers: a number with its unit, a choice, an order, a table, a sentence.

Each kind reads what a person typed (or refuses it in a sentence) and shows a value in the words of
the question. It knows nothing about what is right: students hold this module.
"""

from __future__ import annotations

import re
from dataclasses import asdict, dataclass, field

from coldbench import units
from coldbench.errors import CannotRead

LONGEST_SENTENCE = 4000


@dataclass(frozen=True)
class Understood:
    """What was understood of an answer: its value, and how it reads.

    Attributes
    ----------
    value : float, str, tuple or dict
        SI number, letter, letters in order, or letter per row; text for a sentence
    shown : str
        The value in words of the question
    unit : str
        For a number: the unit it was typed in
    note : str
        What had to be assumed, as a sentence; empty when nothing was
    """

    value: object
    shown: str
    unit: str = ""
    note: str = ""


@dataclass(frozen=True)
class Number:
    """A number with its unit.

    Attributes
    ----------
    quantity : str
        Kind of quantity as `coldbench.units.read` names it, for example ``"temperature"``
    unit : str
        Unit in which the question is asked and marked
    decimals : int
        Decimals shown
    example : str
        An answer as one might type it, of another machine
    atmosphere : float
        Pressure of the surrounding air [Pa], for gauge and vacuum readings
    """

    quantity: str
    unit: str
    decimals: int
    example: str
    atmosphere: float = 101325.0
    name: str = field(default="number", init=False)

    def read(self, raw: object) -> Understood:
        """Read a typed number.

        Parameters: ``raw`` text with a unit, or a plain number (taken in the question's unit, not for
        pressures) [any unit].
        Returns: Understood; its value is in SI units.
        Raises: `CannotRead`: what was read and what was expected, as a sentence.
        """
        bare_unit = None if self.quantity == "pressure" else self.unit
        reading = units.read(raw, self.quantity, atmosphere=self.atmosphere, bare_unit=bare_unit)
        return Understood(reading.value, reading.shown, reading.unit, reading.note)

    def in_unit(self, value: float, unit: str = "") -> float:
        """Turn an SI value into the question's unit, or another one.

        Parameters: ``value`` the value [SI unit of the quantity]; ``unit`` unit wanted; empty for the
        question's own.
        Returns: float; the value [in the unit wanted].
        """
        return units.from_si(value, unit or self.unit, self.atmosphere)

    def show(self, value: float) -> str:
        """Show an SI value in the question's unit.

        Parameters: ``value`` the value [SI unit of the quantity].
        Returns: str; number and unit, for example ``"37.4 °F"``.
        """
        number = round(self.in_unit(value), self.decimals) + 0.0  # + 0.0 makes -0.0 a plain zero
        unit = self.unit
        if unit == "inHg vacuum" and number < 0:  # above the atmosphere a gauge counts in psig
            number, unit = round(self.in_unit(value, "psig"), self.decimals), "psig"
        return f"{number:.{max(self.decimals, 0)}f} {units.UNITS[unit].shown}".rstrip()

    def hint(self) -> str:
        """Say what to type.

        Returns: str; words for the comment above the answer.
        """
        unit = "" if self.quantity == "number" else " with its unit"
        return f'{units.KINDS[self.quantity].noun}{unit}, for example "{self.example}"'


_MINUS = re.compile(r"(?<![\w.,:;/)\]\"'“”‘’`+-])-(?=\d)")


def true_minus(text: str) -> str:
    """Give numbers in a text of the course their true minus sign, as the lessons have it.

    Parameters: ``text`` words of the course; what a student typed is shown as it was typed.
    Returns: for example "at −5.2 °F"; dates, refrigerants and what stands in quotation marks stay so.
    """
    return _MINUS.sub("−", text)


def letters_of(raw: object, allowed: str, expected: str) -> str:
    """Read letters out of "B, A, C", "b a c", ["B", "A", "C"] or "B < A < C".

    Parameters: ``raw`` what was typed; ``allowed`` letters that may occur; ``expected`` what the question
    wants, as the end of a sentence.
    Returns: str; capital letters.
    Raises: `CannotRead`: something else than letters was typed, or a letter that is not offered.
    """
    parts = list(raw) if isinstance(raw, (list, tuple)) else [raw]
    if not all(isinstance(part, str) for part in parts) or sum(len(part) for part in parts) > 200:
        raise CannotRead(f"You typed {shorten(raw)}, which is not made of letters. Expected {expected}.")
    letters = re.sub(r"[\s,;<>.()→-]+", "", "".join(parts)).upper()
    strange = sorted(set(letters) - set(allowed))
    if strange or not letters:
        found = f"the letter {strange[0]} is not offered" if strange else "it holds no letter"
        raise CannotRead(f"You typed {shorten(raw)}: {found}. Expected {expected}.")
    return letters


def shorten(raw: object) -> str:
    """Quote what was typed, at most 60 characters of it.

    Parameters: ``raw`` what was typed.
    Returns: str; a quotation fit for a sentence.
    """
    try:
        text = raw if isinstance(raw, str) else repr(raw)
    except (ValueError, RecursionError):  # a number of thousands of digits, lists thousands deep
        text = "something too large to show"
    text = text if len(text) <= 58 else text[:57] + "…"
    return f'"{text}"' if isinstance(raw, str) else text


def is_blank(raw: object) -> bool:
    """Whether a question was left unanswered: three dots, nothing, or a table without an entry.

    Parameters: ``raw`` the answer, as typed or as a plain value.
    Returns: bool.
    """
    cells = list(raw.values()) if isinstance(raw, dict) and raw else [raw]
    return all(
        cell is None or cell is ... or (isinstance(cell, str) and cell.strip() in ("", "...", "…"))
        for cell in cells
    )


@dataclass(frozen=True)
class Choice:
    """One of a few lettered options.

    Attributes
    ----------
    options : dict
        Letter to text
    """

    options: dict[str, str]
    name: str = field(default="choice", init=False)

    def read(self, raw: object) -> Understood:
        """Read one letter.

        Parameters: ``raw`` a letter.
        Returns: Understood; its value is a capital letter.
        Raises: `CannotRead`: not exactly one of the letters offered.
        """
        letters = letters_of(raw, "".join(self.options), self.hint())
        if len(letters) != 1:
            raise CannotRead(
                f"You typed {shorten(raw)}, which is {len(letters)} letters. Expected {self.hint()}."
            )
        return Understood(letters, self.show(letters))

    def show(self, value: str) -> str:
        """Show a letter with its text.

        Parameters: ``value`` the letter.
        Returns: str; letter and text.
        """
        return f"{value} ({self.options[value]})"

    def hint(self) -> str:
        """Say what to type.

        Returns: str; words for the comment above the answer.
        """
        return f'one letter out of {", ".join(self.options)}, for example "{next(iter(self.options))}"'


@dataclass(frozen=True)
class Order:
    """Lettered items to be put in order.

    Attributes
    ----------
    items : dict
        Letter to text; the text may name personal numbers
    """

    items: dict[str, str]
    name: str = field(default="order", init=False)

    def read(self, raw: object) -> Understood:
        """Read letters in order.

        Parameters: ``raw`` letters as text or as a list.
        Returns: Understood; its value is a tuple of capital letters.
        Raises: `CannotRead`: a letter is missing, strange or there twice.
        """
        letters = letters_of(raw, "".join(self.items), self.hint())
        if sorted(letters) != sorted(self.items):
            twice = any(letters.count(letter) > 1 for letter in letters)
            fault = "a letter is there twice" if twice else "a letter is missing"
            raise CannotRead(f"You typed {shorten(raw)}: {fault}. Expected {self.hint()}.")
        return Understood(tuple(letters), self.show(tuple(letters)))

    def show(self, value: tuple[str, ...]) -> str:
        """Show an order.

        Parameters: ``value`` letters.
        Returns: str; the letters with blanks between.
        """
        return " ".join(value)

    def hint(self) -> str:
        """Say what to type.

        Returns: str; words for the comment above the answer.
        """
        return f'each letter {", ".join(self.items)} once, in order, for example "{" ".join(self.items)}"'


@dataclass(frozen=True)
class Table:
    """A letter for each row.

    Attributes
    ----------
    rows : dict
        Word typed for the row to its text
    options : dict
        Letter to text
    """

    rows: dict[str, str]
    options: dict[str, str]
    name: str = field(default="table", init=False)

    def read(self, raw: object) -> Understood:
        """Read a letter per row; rows left as ``...`` or None stay out.

        Parameters: ``raw`` row to letter.
        Returns: Understood; its value is a dict of the rows that were answered.
        Raises: `CannotRead`: not a table, a strange row, or a letter that is not offered.
        """
        if not isinstance(raw, dict):
            raise CannotRead(f"You typed {shorten(raw)}, which is not a table. Expected {self.hint()}.")
        strange = [row for row in raw if row not in self.rows]
        if strange:
            raise CannotRead(
                f"The table has a row {shorten(strange[0])} that was not asked for. Expected {self.hint()}."
            )
        value = {}
        for row, cell in raw.items():
            if is_blank(cell):
                continue
            letters = letters_of(cell, "".join(self.options), f"one letter in row {row}")
            if len(letters) != 1:
                raise CannotRead(
                    f"Row {row} holds {shorten(cell)}. Expected one letter out of {', '.join(self.options)}."
                )
            value[row] = letters
        return Understood(value, self.show(value))

    def show(self, value: dict[str, str]) -> str:
        """Show a table in one line.

        Parameters: ``value`` row to letter.
        Returns: str; rows with their letters.
        """
        return ", ".join(f"{row}: {value[row]}" if row in value else f"{row}: –" for row in self.rows)

    def hint(self) -> str:
        """Say what to type.

        Returns: str; words for the comment above the answer.
        """
        return f"a letter out of {', '.join(self.options)} in place of every three dots"


@dataclass(frozen=True)
class Sentence:
    """One or more sentences in the student's own words, marked by hand."""

    name: str = field(default="sentence", init=False)

    def read(self, raw: object) -> Understood:
        """Take a sentence as it is.

        Parameters: ``raw`` the text.
        Returns: Understood; its value is the text, blanks at the ends left out.
        Raises: `CannotRead`: not text, or longer than 4,000 characters.
        """
        if not isinstance(raw, str) or len(raw) > LONGEST_SENTENCE:
            raise CannotRead(f"You typed {shorten(raw)}. Expected {self.hint()}.")
        text = raw.strip()
        words = len(text.split())
        return Understood(text, f"{words} word{'' if words == 1 else 's'} for your instructor to read")

    def show(self, value: str) -> str:
        """Show the sentence itself.

        Parameters: ``value`` the sentence.
        Returns: str; the sentence.
        """
        return value

    def hint(self) -> str:
        """Say what to type.

        Returns: str; words for the comment above the answer.
        """
        return f"your own words between the quotation marks, at most {LONGEST_SENTENCE} characters"


KINDS = {
    kind.name: kind for kind in (Number("", "", 0, ""), Choice({}), Order({}), Table({}, {}), Sentence())
}


def to_plain(kind) -> dict:
    """Write a kind as plain values for the sheet that students hold.

    Parameters: ``kind`` the kind.
    Returns: dict; plain values, with the kind's name.
    """
    return asdict(kind)


def from_plain(plain: dict):
    """Make a kind from the plain values of a sheet.

    Parameters: ``plain`` what `to_plain` wrote.
    Returns: Number, Choice, Order, Table or Sentence; the kind.
    """
    return type(KINDS[plain["name"]])(**{word: value for word, value in plain.items() if word != "name"})
