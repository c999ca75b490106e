"""The start script on a small stand-in for the bundle: real environments and real pip, no network.

The stand-in has one small package in its lock and a ``coldbench`` wheel whose command prints what it was
given. What the script does with the real locks is seen by whoever runs this suite: it was set up by it.
"""

import ast
import hashlib
import json
import os
import runpy
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import needs
import pytest

START = Path(__file__).resolve().parents[1] / "lib" / "start.py"
COMMAND = 'import sys\nprint("started", *sys.argv[1:], "work", __file__)\n'


def make_wheel(folder: Path, name: str, version: str, files: dict[str, str]) -> Path:
    """Make the least that pip takes for a wheel."""
    folder.mkdir(parents=True, exist_ok=True)
    information = f"{name}-{version}.dist-info"
    wheel = folder / f"{name}-{version}-py3-none-any.whl"
    files = {
        **files,
        f"{information}/METADATA": f"Metadata-Version: 2.1\nName: {name}\nVersion: {version}\n",
        f"{information}/WHEEL": "Wheel-Version: 1.0\nRoot-Is-Purelib: true\nTag: py3-none-any\n",
    }
    record = "".join(f"{file},,\n" for file in [*files, f"{information}/RECORD"])
    with zipfile.ZipFile(wheel, "w") as archive:
        for file, content in {**files, f"{information}/RECORD": record}.items():
            archive.writestr(file, content)
    return wheel


def lock(part: Path, digest: str = "") -> str:
    """Write a lock for one wheel."""
    name, version, *_ = part.name.split("-")
    return (
        f"{name}=={version} \\\n    --hash=sha256:{digest or hashlib.sha256(part.read_bytes()).hexdigest()}\n"
    )


def make_bundle(folder: Path) -> Path:
    """Lay out a stand-in for the students' bundle."""
    (folder / "lib" / "locks").mkdir(parents=True)
    shutil.copy(START, folder / "lib")
    part = make_wheel(folder / "index", "smallpart", "1.0", {"smallpart.py": ""})
    (folder / "lib" / "locks" / "student.txt").write_text(lock(part))
    files = {"coldbench/__init__.py": "", "coldbench/command.py": COMMAND}
    make_wheel(folder / "lib" / "wheels", "coldbench", "0.9", files)
    return folder


def run(folder: Path, *words: str, code: str = "", **more: str) -> subprocess.CompletedProcess:
    """Run the start script of a folder, with a package index that is the folder's own."""
    environment = {name: value for name, value in os.environ.items() if not name.startswith("PIP_")}
    environment |= {"PIP_CONFIG_FILE": os.devnull, "PIP_NO_INDEX": "1", "PIP_FIND_LINKS": "index", **more}
    start = [str(folder / "lib" / "start.py")]
    command = [sys.executable, *(["-c", code, *start] if code else start), *words]
    return subprocess.run(command, cwd=folder, env=environment, capture_output=True, text=True)


def without(*modules: str) -> str:
    """Give Python code that runs a script as if parts of the standard library were missing."""
    return (
        "import importlib.util as u, runpy, sys; find = u.find_spec; del sys.argv[0];"
        f"u.find_spec = lambda name, *rest: None if name in {modules} else find(name, *rest);"
        "runpy.run_path(sys.argv[0], run_name='__main__')"
    )


def stamp(folder: Path) -> Path:
    return folder / ".venv" / "coldbench-setup.json"


@pytest.fixture(scope="module")
def set_up(tmp_path_factory):
    """A stand-in that has been started once, in a folder with a space and a letter beyond ASCII."""
    folder = make_bundle(tmp_path_factory.mktemp("try out") / "kühl bank")
    return folder, run(folder, PYTHONDONTWRITEBYTECODE="1", PIP_NO_COMPILE="1")


def test_first_start_installs_and_opens(set_up):
    """The first start counts the packages it fetches, then hands the word and the folder to the command."""
    folder, first = set_up
    assert first.returncode == 0, first.stdout + first.stderr
    assert "packages: fetching 1 of 1" in first.stdout
    assert "packages: installing 1 of 1" in first.stdout
    assert f"started open --source {folder}" in first.stdout
    assert json.loads(stamp(folder).read_text())["level"] == "student"


