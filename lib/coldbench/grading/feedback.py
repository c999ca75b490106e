"""The feedback page: what one student reads after marking, in plain and kind sentences.

Inside: `page`. For every question: what was answered, what was expected, the idea behind the
difference, where to read again, and the worked answer with the student's own numbers. What is for the
instructor's eyes only (whose numbers the answers fit, what to ask about an odd file) never appears here.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from coldbench.grading.page import OUTCOMES, listed, outcome_shown, points, render, section
from coldbench.grading.statistics import Total, counting, total
from coldbench.grading.student_words import for_student

if TYPE_CHECKING:
    from coldbench.grading.results import HandIn
    from coldbench.homework.declare import Homework
    from coldbench.homework.marking import Mark

WHY = {
    "wrong_idea": "The idea behind it",
    "slip": "What slipped",
    "wrong": "What next",
    "not_understood": "Why not understood",
    "by_hand": "Your instructor writes",
    "waiting": "What happens now",
}
"""Outcome to the label of its reason; any other is called in short."""

NOTHING_LOST = ("right", "follow_through", "waiting", "dropped")
"""Outcomes after which nothing is to be read again; coming late can have cost points all the same."""

LATE = "It came after the time it was due."
OTHER_EDITION = (
    "Your notebook is from an earlier edition of this homework. If a question below reads differently from "
    "yours, tell your instructor: your answer was meant for the other wording."
)


def page(hand_in: HandIn, homework: Homework, ideas: dict[str, dict[str, str]]) -> str:
    """Write one student's feedback on one homework.

    Parameters: ``hand_in`` the student's marks; ``homework`` the declaration; ``ideas`` the catalogue of
    wrong ideas.
    Returns: a page of HTML that stands alone, without script; everything from the student is escaped.
    """
    sum_ = total(hand_in)
    return render(
        "feedback.html",
        homework=homework,
        name=hand_in.name,
        total=sum_,
        waiting_points=sum(mark.out_of for mark in hand_in.marks if mark.waiting),
        opening=_opening(hand_in, sum_),
        notes=(hand_in.notes or [LATE] * hand_in.late) + [OTHER_EDITION] * (not hand_in.edition_ok),
        troubles=for_student(hand_in.troubles),
        questions=[_question(mark, homework, ideas) for mark in hand_in.marks],
    )


def _opening(hand_in: HandIn, sum_: Total) -> str:
    """Say in one sentence how it went, and where to begin."""
    marks = counting(hand_in)
    ideas = [mark.question for mark in marks if mark.wrong_ideas]
    if all(mark.outcome == "not_answered" for mark in marks):
        return "No answer reached us. If you did answer, save the notebook and hand it in again."
    if sum_.out_of and all(
        mark.points == mark.out_of or outcome_shown(mark) in NOTHING_LOST for mark in marks
    ):
        return "Everything that is marked so far is right. Well done."
    if len(ideas) == 1:
        return f"Begin with question {ideas[0]}: it shows an idea worth putting right, and says how."
    if ideas:
        return f"Begin with questions {listed(ideas)}: they show ideas worth putting right, and say how."
    return "Look first at the questions that lost points, and compare your steps with the worked answers."


def _question(mark: Mark, homework: Homework, ideas: dict) -> dict:
    """Collect what the page shows of one question."""
    outcome = outcome_shown(mark)
    sign, word = OUTCOMES[outcome]
    declared = homework.questions.get(mark.question)
    expected, why = split_comment(mark)
    why = why.removeprefix(f"{OUTCOMES['not_understood'][1]}: ")  # the label says so already
    cautions = [ideas[idea].get("safety") for idea in mark.wrong_ideas if idea in ideas]
    if outcome == "by_hand":
        expected = declared.full_marks if declared else ""
    return {
        "mark": mark,
        "title": declared.title if declared else "",
        "sign": sign,
        "word": word,
        "points": "–" if outcome in ("waiting", "dropped") else points(mark.points),
        "expected": expected,
        "expected_label": "Full points for" if outcome == "by_hand" else "Expected",
        "why": "" if why.strip(" .") in ("", word) else why,
        "why_label": WHY.get(outcome, "In short"),
        "read_again": section(mark.read_again)
        if mark.points < mark.out_of and outcome not in NOTHING_LOST
        else "",
        "cautions": dict.fromkeys(filter(None, cautions)),
    }


def split_comment(mark: Mark) -> tuple[str, str]:
    """Part a comment into what was expected and the reasons, since the page shows them apart.

    Parameters: ``mark`` whose comment may hold a sentence that begins with "Expected:".
    Returns: what was expected, with its tolerance, and all the rest; nothing is left out.
    """
    opening = f"Expected: {mark.expected}"
    before, found, after = mark.comment.partition(opening)
    if not mark.expected or not found:
        return mark.expected, mark.comment
    depth = 0
    for place, letter in enumerate(after):
        depth += (letter == "(") - (letter == ")")
        if letter == "." and depth <= 0 and after[place + 1 : place + 2] in ("", " "):
            return mark.expected + after[:place], (before + after[place + 2 :]).strip()
    return mark.expected, mark.comment
