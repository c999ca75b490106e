"""What is the same in every box, known on both sides of its wall: places, the environment, signs.

Inside: `environment`. Loaded in the box too, so nothing else may be here.
"""

from __future__ import annotations

BOX_HOME, BOX_WORK, BOX_SHARED = "/tmp", "/tmp/work", "/dev/shm"  # noqa: S108  the box's own, not ours
FOLDER, REPORT, FONTS = "/hand-in", "/hand-in/answers", "/fonts"
"""A box's temporary folder, where a hand-in lies, shared memory; the folder and the file of its answers; a
warm parent's list of fonts, which pictures need."""

READY, BEGUN, STILL_THERE = b"ready\n", b"begun\n", b"here\n"
HAND_IN, LIST_FONTS, ARE_YOU_THERE = b"h", b"f", b"?"
OUT_OF_TIME = 3
"""What a box says when it can be used, when no right is left and the hand-in's first line is next, when it is
asked; what a warm parent is asked; exit code of a container that ended the hand-in."""


def environment() -> dict[str, str]:
    """Give the environment of every box; nothing else is in it.

    Returns: name to value.
    """
    return {
        "COLDBENCH_ANSWERS": REPORT,
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
