"""The command: finding the project, its words, exit codes, and sentences in place of tracebacks."""

import argparse
import os
import subprocess
import sys
import types
from pathlib import Path

import pytest
from coldbench import command
from coldbench.command import find_source, main, read_arguments, whole_project
from coldbench.errors import CannotStart

ROOT = Path(__file__).resolve().parents[1]


@pytest.fixture
def project(tmp_path):
    """The least that counts as the whole project."""
    for inner in ("course", "solutions", "lib"):
        (tmp_path / "project" / inner).mkdir(parents=True)
    (tmp_path / "project" / "lib" / "start.py").touch()
    return tmp_path / "project"


@pytest.fixture
def evening(monkeypatch):
    """A stand-in for the marking that notes how it was called and finds one trouble."""
    calls = []

    def note(name):
        return lambda *given: calls.append((name, *given)) or command.DONE_WITH_TROUBLES

    stand_in = types.SimpleNamespace(**{name: note(name) for name in ("mark", "invented_class", "report")})
    monkeypatch.setitem(sys.modules, "coldbench.grading.evening", stand_in)
    monkeypatch.setattr("coldbench.grading.evening", stand_in, raising=False)
    return calls


def test_project_is_found_from_below(project, monkeypatch):
    """Inside the project no --source is needed."""
    (project / "course" / "deep").mkdir()
    monkeypatch.chdir(project / "course" / "deep")
    assert find_source(None) == project
    assert whole_project(None) == project


def test_project_is_found_from_the_packages_place(tmp_path, monkeypatch):
    """Elsewhere the clone that the package runs from is taken."""
    monkeypatch.chdir(tmp_path)
    assert find_source(None) == ROOT


def test_a_wrong_source_is_refused(tmp_path):
    """A folder that is not the project is named in the sentence."""
    with pytest.raises(CannotStart, match=r"--source"):
        find_source(tmp_path)


def test_the_students_bundle_is_not_the_whole_project(project):
    """Marking needs the instructor's half, and says so."""
    (project / "solutions").rmdir()
    assert find_source(project) == project
    with pytest.raises(CannotStart, match="solutions"):
        whole_project(project)


def test_words_reach_the_marking(project, evening):
    """mark, report and class hand on their folders and give back the exit code."""
    source = ["--source", str(project)]
    assert main(["mark", "hand-ins", "--class-folder", "class", *source]) == 1
    assert main(["report", "--class-folder", "class", *source]) == 1
    assert main(["class", "--class-folder", "invented", *source]) == 1
    assert evening == [
        ("mark", Path("hand-ins"), Path("class"), project),
        ("report", Path("class"), project),
        ("invented_class", Path("invented"), project),
    ]


def test_words_reach_the_desk(project, monkeypatch):
    """change, undo, changes and release hand on what was typed, and give back the exit code."""
    calls = []

    class Desk:
        def __init__(self, folder, source):
            calls.append((folder, source))

        def __getattr__(self, name):
            return lambda *given: calls.append((name, *given)) or 1

    monkeypatch.setitem(sys.modules, "coldbench.grading.decide", types.SimpleNamespace(Desk=Desk))
    where = ["--class-folder", "class", "--source", str(project)]
    typed = {
        "change extension s07 05 2027-03-01 --reason ill": ("extend", "s07", "05", "2027-03-01", "ill"),
        "change drop 05.3": ("drop", "05.3", ""),
        "change late 05 10 --at-most 50 --free-days 2": ("late", "05", 10.0, 50.0, 2, ""),
        "change regrade s07 05.3 why --points 1.5": ("regrade", "s07", "05.3", "why", 1.5),
        "undo": ("undo", None),
        "undo 3": ("undo", 3),
        "changes": ("tell_changes",),
        "release": ("release", None),
        "release 05": ("release", "05"),
    }
    for words, called in typed.items():
        word, *more = words.split()
        for order in ([word, *where, *more], [word, *where[2:], *more, *where[:2]]):
            assert main(order) == 1
            assert calls[-2:] == [(Path("class"), project), called]