def test_what_is_installed_is_compiled(set_up):
    """Also where the environment keeps Python from doing so: each later start is quicker for it."""
    assert len(list((set_up[0] / ".venv").rglob("smallpart.*.pyc"))) == 1


def test_second_start_installs_nothing(set_up):
    """The second start leaves the environment as it is and takes less than 5 s of work."""
    folder, _ = set_up
    before = {path: path.stat().st_mtime_ns for path in (folder / ".venv").rglob("*.dist-info")}
    before_it = os.times()
    second = run(folder, "--port", "8890")
    took = os.times()
    assert took.children_user + took.children_system < before_it.children_user + before_it.children_system + 5
    assert second.stdout.startswith(f"started open --source {folder} --port 8890")
    assert before == {path: path.stat().st_mtime_ns for path in (folder / ".venv").rglob("*.dist-info")}


def test_a_larger_install_serves_a_smaller_wish(set_up):
    """Where the developers' install is finished, opening the course installs nothing."""
    start = runpy.run_path(str(set_up[0] / "lib" / "start.py"))
    (set_up[0] / "lib" / "locks" / "dev.txt").write_text("")
    before = stamp(set_up[0]).read_text()
    for level, serves in {"dev": True, "student": True, "unheard of": False}.items():
        known = level in start["LEVELS"]
        summed = start["fingerprint"](level) if known else ""
        stamp(set_up[0]).write_text(json.dumps({"level": level, "fingerprint": summed}))
        assert start["is_set_up"]("student") is serves
    stamp(set_up[0]).write_text(before)
    assert not start["is_set_up"]("dev")


def test_in_the_clone_the_build_tools_come_first():
    """The package itself is built in a clone, so its locked build tools are installed before the rest."""
    start = runpy.run_path(str(START))
    assert [lock.name for lock in start["locks_for"]("student")] == ["build.txt", "student.txt"]
    assert start["level_for"]("class") == "instructor"
    assert start["level_for"]("test") == "dev"


def test_half_finished_set_up_is_taken_up_again(set_up):
    """Without its stamp an environment is not trusted: the set-up runs again over what is there."""
    folder, _ = set_up
    stamp(folder).unlink()
    shutil.rmtree(next((folder / ".venv").rglob("coldbench-0.9.dist-info")))
    again = run(folder)
    assert "Setting up" in again.stdout
    assert "started open" in again.stdout


def test_broken_environment_is_made_anew(set_up):
    """An environment whose Python does not run is replaced, and the script says so."""
    folder, _ = set_up
    python = next(
        path for path in (folder / ".venv").rglob("python*") if path.name in ("python", "python.exe")
    )
    python.unlink()
    again = run(folder)
    assert "not in working order" in again.stdout
    assert "started open" in again.stdout


def test_new_lock_is_installed(tmp_path):
    """A changed lock brings its versions; a package with a wrong hash is refused and not trusted later."""
    folder = make_bundle(tmp_path / "bundle")
    assert run(folder).returncode == 0
    new = make_wheel(folder / "index", "smallpart", "1.1", {"smallpart.py": ""})
    student = folder / "lib" / "locks" / "student.txt"
    student.write_text(lock(new, digest="0" * 64))
    refused = run(folder)
    assert refused.returncode == 2
    assert "The installer's last words" in refused.stderr
    assert not stamp(folder).exists()
    student.write_text(lock(new))
    assert "started open" in run(folder).stdout
    assert list((folder / ".venv").rglob("smallpart-1.1.dist-info"))


def test_moved_folder_is_set_up_again(set_up, tmp_path):
    """A folder that was copied elsewhere does not run the old place's package."""
    folder, _ = set_up
    moved = tmp_path / "moved"
    shutil.copytree(folder, moved, symlinks=True)
    again = run(moved)
    assert "Setting up" in again.stdout
    assert f"work {moved}" in again.stdout


def test_without_ensurepip_an_outer_pip_serves(tmp_path):
    """Where Debian left out ensurepip, the pip that runs outside installs into the environment."""
    folder = make_bundle(tmp_path / "bundle")
    result = run(folder, code=without("ensurepip"))
    assert "started open" in result.stdout, result.stdout + result.stderr


