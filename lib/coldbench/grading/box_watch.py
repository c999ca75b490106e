"""Watching a box from outside: it ends when its time is over or when it takes more memory than it may.

Inside: `watch`. A limit of each process alone would not do: forty processes may each stay below it, and
memory may be held by no process at all. So the sum over all of them counts, and what is left to the machine.
"""

from __future__ import annotations

import os
import select
import time
from pathlib import Path

LOOKS_EVERY = 0.2
SHORT_OF_MEMORY = 0.1
"""How often the memory is looked at [s]; share of the machine's memory below which it is short [-]."""


def watch(pid: int, ended: int, seconds: float, memory: int) -> str:
    """Wait until a box has ended, or until it must be ended.

    Parameters: ``pid`` the first process of the box [-]; ``ended`` becomes readable when that ends (a pidfd);
    ``seconds`` its longest time; ``memory`` most memory of all its processes together [bytes].
    Returns: "" when it ended by itself, "time" or "memory" when it must be ended.
    """
    end = time.monotonic() + seconds
    at_first = _left_to_the_machine()[0]
    while True:
        left = end - time.monotonic()
        if select.select([ended], [], [], max(0.0, min(left, LOOKS_EVERY)))[0]:
            return ""
        if left <= 0:
            return "time"
        available, total = _left_to_the_machine()
        used_up = at_first - available > memory and available < SHORT_OF_MEMORY * total
        if used_up or _used(pid) > memory:
            return "memory"


def _left_to_the_machine() -> tuple[int, int]:
    """Memory that can still be had, and all there is [bytes]."""
    lines = dict(line.split(":") for line in Path("/proc/meminfo").read_text(encoding="ascii").splitlines())
    return tuple(int(lines[name].split()[0]) * 1024 for name in ("MemAvailable", "MemTotal"))


def _used(pid: int) -> int:
    """Memory that a process and all that it started hold [bytes]."""
    used, waiting = 0, [pid]
    while waiting:
        one = Path("/proc") / str(waiting.pop())
        try:
            used += int((one / "statm").read_text(encoding="ascii").split()[1]) * os.sysconf("SC_PAGE_SIZE")
            for task in one.glob("task/*/children"):
                waiting += [int(word) for word in task.read_text(encoding="ascii").split()]
        except (OSError, ValueError, IndexError):  # it has just ended
            continue
    return used
