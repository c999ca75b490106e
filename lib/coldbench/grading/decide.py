"""What the instructor decides after marking: extensions, dropped questions, cost of coming late, regrades.

Inside: `extend`, `drop`, `late`, `regrade` (each a change with a number), `undo` of any of them, `release` of
pages that wait because a question changed, and `tell_changes`. All of them are kept in the log of marks; none
takes effect anywhere else, except that a regrade opens its question in the gradebook's form.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, time
from pathlib import Path

from coldbench.errors import CannotRead, CannotStart
from coldbench.grading import evening
from coldbench.grading.alone import alone
from coldbench.grading.changes import Decisions, described
from coldbench.grading.class_files import is_class_folder
from coldbench.grading.class_marking import enter_again
from coldbench.grading.course_files import Course
from coldbench.grading.gradebook import Gradebook
from coldbench.grading.marks_log import Log
from coldbench.grading.plain_text import one_line
from coldbench.grading.roster import read_due, read_roster
from coldbench.homework.sheet import student_number


class Desk:
    """One class, to decide something about it.

    Parameters: ``class_folder`` of a class that was marked; ``source`` the project's folder; ``say`` takes
    each line for the instructor.
    Raises: `CannotStart` when nothing was marked in this folder yet.
    """

    def __init__(self, class_folder: Path, source: Path, say: Callable = print):
        if not is_class_folder(class_folder):
            raise CannotStart(f"Nothing was marked in {class_folder} yet. Run “coldbench mark” first.")
        self.class_folder, self.course, self.say = class_folder, Course(source), say
        self.roster = read_roster(class_folder / "roster.csv")

    def extend(self, student: str, homework: str, until: str, reason: str = "") -> int:
        """Give one student more time for one homework.

        Parameters: ``student``, ``homework`` who and which; ``until`` a date (then to its end) or a date with
        a time, as in due.csv; ``reason`` in your words.
        Returns: 0 done; 1 done, and changed marks wait for release.
        Raises: `CannotStart` when the student, the homework or the date is none.
        """
        try:
            due = datetime.fromisoformat(until.strip())
        except ValueError:
            raise CannotStart(
                f"“{until}” is no date. Write it as 2027-03-01, or with a time as “2027-03-01 18:00”."
            ) from None
        if len(until.strip()) <= 10:
            due = datetime.combine(due, time(23, 59, 59))
        what = {"student": self._student(student), "homework": self._homework(homework)}
        return self._change({"what": "extension", **what, "due": due.astimezone(UTC).isoformat()}, reason)

    def drop(self, question: str, reason: str = "") -> int:
        """Let a question count for nobody.

        Parameters: ``question`` its id; ``reason`` in your words; the students read it.
        Returns: 0 done; 1 done, and changed marks wait for release.
        Raises: `CannotStart` when there is no such question.
        """
        homework = self._homework_with(question)
        return self._change({"what": "drop", "homework": homework, "question": question}, reason)

    def late(
        self,
        homework: str,
        percent_a_day: float,
        at_most: float = 100.0,
        free_days: int = 0,
        reason: str = "",
    ) -> int:
        """Say what coming late with a homework costs.

        Parameters: ``homework`` its number; ``percent_a_day`` of the points for each day that began;
        ``at_most`` so many percent in all; ``free_days`` that cost nothing; ``reason`` in your words.
        Returns: 0 done; 1 done, and changed marks wait for release.
        Raises: `CannotStart` when there is no such homework or a number makes no sense.
        """
        if not (0 <= percent_a_day <= 100 and 0 <= at_most <= 100 and free_days >= 0):
            raise CannotStart("Percents lie from 0 to 100, and free days are 0 or more.")
        what = {"percent_a_day": percent_a_day, "at_most": at_most, "free_days": free_days}
        number, times = self._homework(homework), self.class_folder / "due.csv"
        if number not in read_due(times):
            self.say(f"{times} does not say yet when homework {number} is due: write it there.")
        return self._change({"what": "late", "homework": number, **what}, reason)

    def regrade(self, student: str, question: str, reason: str, points: float | None = None) -> int:
        """Note that a student asks to look again; give points at once, or later in the form.

        Parameters: ``student``, ``question`` who and which; ``reason`` what the student says; ``points`` to
        decide at once, or None to open the question in the form.
        Returns: 0 done; 1 done, and changed marks wait for release.
        Raises: `CannotStart` when there is no such hand-in, or the points are more than the question has.
        """
        student, homework = self._student(student), self._homework_with(question)
        out_of = self.course.homework(homework).declaration.questions[question].points
        if points is not None and not 0 <= points <= out_of:
            raise CannotStart(f"Question {question} has {out_of:g} points; give 0 to {out_of:g}.")
        cell = f"homework-{homework}", student, question
        with alone(self.class_folder), Gradebook(self.class_folder) as gradebook:
            before, was_open = gradebook.points_by_hand(*cell)
            entry = {
                "what": "regrade",
                "student": student,
                "homework": homework,
                "question": question,
                "points": points,
                "before": before,
                "was_open": was_open,
            }
            self._write(entry, reason)
            gradebook.give_by_hand(*cell, before if points is None else points, points is None)
        return self._pages([])

    def undo(self, number: int | None = None) -> int:
        """Take a change back.

        Parameters: ``number`` of the change; None takes the latest that stands.
        Returns: 0 done; 1 done, and changed marks wait for release.
        Raises: `CannotStart` when there is no such change.
        """
        with alone(self.class_folder):
            standing = {entry["number"]: entry for entry in self._decisions().standing}
            if not standing:
                raise CannotStart("There is no change to undo.")
            number = max(standing) if number is None else number
            if number not in standing:
                listed = ", ".join(map(str, standing))
                raise CannotStart(f"There is no change {number} to undo. These can be undone: {listed}.")
            entry = standing[number]
            if entry["what"] == "regrade":  # first: whoever is stopped here can undo it once more
                cell = f"homework-{entry['homework']}", entry["student"], entry["question"]
                with Gradebook(self.class_folder) as gradebook:
                    gradebook.give_by_hand(*cell, entry["before"], entry["was_open"])
            Log(self.class_folder, "undo").add([{"kind": "undo", "number": number}])
        self.say(f"Undone: change {number}, {described(entry)}.")
        return self._pages([entry["homework"]] if entry["what"] == "drop" else [])

    def release(self, homework: str | None = None) -> int:
        """Let students see marks that changed because a question changed.

        Parameters: ``homework`` one homework's number; None takes all.
        Returns: 0 done; 1 done, and changed marks wait for release.
        Raises: `CannotStart` when there is no such homework.
        """
        homeworks = self.course.numbers if homework is None else [self._homework(homework)]
        with alone(self.class_folder):
            log = Log(self.class_folder, "release")
            count = sum(key[1] in homeworks for key in log.waiting)
            if count:
                log.add([{"kind": "release", "homeworks": homeworks}])
        self.say(f"Changed marks released: {count}.")
        return self._pages([])

    def tell_changes(self) -> int:
        """List every change, and which were undone.

        Returns: 0.
        """
        decisions = self._decisions()
        for entry in decisions.every:
            undone = "" if entry in decisions.standing else " [undone]"
            when = datetime.fromisoformat(entry["time"]).astimezone()
            self.say(f"{entry['number']:3d}  {when:%Y-%m-%d %H:%M}  {described(entry)}{undone}")
        if not decisions.every:
            self.say("Nothing was changed yet.")
        return 0

    def _decisions(self) -> Decisions:
        return Decisions(Log(self.class_folder), read_due(self.class_folder / "due.csv"))

    def _change(self, what: dict, reason: str) -> int:
        with alone(self.class_folder):
            self._write(what, reason)
        return self._pages([what["homework"]] if what["what"] == "drop" else [])

    def _write(self, what: dict, reason: str) -> None:
        number = max((entry["number"] for entry in self._decisions().every), default=0) + 1
        entry = {"kind": "change", "number": number, **what, "reason": one_line(reason).rstrip(".")}
        Log(self.class_folder, "change").add([entry])
        self.say(f"Change {number}: {described(entry)}.")
        self.say(f"To take it back:\n    {evening.command_line('undo', self.class_folder)} {number}")

    def _pages(self, homeworks: list[str]) -> int:
        """Write pages, tables and log again; enter the marks of these homeworks in the gradebook again."""
        with alone(self.class_folder):
            enter_again(homeworks, self.class_folder, self.course, self.roster, self._decisions())
        return evening.report(self.class_folder, self.course.source, self.say, brief=True)

    def _student(self, raw: str) -> str:
        try:
            number = student_number(raw)
        except CannotRead as refusal:
            raise CannotStart(str(refusal)) from refusal
        if number not in self.roster:
            raise CannotStart(f"{number} is not in {self.class_folder / 'roster.csv'}.")
        return number

    def _homework(self, raw: str) -> str:
        number = raw.strip().removeprefix("homework-").zfill(2)
        if number not in self.course.numbers:
            raise CannotStart(f"There is no homework {raw}. There are: {', '.join(self.course.numbers)}.")
        return number

    def _homework_with(self, question: str) -> str:
        homework = self._homework(question.partition(".")[0])
        questions = self.course.homework(homework).declaration.questions
        if question not in questions:
            raise CannotStart(
                f"Homework {homework} has no question {question}. It has: {', '.join(questions)}."
            )
        return homework
