"""Giving up rights, the first thing inside the box: limits, another user, no boxes of one's own.

Inside: `give_up_rights`, `has_rights`, `let_others_look`, `forbid_namespaces` and `forbid_calls`. Linux only;
loaded by what runs in a box.
"""

from __future__ import annotations

import ctypes
import os
import resource
import struct

NEW_USER_NAMESPACE = 0x10000000
SET_DUMPABLE = 4
NOBODY = 65534
CAPABILITY_VERSION = 0x20080522
SET_SECCOMP, FILTER = 22, 2
"""Numbers of Linux, from its headers sched.h, prctl.h, capability.h and seccomp.h."""

LOAD, IF_EQUAL, IF_AT_LEAST, IF_ANY_OF, ANSWER = 0x20, 0x15, 0x35, 0x45, 0x06
ALLOW, REFUSE, UNKNOWN = 0x7FFF0000, 0x00050001, 0x00050026
MACHINE, CALL, FIRST_ARGUMENT = 4, 0, 16
OTHER_CALLS = 0x40000000
"""Words of a filter and places of what it looks at, from the headers bpf_common.h, filter.h and seccomp.h;
calls of a second kind (x32)."""

UNWANTED = {
    "x86_64": (
        *(0xC000003E, 56),
        (29, 64, 68, 240, 248, 249, 250, 298, 319, 321, 323, 425, 447, 272, 308, 101, 310, 311),
    ),
    "aarch64": (
        *(0xC00000B7, 220),
        (194, 190, 186, 180, 217, 218, 219, 241, 279, 280, 282, 425, 447, 97, 268, 117, 270, 271),
    ),
}
"""Machine to its number, to the call clone, and to the calls that homework has no use for, in this order:
shmget, semget, msgget, mq_open, add_key, request_key, keyctl, perf_event_open, memfd_create, bpf,
userfaultfd, io_uring_setup, memfd_secret, unshare, setns, ptrace, process_vm_readv, process_vm_writev. Memory
got by the first ones and by memfd_create belongs to no process: no limit holds."""

CLONE3 = 435
"""It hides from a filter what it asks for, so it is said to be unknown; programs fall back on clone."""


def give_up_rights(order: dict) -> None:
    """Set limits that cannot be raised again, then become a user that owns nothing.

    Where the machine's own limit is the lower one, that stays.

    Parameters
    ----------
    order : dict
        ``limits`` (name of a limit of the ``resource`` module to its value) and ``user`` (None: stay);
        ``nested`` where it is master of a namespace of users and has to become nobody in another

    Source
    ------
    Manual pages setrlimit(2) and setresuid(2).
    """
    for name, value in order["limits"].items():
        kind = getattr(resource, name)
        own = resource.getrlimit(kind)[1]
        lower = value if own == resource.RLIM_INFINITY else min(value, own)
        resource.setrlimit(kind, (lower, lower))
    if order["user"] is not None:
        os.setgroups([])
        os.setresgid(order["user"], order["user"], order["user"])
        os.setresuid(order["user"], order["user"], order["user"])
        forbid_namespaces(order["user"], order["user"])
    elif order.get("nested"):
        forbid_namespaces(NOBODY, 0)
    forbid_calls()
    silence = os.open(os.devnull, os.O_RDWR)
    for stream in (0, 1, 2):
        os.dup2(silence, stream)


def forbid_namespaces(user: int, outside: int) -> None:
    """Make sure that nothing in the box can become the master of a namespace of its own.

    A namespace is entered in which none may be made, and every capability that this gave is dropped. Where
    the system lets no ordinary user make one, nothing is needed and nothing is done.

    Parameters
    ----------
    user : int
        The user that this process is from then on [-]
    outside : int
        The user that this process already is [-]

    Source
    ------
    Manual pages user_namespaces(7), namespaces(7) and capset(2).
    """
    system = ctypes.CDLL(None)
    let_others_look(True)
    if system.unshare(NEW_USER_NAMESPACE) != 0:
        return
    for name, words in (
        ("setgroups", "deny"),
        ("uid_map", f"{user} {outside} 1"),
        ("gid_map", f"{user} {outside} 1"),
    ):
        with open(f"/proc/self/{name}", "w", encoding="ascii") as file:
            file.write(words)
    with open("/proc/sys/user/max_user_namespaces", "w", encoding="ascii") as file:
        file.write("0")
    header = (ctypes.c_uint32 * 2)(CAPABILITY_VERSION, 0)
    none = (ctypes.c_uint32 * 6)()
    if system.capset(header, none) != 0:
        os._exit(1)


def let_others_look(allowed: bool) -> None:
    """Say whether other processes of this user may look into this one, or take it over.

    Parameters
    ----------
    allowed : bool
        A first process does not allow it; a hand-in is as any other program

    Source
    ------
    Manual pages prctl(2), PR_SET_DUMPABLE, and ptrace(2).
    """
    ctypes.CDLL(None).prctl(SET_DUMPABLE, int(allowed), 0, 0, 0)


def has_rights() -> bool:
    """Tell whether this process still has any right of a master.

    Returns
    -------
    bool
        Whether it is user 0, or holds a capability, or could get one by starting a program

    Source
    ------
    Manual pages capabilities(7) and proc(5).
    """
    with open("/proc/self/status", encoding="ascii") as file:
        said = dict(line.split(":", 1) for line in file)
    held = any(int(said[name], 16) for name in ("CapInh", "CapPrm", "CapEff", "CapAmb"))
    return held or said["NoNewPrivs"].strip() != "1" or 0 in os.getresuid() + os.getresgid()


def forbid_calls() -> None:
    """Make the system refuse the calls of `UNWANTED`, to this process and all that it starts, for good.

    So it does with a clone into a user namespace of its own. On a machine that the table does not name
    nothing is forbidden: it is one wall of several.

    Source
    ------
    Manual page seccomp(2); numbers of calls from the headers unistd_64.h and asm-generic/unistd.h.
    """
    if os.uname().machine not in UNWANTED:
        return
    machine, clone, calls = UNWANTED[os.uname().machine]
    count = len(calls)
    steps = [(LOAD, 0, 0, MACHINE), (IF_EQUAL, 0, count + 7, machine), (LOAD, 0, 0, CALL)]
    steps += [(IF_AT_LEAST, count + 5, 0, OTHER_CALLS)]
    steps += [(IF_EQUAL, count + 4 - place, 0, call) for place, call in enumerate(calls)]
    steps += [(IF_EQUAL, 5, 0, CLONE3), (IF_EQUAL, 0, 2, clone)]
    steps += [(LOAD, 0, 0, FIRST_ARGUMENT), (IF_ANY_OF, 1, 0, NEW_USER_NAMESPACE)]
    steps += [(ANSWER, 0, 0, ALLOW), (ANSWER, 0, 0, REFUSE), (ANSWER, 0, 0, UNKNOWN)]
    words = ctypes.create_string_buffer(b"".join(struct.pack("HBBI", *step) for step in steps))
    program = struct.pack("HxxxxxxP", len(steps), ctypes.addressof(words))
    if ctypes.CDLL(None, use_errno=True).prctl(SET_SECCOMP, FILTER, program, 0, 0) != 0:
        os._exit(1)
