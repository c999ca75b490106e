"""Which time counts for lateness: what a hand-in says of itself cannot make it earlier."""

import io
import os
import zipfile
from datetime import UTC, datetime, timedelta

import pytest
from coldbench.grading.arrival import later_time, taken_time
from coldbench.grading.intake import hand_in_path, take_in
from grading.notebooks import homework
from grading.small_class import SmallClass, read_only
from grading.small_course import make_course

ROSTER = {"s07": "Mia Example", "s08": "Jörg Sample"}
CAME = datetime(2027, 3, 2, 12, tzinfo=UTC)
BEFORE = CAME - timedelta(days=2)
STAMP = f"{BEFORE:%Y-%m-%d %H:%M:%S} UTC".encode()
OTHER_ZONE = f"{BEFORE - timedelta(hours=5):%Y-%m-%d %H:%M:%S}-05:00".encode()


def work(student="s07", value="13 psig"):
    return homework("05", student, {"05.1": value})


def zipped(files, time=BEFORE):
    """A zip file whose entries all say that they are of this time (a zip file's dates are local)."""
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as archive:
        for name, content in files.items():
            archive.writestr(zipfile.ZipInfo(name, time.astimezone().timetuple()[:6]), content)
    return packed.getvalue()


def put(folder, name, content, time=CAME):
    path = folder / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(content)
    os.utime(path, (time.timestamp(),) * 2)


@pytest.mark.parametrize(
    ("files", "time", "later"),
    [
        ({"s07/homework-05.ipynb": work()}, CAME, None),
        ({"s07/homework-05.ipynb": work(), "s07/timestamp.txt": STAMP}, CAME, None),
        ({"s07/homework-05/homework-05.ipynb": work(), "s07/homework-05/timestamp.txt": STAMP}, BEFORE, CAME),
        (
            {"s07/homework-05/homework-05.ipynb": work(), "s07/homework-05/timestamp.txt": OTHER_ZONE},
            BEFORE,
            CAME,
        ),
        ({"s07/homework-05/homework-05.ipynb": work(), "s07/homework-05/timestamp.txt": b"?"}, CAME, None),
        ({"s07.zip": zipped({"homework-05.ipynb": work()})}, CAME, None),
        ({"s07/it.zip": zipped({"s08/homework-05.ipynb": work(), "s07/timestamp.txt": STAMP})}, CAME, None),
        ({"it.zip": zipped({"homework-05.ipynb": work()})}, CAME, None),
        ({"all.zip": zipped({"s07/homework-05.ipynb": work(), "s08/x.ipynb": work("s08")})}, BEFORE, CAME),
        (
            {
                "all.zip": zipped(
                    {
                        "s07.zip": zipped({"homework-05.ipynb": work()}, BEFORE - timedelta(days=9)),
                        "s08.zip": zipped({"homework-05.ipynb": work("s08")}),
                    }
                )
            },
            BEFORE,
            CAME,
        ),
        ({"all.zip": zipped({"s07/a.ipynb": work(), "s08/b.ipynb": b"{"}, datetime(1980, 1, 1))}, CAME, None),
    ],
    ids=[
        *("file", "stamp among a student's files", "nbgrader's collecting", "another zone", "no time"),
        "student's zip",
        *("student's zip with a stamp", "nameless zip", "class's zip", "zip in a class's zip", "no date"),
    ],
)
def test_the_time_that_counts(tmp_path, files, time, later):
    """What the collector says; a student's own dates count for nothing; what is only a claim is kept so."""
    for name, content in files.items():
        put(tmp_path / "in", name, content)
    take_in(tmp_path / "in", tmp_path / "class", ROSTER, {"05"})
    path = hand_in_path(tmp_path / "class", "s07", "05")
    assert (taken_time(path), later_time(path)) == (time, later)


def test_the_newest_version_in_a_students_zip_is_marked(tmp_path):
    """Its dates do not make it earlier, but they say which of two versions is the newer one."""
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as archive:
        for name, day, value in (("a.ipynb", 3, "new"), ("b.ipynb", 1, "old"), ("c.ipynb", 2, "mid")):
            archive.writestr(zipfile.ZipInfo(name, (2027, 1, day, 0, 0, 0)), work(value=value))
    put(tmp_path / "in", "s07.zip", packed.getvalue())
    for _ in range(2):
        take_in(tmp_path / "in", tmp_path / "class", ROSTER, {"05"})
        path = hand_in_path(tmp_path / "class", "s07", "05")
        assert (path.read_bytes(), taken_time(path)) == (work(value="new"), CAME)
    assert len(list((tmp_path / "class" / "hand-ins-earlier").rglob("*.ipynb"))) == 2


def test_the_report_says_where_only_the_hand_in_says_so(tmp_path, monkeypatch):
    """In time by the stamp, late by the file: told for that one, and not where either time decides alike."""
    read_only(monkeypatch)
    small = SmallClass(tmp_path, make_course(tmp_path / "course"))
    for student, stamp in (("s07", BEFORE), ("s08", CAME), ("s09", None)):
        path = small.hand_in(student)
        folder = path.parent / "homework-05"
        folder.mkdir()
        path.rename(folder / path.name)
        os.utime(folder / path.name, (CAME.timestamp() + 60,) * 2)
        if stamp:
            (folder / "timestamp.txt").write_text(f"{stamp:%Y-%m-%d %H:%M:%S} UTC", encoding="utf-8")
    (small.folder / "due.csv").write_text(f"homework,due\n05,{CAME - timedelta(hours=1)}\n")
    small.run()
    assert {student: row["late"] for (student, _), row in small.marks().items()} == {
        "s07": "no",
        "s08": "yes",
        "s09": "yes",
    }
    report = (small.folder / "report" / "class-report.html").read_text(encoding="utf-8")
    assert report.partition("Time as the hand-in says</dt><dd>")[2].startswith("Mia Example: in time, or")