@pytest.mark.parametrize("modules", [("venv",), ("ensurepip", "pip")])
def test_missing_parts_of_python_are_named(tmp_path, modules):
    """Where no environment can be made, a sentence names the package that has the missing part."""
    folder = make_bundle(tmp_path / "bundle")
    result = run(folder, code=without(*modules))
    assert result.returncode == 2
    assert f"came without “{modules[0]}”" in result.stderr
    assert f"python3.{sys.version_info[1]}-venv" in result.stderr
    assert "Traceback" not in result.stderr


def test_network_away(tmp_path):
    """With no way to the index, the sentence says that only the first start needs it."""
    folder = make_bundle(tmp_path / "bundle")
    shutil.rmtree(folder / "index")
    # Source: port 9 of this computer ("discard", RFC 863) answers nothing here.
    away = {"PIP_NO_INDEX": "0", "PIP_INDEX_URL": "http://127.0.0.1:9/simple", "PIP_RETRIES": "1"}
    away |= dict.fromkeys(("NO_PROXY", "no_proxy"), "127.0.0.1")
    result = run(folder, **away)
    assert result.returncode == 2
    assert "The network is away" in result.stderr
    assert not stamp(folder).exists()


def test_read_only_folder(tmp_path):
    """In a folder that cannot be written to, the sentence says to copy it."""
    box = needs.bubblewrap()
    folder = make_bundle(tmp_path / "bundle")
    result = subprocess.run(
        [box, "--ro-bind", "/", "/", "--dev", "/dev", sys.executable, folder / "lib" / "start.py"],
        capture_output=True,
        text=True,
    )
    assert result.returncode == 2
    assert "cannot be written to" in result.stderr
    assert "Traceback" not in result.stderr


# Source: the words are those of Linux (strerror of errno 28 and 122) and of Windows (system error 112).
FULL = [
    "OSError: [Errno 28] No space left on device",
    "There is not enough space on the disk",
    "Disk quota exceeded",
]


@pytest.mark.parametrize("words", FULL)
def test_full_disk_is_told_from_other_trouble(words):
    """A full disk is called by its name, whichever system says it."""
    reason = runpy.run_path(str(START))["reason"]
    assert "disk is full" in reason(f"ERROR: Could not install packages due to an {words}")
    assert "disk is full" not in reason("ERROR: something else")


@pytest.mark.parametrize("word", ["class", "test", "mark"])
def test_bundle_sends_the_instructors_words_away(tmp_path, word):
    """The students' bundle has no class to mark; it says so before anything is installed."""
    folder = make_bundle(tmp_path / "bundle")
    result = run(folder, word)
    assert result.returncode == 2
    assert "students' bundle" in result.stderr
    assert not (folder / ".venv").exists()


def test_unknown_word(tmp_path):
    """A mistyped word is answered with the words there are."""
    result = run(make_bundle(tmp_path / "bundle"), "tset")
    assert result.returncode == 2
    assert "open, test, class" in result.stderr


def test_asking_for_help_sets_nothing_up(tmp_path):
    """Who asks what there is to type is told so at once."""
    folder = make_bundle(tmp_path / "bundle")
    result = run(folder, "--help")
    assert result.returncode == 0
    assert "sentences" in result.stdout
    assert not (folder / ".venv").exists()


@pytest.mark.parametrize("missing", ["lib/locks/student.txt", "lib/wheels"])
def test_incomplete_bundle(tmp_path, missing):
    """A bundle that was only partly unpacked is told from a complete one."""
    folder = make_bundle(tmp_path / "bundle")
    path = folder / missing
    shutil.rmtree(path) if path.is_dir() else path.unlink()
    result = run(folder)
    assert result.returncode == 2
    assert "again" in result.stderr
    assert "Traceback" not in result.stderr
    assert not (folder / ".venv").exists()


def test_old_python_gets_a_sentence():
    """A Python before 3.11 can read the script far enough to say what is needed."""
    ast.parse(START.read_text("utf-8"), feature_version=(3, 6))
    code = (
        "import sys, runpy; sys.version_info = (3, 8, 10); runpy.run_path(sys.argv[1], run_name='__main__')"
    )
    result = subprocess.run([sys.executable, "-c", code, START], capture_output=True, text=True)
    assert result.returncode == 2
    assert "needs Python 3.11 or newer, and this is Python 3.8" in result.stderr
