"""Seconds a hand-in: our evening beside the plain autograding of the same notebooks, in one run.

Run by hand: ``python tests/studies/benchmark_marking.py [hand-ins, 12 when left out]``. Homework 05 as
released, answered by students who typed plain values; both read the same files on the same machine.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

SOURCE = Path(__file__).resolve().parents[2]
NAME = "homework-05"


def fill_in(student: str) -> str:
    """The released notebook with an answer typed into every cell."""
    tree = json.loads((SOURCE / "exercises" / NAME / f"{NAME}.ipynb").read_text(encoding="utf-8"))
    for cell in tree["cells"]:
        text = "".join(cell["source"])
        cell["source"] = text.replace("student(...)", f'student("{student}")').replace(
            ", ...)", ', "61.5 degF")'
        )
    return json.dumps(tree)


def seconds(task) -> float:
    """How long a task takes [s]."""
    began = time.perf_counter()
    task()
    return time.perf_counter() - began


def main() -> None:
    """Print the seconds of a first evening, of a second one, and of the plain way."""
    from coldbench.grading import evening, warm
    from coldbench.grading.box import run_in_box
    from coldbench.grading.form import write_configuration

    count = int(sys.argv[1]) if len(sys.argv) > 1 else 12
    with tempfile.TemporaryDirectory() as name:
        ours, plain, handed_in = Path(name, "ours"), Path(name, "plain"), Path(name, "in")
        lines = ["student,name"]
        for student in (f"s{n:02d}" for n in range(1, count + 1)):
            for folder in (handed_in / student, plain / "hand-ins" / student / NAME):
                folder.mkdir(parents=True)
                (folder / f"{NAME}.ipynb").write_text(fill_in(student), encoding="utf-8")
                (folder / "sheet.json").write_bytes((SOURCE / "exercises" / NAME / "sheet.json").read_bytes())
            lines.append(f"{student},Student {student}")
        ours.mkdir()
        (ours / "roster.csv").write_text("\n".join(lines), encoding="utf-8")
        write_configuration(plain, SOURCE)

        def evening_once() -> None:
            evening.mark(handed_in, ours, SOURCE, lambda line: None)

        search = os.pathsep.join([str(Path(sys.executable).parent), os.environ["PATH"]])
        environment = {**os.environ, "PATH": search}

        def plain_way(*words: str) -> None:
            command = [sys.executable, "-m", "nbgrader", *words]
            subprocess.run(command, cwd=plain, check=True, capture_output=True, env=environment)

        configuration = plain / "nbgrader_config.py"
        lines = [
            line
            for line in configuration.read_text().splitlines()
            if "Autograde" not in line and "Execute" not in line
        ]
        configuration.write_text("\n".join([*lines, "c.CourseDirectory.release_directory = 'release'"]))
        plain_way("generate_assignment", NAME, "--create")
        first, second = seconds(evening_once), seconds(evening_once)
        theirs = seconds(lambda: plain_way("autograde", NAME, "--create"))
        notebook = (handed_in / "s01" / f"{NAME}.ipynb").read_bytes()
        sheet = (handed_in / "s01" / "sheet.json").read_bytes()
        warm_box = sorted(run_in_box(notebook, sheet).seconds for _ in range(9))[4]
        warm._run = lambda *_: None
        fresh_box = sorted(run_in_box(notebook, sheet).seconds for _ in range(9))[4]
    print(f"{count} hand-ins of {NAME}")
    print(f"our evening, pages and report included: {first:6.1f} s, {first / count:.2f} s a hand-in")
    print(f"our evening again, nothing changed:     {second:6.1f} s, {second / count:.2f} s a hand-in")
    print(f"plain autograding, no pages:            {theirs:6.1f} s, {theirs / count:.2f} s a hand-in")
    print(f"one box by a warm parent, median of 9:  {warm_box:6.3f} s")
    print(f"one box made afresh, median of 9:       {fresh_box:6.3f} s")
    print(f"ratio plain to ours: {theirs / first:.1f}")


if __name__ == "__main__":
    main()
