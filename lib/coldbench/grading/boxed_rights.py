"""Giving up rights, the first thing inside the box: limits, another user, no boxes of one's own.

Inside: `give_up_rights` and `forbid_namespaces`. Linux only; loaded by `coldbench.grading.boxed_runner`.
"""

from __future__ import annotations

import ctypes
import os
import resource

NEW_USER_NAMESPACE = 0x10000000
SET_DUMPABLE = 4
CAPABILITY_VERSION = 0x20080522
"""Numbers of Linux, from its headers sched.h, prctl.h and capability.h."""


def give_up_rights(order: dict) -> None:
    """Set limits that cannot be raised again, then become a user that owns nothing.

    Parameters
    ----------
    order : dict
        ``limits`` (name of a limit of the ``resource`` module to its value) and ``user`` (None: stay)

    Source
    ------
    Manual pages setrlimit(2) and setresuid(2).
    """
    for name, value in order["limits"].items():
        resource.setrlimit(getattr(resource, name), (value, value))
    if order["user"] is not None:
        os.setgroups([])
        os.setresgid(order["user"], order["user"], order["user"])
        os.setresuid(order["user"], order["user"], order["user"])
        forbid_namespaces(order["user"])
    silence = os.open(os.devnull, os.O_RDWR)
    for stream in (0, 1, 2):
        os.dup2(silence, stream)


def forbid_namespaces(user: int) -> None:
    """Make sure that nothing in the box can become the master of a namespace of its own.

    A namespace is entered in which none may be made, and every capability that this gave is dropped. Where
    the system lets no ordinary user make one, nothing is needed and nothing is done.

    Parameters
    ----------
    user : int
        The user that this process already is [-]

    Source
    ------
    Manual pages user_namespaces(7), namespaces(7) and capset(2).
    """
    system = ctypes.CDLL(None)
    system.prctl(SET_DUMPABLE, 1, 0, 0, 0)
    if system.unshare(NEW_USER_NAMESPACE) != 0:
        return
    for name, words in (
        ("setgroups", "deny"),
        ("uid_map", f"{user} {user} 1"),
        ("gid_map", f"{user} {user} 1"),
    ):
        with open(f"/proc/self/{name}", "w", encoding="ascii") as file:
            file.write(words)
    with open("/proc/sys/user/max_user_namespaces", "w", encoding="ascii") as file:
        file.write("0")
    header = (ctypes.c_uint32 * 2)(CAPABILITY_VERSION, 0)
    none = (ctypes.c_uint32 * 6)()
    if system.capset(header, none) != 0:
        os._exit(1)
