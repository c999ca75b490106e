"""Warm boxes: nothing of one hand-in reaches the next or the parent, and a parent that dies costs nothing."""

import os
import signal
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import needs
import pytest
from coldbench.grading import bubblewrap, warm
from coldbench.grading.box import run_in_box
from coldbench.grading.box_order import Limits, Ran
from coldbench.grading.boxed_rights import has_rights
from grading.hostile.code import LOOK, SCAN
from grading.notebooks import START, notebook
from served import PATIENCE

TESTS = Path(__file__).parents[1]
NEVER = "canary-never-83613"  # in this process alone


@pytest.fixture(params=["root", "ordinary"])
def parent(request, monkeypatch):
    """A parent just made, by root as this test runs, or as an ordinary user makes one; its process number."""
    needs.bubblewrap()
    warm.close_all()
    monkeypatch.setattr(warm, "_failures", 0)
    monkeypatch.setattr(warm, "run_by_bubblewrap", lambda *_: pytest.fail("not warm"))
    if request.param == "ordinary":
        monkeypatch.setattr(warm.os, "geteuid", lambda: 1000)
    needs.warm_boxes()
    run("answer('05.1', 1)")
    yield warm._idle[0].process.pid
    warm.close_all()


def itself(bubblewrap_number: int) -> int:
    """The number of the parent itself, a child of the first process of its box."""
    number = bubblewrap_number
    for _ in range(2):
        number = int(Path(f"/proc/{number}/task/{number}/children").read_text().split()[0])
    return number


def run(*cells):
    return run_in_box(notebook(START, *cells), b"{}")


def test_one_parent_makes_box_after_box(parent):
    """Three hand-ins, one parent; after that it waits again, and no process of theirs is left."""
    for number in range(3):
        assert run(f"answer('05.1', {number} + 0)").answers == {"05.1": number}
    assert [box.process.pid for box in warm._idle] == [parent]


def test_no_word_of_the_host_or_of_an_earlier_hand_in_is_in_a_childs_memory(parent, monkeypatch):
    """Search all memory that a child can read, its first process's too; its own word is found there."""
    monkeypatch.setenv("COLDBENCH_SECRET", NEVER)
    earlier = "word = 'canary-earlier-' + str(83613)\nprint(word)\nimport os, builtins\n"
    earlier += "os.environ['WORD'] = builtins.word = word\nopen('/dev/shm/word', 'w').write(word)"
    assert run(earlier, "answer('05.1', word)").answers == {"05.1": "canary-earlier-83613"}
    search = f"{LOOK}{SCAN}scan('self')\nscan(1)\nanswer('05.1', sorted(set(seen)))"
    assert run("1", search).answers == {"05.1": []}
    found = run("mine = 'canary-mine-' + str(83613)", search).answers["05.1"]
    assert any("canary-mine-83613" in one for one in found)
    assert not any("never" in one or "earlier" in one for one in found)


def test_nothing_that_a_hand_in_did_is_there_for_the_next(parent):
    """Files, shared memory, names, modules, environment, sockets, limits, processes."""
    sleeper = f"9800.{os.getpid()}"
    leave = [
        "import os, socket, subprocess, builtins, sys, numpy, coldbench.homework",
        "for place in ('/tmp/a', '/tmp/work/a', '/dev/shm/a'): open(place, 'w').write('x')",
        "builtins.abs = builtins.left = numpy.pi = 7\nsys.modules['left'] = sys\nsys.path[:0] = ['/tmp']",
        "os.environ['LEFT'] = '7'\nos.umask(0)\nos.nice(5)",
        "s = socket.socket(socket.AF_UNIX); s.bind('\\0left'); s.listen()",
        f"subprocess.Popen(['sleep', {sleeper!r}], start_new_session=True)",
        "coldbench.homework.answer = None",
        "answer('05.1', str('left'))",
    ]
    assert run(*leave).answers == {"05.1": "left"}
    look = [
        "import os, socket, builtins, sys, numpy",
        "answer('05.1', [sorted(os.listdir(p)) for p in ('/tmp', '/tmp/work', '/dev/shm')])",
        "answer('05.2', [abs(-1), hasattr(builtins, 'left'), 'left' in sys.modules, int(numpy.pi)])",
        "answer('05.3', [os.environ.get('LEFT'), os.umask(0), os.nice(0)])",
        "s = socket.socket(socket.AF_UNIX)\nanswer('05.4', s.connect_ex('\\0left'))",
        "answer('05.5', sorted(int(p) for p in os.listdir('/proc') if p.isdigit()))",
    ]
    answers = run(*look).answers
    assert answers["05.1"][1:] == [["sheet.json"], []] and "a" not in answers["05.1"][0]
    assert answers["05.2"] == [1, False, False, 3]
    assert answers["05.3"] == [None, 0o22, 0]
    assert answers["05.4"] == 111  # connection refused: nobody listens
    assert answers["05.5"] == [1, 2]
    assert (
        sleeper
        not in subprocess.run(["ps", "ax", "-o", "args"], capture_output=True, text=True, check=True).stdout
    )
    assert [box.process.pid for box in warm._idle] == [parent]


