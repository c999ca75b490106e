"""Honest students' troubles: none of them may cost a point, and most need not be told to anybody."""

# ruff: noqa: E501  each case is one row
from __future__ import annotations

import json
import os
from collections.abc import Callable

from grading.hostile.bench import RIGHT, Bench, Case, zipped

NAME = "homework-05.ipynb"


def _typed(bench: Bench, student: str, question: str = "05.2") -> str:
    return bench.right(student)[question]


def _number(bench: Bench, student: str) -> str:
    return _typed(bench, student).removesuffix(" degF")


def _cell(name: str, source: str, says: str | None = "", marks: dict | None = None, **more: str) -> Case:
    """The cell of 05.2 holds this source; ``NUMBER`` stands for the right number in °F."""

    def make(bench: Bench, student: str) -> None:
        cells = {
            cell: text.replace("NUMBER", _number(bench, student)).replace("UPPER", student.upper())
            for cell, text in more.items()
        }
        bench.put(
            student, bench.filled(student, q2=source.replace("NUMBER", _number(bench, student)), **cells)
        )

    return Case(name, "costs nothing", make, marks or RIGHT, says, attack=False)


def _tree(name: str, change: Callable, says: str = "", marks: dict | None = None) -> Case:
    """The whole notebook is changed."""

    def make(bench: Bench, student: str) -> None:
        tree = bench.filled(student)
        bench.put(student, change(tree) or tree)

    return Case(name, "costs nothing", make, marks or RIGHT, says, attack=False)


def _file(name: str, write: Callable, file: str = NAME, says: str = "") -> Case:
    """The notebook is written in another way."""

    def make(bench: Bench, student: str) -> None:
        bench.put(student, write(json.dumps(bench.filled(student))), file.replace("STUDENT", student))

    return Case(name, "costs nothing", make, RIGHT, says, attack=False)


def _new(source: str, kind: str = "code", **more) -> dict:
    extra = {"outputs": [], "execution_count": None} if kind == "code" else {}
    return {"cell_type": kind, "id": "mine", "metadata": {}, "source": source, **extra, **more}


def _at(tree: dict, name: str) -> int:
    return next(place for place, cell in enumerate(tree["cells"]) if cell["id"] == name)


def _split(tree: dict) -> None:
    place = _at(tree, "question-05-2")
    source = tree["cells"][place]["source"]
    head, _, tail = source.partition('"05.2"') if '"05.2"' in source else source.partition("'05.2'")
    tree["cells"][place]["source"] = "value = " + tail.lstrip(", ").removesuffix(")")
    tree["cells"].insert(place + 1, _new(f"{head}'05.2', value)"))


def _extra(tree: dict) -> None:
    tree["cells"].insert(1, _new("1 / 0"))
    tree["cells"].append(_new("# my notes\nx = [1, 2"))
    tree["cells"].append(_new("Notes **of mine** <b>bold</b>", "markdown"))


def _became(kind: str):
    def change(tree: dict) -> None:
        cell = tree["cells"][_at(tree, "question-05-2")]
        cell["cell_type"] = kind
        cell.pop("outputs", None)
        cell.pop("execution_count", None)

    return change


def _moved(tree: dict) -> None:
    one, three = _at(tree, "question-05-1"), _at(tree, "question-05-3")
    cells = tree["cells"]
    cells[one]["source"], cells[three]["source"] = cells[three]["source"], cells[one]["source"]


def _backwards(tree: dict) -> None:
    place = _at(tree, "question-05-1")
    tree["cells"][place:] = tree["cells"][place:][::-1]


def _one_cell(tree: dict) -> None:
    code = [cell for cell in tree["cells"] if cell["cell_type"] == "code"]
    tree["cells"] = [_new("\n\n".join("".join(cell["source"]) for cell in code))]


def _first_gone(tree: dict) -> None:
    second = tree["cells"][_at(tree, "question-05-2")]
    second["source"] = second["source"].replace(", ", ", '' + ", 1)
    del tree["cells"][_at(tree, "student-number")]


def _later(tree: dict) -> None:
    place = _at(tree, "question-05-2")
    cell = tree["cells"][place]
    before, _, after = "".join(cell["source"]).partition(", ")
    cell["source"] = f"{before}, found_later)"
    tree["cells"].append(_new(f"found_later = {after.removesuffix(')')}"))


def _lines(tree: dict) -> None:
    for cell in tree["cells"]:
        cell["source"] = "".join(cell["source"]).splitlines(keepends=True)


def _old_format(tree: dict) -> dict:
    cells = []
    for cell in tree["cells"]:
        text = "".join(cell["source"])
        if cell["cell_type"] == "code":
            cells.append(
                {
                    "cell_type": "code",
                    "input": text,
                    "outputs": [],
                    "language": "python",
                    "collapsed": False,
                    "metadata": {},
                }
            )
        else:
            cells.append({"cell_type": "markdown", "source": text, "metadata": {}})
    return {
        "nbformat": 3,
        "nbformat_minor": 0,
        "metadata": {"name": ""},
        "worksheets": [{"cells": cells, "metadata": {}}],
    }


