"""Taking hand-ins in: whose is it, which homework is it, and a copy of it, unchanged, in the class folder.

Inside: `take_in`, which goes through a folder of hand-ins and never stops for a bad one. Each notebook is
copied to ``hand-ins/<student>/homework-NN/``. An earlier, different one moves to ``hand-ins-earlier/`` under
a number; what belongs to nobody is kept in ``hand-ins-unclear/``. Nothing is overwritten.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

from coldbench.errors import CannotRead
from coldbench.grading.arrival import STAMP, Came, kept_came, write_came
from coldbench.grading.collect import Found, collect
from coldbench.grading.full_disk import is_full
from coldbench.grading.hand_in_file import Notebook, homework_of, read_notebook, typed_student
from coldbench.grading.many_troubles import cut_short, cut_short_at
from coldbench.grading.plain_text import one_line
from coldbench.grading.results import write_if_changed
from coldbench.homework.sheet import student_number

HAND_INS, EARLIER, UNCLEAR = "hand-ins", "hand-ins-earlier", "hand-ins-unclear"
NAMED_HOMEWORK = re.compile(r"homework[-_ ]?(\d\d)(?!\d)", re.IGNORECASE)
NOT_A_NAME = re.compile(r"homework[-_ ]?\d\d(?!\d)|\(\d+\)|copy ?\d*|\.ipynb.*$|\.zip$")
NAME_A_FOLDER = "Put it into a folder named with the student's number and mark again."


@dataclass
class TakenIn:
    """One hand-in that lies in the class folder.

    Parameters
    ----------
    student : str
        Student number
    homework : str
        For example "05"
    troubles : list of str
        Sentences about this hand-in

    Source
    ------
    Arrangement of this project.
    """

    student: str
    homework: str
    troubles: list[str] = field(default_factory=list)


@dataclass
class Intake:
    """What came of a folder of hand-ins.

    Parameters
    ----------
    taken : dict
        (student, homework) to `TakenIn`, for every notebook that was found and understood
    named : set of tuple
        Those of them that came in under the student's number or name, not only with a number typed in
    troubles : list of str
        Sentences about files that belong to no hand-in

    Source
    ------
    Arrangement of this project.
    """

    taken: dict[tuple[str, str], TakenIn] = field(default_factory=dict)
    named: set[tuple[str, str]] = field(default_factory=set)
    troubles: list[str] = field(default_factory=list)


def hand_in_path(class_folder: Path, student: str, homework: str) -> Path:
    """Say where a student's hand-in lies.

    Parameters
    ----------
    class_folder : Path
        The class folder
    student, homework : str
        For example "s07", "05"

    Returns
    -------
    Path
        The notebook

    Source
    ------
    Layout of the gradebook's course folder.
    """
    name = f"homework-{homework}"
    return class_folder / HAND_INS / student / name / f"{name}.ipynb"


def take_in(folder: Path, class_folder: Path, roster: dict[str, str], homeworks: set[str]) -> Intake:
    """Copy every hand-in of a folder into the class folder, each where it belongs.

    Parameters
    ----------
    folder : Path
        Hand-ins: folders named with student numbers, loose notebooks, zip files
    class_folder : Path
        The class folder
    roster : dict of str to str
        Student number to name
    homeworks : set of str
        Homeworks that this course has, for example {"01", "05"}

    Returns
    -------
    Intake
        What was taken in, and troubles as sentences

    Source
    ------
    Arrangement of this project.
    """
    intake = Intake()
    nameless: list[Found] = []
    troubles: dict[str, list[tuple[str, str]]] = {}
    every = collect(folder, class_folder, lambda parts: _named_students(parts, roster))
    for found in _named_first(every, roster, nameless):
        try:
            _take(found, class_folder, roster, homeworks, intake, any(found is one for one in nameless))
        except CannotRead as refusal:
            _note(troubles, found, str(refusal), roster)
        except OSError as fault:
            if is_full(fault):
                raise
            _note(troubles, found, f"It could not be copied ({fault.strerror}). Mark again.", roster)
    for of_one in troubles.values():
        intake.troubles += cut_short_at(of_one)
    for taken in intake.taken.values():
        taken.troubles = cut_short(taken.troubles)
    return intake


def _note(troubles: dict, found: Found, sentence: str, roster: dict[str, str]) -> None:
    """Put a trouble to those of the same hand-in: of the student it came from, or else what it lay in."""
    whose = " and ".join(_named_students(found.parts, roster)) or found.parts[0]
    troubles.setdefault(whose, []).append((found.place, sentence))


def _named_first(every: Iterable[Found], roster: dict, nameless: list[Found]) -> Iterator[Found]:
    """Put off those whose names tell no student: what came in under a student's own name goes first."""
    for found in every:
        if found.problem or _named_students(found.parts, roster):
            yield found
        else:
            nameless.append(found)
    yield from nameless


