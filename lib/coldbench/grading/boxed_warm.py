"""A warm parent, inside its box: libraries loaded once, then a child in a box of its own for every hand-in.

Started by `coldbench.grading.warm` and by nobody else. Its box shows what every box shows, so it never had a
key, the gradebook or another's work in its memory. It never reads a hand-in either: that goes from outside
straight to the child, through a connection that the parent only passes on. The child enters namespaces of its
own, in which the places that can be written are fresh and empty, and gives up every right before it runs a
line.
"""

from __future__ import annotations

import ctypes
import gc
import json
import os
import re
import signal
import socket
import stat
import sys
from typing import NoReturn

from coldbench.grading.boxed_place import (
    ARE_YOU_THERE,
    BEGUN,
    BOX_HOME,
    BOX_SHARED,
    BOX_WORK,
    FOLDER,
    FONTS,
    LIST_FONTS,
    READY,
    REPORT,
    STILL_THERE,
)
from coldbench.grading.boxed_rights import give_up_rights, has_rights, let_others_look
from coldbench.grading.boxed_runner import carry_out, make_shell

NEW_MOUNTS, NEW_NAMES, NEW_IPC, NEW_PROCESSES, NEW_NETWORK = (1 << bit for bit in (17, 26, 27, 29, 30))
READ_ONLY, NO_SUID, NO_DEVICES, NO_PROGRAMS, AGAIN, BIND, ALL_BELOW, PRIVATE = (
    1 << bit for bit in (0, 1, 2, 3, 5, 12, 14, 18)
)
"""Numbers of Linux, from its headers sched.h and mount.h."""


def load() -> None:
    """Load what hand-ins use, and keep it where children share it."""
    import numpy  # noqa: F401

    shell = make_shell()
    shell.run_cell("None", store_history=False)  # whatever is made at first use is there then, too
    shell.display_formatter.format("")
    gc.collect()
    gc.freeze()


def list_fonts() -> None:
    """List the fonts of this machine, which takes long, in a process that gives way to all others.

    A hand-in that comes before the list is ready makes its own.
    """
    if os.fork() == 0:
        try:
            os.nice(19)
            os.environ["MPLCONFIGDIR"] = FONTS
            import matplotlib.font_manager  # noqa: F401
        finally:
            os._exit(0)


def serve(control: socket.socket) -> None:
    """Make a child for each connection that comes in, until nobody is there any more.

    Parameters: ``control`` where connections come from.
    Raises: `OSError` when it breaks; the parent is at its end then.
    """
    signal.signal(signal.SIGCHLD, signal.SIG_IGN)  # nobody waits for children here
    control.send(READY)
    while True:
        said, connections, _, _ = socket.recv_fds(control, 1, 1)
        if not said:
            return
        if said == ARE_YOU_THERE:
            control.send(STILL_THERE)
        elif said == LIST_FONTS:
            list_fonts()
        elif os.fork() == 0:
            control.close()
            _apart(*connections)
        for connection in connections:
            os.close(connection)


def _apart(connection: int) -> NoReturn:
    """Become the first process of a namespace of processes, with all other namespaces new, too."""
    try:
        _call("unshare", NEW_PROCESSES | NEW_MOUNTS | NEW_NAMES | NEW_IPC | NEW_NETWORK)
        if os.fork() == 0:
            with socket.socket(fileno=connection) as host:
                _prepare(host)
            _keep_house()
    finally:  # no way leads back into the parent's loop
        os._exit(1)


def _prepare(host: socket.socket) -> None:
    """Learn what to do, make the box, give up every right, say so, and start the hand-in."""
    os.setsid()
    signal.signal(signal.SIGCHLD, signal.SIG_DFL)
    signal.signal(signal.SIGINT, signal.SIG_DFL)
    host.send(READY)
    order = json.loads(b"".join(iter(lambda: host.recv(1_000_000), b"")))
    answers = _furnish(order)
    give_up_rights(order)
    if has_rights():
        return
    socket.send_fds(host, [BEGUN], [answers])
    host.close()
    os.closerange(3, order["limits"]["RLIMIT_NOFILE"])
    let_others_look(False)
    if os.fork() == 0:
        let_others_look(True)
        carry_out(order)


