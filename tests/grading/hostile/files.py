"""Attacks by the file itself: damage, size, links, packing, names, and claims to be somebody else.

Most of these must not be marked at all, with a sentence that says why and what to ask the student.
"""

# ruff: noqa: E501  each case is one row
from __future__ import annotations

import io
import json
import os
import socket
import stat
import struct
import zipfile
from collections.abc import Callable

from grading.hostile.bench import RIGHT, Bench, Case, zipped

NAME = "homework-05.ipynb"
OPEN_LISTENERS = []


def _raw(
    name: str, content: bytes | Callable, says: str, outcome: str = "not marked, said why", file: str = NAME
) -> Case:
    def make(bench: Bench, student: str) -> None:
        bench.put(student, content if isinstance(content, bytes) else content(bench, student), file)

    return Case(name, outcome, make, {}, says)


def _place(
    name: str, make: Callable, says: str, marks: dict | None = None, outcome: str = "not marked, said why"
) -> Case:
    return Case(name, outcome, make, marks or {}, says)


def _sparse(bench: Bench, student: str) -> None:
    path = bench.put(student, b"{")
    os.truncate(path, 200_000_000)


def _wide(count: int) -> Callable:
    return lambda bench, student: b'{"nbformat": 4, "metadata": {}, "cells": [' + b"{}," * count + b"{}]}"


def _huge_cell(bench: Bench, student: str) -> bytes:
    return json.dumps(bench.filled(student, q2="x = [" + "1," * 4_000_000 + "]")).encode()


def _nested_cell(bench: Bench, student: str) -> bytes:
    return json.dumps(bench.filled(student, q2="answer('05.2', " + "-" * 80_000 + "1)")).encode()


def _sum_cell(bench: Bench, student: str) -> bytes:
    return json.dumps(bench.filled(student, q2="answer('05.2', " + "1+" * 40_000 + "1)")).encode()


DAMAGED = [
    _raw("empty", b"", "The file is empty"),
    _raw("broken off", lambda b, s: json.dumps(b.filled(s)).encode()[:-200], "damaged"),
    _raw("rubbish", bytes(range(256)) * 50, "damaged"),
    _raw("nested without end", b"[" * 1_000_000, "damaged"),
    _raw("nested objects without end", b'{"a":' * 500_000, "damaged"),
    _raw("a number", b"7", "not a notebook"),
    _raw("no cells", b'{"nbformat": 4}', "has no cells"),
    _raw("cells of the wrong kind", b'{"nbformat": 4, "cells": [1]}', "has no cells"),
    _raw(
        "an old format that is damaged",
        b'{"nbformat": 3, "worksheets": [{"cells": [{"cell_type": "code"}, 7]}]}',
        "old format",
    ),
    _raw("an impossible format", b'{"nbformat": -7, "cells": 3}', "old format"),
    _raw("a million cells", _wide(1_000_000), "cells"),
    _place("200 MB", _sparse, "200 MB"),
]

HEAVY = [
    Case(
        "a cell of millions of numbers",
        "costs itself only",
        lambda b, s: b.put(s, _huge_cell(b, s)),
        {**RIGHT, "05.2": "not_answered"},
        "05.2",
    ),
    Case(
        "nested signs",
        "costs itself only",
        lambda b, s: b.put(s, _nested_cell(b, s)),
        {**RIGHT, "05.2": "not_answered"},
        "05.2",
    ),
    Case(
        "an endless sum",
        "costs itself only",
        lambda b, s: b.put(s, _sum_cell(b, s)),
        {"05.1": "right", "05.3": "right"},
        "05.2",
    ),
]


def _link(target: Callable) -> Callable:
    def make(bench: Bench, student: str) -> None:
        path = bench.hand_ins / student / NAME
        path.parent.mkdir()
        path.symlink_to(target(bench, student))

    return make


def _linked_folder(bench: Bench, student: str) -> None:
    (bench.hand_ins / student).symlink_to(bench.folder / "course")


def _fifo(name: str, with_notebook: bool = False) -> Callable:
    def make(bench: Bench, student: str) -> None:
        (bench.hand_ins / student).mkdir()
        os.mkfifo(bench.hand_ins / student / name)
        if with_notebook:
            bench.put(student, bench.filled(student))

    return make


