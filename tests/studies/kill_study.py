"""A marking that is killed at random moments: does a second run complete it, with nothing lost or doubled?

Run by hand: ``python tests/studies/kill_study.py [kills, 50 when left out]``. A class that was marked before,
with points and words given by hand, gets new hand-ins and a new version of an old one. Each time the marking
is killed (SIGKILL, no last words) somewhere between its start and its end; the gradebook is checked as it
lies there; then the marking runs again to its end, and everything is compared with an undisturbed run.
"""

from __future__ import annotations

import json
import os
import random
import shutil
import signal
import sqlite3
import subprocess
import sys
import tempfile
import time
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path

TESTS = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(TESTS))

from grading.small_class import SmallClass, explained  # noqa: E402
from grading.small_course import fill_in, hand_in, make_course, right  # noqa: E402

NAME = "homework-05"
MARK = (
    "import sys; from pathlib import Path; from coldbench.grading import evening; "
    "evening.mark(*map(Path, sys.argv[1:]))"
)
NEW = ("s10", "s11", "s12", "s13")
BY_HAND = ("s07", "05.4", 2.5, "Nearly all of it.")


class Class(SmallClass):
    """The class as it was before tonight, and tonight's hand-ins."""

    def __init__(self, place: Path):
        super().__init__(place, make_course(place / "course"))
        with (self.folder / "roster.csv").open("a", encoding="utf-8") as roster:
            roster.writelines(f"\n{student},Student {student}" for student in NEW)
        for student in ("s07", "s08", "s09"):
            os.utime(self.hand_in(student), (1.7e9, 1.7e9))
        self.run()
        self.give(*BY_HAND)
        for student in NEW:
            os.utime(self.hand_in(student, question_3="B"), (1.75e9, 1.75e9))
        newer = right(self.course, "s08", "Another reason.") | {"05.3": "B"}
        content = fill_in(self.course, "s08", newer)
        os.utime(hand_in(self.hand_ins, f"s08/{NAME}.ipynb", content), (1.75e9, 1.75e9))

    def copy(self, place: Path) -> SmallClass:
        """The same evening in a copy of the class folder."""
        other = object.__new__(SmallClass)
        other.hand_ins, other.course = self.hand_ins, self.course
        other.folder = Path(shutil.copytree(self.folder, place))
        return other


def start(small: SmallClass, temporary: Path) -> subprocess.Popen:
    """Start marking in a process of its own."""
    command = [sys.executable, "-c", MARK, str(small.hand_ins), str(small.folder), str(small.course)]
    environment = {**os.environ, "TMPDIR": str(temporary)}
    return subprocess.Popen(
        command, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, start_new_session=True, env=environment
    )


def integrity(small: SmallClass) -> str:
    """What the database says of itself; "ok" is all well."""
    (path,) = small.folder.glob("*.db")
    with sqlite3.connect(path) as database:
        return database.execute("PRAGMA integrity_check").fetchone()[0]


def gradebook(small: SmallClass) -> list[tuple]:
    """Every grade and comment, and whose: as plain rows."""
    rows = []
    with small.open_gradebook() as book:
        for submission in book.assignment_submissions(NAME):
            for notebook in submission.notebooks:
                words = sorted((one.name, one.auto_comment, one.manual_comment) for one in notebook.comments)
                rows.append((submission.student.id, str(submission.timestamp), words))
                rows += [
                    (
                        submission.student.id,
                        one.name,
                        one.auto_score,
                        one.manual_score,
                        one.needs_manual_grade,
                    )
                    for one in notebook.grades
                ]
    return sorted(rows, key=str)


def files(small: SmallClass) -> dict[str, bytes]:
    """Everything else that the class folder holds, except the log, whose times differ, and the database."""
    return {
        str(path.relative_to(small.folder)): path.read_bytes()
        for path in small.folder.rglob("*")
        if path.is_file() and path.suffix not in (".db", ".jsonl")
    }


