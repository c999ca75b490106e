"""The command ``coldbench``: open the course, hand out, mark, report, change, undo, release, invented class.

Exit codes: 0 done; 1 done, with troubles listed; 2 could not start (one sentence says why).
Each part is loaded when its word is given, so that opening the course stays quick.
"""

from __future__ import annotations

import argparse
import contextlib
import os
import sys
from collections.abc import Sequence
from pathlib import Path

from coldbench.errors import CannotStart

DONE, DONE_WITH_TROUBLES, COULD_NOT_START = 0, 1, 2


def find_source(given: Path | None) -> Path:
    """Find the project's folder: the one given, or one above the current folder, or the package's own.

    Parameters
    ----------
    given : Path or None
        What ``--source`` said

    Returns
    -------
    Path
        A folder that holds ``course``

    Raises
    ------
    CannotStart
        There is none.

    Source
    ------
    Arrangement of this project.
    """
    here, own = Path.cwd(), Path(__file__).resolve().parents[2]
    candidates = [given] if given else [here, *here.parents, own]
    for folder in candidates:
        if (folder / "course").is_dir() and (folder / "lib" / "start.py").is_file():
            return folder.resolve()
    where = f"in {given}" if given else "here or above"
    raise CannotStart(
        f"The project's folder (with “course” and “lib” in it) is not {where}. Give it with --source."
    )


def whole_project(given: Path | None) -> Path:
    """Find the project's folder where the instructor's half is needed too.

    Parameters
    ----------
    given : Path or None
        What ``--source`` said

    Returns
    -------
    Path
        A folder that holds ``course`` and ``solutions``

    Raises
    ------
    CannotStart
        There is none, or it is the students' bundle.

    Source
    ------
    Arrangement of this project.
    """
    source = find_source(given)
    if not (source / "solutions").is_dir():
        raise CannotStart(
            f"{source} is what students get, without “solutions”. Give the whole project with --source."
        )
    return source


def _open_course(choice: argparse.Namespace) -> int:
    """Prepare the work folder and run JupyterLab in it until it is stopped."""
    from coldbench import work_folder
    from coldbench.serving import serve

    folder = work_folder.prepare(
        find_source(choice.source), choice.work_folder or work_folder.default_folder()
    )
    return serve(folder, choice.port, browser=not choice.no_browser)


def _hand_out(choice: argparse.Namespace) -> int:
    """Make the students' bundle."""
    source = whole_project(choice.source)
    from coldbench.grading.hand_out import make_bundle

    print(f"The students' bundle: {make_bundle(source, choice.to).resolve()}")
    return DONE


def _mark(choice: argparse.Namespace) -> int:
    """Mark a folder of hand-ins."""
    source = whole_project(choice.source)
    from coldbench.grading import evening

    return evening.mark(choice.folder, choice.class_folder, source)


def _sentences(choice: argparse.Namespace) -> int:
    """Open the form at the sentences that are to be marked by hand, until it is stopped."""
    source = whole_project(choice.source)
    from coldbench.grading.sentences import open_form

    return open_form(choice.class_folder, source, choice.port, browser=not choice.no_browser)


def _invented_class(choice: argparse.Namespace) -> int:
    """Run the evening on the invented class."""
    source = whole_project(choice.source)
    from coldbench.grading import evening

    return evening.invented_class(choice.class_folder, source)


def _report(choice: argparse.Namespace) -> int:
    """Write the class report again."""
    source = whole_project(choice.source)
    from coldbench.grading import evening

    return evening.report(choice.class_folder, source)


def _decide(choice: argparse.Namespace) -> int:
    """Change something about marks, take a change back, list changes, or release changed marks."""
    if choice.class_folder is None:
        raise CannotStart("Say which class this is about: --class-folder MY-CLASS.")
    source = whole_project(choice.source)
    from coldbench.grading.decide import Desk

    return choice.decide(Desk(choice.class_folder, source), choice)


def _add_changes(words) -> None:
    """Say what can be changed, each with its own words."""

    def change(name: str, text: str, decide, *positions: tuple[str, dict]) -> argparse.ArgumentParser:
        added = words.add_parser(name, help=text, description=text)
        added.set_defaults(decide=decide)
        for position, more in positions:
            added.add_argument(position, **more)
        added.add_argument(
            "--class-folder", type=Path, default=argparse.SUPPRESS, metavar="CLASS", help="the class's folder"
        )
        return added

    student = "student", {"metavar": "STUDENT", "help": "the student's number, for example s07"}
    homework = "homework", {"metavar": "HOMEWORK", "help": "its number, for example 05"}
    question = "question", {"metavar": "QUESTION", "help": "its number, for example 05.3"}
    date = "until", {"metavar": "DATE", "help": "2027-03-01 (to its end), or “2027-03-01 18:00”"}
    percent = "percent", {"metavar": "PERCENT", "type": float, "help": "of the points, for each day begun"}
    said = "reason", {"metavar": "REASON", "help": "what the student says, in quotation marks"}
    extending = change(
        "extension",
        "Give a student more time.",
        lambda desk, it: desk.extend(it.student, it.homework, it.until, it.reason),
        *(student, homework, date),
    )
    dropping = change(
        "drop",
        "Let a question count for nobody.",
        lambda desk, it: desk.drop(it.question, it.reason),
        question,
    )
    late = change(
        "late",
        "Say what coming late costs (nothing, where this is not said).",
        lambda desk, it: desk.late(it.homework, it.percent, it.at_most, it.free_days, it.reason),
        *(homework, percent),
    )
    late.add_argument("--at-most", type=float, default=100.0, metavar="PERCENT", help="in all (100)")
    late.add_argument("--free-days", type=int, default=0, metavar="DAYS", help="that cost nothing (0)")
    regrading = change(
        "regrade",
        "Note that a student asks to look at a question again, and open it in the form.",
        lambda desk, it: desk.regrade(it.student, it.question, it.reason, it.points),
        *(student, question, said),
    )
    regrading.add_argument("--points", type=float, help="decide at once: the points it gets")
    for added in (extending, dropping, late):
        added.add_argument("--reason", default="", help="why, for the log and the page")


