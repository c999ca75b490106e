"""The instructor's evening from end to end, on a small invented course: nothing stops it, nothing is lost."""

import csv
import json
import os
import shutil
from datetime import UTC, datetime

import coldbench.grading.box as box
import needs
import pytest
from coldbench.errors import CannotStart
from coldbench.grading import class_marking, evening, fits
from coldbench.grading.box import Limits
from coldbench.grading.form import DATABASE
from grading.notebooks import homework
from grading.small_course import ROSTER, fill_in, hand_in, make_class, make_course, numbers, right
from nbgrader.api import Gradebook

CELL = "question-05-4"


@pytest.fixture(scope="module")
def course(tmp_path_factory):
    """The project's folder of a small course."""
    return make_course(tmp_path_factory.mktemp("course"))


@pytest.fixture
def folders(tmp_path):
    """A folder of hand-ins and a class folder with its roster."""
    (tmp_path / "in").mkdir()
    return tmp_path / "in", make_class(tmp_path / "class")


@pytest.fixture
def _read_only(monkeypatch):
    """Where a test is not about the box, answers are read as typed: quicker, and the same marks."""
    monkeypatch.setattr(box, "_not_executed", lambda *_: "not run")
    monkeypatch.setattr(box, "find_places", lambda: [])


def run(folders, course):
    """Mark; give the exit code and what was said."""
    said = []
    return evening.mark(*folders, course, said.append), "\n".join(said)


def marks(folders):
    """The table of marks: (student, question) to its row."""
    with (folders[1] / "marks.csv").open(encoding="utf-8") as file:
        return {(row["student"], row["question"]): row for row in csv.DictReader(file)}


def grade(folders, student="s07", cell=CELL):
    """One cell's entry in the gradebook, as plain values."""
    with Gradebook(f"sqlite:///{folders[1] / DATABASE}") as book:
        found = book.find_grade(cell, "homework-05", "homework-05", student)
        words = book.find_comment(cell, "homework-05", "homework-05", student)
        return (
            found.auto_score,
            found.manual_score,
            found.needs_manual_grade,
            words.auto_comment,
            words.manual_comment,
        )


def give(folders, points, words=None, student="s07", cell=CELL):
    """Give points by hand, as the form does."""
    with Gradebook(f"sqlite:///{folders[1] / DATABASE}") as book:
        found = book.find_grade(cell, "homework-05", "homework-05", student)
        found.manual_score, found.needs_manual_grade = points, False
        book.find_comment(cell, "homework-05", "homework-05", student).manual_comment = words
        book.db.commit()


def tree(folder):
    """Every file's bytes and time of change."""
    return {
        path: (path.read_bytes(), path.stat().st_mtime_ns) for path in folder.rglob("*") if path.is_file()
    }


def test_a_whole_evening(folders, course):
    """Right answers, a wrong idea carried on, nothing from one: marks, pages, gradebook, exit code."""
    needs.bubblewrap()
    start = numbers(course, "s08")
    wrong = {"05.1": f"{start + 10:g} degF", "05.2": f"{start:g} degF", "05.3": "B", "05.4": ""}
    hand_in(folders[0], "s07/homework-05.ipynb", fill_in(course, "s07", right(course, "s07")))
    hand_in(folders[0], "s08/homework-05.ipynb", fill_in(course, "s08", wrong))
    originals = tree(folders[0])
    code, said = run(folders, course)
    assert code == 1
    assert "2 hand-ins marked, 1 trouble." in said
    assert "nothing could be marked from Ann Instance (s09)" in said
    rows = marks(folders)
    assert [rows["s07", f"05.{n}"]["outcome"] for n in (1, 2, 3, 4)] == ["right", "right", "right", "by_hand"]
    assert [rows["s08", f"05.{n}"]["outcome"] for n in (1, 2, 3, 4)] == [
        "wrong_idea",
        "follow_through",
        "wrong",
        "not_answered",
    ]
    assert (rows["s08", "05.1"]["wrong_idea"], rows["s08", "05.1"]["points"]) == ("up_for_down", "0.5")
    assert grade(folders)[:3] == (None, None, True)
    assert grade(folders, cell="question-05-1")[:3] == (2.0, None, False)
    assert grade(folders, "s08")[:3] == (0.0, None, False)
    for student in ("s07", "s08"):
        assert (folders[1] / "feedback" / student / "homework-05" / "homework-05.html").is_file()
    assert "Mia Example" in (folders[1] / "report" / "class-report.html").read_text()
    assert "Mia" not in (folders[1] / "report" / "class-report-without-names.html").read_text()
    assert tree(folders[0]) == originals


