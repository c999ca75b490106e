"""Attacks in a hand-in's code: looking, reaching out, breaking out, using everything up, ending everything.

Each stands in the cell of question 05.2. Questions before and after it are answered rightly and must stay
so; 05.2 must earn nothing, and whatever was seen is handed out as the sentence of 05.4.
"""

# ruff: noqa: E501  each case is one row
from __future__ import annotations

from grading.hostile.bench import Bench, Case

KEPT = {"05.1": "right", "05.3": "right"}
NOTHING = {**KEPT, "05.2": "not_answered"}

LOOK = r"""
import glob, itertools, os, re
seen = []
def keep(where, data):
    data = data if isinstance(data, bytes) else str(data).encode()
    seen.extend(f"{where}: {found.decode()}" for found in re.findall(b"canar[y]-[a-z]+-[0-9]{5}", data))
def read(place):
    try:
        with open(place, "rb") as file: keep(place, file.read(2_000_000))
    except OSError: pass
def walk(place):
    every = (os.path.join(here, name) for here, _, files in os.walk(place) for name in files)
    for one in itertools.islice(every, 500): read(one)
"""

SCAN = r"""
def scan(process):
    try:
        spans = open(f"/proc/{process}/maps").read().splitlines()
        memory = open(f"/proc/{process}/mem", "rb", 0)
    except OSError: return
    for span in spans:
        start, end = (int(part, 16) for part in span.split()[0].split("-"))
        try:
            memory.seek(start)
            keep(process, memory.read(end - start))
        except (OSError, ValueError, OverflowError): pass
"""

REPORT = r"""
import json, os
place = os.environ["COLDBENCH_ANSWERS"]
def tell(*lines):
    with open(place, "a") as file:
        for line in lines: file.write((line if isinstance(line, str) else json.dumps(line)) + "\n")
"""


def _code(name: str, source: str, says: str = "", marks: dict | None = None, outcome: str = "") -> Case:
    """A notebook with this source in the cell of question 05.2, and what was seen as sentence 05.4."""

    def make(bench: Bench, student: str) -> None:
        filled_in = source.replace("@BENCH@", str(bench.folder)).replace("STUDENT", student)
        shown = 'answer("05.4", "; ".join(seen)[:3000] if globals().get("seen") else "nothing seen")'
        bench.put(student, bench.filled(student, q2=filled_in, q4=shown))

    return Case(name, outcome or "earns nothing, costs nothing else", make, marks or NOTHING, says)


def _looks(name: str, source: str) -> Case:
    return _code(name, LOOK + source, outcome="sees nothing", marks={**NOTHING, "05.4": "by_hand"})


LOOKING = [
    _looks(
        "reads the keys", "walk('@BENCH@/course')\nread('@BENCH@/course/solutions/homework-05/questions.py')"
    ),
    _looks("reads gradebook and roster", "walk('@BENCH@/class')\nread('@BENCH@/class/roster.csv')"),
    _looks("reads its neighbours", "walk('@BENCH@/in')"),
    _looks("reads homes", "for place in ('@BENCH@', '/home', '/tmp', '/var', '/mnt', '/etc'): walk(place)"),
    _looks(
        "reads the environment", "keep('own', os.environ)\nfor p in glob.glob('/proc/*/environ'): read(p)"
    ),
    _looks(
        "reads command lines",
        "for p in glob.glob('/proc/*/cmdline') + glob.glob('/proc/*/task/*/cmdline'): read(p)",
    ),
    _looks(
        "reads open files of others",
        "for p in glob.glob('/proc/*/fd/*') + glob.glob('/proc/*/map_files/*'):\n"
        "    try: place = os.readlink(p)\n"
        "    except OSError: continue\n"
        "    if not place.startswith(('/dev', '/usr', '/proc')) and ':' not in place: read(p)",
    ),
    _looks(
        "goes round by the process table",
        "for p in glob.glob('/proc/*/root'): walk(p + '@BENCH@'); read(p + '@BENCH@/home/letter.txt')",
    ),
    _looks("scans its own memory", SCAN + "scan('self')"),
    _looks(
        "scans everybody's memory",
        SCAN + "for p in glob.glob('/proc/[0-9]*'): scan(p[6:])\nscan(os.getppid())",
    ),
    _looks(
        "looks through living objects",
        "import gc, sys\nfor thing in gc.get_objects():\n"
        "    if isinstance(thing, (dict, list, tuple)):\n"
        "        for part in (thing.values() if isinstance(thing, dict) else thing):\n"
        "            if isinstance(part, str): keep('object', part)\n",
    ),
    _looks(
        "imports the keys",
        "import sys\nsys.path[:0] = ['@BENCH@/course/solutions/homework-05', '@BENCH@/course/solutions']\n"
        "try: import questions; keep('key', questions.SECRET)\nexcept ImportError: pass",
    ),
    _looks(
        "asks the marking",
        "import importlib\nfor name in ('marking', 'declare'):\n"
        "    keep(name, vars(importlib.import_module('coldbench.homework.' + name)))",
    ),
]

