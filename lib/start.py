"""Set up this folder and open the course: ``python3 lib/start.py`` (on Windows ``py lib/start.py``).

    python3 lib/start.py                 open the course
    python3 lib/start.py class           the instructor's evening on the invented class
    python3 lib/start.py test [...]      the whole test suite (what follows goes to pytest)
    python3 lib/start.py hand-out, mark, sentences, report, change, undo, changes, release [...]
                                         the instructor's other commands

Everything it installs goes into the folder ``.venv`` beside README. It uses the standard library alone.
Inside: what is wanted, the Python that will run it, installing with a counter, starting.
"""

import sys

if sys.version_info < (3, 11):  # noqa: UP036  (this file is the one that an old Python may meet)
    sys.stderr.write(
        "This course needs Python 3.11 or newer, and this is Python {}.{}. Install a newer one from "
        "python.org (or your system's own packages) and start again with it.\n".format(*sys.version_info[:2])
    )
    sys.exit(2)

import hashlib
import importlib.util
import json
import os
import re
import shutil
import subprocess
import threading
import time
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
LOCKS = ROOT / "lib" / "locks"
CLONE = (ROOT / "pyproject.toml").exists()  # otherwise the bundle that students get
VENV = ROOT / ".venv"
STAMP = VENV / "coldbench-setup.json"
LOG = VENV / "coldbench-setup.log"
PYTHON = VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
LEVELS = ["student", "instructor", "dev"]  # each holds the one before it
NEEDS = {
    "open": "student",
    "test": "dev",
    **dict.fromkeys(["class", "hand-out", "mark", "sentences", "report"], "instructor"),
    **dict.fromkeys(["change", "undo", "changes", "release"], "instructor"),
}
COULD_NOT_START = 2

NO_ROOM = re.compile(
    r"No space left on device|Errno 28|not enough space on the disk|Disk quota exceeded", re.I
)
NO_NETWORK = re.compile(
    r"NewConnectionError|NameResolutionError|ConnectTimeout|ReadTimeout|ProxyError|Connection ?reset|"
    r"Connection aborted|Network is unreachable|Temporary failure in name resolution|getaddrinfo failed",
    re.I,
)
NO_WRITING = re.compile(r"Read-only file system|Permission denied|Access is denied|Errno 13|Errno 30", re.I)


class CannotStart(Exception):
    """Something is missing; the message is a sentence that says what to do."""


# What is wanted -----------------------------------------------------------------------------------


def level_for(word: str) -> str:
    """Give the install that a word needs."""
    if word not in NEEDS:
        raise CannotStart(f"“{word}” is none of the words that can follow lib/start.py: {', '.join(NEEDS)}.")
    if word != "open" and not CLONE:
        raise CannotStart(
            f"“{word}” is the instructor's: it needs the whole project, and this is the students' bundle. "
            "Here, start without any word."
        )
    return NEEDS[word]


def locks_for(level: str) -> list[Path]:
    """List the locks of an install, in the order of installing."""
    return [*([LOCKS / "build.txt"] if CLONE else []), LOCKS / f"{level}.txt"]


def package() -> Path:
    """Find what coldbench itself is installed from: the clone's pyproject.toml, or the bundle's wheel."""
    if CLONE:
        return ROOT / "pyproject.toml"
    wheels = sorted((ROOT / "lib" / "wheels").glob("coldbench-*.whl"))
    if not wheels:
        raise CannotStart("lib/wheels holds no coldbench wheel: unpack the bundle again, all of it.")
    return wheels[-1]


def fingerprint(level: str) -> str:
    """Sum up all that an install depends on; another sum means that it has to be done again."""
    digest = hashlib.sha256(str(ROOT).encode("utf-8", "surrogateescape"))
    for file in [*locks_for(level), package()]:
        try:
            digest.update(file.read_bytes())
        except FileNotFoundError:
            raise CannotStart(f"{file} is missing: get the whole folder again.") from None
    return digest.hexdigest()


def is_set_up(level: str) -> bool:
    """Tell whether a finished install of this level, or of one that holds it, is there."""
    try:
        stamp = json.loads(STAMP.read_text("utf-8"))
        there = stamp["level"]
        enough = LEVELS.index(there) >= LEVELS.index(level)
        return enough and PYTHON.exists() and stamp["fingerprint"] == fingerprint(there)
    except (OSError, ValueError, KeyError, TypeError):
        return False


# The Python that will run it ----------------------------------------------------------------------


