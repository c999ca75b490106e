"""The log of marks: every change of a mark, with its time and reason, in a file that is only ever added to.

Inside: `Log` (read it, add to it); `note_marks`, which compares a class as it stands
with what the log says last and adds what differs; `Waiting`, a mark that changed because a question changed
and that its student has not seen yet.

Each line of ``CLASS/log.jsonl`` is one entry as JSON. Its ``kind`` is "mark" (a mark came to be or changed:
old, new, reason), "release" (pages with changed marks were given free), "change" (the instructor decided
something: an extension, a dropped question, a cost of coming late, a regrade) or "undo" (of such a change).
A line that was cut short by a crash, or is of an older form, is passed over; what it said is found to be
missing and is said again.
"""

from __future__ import annotations

import contextlib
import getpass
import hashlib
import json
import os
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from coldbench.grading.full_disk import naming

if TYPE_CHECKING:
    from coldbench.grading.results import ClassResults
    from coldbench.homework.marking import Mark

FILE = "log.jsonl"
Key = tuple[str, str, str]
"""Student, homework, question."""

FIRST, ADDED, NEW_ANSWER = "first marking", "the question is new in this homework", "the answer changed"


@dataclass(frozen=True)
class Waiting:
    """A mark that changed because a question changed; the student's page still shows the old one.

    Attributes
    ----------
    student, homework, question : str
        Whose and which
    before, now : dict
        The mark as the page has it and as it would be: points, out_of, outcome, …
    reason : str
        What about the question changed
    """

    student: str
    homework: str
    question: str
    before: dict
    now: dict
    reason: str


class Log:
    """The log of one class, read when it is made; `add` writes at its end and nothing else.

    Parameters: ``class_folder`` where ``log.jsonl`` lies, or will lie; ``by`` the command that writes.
    """

    def __init__(self, class_folder: Path, by: str = ""):
        self.path, self.by = class_folder / FILE, by
        self.entries: list[dict] = []
        self.marks: dict[Key, dict] = {}
        self.waiting: dict[Key, Waiting] = {}
        try:
            lines = self.path.read_bytes().splitlines()
        except FileNotFoundError:
            lines = []
        for line in lines:
            try:
                entry = json.loads(line)
                self._take(entry)
            except (ValueError, KeyError, TypeError):
                continue

    def add(self, entries: list[dict]) -> None:
        """Write entries at the end of the file, all in one go, and see them onto the disk.

        Parameters: ``entries`` plain values, each with its ``kind``; time, who and command are put to them.
        """
        if not entries:
            return
        stamp = {"time": datetime.now(UTC).isoformat(timespec="seconds"), "who": _who(), "by": self.by}
        entries = [stamp | entry for entry in entries]
        text = "".join(json.dumps(entry, ensure_ascii=False) + "\n" for entry in entries).encode()
        with naming(self.path), self._whole_or_not(), self.path.open("a+b") as file:
            if file.seek(0, os.SEEK_END):
                file.seek(-1, os.SEEK_END)
                if file.read(1) != b"\n":
                    text = b"\n" + text
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        for entry in entries:
            self._take(entry)

    @contextlib.contextmanager
    def _whole_or_not(self) -> Iterator[None]:
        """Take away again what a full disk cut short, so that the next run writes the same entries once."""
        length = self.path.stat().st_size if self.path.is_file() else 0
        try:
            yield
        except OSError:
            with contextlib.suppress(OSError):
                os.truncate(self.path, length)
            raise

    def _take(self, entry: dict) -> None:
        """Carry one entry on into what the log says in all."""
        if entry["kind"] == "mark":
            key, new = (entry["student"], entry["homework"], entry["question"]), entry["new"]
            if new is not None and not isinstance(new["answers"], dict):
                raise TypeError(new)
            self._hold(key, entry)
            if new is None:
                self.marks.pop(key, None)
            else:
                self.marks[key] = new
        elif entry["kind"] == "release":
            self.waiting = {key: one for key, one in self.waiting.items() if key[1] not in entry["homeworks"]}
        self.entries.append(entry)

    def _hold(self, key: Key, entry: dict) -> None:
        """Keep the mark that the student's page has, for as long as a changed question makes it another."""
        shown = self.waiting[key].before if key in self.waiting else self.marks.get(key)
        new = entry["new"]
        if not entry["held"] and key in self.waiting and _same_answer(new, self.marks.get(key)):
            self.waiting[key] = Waiting(*key, shown, new, self.waiting[key].reason)
        elif entry["held"] and _automatic(new) != _automatic(shown):
            self.waiting[key] = Waiting(*key, shown or {}, new or {}, entry["reason"])
        else:
            self.waiting.pop(key, None)


def _who() -> str:
    try:
        return getpass.getuser()
    except (OSError, KeyError, ImportError):
        return "unknown"


def digests(answers: dict[str, object]) -> dict[str, str]:
    """Name an answer, and those that it builds on, by a few letters each, so that a change can be told.

    Parameters: ``answers`` question to plain value.
    Returns: question to 12 letters of a hash, in the order of the questions.
    """
    return {question: _digest(answers[question]) for question in sorted(answers)}


def _digest(answer: object) -> str:
    text = json.dumps(answer, sort_keys=True, ensure_ascii=False, default=str)
    return hashlib.sha256(text.encode("utf-8", "replace")).hexdigest()[:12]


def same_answers(one: dict[str, str], other: dict[str, str]) -> bool:
    """Tell whether a student answered the same, among what both marks were made from.

    Parameters: ``one``, ``other`` from `digests`; a question that builds on other answers now than before
    has other names in it, which is no change of an answer.
    Returns: whether every answer that is in both is the same.
    """
    return all(one[question] == other[question] for question in one if question in other)


