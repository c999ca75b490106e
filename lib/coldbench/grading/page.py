"""Pages that stand alone: what feedback and class report share.

Inside: `render`, which fills a template of the folder ``pages`` and escapes everything that is put into
it; `OUTCOMES`, the words and signs for what became of an answer; small formats for points, shares,
lessons and lists.

A page holds no script and loads nothing: its content policy forbids both, so that whatever a hand-in
brings along stays text.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from coldbench.grading.plain_text import UNFIT
from coldbench.homework.kinds import true_minus

if TYPE_CHECKING:
    from jinja2 import Environment

    from coldbench.grading.statistics import Total
    from coldbench.homework.marking import Mark

OUTCOMES = {
    "right": ("●", "Right"),
    "follow_through": ("●", "Right from your earlier answer"),
    "nearly": ("◐", "Nearly right"),
    "slip": ("◐", "A slip"),
    "partly": ("◐", "Partly right"),
    "wrong_idea": ("◇", "A wrong idea"),
    "wrong": ("○", "Not right"),
    "not_answered": ("–", "Not answered"),
    "not_understood": ("?", "Not understood"),
    "by_hand": ("✎", "Read by your instructor"),
    "waiting": ("…", "Waiting for your instructor"),
    "dropped": ("×", "Counts for nobody"),
}
"""Outcome to its sign and its words; no outcome is told by colour. The last two say what became of the
question: its answer waits to be read, or the instructor dropped it."""


def outcome_shown(mark: Mark) -> str:
    """Say under which outcome a mark is shown.

    Parameters: ``mark`` any mark.
    Returns: a key of `OUTCOMES`: the mark's own, or "waiting" or "dropped".
    """
    return "waiting" if mark.waiting else mark.outcome if mark.out_of else "dropped"


def tidy(value: object) -> object:
    """Replace characters that no page may hold; what is no text stays as it is.

    Parameters: ``value`` anything that is about to be written.
    Returns: the value, fit for a page.
    """
    return UNFIT.sub("�", value) if type(value) is str else value


def points(number: float) -> str:
    """Write points without needless decimals.

    Parameters: ``number`` points.
    Returns: for example "2", "1.5" or "0.25".
    """
    return f"{round(number, 2):g}"


def percent(share: float | None) -> str:
    """Write a share as a percentage.

    Parameters: ``share`` from 0 to 1, or None where it is not known.
    Returns: for example "64 %", or a dash.
    """
    return "–" if share is None else f"{100 * share:.0f} %"


def signed(number: float | None) -> str:
    """Write a correlation.

    Parameters: ``number`` from -1 to 1, or None where it is not known.
    Returns: for example "0.42" or "−0.10", or a dash.
    """
    return "–" if number is None else f"{number + 0.0:.2f}".replace("-", "−")


def section(read_again: str) -> str:
    """Say where to read again.

    Parameters: ``read_again`` folder of the lesson, a colon, and the heading of the section.
    Returns: for example "Lesson 05, section “Which log?”".
    """
    lesson, colon, heading = read_again.partition(": ")
    number = lesson.rpartition("/")[2][:2]
    return f"Lesson {number}, section “{heading}”" if colon else read_again


def counted(number: int, word: str) -> str:
    """Write a number of things.

    Parameters: ``number`` how many; ``word`` for one of them.
    Returns: for example "1 student" or "24 students".
    """
    return f"{number} {word}{'' if number == 1 else 's'}"


def listed(words: list[str], most: int = 1_000) -> str:
    """Write a list as in a sentence.

    Parameters: ``words`` in order; ``most`` how many to write out.
    Returns: for example "A, B and C", or "A, B and 5 more".
    """
    words = list(words)
    if len(words) > most:
        words = [*words[: most - 1], f"{len(words) - most + 1} more"]
    return " and ".join([", ".join(words[:-1]), words[-1]]) if len(words) > 1 else "".join(words)


def shorten(text: str, longest: int = 60) -> str:
    """Cut a text that would not fit a table.

    Parameters: ``text`` any; ``longest`` how many characters to keep.
    Returns: the text, with an ellipsis where it was cut.
    """
    return text if len(text) <= longest else text[: longest - 1] + "…"


def sentence(fragment: str) -> str:
    """Write a fragment of the catalogue as a sentence; a formula's symbol keeps its small letter.

    Parameters: ``fragment`` words without capital and full stop.
    Returns: for example "Add the air's own pressure."
    """
    text = fragment.strip()
    if text.split()[1:2] != ["="]:
        text = text[:1].upper() + text[1:]
    return text if not text or text[-1] in ".!?" else f"{text}."


def earned(total: Total) -> str:
    """Write a total.

    Parameters: ``total`` of a hand-in.
    Returns: for example "11.5 of 18".
    """
    return f"{points(total.points)} of {points(total.out_of)}"


@cache
def _environment() -> Environment:
    from jinja2 import Environment, PackageLoader, StrictUndefined

    environment = Environment(
        loader=PackageLoader("coldbench.grading", "pages"),
        autoescape=True,
        finalize=tidy,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters |= {
        "points": points,
        "percent": percent,
        "signed": signed,
        "true_minus": true_minus,
        "section": section,
        "counted": counted,
        "shorten": shorten,
        "sentence": sentence,
        "earned": earned,
    }
    return environment


def render(template: str, **content: object) -> str:
    """Fill a template; everything that is put into it is escaped.

    Parameters: ``template`` name of a file in the folder ``pages``; ``content`` what it is filled with.
    Returns: the page, one text that stands alone.
    """
    return _environment().get_template(template).render(**content)