def _take(
    found: Found, class_folder: Path, roster: dict, homeworks: set[str], intake: Intake, nameless: bool
) -> None:
    if found.problem:
        owner = _named_students(found.parts, roster)
        raise CannotRead(
            f"{found.problem} It came from student {owner[0]}." if len(owner) == 1 else found.problem
        )
    try:
        notebook = read_notebook(found.content)
    except CannotRead as refusal:
        raise CannotRead(f"{refusal} {_kept(found, class_folder)}") from refusal
    homework = homework_of(notebook)
    if homework not in homeworks:
        what = f"homework {homework}, which this course does not have" if homework else "no homework of ours"
        raise CannotRead(f"It is {what}. Ask the student for the right file. {_kept(found, class_folder)}")
    student, troubles = _whose(found, notebook, roster, class_folder)
    if nameless and (student, homework) in intake.named:
        if hand_in_path(class_folder, student, homework).read_bytes() == found.content:
            return
        raise CannotRead(
            f"It says that it is from {student}, whose homework {homework} came in under their own name, so "
            f"this one was not marked. Ask whose it is. {_kept(found, class_folder)}"
        )
    taken = TakenIn(student, homework, [*notebook.remarks, *troubles])
    named = NAMED_HOMEWORK.search(found.parts[-1])
    if named and named[1] != homework:
        current = hand_in_path(class_folder, student, homework)
        if (student, homework) in intake.taken or (
            current.is_file() and current.read_bytes() != found.content
        ):
            raise CannotRead(
                f"It is named homework {named[1]} but holds homework {homework}, which {student} has "
                f"handed in already. Ask for homework {named[1]}. {_kept(found, class_folder)}"
            )
        taken.troubles.append(
            f"It came in under the name of homework {named[1]} but holds homework {homework}, and was "
            f"marked as that. Ask for homework {named[1]}."
        )
    _keep(found, class_folder, student, homework)
    earlier = intake.taken.get((student, homework))
    if earlier:
        taken.troubles = [*dict.fromkeys([*earlier.troubles, *taken.troubles])]
    intake.taken[student, homework] = taken
    if not nameless:
        intake.named.add((student, homework))


def _named_students(parts: tuple[str, ...], roster: dict[str, str]) -> list[str]:
    """Which students the names of folders and file point to: the outermost that is plain, or else all."""
    for part in parts:
        named = [one for one in _pointed_to((part,), roster) if _is_plain(one, part)]
        if named:
            return named
    return _pointed_to(parts, roster)


def _is_plain(number: str, part: str) -> bool:
    """Whether a name tells a student beyond doubt; the 1 of “week 1” does not."""
    return part.lower() == number or not number.isdecimal() or len(number) > 3


def _pointed_to(parts: tuple[str, ...], roster: dict[str, str]) -> list[str]:
    """Which students these names point to: by number, or else by the whole name."""
    texts = [NOT_A_NAME.sub(" ", part.lower()) for part in parts]
    words = [re.split(r"[^\w.-]+|_", text) for text in texts]
    pieces = {piece for group in words for word in group for piece in (word, *re.split(r"[-.]", word))}
    by_number = [number for number in roster if number in pieces]
    if by_number:
        return by_number
    sounds = [set(re.split(r"[\W_]+", text.casefold())) for text in texts]
    names = {number: set(name.casefold().split()) for number, name in roster.items() if " " in name}
    return [number for number, name in names.items() if any(name <= sound for sound in sounds)]