def environment() -> dict[str, str]:
    """Give child processes an environment without other projects' paths, reading text as UTF-8."""
    kept = {name: value for name, value in os.environ.items() if name not in {"PYTHONHOME", "PYTHONPATH"}}
    return {**kept, "PYTHONUTF8": "1", "PIP_DISABLE_PIP_VERSION_CHECK": "1"}


def run(command: list, heard: Callable[[str], None] = lambda line: None) -> None:
    """Run a command, keep what it says in the log, hand each line on; failing is a sentence."""
    lines = []
    with subprocess.Popen(
        [str(part) for part in command],
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        env={**environment(), "PYTHONUNBUFFERED": "1"},
        encoding="utf-8",
        errors="replace",
    ) as process:
        for line in process.stdout:
            lines.append(line)
            heard(line)
    if VENV.is_dir():
        with LOG.open("a", encoding="utf-8") as log:
            log.writelines(lines)
    if process.returncode:
        raise CannotStart(reason("".join(lines)))


def reason(output: str) -> str:
    """Turn what a failed installer said into a sentence."""
    if NO_ROOM.search(output):
        return (
            "The disk is full: setting up needs about 1 GB in this folder and in the folder for temporary "
            "files. Make room, then start again; what is already there is kept."
        )
    if NO_NETWORK.search(output):
        return (
            "The network is away, or it does not let Python reach its package index. The first start needs "
            "it (later ones do not): connect, then start again; what is already there is kept."
        )
    if NO_WRITING.search(output):
        return f"This folder cannot be written to: {ROOT}. Copy it to a folder of your own and start there."
    last = [line.strip() for line in output.splitlines() if line.strip()][-6:]
    return (
        "Setting up stopped. The installer's last words:\n    "
        + "\n    ".join(last)
        + f"\nAll of them: {LOG}"
    )


def make_environment() -> list:
    """Make .venv where there is none that works, and give the command that installs into it."""
    own_pip = [PYTHON, "-m", "pip"]
    if PYTHON.exists() and subprocess.run([PYTHON, "-c", ""], capture_output=True).returncode == 0:
        if subprocess.run([*own_pip, "--version"], capture_output=True).returncode == 0:
            return own_pip
    elif VENV.exists():
        print("The folder .venv is not in working order: making it anew.", flush=True)
        shutil.rmtree(VENV)
    if not importlib.util.find_spec("venv"):
        raise CannotStart(missing("venv"))
    if importlib.util.find_spec("ensurepip"):
        run([sys.executable, "-m", "venv", VENV])
        return own_pip
    if not importlib.util.find_spec("pip"):
        raise CannotStart(missing("ensurepip"))
    run([sys.executable, "-m", "venv", "--without-pip", VENV])
    return [sys.executable, "-m", "pip", "--python", PYTHON]


def missing(part: str) -> str:
    """Say what to do where Python came without a part of its standard library."""
    version = "{}.{}".format(*sys.version_info)
    return (
        f"This Python {version} came without “{part}”, which makes the folder .venv. On Debian, Ubuntu and "
        f"their relatives the package python{version}-venv has it; elsewhere install Python from python.org. "
        "Then start again."
    )


# Installing with a counter ------------------------------------------------------------------------


class Counter:
    """A line such as “course: fetching 37 of 96”: in place on a terminal, now and then elsewhere."""

    def __init__(self, what: str, total: int):
        self.what, self.total, self.width, self.last = what, total, 0, 0.0

    def show(self, doing: str, number: int) -> None:
        """Show how far it is; the last one always, others as often as is useful."""
        now, finished = time.monotonic(), number >= self.total
        text = f"  {self.what}: {doing} {min(number, self.total)} of {self.total}"
        if sys.stdout.isatty():
            print("\r" + text.ljust(self.width), end="\n" if finished else "", flush=True)
        elif finished or now - self.last > 5:
            print(text, flush=True)
            self.last = now
        self.width = len(text)


def pinned(lock: Path) -> int:
    """Count the packages of a lock, those for other systems too."""
    return len(re.findall(r"^[\w.-]+==", lock.read_text("utf-8"), re.M))


def watch_installing(counter: Counter, finished: threading.Event) -> None:
    """Count the packages that have come into .venv: pip itself is silent while it unpacks them."""

    def there() -> int:
        return sum(1 for _ in VENV.glob("[Ll]ib/**/site-packages/*.dist-info"))

    before, total = there(), counter.total
    while not finished.wait(0.5):
        counter.show("installing", min(there() - before, total - 1))


