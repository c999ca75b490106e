"""A whole marking by an ordinary user of the computer, not root: boxes run, and keep what is the user's."""

import json
import os
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

import needs
import pytest
from grading.small_class import NAME
from grading.small_course import fill_in, hand_in, make_class, make_course, right

NOBODY = 65534
"""The user and the group that own nothing; Debian's base-passwd."""

SPY = """
from pathlib import Path
found = []
for place in PLACES:
    try:
        found.append(Path(place).read_text())
    except OSError:
        pass
answer("05.4", " ".join(found) or "nothing")
"""


def as_nobody(*command, **more):
    """Run a command as that user, with an environment of its own."""
    ids = [f"--reuid={NOBODY}", f"--regid={NOBODY}", "--clear-groups", "--no-new-privs"]
    own = {"PATH": "/usr/sbin:/usr/bin:/sbin:/bin", "LANG": "C.UTF-8", **more}
    command = ["setpriv", *ids, *map(str, command)]
    return subprocess.run(command, env=own, cwd="/", capture_output=True, text=True)


START = "import subprocess, sys; subprocess.run([sys.argv[1], '-c', sys.argv[2]], check=True)"


def can_use(python) -> bool:
    """Whether that user, once no longer root, can start this Python with all that marking needs."""
    needed = python, "import coldbench, IPython, nbgrader"
    return as_nobody("/usr/bin/python3", "-c", START, *needed).returncode == 0


def python_for_nobody(place: Path) -> Path:
    """The Python that runs this test, or else the system's own with the same packages linked beside it."""
    if can_use(sys.executable):
        return Path(sys.executable)
    version = "python{}.{}".format(*sys.version_info)
    system, packages = Path("/usr/bin", version), Path("lib", version, "site-packages")
    if system.is_file():
        subprocess.run([system, "-m", "venv", "--without-pip", place], check=True)
        shutil.rmtree(place / packages)
        copied = subprocess.run(["cp", "-al", Path(sys.prefix, packages), place / packages])
        if copied.returncode == 0 and can_use(place / "bin" / "python"):
            return place / "bin" / "python"
    pytest.skip("No Python here can be used by an ordinary user.")
    return place


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="Other systems have no such boxes.")
def test_an_ordinary_user_marks_a_class():
    """Executed in the box, marked right, and nothing of the user's own was seen from within."""
    if os.geteuid() or not shutil.which("setpriv"):
        pytest.skip("Only root can become another user; where it is not root, every other test is this one.")
    needs.bubblewrap()
    with tempfile.TemporaryDirectory(prefix="coldbench-ordinary-") as name:
        place = Path(name)
        place.chmod(0o755)
        python = python_for_nobody(place / "python")
        own = place / "own"
        course, class_folder = make_course(own / "course"), make_class(own / "class")
        for inner in ("course", "lib"):
            (course / inner).mkdir(exist_ok=True)
        (course / "lib" / "start.py").touch()
        secrets = [own / "secret.txt", class_folder / "secret.txt"]
        for secret in secrets:
            secret.write_text("canary of the user", encoding="utf-8")
        places = [str(path) for path in (*secrets, course / "solutions" / NAME / "questions.py")]
        tree = json.loads(fill_in(course, "s07", right(course, "s07")))
        for cell in tree["cells"]:
            if cell["id"] == "question-05-4":
                cell["source"] = f"PLACES = {places!r}{SPY}"
        hand_in(own / "in", f"s07/{NAME}.ipynb", json.dumps(tree).encode())
        for path in (own, *own.rglob("*")):
            os.chown(path, NOBODY, NOBODY)
        words = ["mark", own / "in", "--class-folder", class_folder, "--source", course]
        done = as_nobody(python, "-m", "coldbench.command", *words, HOME=str(own))
        assert done.returncode == 1, done.stderr  # two students handed nothing in
        assert "1 hand-in marked" in done.stdout
        record = json.loads((class_folder / "marks" / "s07" / "05.json").read_text(encoding="utf-8"))
        assert record["executed"], record["box_troubles"]
        assert record["answers"]["05.4"] == "nothing"
        assert [mark["outcome"] for mark in record["marks"]] == ["right", "right", "right", "by_hand"]
        assert (class_folder / "gradebook.db").stat().st_uid == NOBODY
