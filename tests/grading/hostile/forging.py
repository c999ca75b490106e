"""Attacks on what comes out of the box: forged reports, odd objects, and notebooks that claim things.

Inside: `REPORTS` (lines written straight into the answers file, tools replaced), `OBJECTS` (answers that are
not what they seem), `CLAIMS` (outputs, points, ids and metadata of the notebook file).
"""

# ruff: noqa: E501  each case is one row
from __future__ import annotations

import copy
import json

from grading.hostile.bench import Bench, Case
from grading.hostile.code import KEPT, REPORT, _code

RUBBISH = "could not be read"


def _report(name: str, source: str, says: str = "", marks: dict | None = None, outcome: str = "") -> Case:
    return _code(name, REPORT + source, says, marks, outcome)


REPORTS = [
    _report(
        "answers to questions that are not",
        "tell(*({'question': f'{n:02d}.{n}', 'answer': 1} for n in range(99)),\n"
        "     {'question': '05.99', 'answer': 1}, {'question': '../../x', 'answer': 1})",
        RUBBISH,
        KEPT,
    ),
    _report("a million lines", "tell(*['{}'] * 1_000_000)", "MB of answers", {"05.1": "right"}),
    _report(
        "numbers beyond measure",
        'tell(\'{"question": "05.2", "answer": 1e999}\', \'{"question": "05.2", "answer": \' + \'9\' * 5000 + \'}\',\n'
        "     '{\"question\": \"05.2\", \"answer\": ' + '9' * 900 + '}')",
        RUBBISH,
    ),
    _report(
        "nested without end",
        "tell('[' * 100_000, '{\"a\":' * 100_000, '{\"question\": \"05.2\", \"answer\": ' + '[' * 50_000)",
        RUBBISH,
    ),
    _report(
        "wrong types",
        "tell({'question': 5.2, 'answer': 1}, {'question': ['05.2'], 'answer': 1}, [1], 'null', {'cell': -1}, {'cell': 10**30},\n"
        "     {'cell': 10**30, 'problem': 'time', 'detail': ''}, {'student': 7}, {'started': 'x'}, {'finished': False})",
        RUBBISH,
    ),
    _report(
        "every answer twice",
        "tell(*[{'question': '05.2', 'answer': n} for n in range(500)])",
        "more than once",
        KEPT,
    ),
    _report(
        "points and outcomes of its own",
        "tell({'question': '05.2', 'answer': 1, 'points': 99, 'outcome': 'right'}, {'question': '05.2', 'points': 2},\n"
        "     {'marks': {'05.2': 2}}, {'question': '05.2', 'answer': {'points': 2, 'outcome': 'right'}})",
        RUBBISH,
        {**KEPT, "05.2": "not_understood"},
    ),
    _report(
        "another student's number",
        "student('s101')\ntell({'student': 's101'}, {'student': '\\ud800'}, {'student': '<b>'})",
        RUBBISH,
    ),
    _report(
        "says it has finished", "tell({'finished': True}, {'started': True})\nimport os\nos._exit(0)", "05.3"
    ),
    _report(
        "troubles of its own",
        "tell({'cell': 1, 'problem': 'error', 'detail': '). Homework 05 of s101 is copied. ('},\n"
        "     {'trouble': 'give full points'}, {'cell': 2, 'problem': 'praise', 'detail': 'x'})",
        RUBBISH,
    ),
    _report(
        "escape codes in an error",
        "raise ValueError('\\x1b[2J\\x1b]0;owned\\x07 <script>window.ran=true</script> \\u202e')",
        "question 05.2",
    ),
    _report(
        "empties the report",
        "open(place, 'w').close()\nimport os\nos._exit(0)",
        "ended itself",
        {"05.1": "right", "05.3": "right"},
    ),
    _report(
        "takes the report away",
        "os.chmod(place, 0)\ntry: os.remove(place)\nexcept OSError: pass\nos._exit(0)",
        "05.2",
    ),
    _report(
        "halves of characters",
        'tell(\'{"question": "05.2", "answer": "\\\\ud800"}\')\nanswer(\'05.2\', \'\\ud83d\')',
        RUBBISH,
        KEPT,
    ),
    _report(
        "report as a picture of bytes", "open(place, 'ab').write(bytes(range(256)) * 100 + b'\\n')", RUBBISH
    ),
    _code(
        "replaces the tools",
        "import builtins, json, coldbench.homework as h, coldbench.homework.answers as a\n"
        'json.dumps = lambda *_, **__: \'{"question": "05.2", "answer": {"outcome": "right"}}\'\n'
        "answer('05.2', 1)\na.plain = lambda value: 'right'\nbuiltins.float = lambda _: 1.0\nbuiltins.isinstance = lambda *_: True",
        "05.2",
        {"05.1": "right", "05.2": "not_understood"},
        "what it says is text, never a mark",
    ),
    _code(
        "sends answers elsewhere",
        "import os\nos.environ['COLDBENCH_ANSWERS'] = '/tmp/elsewhere'\nanswer('05.2', '1 degF')",
        "as typed",
        KEPT,
        "what is typed is read as typed",
    ),
    _code(
        "rewrites the order of cells",
        "import sys\nframe = sys._getframe()\nwhile frame:\n    cells = frame.f_locals.get('cells')\n"
        "    if isinstance(cells, list): cells.clear()\n    frame = frame.f_back",
    ),
    _code(
        "shadows modules",
        "for name in ('json', 'os', 'coldbench', 'sitecustomize', 'IPython'):\n"
        "    for place in ('/tmp/work', '/tmp'): open(f'{place}/{name}.py', 'w').write('raise SystemExit')\n"
        "import sys\nsys.modules['coldbench.homework.kinds'] = None",
    ),
    _code(
        "traces everything",
        "import sys\nsys.settrace(lambda *_: 1 / 0)\nsys.setprofile(lambda *_: None)",
        "05.2",
        {"05.1": "right"},
    ),
]


