"""A student's own words for what was odd about a hand-in.

Inside: `for_student`. What marking finds odd is said to the instructor ("Ask the student to …", who else it
might belong to, where a copy lies). A student never reads those sentences: each kind of trouble has words of
its own here, or none where it is no concern of the student's. A sentence that no kind knows becomes one
general line, so that a new one cannot slip through.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

QUESTIONS = r"\d\d\.\d+(?:, \d\d\.\d+)*"
PLACE = rf"(The cells? (?:of|after) questions? {QUESTIONS}|Code cell \d+|The notebook)"

GENERAL = "Something about your file was not as expected. Your instructor has a note of it: ask what to do."


@dataclass(frozen=True)
class Kind:
    """One kind of trouble.

    Attributes
    ----------
    opening : str
        Pattern of how the instructor's sentence begins; its groups are filled in below
    words : str
        What the student reads; empty where it is no concern of the student's
    """

    opening: str
    words: str


KINDS = (
    Kind(
        rf"{PLACE} ran longer than (\d+(?:\.\d+)?) s",
        "{0} ran longer than {1} s and was stopped; your other answers were kept. Look in it for a loop "
        "that never ends.",
    ),
    Kind(
        rf"{PLACE} asks for something to be typed",
        "{0} asks for something to be typed, but nobody sits there when homework is marked. Write your "
        "answer into the cell itself, in place of the dots.",
    ),
    Kind(
        rf"{PLACE} is not written as Python can read it .* so (questions? {QUESTIONS}) is not answered",
        "{0} could not be read as it stands, so there is no answer to {1}. Often a quotation mark or a "
        "bracket is missing. Your instructor still sees what you typed.",
    ),
    Kind(
        rf"{PLACE} stopped with an error .* so (questions? {QUESTIONS}) is not answered",
        "{0} stopped with an error before there was an answer to {1}. Run it: the last red line names the "
        "error. Your instructor still sees what you typed.",
    ),
    Kind(
        rf"{PLACE} (?:used up its time|ended itself)",
        "{0} stopped the whole notebook. Answers before it were kept, later ones were read as you typed "
        "them. Before you hand in, use the menu: Run, Restart Kernel and Run All Cells.",
    ),
    Kind(
        rf"(Questions? {QUESTIONS}) could not be run",
        "{0} could not be run and was read as you typed it. Keep every cell that came with the homework, "
        "above all the first.",
    ),
    Kind(
        rf"The notebook was not run, .* Not read, because code works them out: ({QUESTIONS})\.",
        "Your notebook was read without running it. Answers that code works out could not be read: {0}. Your "
        "instructor sees to that.",
    ),
    Kind("The notebook was not run, ", ""),
    Kind(
        r"The notebook gave more than \S+ MB of answers",
        "Your notebook gave far more answers than there are questions; only the first were read. Look in it "
        "for a loop around an answer.",
    ),
    Kind(
        r"(\d+) of the answers given could not be read",
        "{0} of your answers could not be read: each must be a number, a text or a short list.",
    ),
    Kind(
        rf"Answered more than once, differently: ({QUESTIONS})\.",
        "You answered more than once, and differently: {0}. The last answer was counted.",
    ),
    Kind(
        rf"(The cells? of (?:question )?{QUESTIONS}) (is|are) missing",
        "{0} {1} missing from your notebook, so there was no answer to mark. Was it deleted by mistake? A "
        "fresh copy of the homework has it.",
    ),
    Kind("The notebook was made from another edition", ""),
    Kind(
        rf"The answer to question ({QUESTIONS}) broke the marking",
        "Your answer to question {0} could not be marked here; your instructor reads it.",
    ),
    Kind(
        rf"The answer to question ({QUESTIONS}) changed after its points were given",
        "Your answer to question {0} changed after it was read; your instructor reads it again.",
    ),
    Kind(
        "The notebook says student ",
        "The student number typed in your notebook is not your own, so it showed you another's numbers. Your "
        "answers were marked with your own, and right work on other numbers looks wrong there. Talk to your "
        "instructor before you work through the rest.",
    ),
    Kind(
        "No student number is typed in the notebook",
        "No student number was typed in your notebook, so it could not show you your own numbers. Your "
        "answers were marked with those. Talk to your instructor before you work through the rest.",
    ),
    Kind(
        r"It came in under the name of homework (\d\d) but holds homework (\d\d)",
        "Your file was named homework {0} but holds homework {1}, and was marked as that. Homework {0} "
        "itself is still wanted.",
    ),
    Kind(
        r"(?:Another version|\d+ other versions) of this hand-in came in",
        "You handed this homework in more than once; the newest one was marked.",
    ),
    Kind(
        "An answer stood in a cell of text",
        "One of your answers stood in a cell of text, not of code; it was read all the same.",
    ),
    Kind(
        "The file was saved in an old way",
        "Your file was saved in an old way, so letters other than A to Z may have changed in it.",
    ),
    Kind("The notebook had an old format", ""),
    Kind("The notebook has a newer format", ""),
    Kind("The names of folder and file point to ", ""),
    Kind("Its folder “", ""),
)
"""In the order in which they are tried. Only question numbers, cells and seconds are taken over from the
instructor's sentence: never a name, another student's number, or what an error said."""


def for_student(troubles: list[str]) -> list[str]:
    """Say to a student what was odd about the hand-in.

    Parameters: ``troubles`` the instructor's sentences about it.
    Returns: the student's own sentences, each once; the general line last, where a trouble is of no known
    kind.
    """
    said: dict[str, None] = {}
    unknown = False
    for trouble in troubles:
        words = _words(trouble)
        unknown |= words is None
        if words:
            said[words] = None
    return [*said, *[GENERAL] * unknown]


def _words(trouble: str) -> str | None:
    """Fill in the words of the first kind whose opening fits; None where there is none."""
    for kind in KINDS:
        if found := re.match(kind.opening, trouble):
            words = kind.words.format(*found.groups())
            return words[:1].upper() + words[1:]
    return None
