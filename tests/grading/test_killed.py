"""A marking that is killed is completed by the next; two at once do not meet; a dead worker loses nothing."""

import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from threading import Event

import pytest
from coldbench.grading import class_marking
from grading.small_class import SmallClass, as_in_table, explained, read_only
from grading.small_course import make_course
from studies.kill_study import study


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no SIGKILL.")
def test_killed_three_times():
    """Nothing lost or doubled, the gradebook whole, points by hand stay (the study does it 50 times)."""
    found = study(3, seed=8)
    assert found.kills == 3
    assert found.faults == []


@pytest.fixture(scope="module")
def course(tmp_path_factory):
    return make_course(tmp_path_factory.mktemp("course"))


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no such lock.")
def test_a_second_marking_at_the_same_time_says_so(tmp_path, course):
    """Another process holds the class folder: exit code 2 and a sentence; afterwards it can be marked."""
    small = SmallClass(tmp_path, course)
    small.hand_in("s07")
    for inner in ("course", "lib"):
        (course / inner).mkdir(exist_ok=True)
    (course / "lib" / "start.py").touch()
    hold = (
        "import sys; from pathlib import Path; from coldbench.grading import evening\n"
        "with evening.alone(Path(sys.argv[1])):\n"
        "    print('held', flush=True); sys.stdin.read()"
    )
    command = [sys.executable, "-m", "coldbench.command", "mark", str(small.hand_ins)]
    command += ["--class-folder", str(small.folder), "--source", str(course)]
    holder = [sys.executable, "-c", hold, str(small.folder)]
    with subprocess.Popen(holder, stdin=subprocess.PIPE, stdout=subprocess.PIPE) as first:
        assert first.stdout.readline() == b"held\n"
        second = subprocess.run(command, capture_output=True, text=True)
        first.stdin.close()
    assert (second.returncode, second.stdout) == (2, "")
    assert "is being marked just now. Wait until that is done." in second.stderr
    assert subprocess.run(command, capture_output=True).returncode == 1
    assert explained(small.log()) == as_in_table(small)


def test_a_worker_that_dies_loses_nothing(tmp_path, course, monkeypatch):
    """Its hand-in is named, the others are marked, and the next run marks it too."""
    read_only(monkeypatch)
    small = SmallClass(tmp_path, course)
    for student in ("s07", "s08", "s09"):
        small.hand_in(student)
    honest = class_marking.answers_of

    def dies(one, *rest):
        if one.student == "s08":
            raise MemoryError("no more")
        return honest(one, *rest)

    monkeypatch.setattr(class_marking, "answers_of", dies)
    small.run()
    assert "Homework 05 of s08 could not be marked (MemoryError: no more)" in small.said
    assert {student for student, _ in small.marks()} == {"s07", "s09"}
    monkeypatch.setattr(class_marking, "answers_of", honest)
    small.run()
    assert {student for student, _ in small.marks()} == {"s07", "s08", "s09"}


def test_after_ctrl_c_no_hand_in_is_begun(tmp_path, course, monkeypatch):
    """Those under way end, the others that were to be next are left for the next run."""
    read_only(monkeypatch)
    small = SmallClass(tmp_path, course)
    students = [f"s{number}" for number in range(100, 100 + class_marking.AHEAD)]
    with (small.folder / "roster.csv").open("a", encoding="utf-8") as roster:
        roster.writelines(f"\n{student},Student {student}" for student in students)
    for student in students:
        small.hand_in(student)
    begun, given_up = [], Event()

    def answers_of(one, *_):
        begun.append(one)
        if one.student != students[0]:
            given_up.wait()
        raise KeyboardInterrupt

    class Pool(ThreadPoolExecutor):
        def shutdown(self, wait=True, **how):
            super().shutdown(wait=False, **how)
            given_up.set()
            super().shutdown(wait=wait)

    monkeypatch.setattr(class_marking, "answers_of", answers_of)
    monkeypatch.setattr(class_marking, "ThreadPoolExecutor", Pool)
    with pytest.raises(KeyboardInterrupt):
        small.run()
    assert len(begun) <= class_marking.WORKERS + 1 < class_marking.AHEAD


def test_only_a_few_hand_ins_are_under_way(tmp_path, course, monkeypatch):
    """However many there are, no more answers are held in memory than are soon to be recorded."""
    read_only(monkeypatch)
    small = SmallClass(tmp_path, course)
    students = [f"s{number}" for number in range(100, 130)]
    with (small.folder / "roster.csv").open("a", encoding="utf-8") as roster:
        roster.writelines(f"\n{student},Student {student}" for student in students)
    for student in students:
        small.hand_in(student)
    run, recorded = [], []
    honest, record = class_marking.answers_of, class_marking._record

    def counted(one, *rest):
        run.append(one)
        return honest(one, *rest)

    def kept(one, *rest):
        recorded.append(len(run) - len(recorded))
        record(one, *rest)

    monkeypatch.setattr(class_marking, "answers_of", counted)
    monkeypatch.setattr(class_marking, "_record", kept)
    small.run()
    assert len(recorded) == len(students)
    assert max(recorded) <= class_marking.AHEAD + class_marking.WORKERS + 1
