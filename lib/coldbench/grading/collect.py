"""Finding the notebooks in a folder of hand-ins: folders, loose files, zip files. Originals stay untouched.

Inside: `collect`, which gives one `Found` a file, with its bytes or the sentence why it was not read. No
file is ever unpacked to a place on disk, no link is followed.
"""

from __future__ import annotations

import io
import os
import stat
import zipfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path, PurePosixPath

from coldbench.grading.arrival import Came, in_zip, of_file, open_plainly
from coldbench.grading.hand_in_file import LARGEST

NOTEBOOK_ENDINGS = (".ipynb", ".ipynb.txt", ".ipynb.json", ".ipynb.bak")
LEFT_ALONE = (".ipynb_checkpoints", "__MACOSX", "__pycache__")
MOST_IN_ZIP = 2_000
LARGEST_IN_ZIP = 200_000_000
"""A zip file with more in it, zip files inside it included, is refused: entries [-], bytes [bytes]."""

LONGEST_PATH = 1_000
"""Folders in folders are entered as long as their names are no longer than this together [bytes]."""

TOO_DEEP = "Folders lie in folders, too deep to be opened. Ask the student for the notebook alone."

SHARE_OF_INNER = 0.1
"""Of this, the most that a zip file inside another may have [-], so that one leaves room for all."""


@dataclass(frozen=True)
class Found:
    """One file that may be a hand-in.

    Parameters
    ----------
    place : str
        Where it lay, in words for the instructor
    parts : tuple of str
        Names of folders, zip files and the file itself, outermost first
    content : bytes
        The file; empty when there is a problem
    came : Came
        When it came
    problem : str
        Why it was not read, a sentence; otherwise empty

    Source
    ------
    Arrangement of this project.
    """

    place: str
    parts: tuple[str, ...]
    content: bytes
    came: Came
    problem: str = ""


Named = Callable[[tuple[str, ...]], list[str]]
"""From names of folders and a file to the students that they point to."""


def collect(folder: Path, leave_out: Path, named: Named) -> Iterator[Found]:
    """Give every file under a folder that may be a hand-in.

    Parameters
    ----------
    folder : Path
        The hand-ins: a folder, or one zip file or notebook
    leave_out : Path
        A folder that is not entered (the class folder)
    named : callable
        Which students names of folders and files point to

    Yields
    ------
    Found
        One a notebook, in the order of their names; one a file that could not be read; and one a
        student's folder in which there was no notebook

    Source
    ------
    Arrangement of this project.
    """
    leave_out = leave_out.resolve()
    if folder.is_file():
        yield from _file(folder, (folder.name,), named)
        return
    unreadable: list[OSError] = []
    filled, empty = set(), []
    for name, folders, files in os.walk(folder, onerror=unreadable.append):
        here = Path(name)
        inside = here.relative_to(folder).parts
        if len(os.fsencode(os.path.join("", *inside))) > LONGEST_PATH:
            yield _refused((*inside[:2], "…"), TOO_DEEP)
            filled.update(inside[:1])
            folders.clear()
            continue
        linked = [entry for entry in folders if (here / entry).is_symlink()]
        folders[:] = sorted(
            entry
            for entry in folders
            if entry not in LEFT_ALONE and entry not in linked and (here / entry).resolve() != leave_out
        )
        wanted = sorted(entry for entry in files if _is_wanted(entry))
        wanted = wanted or sorted(entry for entry in files if _looks_like_one(here / entry))
        for entry in linked + wanted:
            yield from _file(here / entry, (*inside, entry), named)
        others = [entry for entry in files if entry not in wanted and not entry.startswith(".")]
        if wanted or linked:
            filled.update(inside[:1])
        elif inside and not folders:
            empty.append((inside, others))
    for inside, others in empty:
        if inside[0] not in filled:
            found = f"no notebook in it, only {', '.join(sorted(others)[:5])}" if others else "nothing in it"
            yield _refused(inside, f"There is {found}. Ask the student for the .ipynb file.")
    for fault in unreadable:
        yield _refused(
            Path(fault.filename).relative_to(folder).parts,
            f"The folder cannot be opened ({fault.strerror}). Make it readable and mark again.",
        )


def _is_wanted(name: str) -> bool:
    return not name.startswith(".") and name.lower().endswith((*NOTEBOOK_ENDINGS, ".zip"))


def _looks_like_one(path: Path) -> bool:
    """Whether a file with another ending begins as a notebook does."""
    try:
        if path.is_symlink() or not path.is_file() or path.name.startswith("."):
            return False
        with path.open("rb") as file:
            beginning = file.read(4_000)
    except OSError:
        return False
    return beginning.lstrip(b"\xef\xbb\xbf \r\n\t").startswith(b"{") and b'"cell' in beginning


def _refused(parts: tuple[str, ...], sentence: str) -> Found:
    now = datetime.now(UTC)
    return Found("/".join(parts), parts, b"", Came(now, now), sentence)


