"""Warm boxes: a parent with the libraries loaded waits in a box, and makes a box for each hand-in at once.

Inside: `run_warm`. What the parent is and does stands in `coldbench.grading.boxed_warm`. Where a machine
refuses what it needs, or where a parent died, the hand-in is run in a box made afresh.
"""

from __future__ import annotations

import array
import atexit
import json
import os
import select
import signal
import socket
import struct
import subprocess
import threading
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack, suppress

from coldbench.grading.box_order import Limits, Ran, another_user
from coldbench.grading.box_report import read_report
from coldbench.grading.box_watch import watch
from coldbench.grading.boxed_place import ARE_YOU_THERE, BEGUN, HAND_IN, LIST_FONTS, READY, STILL_THERE
from coldbench.grading.bubblewrap import LAST_WALLS, python, run_by_bubblewrap, walls

STARTS_SOON, SPEAKS_SOON, FAILS_OFTEN = 60.0, 20.0, 2
"""Longest time for a parent to load, for it to make a box [s]; failures after which it is left alone [-]."""

_idle: list[WarmBox] = []
_failures = 0
_lock = threading.Lock()
_starter = ThreadPoolExecutor(1)
"""A box ends with the thread that started it; this one lives as long as the marking."""


class WarmBox:
    """One warm parent.

    Parameters: ``bubblewrap`` its path.
    Raises: `OSError` when it does not start.
    """

    def __init__(self, bubblewrap: str):
        self.as_root, self.has_fonts = os.geteuid() == 0, False
        self.control, inside = socket.socketpair(socket.AF_UNIX, socket.SOCK_SEQPACKET)
        command = [
            bubblewrap,
            *walls(Limits(), not self.as_root, parent=True),
            *LAST_WALLS,
            *python("boxed_warm"),
        ]
        with inside:
            self.process = _starter.submit(
                subprocess.Popen,  # our own command; nothing in it comes from a hand-in
                [*command, str(inside.fileno())],
                env={},
                stdin=subprocess.DEVNULL,
                stdout=subprocess.DEVNULL,
                stderr=subprocess.DEVNULL,
                pass_fds=[inside.fileno()],
            ).result()
        try:
            self.control.settimeout(STARTS_SOON)
            if self.control.recv(len(READY)) != READY:
                raise ConnectionError("The warm parent ended as it began.")
        except OSError:
            self.close()
            self.pass_on_ctrl_c()
            raise

    def run(self, order: dict, sheet: bytes, limits: Limits) -> Ran | None:
        """Run a hand-in.

        Parameters: ``order`` what to do; ``sheet`` the homework's sheet; ``limits`` what it may use.
        Returns: how it ended; None when the parent died under it.
        Raises: `OSError` when the parent does not answer or could make no box.
        """
        user = another_user() if self.as_root else None
        if not self.has_fonts and any("matplotlib" in cell for cell in order["cells"]):
            self.has_fonts = True
            self.control.send(LIST_FONTS)
        told = {**order, "user": user, "nested": user is None}
        told |= {"sheet": sheet.decode(), "largest": limits.answers}
        ran, (ours, inside) = Ran(started=True), socket.socketpair()
        with ours, ExitStack() as last:
            ours.settimeout(SPEAKS_SOON)
            ours.setsockopt(socket.SOL_SOCKET, socket.SO_PASSCRED, 1)
            with inside:
                socket.send_fds(self.control, [HAND_IN], [inside.fileno()])
            first, _ = _hear(ours, READY)
            ended = os.pidfd_open(first)
            last.callback(os.close, ended)
            last.callback(_kill, ended)
            ours.sendall(json.dumps(told).encode())
            ours.shutdown(socket.SHUT_WR)
            _, report = _hear(ours, BEGUN)
            last.callback(os.close, *report)
            ran.overuse = watch(first, ended, limits.seconds, limits.memory)
            _kill(ended)
            ran.report = read_report(os.read(*report, limits.answers + 1), limits.answers)
        return ran if ran.report.finished or ran.overuse or self.lives() else None

    def lives(self) -> bool:
        """Ask the parent whether it is still there.

        Returns: whether it answers.
        Raises: `OSError` when it does not.
        """
        self.control.send(ARE_YOU_THERE)
        return self.control.recv(len(STILL_THERE)) == STILL_THERE

    def close(self) -> None:
        """End the parent and all that it started."""
        self.control.close()
        self.process.kill()
        self.process.wait()

    def pass_on_ctrl_c(self) -> None:
        """Once it has ended: a Ctrl-C reaches all that was started there, and nothing is to be run once more.

        Raises: `KeyboardInterrupt` when it was that which ended it.
        """
        if self.process.returncode == -signal.SIGINT:
            raise KeyboardInterrupt


def _kill(ended: int) -> None:
    """End the first process of a box, and with it all others; wait until they are gone."""
    with suppress(ProcessLookupError):
        signal.pidfd_send_signal(ended, signal.SIGKILL)
    select.select([ended], [], [])


def _hear(ours: socket.socket, word: bytes) -> tuple[int, array.array]:
    """Hear a word from a child: the number that this process has here, and the files that it gives along."""
    files = array.array("i")
    number, file = struct.calcsize("3i"), files.itemsize
    said, extras, _, _ = ours.recvmsg(len(word), socket.CMSG_SPACE(number) + socket.CMSG_SPACE(file))
    if said != word:
        raise ConnectionError("The warm parent made no box.")
    found = {kind: data for _, kind, data in extras}
    files.frombytes(found.get(socket.SCM_RIGHTS, b""))
    return struct.unpack("3i", found[socket.SCM_CREDENTIALS])[0], files


def run_warm(bubblewrap: str, order: dict, sheet: bytes, limits: Limits) -> Ran:
    """Run a hand-in in a box that a warm parent makes, or else in a box made afresh.

    Parameters: ``bubblewrap`` its path; ``order`` what to do (`coldbench.grading.box_order.order_for`);
    ``sheet`` the homework's sheet; ``limits`` what it may use.
    Returns: how it ended.
    Raises: `KeyboardInterrupt` when a Ctrl-C ended the parent.
    """
    return _run(bubblewrap, order, sheet, limits) or run_by_bubblewrap(bubblewrap, order, sheet, limits)


def _run(bubblewrap: str, order: dict, sheet: bytes, limits: Limits) -> Ran | None:
    """Run a hand-in warm, or give None and note the failure."""
    global _failures
    ran = box = None
    if _failures < FAILS_OFTEN:
        with suppress(OSError):
            box = _take() or WarmBox(bubblewrap)
            ran = box.run(order, sheet, limits)
        _failures = 0 if ran else _failures + 1
    with _lock:
        if ran:
            _idle.append(box)
        elif box:
            box.close()
            box.pass_on_ctrl_c()
    return ran


def _take() -> WarmBox | None:
    """Take a parent that waits; those that died in the meantime are put away."""
    with _lock:
        while _idle:
            box = _idle.pop()
            if box.process.poll() is None:
                return box
            box.close()
    return None


@atexit.register
def close_all() -> None:
    """End every parent that waits."""
    with _lock:
        while _idle:
            _idle.pop().close()
