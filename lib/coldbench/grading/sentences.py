"""The form opened at the sentences that are to be marked by hand, and the pages written when it is closed.

Inside: `open_form`. The form is nbgrader's, served from the class folder on this computer alone.
"""

from __future__ import annotations

import secrets
import sys
from collections.abc import Callable
from pathlib import Path

from coldbench.errors import CannotStart
from coldbench.grading import evening
from coldbench.grading.alone import alone
from coldbench.grading.class_files import is_class_folder
from coldbench.grading.form import write_configuration
from coldbench.grading.gradebook import Gradebook
from coldbench.serving import (
    HERE,
    choose_port,
    has_browser,
    lab_environment,
    run_until_closed,
    server_options,
)

LOG = Path(".jupyter", "form.log")
"""What the form's server says, in the class folder."""


def open_form(
    class_folder: Path, source: Path, port: int | None = None, browser: bool = True, say: Callable = print
) -> int:
    """Open the form where answers wait for points by hand; once it is closed, write the pages with them.

    Parameters: ``class_folder`` of a class that was marked; ``source`` the project's folder; ``port`` to
    serve on, or None for the next free one; ``browser`` whether to open one, if there is one; ``say`` takes
    each line for the instructor.
    Returns: 0 done; 1 done, and changed marks wait for release.
    Raises: `CannotStart` when nothing was marked yet, the class is being marked, the port cannot be used, or
    the form ended by itself.
    """
    if not is_class_folder(class_folder):
        raise CannotStart(f"Nothing was marked in {class_folder} yet. Run “coldbench mark” first.")
    folder = class_folder.resolve()
    with alone(folder):
        write_configuration(folder, source)
        with Gradebook(folder) as gradebook:
            waiting = gradebook.open_in_form()
    if not waiting:
        say(f"No sentence waits to be marked by hand in {class_folder}.")
        return 0
    port, token = choose_port(port), secrets.token_hex(16)
    shown = browser and has_browser()
    # By way of the log-in page: its cookie is good for all pages, the form's own for one of them only.
    places = {name: f"/login?next=/formgrader/gradebook/{name}/{name}" for name in waiting}
    command = [sys.executable, "-m", "jupyter_server", *server_options(folder, port)]
    command += [f"--ServerApp.default_url={next(iter(places.values()))}", f"--ServerApp.open_browser={shown}"]

    def greet() -> None:
        say("The form opens in your browser. If not, open its address:" if shown else "Open in a browser:")
        for name, count in waiting.items():
            homework = name.replace("-", " ").capitalize()
            say(f"\n  {homework}, {count} to read:\n    http://{HERE}:{port}{places[name]}&token={token}")
        say("\nChoose a submission; points and words are kept as you type them, the arrows lead to the next.")
        say("When you are done: Ctrl-C here. It closes the form and writes the pages with your points.")

    say("Opening the form …")
    log = folder / LOG
    log.parent.mkdir(exist_ok=True)
    with log.open("wb") as kept:
        environment = lab_environment(folder, token)
        code = run_until_closed(command, environment, folder, port, greet, kept.fileno())
    if code:
        raise CannotStart(f"The form could not be opened, or ended by itself. What it said is in {log}.")
    say("\nThe form is closed.")
    return evening.report(class_folder, source, say, brief=True)
