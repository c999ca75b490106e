"""A box of a container engine, for machines without bubblewrap (macOS, Windows).

Inside: `find_engine`; `run_by_engine`; `make_image`, the one slow step, done once and announced.

The engine is any program that understands the common command line (docker, podman). Nothing of this machine
is in the container's view: the hand-in goes in by standard input and the answers come out by standard output.
Its image holds Python, what the student's lock names and this library; its name holds their sum, so that
another version is another image.
"""

from __future__ import annotations

import contextlib
import hashlib
import itertools
import json
import os
import shutil
import subprocess
import sys
import tempfile
import threading
import time
from pathlib import Path

from coldbench.grading.box_order import Limits, Ran, another_user
from coldbench.grading.box_report import read_report
from coldbench.grading.boxed_place import BEGUN, BOX_HOME, FOLDER, OUT_OF_TIME, environment

ENGINES = ("docker", "podman")
CONTAINERFILE = """\
FROM docker.io/library/python:3.11-slim
COPY build.txt student.txt /locks/
RUN python -m pip install --no-cache-dir --require-hashes --no-deps -r /locks/build.txt && \\
    python -m pip install --no-cache-dir --require-hashes --no-deps --no-build-isolation -r /locks/student.txt
COPY coldbench /usr/local/lib/python3.11/site-packages/coldbench
RUN python -m compileall -q /usr/local/lib/python3.11/site-packages/coldbench && mkdir -m 1777 /hand-in
"""
"""Lines that every such engine can make an image from; the first names a public image of Python's own."""

PYTHON = ("python", "-I", "-B", "-X", "utf8", "-m", "coldbench.grading.boxed_container")
ANSWERS_SOON, STARTS_SOON, TRIES_AGAIN = 20.0, 30.0, 60.0
"""Longest time for a short question, for a container to start; until a failure is forgotten [s]."""

_number = itertools.count()
_preparing = threading.Lock()
_ready: dict[str, str] = {}
_failed: dict[str, tuple[float, str]] = {}


def find_engine() -> str | None:
    """Find a container engine.

    Returns: its path; None on a machine without one.
    """
    return next(filter(None, map(shutil.which, ENGINES)), None)


def run_by_engine(engine: str, order: dict, sheet: bytes, limits: Limits) -> Ran:
    """Run a hand-in in a container, wait for it or end it, and read what it reported.

    Parameters: ``engine`` its path; ``order`` what to do (`coldbench.grading.box_order.order_for`); ``sheet``
    the homework's sheet; ``limits`` what it may use.
    Returns: how it ended.
    """
    image, complaint = _prepared(engine)
    if complaint:
        return Ran(complaint=complaint)
    ran, name = Ran(), f"coldbench-box-{os.getpid()}-{next(_number)}"
    told = {**order, "sheet": sheet.decode(), "whole": limits.seconds, "largest": limits.answers}
    with tempfile.TemporaryFile() as order_file, tempfile.TemporaryFile() as errors:
        order_file.write(json.dumps(told).encode())
        order_file.seek(0)
        command = [engine, "run", *walls(name, limits), image, *PYTHON]
        process = subprocess.Popen(  # noqa: S603  our own command; nothing in it comes from a hand-in
            command, stdin=order_file, stdout=subprocess.PIPE, stderr=errors
        )
        said: list[bytes] = []
        largest = len(BEGUN) + limits.answers + 1
        reader = threading.Thread(target=lambda: said.append(process.stdout.read(largest)), daemon=True)
        reader.start()
        try:
            reader.join(limits.seconds + STARTS_SOON)
            ran.overuse = "time" if reader.is_alive() else ""
        finally:
            all_said = bool(said) and len(said[0]) < largest
            _end(engine, name, process, ANSWERS_SOON if all_said else 0.0)
            reader.join(ANSWERS_SOON)
        errors.seek(0)
        complaint = errors.read(2000).decode("utf-8", "replace").strip()[-300:]
    content = said[0] if said else b""
    ran.started = content.startswith(BEGUN)
    ran.complaint = f"the container did not start ({complaint})"
    if process.returncode == OUT_OF_TIME:
        ran.overuse = "time"
    ran.report = read_report(content.removeprefix(BEGUN), limits.answers)
    return ran


def _end(engine: str, name: str, process: subprocess.Popen, wait: float) -> None:
    """End a container that does not end by itself: killing the program that shows it would not."""
    try:
        process.wait(wait)
    except subprocess.TimeoutExpired:
        with contextlib.suppress(subprocess.TimeoutExpired):
            _ask(engine, "kill", name)
        process.kill()
        process.wait()


