"""A bundle unpacked and started as a student would, on the packages of the environment under test.

A cold install of the whole lock takes minutes, and whoever runs this suite has just seen one: it set up the
environment in which the suite runs. So the bundle's ``.venv`` is made beforehand, with a path file that
shows it those packages and a copy of their data, nbgrader's excepted, which no student has. ``lib/start.py``
then does what it always does: it checks every pin of the lock (pip fetches what differs), installs the
bundle's own wheel and starts the course from it.
"""

from __future__ import annotations

import contextlib
import os
import re
import shutil
import signal
import subprocess
import sys
import sysconfig
import threading
import urllib.request
import zipfile
from pathlib import Path
from queue import Empty, Queue

from coldbench.grading.hand_out import make_bundle
from served import PATIENCE, once_it_is_so

ROOT = Path(__file__).parents[2]
PYTHON3 = getattr(sys, "_base_executable", sys.executable)
"""The Python of this computer, with which a student types the first command."""


def unpack_bundle(folder: Path) -> Path:
    """Make the students' bundle of this project and unpack it; give the folder it unpacks to."""
    with zipfile.ZipFile(make_bundle(ROOT, folder / "handed out" / "coldbench.zip")) as bundle:
        bundle.extractall(folder)
    return folder / "coldbench"


def show_packages(bundle: Path) -> None:
    """Make the bundle's .venv see the packages of the environment under test, its coldbench excepted."""
    environment = bundle / ".venv"
    subprocess.run([PYTHON3, "-m", "venv", "--without-pip", environment], check=True)
    own = Path(sysconfig.get_path("purelib", vars={"base": str(environment)}))
    (own / "under-test.pth").write_text(sysconfig.get_path("purelib"), "utf-8")
    for data in ("share", "etc"):
        inner, unseen = Path(data, "jupyter"), shutil.ignore_patterns("nbgrader*")
        shutil.copytree(Path(sys.prefix) / inner, environment / inner, ignore=unseen)


class Started:
    """A command that goes on running, with what it says."""

    def __init__(self, command: list, folder: Path, **variables: str):
        screens = ("DISPLAY", "WAYLAND_DISPLAY")
        kept = {name: value for name, value in os.environ.items() if name not in screens}
        self.process = subprocess.Popen(
            [str(part) for part in command],
            cwd=folder,
            env={**kept, "PYTHONUNBUFFERED": "1", **variables},
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            encoding="utf-8",
            start_new_session=True,
        )
        self.said: list[str] = []
        self._lines: Queue[str | None] = Queue()
        threading.Thread(target=self._listen, daemon=True).start()

    def _listen(self) -> None:
        for line in self.process.stdout:
            self._lines.put(line)
        self._lines.put(None)

    def wait_for(self, pattern: str) -> str:
        """Wait for a line in which the pattern is found; give its first group."""
        while True:
            try:
                line = self._lines.get(timeout=PATIENCE)
            except Empty:
                line = None
            assert line is not None, f"It never said {pattern!r}:\n" + "".join(self.said)
            self.said.append(line)
            if found := re.search(pattern, line):
                return found[1]

    def stop(self) -> None:
        """End it, and all that it started, as Ctrl-C in its terminal would; after 30 s without mercy."""
        for kind in (signal.SIGINT, signal.SIGKILL):
            with contextlib.suppress(ProcessLookupError, subprocess.TimeoutExpired):
                os.killpg(self.process.pid, kind)
                self.process.wait(30)


def wait_until_served(address: str) -> None:
    """Wait until an address that was printed is answered: a bare JupyterLab prints it first."""
    once_it_is_so(lambda: urllib.request.urlopen(address, timeout=PATIENCE).close())  # noqa: S310
