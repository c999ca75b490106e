"""A class of 300: how long the evening takes, what memory it needs, and where both go.

Run by hand: ``python tests/studies/large_class_study.py [students, 300 when left out]``. Homework 05 as it is
released; every student works with the own numbers, a third with those of the next one in the roster, a third
types the same for everything (so that everybody's numbers have to be compared). Memory is that of the marking
process; boxes come and go beside it.
"""

from __future__ import annotations

import json
import os
import sys
import tempfile
import threading
import time
from pathlib import Path

SOURCE = Path(__file__).resolve().parents[2]
HOMEWORK = "05"
NAME = f"homework-{HOMEWORK}"


def answers_for(course, student: str) -> dict[str, object]:
    """Right answers, as a student would type them, from the keys; a word for what is no number."""
    from coldbench.grading.fits import Keys
    from coldbench.homework.kinds import Number

    files = course.homework(HOMEWORK)
    questions = files.declaration.questions
    answers = {}
    for question, key in Keys(files).of(student).items():
        kind = questions[question].kind
        answers[question] = f"{kind.in_unit(key):.6g} {kind.unit}" if isinstance(kind, Number) else key
    return answers


def fill_in(released: dict, student: str, answers: dict[str, object] | None) -> str:
    """The released notebook with these answers, or with one answer for everything."""
    tree = json.loads(json.dumps(released))
    for cell in tree["cells"]:
        text = "".join(cell["source"]).replace("student(...)", f'student("{student}")')
        question = cell["id"].removeprefix("question-").replace("-", ".")
        value = "61.5 degF" if answers is None else answers.get(question, "Because it is cold.")
        cell["source"] = text.replace(", ...)", f", {value!r})")
    return json.dumps(tree)


def make_class(place: Path, count: int) -> None:
    """Write the hand-ins and the roster."""
    from coldbench.grading.course_files import Course

    course = Course(SOURCE)
    released = json.loads((SOURCE / "exercises" / NAME / f"{NAME}.ipynb").read_text(encoding="utf-8"))
    students = [f"s{number:03d}" for number in range(1, count + 1)]
    for number, student in enumerate(students):
        kinds = (answers_for(course, student), answers_for(course, students[number - 1]), None)
        folder = place / student
        folder.mkdir(parents=True)
        text = fill_in(released, student, kinds[number % 3])
        (folder / f"{NAME}.ipynb").write_text(text, encoding="utf-8")
    lines = ["student,name", *(f"{student},Student {student}" for student in students)]
    (place / "roster.csv").write_text("\n".join(lines), encoding="utf-8")


def resident() -> float:
    """Memory of this process [MB]."""
    pages = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[1])
    return pages * os.sysconf("SC_PAGE_SIZE") / 1e6


class Watch:
    """Notes memory against hand-ins recorded, while the marking runs."""

    def __init__(self, folder: Path):
        self.folder, self.notes, self.over = folder, [], threading.Event()
        self.thread = threading.Thread(target=self._look, daemon=True)
        self.thread.start()

    def _look(self) -> None:
        while not self.over.wait(1.0):
            self.notes.append((len(list((self.folder / "marks").glob("s*"))), resident()))

    def close(self) -> list[tuple[int, float]]:
        self.over.set()
        self.thread.join()
        return self.notes


def main() -> None:
    """Print seconds and memory."""
    from coldbench.grading import evening

    count = int(sys.argv[1]) if len(sys.argv) > 1 else 300
    with tempfile.TemporaryDirectory() as name:
        handed_in, folder = Path(name, "in"), Path(name, "class")
        make_class(handed_in, count)
        print(f"{count} hand-ins of {NAME}; {os.cpu_count()} cores")
        for what in ("first marking", "again, nothing changed"):
            watch, began, said = Watch(folder), time.perf_counter(), []
            evening.mark(handed_in, folder, SOURCE, said.append)
            seconds, notes = time.perf_counter() - began, watch.close()
            print(f"{what}: {seconds:.1f} s, {seconds / count:.3f} s a hand-in")
            while len(notes) > 8:
                notes = [*notes[:-1:2], notes[-1]]
            print("  memory at hand-ins recorded: " + ", ".join(f"{n}: {mb:.0f} MB" for n, mb in notes))
        fits = sum('"fits_student": "' in path.read_text() for path in (folder / "marks").glob("s*/*.json"))
        print(f"answers that fit another student's numbers: {fits} of {count // 3} who used them")
        print(f"log: {(folder / 'log.jsonl').stat().st_size / 1e6:.2f} MB")


if __name__ == "__main__":
    main()