def install(pip: list, lock: Path) -> None:
    """Install one lock: only what it names, checked against its hashes."""
    counter = Counter("tools" if lock.stem == "build" else "packages", pinned(lock))
    finished = threading.Event()
    watcher = threading.Thread(target=watch_installing, args=(counter, finished))
    fetched = 0

    def heard(line: str) -> None:
        nonlocal fetched
        if line.startswith(("Ignoring ", "Requirement already satisfied")):
            counter.total -= 1
        elif line.startswith(("Collecting ", "Processing ")):
            fetched += 1
            counter.show("fetching", min(fetched, counter.total - 1))
        elif line.startswith("Installing collected"):
            counter.show("fetching", counter.total)
            watcher.start()

    arguments = ["--require-hashes", "--no-deps", "--no-build-isolation", "--use-pep517", "--no-input"]
    try:
        run([*pip, "install", *arguments, "--progress-bar=off", "-r", lock], heard)
    finally:
        finished.set()
        if watcher.is_alive():
            watcher.join()
    if fetched:
        counter.show("installing", counter.total)


def compile_packages() -> None:
    """Compile what was installed, where pip was told not to: else every start compiles it once more.

    A file that is meant for another Python cannot be compiled, which harms nothing.
    """
    print("  compiling", flush=True)
    places = VENV.glob("[Ll]ib/**/site-packages")
    command = [PYTHON, "-m", "compileall", "-q", "-j", "0", *places]
    subprocess.run(command, env=environment(), capture_output=True)


def set_up(level: str) -> None:
    """Bring .venv to a level. The stamp goes first and comes back last: a half-finished one is redone."""
    sum_now = fingerprint(level)  # first of all: it names what is missing
    names = {"student": "the course", "instructor": "the course and marking", "dev": "everything, tests too"}
    print(f"Setting up {names[level]} in {VENV}. This is done once and takes a few minutes.", flush=True)
    began = time.monotonic()
    try:
        STAMP.unlink(missing_ok=True)
        pip = make_environment()
        for lock in locks_for(level):
            install(pip, lock)
        this = ["-e", ROOT] if CLONE else ["--force-reinstall", package()]
        run([*pip, "install", "--no-deps", "--no-build-isolation", "--no-input", *this])
        compile_packages()
        part = STAMP.with_suffix(".part")
        part.write_text(json.dumps({"level": level, "fingerprint": sum_now}), "utf-8")
        part.replace(STAMP)
    except OSError as error:
        raise CannotStart(reason(f"{error} Errno {error.errno}")) from error
    print(f"Set up in {time.monotonic() - began:.0f} s.", flush=True)


# Starting -----------------------------------------------------------------------------------------


SIDE_BY_SIDE = ["-n", "2", "--dist", "loadfile", "--no-loadscope-reorder"]
"""The whole suite runs on two cores, a file at a time, in our order; a part of it as its caller says."""


def start(word: str, arguments: list[str]) -> int:
    """Hand over to pytest or to the command coldbench; Ctrl-C is theirs to answer."""
    if word == "test":
        os.chdir(ROOT)
        command = [PYTHON, "-m", "pytest", *(arguments or SIDE_BY_SIDE)]
    else:
        command = [PYTHON, "-m", "coldbench.command", word, "--source", ROOT, *arguments]
    command = [str(part) for part in command]
    if os.name == "posix":
        os.execve(command[0], command, environment())  # noqa: S606  (one process, so that signals reach it)
    with subprocess.Popen(command, env=environment()) as process:
        while True:
            try:
                return process.wait()
            except KeyboardInterrupt:
                continue


def main(arguments: list[str]) -> int:
    """Set up if need be, then start; trouble is one sentence and exit code 2."""
    for stream in (sys.stdout, sys.stderr):
        stream.reconfigure(errors="replace")
    if arguments and arguments[0] in ("-h", "--help", "help"):
        print(__doc__.rpartition("Inside: ")[0].rstrip())
        return 0
    try:
        word = arguments.pop(0) if arguments and not arguments[0].startswith("-") else "open"
        level = level_for(word)
        if not is_set_up(level):
            set_up(level)
    except CannotStart as sentence:
        print(f"\n{sentence}", file=sys.stderr)
        return COULD_NOT_START
    except KeyboardInterrupt:
        print("\nStopped. Start again to go on from here.", file=sys.stderr)
        return 130
    return start(word, arguments)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