def state(
    final: Mark, automatic: Mark, answers: dict, expected: str, given: float | None, notes: dict
) -> dict:
    """Put together what the log keeps of a mark.

    Parameters: ``final`` the mark as it counts; ``automatic`` as the marking alone made it; ``answers`` from
    `digests`; ``expected`` what was expected; ``given`` points by hand or None; ``notes`` why the
    instructor's decisions make it another: "dropped" and "late", each a sentence's end or "".
    Returns: plain values.
    """
    return {
        **_figures(final),
        "automatic": _figures(automatic),
        "answers": answers,
        "expected": expected,
        "by_hand": given,
        **notes,
    }


def _figures(mark: Mark) -> dict:
    return {
        "points": mark.points,
        "out_of": mark.out_of,
        "outcome": mark.outcome,
        "wrong_ideas": list(mark.wrong_ideas),
    }


def _automatic(one: dict | None) -> dict | None:
    return one and one["automatic"]


def _same_answer(one: dict | None, other: dict | None) -> bool:
    return bool(one and other) and same_answers(one["answers"], other["answers"])


def note_marks(log: Log, results: ClassResults, reason_by_hand: Callable[[str, str], str]) -> list[dict]:
    """Add to the log every mark that differs from what it said last, with the reason.

    Parameters: ``log`` of the class; ``results`` the class as it stands; ``reason_by_hand`` from student and
    question to why points were given by hand, where that is known, or "".
    Returns: the entries that were added, first markings among them.
    """
    entries = []
    handed_in = {(one.student, one.homework) for one in results.hand_ins}
    known = {(student, homework) for student, homework, _ in log.marks}
    for hand_in in results.hand_ins:
        pair = hand_in.student, hand_in.homework
        for question, new in hand_in.states.items():
            old = log.marks.get((*pair, question))
            if old == new:
                continue
            if old:
                reason, held = _why(old, new, reason_by_hand(hand_in.student, question))
            else:
                reason, held = (ADDED, True) if pair in known else (FIRST, False)
            entries.append(_entry((*pair, question), old, new, reason, held))
    present = {(one.student, one.homework, question) for one in results.hand_ins for question in one.states}
    for key, old in log.marks.items():
        if key[:2] in handed_in and key not in present:
            entries.append(_entry(key, old, None, "the question is no longer in this homework", True))
    log.add(entries)
    return entries


def _entry(key: Key, old: dict | None, new: dict | None, reason: str, held: bool) -> dict:
    student, homework, question = key
    return {
        "kind": "mark",
        "student": student,
        "homework": homework,
        "question": question,
        "reason": reason,
        "held": held,
        "old": old and {name: old[name] for name in ("points", "out_of", "outcome", "wrong_ideas")},
        "new": new,
    }


def is_another(entry: dict) -> bool:
    """Tell whether a mark that was there before is another now, and not only what is kept with it.

    Parameters: ``entry`` of the log.
    Returns: whether points, points to be had, outcome or wrong ideas differ.
    """
    old, new = entry["old"], entry["new"]
    return bool(old) and (not new or any(old[name] != new[name] for name in old))


def in_points(one: dict | None) -> str:
    """Say a mark in short.

    Parameters: ``one`` as the log keeps it; None or empty where there is none.
    Returns: for example "1.5 of 2 (nearly)".
    """
    if not one:
        return "no mark"
    return f"{one['points']:g} of {one['out_of']:g} ({one['outcome'].replace('_', ' ')})"


def _why(old: dict, new: dict, by_hand: str) -> tuple[str, bool]:
    """Say why a mark is another, and whether the question is the cause (then its page waits)."""
    reasons, held = [], False
    anew = not same_answers(old["answers"], new["answers"])
    if anew:
        reasons.append(NEW_ANSWER)
    elif old["automatic"] != new["automatic"]:
        held = True
        reasons.append(_about_the_question(old, new))
    if old["by_hand"] != new["by_hand"]:
        given = "points were given by hand"
        if new["by_hand"] is None:
            given = "its points are to be given anew" if anew else "points by hand were taken back"
        reasons.append(f"{given} ({by_hand})" if by_hand else given)
    for note, gone in (("dropped", "the question counts again"), ("late", "coming late costs nothing here")):
        if old[note] != new[note]:
            reasons.append(new[note] or gone)
    if not reasons and set(old["answers"]) != set(new["answers"]):
        reasons.append(_builds_on(old, new))
    return "; ".join(reasons) or "only the words of what is expected changed", held


def _about_the_question(old: dict, new: dict) -> str:
    points = old["automatic"]["out_of"], new["automatic"]["out_of"]
    reasons = []
    if points[0] != points[1]:
        reasons.append(f"the question counts {points[1]:g} points, before {points[0]:g}")
    if old["expected"] != new["expected"]:
        reasons.append(f"expected is {new['expected']}, before {old['expected']}")
    if set(old["answers"]) != set(new["answers"]):
        reasons.append(_builds_on(old, new))
    return "; ".join(reasons) or "the question's wrong ideas, or how it is marked, changed"


def _builds_on(old: dict, new: dict) -> str:
    """Say on which other questions a question builds that it did not build on before, and the other way."""
    before, now = set(old["answers"]), set(new["answers"])
    more, fewer = sorted(now - before), sorted(before - now)
    parts = [f"it builds on {', '.join(more)} now"] * bool(more)
    parts += [f"it builds on {', '.join(fewer)} no more"] * bool(fewer)
    return " and ".join(parts)