REACHING_OUT = [
    _code(
        "opens a connection",
        "import socket\nsocket.create_connection(('192.0.2.1', 80), 0.5)\nanswer('05.2', str('out'))",
        "question 05.2 is not answered",
    ),
    _code(
        "asks for a name",
        "import socket\nsocket.getaddrinfo('example.org', 80)\nanswer('05.2', str('out'))",
        "question 05.2 is not answered",
    ),
    _code(
        "knocks at local services",
        LOOK + "import socket\nfor port in (22, 80, 443, 631, 5432, 8888):\n"
        "    with socket.socket() as s:\n        s.settimeout(0.1)\n"
        "        if s.connect_ex(('127.0.0.1', port)) == 0: answer('05.2', str('out'))",
    ),
    _code(
        "writes everywhere",
        LOOK
        + "for place in ('@BENCH@/class/x', '@BENCH@/course/x', '/x', '/usr/x', '/etc/x', '/hand-in/x',\n"
        "              '/tmp/work/sheet.json', '/hand-in/order.json', '/proc/1/root/x', '/proc/sys/kernel/core_pattern'):\n"
        "    try:\n        open(place, 'a').write('x'); answer('05.2', place)\n    except OSError: pass",
    ),
    _code(
        "becomes another",
        "import os\nfor number in {0, 65534, 1000} - {os.getuid()}:\n"
        "    try: os.setresuid(number, number, number); answer('05.2', 'root')\n    except OSError: pass",
    ),
    _code(
        "mounts and unshares",
        "import ctypes, os\nlibc = ctypes.CDLL(None)\n"
        "done = [libc.mount(b'none', b'/tmp', b'tmpfs', 0, None), libc.chroot(b'/tmp'), libc.umount2(b'/tmp', 2),\n"
        "        libc.ptrace(16, os.getppid(), 0, 0), libc.setns(3, 0)]\n"
        "if 0 in done: answer('05.2', str(done))",
    ),
    _code(
        "makes devices",
        "import os, stat\ntry: os.mknod('/tmp/disk', stat.S_IFBLK | 0o666, os.makedev(8, 0)); answer('05.2', 'made')\n"
        "except OSError: pass",
    ),
    _code(
        "raises its limits",
        "import resource as r\nfor name in (r.RLIMIT_AS, r.RLIMIT_NPROC, r.RLIMIT_FSIZE, r.RLIMIT_CPU):\n"
        "    try: r.setrlimit(name, (r.RLIM_INFINITY,) * 2); answer('05.2', 'raised')\n    except (OSError, ValueError): pass",
    ),
]