def _object(name: str, source: str, says: str = "", outcome: str = "not_understood") -> Case:
    return _code(name, source, says, {**KEPT, "05.2": outcome}, "an answer is what it is as plain value")


OBJECTS = [
    _object(
        "equal to everything",
        "class A:\n    def __eq__(self, other): return True\n    __hash__ = None\nanswer('05.2', A())",
    ),
    _object(
        "a text that lies",
        "class A(str):\n    def __eq__(self, other): return True\n    def __str__(self): return 'x'\n"
        "    __hash__ = str.__hash__\nanswer('05.2', A('wrong'))",
    ),
    _object(
        "a number that lies",
        "class A(float):\n    def __sub__(self, other): return 0.0\n    def __float__(self): return 1.0\n"
        "    def __repr__(self): return '[]'\nanswer('05.2', A(-450.0))",
        outcome="wrong",
    ),
    _object(
        "a whole number that lies",
        "class A(int):\n    def __abs__(self): return 0\n    def __lt__(self, other): return True\nanswer('05.2', A(10**400))",
        RUBBISH,
        "not_answered",
    ),
    _object(
        "a dict that lies",
        "class A(dict):\n    def items(self): return [('05.2', A(x=1))] * 10**6\n    def __iter__(self): return iter(['x'] * 10)\n"
        "answer('05.2', A(x=1))",
        "05.2",
        "not_answered",
    ),
    _object("of another class", "class A:\n    __class__ = str\nanswer('05.2', A())", "05.2", "not_answered"),
    _object(
        "a table of rows that lie",
        "class A(str):\n    def __hash__(self): return 1\n    def __eq__(self, other): return True\nanswer('05.2', {A('a'): 1, A('b'): 2})",
    ),
    _object(
        "shows itself by force",
        "class A:\n    def __repr__(self): raise SystemExit\nanswer('05.2', A())",
        "05.2",
        "not_answered",
    ),
    _object(
        "shows itself as markup",
        "class A:\n    def __repr__(self): return '<script>window.ran=true</script>'\n    _repr_html_ = __repr__\nanswer('05.2', A())",
    ),
    _object("not a number", "answer('05.2', float('nan'))"),
    _object("infinite", "answer('05.2', float('-inf'))"),
    _object("infinite text", "answer('05.2', '1e999 degF')"),
    _object("enormous text", "answer('05.2', '9' * 4990 + ' degF')"),
    _object("far too long a text", "answer('05.2', 'x' * 100_000)"),
    _object("enormous whole number", "answer('05.2', 10**5000)"),
    _object("numpy oddities", "import numpy as np\nanswer('05.2', np.array([np.nan, 1], dtype=object))"),
    _object(
        "a quantity that lies",
        "class A:\n    magnitude = '<b>0</b>'\n    class units:\n        def __format__(self, how): return 'degF'\n"
        "    units = units()\nanswer('05.2', A())",
    ),
    _object("true", "answer('05.2', True)"),
    _object("bytes", "answer('05.2', b'\\x80\\x04]q.')"),
    _object("a generator", "answer('05.2', (n for n in range(9)))"),
    _object(
        "a list that holds itself",
        "held = []\nheld.append(held)\nanswer('05.2', held)",
        RUBBISH,
        "not_answered",
    ),
    _object("controls in a text", "answer('05.2', '\\x00\\x1b[2J\\r\\n 3 degF')"),
    _object("a text to choke on", "answer('05.2', '1,' * 2400 + ' degF')"),
    _object("blanks to choke on", "answer('05.2', '1' + ' ' * 4900 + '1')"),
]


def _claim(name: str, change, outcome: str, says: str = "", marks: dict | None = None) -> Case:
    """A notebook whose 05.2 is wrong and whose file claims otherwise."""

    def make(bench: Bench, student: str) -> None:
        tree = bench.filled(student, q2="answer('05.2', '-450 degF')")
        bench.put(student, change(tree) or tree)

    return Case(name, outcome, make, marks or {**KEPT, "05.2": "wrong"}, says)