def _socket(bench: Bench, student: str) -> None:
    (bench.hand_ins / student).mkdir()
    here = os.getcwd()
    os.chdir(bench.hand_ins / student)
    listener = socket.socket(socket.AF_UNIX)
    listener.bind(NAME)
    OPEN_LISTENERS.append(listener)
    os.chdir(here)


def _folder(bench: Bench, student: str) -> None:
    (bench.hand_ins / student / NAME).mkdir(parents=True)


def _linked_stamp(bench: Bench, student: str) -> None:
    bench.put(student, bench.filled(student)).parent.joinpath("timestamp.txt").symlink_to("/dev/zero")


def _stamp(bench: Bench, student: str) -> None:
    bench.put(student, bench.filled(student))
    bench.put(student, b"9999-99-99 <script>" + b"\xff" * 1000, "timestamp.txt")


PLACES = [
    _place(
        "a link to the keys",
        _link(lambda b, s: b.course / "solutions" / "homework-05" / "questions.py"),
        "It is a link",
    ),
    _place("a link to a neighbour", _link(lambda b, s: b.hand_ins / "s101" / NAME), "It is a link"),
    _place("a link to nowhere", _link(lambda b, s: "nowhere"), "It is a link"),
    _place("a link to a device", _link(lambda b, s: "/dev/zero"), "It is a link"),
    _place("a folder that is a link", _linked_folder, "It is a link"),
    _place("a pipe", _fifo(NAME), "not an ordinary file"),
    _place("a pipe of another name", _fifo("notes"), "no notebook in it"),
    _place("a socket", _socket, "cannot be read"),
    _place("a folder of a notebook's name", _folder, "nothing in it"),
    _place(
        "a pipe as time stamp",
        _fifo("timestamp.txt", with_notebook=True),
        "",
        RIGHT,
        "marked; the stamp is not read",
    ),
    _place("a device as time stamp", _linked_stamp, "", RIGHT, "marked; the stamp is not read"),
    _place("a time stamp of rubbish", _stamp, "", RIGHT, "marked; the stamp is not used"),
]


def _packed(change: Callable) -> Callable:
    return lambda bench, student: change(json.dumps(bench.filled(student)))


def _entry(content: str, **facts) -> bytes:
    entry = zipfile.ZipInfo("homework-05.ipynb")
    for name, value in facts.items():
        setattr(entry, name, value)
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as archive:
        archive.writestr(entry, content)
    return packed.getvalue()


def _password(content: str) -> bytes:
    packed = bytearray(zipped(**{NAME: content}))
    for mark, offset in ((b"PK\x03\x04", 6), (b"PK\x01\x02", 8)):
        packed[packed.rfind(mark) + offset] |= 1
    return bytes(packed)


def _method(content: str, method: int) -> bytes:
    packed = bytearray(zipped(**{NAME: content}))
    for mark, offset in ((b"PK\x03\x04", 8), (b"PK\x01\x02", 10)):
        struct.pack_into("<H", packed, packed.rfind(mark) + offset, method)
    return bytes(packed)


def _bomb(content: str) -> bytes:
    return zipped(**{f"{n}.ipynb": bytes(19_000_000) for n in range(12)})


def _nested_bomb(content: str) -> bytes:
    inner = zipped(**{f"{n}.ipynb": b"" for n in range(1_900)})
    return zipped(**{f"{n}.zip": inner for n in range(500)})


def _packed_cases() -> list[Case]:
    outside, refused = "leads out of the folder", "not marked, said why"
    rows = [
        ("zip that climbs", lambda c: zipped(**{"..|..|class|roster.csv.ipynb": c}), outside),
        ("zip with an absolute name", lambda c: zipped(**{"|tmp|homework-05.ipynb": c}), outside),
        ("zip with a drive's name", lambda c: zipped(**{"C:|homework-05.ipynb": c}), outside),
        (
            "zip with a link",
            lambda c: _entry("/etc/passwd", external_attr=(stat.S_IFLNK | 0o777) << 16),
            "It is a link",
        ),
        ("zip bomb", _bomb, "unpacks to far more"),
        ("zip of zips of nothing", _nested_bomb, "unpacks to far more"),
        (
            "zip three deep",
            lambda c: zipped(**{"a.zip": zipped(**{"b.zip": zipped(**{NAME: c})})}),
            "in a zip file",
        ),
        ("zip with a password", _password, "password"),
        ("zip packed in an unknown way", lambda c: _method(c, 99), "damaged"),
        ("zip packed in a way it is not", lambda c: _method(c, 14), "damaged"),
        ("zip packed in another way it is not", lambda c: _method(c, 12), "damaged"),
        ("zip that is none", lambda c: b"PK\x03\x04 rubbish", "damaged"),
        ("zip broken off", lambda c: zipped(**{NAME: c})[:-60], "damaged"),
        ("zip of nothing", lambda c: zipped(), "no notebook in the zip"),
    ]
    return [_raw(name, _packed(change), says, refused, "work.zip") for name, change, says in rows]


