"""Guesses and self-checks: a question, a field or a few choices, and an answer at once.

`guess` keeps what a student expects, and judges nothing; `look_back` shows it again beside what came
out. `check` asks with choices and `check_number` with a number; both answer at once with the reason:
why it is right, or which idea is behind the answer. What was typed is kept in the file of
`coldbench.lesson.kept` and is there again when the notebook is run another day.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from html import escape

import anywidget
import ipywidgets
import traitlets

from coldbench.errors import CannotRead
from coldbench.homework.kinds import true_minus
from coldbench.lesson.browser import STYLE, script, with_still
from coldbench.lesson.kept import KeptWork, kept_work
from coldbench.units import STANDARD_ATMOSPHERE, read

KEPT, RIGHT, NOT_YET, NOT_UNDERSTOOD = "kept", "right", "not yet", "not understood"


@dataclass(frozen=True)
class Choice:
    """One of the answers to choose from.

    Parameters
    ----------
    text : str
        The answer
    reason : str
        Why it is right, or which idea is behind it
    right : bool
        Whether it is the right one

    Source
    ------
    Arrangement of this project.
    """

    text: str
    reason: str
    right: bool = False


@dataclass(frozen=True)
class Number:
    """A number that an answer may be, and what it tells.

    Parameters
    ----------
    value : float
        The number [SI]
    reason : str
        Why it is right, or which idea leads to it

    Source
    ------
    Arrangement of this project.
    """

    value: float
    reason: str


class Question(anywidget.AnyWidget):
    """A question with its field or choices, and the reply to what was typed.

    Parameters
    ----------
    key : str
        Under which the answer is kept, for example "01-a"
    question : str
        The question in plain words
    judge : callable
        Gives mood and reply for a typed text; may raise `CannotRead`
    choices : sequence of str
        The answers to choose from; none: a field to type in
    hint : str
        How to write the answer
    button : str
        What the button says
    kept : KeptWork
        Where answers are kept

    Source
    ------
    Arrangement of this project.
    """

    _esm = script("ask.js")
    _css = STYLE
    question = traitlets.Unicode().tag(sync=True)
    choices = traitlets.List(traitlets.Unicode()).tag(sync=True)
    hint = traitlets.Unicode().tag(sync=True)
    button = traitlets.Unicode().tag(sync=True)
    typed = traitlets.Unicode().tag(sync=True)
    mood = traitlets.Unicode().tag(sync=True)
    reply = traitlets.Unicode().tag(sync=True)

    def __init__(
        self,
        key: str,
        question: str,
        judge: Callable[[str], tuple[str, str]],
        choices: Sequence[str],
        hint: str,
        button: str,
        kept: KeptWork,
    ):
        self._key, self._judge, self._kept = key, judge, kept
        super().__init__(question=question, choices=list(choices), hint=hint, button=button)
        typed = kept.answer(key)
        if typed is not None and (not choices or typed in choices):
            self.typed = typed
            self._answer()
        elif kept.trouble:
            self.mood, self.reply = NOT_UNDERSTOOD, kept.trouble
        self.on_msg(lambda _widget, content, _buffers: self.take(str(content.get("typed", ""))))

    def take(self, typed: str) -> Question:
        """Take an answer as if it had been typed: reply, and keep it if it was understood.

        Parameters
        ----------
        typed : str
            The text, or one of the choices

        Returns
        -------
        Question
            This question; ``mood`` and ``reply`` say how it went

        Source
        ------
        Arrangement of this project.
        """
        self.typed = typed.strip()
        if not self.typed:
            missing = "choose one of the answers" if self.choices else "type an answer"
            self.mood, self.reply = NOT_UNDERSTOOD, f"Nothing is kept yet: {missing} first."
        elif self._answer():
            self._kept.keep(self._key, self.typed)
            if self._kept.trouble:
                self.reply += f"\n{self._kept.trouble}"
        return self

    def _answer(self) -> bool:
        try:
            mood, reply = self._judge(self.typed)
        except CannotRead as error:
            mood, reply = NOT_UNDERSTOOD, f"Not understood, so not kept. {error}"
        with self.hold_sync():
            self.mood, self.reply = mood, reply
        return mood != NOT_UNDERSTOOD

    def _repr_mimebundle_(self, **kwargs):
        choices = "".join(f"<li>{escape(text)}</li>" for text in self.choices)
        still = (
            f"<p><strong>{escape(self.question)}</strong></p>"
            + (f"<ul>{choices}</ul>" if choices else "")
            + f"<p>Your answer: {escape(self.typed) or '…'}</p><p>{escape(self.reply)}</p>"
        )
        return with_still(super()._repr_mimebundle_(**kwargs), still, self.question)


class LookBack(ipywidgets.HTML):
    """A kept guess beside what came out; it follows when the guess is typed or changed.

    Parameters
    ----------
    key : str
        Under which the guess is kept
    came_out : str
        A sentence with what came out
    kept : KeptWork
        Where answers are kept

    Source
    ------
    Arrangement of this project.
    """

    def __init__(self, key: str, came_out: str, kept: KeptWork):
        super().__init__()
        self.add_class("coldbench")
        self._came_out = came_out
        self._show(kept.answer(key))
        kept.listen(key, self._show)

    def _show(self, typed: str | None) -> None:
        if typed is None:
            self.value = (
                "No guess is kept yet. Go back and type one first: a wrong guess teaches more than none."
            )
        else:
            self.value = f"Your guess: <strong>{escape(typed)}</strong>. {escape(self._came_out)}"

    def _repr_mimebundle_(self, **kwargs):
        return with_still(super()._repr_mimebundle_(**kwargs), f"<p>{self.value}</p>", self._came_out)


def guess(
    key: str,
    question: str,
    kind: str | None = None,
    choices: Sequence[str] = (),
    bare_unit: str | None = None,
    atmosphere: float = STANDARD_ATMOSPHERE,
    hint: str = "",
) -> Question:
    """Ask for a guess before the answer is seen; it is kept, not judged.

    Parameters
    ----------
    key : str
        Under which the guess is kept, for example "01-a"
    question : str
        The question in plain words
    kind : str, optional
        What is expected, as `coldbench.units.read` knows it ("temperature", "pressure", …); left out:
        words, or one of the choices
    choices : sequence of str
        Answers to choose from instead of typing
    bare_unit : str, optional
        Unit that a number without a unit is taken for
    atmosphere : float
        Air pressure that gauge readings start from [Pa]
    hint : str
        How to write the answer

    Returns
    -------
    Question
        As the last line of a cell it is shown

    Source
    ------
    Arrangement of this project.
    """

    def judge(typed: str) -> tuple[str, str]:
        shown = read(typed, kind, atmosphere=atmosphere, bare_unit=bare_unit).shown if kind else typed
        return KEPT, f"Kept: {true_minus(shown)}. Go on and see."

    return Question(key, question, judge, choices, hint, "Keep my guess", kept_work())


def look_back(key: str, came_out: str) -> LookBack:
    """Show a kept guess beside what came out.

    Parameters
    ----------
    key : str
        Under which the guess is kept
    came_out : str
        A sentence with what came out

    Returns
    -------
    LookBack
        As the last line of a cell it is shown

    Source
    ------
    Arrangement of this project.
    """
    return LookBack(key, came_out, kept_work())


def check(key: str, question: str, choices: Sequence[Choice]) -> Question:
    """Ask a question with choices and reply at once with the reason.

    Parameters
    ----------
    key : str
        Under which the answer is kept, for example "01-1"
    question : str
        The question in plain words
    choices : sequence of Choice
        The answers, each with its reason

    Returns
    -------
    Question
        As the last line of a cell it is shown

    Source
    ------
    Arrangement of this project.
    """
    by_text = {one.text: one for one in choices}

    def judge(typed: str) -> tuple[str, str]:
        if typed not in by_text:
            raise CannotRead("Choose one of the answers that are listed.")
        chosen = by_text[typed]
        return (
            (RIGHT, f"✓ Right. {chosen.reason}") if chosen.right else (NOT_YET, f"✗ Not yet. {chosen.reason}")
        )

    return Question(key, question, judge, list(by_text), "", "Check", kept_work())


def check_number(
    key: str,
    question: str,
    kind: str,
    right: Number,
    within: float,
    wrong: Sequence[Number],
    otherwise: str,
    bare_unit: str | None = None,
    atmosphere: float = STANDARD_ATMOSPHERE,
    hint: str = "",
    not_in: Sequence[str] = (),
) -> Question:
    """Ask for a number with its unit and reply at once with the reason.

    Parameters
    ----------
    key : str
        Under which the answer is kept, for example "01-2"
    question : str
        The question in plain words
    kind : str
        What is expected, as `coldbench.units.read` knows it
    right : Number
        The right answer and why
    within : float
        How far an answer may lie from a number and still be taken for it [SI]
    wrong : sequence of Number
        Answers that known wrong ideas lead to, each with the idea
    otherwise : str
        What to say to any other answer
    bare_unit : str, optional
        Unit that a number without a unit is taken for
    atmosphere : float
        Air pressure that gauge readings start from [Pa]
    hint : str
        How to write the answer
    not_in : sequence of str
        Units that would only repeat the question

    Returns
    -------
    Question
        As the last line of a cell it is shown

    Source
    ------
    Arrangement of this project.
    """

    def judge(typed: str) -> tuple[str, str]:
        reading = read(typed, kind, atmosphere=atmosphere, bare_unit=bare_unit)
        if reading.unit in not_in:
            raise CannotRead(f"{reading.shown} says the question again; give it in another unit. {hint}")
        if abs(reading.value - right.value) <= within:
            return RIGHT, f"✓ Right, {true_minus(reading.shown)}. {right.reason}"
        idea = min(wrong, key=lambda one: abs(reading.value - one.value), default=None)
        known = idea is not None and abs(reading.value - idea.value) <= within
        return NOT_YET, f"✗ Not yet: {true_minus(reading.shown)}. {idea.reason if known else otherwise}"

    return Question(key, question, judge, (), hint, "Check", kept_work())
