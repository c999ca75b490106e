"""The students' bundle: complete, the same bytes each time, and without anything of the instructor's.

Canaries are planted in a copy of the project, in every place that holds what students must not see; the
exercises are generated again from there, the bundle is made, and it is searched, the wheel in it too.
"""

import ast
import csv
import io
import json
import re
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest
from coldbench.errors import CannotStart
from coldbench.grading import hand_out, release
from coldbench.grading.hand_out import build_wheel, make_bundle

ROOT = Path(__file__).resolve().parents[2]
CANARY = "canary-bird"
UNREAD = shutil.ignore_patterns("__pycache__", ".ipynb_checkpoints")
PLANTED_QUESTIONS = "def key(given):\n    return given\n"
PLANTED_IDEAS = "id,sentence\nplanted_wrong_idea,Ice is warmer than steam, said nobody.\n"


def copy_of_project(folder: Path) -> Path:
    """Copy what a bundle could take from, the instructor's half included."""
    for name in ("lib", "course", "exercises", "solutions"):
        if (ROOT / name).is_dir():
            shutil.copytree(ROOT / name, folder / name, ignore=UNREAD)
        (folder / name).mkdir(exist_ok=True)
    for name in ("pyproject.toml", ".gitignore"):
        shutil.copy(ROOT / name, folder)
    return folder


def plant(project: Path) -> None:
    """Put a canary into each place that holds what no student receives."""
    solutions = project / "solutions"
    homeworks = list(solutions.glob("homework-*/questions.py"))
    if not homeworks:
        (solutions / "homework-99").mkdir()
        (solutions / "homework-99" / "questions.py").write_text(PLANTED_QUESTIONS)
    for questions in solutions.glob("homework-*/questions.py"):
        lines = questions.read_text("utf-8").splitlines()
        functions = [
            node for node in ast.walk(ast.parse("\n".join(lines))) if isinstance(node, ast.FunctionDef)
        ]
        for function in sorted(functions, key=lambda node: -node.lineno):
            first = function.body[0]
            lines.insert(first.lineno - 1, " " * first.col_offset + f'"{CANARY}"')
        questions.write_text("\n".join([*lines, f'KEY = "{CANARY}"', ""]), "utf-8")
        (questions.parent / "worked-answers.md").write_text(CANARY)
        (questions.parent / f"{questions.parent.name} {CANARY}.ipynb").write_text(CANARY)
    ideas = solutions / "wrong_ideas.csv"
    rows = list(csv.reader(io.StringIO(ideas.read_text("utf-8") if ideas.exists() else PLANTED_IDEAS)))
    sentence = rows[0].index("sentence")
    rows[1:] = [[*row[:sentence], f"{row[sentence]} {CANARY}", *row[sentence + 1 :]] for row in rows[1:]]
    with ideas.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows(rows)
    (solutions / f"{CANARY}.txt").write_text(CANARY)
    for folder in (project / "course").glob("*/"):
        (folder / "instructor-notes.md").write_text(CANARY)
        (folder / ".ipynb_checkpoints").mkdir()
        (folder / ".ipynb_checkpoints" / "old.ipynb").write_text(CANARY)
    (project / "tests").mkdir()
    (project / "tests" / "test_key.py").write_text(CANARY)
    if homeworks:
        assert release.main([str(project)]) == 0


@pytest.fixture(scope="module")
def project(tmp_path_factory):
    project = copy_of_project(tmp_path_factory.mktemp("clone"))
    plant(project)
    return project


@pytest.fixture(scope="module")
def bundle(project, tmp_path_factory):
    return make_bundle(project, tmp_path_factory.mktemp("out") / "coldbench-students.zip")


@pytest.fixture(scope="module")
def received(bundle):
    """Everything a student could open, path to content, archives inside archives opened too."""
    files = {}

    def look(prefix: str, archive: bytes) -> None:
        with zipfile.ZipFile(io.BytesIO(archive)) as opened:
            for name in opened.namelist():
                content = files[prefix + name] = opened.read(name)
                if zipfile.is_zipfile(io.BytesIO(content)):
                    look(f"{prefix}{name}!", content)

    look("", bundle.read_bytes())
    return files


def holders(files: dict[str, bytes], text: str) -> list[str]:
    return [name for name, content in files.items() if text.encode() in content or text in name]


def test_bundle_is_complete(received):
    """A student gets the start script, the lock, the licence, one wheel, and how to begin."""
    for inner in ("README.txt", "lib/start.py", "lib/LICENSE", "lib/locks/student.txt"):
        assert f"coldbench/{inner}" in received
    wheels = {name.split("!")[0] for name in received if ".whl" in name}
    assert len(wheels) == 1
    assert any(name.endswith("!coldbench/command.py") for name in received)
    for inner in (ROOT / "course").glob("*/*.ipynb"):
        assert f"coldbench/{inner.relative_to(ROOT).as_posix()}" in received


