"""JupyterLab on this computer alone: a free port, a browser where there is one, an address in any case."""

from __future__ import annotations

import importlib.util
import json
import os
import secrets
import signal
import socket
import subprocess
import sys
import time
import webbrowser
from collections.abc import Callable, Mapping
from pathlib import Path

from coldbench.errors import CannotStart
from coldbench.work_folder import write_whole

FIRST_LESSON = "course/00-start-here/00-start-here.ipynb"
HERE = "127.0.0.1"
FIRST_PORT, PORTS_TRIED = 8888, 100
OUT_OF_THE_WAY = ["@jupyterlab/apputils-extension:announcements", "@jupyter/nbgrader"]
SETTINGS = {"disabledExtensions": dict.fromkeys(OUT_OF_THE_WAY, True)}
"""No questions about news and updates between a student and the lesson, and no menu of the marking's parts
where a clone has them."""


def is_free(port: int) -> bool:
    """Tell whether a port of this computer can be served on.

    Parameters
    ----------
    port : int
        Port number [-], 1 to 65535

    Returns
    -------
    bool
        True where nothing listens on it

    Source
    ------
    Arrangement of this project.
    """
    with socket.socket() as trial:
        if os.name == "posix":
            trial.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            trial.bind((HERE, port))
        except OSError:
            return False
    return True


def choose_port(asked: int | None) -> int:
    """Choose the port that was asked for, or the next free one.

    Parameters
    ----------
    asked : int or None
        What ``--port`` said [-]

    Returns
    -------
    int
        Port number [-]

    Raises
    ------
    CannotStart
        The port asked for is taken or is no port, or none is free.

    Source
    ------
    Arrangement of this project.
    """
    if asked is not None:
        if not 1 <= asked <= 65535:
            raise CannotStart(f"{asked} is no port: a port is a number from 1 to 65535, for example 8890.")
        if not is_free(asked):
            raise CannotStart(
                f"Port {asked} cannot be used; another program has it. Choose another, or leave out --port."
            )
        return asked
    for port in range(FIRST_PORT, FIRST_PORT + PORTS_TRIED):
        if is_free(port):
            if port != FIRST_PORT:
                print(f"Port {FIRST_PORT} is taken by another program; using {port}.")
            return port
    raise CannotStart(
        f"No port from {FIRST_PORT} to {FIRST_PORT + PORTS_TRIED - 1} is free. Give one with --port."
    )


def has_browser(environment: Mapping[str, str] = os.environ) -> bool:
    """Tell whether this computer has a browser with a screen to show it on.

    Parameters
    ----------
    environment : mapping
        The environment variables

    Returns
    -------
    bool
        False where only an address can be given

    Source
    ------
    Arrangement of this project.
    """
    screen = (
        sys.platform in ("win32", "darwin")
        or environment.get("DISPLAY")
        or environment.get("WAYLAND_DISPLAY")
    )
    try:
        return bool(screen and webbrowser.get())
    except webbrowser.Error:
        return False


def lab_command(work_folder: Path, port: int, browser: bool) -> list[str]:
    """Give the command that serves the work folder.

    Parameters
    ----------
    work_folder : Path
        What the browser may see
    port : int
        Port number [-]
    browser : bool
        Whether a browser is opened

    Returns
    -------
    list of str
        Program and arguments; the token goes by the environment

    Source
    ------
    Options of the Jupyter server and of JupyterLab, as its own ``--help-all`` lists them.
    """
    command = [
        *(sys.executable, "-m", "jupyterlab"),
        *server_options(work_folder, port),
        f"--LabApp.default_url=/lab/tree/{FIRST_LESSON}",
        "--KernelManager.transport_encryption=auto",
        "--ServerApp.kernel_websocket_connection_class=coldbench.quick_connection.QuickConnection",
        "--LabApp.log_level=ERROR",
    ]
    return command if browser else [*command, "--no-browser"]


def lab_environment(work_folder: Path, token: str) -> dict[str, str]:
    """Give the server its token, and settings of its own beside the student's work.

    Parameters
    ----------
    work_folder : Path
        Where the student works; settings go to ``.jupyter`` in it
    token : str
        What the address must carry

    Returns
    -------
    dict
        Environment variables for the server

    Source
    ------
    Environment variables of Jupyter and IPython, as their documentation lists them.
    """
    own = work_folder / ".jupyter"
    return {
        **os.environ,
        "JUPYTER_TOKEN": token,
        "JUPYTER_CONFIG_DIR": str(own / "config"),
        "JUPYTER_DATA_DIR": str(own / "data"),
        "JUPYTER_PREFER_ENV_PATH": "1",
        "IPYTHONDIR": str(own / "ipython"),
    }