def _outputs(tree: dict) -> None:
    for cell in tree["cells"]:
        if cell["cell_type"] == "code":
            cell["outputs"] = [
                {"output_type": "stream", "name": "stderr", "text": "Warning: old\n" * 5_000},
                {"output_type": "error", "ename": "NameError", "evalue": "x", "traceback": ["\x1b[31mx"]},
                {"output_type": "display_data", "metadata": {}, "data": {"image/png": "iVBORw0KGgo=" * 20_000}},
            ]  # fmt: skip


IN_CELLS = [
    _cell(
        "warning on stderr",
        "import sys, warnings\nwarnings.warn('old')\nprint('careful', file=sys.stderr)\nanswer('05.2', 'NUMBER degF')",
    ),
    _cell(
        "asks for input in a cell of its own",
        "try:\n    name = input('Who?')\nexcept Exception: pass\nanswer('05.2', 'NUMBER degF')",
    ),
    _cell("asks for input first", "name = input('Who?')\nanswer('05.2', 'NUMBER degF')", "nobody is there"),
    _cell(
        "a value from an earlier cell",
        "answer('05.2', f'{start - 20:g} degF')",
        q1="start = NUMBER + 20\nanswer('05.1', f'{start - 10:g} degF')",
    ),
    _cell(
        "answered twice, the last is right",
        "answer('05.2', '3 degF')\nanswer('05.2', 'NUMBER degF')",
        "more than once",
    ),
    _cell("answered and then left blank", "answer('05.2', 'NUMBER degF')\nanswer('05.2', ...)"),
    _cell("by keyword", "answer('05.2', value='NUMBER degF')"),
    _cell("by both keywords", "answer(question='05.2', value='NUMBER degF')"),
    _cell("assigned", "result = answer('05.2', 'NUMBER degF')\nresult"),
    _cell("inside a function", "def mine():\n    answer('05.2', 'NUMBER degF')\nmine()"),
    _cell("a plain number", "answer('05.2', NUMBER)"),
    _cell("a numpy number", "import numpy as np\nanswer('05.2', np.float64(NUMBER))"),
    _cell("a numpy number of little precision", "import numpy as np\nanswer('05.2', np.float32(NUMBER))"),
    _cell("a numpy array of one", "import numpy as np\nanswer('05.2', np.array([NUMBER]))"),
    _cell("a quantity", "from coldbench.units import q\nanswer('05.2', q(NUMBER, 'degF'))"),
    _cell("an exact fraction", "from fractions import Fraction\nanswer('05.2', Fraction('NUMBER'))"),
    _cell("a decimal", "from decimal import Decimal\nanswer('05.2', Decimal('NUMBER'))"),
    _cell("blanks and capitals", "answer( \"05.2\" ,  '  NUMBER   DegF  ' )"),
    _cell("a decimal comma", "answer('05.2', 'NUMBER degF'.replace('.', ','))"),
    _cell("units as a sign", "answer('05.2', 'NUMBER °F')"),
    _cell(
        "an upper-case number",
        "answer('05.2', 'NUMBER degF')",
        start="from coldbench.homework import answer, student\nstudent(' UPPER ')",
    ),
    _cell("magics and a shell", "%matplotlib inline\n%time x = 1\n!ls\nanswer('05.2', 'NUMBER degF')"),
    _cell("a magic of the whole cell", "%%time\nanswer('05.2', 'NUMBER degF')"),
    _cell(
        "a picture",
        "import matplotlib.pyplot as plt\nplt.plot([1, 2])\nplt.show()\nanswer('05.2', 'NUMBER degF')",
        None,
    ),
    _cell(
        "display and widgets",
        "import ipywidgets\nfrom IPython.display import display, HTML\ndisplay(ipywidgets.IntSlider(), HTML('<b>x</b>'))\nanswer('05.2', 'NUMBER degF')",
    ),
    _cell("ends itself kindly", "answer('05.2', 'NUMBER degF')\nimport sys\nsys.exit()"),
    _cell("an error after the answer", "answer('05.2', 'NUMBER degF')\n1 / 0"),
    _cell("a short sleep", "import time\ntime.sleep(0.3)\nanswer('05.2', 'NUMBER degF')"),
    _cell("prints much", "print('x' * 5_000_000)\nanswer('05.2', 'NUMBER degF')"),
    _cell("another folder", "import os\nos.chdir('/tmp')\nanswer('05.2', 'NUMBER degF')"),
    _cell(
        "writes a file of its own",
        "open('mine.csv', 'w').write('1')\nprint(open('mine.csv').read())\nanswer('05.2', 'NUMBER degF')",
    ),
    _cell(
        "a name of ours in use", "answer('05.2', 'NUMBER degF')\nanswer = 'NUMBER degF'", "was read as typed"
    ),
    _cell(
        "a package that is not there",
        "import pandas_that_is_not_there\nanswer('05.2', 'NUMBER degF')",
        "05.2",
    ),
    _cell("waits for nothing", "import asyncio\nawait asyncio.sleep(0)\nanswer('05.2', 'NUMBER degF')"),
    _cell(
        "threads",
        "import threading\nt = threading.Thread(target=print)\nt.start()\nt.join()\nanswer('05.2', 'NUMBER degF')",
    ),
    _cell(
        "letters of another alphabet",
        "größe = '温度 ✓ 🧊'\nanswer('05.2', 'NUMBER degF')",
        q4="answer('05.4', 'Weil größer: 温度 🧊 ½')",
    ),
    _cell(
        "a sentence twice as long as it may be",
        'answer("05.2", "NUMBER degF")',
        marks=RIGHT | {"05.4": "not_understood"},
        q4="answer('05.4', 'ice ' * 2_250)",
    ),
    _cell("tabs and Windows line ends", "if True:\r\n\tanswer('05.2', 'NUMBER degF')\r\n"),
]