def _furnish(order: dict) -> int:
    """Put everything into its place; nothing can be written but the temporary folders and the report."""
    ours, room = NO_SUID | NO_DEVICES, f"mode=1777,size={order['limits']['RLIMIT_FSIZE']}"
    sealed = AGAIN | BIND | READ_ONLY | ours
    _mount(None, "/", None, ALL_BELOW | PRIVATE)
    _mount("proc", "/proc", "proc", ours | NO_PROGRAMS)
    seen = {place: os.open(place, os.O_PATH) for place in _seen_below(BOX_HOME)}
    for place in (BOX_HOME, BOX_SHARED):
        _mount("tmpfs", place, "tmpfs", ours, room)
    for place, there in seen.items():
        _show_again(place, there)
        _mount(None, place, None, sealed)
    _mount(None, FONTS, None, sealed)
    for name in os.listdir(FONTS):
        os.symlink(f"{FONTS}/{name}", f"{BOX_HOME}/{name}")
    os.mkdir(BOX_WORK)
    os.chmod(BOX_WORK, 0o777)  # noqa: S103  the box has one user alone
    os.chdir(BOX_WORK)
    with open("sheet.json", "x", encoding="utf-8") as file:
        file.write(order["sheet"])
    os.chmod("sheet.json", 0o644)
    _mount("sheet.json", "sheet.json", None, BIND)
    _mount(None, "sheet.json", None, sealed)
    _mount("tmpfs", FOLDER, "tmpfs", ours, f"mode=0755,size={2 * order['largest']}")
    answers = os.open(REPORT, os.O_CREAT | os.O_RDONLY)
    os.chmod(REPORT, 0o666)  # noqa: S103  the box has one user alone
    _mount(REPORT, REPORT, None, BIND)
    _mount(None, FOLDER, None, sealed)
    return answers


def _seen_below(folder: str) -> list[str]:
    """List what the walls show below a folder: the library, where somebody keeps it in a temporary folder."""
    with open("/proc/self/mountinfo", encoding="utf-8") as file:
        places = [line.split(" ")[4] for line in file]
    places = [re.sub(r"\\(\d{3})", lambda found: chr(int(found[1], 8)), place) for place in places]
    return [place for place in places if place.startswith(f"{folder}/")]


def _show_again(place: str, there: int) -> None:
    """Show what was opened before its folder was covered in the same place again."""
    if stat.S_ISDIR(os.fstat(there).st_mode):
        os.makedirs(place)
    else:
        os.close(os.open(place, os.O_CREAT))
    _mount(f"/proc/self/fd/{there}", place, None, BIND)
    os.close(there)


def _keep_house() -> None:
    """Bury what ends, until the hand-in's own process, the first one started, has ended."""
    hand_in = 2
    while os.wait()[0] != hand_in:
        pass


def _call(name: str, *arguments: object) -> None:
    """Ask the system for something; an `OSError` says why it refused."""
    if getattr(ctypes.CDLL(None, use_errno=True), name)(*arguments) != 0:
        number = ctypes.get_errno()
        raise OSError(number, f"{name}: {os.strerror(number)}")


def _mount(source: str | None, place: str, kind: str | None, flags: int, options: str = "") -> None:
    words = [word.encode() if word is not None else None for word in (source, place, kind)]
    _call("mount", *words, ctypes.c_ulong(flags), options.encode())


def main() -> None:
    """Load, then serve the connection whose number is the first argument."""
    os.umask(0o022)  # children are other users: they read what is made here, however strict its owner is
    load()
    with socket.socket(fileno=int(sys.argv[1])) as control:
        serve(control)


if __name__ == "__main__":
    main()