def _whose(found: Found, notebook: Notebook, roster: dict, class_folder: Path) -> tuple[str, list[str]]:
    """Settle whose hand-in this is, by the names of folder and file, or else by the number typed in it."""
    named = _named_students(found.parts, roster)
    raw = typed_student(notebook)
    try:
        typed = student_number(raw) if raw else None
    except CannotRead:
        typed = one_line(raw)[:60]
    if len(named) > 1 and typed in named:
        return typed, [
            f"The names of folder and file point to {' and '.join(named)}; the notebook says {typed}."
        ]
    if len(named) > 1:
        raise CannotRead(
            f"The names of folder and file point to {' and '.join(named)}. {NAME_A_FOLDER} "
            f"{_kept(found, class_folder)}"
        )
    if named:
        inner = [one for one in _pointed_to(found.parts, roster) if one != named[0]]
        both = " and ".join([named[0], *inner])
        doubt = [f"The names of folder and file point to {both}; the outermost counts."] if inner else []
        return named[0], [*doubt, *_about_typed(named[0], typed, roster)]
    if typed in roster:
        odd = [part for part in found.parts[:-1] if re.fullmatch(r"[a-z]{0,3}\d{1,6}", part.lower())]
        note = (
            [f"Its folder “{odd[0]}” is not in the roster; it went to {typed}, as the notebook says."]
            if odd
            else []
        )
        return typed, note
    what = (
        f"The student number “{typed}” typed in it is not in the roster"
        if typed
        else "No student number is typed in it"
    )
    raise CannotRead(
        f"{what}, and its name does not tell whose it is. {NAME_A_FOLDER} {_kept(found, class_folder)}"
    )


def _about_typed(student: str, typed: str | None, roster: dict[str, str]) -> list[str]:
    if typed == student:
        return []
    if typed is None:
        return [
            "No student number is typed in the notebook, so it showed no personal numbers. "
            f"It was marked with the numbers of {student}, as whose it came in. Ask what numbers were used."
        ]
    known = "another student of this class" if typed in roster else "not in the roster"
    return [
        f"The notebook says student “{typed}” ({known}) but was handed in as {student}, and was marked "
        f"with the numbers of {student}. Ask the student: a slip of typing gives wrong personal numbers."
    ]


def _keep(found: Found, class_folder: Path, student: str, homework: str) -> None:
    """Copy a hand-in to its place, moving an earlier different one aside."""
    path = hand_in_path(class_folder, student, homework)
    aside = class_folder / EARLIER / student / path.stem
    same = path.is_file() and path.read_bytes() == found.content
    if not path.is_file() or (same and not (path.parent / STAMP).is_file()):
        write_came(path, found.content, found.came)
    elif not same:
        kept = kept_came(path)
        if (found.came.time, found.came.changed) > (kept.time, kept.changed):
            _put_aside(aside, path.name, path.read_bytes(), kept)
            write_came(path, found.content, found.came)
        else:
            _put_aside(aside, path.name, found.content, found.came)
    _unclear_path(found, class_folder).unlink(missing_ok=True)


def other_versions(class_folder: Path, student: str, homework: str) -> list[str]:
    """Say whether other versions of a hand-in are kept.

    Parameters
    ----------
    class_folder : Path
        The class folder
    student, homework : str
        For example "s07", "05"

    Returns
    -------
    list of str
        One sentence, or nothing

    Source
    ------
    Arrangement of this project.
    """
    aside = Path(EARLIER) / student / f"homework-{homework}"
    count = sum(1 for _ in (class_folder / aside).glob("*/*.ipynb"))
    if not count:
        return []
    others = "Another version" if count == 1 else f"{count} other versions"
    return [f"{others} of this hand-in came in, too; the newest was marked, the rest is kept in {aside}."]


def _put_aside(aside: Path, name: str, content: bytes, came: Came) -> None:
    """Keep a version that is not the newest, unless it is kept already."""
    if not any(copy.read_bytes() == content for copy in aside.glob("*/*.ipynb")):
        write_came(_next(aside) / name, content, came)


def _next(aside: Path) -> Path:
    numbers = [int(place.name) for place in aside.glob("*") if place.name.isdigit()]
    return aside / str(max(numbers, default=0) + 1)


def _unclear_path(found: Found, class_folder: Path) -> Path:
    digest = hashlib.sha256(found.content).hexdigest()[:12]
    plain = re.sub(r"[^A-Za-z0-9.-]+", "-", found.parts[-1])[-60:].strip("-.") or "hand-in"
    return class_folder / UNCLEAR / f"{digest}-{plain}"


def _kept(found: Found, class_folder: Path) -> str:
    """Keep what belongs to nobody, and say where."""
    path = _unclear_path(found, class_folder)
    write_if_changed(path, found.content)
    return f"A copy is kept in {path.relative_to(class_folder)}."
