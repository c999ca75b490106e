"""What a lesson shows: live pictures with text twins, guesses that are kept, checks with reasons.

A notebook holds words and one-line cells; what a cell shows is made by the lesson's own module here
(``lesson_01.py`` and so on), from these parts:

``explore(draw, *controls, title=...)``
    A live picture. ``draw(**values)`` gets each control's value in SI by name and gives a `Picture`
    (SVG and its twin in words). Controls: ``slider(name, label, low, high, step, start, unit,
    show=None)`` with its ends in that unit, ``choice(name, label, options, texts=None, start=0)``;
    or a `Control` with stops of your own.
``Chart(title, across, up)``
    Draws with ``line``, ``marker``, ``rule``, ``band``; ``.picture(twin)`` gives the `Picture`. Axes:
    ``Axis(low, high, label, marks)``. For free drawings: ``sketch``, ``words``, ``colour``. To say numbers
    as in the shop, with SI beside them: ``say_temperature``, ``say_difference``, ``say_absolute``,
    ``say_gauge`` of `coldbench.lesson.saying`.
``guess(key, question, kind=None, choices=(), bare_unit=None, atmosphere=101325.0, hint="")``
    Keeps a guess, judges nothing. ``kind`` as in `coldbench.units.read`; none: words or a choice.
``look_back(key, came_out)``
    Shows the kept guess beside a sentence that says what came out.
``check(key, question, [Choice(text, reason, right=False), ...])``
    A question with choices; the reason at once.
``check_number(key, question, kind, right=Number(value, reason), within=..., wrong=[Number(...)],
otherwise=..., bare_unit=None, atmosphere=101325.0, hint="", not_in=())``
    A number with its unit; values in SI, computed, never typed. The reason at once.

Each gives a widget that is shown when it is the last line of a cell. Keys are the lesson's number and
a letter for guesses ("01-a"), a figure for checks ("01-1"). What is typed is kept in
``kept-work.json`` beside the notebook. Without a browser: ``explore(...).move(name="10 °F").twin`` and
``check(...).take("10 °F").reply``.
"""

from coldbench.lesson.ask import Choice, Number, check, check_number, guess, look_back
from coldbench.lesson.chart import Axis, Chart
from coldbench.lesson.controls import Control, choice, slider
from coldbench.lesson.explore import explore
from coldbench.lesson.picture import Picture, colour, sketch, words

__all__ = [
    "Axis",
    "Chart",
    "Choice",
    "Control",
    "Number",
    "Picture",
    "check",
    "check_number",
    "choice",
    "colour",
    "explore",
    "guess",
    "look_back",
    "sketch",
    "slider",
    "words",
]