def _cells(tree: dict) -> dict[str, dict]:
    return {cell["id"]: cell for cell in tree["cells"]}


def _outputs(tree: dict) -> None:
    for cell in tree["cells"]:
        if cell["cell_type"] == "code":
            cell["outputs"] = [
                {"output_type": "execute_result", "execution_count": 1, "metadata": {}, "data": data}
                for data in ({"text/plain": "2.0"}, {"text/html": "<script>window.ran=true</script>"},
                             {"image/svg+xml": "<svg onload='window.ran=true'/>"},
                             {"application/javascript": "window.ran=true"})
            ]  # fmt: skip


def _metadata(**changed):
    def change(tree: dict) -> None:
        for cell in tree["cells"]:
            if "nbgrader" in cell["metadata"]:
                cell["metadata"]["nbgrader"] |= changed
                cell["metadata"] |= {"deletable": True, "editable": True}

    return change


def _without_metadata(tree: dict) -> None:
    tree["metadata"] = {}
    for cell in tree["cells"]:
        cell["metadata"] = {}


def _twice(tree: dict) -> None:
    second = copy.deepcopy(_cells(tree)["question-05-2"])
    tree["cells"].append(second)


def _same_ids(tree: dict) -> None:
    for cell in tree["cells"]:
        cell["id"] = "question-05-1"


def _no_ids(tree: dict) -> None:
    for cell in tree["cells"]:
        del cell["id"]


def _active(tree: dict) -> None:
    for cell in tree["cells"]:
        if cell["cell_type"] == "markdown":
            cell["source"] = (
                "<script>window.ran=true</script><img src=x onerror=window.ran=true>[x](javascript:window.ran=true)"
            )
            cell["attachments"] = {"a.svg": {"image/svg+xml": "PHN2ZyBvbmxvYWQ9J3dpbmRvdy5yYW49dHJ1ZScvPg=="}}


def _repeated_keys(tree: dict) -> bytes:
    text = json.dumps(tree)
    return (text[:-1] + ', "metadata": {"coldbench": {"homework": "01"}}, "nbformat": 4}').encode()


CLAIMS = [
    _claim("forged outputs", _outputs, "outputs are not looked at"),
    _claim("points of its own", _metadata(points=99), "points are ours"),
    _claim(
        "cells unlocked and no longer graded",
        _metadata(locked=True, grade=False, solution=False, grade_id="x"),
        "metadata is not looked at",
    ),
    _claim("metadata of the future", _metadata(schema_version=99), "metadata is not looked at"),
    _claim(
        "metadata of the wrong kind",
        _metadata(points="many", schema_version=None, grade_id=["x"]),
        "metadata is not looked at",
    ),
    _claim("no metadata", _without_metadata, "told apart by its questions"),
    _claim("a question's cell twice", _twice, "the last answer counts"),
    _claim("all cells of one id", _same_ids, "told apart by their text"),
    _claim("no ids", _no_ids, "told apart by their text"),
    _claim("active content everywhere", _active, "nothing of it is shown"),
    _claim("keys twice in the file", _repeated_keys, "read as its questions say"),
    _claim(
        "not a number in the file",
        lambda tree: json.dumps(tree | {"x": float("nan"), "y": 1e999}).encode(),
        "read",
    ),
    _claim(
        "format of the future",
        lambda tree: tree.update(nbformat=99, nbformat_minor=10**9),
        "read all the same",
        "newer format",
    ),
    _claim(
        "cells that are none",
        lambda tree: tree["cells"].extend(
            [{}, {"cell_type": 7, "source": {"a": 1}}, {"cell_type": "code", "source": [1, None]}]
        ),
        "passed over",
    ),
]

MARKUP = "<script>window.ran=true</script><img src=x onerror=window.ran=true></code></pre><svg onload=window.ran=true>"


def _markup(bench: Bench, student: str) -> None:
    tree = bench.filled(
        student, q1=f"answer('05.1', {MARKUP!r})", q2=f"answer({MARKUP!r}, 1)", start=f"student({MARKUP!r})"
    )
    long = (
        f"{MARKUP} \"\"\") ''') {MARKUP} "
        + "{{ 7 * 7 }} {% raw %} $\\\\href{javascript:window.ran=true}{x}$ " * 3
    )
    _cells(tree)["question-05-4"]["source"] = f"answer('05.4', {long!r})"
    bench.put(student, tree)


SHOWN = [
    Case(
        "markup in every answer",
        "shown as text",
        _markup,
        {"05.1": "not_understood", "05.2": "not_answered", "05.3": "right", "05.4": "by_hand"},
        RUBBISH,
    ),
]

CASES = SHOWN + REPORTS + OBJECTS + CLAIMS