def walls(name: str, limits: Limits) -> list[str]:
    """Say to the engine what a container is made of.

    Parameters: ``name`` its name; ``limits`` what it may use.
    Returns: words of its command line, between ``run`` and the image.
    """
    user, room = another_user(), f"size={limits.files},mode=1777"
    words = ["--rm", "--interactive", "--name", name, "--pull", "never", "--log-driver", "none"]
    words += ["--network", "none", "--ipc", "private", "--hostname", "box", "--user", f"{user}:{user}"]
    words += ["--read-only", "--cap-drop", "ALL", "--security-opt", "no-new-privileges"]
    words += ["--memory", str(limits.memory), "--memory-swap", str(limits.memory), "--cpus", "1"]
    words += ["--pids-limit", str(limits.processes), "--shm-size", str(limits.files)]
    words += ["--ulimit", f"nofile={limits.open_files}", "--ulimit", f"fsize={limits.files}"]
    words += [
        "--ulimit",
        f"nproc={limits.processes}",
        "--ulimit",
        f"cpu={int(limits.seconds) + 1}",
        "--ulimit",
        "core=0",
    ]
    words += ["--tmpfs", f"{BOX_HOME}:rw,nosuid,nodev,{room}", "--tmpfs", f"{FOLDER}:rw,nosuid,nodev,{room}"]
    for variable, value in environment().items():
        if variable != "PATH":
            words += ["--env", f"{variable}={value}"]
    return words


def make_image(engine: str) -> str:
    """Find the image by its name, or else make it: minutes, and several hundred MB from the network.

    Parameters: ``engine`` its path.
    Returns: the image's name.
    Raises: `RuntimeError` with the reason when it cannot be made.
    """
    import coldbench

    library = Path(coldbench.__file__).parent
    locks = [library.parent / "locks" / name for name in ("build.txt", "student.txt")]
    if not all(lock.is_file() for lock in locks):
        raise RuntimeError("the list of the student's packages (lib/locks) is not beside the library")
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        (folder / "Containerfile").write_text(CONTAINERFILE, encoding="utf-8", newline="\n")
        for lock in locks:
            shutil.copyfile(lock, folder / lock.name)
        shutil.copytree(library, folder / "coldbench", ignore=shutil.ignore_patterns("__pycache__"))
        image = f"coldbench-box:{_sum(folder)[:16]}"
        if _ask(engine, "image", "inspect", image).returncode == 0:
            return image
        print(
            "Making the container image in which hand-ins are run. This happens once, needs the internet and "
            "takes some minutes …",
            file=sys.stderr,
            flush=True,
        )
        made = _ask(
            engine, "build", "--tag", image, "--file", str(folder / "Containerfile"), name, longest=None
        )
        if made.returncode:
            raise RuntimeError(f"its image could not be made ({_last_words(made)})")
    return image


def _prepared(engine: str) -> tuple[str, str]:
    """Give the image's name, or why there is none; a failure is not tried again for every hand-in."""
    with _preparing:
        if engine in _ready:
            return _ready[engine], ""
        when, complaint = _failed.get(engine, (0.0, ""))
        if complaint and time.monotonic() - when < TRIES_AGAIN:
            return "", complaint
        name = Path(engine).stem
        try:
            answer = _ask(engine, "version")
            if answer.returncode:
                raise RuntimeError(f"it is not running ({_last_words(answer)})")
            _ready[engine] = make_image(engine)
        except (OSError, RuntimeError, subprocess.TimeoutExpired) as fault:
            complaint = f"the container engine {name} cannot be used: {fault}"
            _failed[engine] = time.monotonic(), complaint
            return "", complaint
        return _ready[engine], ""


def _ask(engine: str, *words: str, longest: float | None = ANSWERS_SOON) -> subprocess.CompletedProcess:
    return subprocess.run(  # noqa: S603  our own command; nothing in it comes from a hand-in
        [engine, *words],
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        errors="replace",
        timeout=longest,
    )


def _last_words(answer: subprocess.CompletedProcess) -> str:
    return " ".join((answer.stderr or answer.stdout).split())[-200:]


def _sum(folder: Path) -> str:
    """One sum over names and contents of everything in a folder."""
    total = hashlib.sha256()
    for path in sorted(path for path in folder.rglob("*") if path.is_file()):
        content = hashlib.sha256(path.read_bytes()).hexdigest()
        total.update(f"{path.relative_to(folder).as_posix()} {content}\n".encode())
    return total.hexdigest()
