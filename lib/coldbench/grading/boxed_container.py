"""The first process in a container: it starts the hand-in, ends it in time and hands its answers out.

Started by `coldbench.grading.container` and by nobody else. It is process 1 of the container, which nothing
in it can end, and it cannot be looked into; all that it knows is the hand-in and the homework's sheet.
"""

from __future__ import annotations

import contextlib
import json
import os
import signal
import sys
import time
from pathlib import Path

from coldbench.grading.boxed_place import BEGUN, BOX_WORK, OUT_OF_TIME, REPORT
from coldbench.grading.boxed_rights import give_up_rights, let_others_look
from coldbench.grading.boxed_runner import carry_out


def run_and_hand_out(order: dict, out: int) -> int:
    """Run a hand-in in a process of its own, and write what it reported.

    Parameters: ``order`` what to do, with ``sheet``, ``whole`` (longest time [s]) and ``largest`` (report
    [bytes]); ``out`` where answers go, open for writing.
    Returns: 0, or `OUT_OF_TIME`.
    """
    let_others_look(False)
    signal.pthread_sigmask(signal.SIG_BLOCK, [signal.SIGCHLD])
    work, report = Path(BOX_WORK), Path(REPORT)
    work.mkdir()
    os.chdir(work)
    (work / "sheet.json").write_text(order["sheet"], encoding="utf-8")
    (work / "sheet.json").chmod(0o444)
    report.touch()
    with report.open("rb") as answers:
        hand_in = os.fork()
        if hand_in == 0:
            signal.pthread_sigmask(signal.SIG_UNBLOCK, [signal.SIGCHLD])
            let_others_look(True)
            give_up_rights(order)
            os.write(out, BEGUN)
            os.close(out)
            carry_out(order)
        ended = _wait(hand_in, time.monotonic() + order["whole"])
        with contextlib.suppress(ProcessLookupError):
            os.kill(-1, signal.SIGKILL)
        content = answers.read(order["largest"] + 1)
    while content:
        content = content[os.write(out, content) :]
    return 0 if ended else OUT_OF_TIME


def _wait(hand_in: int, end: float) -> bool:
    """Wait for a process, and bury every other that ends; say whether it ended in time."""
    while True:
        with contextlib.suppress(ChildProcessError):
            while (buried := os.waitpid(-1, os.WNOHANG)[0]) != 0:
                if buried == hand_in:
                    return True
        if (left := end - time.monotonic()) <= 0:
            return False
        signal.sigtimedwait([signal.SIGCHLD], left)


def main() -> None:
    """Read the order from standard input, run it, end.

    Raises: `SystemExit`, with the exit code, or at once where this is not process 1.
    """
    if os.getpid() != 1:
        raise SystemExit("This is for the first process of a container; it ends every other one.")
    signal.signal(signal.SIGINT, signal.SIG_DFL)
    order = json.load(sys.stdin.buffer)
    raise SystemExit(run_and_hand_out(order, os.dup(1)))


if __name__ == "__main__":
    main()