def read_arguments(arguments: Sequence[str] | None) -> argparse.Namespace:
    """Read what was typed after the command's name.

    Parameters
    ----------
    arguments : sequence of str or None
        The words; None takes those of the running command

    Returns
    -------
    Namespace
        The choices, with the function to call as ``run``

    Source
    ------
    Arrangement of this project.
    """
    parser = argparse.ArgumentParser(
        prog="coldbench", description="Household refrigeration: course and marking."
    )
    words = parser.add_subparsers(required=True, metavar="WORD")

    def word(name: str, run, text: str) -> argparse.ArgumentParser:
        added = words.add_parser(name, help=text, description=text)
        added.set_defaults(run=run)
        added.add_argument(
            "--source", type=Path, metavar="FOLDER", help="the project's folder (found by itself)"
        )
        return added

    opening = word("open", _open_course, "Open the course in the browser.")
    opening.add_argument(
        "--work-folder", type=Path, metavar="FOLDER", help="where you work (~/coldbench-work)"
    )
    handing = word("hand-out", _hand_out, "Make the bundle that students get.")
    handing.add_argument(
        "--to",
        type=Path,
        metavar="FILE.zip",
        default=Path("coldbench-students.zip"),
        help="the bundle to write",
    )

    marking = word("mark", _mark, "Mark a folder of hand-ins.")
    marking.add_argument("folder", type=Path, help="the hand-ins: folders, notebooks or zip files")
    reading = word("sentences", _sentences, "Open the form at the sentences to be marked by hand.")
    for added in (opening, reading):
        added.add_argument("--port", type=int, help="the port to serve on (the next free one from 8888)")
        added.add_argument("--no-browser", action="store_true", help="print the address, open nothing")
    reporting = word("report", _report, "Write the class report again.")
    changing = word("change", _decide, "Change something about marks; each change can be undone.")
    undoing = word("undo", _decide, "Take a change back.")
    undoing.add_argument("number", type=int, nargs="?", help="of the change (the latest)")
    undoing.set_defaults(decide=lambda desk, it: desk.undo(it.number))
    listing = word("changes", _decide, "List the changes.")
    listing.set_defaults(decide=lambda desk, it: desk.tell_changes())
    releasing = word("release", _decide, "Let students see marks that changed because a question changed.")
    releasing.add_argument("homework", nargs="?", help="its number (all)")
    releasing.set_defaults(decide=lambda desk, it: desk.release(it.homework))
    for added in (marking, reading, reporting, changing, undoing, listing, releasing):
        required = added is not changing  # there it may also stand last
        added.add_argument(
            "--class-folder", type=Path, required=required, metavar="CLASS", help="the class's folder"
        )
    _add_changes(changing.add_subparsers(required=True, metavar="WHAT"))
    evening = word("class", _invented_class, "The instructor's evening on the invented class.")
    evening.add_argument(
        "--class-folder",
        type=Path,
        metavar="CLASS",
        default=Path.home() / "coldbench-invented-class",
        help="where it is put (~/coldbench-invented-class)",
    )
    return parser.parse_args(arguments)


class _Outlet:
    """What is printed goes to a stream whose reader may leave (as ``head`` does): the work goes on unread."""

    def __init__(self, stream):
        self.stream = stream

    def write(self, text: str) -> int:
        with self._perhaps_unread():
            self.stream.write(text)
        return len(text)

    def flush(self) -> None:
        with self._perhaps_unread():
            self.stream.flush()

    def __getattr__(self, name: str):
        return getattr(self.stream, name)

    @contextlib.contextmanager
    def _perhaps_unread(self):
        try:
            yield
        except BrokenPipeError:
            nowhere = os.open(os.devnull, os.O_WRONLY)
            os.dup2(nowhere, self.stream.fileno())
            os.close(nowhere)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command.

    Parameters
    ----------
    arguments : sequence of str or None
        The words after the command's name; None takes those of the running command

    Returns
    -------
    int
        0 done; 1 done, with troubles listed; 2 could not start

    Source
    ------
    Arrangement of this project.
    """
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    choice = read_arguments(arguments)
    try:
        with contextlib.redirect_stdout(_Outlet(sys.stdout)):
            code = choice.run(choice)
            sys.stdout.flush()
            return code
    except CannotStart as sentence:
        print(sentence, file=sys.stderr)
        return COULD_NOT_START
    except KeyboardInterrupt:
        print("\nStopped.", file=sys.stderr)
        return 130


if __name__ == "__main__":
    sys.exit(main())
