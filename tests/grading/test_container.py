"""A box of a container engine: what it is asked, what comes out, and what happens when it does not work.

No engine runs on the machines of these tests: a stand-in takes its place (`stand_in_engine`), which
understands only the words of the common command line and runs the container's command in bubblewrap.
"""

import json
import shlex
import subprocess
import sys
from itertools import pairwise
from pathlib import Path

import needs
import pytest
from coldbench.grading import box, container
from coldbench.grading.box import Limits, run_in_box
from coldbench.grading.boxed_place import BOX_HOME
from grading.notebooks import START, notebook
from grading.short_limits import short_limits

STAND_IN = Path(__file__).with_name("stand_in_engine.py")


@pytest.fixture
def engine(tmp_path, monkeypatch):
    """A folder whose ``docker`` is the stand-in; the only program of its kind that is found."""
    needs.bubblewrap()
    folder = tmp_path / "engine"
    folder.mkdir()
    program = tmp_path / "docker"
    program.write_text(f'#!/bin/sh\nexec {shlex.join([sys.executable, str(STAND_IN), str(folder)])} "$@"\n')
    program.chmod(0o755)
    monkeypatch.setattr(container.shutil, "which", {"docker": str(program)}.get)
    monkeypatch.setattr(box, "find_bubblewrap", lambda: None)
    return folder


def asked(engine: Path, word: str) -> list[list[str]]:
    """What the stand-in was asked that began with this word."""
    lines = [json.loads(line) for line in (engine / "asked.jsonl").read_text().splitlines()]
    return [line[1:] for line in lines if line[0] == word]


def run(*cells, limits=None):
    return run_in_box(notebook(START, *cells), b'{"a": 1}', limits)


def test_answers_come_out(engine, capsys):
    """Values, the student number, an error told; the sheet lies in the folder; the image was made once."""
    for _ in range(2):
        outcome = run(
            "student('s07')",
            "answer('05.1', 2 + 1)",
            "answer('05.2', 1 / 0)",
            "import os\nanswer('05.3', [open('sheet.json').read(), *os.listdir('/hand-in')])",
        )
        assert outcome.executed
        assert (outcome.answers, outcome.student) == ({"05.1": 3, "05.3": ['{"a": 1}', "answers"]}, "s07")
        assert "05.2 is not answered" in outcome.troubles[0]
    assert len(asked(engine, "build")) == 1
    assert capsys.readouterr().err.count("Making the container image") == 1


def test_the_engine_is_asked_for_every_wall(engine):
    """No network, nothing writable, no rights, limits, another user each time, nothing of ours."""
    run("answer('05.1', 1 + 1)")
    run("answer('05.1', 1 + 1)")
    first, second = asked(engine, "run")
    pairs = set(pairwise(first))
    assert {
        ("--network", "none"),
        ("--cap-drop", "ALL"),
        ("--security-opt", "no-new-privileges"),
        ("--ipc", "private"),
        ("--pids-limit", "48"),
        ("--memory", "2000000000"),
        ("--memory-swap", "2000000000"),
        ("--shm-size", "50000000"),
        ("--cpus", "1"),
        ("--pull", "never"),
        ("--log-driver", "none"),
        ("--ulimit", "nofile=256"),
        ("--ulimit", "nproc=48"),
        ("--ulimit", "fsize=50000000"),
        ("--ulimit", "cpu=61"),
        ("--tmpfs", f"{BOX_HOME}:rw,nosuid,nodev,size=50000000,mode=1777"),
    } <= pairs
    assert {"--read-only", "--rm", "--interactive"} <= {*first}
    assert not {"--volume", "-v", "--mount", "--privileged", "--device", "--tty"} & {*first}
    assert not any(str(Path(__file__).parents[2]) in word for word in first)
    for option in ("--user", "--name"):
        one, other = (words[words.index(option) + 1] for words in (first, second))
        assert one != other
        assert option != "--user" or not one.startswith("0")


def test_the_image_is_of_the_students_lock_and_this_library(engine, monkeypatch):
    """What is sent to be built; another lock is another image; what lies beside the library is not in it."""
    first = container.make_image(container.find_engine())
    assert sorted(path.name for path in (engine / "built").iterdir()) == [
        *("Containerfile", "build.txt", "coldbench", "student.txt")
    ]
    assert "--require-hashes" in (engine / "built" / "Containerfile").read_text()
    assert not list((engine / "built").rglob("__pycache__"))
    assert container.make_image(container.find_engine()) == first
    monkeypatch.setattr(container, "CONTAINERFILE", container.CONTAINERFILE + "# another\n")
    assert container.make_image(container.find_engine()) != first


def test_a_library_without_its_locks_makes_no_image(engine, monkeypatch, tmp_path):
    """The library alone does not say what a student has."""
    import coldbench

    monkeypatch.setattr(coldbench, "__file__", str(tmp_path / "coldbench" / "__init__.py"))
    with pytest.raises(RuntimeError, match="lib/locks"):
        container.make_image(container.find_engine())