def test_a_child_holds_no_way_to_its_parent(parent):
    """Its open files are silence and its report; it can signal nothing outside, its own group neither."""
    cells = [
        "import os",
        "kept = [os.readlink(f'/proc/self/fd/{n}') for n in os.listdir('/proc/self/fd')"
        " if os.path.exists(f'/proc/self/fd/{n}')]\nanswer('05.1', sorted(set(kept)))",
        "import signal\nfor number in (9, 15, 2):\n  for who in (1, os.getppid()):\n"
        "    try: os.kill(who, number)\n    except OSError: pass\nanswer('05.2', os.getppid())",
        "answer('05.3', [os.getsid(0), os.getpgid(0)])",
        "os.kill(0, 9)",
    ]
    answers = run(*cells).answers
    assert {*answers["05.1"]} <= {"/dev/null", "/hand-in/answers"}
    assert answers["05.2"] == 1
    assert answers["05.3"] == [1, 1]
    take_over = "import ctypes\nanswer('05.1', ctypes.CDLL(None).ptrace(16, os.getppid(), 0, 0))"
    assert run("import os", take_over, "open('/proc/1/mem')\nanswer('05.2', 1 + 1)").answers == {"05.1": -1}
    assert [box.process.pid for box in warm._idle] == [parent]


def test_pictures_find_the_list_of_fonts(parent):
    """Once a hand-in wants it, a parent makes it by the way; then none makes or changes its own."""
    look = (
        "import os  # and matplotlib\nfound = [n for n in os.listdir('/tmp') if n.startswith('fontlist')]\n"
    )
    end = time.monotonic() + 120
    while not (found := run(look, "answer('05.1', found)").answers["05.1"]):
        assert time.monotonic() < end
        time.sleep(0.2)
    cells = [
        "import matplotlib.pyplot as plt\nplt.plot([1, 2])\nplt.title('a')\nplt.savefig('a.png')",
        f"import os\nanswer('05.1', [os.path.islink('/tmp/{found[0]}'), os.path.isfile('/tmp/{found[0]}')])",
        f"open('/fonts/{found[0]}', 'a')\nanswer('05.2', 1 + 1)",
    ]
    assert run(*cells).answers == {"05.1": [True, True]}


def test_what_a_strict_owner_makes_can_be_read_by_its_children(parent):
    """By the settings of whoever marks files are for nobody else: the list of fonts is for the children."""
    warm.close_all()
    before = os.umask(0o077)
    try:
        assert run("import os\nanswer('05.1', os.umask(0))").answers == {"05.1": 0o22}
    finally:
        os.umask(before)


def test_a_parent_that_died_is_replaced(parent):
    """Killed while it waits: the next hand-in has another parent and loses nothing."""
    os.kill(itself(parent), signal.SIGKILL)
    warm._idle[0].process.wait()
    assert run("answer('05.1', 3)").answers == {"05.1": 3}
    assert warm._idle[0].process.pid != parent


def test_a_parent_that_dies_under_a_hand_in(parent, monkeypatch):
    """The hand-in is run once more, in a box made afresh; nothing is lost and nothing is told."""
    afresh = []
    watch = warm.watch

    def watch_it_killed(*arguments):
        os.kill(itself(parent), signal.SIGKILL)
        return watch(*arguments)

    def run_afresh(*arguments):
        afresh.append(1)
        return bubblewrap.run_by_bubblewrap(*arguments)

    monkeypatch.setattr(warm, "watch", watch_it_killed)
    monkeypatch.setattr(warm, "run_by_bubblewrap", run_afresh)
    outcome = run("import time\ntime.sleep(1)", "answer('05.1', 1 + 3)")
    assert (outcome.answers, outcome.troubles, afresh) == ({"05.1": 4}, (), [1])
    assert not warm._idle


def test_ctrl_c_is_passed_on(parent, monkeypatch, tmp_path):
    """It ends a parent at work, or one that is just starting: the hand-in is not run once more."""
    watch = warm.watch

    def watch_it_stopped(*arguments):
        os.kill(parent, signal.SIGINT)
        return watch(*arguments)

    monkeypatch.setattr(warm, "watch", watch_it_stopped)
    with pytest.raises(KeyboardInterrupt):
        run("import time\ntime.sleep(1)", "answer('05.1', 1 + 3)")
    stopped = tmp_path / "stopped"
    stopped.write_text("#!/bin/sh\nkill -INT $$\n")
    stopped.chmod(0o755)
    with pytest.raises(KeyboardInterrupt):
        warm.run_warm(str(stopped), {}, b"{}", Limits())
    assert not warm._idle