def test_a_change_without_its_class_is_asked_for_it(project, capsys):
    """A change says which class it is about, before or after what it changes."""
    assert main(["change", "--source", str(project), "drop", "05.3"]) == 2
    assert "--class-folder" in capsys.readouterr().err


def test_sentences_opens_the_form_as_asked(project, monkeypatch):
    """The class, the project and the two choices about the browser are handed on."""
    asked = []
    form = types.SimpleNamespace(open_form=lambda *given, **named: asked.append((given, named)) or 0)
    monkeypatch.setitem(sys.modules, "coldbench.grading.sentences", form)
    words = ["sentences", "--class-folder", "class", "--source", str(project)]
    assert main(words) == 0
    assert main([*words, "--port", "8890", "--no-browser"]) == 0
    assert asked == [
        ((Path("class"), project, None), {"browser": True}),
        ((Path("class"), project, 8890), {"browser": False}),
    ]


def test_hand_out_says_where_the_bundle_lies(project, monkeypatch, tmp_path, capsys):
    """The bundle's place is printed whole."""
    monkeypatch.setattr("coldbench.grading.hand_out.make_bundle", lambda source, target: target)
    monkeypatch.chdir(tmp_path)
    assert main(["hand-out", "--source", str(project)]) == 0
    assert str(tmp_path / "coldbench-students.zip") in capsys.readouterr().out


def test_open_prepares_and_serves(project, monkeypatch, tmp_path):
    """open brings the course to the work folder, then serves it as asked."""
    served = []
    monkeypatch.setattr("coldbench.serving.serve", lambda *given, **named: served.append((given, named)) or 0)
    work = tmp_path / "work"
    words = ["open", "--source", str(project), "--work-folder", str(work), "--port", "8890", "--no-browser"]
    assert main(words) == 0
    assert served == [((work, 8890), {"browser": False})]
    assert work.is_dir()


def test_could_not_start_is_a_sentence(tmp_path, capsys):
    """Trouble before the start: exit code 2, one sentence on stderr, nothing on stdout."""
    assert main(["mark", "hand-ins", "--class-folder", "class", "--source", str(tmp_path)]) == 2
    out, error = capsys.readouterr()
    assert out == ""
    assert error.count("\n") == 1
    assert "--source" in error


def test_ctrl_c_ends_quietly(project, monkeypatch, capsys):
    """Ctrl-C is no traceback."""

    def stop(choice):
        raise KeyboardInterrupt

    monkeypatch.setattr(command, "read_arguments", lambda _: argparse.Namespace(run=stop))
    assert main([]) == 130
    assert "Stopped" in capsys.readouterr().err


@pytest.mark.parametrize("words", [[], ["wash"], ["mark"], ["mark", "hand-ins"], ["open", "--port", "high"]])
def test_mistyped_words_are_exit_code_2(words, capsys):
    """What cannot be understood is answered with the usage."""
    with pytest.raises(SystemExit) as stopped:
        read_arguments(words)
    assert stopped.value.code == 2
    assert "usage: coldbench" in capsys.readouterr().err


def test_help_loads_nothing_heavy():
    """The command itself loads none of the large libraries; each word loads its own."""
    code = (
        "import sys, coldbench.command\n"
        "try: coldbench.command.main(['--help'])\n"
        "except SystemExit: pass\n"
        "print({'numpy', 'matplotlib', 'pint', 'ipywidgets', 'nbgrader', 'nbformat'} & set(sys.modules))"
    )
    result = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, env={**os.environ})
    assert result.stdout.splitlines()[-1] == "set()"


def test_the_work_goes_on_when_nobody_reads_what_it_prints(monkeypatch):
    """A reader that left, as `head` does, ends nothing: neither a long print nor the flush at the end."""
    reading, writing = os.pipe()
    os.close(reading)
    done = []

    def work(_):
        print("x" * 100_000)
        done.append("after the first print")
        print("the last line")
        return command.DONE

    with open(writing, "w", encoding="utf-8") as unread:
        monkeypatch.setattr(sys, "stdout", unread)
        monkeypatch.setattr(command, "read_arguments", lambda _: argparse.Namespace(run=work))
        assert main([]) == command.DONE
    assert done
