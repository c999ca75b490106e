"""What a marking that was killed leaves behind, swept away when the next one starts.

Inside: `sweep`. Files are written beside their place under a passing name and boxes have passing folders;
whoever is killed cannot remove them.
"""

from __future__ import annotations

import contextlib
import os
import shutil
import tempfile
import time
from pathlib import Path

BOXES = "coldbench-box-"
"""How the folder of a box is named; then comes the number of the process that made it."""

LONGEST_BOX = 3600.0
"""No box lives so long, whatever process has its number now [s]."""


def sweep(class_folder: Path) -> None:
    """Remove half-written files of a class folder, and folders of boxes whose marking is no more.

    Parameters: ``class_folder`` that nobody else works in just now.
    """
    for path in class_folder.rglob(".writing-*"):
        path.unlink(missing_ok=True)
    for folder in Path(tempfile.gettempdir()).glob(f"{BOXES}*"):
        with contextlib.suppress(OSError):
            if _is_left(folder):
                shutil.rmtree(folder, ignore_errors=True)


def _is_left(folder: Path) -> bool:
    """Whether a box's folder is ours and the process that made it is gone."""
    found = folder.lstat()
    if hasattr(os, "getuid") and found.st_uid != os.getuid():
        return False
    number = folder.name.removeprefix(BOXES).partition("-")[0]
    alive = number.isdecimal() and Path("/proc", number).exists()
    return (number.isdecimal() and Path("/proc").is_dir() and not alive) or (
        time.time() - found.st_mtime > LONGEST_BOX
    )
