"""What runs inside the box: a student's code cells, one after the other, as a notebook would run them.

Started in a fresh process by `coldbench.grading.bubblewrap`, or called by one that is as bare. Rights are
given up and limits set first; then each cell runs. An error in one cell does not stop the next; an
endless loop costs its own cell. It reports by lines of JSON, into the file into which
`coldbench.homework.answer` writes too, and knows nothing that a student may not know.
"""

from __future__ import annotations

import json
import os
import signal
import sys
from typing import NoReturn

from coldbench.grading.boxed_rights import give_up_rights


class TookTooLong(BaseException):
    """A cell ran longer than a cell may; not an Exception, so that ``except Exception`` lets it pass."""


class NobodyThere(RuntimeError):
    """A cell asked for something to be typed while its homework is marked."""


def make_shell():
    """Make the shell in which a notebook's cells run: display and magics work, tracebacks cost nothing.

    It knows ``answer`` and ``student`` from the start, for those who deleted the cell that imports them.

    Returns
    -------
    InteractiveShell
        Without history, files or colours

    Source
    ------
    IPython's own documentation.
    """
    from IPython.core.interactiveshell import InteractiveShell
    from traitlets.config import Config

    from coldbench.homework import answer, student

    quiet = Config()
    quiet.HistoryManager.enabled = False
    shell = InteractiveShell.instance(config=quiet)
    shell.showtraceback = shell.showsyntaxerror = lambda *_, **__: None
    shell.enable_gui = lambda *_, **__: None
    shell.enable_matplotlib = lambda *_, **__: (None, "agg")
    shell.user_ns |= {"answer": answer, "student": student}
    return shell


def refuse_to_ask(*_, **__):
    """Stand in for ``input``: nobody is there to type when homework is marked.

    Raises
    ------
    NobodyThere
        Always.

    Source
    ------
    Arrangement of this project.
    """
    raise NobodyThere("Nobody is there to type when homework is marked. Type the answer into the cell.")


def run_cells(cells: list[str], again: list[int], seconds: float, tell) -> None:
    """Run every cell, telling where it is and what went wrong.

    A cell that lacked a name runs once more at the end: another cell, further down, may have given it.

    Parameters
    ----------
    cells : list of str
        Sources of the code cells
    again : list of int
        Numbers of the cells that may run once more
    seconds : float
        Longest time of one cell [s]
    tell : callable
        Takes a dict of plain values

    Source
    ------
    Arrangement of this project.
    """
    import builtins
    import getpass

    shell = make_shell()
    builtins.input = getpass.getpass = refuse_to_ask

    def ring(*_):
        raise TookTooLong

    def run(number: int) -> BaseException | None:
        tell({"cell": number})
        try:
            signal.setitimer(signal.ITIMER_REAL, seconds, 1.0)
            result = shell.run_cell(cells[number], store_history=False)
            return result.error_before_exec or result.error_in_exec
        except BaseException as error:  # whatever a cell throws, the next cell still runs
            return error
        finally:
            _stop_the_clock()

    def tell_of(number: int, failure: BaseException | None) -> None:
        if failure is not None:
            tell({"cell": number, "problem": problem_word(failure), "detail": _detail(failure)})

    signal.signal(signal.SIGALRM, ring)
    without_a_name = []
    for number in range(len(cells)):
        failure = run(number)
        if isinstance(failure, NameError) and number in again:
            without_a_name.append(number)
        else:
            tell_of(number, failure)
    for number in without_a_name:
        tell_of(number, run(number))


def problem_word(failure: BaseException) -> str:
    """Sort what a cell threw into one of the box's five words.

    Parameters
    ----------
    failure : BaseException
        What was thrown

    Returns
    -------
    str
        "time", "asked", "memory", "syntax" or "error"

    Source
    ------
    Arrangement of this project.
    """
    kinds = ((TookTooLong, "time"), (NobodyThere, "asked"), (MemoryError, "memory"), (SyntaxError, "syntax"))
    return next((word for kind, word in kinds if isinstance(failure, kind)), "error")


def _stop_the_clock() -> None:
    while True:  # the bell may ring once more while it is being put away
        try:
            signal.setitimer(signal.ITIMER_REAL, 0)
            return
        except TookTooLong:
            continue


def _detail(failure: BaseException) -> str:
    try:
        if isinstance(failure, SyntaxError):
            return f"{failure.msg}, line {failure.lineno}"[:300]
        return f"{type(failure).__name__}: {failure}"[:300]
    except BaseException:  # a student's own error may fail to say what it is
        return type(failure).__name__[:300]


def carry_out(order: dict) -> NoReturn:
    """Run the cells of an order, say that the end was reached, and end this process.

    Parameters: ``order`` what to do (`coldbench.grading.box_order.order_for`).
    """
    report = os.open(os.environ["COLDBENCH_ANSWERS"], os.O_WRONLY | os.O_APPEND)

    def tell(line: dict) -> None:
        os.write(report, (json.dumps(line) + "\n").encode())

    run_cells(order["cells"], order["again"], order["seconds"], tell)
    tell({"finished": True})
    os._exit(0)  # nothing that a student left behind may keep the box open


def main() -> None:
    """Read the order from standard input, give up every right, say so, and carry it out."""
    order = json.load(sys.stdin.buffer)
    give_up_rights(order)
    os.write(order["begun"], b"1")
    os.close(order["begun"])
    carry_out(order)


if __name__ == "__main__":
    main()
