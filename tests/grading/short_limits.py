"""Limits of a box for tests of what uses them up: short, but many times what everyday work takes here."""

from __future__ import annotations

import functools
import subprocess
import sys
import time

from coldbench.grading.box import Limits

EVERYDAY = "import IPython, numpy, ipywidgets"


def _takes() -> float:
    began = time.perf_counter()
    subprocess.run([sys.executable, "-c", EVERYDAY], check=True)
    return time.perf_counter() - began


@functools.cache
def short_limits() -> Limits:
    """Two and five seconds; on a slow machine a multiple of what Python takes to start and load a little."""
    took = max(_takes() for _ in range(2))
    return Limits(cell_seconds=max(2.0, 3 * took), seconds=max(5.0, 8 * took))