IN_NOTEBOOKS = [
    _tree("a split cell", _split),
    _tree("cells of one's own", _extra),
    _tree("an answer cell became markdown", _became("markdown"), "in a cell of text"),
    _tree("an answer cell became raw", _became("raw"), "in a cell of text"),
    _tree("answers in each other's cell", _moved),
    _tree("cells backwards", _backwards),
    _tree("all in one cell", _one_cell),
    _tree("the first cell deleted", _first_gone, "No student number"),
    _tree("a value from a later cell", _later),
    _tree("sources as lines", _lines),
    _tree("outputs with warnings and errors", _outputs),
    _tree("an older format", _old_format, "old format"),
    _tree("a minor format of the future", lambda tree: tree.update(nbformat_minor=99)),
    _tree(
        "another kernel",
        lambda tree: tree["metadata"].update(
            kernelspec={"name": "xpython", "display_name": "x"}, widgets={"state": {}}
        ),
    ),
    _tree("no cell ids", lambda tree: [cell.pop("id") for cell in tree["cells"]] and None),
    _tree(
        "an older edition",
        lambda tree: tree["metadata"]["coldbench"].update(edition="older"),
        "another edition",
    ),
]

AS_FILES = [
    _file("byte-order mark", lambda text: b"\xef\xbb\xbf" + text.encode()),
    _file("UTF-16", lambda text: text.encode("utf-16")),
    _file("UTF-16 without its mark", lambda text: text.encode("utf-16-le")),
    _file("Latin letters", lambda text: text.replace("Because.", "Größe.").replace("\\u00b0", "°").encode("latin-1", "replace"), says="in an old way"),
    _file("renamed", str.encode, "My homework (final) (2).ipynb"),
    _file("an ending more", str.encode, "homework-05.ipynb.txt"),
    _file("an ending that hides", str.encode, "homework-05.json"),
    _file("no ending", str.encode, "homework"),
    _file("capitals", str.encode, "HOMEWORK-05.IPYNB"),
    _file("deep in folders", str.encode, "a/b/c/homework-05.ipynb"),
    _file("a zip", lambda text: zipped(**{NAME: text}), "work.zip"),
    _file("a zip in a zip", lambda text: zipped(**{"inner.zip": zipped(**{"a|b.ipynb": text})}), "work.zip"),
    _file("a zip with its checkpoints", lambda text: zipped(**{NAME: text, f".ipynb_checkpoints|{NAME}": "{}", f"__MACOSX|._{NAME}": "x"}), "work.zip"),
    _file("a zip of backslashes", lambda text: zipped(**{"bundle\\homework-05\\homework-05.ipynb": text}), "work.zip"),
    _file("two copies alike", str.encode, "copy.ipynb"),
]  # fmt: skip


def _twice(bench: Bench, student: str) -> None:
    bench.put(student, bench.filled(student), "homework-05.ipynb")
    bench.put(student, bench.filled(student), "homework-05 (1).ipynb")


def _older_beside(bench: Bench, student: str) -> None:
    old = bench.put(student, bench.filled(student, q1="answer('05.1', ...)"), "homework-05.ipynb")
    os.utime(old, (1.7e9, 1.7e9))
    bench.put(student, bench.filled(student), "homework-05 (1).ipynb")


def _case_of_folder(bench: Bench, student: str) -> None:
    path = bench.put(student.upper(), bench.filled(student))
    os.utime(path, (1.7e9, 1.7e9))


def _loose(bench: Bench, student: str) -> None:
    (bench.hand_ins / f"{student}_homework-05.ipynb").write_text(json.dumps(bench.filled(student)))


def _loose_by_number(bench: Bench, student: str) -> None:
    (bench.hand_ins / "Unnamed7.ipynb").write_text(json.dumps(bench.filled(student)))


PLACED = [
    Case("handed in twice alike", "costs nothing", _twice, RIGHT, "", attack=False),
    Case(
        "an older version beside it", "the newest counts", _older_beside, RIGHT, "came in, too", attack=False
    ),
    Case("a folder in capitals", "costs nothing", _case_of_folder, RIGHT, "", attack=False),
    Case("a loose file with the number in its name", "costs nothing", _loose, RIGHT, "", attack=False),
    Case(
        "a loose file with the number typed in it", "costs nothing", _loose_by_number, RIGHT, "", attack=False
    ),
]

CASES = IN_CELLS + IN_NOTEBOOKS + AS_FILES + PLACED
