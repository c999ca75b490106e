"""What the instructor decides about marks: extensions, dropped questions, what coming late costs, regrades.

Inside: `Decisions`, read from the log: every change that was not undone. It says when a hand-in is due, puts
dropped questions and the cost of coming late on marks, and knows the regrade requests. Without any decision
coming late is said on the page and costs nothing.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from math import ceil
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from coldbench.grading.marks_log import Log
    from coldbench.homework.marking import Mark

DAY = timedelta(days=1)


@dataclass(frozen=True)
class Lateness:
    """How late a hand-in came, and what that costs.

    Attributes
    ----------
    late : bool
        Whether it came after it was due
    share : float
        Share of its points that it loses [-]
    note : str
        The same in words; "" where it costs nothing
    """

    late: bool = False
    share: float = 0.0
    note: str = ""


class Decisions:
    """All changes of a class that stand.

    Parameters: ``log`` of the class; ``due`` homework to the time it is due, as ``due.csv`` has it.
    """

    def __init__(self, log: Log, due: dict[str, datetime]):
        self.due = due
        undone = {entry["number"] for entry in log.entries if entry["kind"] == "undo"}
        self.every = [entry for entry in log.entries if entry["kind"] == "change"]
        self.standing = [entry for entry in self.every if entry["number"] not in undone]
        self._extensions = {
            (one["student"], one["homework"]): datetime.fromisoformat(one["due"])
            for one in self._of("extension")
        }
        self._costs = {one["homework"]: one for one in self._of("late")}
        self._dropped = {one["question"]: one for one in self._of("drop")}
        self.regrades = {(one["student"], one["question"]): one for one in self._of("regrade")}

    def _of(self, what: str) -> list[dict]:
        return [entry for entry in self.standing if entry["what"] == what]

    def dropped(self, homework: str) -> set[str]:
        """Say which questions of a homework count for nobody.

        Parameters: ``homework`` its number.
        Returns: their ids.
        """
        return {question for question, one in self._dropped.items() if one["homework"] == homework}

    def costly(self, homeworks: list[str]) -> list[str]:
        """Say for which homeworks it was ever decided what coming late costs.

        Parameters: ``homeworks`` to choose from.
        Returns: those.
        """
        decided = {entry["homework"] for entry in self.every if entry["what"] == "late"}
        return [homework for homework in homeworks if homework in decided]

    def why_by_hand(self, student: str, question: str) -> str:
        """Say why points were given by hand, where a student had asked for it.

        Parameters: ``student``, ``question`` whose and which.
        Returns: the reason, or "".
        """
        one = self.regrades.get((student, question))
        return f"change {one['number']}, asked to look again: {one['reason']}" if one else ""

    def lateness(self, student: str, homework: str, time: datetime) -> Lateness:
        """Say whether a hand-in is late, and what that costs.

        Parameters: ``student``, ``homework`` whose and which; ``time`` when it was handed in.
        Returns: the `Lateness`.
        """
        due = self._extensions.get((student, homework), self.due.get(homework))
        if due is None or time <= due:
            return Lateness()
        cost = self._costs.get(homework)
        days = ceil((time - due) / DAY) - (cost["free_days"] if cost else 0)
        if cost is None or days <= 0:
            return Lateness(late=True)
        percent = min(cost["percent_a_day"] * days, cost["at_most"])
        counted = f"{days} day{'' if days == 1 else 's'}"
        note = f"{percent:g} % of the points are taken off for {counted} late (change {cost['number']})"
        return Lateness(True, percent / 100, note if percent else "")

    def on(self, mark: Mark, lateness: Lateness) -> tuple[Mark, dict[str, str]]:
        """Put what was decided on a mark.

        Parameters: ``mark`` as marked, by hand or not; ``lateness`` of its hand-in.
        Returns: the mark as it counts, and why it is another: "dropped" and "late", "" where it is not.
        """
        one = self._dropped.get(mark.question)
        if one:
            why = f": {one['reason']}" if one["reason"] else ""
            words = f"This question was dropped and counts for nobody{why}."
            comment = f"{words} {mark.comment}"
            dropped = replace(mark, points=0.0, out_of=0.0, comment=comment, waiting=False)
            return dropped, {"dropped": f"the question was dropped (change {one['number']}{why})", "late": ""}
        points = round(mark.points * (1 - lateness.share), 2)
        return replace(mark, points=points), {"dropped": "", "late": lateness.note}


def described(entry: dict) -> str:
    """Put a change into words.

    Parameters: ``entry`` of the log.
    Returns: a sentence's beginning, without a full stop.
    """
    reason = f" ({entry['reason']})" if entry["reason"] else ""
    match entry["what"]:
        case "extension":
            due = datetime.fromisoformat(entry["due"]).astimezone()
            words = f"{entry['student']} has until {due:%Y-%m-%d %H:%M} for homework {entry['homework']}"
        case "drop":
            words = f"question {entry['question']} counts for nobody"
        case "late":
            free = f" after {entry['free_days']} free" if entry["free_days"] else ""
            cost = f"{entry['percent_a_day']:g} % of the points a day{free}, at most {entry['at_most']:g} %"
            words = f"coming late with homework {entry['homework']} costs {cost}"
        case _:
            points = "" if entry["points"] is None else f", decided: {entry['points']:g} points"
            words = f"{entry['student']} asks to look at question {entry['question']} again{points}"
    return words + reason
