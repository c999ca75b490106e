"""What some tests need from outside: missing in CI it is a failure, elsewhere a skip with its reason."""

import contextlib
import functools
import os
import shutil
import socket
import subprocess

import pytest
from coldbench.grading import warm
from coldbench.grading.box import find_bubblewrap
from coldbench.grading.box_order import Limits, order_for
from coldbench.grading.hand_in_file import read_notebook
from grading.notebooks import START, notebook


def _lacking(reason: str) -> None:
    if os.environ.get("CI"):
        pytest.fail(f"{reason} In CI this test must run.")
    pytest.skip(reason)


def browser() -> str:
    """Give the path of a Chromium, for ``executable_path`` of the browser driver."""
    for name in ("chromium", "chromium-browser"):
        if found := shutil.which(name):
            return found
    _lacking("No Chromium is installed here (Debian: chromium).")
    return ""


@functools.cache
def bubblewrap() -> str:
    """Give the path of a bubblewrap that can make a box on this machine."""
    found = find_bubblewrap()
    if not found:
        _lacking("No bubblewrap is installed here (Debian: bubblewrap).")
    trial = subprocess.run(
        [found, "--ro-bind", "/", "/", "--unshare-net", "true"], capture_output=True, text=True
    )
    if trial.returncode:
        _lacking(f"bubblewrap cannot make a box here: {trial.stderr.strip()}")
    return found


def warm_boxes() -> None:
    """Skip where the system refuses what a warm parent does: there boxes are made afresh, which is tested."""
    if not _warm_boxes_work(bubblewrap(), os.geteuid() == 0):
        pytest.skip("This system lets no warm parent make boxes: boxes are made afresh here.")


@functools.cache
def _warm_boxes_work(path: str, as_root: bool) -> bool:
    order = order_for(read_notebook(notebook(START)), Limits())
    with contextlib.suppress(OSError), contextlib.closing(warm.WarmBox(path)) as box:
        return box.run(order, b"{}", Limits()).started
    return False


def network(host: str = "pypi.org") -> None:
    """Skip where the package index cannot be reached; the network is nobody's fault, in CI neither."""
    try:
        socket.create_connection((host, 443), timeout=5).close()
    except OSError as error:
        pytest.skip(f"The package index is out of reach: {error}.")