def log_of_marks(small: SmallClass) -> list:
    """Which marks the log saw come and change, without times: doubled ones would show."""
    entries = [entry for entry in small.log() if entry["kind"] == "mark"]
    return sorted(
        json.dumps([entry[name] for name in ("student", "question", "old", "new", "reason")])
        for entry in entries
    )


@dataclass
class Found:
    """What the study counted."""

    kills: int = 0
    finished_before: int = 0
    phases: Counter = field(default_factory=Counter)
    faults: list[str] = field(default_factory=list)


def phase(small: SmallClass) -> str:
    """How far it had come when it was killed."""
    records = len(list((small.folder / "marks").glob("*/05.json")))
    if len({entry["student"] for entry in small.log() if entry["kind"] == "mark"}) > 3:
        return "writing pages"
    if records > 3:
        return "recording marks"
    return "running boxes" if (small.folder / "hand-ins" / NEW[-1]).is_dir() else "before taking in"


def study(kills: int, seed: int = 5) -> Found:
    """Kill so many times; give what was found."""
    rng, found = random.Random(seed), Found()  # noqa: S311
    with tempfile.TemporaryDirectory(prefix="kill-study-") as name:
        place, temporary = Path(name), Path(name, "temporary")
        temporary.mkdir()
        evening = Class(place)
        undisturbed = evening.copy(place / "killed")
        began = time.perf_counter()
        start(undisturbed, temporary).communicate()
        whole = time.perf_counter() - began
        expected = everything(undisturbed)
        shutil.rmtree(undisturbed.folder)
        while found.kills < kills and found.finished_before < 10 * kills:
            small = evening.copy(place / "killed")
            process = start(small, temporary)
            time.sleep(rng.uniform(0.0, 1.1 * whole))
            if process.poll() is None:
                os.killpg(process.pid, signal.SIGKILL)
                found.kills += 1
                found.phases[phase(small)] += 1
            else:
                found.finished_before += 1
            process.communicate()
            found.faults += [f"kill {found.kills}: {fault}" for fault in after(small, temporary, expected)]
            shutil.rmtree(small.folder)
    return found


def everything(small: SmallClass) -> dict:
    """All that must be the same however often it was killed."""
    return {"files": files(small), "gradebook": gradebook(small), "log": log_of_marks(small)}


def after(small: SmallClass, temporary: Path, expected: dict) -> list[str]:
    """Look at what a kill left, mark again, and say what is not as it should be."""
    faults = [f"gradebook: {said}" for said in [integrity(small)] if said != "ok"]
    again = start(small, temporary)
    complaint = again.communicate()[1].decode()
    if again.returncode:
        return [*faults, f"the second run stopped: {complaint[-300:]}"]
    for what, is_now in everything(small).items():
        if is_now != expected[what]:
            faults.append(f"{what} differ: {differences(is_now, expected[what])}")
    points = {key: float(row["points"]) for key, row in small.marks().items()}
    if points != {key: mark[0] for key, mark in explained(small.log()).items()}:
        faults.append("the log does not explain the marks")
    student, question, given, words = BY_HAND
    if points[student, question] != given or words not in small.page(student):
        faults.append("points or words given by hand are gone")
    if left := [path.name for path in temporary.glob("coldbench-box-*")]:
        faults.append(f"left behind: {left}")
    return faults


def differences(one, other) -> str:
    """Name a few of the things that differ."""
    if isinstance(one, dict):
        names = [name for name in {**one, **other} if one.get(name) != other.get(name)]
        return ", ".join(names[:5])
    return "; ".join(str(line) for line in one if line not in other)[:400] or "some are missing or doubled"


def main() -> None:
    """Print what was found."""
    found = study(int(sys.argv[1]) if len(sys.argv) > 1 else 50)
    print(f"killed {found.kills} times ({found.finished_before} runs were over before)")
    for name, count in found.phases.most_common():
        print(f"  {name}: {count}")
    print(f"faults: {len(found.faults)}")
    for fault in found.faults:
        print(f"  {fault}")


if __name__ == "__main__":
    main()