def test_wheel_holds_every_file_of_the_library(received):
    """Data files beside the modules are in the wheel, byte for byte."""
    for path in (ROOT / "lib" / "coldbench").rglob("*"):
        if path.is_file() and "__pycache__" not in path.parts:
            name = path.relative_to(ROOT / "lib").as_posix()
            assert [held for inner, held in received.items() if inner.endswith(f"!{name}")] == [
                path.read_bytes()
            ], name


def test_no_canary_gets_out(received, project):
    """Nothing planted in keys, wrong ideas, worked answers, notes, tests or stray files is in the bundle."""
    planted = [path for path in project.rglob("*") if path.is_file() and CANARY.encode() in path.read_bytes()]
    assert len(planted) >= 6
    assert holders(received, CANARY) == []


def test_search_would_find_a_canary(received):
    """The search looks into the wheel and at names: it finds what is there."""
    assert any(name.endswith("!coldbench/errors.py") for name in holders(received, "class CannotStart"))
    assert "coldbench/lib/locks/student.txt" in holders(received, "student.txt")


def test_no_path_of_the_instructors(received):
    """No folder of the instructor's is in the bundle, under any roof."""
    for name in received:
        assert not {"solutions", "tests", "instructor-notes.md"} & set(re.split(r"[/!]", name)), name


def test_no_wrong_idea_is_named(received, project):
    """Students hold no id of a wrong idea, and no exercise or library file holds its sentence."""
    with (project / "solutions" / "wrong_ideas.csv").open(encoding="utf-8", newline="") as file:
        ideas = list(csv.DictReader(file))
    assert ideas
    for idea in ideas:
        assert holders(received, idea["id"]) == [], idea["id"]
        sentence = idea["sentence"].removesuffix(f" {CANARY}")
        assert [name for name in holders(received, sentence) if "/course/" not in name] == []


def test_no_line_of_a_key_is_held(received, project):
    """No line of the body of a function in solutions is in the bundle (a lesson may share its name)."""
    for questions in (project / "solutions").glob("homework-*/*.py"):
        text = questions.read_text("utf-8")
        functions = [node for node in ast.walk(ast.parse(text)) if isinstance(node, ast.FunctionDef)]
        bodies = [ast.get_source_segment(text, statement) for node in functions for statement in node.body]
        lines = {line.strip() for body in bodies for line in body.splitlines() if len(line.strip()) >= 40}
        assert {line: holders(received, line) for line in lines if holders(received, line)} == {}


def test_no_worked_answer_is_held(received, project):
    """No exercise holds a solution region, and no answer that the source notebook works out."""
    exercises = {name: held for name, held in received.items() if "/exercises/" in name}
    assert holders(exercises, "BEGIN SOLUTION") == []
    for source in (project / "solutions").glob("homework-*/homework-??.ipynb"):
        released = json.loads(exercises[f"coldbench/exercises/{source.parent.name}/{source.name}"])
        shown = {cell["id"]: cell["source"] for cell in released["cells"]}
        worked = [
            cell for cell in json.loads(source.read_text("utf-8"))["cells"] if cell["cell_type"] == "code"
        ]
        assert len(worked) > 1
        for cell in worked:
            assert shown[cell["id"]] != cell["source"], cell["id"]


def test_same_project_same_bytes(project, bundle, tmp_path):
    """A second bundle, made elsewhere, is byte for byte the first."""
    assert make_bundle(project, tmp_path / "new folder" / "again.zip").read_bytes() == bundle.read_bytes()


def test_bundle_starts_without_the_instructors_words(bundle, tmp_path):
    """The unpacked bundle's own start script knows that it is the students'."""
    with zipfile.ZipFile(bundle) as archive:
        archive.extractall(tmp_path / "my bündle")
    start = tmp_path / "my bündle" / "coldbench" / "lib" / "start.py"
    result = subprocess.run([sys.executable, start, "class"], capture_output=True, text=True)
    assert result.returncode == 2
    assert "students' bundle" in result.stderr


def test_without_the_build_backend(project, tmp_path, monkeypatch):
    """Where the library cannot be packed, a sentence says what installs the packer."""
    monkeypatch.setattr(hand_out.importlib.util, "find_spec", lambda name: None)
    with pytest.raises(CannotStart, match="cannot be packed here"):
        build_wheel(project, tmp_path)


def test_a_failing_build_is_told(tmp_path):
    """What the packer said is passed on."""
    with pytest.raises(CannotStart, match="could not be packed"):
        build_wheel(tmp_path, tmp_path)


def test_a_place_that_cannot_be_written(project, tmp_path):
    """A bundle under a file's name has no place."""
    (tmp_path / "file").write_text("")
    with pytest.raises(CannotStart, match="--to"):
        make_bundle(project, tmp_path / "file" / "bundle.zip")
