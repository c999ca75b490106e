"""The bundle that students get: the course, the exercises, the library as a wheel, and the start script.

It is put together from a list of what goes in, so that nothing else of the project can: no solutions, no
tests, no instructor's notes. The same project gives the same bytes.
"""

from __future__ import annotations

import importlib.util
import os
import subprocess
import sys
import tempfile
import zipfile
from collections.abc import Iterator
from pathlib import Path

from coldbench.errors import CannotStart
from coldbench.work_folder import student_files

TOP = "coldbench"
AS_IT_IS = ("lib/LICENSE", "lib/locks/student.txt", "lib/start.py")
MOMENT = (2020, 2, 2, 0, 0, 0)  # the builder's own default for files without a date; any fixed one would do

README = """\
Household refrigeration: the course
===================================

You need Python 3.11 or newer (python.org) and, the first time only, the network.

1. Unpack this folder to a place of your own.
2. Open a terminal in it and type

       python3 lib/start.py

   On Windows:

       py lib/start.py

The first start takes a few minutes; later ones take seconds. The course opens in your browser at
lesson 00, which shows the rest. What you write is kept in the folder "coldbench-work" in your home
folder; a newer bundle never overwrites it. To hand in, give your instructor the homework's notebook from
"exercises" there. To end, press Ctrl-C in the terminal.

Safety: mains voltage, charged capacitors, flammable refrigerants, pressure and hot heaters hurt people.
The course teaches reading and reasoning; it licenses nobody. Local code, the maker's instructions and
your instructor come first.

Licence: MIT, see lib/LICENSE.
"""


def build_wheel(source: Path, folder: Path) -> Path:
    """Build the library's wheel; the same project gives the same bytes.

    Parameters
    ----------
    source : Path
        The clone
    folder : Path
        Where the wheel is put

    Returns
    -------
    Path
        The wheel

    Raises
    ------
    CannotStart
        The build backend is not installed or fails.

    Source
    ------
    Arrangement of this project.
    """
    if not importlib.util.find_spec("hatchling"):
        raise CannotStart(
            "The library cannot be packed here: start with lib/start.py, which installs what it takes."
        )
    built = subprocess.run(  # noqa: S603
        [sys.executable, "-m", "hatchling", "build", "--target", "wheel", "--directory", str(folder)],
        cwd=source,
        env={**os.environ, "SOURCE_DATE_EPOCH": "1580601600"},
        capture_output=True,
        text=True,
    )
    wheels = list(folder.glob("coldbench-*.whl"))
    if built.returncode or len(wheels) != 1:
        raise CannotStart(
            f"The library could not be packed as a wheel: {(built.stderr or built.stdout).strip()[-500:]}"
        )
    return wheels[0]


def contents(source: Path, wheel: Path) -> Iterator[tuple[str, bytes]]:
    """List the bundle's files.

    Parameters
    ----------
    source : Path
        The clone
    wheel : Path
        The library's wheel

    Yields
    ------
    tuple of str and bytes
        Path in the bundle, content

    Source
    ------
    Arrangement of this project.
    """
    yield "README.txt", README.encode()
    for inner in (*AS_IT_IS, *student_files(source)):
        yield inner, (source / inner).read_bytes()
    yield f"lib/wheels/{wheel.name}", wheel.read_bytes()


def make_bundle(source: Path, target: Path) -> Path:
    """Make the students' bundle: one zip that unpacks to one folder, in which ``lib/start.py`` starts.

    Parameters
    ----------
    source : Path
        The clone
    target : Path
        The zip to write; an older one is replaced

    Returns
    -------
    Path
        The zip

    Raises
    ------
    CannotStart
        The library cannot be packed, or the zip cannot be written.

    Source
    ------
    Arrangement of this project.
    """
    with tempfile.TemporaryDirectory() as folder:
        files = sorted(contents(source, build_wheel(source, Path(folder))))
    part = target.with_name(target.name + ".part")
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        with zipfile.ZipFile(part, "w", zipfile.ZIP_DEFLATED) as bundle:
            for inner, content in files:
                entry = zipfile.ZipInfo(f"{TOP}/{inner}", MOMENT)
                entry.create_system, entry.external_attr = 3, 0o100644 << 16
                bundle.writestr(entry, content, zipfile.ZIP_DEFLATED)
        part.replace(target)
    except OSError as error:
        raise CannotStart(
            f"The bundle {target} cannot be written ({error.strerror}). Give another place with --to."
        ) from error
    return target