def cell_of(content, name, source):
    """The notebook with another source in one cell, or without that cell."""
    notebook = json.loads(content)
    if source is None:
        notebook["cells"] = [cell for cell in notebook["cells"] if cell["id"] != name]
    for cell in notebook["cells"]:
        if cell["id"] == name:
            cell["source"] = source
    return json.dumps(notebook).encode()


def test_no_bad_hand_in_stops_the_class(folders, course, monkeypatch):
    """Each trouble is a sentence; everything that can be marked is marked."""
    needs.bubblewrap()
    monkeypatch.setattr(
        class_marking, "run_in_box", lambda *files: box.run_in_box(*files, Limits(cell_seconds=3))
    )
    roster = folders[1] / "roster.csv"
    extra = [f"s{n},Student {n}" for n in range(20, 32)]
    roster.write_text("\n".join([roster.read_text(), *extra]), encoding="utf-8")

    def filled(student):
        return fill_in(course, student, right(course, student))

    two, four = "question-05-2", "question-05-4"
    bad = {
        "s20": (cell_of(filled("s20"), two, 'answer("05.2",'), "question 05.2 is not written as Python"),
        "s21": (cell_of(filled("s21"), "opening", "x"), None),
        "s22": (cell_of(filled("s22"), two, None), "The cell of question 05.2 is missing"),
        "s23": (filled("s23")[:-100], "damaged"),
        "s24": (b" " * 20_000_001, "20 MB"),
        "s25": (fill_in(course, "s25", {}), None),
        "s26": (fill_in(course, "s99", right(course, "s26")), "says student “s99” (not in the roster)"),
        "s27": (cell_of(filled("s27"), "student-number", "1 / 0"), "No student number is typed"),
        "s28": (cell_of(filled("s28"), four, "while True: pass"), "question 05.4 ran longer than 3 s"),
        "s29": (homework("01", "s29", {"01.1": 3}), "homework 01, which this course does not have"),
        "s30": (filled("s30").replace(b'"edition": "', b'"edition": "older'), "another edition"),
    }
    for student, (content, _) in bad.items():
        hand_in(folders[0], f"{student}/homework-05.ipynb", content)
    hand_in(folders[0], "s07/my own name for it.ipynb", filled("s07"))
    code, said = run(folders, course)
    assert code == 1
    for student, (_, words) in bad.items():
        assert words is None or any(words in line and student in line for line in said.splitlines()), (
            words,
            said,
        )
    rows = marks(folders)
    unread = {"s23", "s24", "s29"}
    assert {student for student, _ in rows} == {"s07", *bad} - unread
    assert [rows["s20", f"05.{n}"]["outcome"] for n in (1, 2, 3)] == ["right", "not_answered", "right"]
    assert [rows["s25", f"05.{n}"]["outcome"] for n in (1, 2, 3, 4)] == ["not_answered"] * 4
    assert [rows["s27", f"05.{n}"]["outcome"] for n in (1, 2, 3)] == ["right"] * 3
    assert [rows["s28", f"05.{n}"]["outcome"] for n in (1, 2, 3)] == ["right"] * 3
    (absent,) = (line for line in said.splitlines() if "nothing could be marked from" in line)
    named = [student for student in sorted({*ROSTER, *bad, "s31"}) if f"({student})" in absent]
    assert named == ["s08", "s09", *sorted(unread), "s31"]


@pytest.mark.usefixtures("_read_only")
def test_a_second_run_changes_nothing(folders, course):
    """The same files, untouched, the same words; only the lock is taken again."""
    hand_in(folders[0], "s07/homework-05.ipynb", fill_in(course, "s07", right(course, "s07")))
    hand_in(folders[0], "s08/homework-05.ipynb", b"{")
    first = run(folders, course)
    before = tree(folders[1])
    assert run(folders, course) == first
    assert tree(folders[1]) == before


@pytest.mark.usefixtures("_read_only")
def test_points_given_by_hand_stay_until_the_sentence_changes(folders, course):
    """Marking again leaves the cell finished; a changed sentence opens it again and says so."""
    work = hand_in(folders[0], "s07/homework-05.ipynb", fill_in(course, "s07", right(course, "s07")))
    run(folders, course)
    give(folders, 2.5, "Nearly all of it.")
    before = marks(folders)["s07", "05.4"]["points"]
    assert evening.report(folders[1], course, lambda line: None) == 1
    assert (before, marks(folders)["s07", "05.4"]["points"]) == ("0", "2.5")
    page = (folders[1] / "feedback" / "s07" / "homework-05" / "homework-05.html").read_text()
    assert "Nearly all of it." in page
    _, said = run(folders, course)
    assert grade(folders)[1:3] == (2.5, False)
    assert "to read and mark by hand" not in said
    work.write_bytes(fill_in(course, "s07", right(course, "s07", sentence="Because of the drop.")))
    os.utime(work, (2_000_000_000, 2_000_000_000))
    _, said = run(folders, course)
    assert grade(folders)[1:3] == (2.5, True)
    assert "The answer to question 05.4 changed after its points were given by hand" in said
    assert "1 sentence to read and mark by hand" in said
    told, again = said.splitlines(), run(folders, course)[1].splitlines()
    assert [line for line in told if line not in again] == [
        "1 mark changed:",
        "  - 05.4, 2.5 of 3 (by hand) → 0 of 3 (by hand): Mia Example (s07). "
        "Why: the answer changed; its points are to be given anew.",
    ]
    give(folders, 3.0)
    run(folders, course)
    assert grade(folders)[1:3] == (3.0, False)
    assert marks(folders)["s07", "05.4"]["points"] == "3"