@pytest.mark.parametrize(
    ("cell", "words"),
    [
        ("while True: pass", "ran longer than"),
        (
            "import signal; signal.signal(signal.SIGALRM, signal.SIG_IGN)\nwhile True: pass",
            "used up its time",
        ),
        ("import os; os._exit(0)", "later ones were read as typed"),
        ("import os; os.kill(1, 9); os.kill(1, 15); os.kill(1, 2); os.kill(-1, 9)", "05.3"),
        ("import ctypes; ctypes.string_at(0)", "later ones were read as typed"),
        ("open(os.environ['COLDBENCH_ANSWERS'], 'a').write('x\\n' * 1_000_000)", "more than 1 MB of answers"),
    ],
)
def test_a_bad_cell_costs_itself_only(engine, cell, words):
    """Endless, ended, flooding: the answers before it are kept, those after it run or are read as typed."""
    outcome = run("answer('05.1', 1)", cell, "answer('05.3', 3)", limits=short_limits())
    assert outcome.answers["05.1"] == 1
    assert outcome.answers["05.3"] == 3
    assert any(words in trouble for trouble in outcome.troubles) or words in outcome.answers


def test_the_first_process_cannot_be_looked_into(engine):
    """It hands the answers out, so a hand-in may neither read its files nor take it over."""
    look = "import ctypes, os\ndef tried(path):\n  try: return os.readlink(path)\n"
    look += "  except OSError: return 'refused'\n"
    outcome = run(
        look + "answer('05.1', tried('/proc/1/fd/1'))",
        "answer('05.2', ctypes.CDLL(None).ptrace(16, 1, 0, 0) * 1)",
    )
    assert outcome.answers == {"05.1": "refused", "05.2": -1}


def test_a_container_that_does_not_end_is_killed_by_its_name(engine, monkeypatch):
    """The wall time, from outside: what the stand-in runs is replaced by something that never ends."""
    monkeypatch.setattr(container, "STARTS_SOON", short_limits().cell_seconds)
    monkeypatch.setattr(container, "PYTHON", ("python", "-c", "import time; time.sleep(300)"))
    outcome = run("answer('05.1', 1)", limits=Limits(cell_seconds=1, seconds=0.5))
    name = asked(engine, "run")[0][asked(engine, "run")[0].index("--name") + 1]
    assert asked(engine, "kill") == [[name]]
    assert not outcome.executed
    assert outcome.answers == {"05.1": 1}


def test_an_engine_that_does_not_answer_any_more_stops_no_marking(engine, monkeypatch):
    """It hangs when it is to end a container: the marking goes on, and values are read as typed."""
    ask = container._ask

    def hangs_at_kill(program, word, *words, **how):
        answer = ask(program, word, *words, **how)
        if word == "kill":
            raise subprocess.TimeoutExpired(program, container.ANSWERS_SOON)
        return answer

    monkeypatch.setattr(container, "_ask", hangs_at_kill)
    monkeypatch.setattr(container, "STARTS_SOON", short_limits().cell_seconds)
    monkeypatch.setattr(container, "PYTHON", ("python", "-c", "import time; time.sleep(300)"))
    assert run("answer('05.1', 1)", limits=Limits(cell_seconds=1, seconds=0.5)).answers == {"05.1": 1}


@pytest.mark.parametrize(
    ("word", "says"),
    [
        ("version", "the container engine docker cannot be used: it is not running (It fails at version.)"),
        ("build", "its image could not be made (It fails at build.)"),
        ("run", "the container did not start (It fails at run.)"),
    ],
)
def test_an_engine_that_fails_leaves_plain_values(engine, word, says):
    """Nothing is executed, and a sentence says why and what to do; it is not asked for every hand-in."""
    (engine / f"fails-at-{word}").touch()
    for _ in range(2):
        outcome = run("answer('05.1', 1)", "answer('05.2', 1 + 1)")
        assert outcome.answers == {"05.1": 1}
        assert not outcome.executed
        assert says in outcome.troubles[0] and "To run notebooks safely, " in outcome.troubles[0]
    assert len(asked(engine, word)) == (2 if word == "run" else 1)


def test_a_failure_is_forgotten_after_a_while(engine, monkeypatch):
    """Somebody started the engine in the meantime."""
    (engine / "fails-at-version").touch()
    assert not run("answer('05.1', 1)").executed
    (engine / "fails-at-version").unlink()
    monkeypatch.setattr(container, "TRIES_AGAIN", 0.0)
    assert run("answer('05.1', 1)").executed


def test_bubblewrap_comes_first(monkeypatch):
    """Where there is bubblewrap, no engine is looked for; it is the second place."""
    monkeypatch.setattr(box, "find_bubblewrap", lambda: "bwrap")
    monkeypatch.setattr(box, "find_engine", lambda: pytest.fail("looked for"))
    assert next(box.find_places()).func is box.run_warm


@pytest.mark.parametrize("platform", ["linux", "darwin"])
def test_without_any_place_it_says_what_to_install(monkeypatch, platform):
    """On Linux bubblewrap, elsewhere a container engine."""
    monkeypatch.setattr(box, "find_places", lambda: [])
    monkeypatch.setattr(box.sys, "platform", platform)
    (said,) = run("answer('05.1', 1)").troubles
    assert ("install bubblewrap" in said) == (platform == "linux")
    assert ("no container engine was found" in said) == (platform == "darwin")


def test_the_first_process_of_a_container_is_nothing_else(tmp_path):
    """Started anywhere else it refuses: it would end every process of the user."""
    ran = subprocess.run(
        [sys.executable, "-m", "coldbench.grading.boxed_container"], capture_output=True, text=True
    )
    assert ran.returncode == 1
    assert "first process of a container" in ran.stderr
