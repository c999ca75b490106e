"""Limits of a box for tests of what uses them up: short, but many times what everyday work takes here."""

from __future__ import annotations

import functools

from coldbench.grading.box import Limits, run_in_box
from grading.notebooks import START, notebook


@functools.cache
def short_limits() -> Limits:
    """Two and five seconds; on a slow machine a multiple of what a box takes there that has little to do."""
    little = notebook(START, "import numpy, ipywidgets\nanswer('05.1', 1)")
    took = max(run_in_box(little, b"{}").seconds for _ in range(2))
    return Limits(cell_seconds=max(2.0, 4 * took), seconds=max(5.0, 10 * took))