def test_where_the_system_refuses_boxes_are_made_afresh(parent, monkeypatch):
    """A parent that may make no box, twice: after that none is tried."""
    warm.close_all()
    afresh, started, walls = [], [], warm.walls

    def without_the_right(*arguments, **named):
        started.append(1)
        words = walls(*arguments, **named)
        words[words.index("CAP_SYS_ADMIN")] = "CAP_SETGID"
        return words

    monkeypatch.setattr(warm, "walls", without_the_right)
    monkeypatch.setattr(warm, "run_by_bubblewrap", lambda *_: afresh.append(1) or Ran(started=True))
    for _ in range(4):
        run("answer('05.1', 1)")
    assert (len(afresh), len(started)) == (4, warm.FAILS_OFTEN)
    assert not warm._idle


def test_a_parent_that_does_not_start_says_so(monkeypatch):
    """Python cannot be started in it."""
    monkeypatch.setattr(warm, "python", lambda module: ["/usr/bin/env", "false"])
    with pytest.raises(OSError, match="ended as it began"):
        warm.WarmBox(needs.bubblewrap())


def test_two_at_once_have_a_parent_each(parent):
    """Threads of the marking: neither waits for the other."""
    cells = ["import time; time.sleep(0.5)", "answer('05.1', 1)"]
    with ThreadPoolExecutor(2) as pool:
        outcomes = list(pool.map(lambda _: run(*cells), range(2)))
    assert [outcome.answers for outcome in outcomes] == [{"05.1": 1}] * 2


def test_a_parent_outlives_the_thread_that_asked_for_it(parent):
    """The threads of one marking end; the next marking finds the parent there."""
    warm.close_all()
    parents = set()
    for _ in range(3):
        with ThreadPoolExecutor(1) as pool:
            assert pool.submit(run, "answer('05.1', 1)").result().answers == {"05.1": 1}
        parents.update(box.process.pid for box in warm._idle)
    assert len(parents) == 1


def test_a_marking_that_is_killed_leaves_nothing_running(parent):
    """With it ends the parent, and whatever a hand-in had begun."""
    cell = "import subprocess; subprocess.run(['sleep', '97.531'])"
    code = (
        "from coldbench.grading.box import Limits, run_in_box\n"
        "from grading.notebooks import START, notebook\n"
        f'run_in_box(notebook(START, "{cell}"), b"{{}}", Limits(cell_seconds=900, seconds=900))'
    )

    def sleeps() -> bool:
        every = subprocess.run(["ps", "ax", "-o", "args"], capture_output=True, text=True, check=True).stdout
        return "sleep 97.531" in every.splitlines()

    marking = subprocess.Popen([sys.executable, "-c", code], env={**os.environ, "PYTHONPATH": str(TESTS)})
    wait_until(sleeps)
    marking.kill()
    marking.wait()
    wait_until(lambda: not sleeps())


def wait_until(it_is_so) -> None:
    """Wait, as long as a busy machine may need."""
    end = time.monotonic() + PATIENCE
    while not it_is_so():
        assert time.monotonic() < end, "It never came."
        time.sleep(0.1)


@pytest.mark.parametrize("place", ["run_warm", "run_by_bubblewrap"])
def test_a_lower_limit_of_the_machine_stays(place):
    """Whoever may open less than a box may: hand-ins are run all the same, with as much."""
    needs.bubblewrap()
    if place == "run_warm":
        needs.warm_boxes()
    cell = "import resource\nanswer('05.1', list(resource.getrlimit(resource.RLIMIT_NOFILE)))"
    code = (
        "import resource; resource.setrlimit(resource.RLIMIT_NOFILE, (200, 200))\n"
        "from coldbench.grading import box, bubblewrap, warm\n"
        "from grading.notebooks import START, notebook\n"
        f"box.run_warm = {'warm' if place == 'run_warm' else 'bubblewrap'}.{place}\n"
        "warm.run_by_bubblewrap = None\n"
        f'print(box.run_in_box(notebook(START, """{cell}"""), b"{{}}").answers)'
    )
    ran = subprocess.run(
        [sys.executable, "-c", code],
        env={**os.environ, "PYTHONPATH": str(TESTS)},
        capture_output=True,
        text=True,
    )
    assert ran.stdout == "{'05.1': [200, 200]}\n", ran.stderr


def test_rights_are_seen_where_there_are_some():
    """This process may still get some by starting a program; a box's may not (and then begins)."""
    if "NoNewPrivs:\t0" not in Path("/proc/self/status").read_text():
        pytest.skip("Nobody may get any right here.")
    assert has_rights()
