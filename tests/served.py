"""A Jupyter server for tests: at a port that it finds itself, with settings of its own, gone at the end."""

from __future__ import annotations

import contextlib
import json
import os
import signal
import subprocess
import sys
import tempfile
import time
import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path

PATIENCE = 180
"""How long something is waited for [s]; no claim about speed, it only ends what hangs."""

QUICK = ["--ServerApp.kernel_websocket_connection_class=coldbench.quick_connection.QuickConnection"]
QUICK += ["--LabApp.news_url=None"]
"""JupyterLab as a student has it: nothing waits between a key and its answer, nobody asks about news."""


@contextlib.contextmanager
def served(kind: str, folder: Path, *options: str) -> Iterator[str]:
    """Run ``jupyter lab`` or ``jupyter server`` in a folder, and give its address once it answers.

    The system gives the server its port (asked for as port 0), and the server writes it into a folder of
    ours: so no other program can have taken it meanwhile.
    """
    with tempfile.TemporaryDirectory(prefix="coldbench-served-", ignore_cleanup_errors=True) as name:
        own = Path(name)
        command = [sys.executable, "-m", "jupyter", kind, "--allow-root", "--no-browser"]
        places = {"JUPYTER_CONFIG_DIR": "config", "JUPYTER_RUNTIME_DIR": "runtime", "IPYTHONDIR": "ipython"}
        with (own / "server.log").open("wb") as log:
            server = subprocess.Popen(
                [*command, "--ServerApp.token=", "--ServerApp.port=0", *options],
                cwd=folder,
                env=os.environ | {variable: str(own / place) for variable, place in places.items()},
                stdout=log,
                stderr=log,
                start_new_session=True,
            )

        def address() -> str:
            assert server.poll() is None, (own / "server.log").read_text(errors="replace")
            (written,) = (own / "runtime").glob("jpserver-*.json")
            found = f"http://127.0.0.1:{json.loads(written.read_text())['port']}"
            urllib.request.urlopen(f"{found}/api", timeout=PATIENCE).close()  # noqa: S310
            return found

        try:
            yield once_it_is_so(address)
        finally:
            for kind_of_end in (signal.SIGTERM, signal.SIGKILL):
                with contextlib.suppress(ProcessLookupError, subprocess.TimeoutExpired):
                    os.killpg(server.pid, kind_of_end)
                    server.wait(30)


def once_it_is_so(look: Callable[[], object]) -> object:
    """Look again and again until the look succeeds, and give what it gave; a failed assertion ends it."""
    end = time.monotonic() + PATIENCE
    while True:
        try:
            return look()
        except (OSError, ValueError):
            if time.monotonic() > end:
                raise
        time.sleep(0.1)
