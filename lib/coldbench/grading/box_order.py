"""What goes into a box and what comes out of it, whatever the box is made of.

Inside: `Limits`, what a hand-in may use; `order_for`, what a box is told to do; `Ran`, how it ended.
"""

from __future__ import annotations

import itertools
import os
from collections import Counter
from dataclasses import dataclass, field

from coldbench.grading.box_report import Report
from coldbench.grading.hand_in_file import Notebook, questions_in

FIRST_USER, USERS = 65_000, 500
"""Users that own nothing, one a box, so that one box's processes do not count against another's."""

_user = itertools.count(os.getpid())


@dataclass(frozen=True)
class Limits:
    """What one hand-in may use.

    Parameters
    ----------
    cell_seconds : float
        Longest time of one cell [s]
    seconds : float
        Longest time of the whole notebook, and of its processor use [s]
    memory : int
        Memory of one process, and of all together [bytes]
    files : int
        Size of one file, and of everything in its temporary folder [bytes]
    processes : int
        Processes and threads at one time [-]
    open_files : int
        Open files of one process [-]
    answers : int
        Size of everything it may report [bytes]

    Source
    ------
    Arrangement of this project: about ten times what worked solutions use.
    """

    cell_seconds: float = 20.0
    seconds: float = 60.0
    memory: int = 2_000_000_000
    files: int = 50_000_000
    processes: int = 48
    open_files: int = 256
    answers: int = 1_000_000


@dataclass
class Ran:
    """How a box ended.

    Attributes
    ----------
    report : Report
        What it said
    started : bool
        Whether the hand-in was run at all
    overuse : str
        What it used up: "", "time" or "memory"
    complaint : str
        Why it was not run
    """

    report: Report = field(default_factory=Report)
    started: bool = False
    overuse: str = ""
    complaint: str = ""


def another_user() -> int:
    """Give a user that owns nothing, another one each time.

    Returns: its number [-].
    """
    return FIRST_USER + next(_user) % USERS


def order_for(handed_in: Notebook, limits: Limits) -> dict:
    """Say what a box has to do, in plain values.

    Parameters: ``handed_in`` the notebook; ``limits`` what it may use.
    Returns: the order that `coldbench.grading.boxed_runner` carries out.
    """
    return {
        "cells": [cell.source for cell in handed_in.code],
        "again": _may_run_again(handed_in),
        "seconds": limits.cell_seconds,
        "user": None,
        "limits": {
            "RLIMIT_AS": limits.memory,
            "RLIMIT_CPU": int(limits.seconds) + 1,
            "RLIMIT_FSIZE": limits.files,
            "RLIMIT_NPROC": limits.processes,
            "RLIMIT_NOFILE": limits.open_files,
            "RLIMIT_CORE": 0,
        },
    }


def _may_run_again(handed_in: Notebook) -> list[int]:
    """List the code cells whose questions no other cell answers: their last answer is their own."""
    count = Counter(question for cell in handed_in.code for question in questions_in(cell))
    return [
        number
        for number, cell in enumerate(handed_in.code)
        if all(count[question] == 1 for question in questions_in(cell))
    ]