@pytest.mark.usefixtures("_read_only")
def test_points_changed_by_hand_on_any_question_stay(folders, course):
    """The instructor's word counts over the marking's."""
    hand_in(
        folders[0], "s07/homework-05.ipynb", fill_in(course, "s07", {**right(course, "s07"), "05.3": "B"})
    )
    run(folders, course)
    give(folders, 1.0, cell="question-05-3")
    run(folders, course)
    assert grade(folders, cell="question-05-3")[:3] == (0.0, 1.0, False)
    assert marks(folders)["s07", "05.3"]["points"] == "1"


@pytest.mark.usefixtures("_read_only")
def test_late_is_told_by_the_due_time(folders, course):
    """After the due time late, before it not; without a due time nobody is late."""
    due = datetime(2027, 3, 1, 18, tzinfo=UTC)
    for student, after in (("s07", -60), ("s08", 60)):
        work = hand_in(
            folders[0], f"{student}/homework-05.ipynb", fill_in(course, student, right(course, student))
        )
        os.utime(work, (due.timestamp() + after,) * 2)
    run(folders, course)
    assert {row["late"] for row in marks(folders).values()} == {"no"}
    (folders[1] / "due.csv").write_text(f"homework,due\n05,{due.isoformat()}\n")
    run(folders, course)
    assert {student: row["late"] for (student, _), row in marks(folders).items()} == {
        "s07": "no",
        "s08": "yes",
    }


@pytest.mark.usefixtures("_read_only")
def test_a_changed_roster_name_and_an_unlisted_student(folders, course):
    """A hand-in stays with its number; a student who left the roster is left out, the work is kept."""
    hand_in(folders[0], "s07/homework-05.ipynb", fill_in(course, "s07", right(course, "s07")))
    run(folders, course)
    (folders[1] / "roster.csv").write_text("student,name\ns08,Jörg Sample\n")
    _, said = run(folders, course)
    assert "0 hand-ins marked" in said
    assert (folders[1] / "hand-ins" / "s07" / "homework-05" / "homework-05.ipynb").is_file()


@pytest.mark.usefixtures("_read_only")
def test_answers_with_another_students_numbers_are_noticed(folders, course, monkeypatch):
    """More answers right with somebody else's numbers: named for the instructor, not called a trouble."""
    monkeypatch.setattr(fits, "FITS_BETTER", 2)
    hand_in(folders[0], "s07/homework-05.ipynb", fill_in(course, "s07", right(course, "s08")))
    _, said = run(folders, course)
    record = json.loads((folders[1] / "marks" / "s07" / "05.json").read_text())
    assert record["fits_student"] == "s08"
    assert "s08" not in said.replace("Jörg Sample (s08)", "")


@pytest.mark.usefixtures("_read_only")
def test_a_hand_in_that_breaks_the_marking_is_told(folders, course, monkeypatch):
    """An answer on which the marking fails is set aside; a record that fails stops itself only."""
    for student in ROSTER:
        hand_in(
            folders[0],
            f"{student}/homework-05.ipynb",
            fill_in(course, student, right(course, student, student)),
        )
    honest = class_marking.mark_homework

    def fragile(declaration, sheet, ideas, student, answers):
        if answers.get("05.4") == "s07":
            raise ZeroDivisionError
        return honest(declaration, sheet, ideas, student, answers)

    def unwritable(path, record):
        if record["student"] == "s08":
            raise OSError("disk full")
        return writing(path, record)

    writing = class_marking.write_record
    monkeypatch.setattr(class_marking, "mark_homework", fragile)
    monkeypatch.setattr(class_marking, "write_record", unwritable)
    _, said = run(folders, course)
    assert "The answer to question 05.4 broke the marking" in said
    assert "Homework 05 of s08 could not be marked (OSError: disk full)" in said
    assert {student for student, _ in marks(folders)} == {"s07", "s09"}
    monkeypatch.undo()