def _file(path: Path, parts: tuple[str, ...], named: Named) -> Iterator[Found]:
    try:
        handle = open_plainly(path)
    except OSError as fault:
        why = "It is a link, not a file" if path.is_symlink() else f"It cannot be read ({fault.strerror})"
        yield _refused(parts, f"{why}. Copy the file itself into the folder and mark again.")
        return
    with os.fdopen(handle, "rb") as file:
        facts = os.fstat(handle)
        if not stat.S_ISREG(facts.st_mode):
            yield _refused(parts, "It is not an ordinary file. Ask the student for the .ipynb file.")
        elif path.suffix.lower() == ".zip":
            yield from _zip(file, parts, of_file(path, parts, facts.st_mtime), named, _Room())
        elif facts.st_size > LARGEST:
            yield _refused(parts, _too_large(facts.st_size))
        else:
            yield Found("/".join(parts), parts, file.read(LARGEST + 1), of_file(path, parts, facts.st_mtime))


def _too_large(size: int) -> str:
    return (
        f"It has {size / 1e6:.0f} MB; a homework has far less than {LARGEST / 1e6:.0f} MB, so it was not "
        "opened. Ask the student to clear the outputs (Edit, Clear Outputs of All Cells) and hand in again."
    )


@dataclass
class _Room:
    """What a zip file may still hold, with the zip files inside it: entries [-] and bytes [bytes]."""

    entries: int = MOST_IN_ZIP
    size: int = LARGEST_IN_ZIP

    def take(self, entries: list[zipfile.ZipInfo], depth: int) -> bool:
        """Use up room for these entries, where they fit; an inner zip file has only its share."""
        share = 1 if depth == 1 else SHARE_OF_INNER
        size = sum(entry.file_size for entry in entries)
        if len(entries) > min(self.entries, MOST_IN_ZIP * share) or size > min(
            self.size, LARGEST_IN_ZIP * share
        ):
            return False
        self.entries -= len(entries)
        self.size -= size
        return True


def _zip(
    file, parts: tuple[str, ...], came: Came, named: Named, room: _Room, depth: int = 1
) -> Iterator[Found]:
    try:
        with zipfile.ZipFile(file) as archive:
            entries = archive.infolist()
            if not room.take(entries, depth):
                yield _refused(
                    parts,
                    "The zip file unpacks to far more than a class's homework, so it was not opened. "
                    "Ask who made it for the notebooks alone.",
                )
                return
            by_collector = not named(parts) and _holds_several(entries, named)
            before = False
            for entry in sorted(entries, key=lambda entry: entry.filename):
                for found in _entry(archive, entry, parts, in_zip(entry, came, by_collector), room, depth):
                    before = True
                    yield found
            if not before:
                yield _refused(
                    parts, "There is no notebook in the zip file. Ask the student for the .ipynb file."
                )
    except Exception:  # damaged zip files make the library fail in many ways
        yield _refused(parts, "The zip file is damaged. Ask the student to pack and hand it in again.")


def _holds_several(entries: list[zipfile.ZipInfo], named: Named) -> bool:
    """Whether the names in a zip file point to more than one student: then it was packed by who collected."""
    students: set[str] = set()
    for entry in entries:
        students.update(named(PurePosixPath(entry.filename.replace("\\", "/")).parts))
        if len(students) > 1:
            return True
    return False


def _entry(
    archive: zipfile.ZipFile,
    entry: zipfile.ZipInfo,
    parts: tuple[str, ...],
    came: Came,
    room: _Room,
    depth: int,
) -> Iterator[Found]:
    inner = PurePosixPath(entry.filename.replace("\\", "/"))
    if entry.is_dir() or not _is_wanted(inner.name) or any(part in LEFT_ALONE for part in inner.parts):
        return
    place = (*parts, *(part for part in inner.parts if part not in ("/", "..")))
    if inner.is_absolute() or ".." in inner.parts or ":" in entry.filename:
        yield _refused(
            place, "Its name in the zip file leads out of the folder, so it was not opened. Ask who made it."
        )
        return
    if stat.S_ISLNK(entry.external_attr >> 16):
        yield _refused(place, "It is a link, not a file. Ask the student for the notebook itself.")
        return
    if entry.flag_bits & 1:
        yield _refused(place, "The zip file asks for a password. Ask the student for one without.")
        return
    try:
        with archive.open(entry) as packed:
            content = packed.read(LARGEST + 1)
    except Exception:  # as above
        yield _refused(place, "This part of the zip file is damaged. Ask the student to hand it in again.")
        return
    if len(content) > LARGEST:
        yield _refused(place, _too_large(max(entry.file_size, len(content))))
    elif inner.suffix.lower() == ".zip":
        if depth > 1:
            yield _refused(
                place, "It is a zip file in a zip file in a zip file. Unpack it once and mark again."
            )
        else:
            yield from _zip(io.BytesIO(content), place, came, lambda _: [], room, depth + 1)
    else:
        yield Found("/".join(place), place, content, came)
