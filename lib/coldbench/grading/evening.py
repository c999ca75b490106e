"""The instructor's evening: hand-ins in, marks with reasons out.

Inside: `mark` (a folder of hand-ins), `report` (the pages again, after sentences were marked by hand),
`invented_class` (the whole evening on 24 invented students). Each gives 0 when all is done, 1 when it is
done with troubles listed; what cannot start is a `CannotStart` with a sentence. Whoever is killed on the way
starts again: every step finds what is done already.
"""

from __future__ import annotations

import hashlib
import importlib.util
import json
import os
import shlex
import shutil
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from coldbench.errors import CannotStart
from coldbench.grading import intake as intakes
from coldbench.grading.alone import alone
from coldbench.grading.changes import Decisions
from coldbench.grading.class_files import CHANGES, REPORT, handed_in, is_class_folder, load_class, write_pages
from coldbench.grading.class_marking import mark_hand_ins, record_path
from coldbench.grading.class_report import WITH_NAMES, WITHOUT_NAMES
from coldbench.grading.course_files import Course
from coldbench.grading.form import write_configuration
from coldbench.grading.full_disk import told_when_full
from coldbench.grading.marks_log import FILE as LOG
from coldbench.grading.marks_log import Log, Waiting, in_points, is_another, note_marks
from coldbench.grading.plain_text import one_line
from coldbench.grading.results import ClassResults, read_record, write_if_changed
from coldbench.grading.roster import read_due, read_roster

TROUBLES = "marks/troubles.json"
INVENTED = "invented-class.txt"
MOST_LINES = 60
"""So many lines of changed marks are said; more than a screen or two nobody reads there."""


def mark(hand_ins: Path, class_folder: Path, source: Path, say: Callable = print) -> int:
    """Mark a folder of hand-ins: take in, run apart, mark, enter, write feedback and report.

    Parameters
    ----------
    hand_ins : Path
        Folder with students' folders, loose notebooks or zip files, or one zip file; never touched
    class_folder : Path
        The class folder, with ``roster.csv`` in it (or in ``hand_ins``); made where there is none
    source : Path
        The project's folder
    say : callable
        Takes each line for the instructor

    Returns
    -------
    int
        0 done; 1 done, with troubles listed [-]

    Raises
    ------
    CannotStart
        There are no hand-ins, no roster or no homework, or the class is being marked already.

    Source
    ------
    Arrangement of this project.
    """
    if not hand_ins.exists():
        raise CannotStart(f"There is no {hand_ins}. Give the folder (or the zip file) with the hand-ins.")
    if hand_ins.resolve() == class_folder.resolve():
        raise CannotStart(
            f"{hand_ins} is the class folder itself. Keep hand-ins in a folder of their own, for example "
            f"{class_folder / 'handed-in'}."
        )
    course = Course(source)
    with alone(class_folder):
        own_roster = class_folder / "roster.csv"
        if not own_roster.is_file() and (hand_ins / "roster.csv").is_file():
            write_if_changed(own_roster, (hand_ins / "roster.csv").read_bytes())
            say(f"The roster was copied to {own_roster}.")
        roster, due = read_roster(own_roster), read_due(class_folder / "due.csv")
        write_configuration(class_folder, course.source)
        say(f"Taking in hand-ins from {hand_ins}.")
        intake = intakes.take_in(hand_ins, class_folder, roster, set(course.numbers))
        taken = [
            intake.taken.get(pair) or intakes.TakenIn(*pair, _earlier_troubles(class_folder, *pair))
            for pair in handed_in(class_folder, roster, course.numbers)
        ]
        say(f"Running and marking {_count(len(taken), 'hand-in')}, each apart from everything else.")
        log = Log(class_folder, "mark")
        decisions = Decisions(log, due)
        unmarked = mark_hand_ins(taken, class_folder, course, roster, log, decisions)
        troubles = [*intake.troubles, *unmarked]
        write_if_changed(class_folder / TROUBLES, (json.dumps(troubles, indent=1) + "\n").encode())
        evening = _write(class_folder, course, roster, log, decisions, troubles)
    return _tell(evening, class_folder, say)


