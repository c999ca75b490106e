"""The folder in which a student works: new lessons arrive beside old work, and nothing is overwritten.

`prepare` copies the course and the exercises into it, and keeps a record of what arrived
(``.coldbench-arrived.json``: path and SHA-256), from which it tells the student's changes from its own.
"""

from __future__ import annotations

import hashlib
import json
import os
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

from coldbench import __version__
from coldbench.errors import CannotStart

RECORD = ".coldbench-arrived.json"
FOLDERS = ("course", "exercises")
NOT_FOR_STUDENTS = {"instructor-notes.md", "pictures"}  # README's pictures show a class report


def default_folder() -> Path:
    """Say where a student works unless told otherwise.

    Returns
    -------
    Path
        The environment variable COLDBENCH_WORK, or ``coldbench-work`` in the home folder

    Source
    ------
    Arrangement of this project.
    """
    return Path(os.environ.get("COLDBENCH_WORK") or Path.home() / "coldbench-work")


def student_files(source: Path) -> Iterator[str]:
    """List what students receive of the course and the exercises.

    Hidden files, caches, links, the instructor's notes and README's pictures are left out.

    Parameters
    ----------
    source : Path
        The clone or the unpacked bundle

    Yields
    ------
    str
        Paths below the source, with forward slashes, in a fixed order

    Source
    ------
    Arrangement of this project.
    """
    for folder in FOLDERS:
        for path in sorted((source / folder).rglob("*")):
            inner = path.relative_to(source)
            hidden = any(part.startswith((".", "__")) for part in inner.parts)
            if (
                path.is_file()
                and not hidden
                and NOT_FOR_STUDENTS.isdisjoint(inner.parts)
                and not _has_link(source, inner)
            ):
                yield inner.as_posix()


def _has_link(folder: Path, inner: Path) -> bool:
    """Tell whether a path below a folder passes through a symbolic link."""
    return any((folder / step).is_symlink() for step in [inner, *inner.parents][:-1])


def prepare(source: Path, work_folder: Path, say: Callable[[str], None] = print) -> Path:
    """Bring the course and the exercises into the work folder without losing anything in it.

    A file that the student has not changed follows the course. Beside a changed one, a new version arrives
    once, under a name such as ``01-pressure (new 0.2.0).ipynb``. A deleted file arrives again.

    Parameters
    ----------
    source : Path
        The clone or the unpacked bundle
    work_folder : Path
        Where the student works; made if it is missing
    say : callable
        Receives one sentence for each thing a student should know

    Returns
    -------
    Path
        The work folder, without links in its path

    Raises
    ------
    CannotStart
        The source holds no course, or the work folder lies inside it or cannot be written to.

    Source
    ------
    Arrangement of this project.
    """
    source, work_folder = source.resolve(), work_folder.expanduser().resolve()
    if not (source / "course").is_dir():
        raise CannotStart(
            f"There is no folder “course” in {source}. Give the project's folder with --source."
        )
    if work_folder.is_relative_to(source):
        raise CannotStart(
            f"The work folder {work_folder} lies inside the project's own folder, which stays as it came. "
            "Choose another one with --work-folder, or none."
        )
    try:
        work_folder.mkdir(parents=True, exist_ok=True)
        arrived = _read_record(work_folder, say)
        before = dict(arrived)
        for inner in student_files(source):
            _bring(inner, (source / inner).read_bytes(), work_folder, arrived, say)
        if arrived != before:
            record = {"edition": __version__, "files": arrived}
            write_whole(work_folder / RECORD, json.dumps(record, indent=1, ensure_ascii=False).encode())
    except OSError as error:
        raise CannotStart(
            f"The work folder {work_folder} cannot be used ({error.strerror or error}). Check that the disk "
            "has room and that the folder is yours, or choose another one with --work-folder."
        ) from error
    return work_folder


def _read_record(work_folder: Path, say: Callable[[str], None]) -> dict[str, str]:
    """Read which files arrived, path to SHA-256; a record that cannot be read counts as none."""
    try:
        files = json.loads((work_folder / RECORD).read_text("utf-8"))["files"]
        return {str(inner): str(digest) for inner, digest in files.items()}
    except FileNotFoundError:
        return {}
    except (ValueError, KeyError, TypeError, AttributeError):
        say(f"The record {RECORD} cannot be read; every file that differs is taken as yours and kept.")
        return {}


def _bring(
    inner: str, content: bytes, work_folder: Path, arrived: dict[str, str], say: Callable[[str], None]
) -> None:
    """Bring one file or leave it alone; ``arrived`` keeps what the student has been given."""
    target, new = work_folder / inner, _digest(content)
    last = arrived.get(inner)
    if _has_link(work_folder, Path(inner)) or (target.exists() and not target.is_file()) or _blocked(target):
        say(f"{inner}: something else lies there, so it is left alone and the course's file did not arrive.")
        return
    if not target.exists():
        target.parent.mkdir(parents=True, exist_ok=True)
        write_whole(target, content)
        if last:
            say(f"{inner} was missing and has arrived again.")
    else:
        present = _digest(target.read_bytes())
        if present != new and present == last:
            write_whole(target, content)
            say(f"{inner} is new (you had not changed the old one).")
        elif new not in (present, last):
            beside = _free_name(target, new)
            write_whole(beside, content)
            say(f"{inner} has a new version; yours is untouched, the new one lies beside it: {beside.name}")
    arrived[inner] = new


def _blocked(target: Path) -> bool:
    """Tell whether a file lies where one of a path's folders should be."""
    return any(folder.exists() and not folder.is_dir() for folder in target.parents)


def _free_name(target: Path, new: str) -> Path:
    """Find a name for a new version beside a changed file: free, or held by just this version."""
    number = 1
    while True:
        mark = f"new {__version__}" + (f", {number}" if number > 1 else "")
        beside = target.with_name(f"{target.stem} ({mark}){target.suffix}")
        if not os.path.lexists(beside) or (beside.is_file() and _digest(beside.read_bytes()) == new):
            return beside
        number += 1


def _digest(content: bytes) -> str:
    """Sum up a file's content: SHA-256 in hexadecimal."""
    return hashlib.sha256(content).hexdigest()


def write_whole(path: Path, content: bytes) -> None:
    """Write a file so that it is there whole or not at all; a link in its place is replaced, not followed.

    Parameters
    ----------
    path : Path
        Where; its folder exists
    content : bytes
        What

    Source
    ------
    Arrangement of this project.
    """
    handle, part = tempfile.mkstemp(dir=path.parent, prefix=".coldbench-", suffix=".part")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
        os.chmod(part, 0o644)
        os.replace(part, path)
    except BaseException:
        os.unlink(part)
        raise