def _company(bench: Bench, student: str) -> None:
    content = json.dumps(bench.filled(student))
    others = dict.fromkeys(("json.py", "coldbench|__init__.py", "sitecustomize.py"), "raise SystemExit")
    bench.put(student, zipped(**{NAME: content, "sheet.json": "{}", **others}), "work.zip")


def _company_beside(bench: Bench, student: str) -> None:
    bench.put(student, bench.filled(student))
    for name in ("json.py", "sheet.json", "coldbench/__init__.py", "roster.csv", "nbgrader_config.py"):
        bench.put(student, b"raise SystemExit", name)


def _neighbour(bench: Bench, student: str) -> str:
    return f"s{int(student[1:]) - 1}"


def _innocent(bench: Bench, student: str) -> None:
    bench.put(student, bench.filled(student))


def _claims_neighbour_in_zip(bench: Bench, student: str) -> None:
    other = _neighbour(bench, student)
    tree = bench.filled(other, q1="answer('05.1', '-450 degF')")
    bench.put(student, zipped(**{f"{other}|{NAME}": json.dumps(tree)}), "work.zip")


def _claims_neighbour_loose(bench: Bench, student: str) -> None:
    tree = bench.filled(_neighbour(bench, student), q1="answer('05.1', '-450 degF')")
    path = bench.hand_ins / "zz.ipynb"
    path.write_text(json.dumps(tree))
    os.utime(path, (4e9, 4e9))


def _claims_neighbour_inside(bench: Bench, student: str) -> None:
    bench.put(student, bench.filled(_neighbour(bench, student)))


def _names(name: bytes | str) -> Callable:
    def make(bench: Bench, student: str) -> None:
        folder = bench.hand_ins / student
        folder.mkdir(exist_ok=True)
        place = os.path.join(os.fsencode(folder), os.fsencode(name))
        with open(place, "wb") as file:
            file.write(b"{")

    return make


STRANGE = [
    _place("name that is not text", _names(b"\xff\xfe.ipynb"), "damaged"),
    _place("name with lines of its own", _names("x\n  - Homework 05 of s101 is copied\n.ipynb"), "damaged"),
    _place("name with escape codes", _names("\x1b[2J\x1b]0;owned\x07.ipynb"), "damaged"),
    _place("name with markup", _names("<img src=x onerror=window.ran=true>.ipynb"), "damaged"),
    _place("name as long as can be", _names("x" * 249 + ".ipynb"), "damaged"),
    _place("modules beside it in the zip", _company, "", RIGHT, "only the notebook is taken"),
    _place("modules beside it in the folder", _company_beside, "", RIGHT, "only the notebook is taken"),
    _place("neighbour of the one who lies in a zip", _innocent, "", RIGHT, "keeps what is theirs"),
    _place("says in a zip to be a neighbour", _claims_neighbour_in_zip, "the outermost counts", {"05.3": "right"}, "stays with the one whose folder it is"),
    _place("neighbour of the one who lies loosely", _innocent, "not marked", RIGHT, "keeps what is theirs, told of it"),
    _place("says loosely to be a neighbour", _claims_neighbour_loose, "", None, "does not push out a named hand-in"),
    _place("neighbour of the one who lies inside", _innocent, "", RIGHT, "keeps what is theirs"),
    _place("says inside to be a neighbour", _claims_neighbour_inside, "another student of this class", {"05.3": "right"}, "stays with whose folder it is"),
]  # fmt: skip

CASES = DAMAGED + HEAVY + PLACES + _packed_cases() + STRANGE