def report(class_folder: Path, source: Path, say: Callable = print, brief: bool = False) -> int:
    """Write feedback pages, class report and tables again, with the points that were given by hand since.

    Parameters
    ----------
    class_folder : Path
        The class folder
    source : Path
        The project's folder
    say : callable
        Takes each line for the instructor
    brief : bool
        Whether only marks that changed are said, not the troubles of hand-ins

    Returns
    -------
    int
        0 done; 1 done, with troubles listed [-]

    Raises
    ------
    CannotStart
        Nothing was marked in this folder yet, or it is being marked now.

    Source
    ------
    Arrangement of this project.
    """
    if not is_class_folder(class_folder):
        raise CannotStart(f"Nothing was marked in {class_folder} yet. Run “coldbench mark” first.")
    course = Course(source)
    roster, due = read_roster(class_folder / "roster.csv"), read_due(class_folder / "due.csv")
    with alone(class_folder):
        log = Log(class_folder, "report")
        evening = _write(class_folder, course, roster, log, Decisions(log, due), kept_troubles(class_folder))
    if brief:
        say("Pages, report and tables are written again." + ("" if evening.changed else " No mark changed."))
        return _tell_changes(evening, class_folder, say)
    return _tell(evening, class_folder, say)


def mark_again(class_folder: Path, source: Path, student: str, homework: str) -> None:
    """Mark one hand-in that lies in the class folder, as nbgrader's own button asks for.

    Parameters
    ----------
    class_folder : Path
        The class folder
    source : Path
        The project's folder
    student, homework : str
        For example "s07", "05"

    Raises
    ------
    CannotStart
        The student is not in the roster, the hand-in cannot be marked, or the class is being marked now.

    Source
    ------
    Arrangement of this project.
    """
    course = Course(source)
    roster, due = read_roster(class_folder / "roster.csv"), read_due(class_folder / "due.csv")
    if student not in roster or homework not in course.numbers:
        raise CannotStart(f"{student} is not in the roster, or there is no homework {homework}.")
    with alone(class_folder):
        log = Log(class_folder, "mark")
        decisions = Decisions(log, due)
        one = intakes.TakenIn(student, homework, _earlier_troubles(class_folder, student, homework))
        unmarked = mark_hand_ins([one], class_folder, course, roster, log, decisions)
        if unmarked:
            raise CannotStart(unmarked[0])
        _write(class_folder, course, roster, log, decisions, kept_troubles(class_folder))


@dataclass(frozen=True)
class _Evening:
    """What came of it: the class, the marks that are others than before, and those that wait for release."""

    results: ClassResults
    changed: list[dict]
    waiting: list[Waiting]


def _write(
    class_folder: Path,
    course: Course,
    roster: dict[str, str],
    log: Log,
    decisions: Decisions,
    troubles: list[str],
) -> _Evening:
    """Read the class as it stands, note in the log what is another, and write pages and tables."""
    results = load_class(class_folder, course, roster, decisions, troubles)
    noted = note_marks(log, results, decisions.why_by_hand)
    waiting = sorted(log.waiting.values(), key=lambda one: (one.question, one.student))
    write_pages(class_folder, results, course, waiting)
    changed = [entry for entry in noted if not entry["held"] and is_another(entry)]
    return _Evening(results, changed, waiting)


def invented_class(class_folder: Path, source: Path, say: Callable = print) -> int:
    """Run the whole evening on the invented class, to see what it gives before a class depends on it.

    Parameters
    ----------
    class_folder : Path
        Where the invented class is put
    source : Path
        The project's folder
    say : callable
        Takes each line for the instructor

    Returns
    -------
    int
        0 done; 1 done, with troubles listed (the invented class has six troubled hand-ins) [-]

    Raises
    ------
    CannotStart
        The folder holds something else, or the project has no invented class.

    Source
    ------
    Arrangement of this project.
    """
    maker = source / "solutions" / "invented_class.py"
    if not maker.is_file():
        raise CannotStart(f"There is no {maker}. Run it from the whole project.")
    made_from = hashlib.sha256(maker.read_bytes())
    for path in sorted((source / "exercises").glob("homework-??/*")):
        made_from.update(path.read_bytes())
    note, target = class_folder / INVENTED, class_folder / "handed-in"
    if class_folder.is_dir() and any(class_folder.iterdir()) and not note.is_file():
        raise CannotStart(f"{class_folder} holds something else. Name another place with --class-folder.")
    with told_when_full(class_folder):
        if not note.is_file() or note.read_text(encoding="utf-8").strip() != made_from.hexdigest():
            shutil.rmtree(class_folder, ignore_errors=True)
            write_if_changed(note, b"being made\n")
            say(f"Inventing a class of students in {target}.")
            invented = _load(maker)
            invented.make_hand_ins(source / "exercises", target, execute=invented.in_this_process)
            write_if_changed(note, made_from.hexdigest().encode() + b"\n")
    return mark(target, class_folder, source, say)