def serve(work_folder: Path, port: int | None = None, browser: bool = True) -> int:
    """Run JupyterLab at the first lesson until Ctrl-C.

    Parameters
    ----------
    work_folder : Path
        What the browser may see
    port : int or None
        Port number [-]; None takes the next free one
    browser : bool
        Whether to open a browser, if there is one

    Returns
    -------
    int
        0 after Ctrl-C, otherwise what the server ended with

    Raises
    ------
    CannotStart
        JupyterLab is not installed, or the port cannot be used.

    Source
    ------
    Arrangement of this project.
    """
    if not importlib.util.find_spec("jupyterlab"):
        raise CannotStart("JupyterLab is not installed here. Start with lib/start.py, which installs it.")
    port = choose_port(port)
    shown = browser and has_browser()
    token = secrets.token_hex(16)
    print("Starting the course …", flush=True)
    environment = lab_environment(work_folder, token)
    settings = Path(environment["JUPYTER_CONFIG_DIR"]) / "labconfig" / "page_config.json"
    settings.parent.mkdir(parents=True, exist_ok=True)
    write_whole(settings, json.dumps(SETTINGS).encode())
    address = f"http://{HERE}:{port}/lab/tree/{FIRST_LESSON}?token={token}"
    code = run_until_closed(
        lab_command(work_folder, port, shown),
        environment,
        work_folder,
        port,
        lambda: _greet(work_folder, address, browser, shown),
    )
    if code is None:
        print("\nThe course is closed. Your work is as you last saved it.")
    return code or 0


def run_until_closed(
    command: list[str],
    environment: dict[str, str],
    folder: Path,
    port: int,
    greet: Callable[[], None],
    log: int | None = None,
) -> int | None:
    """Run a server until Ctrl-C or its own end.

    Parameters
    ----------
    command : list of str
        Program and arguments
    environment : dict
        Environment variables for it
    folder : Path
        Where it runs
    port : int
        Port that it will serve on [-]
    greet : callable
        Called once the server can be reached
    log : int or None
        Handle of a file for what the server says; None lets it say it here

    Returns
    -------
    int or None
        None after Ctrl-C, otherwise what the server ended with

    Source
    ------
    Arrangement of this project.
    """
    with subprocess.Popen(command, env=environment, cwd=folder, stderr=log) as server:  # noqa: S603
        signal.signal(signal.SIGTERM, lambda *_: server.terminate())
        stopped = greeted = False
        while server.poll() is None:
            try:
                if greeted:
                    server.wait()
                elif greeted := not is_free(port):
                    greet()
                else:
                    time.sleep(0.1)
            except KeyboardInterrupt:
                stopped = True
    return None if stopped else server.returncode


def server_options(folder: Path, port: int) -> list[str]:
    """Give the options that every server of ours has: this computer alone, this folder, this port.

    Parameters
    ----------
    folder : Path
        What the browser may see
    port : int
        Port number [-]

    Returns
    -------
    list of str
        Arguments; where it is root, with the one that lets the server run as root

    Source
    ------
    Options of the Jupyter server, as its own ``--help-all`` lists them.
    """
    options = {
        "ip": HERE,
        "port": port,
        "port_retries": 0,
        "root_dir": folder,
        "answer_yes": True,
        "log_level": "ERROR",
    }
    is_root = hasattr(os, "geteuid") and os.geteuid() == 0
    return [f"--ServerApp.{name}={value}" for name, value in options.items()] + ["--allow-root"] * is_root


def _greet(work_folder: Path, address: str, browser: bool, shown: bool) -> None:
    """Say where the course is, once it can be opened there."""
    if shown:
        print("The course opens in your browser. If it does not, open this address in it:")
    elif browser:
        print("There is no browser with a screen here. Open this address in one yourself:")
    else:
        print("Open this address in a browser:")
    print(f"\n    {address}\n\nYour work is in {work_folder}")
    print("Leave this window open while you work; Ctrl-C here ends it.", flush=True)