@pytest.mark.usefixtures("_read_only")
def test_what_did_not_come_today_stays_marked(folders, course):
    """A second folder adds to the class; the first one's marks and troubles stay."""
    hand_in(folders[0], "s07/homework-05.ipynb", fill_in(course, "s99", right(course, "s07")))
    run(folders, course)
    shutil.rmtree(folders[0])
    hand_in(folders[0], "s08/homework-05.ipynb", fill_in(course, "s08", right(course, "s08")))
    _, said = run(folders, course)
    assert {student for student, _ in marks(folders)} == {"s07", "s08"}
    assert "says student “s99”" in said


@pytest.mark.usefixtures("_read_only")
def test_what_the_form_shows_is_ours(folders, course):
    """Question, answer as text, nothing else of the hand-in: no markdown, output or metadata of it."""
    content = json.loads(
        fill_in(course, "s07", right(course, "s07", sentence='<script>x</script> """ ' + "word " * 40))
    )
    content["cells"][0]["source"] = "<img src=x onerror=alert(1)>"
    content["metadata"]["evil"] = "canary-55"
    hand_in(folders[0], "s07/homework-05.ipynb", json.dumps(content).encode())
    run(folders, course)
    shown = json.loads((folders[1] / "autograded" / "s07" / "homework-05" / "homework-05.ipynb").read_text())
    text = json.dumps(shown)
    assert "canary" not in text
    assert "onerror" not in text
    (cell,) = (cell for cell in shown["cells"] if cell["id"] == CELL)
    assert cell["cell_type"] == "code"
    assert "".join(cell["source"]).startswith("# Why?\n# Full points for: A reason.\nanswer(")
    compile("".join(cell["source"]), "cell", "exec")


@pytest.mark.usefixtures("_read_only")
def test_comments_cannot_hold_markup(folders, course):
    """Whatever a student typed, the gradebook's comments have no angle brackets."""
    hand_in(
        folders[0],
        "s07/homework-05.ipynb",
        fill_in(course, "s07", {**right(course, "s07"), "05.1": "<b>3</b>"}),
    )
    run(folders, course)
    assert "<" not in grade(folders, cell="question-05-1")[3]


@pytest.mark.usefixtures("_read_only")
def test_a_roster_among_the_hand_ins_is_taken(tmp_path, course):
    """A class folder that does not exist yet is made, with the roster that came along."""
    make_class(tmp_path / "in")
    hand_in(tmp_path / "in", "s07/homework-05.ipynb", fill_in(course, "s07", right(course, "s07")))
    _, said = run((tmp_path / "in", tmp_path / "new" / "class"), course)
    assert "The roster was copied" in said
    assert "1 hand-in marked" in said


def test_what_cannot_start_says_so(folders, course, tmp_path):
    """No hand-ins, no roster, no homework, the class folder itself, a marking under way."""
    with pytest.raises(CannotStart, match=r"There is no .*none"):
        evening.mark(tmp_path / "none", folders[1], course)
    with pytest.raises(CannotStart, match="is the class folder itself"):
        evening.mark(folders[1], folders[1], course)
    with pytest.raises(CannotStart, match=r"There is no .*roster\.csv"):
        evening.mark(folders[0], tmp_path / "other", course)
    with pytest.raises(CannotStart, match="There is no homework"):
        evening.mark(*folders, tmp_path)
    with pytest.raises(CannotStart, match="Nothing was marked"):
        evening.report(folders[1], course)
    with evening.alone(folders[1]), pytest.raises(CannotStart, match="being marked just now"):
        evening.mark(*folders, course)


MAKER = """
in_this_process = print


def make_hand_ins(exercises, target, execute):
    assert execute is in_this_process
    count = len(list(target.parent.glob("made-*")))
    (target / "s07").mkdir(parents=True)
    released = exercises / "homework-05" / "homework-05.ipynb"
    (target / "s07" / "homework-05.ipynb").write_bytes(released.read_bytes())
    (target / "roster.csv").write_text("student,name\\ns07,Mia Example\\n")
    (target.parent / f"made-{count}").touch()
"""


@pytest.mark.usefixtures("_read_only")
def test_the_invented_class(tmp_path, course):
    """Made once, marked each time, made anew when its maker changed; another folder is not touched."""
    source = tmp_path / "course"
    shutil.copytree(course, source)
    with pytest.raises(CannotStart, match=r"invented_class\.py"):
        evening.invented_class(tmp_path / "class", source)
    maker = source / "solutions" / "invented_class.py"
    maker.write_text(MAKER)
    said = []
    for _ in range(2):
        assert evening.invented_class(tmp_path / "class", source, said.append) == 1
    assert sum("Inventing" in line for line in said) == 1
    maker.write_text(MAKER + "\n")
    evening.invented_class(tmp_path / "class", source, said.append)
    assert sum("Inventing" in line for line in said) == 2
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "thesis.txt").touch()
    with pytest.raises(CannotStart, match="holds something else"):
        evening.invented_class(tmp_path / "mine", source)