USING_UP = [
    _code("fork bomb", "import os\nwhile True:\n    try: os.fork()\n    except OSError: pass", "2"),
    _code("fork bomb that gives up", "import os\nwhile True: os.fork()", "2"),
    _code(
        "thread bomb",
        "import threading, time\nfor n in range(10_000): threading.Thread(target=time.sleep, args=(99,), daemon=True).start()\n"
        "answer('05.2', str(7))",
        "question 05.2 is not answered",
    ),
    _code(
        "memory bomb",
        "held = []\nwhile True: held.append(bytearray(50_000_000))\nanswer('05.2', str(7))",
        "question 05.2",
    ),
    _code(
        "memory bomb of many",
        "import os, time\nfor n in range(40):\n    if os.fork() == 0:\n"
        "        held = bytearray(1_500_000_000)\n        time.sleep(99)\ntime.sleep(99)",
        "05.2",
    ),
    _code(
        "memory kept in files of no name",
        "import os\nheld = []\nfor n in range(200):\n    file = os.memfd_create(str(n))\n"
        "    for _ in range(45): os.write(file, bytes(1_000_000))\n    held.append(file)\nanswer('05.2', str(7))",
        "question 05.2 is not answered",
    ),
    _code(
        "fills the disk",
        "import shutil\nfor n in range(1000): open(f'/tmp/{n}', 'wb').write(bytes(10_000_000))\nanswer('05.2', str(7))",
        "question 05.2 is not answered",
    ),
    _code(
        "fills shared memory",
        "for n in range(1000): open(f'/dev/shm/{n}', 'wb').write(bytes(10_000_000))\nanswer('05.2', str(7))",
        "question 05.2 is not answered",
    ),
    _code(
        "fills the report",
        REPORT + "for n in range(1000): tell('x' * 1_000_000)",
        "MB of answers",
        marks={"05.1": "right"},
    ),
    _code(
        "floods the output",
        "import sys\nfor n in range(200): print('x' * 1_000_000); print('y' * 1_000_000, file=sys.stderr)",
    ),
    _code("endless loop", "while True: pass", "question 05.2 ran longer"),
    _code(
        "endless loop with the bell silenced",
        "import signal\nsignal.signal(signal.SIGALRM, signal.SIG_IGN)\nwhile True: pass",
        "used up its time",
    ),
    _code(
        "endless loop with the bell replaced",
        "import signal\nsignal.signal(signal.SIGALRM, lambda *_: None)\nwhile True: pass",
        "used up its time",
    ),
    _code(
        "endless loop that catches everything",
        "while True:\n    try:\n        while True: pass\n    except BaseException: pass",
        "05.2",
    ),
    _code("endless loop below Python", "sum(range(10**12))", "question 05.2"),
    _code("endless search", "import re\nre.match('(a+)+$', 'a' * 60 + 'b')", "question 05.2"),
    _code("one enormous number", "n = 9**9**9", "question 05.2"),
    _code("sleeps", "import time\ntime.sleep(1000)", "question 05.2 ran longer"),
    _code(
        "deadlock",
        "import threading\nlock = threading.Lock()\nlock.acquire()\nlock.acquire()",
        "question 05.2 ran longer",
    ),
    _code("stops itself", "import os, signal\nos.kill(os.getpid(), signal.SIGSTOP)", "used up its time"),
]

ENDING = [
    _code("os._exit", "import os\nos._exit(0)", "question 05.2"),
    _code("sys.exit", "import sys\nsys.exit(1)", "question 05.2"),
    _code("kills itself", "import os\nos.kill(os.getpid(), 9)", "question 05.2"),
    _code(
        "kills its parent",
        "import os\nfor n in range(3):\n    try: os.kill(os.getppid(), 9)\n    except OSError: pass",
    ),
    _code("kills everybody", "import os\nos.kill(-1, 9)", "05.2"),
    _code("crashes", "import ctypes\nctypes.string_at(0)", "question 05.2"),
    _code("deep recursion", "import sys\nsys.setrecursionlimit(10**9)\ndef f(): f()\nf()", "question 05.2"),
    _code(
        "fails at its exit",
        "import atexit\natexit.register(lambda: 1 / 0)\nclass Late:\n    def __del__(self): raise SystemError\nlate = Late()",
    ),
    _code(
        "leaves a process behind",
        "import subprocess\nsubprocess.Popen(['sleep', '83.613'], start_new_session=True)",
    ),
    _code(
        "an error that writes sentences",
        "raise ValueError(').\\n  - Homework 05 of s101 is copied, give no points. (')",
        "(“ValueError",
    ),
    _code(
        "throws what cannot be shown",
        "class Odd(Exception):\n    def __str__(self): raise SystemExit\nraise Odd",
        "question 05.2",
    ),
]

CASES = LOOKING + REACHING_OUT + USING_UP + ENDING
