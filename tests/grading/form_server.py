"""nbgrader's form on a class folder, for tests that open it in a browser."""

from __future__ import annotations

import contextlib
import os
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from pathlib import Path

OPTIONS = ["--allow-root", "--no-browser", "--ServerApp.token=", "--ServerApp.port_retries=0"]


def free_port() -> int:
    """A port that nobody listens on."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


@contextlib.contextmanager
def form_server(class_folder: Path, log: Path) -> Iterator[str]:
    """Serve the form, give its address, stop it at the end."""
    port = free_port()
    with log.open("wb") as written:
        server = subprocess.Popen(
            [sys.executable, "-m", "jupyter", "server", *OPTIONS, f"--port={port}"],
            cwd=class_folder,
            stdout=written,
            stderr=written,
            start_new_session=True,
        )
        address = f"http://127.0.0.1:{port}/formgrader"
        for _ in range(240):
            try:
                urllib.request.urlopen(address, timeout=5).close()
                break
            except OSError:
                time.sleep(0.5)
        try:
            yield address
        finally:
            os.killpg(server.pid, signal.SIGTERM)
            server.wait(20)
