"""Watching a box: it may end by itself, by time, or by the memory of all its processes together."""

import os
import subprocess
import sys
import time

import pytest
from coldbench.grading import box_watch

pytestmark = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="Boxes are made on Linux only.")

MANY = """
import os, time
for n in range(4):
    if os.fork() == 0:
        held = bytearray(40_000_000)
        time.sleep(300)
time.sleep(300)
"""


def watched(source: str, seconds: float = 60.0, memory: int = 2_000_000_000) -> tuple[str, float]:
    """What ended it, and after how long [s]."""
    began = time.monotonic()
    process = subprocess.Popen([sys.executable, "-c", source], start_new_session=True)
    try:
        ended = os.pidfd_open(process.pid)
        return box_watch.watch(process.pid, ended, seconds, memory), time.monotonic() - began
    finally:
        subprocess.run(["kill", "-9", "--", f"-{process.pid}"], check=False, stderr=subprocess.DEVNULL)
        process.wait()
        os.close(ended)


def test_one_that_ends_is_noticed_at_once(monkeypatch):
    """Not only at the next look, which is a minute away here."""
    monkeypatch.setattr(box_watch, "LOOKS_EVERY", 60.0)
    word, took = watched("pass", seconds=120.0)
    assert word == ""
    assert took < 50


def test_one_that_does_not_end():
    """Its time is over."""
    assert watched("import time; time.sleep(300)", seconds=0.5)[0] == "time"


def test_many_that_hold_little_each():
    """Four children of 40 MB: too much for 150 MB together, though none of them is."""
    assert watched(MANY, memory=150_000_000)[0] == "memory"
    assert watched(MANY, seconds=1.5)[0] == "time"


def test_memory_that_no_process_holds(monkeypatch):
    """What is left to the machine falls by more than one box may use, down to little: the box must end."""
    left = iter(
        [(8_000_000_000, 16_000_000_000), (7_000_000_000, 16_000_000_000), (1_000_000_000, 16_000_000_000)]
    )
    monkeypatch.setattr(box_watch, "_left_to_the_machine", lambda: next(left))
    assert watched("import time; time.sleep(300)")[0] == "memory"