def _load(path: Path):
    spec = importlib.util.spec_from_file_location("coldbench_invented_class", path)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def _earlier_troubles(class_folder: Path, student: str, homework: str) -> list[str]:
    """What was said about a hand-in when it came in, for one that is not among today's."""
    record = read_record(record_path(class_folder, student, homework))
    return record["intake"] if record else []


def kept_troubles(class_folder: Path) -> list[str]:
    """Read what the latest marking said about files that belong to no hand-in.

    Parameters: ``class_folder`` of a class that was marked.
    Returns: its sentences; none where they cannot be read.
    """
    try:
        return [str(one) for one in json.loads((class_folder / TROUBLES).read_text(encoding="utf-8"))]
    except (OSError, ValueError, TypeError):
        return []


def command_line(word: str, class_folder: Path) -> str:
    """Write a command of ours so that it works wherever it is typed or copied to.

    Parameters: ``word`` of the command; ``class_folder`` it is about.
    Returns: the line, quoted as a shell needs it.
    """
    words = [sys.executable, "-m", "coldbench.command", word, "--class-folder", str(class_folder.resolve())]
    return subprocess.list2cmdline(words) if os.name == "nt" else shlex.join(words)


def _count(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"


def _tell(evening: _Evening, class_folder: Path, say: Callable) -> int:
    """Say what came of it, troubles first to last, which marks changed, and where everything lies."""
    results, place = evening.results, class_folder.resolve()
    said: dict[tuple[str, str], list[str]] = {}
    for one in results.hand_ins:
        for trouble in one.troubles:
            said.setdefault((one.homework, trouble), []).append(f"{one.name} ({one.student})")
    troubled = [
        f"{', '.join(who)}, homework {homework}: {trouble}" for (homework, trouble), who in said.items()
    ]
    troubles = [*results.troubles, *troubled]
    say(f"{_count(len(results.hand_ins), 'hand-in')} marked, {_count(len(troubles), 'trouble')}.")
    for trouble in troubles:
        say(f"  - {one_line(trouble)}")
    changes_wait = _tell_changes(evening, class_folder, say)
    waiting = sum(one.waiting for hand_in in results.hand_ins for one in hand_in.marks)
    if waiting:
        say(
            f"{_count(waiting, 'sentence')} to read and mark by hand. This opens the form, and writes the "
            f"pages with your points when you close it:\n    {command_line('sentences', class_folder)}"
        )
    say(f"Class report: {place / REPORT / WITH_NAMES} (to show in class: {WITHOUT_NAMES})")
    say(f"Feedback pages: {place / 'feedback'}; marks as CSV: {place / 'marks.csv'}")
    return 1 if troubles else changes_wait


def _tell_changes(evening: _Evening, class_folder: Path, say: Callable) -> int:
    """Say whose marks changed and why, and whether some wait until they are released (then give 1)."""
    roster = evening.results.roster
    if evening.changed:
        say(f"{_count(len(evening.changed), 'mark')} changed:")
        changes = [
            (one["question"], one["old"], one["new"], one["reason"], one["student"])
            for one in evening.changed
        ]
        _list_changes(changes, roster, say)
    if evening.waiting:
        say(f"{_count(len(evening.waiting), 'mark')} changed because a question changed:")
        changes = [(one.question, one.before, one.now, one.reason, one.student) for one in evening.waiting]
        _list_changes(changes, roster, say)
        say(
            f"The students' pages with them stay as they were. {REPORT}/{CHANGES} has the list, too. Look it "
            f"through; then “coldbench release --class-folder {class_folder}” lets students see them."
        )
    return 1 if evening.waiting else 0


def _list_changes(changes: list[tuple], roster: dict[str, str], say: Callable) -> None:
    """Say whose marks changed, from what to what, and why; the same for many in one line."""
    same: dict[tuple[str, str], list[str]] = {}
    for question, old, new, reason, student in changes:
        line = f"{question}, {in_points(old)} → {in_points(new)}", reason
        same.setdefault(line, []).append(f"{roster.get(student, student)} ({student})")
    for count, ((what, reason), who) in enumerate(same.items()):
        if count == MOST_LINES:
            say(f"  … and {len(same) - count} lines more; {LOG} in the class folder has every one.")
            break
        say(f"  - {what}: {', '.join(who)}. Why: {reason}.")
