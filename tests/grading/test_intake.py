"""Taking hand-ins in: each lands with its student, unchanged; nothing is lost; nothing stops the batch."""

import io
import os
import stat
import zipfile
from datetime import UTC, datetime

import pytest
from coldbench.grading import collect
from coldbench.grading.arrival import taken_time
from coldbench.grading.intake import hand_in_path, other_versions, take_in
from grading.notebooks import homework

ROSTER = {"s07": "Mia Example", "s08": "Jörg Sample", "s09": "s09"}


@pytest.fixture
def folders(tmp_path):
    """A folder of hand-ins and a class folder."""
    (tmp_path / "in").mkdir()
    return tmp_path / "in", tmp_path / "class"


def put(folder, name, content, time=1_800_000_000):
    path = folder / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(content)
    os.utime(path, (time, time))
    return path


def work(student="s07", number="05", value="13 psig"):
    return homework(number, student, {f"{number}.1": value, f"{number}.2": None})


def test_copies_of_a_browser_are_no_student_numbers(folders):
    """Where students are called 1, 2, 3, the “(2)” and “Copy3” of a file name are nobody."""
    put(folders[0], "1/homework-05 (2).ipynb", work("1"))
    put(folders[0], "3/homework-05-Copy1.ipynb", work("3"))
    intake = take_in(*folders, {"1": "1", "2": "2", "3": "3"}, {"05"})
    assert (sorted(intake.taken), intake.troubles) == ([("1", "05"), ("3", "05")], [])


def zipped(**files):
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as archive:
        for name, content in files.items():
            archive.writestr(zipfile.ZipInfo(name.replace("__", "/"), (2027, 1, 2, 3, 4, 6)), content)
    return packed.getvalue()


def run(folders):
    return take_in(*folders, ROSTER, {"01", "05"})


@pytest.mark.parametrize(
    "name",
    [
        "s07/homework-05.ipynb",
        "s07/homework-05/homework-05.ipynb",
        "S07/my work final (2).ipynb",
        "homework-05-s07.ipynb",
        "s07_homework-05.ipynb",
        "homework-05 Mia Example.ipynb",
        "Example, Mia/homework-05.ipynb",
        "homework-05.ipynb",
        "s07/homework-05.ipynb.txt",
        "s07/homework.json",
        "evening class/s07/homework-05.ipynb",
    ],
)
def test_a_notebook_lands_with_its_student(folders, name):
    """By folder, file name, whole name, or the number typed in it; renamed files are fine."""
    original = put(folders[0], name, work())
    before = original.read_bytes(), original.stat().st_mtime_ns
    intake = run(folders)
    assert list(intake.taken) == [("s07", "05")]
    assert (intake.troubles, intake.taken["s07", "05"].troubles) == ([], [])
    copy = hand_in_path(folders[1], "s07", "05")
    assert copy.read_bytes() == work()
    assert taken_time(copy) == datetime.fromtimestamp(1_800_000_000, UTC)
    assert (original.read_bytes(), original.stat().st_mtime_ns) == before


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("s07.zip", zipped(**{"homework-05.ipynb": work()})),
        ("s07/anything.zip", zipped(deep__er__x=b"", **{"sub__homework-05.ipynb": work()})),
        ("class.zip", zipped(**{"s07__homework-05.ipynb": work()})),
        ("class.zip", zipped(**{"s07.zip": zipped(**{"homework-05.ipynb": work()})})),
    ],
)
def test_zip_files_are_looked_into(folders, name, content):
    """A student's zip file, a class's, and one inside another."""
    put(folders[0], name, content)
    intake = run(folders)
    assert (list(intake.taken), intake.troubles) == ([("s07", "05")], [])
    assert hand_in_path(folders[1], "s07", "05").read_bytes() == work()


def test_one_zip_file_stands_for_a_folder(folders):
    """A class's zip file can be given as it came."""
    packed = put(folders[0], "class.zip", zipped(**{"s07__homework-05.ipynb": work()}))
    intake = take_in(packed, folders[1], ROSTER, {"05"})
    assert (list(intake.taken), intake.troubles) == ([("s07", "05")], [])


def linked():
    entry = zipfile.ZipInfo("s07/homework-05.ipynb")
    entry.external_attr = (stat.S_IFLNK | 0o777) << 16
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as archive:
        archive.writestr(entry, "/etc/passwd")
    return packed.getvalue()


def bomb():
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("s07/homework-05.ipynb", b" " * 30_000_000)
    return packed.getvalue()


@pytest.mark.parametrize(
    ("name", "content", "words"),
    [
        ("s07.zip", zipped(**{"..__..__homework-05.ipynb": work()}), "leads out of the folder"),
        ("s07.zip", zipped(**{"__tmp__homework-05.ipynb": work()}), "leads out of the folder"),
        ("s07.zip", zipped(**{"C:__homework-05.ipynb": work()}), "leads out of the folder"),
        ("s07.zip", linked(), "It is a link"),
        ("s07.zip", bomb(), "30 MB"),
        ("s07.zip", zipped(**{f"{n}.ipynb": b"" for n in range(2_001)}), "far more than"),
        ("s07.zip", b"PK\x03\x04 nothing", "damaged"),
        ("s07.zip", zipped(**{"homework-05.ipynb": work()})[:-30], "damaged"),
        (
            "s07.zip",
            zipped(**{"a.zip": zipped(**{"b.zip": zipped(**{"h.ipynb": work()})})}),
            "Unpack it once",
        ),
        ("s07.zip", zipped(**{"notes.txt": b"hello"}), "no notebook in the zip file"),
        ("s07/homework-05.ipynb", work()[:-50], "damaged"),
        ("s07/homework-05.ipynb", b"", "empty"),
        ("s07/homework-05.ipynb", b" " * 20_000_001, "20 MB"),
        ("s07/homework.docx", b"PK", "only homework.docx"),
        ("s07/.keep", b"", "There is nothing in it."),
        (
            "s07/homework-05.ipynb",
            homework("09", "s07", {"09.1": 1}),
            "homework 09, which this course does not have",
        ),
        ("s07/homework-05.ipynb", homework("x", "s07", {}), "It is homework x"),
        ("homework-05.ipynb", work("s99"), "“s99” typed in it is not in the roster"),
        ("homework-05.ipynb", work("...").replace(b"'...'", b"..."), "No student number is typed"),
        ("s07 and s08.ipynb", work("s09"), "point to s07 and s08"),
    ],
)
def test_what_cannot_be_taken_in_is_a_sentence(folders, name, content, words):
    """Nothing is unpacked, followed or lost; the others are taken in; a sentence names the file."""
    put(folders[0], name, content)
    put(folders[0], "s09/homework-05.ipynb", work("s09"))
    intake = run(folders)
    assert list(intake.taken) == [("s09", "05")]
    assert len(intake.troubles) == 1
    assert words in intake.troubles[0], intake.troubles
    assert intake.troubles[0].startswith(name.split("/")[0])
    assert not (folders[0].parent / "homework-05.ipynb").exists()


def test_one_flood_in_a_zip_of_zips_leaves_room_for_the_others(folders):
    """The whole class in one zip file, each student's work a zip file in it: only the flood is refused."""
    packed = {f"{student}.zip": zipped(**{"homework-05.ipynb": work(student)}) for student in ("s07", "s09")}
    packed["s08.zip"] = zipped(**{f"{n}.ipynb": b"" for n in range(1_900)})
    put(folders[0], "all.zip", zipped(**packed))
    intake = run(folders)
    assert sorted(intake.taken) == [("s07", "05"), ("s09", "05")]
    assert len(intake.troubles) == 1
    assert "far more than" in intake.troubles[0]


def test_links_and_odd_files_are_not_followed(folders, tmp_path):
    """A link to somebody else's work, a linked folder, a pipe: refused without hanging."""
    secret = put(tmp_path, "secret/homework-05.ipynb", work())
    (folders[0] / "s07").mkdir()
    (folders[0] / "s07" / "homework-05.ipynb").symlink_to(secret)
    (folders[0] / "s08").symlink_to(secret.parent)
    (folders[0] / "s09").mkdir()
    os.mkfifo(folders[0] / "s09" / "homework-05.ipynb")
    intake = run(folders)
    assert intake.taken == {}
    assert sorted("link" in trouble for trouble in intake.troubles) == [False, True, True]


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("s08", "another student of this class"),
        ("s99", "not in the roster"),
        ("", "No student number is typed"),
    ],
)
def test_the_folder_decides_whose_it_is_and_a_sentence_says_so(folders, typed, words):
    """A wrong or missing number in the notebook: marked for the folder's student, with a trouble."""
    put(folders[0], "s07/homework-05.ipynb", work(typed))
    intake = run(folders)
    assert list(intake.taken) == [("s07", "05")]
    assert words in intake.taken["s07", "05"].troubles[0]


def test_one_name_of_two_students_is_settled_by_the_notebook(folders):
    """A file named after two, the notebook agrees with one of them."""
    put(folders[0], "s08 with s07.ipynb", work("s07"))
    intake = run(folders)
    assert list(intake.taken) == [("s07", "05")]
    assert "the notebook says s07" in intake.taken["s07", "05"].troubles[0]


@pytest.mark.parametrize("name", ["s08/homework-05-s07.ipynb", "s08/s07/homework-05.ipynb", "s08.zip"])
def test_nobody_can_hand_in_for_another(folders, name):
    """Whatever lies in a student's folder or zip file stays that student's, and a sentence says so."""
    content = work("s07")
    put(folders[0], name, zipped(**{"s07__homework-05.ipynb": content}) if name == "s08.zip" else content)
    intake = run(folders)
    assert list(intake.taken) == [("s08", "05")]
    assert "point to s08 and s07; the outermost counts" in intake.taken["s08", "05"].troubles[0]


def test_the_number_of_a_week_is_no_student(tmp_path):
    """Students 1 and 7 of a class whose folders are called "week 1": the inner names count."""
    put(tmp_path / "in", "week 1/7/homework-05.ipynb", work("7"))
    intake = take_in(tmp_path / "in", tmp_path / "class", {"1": "Ann Instance", "7": "Mia Example"}, {"05"})
    assert list(intake.taken) == [("7", "05")]


def test_a_file_that_only_says_whose_it_is_pushes_nobody_out(folders):
    """A newer nameless file with a student's number typed in it: kept, told, not marked."""
    put(folders[0], "s07/homework-05.ipynb", work("s07"))
    os.utime(put(folders[0], "aa.ipynb", work("s07", value="other")), (2e9, 2e9))
    intake = run(folders)
    assert "It says that it is from s07" in intake.troubles[0]
    assert b"other" not in hand_in_path(folders[1], "s07", "05").read_bytes()


def test_an_unknown_folder_gives_way_to_the_notebook(folders):
    """The folder's number is not in the roster, the notebook's is."""
    put(folders[0], "s77/homework-05.ipynb", work("s07"))
    assert "“s77” is not in the roster" in run(folders).taken["s07", "05"].troubles[0]


def test_the_wrong_homework_is_marked_as_what_it_is(folders):
    """Homework 01 under the name of 05: taken as 01, and a sentence asks for 05."""
    put(folders[0], "s07/homework-05.ipynb", work(number="01"))
    intake = run(folders)
    assert list(intake.taken) == [("s07", "01")]
    assert "Ask for homework 05." in intake.taken["s07", "01"].troubles[0]


def test_the_wrong_homework_never_replaces_the_right_one(folders):
    """Homework 01 lies there already: the misnamed one is kept apart."""
    put(folders[0], "s07/homework-01.ipynb", work(number="01", value="right"))
    put(folders[0], "s07/homework-05.ipynb", work(number="01", value="other"), time=1_900_000_000)
    intake = run(folders)
    assert hand_in_path(folders[1], "s07", "01").read_bytes() == work(number="01", value="right")
    assert "has handed in already" in intake.troubles[0]
    assert len(list((folders[1] / "hand-ins-unclear").iterdir())) == 1


def test_a_newer_hand_in_moves_the_earlier_one_aside(folders):
    """Nothing is overwritten; older ones are kept and counted; the order of arrival does not matter."""
    for value, time in (("second", 1_800_000_100), ("first", 1_800_000_000), ("third", 1_800_000_200)):
        put(folders[0], "s07/homework-05.ipynb", work(value=value), time)
        run(folders)
    assert b"third" in hand_in_path(folders[1], "s07", "05").read_bytes()
    kept = sorted((folders[1] / "hand-ins-earlier" / "s07" / "homework-05").glob("*/*.ipynb"))
    assert sorted(path.read_bytes() for path in kept) == sorted([work(value="first"), work(value="second")])
    assert "2 other versions" in other_versions(folders[1], "s07", "05")[0]


def tree(folder):
    return {
        path: (path.read_bytes(), path.stat().st_mtime_ns) for path in folder.rglob("*") if path.is_file()
    }


def test_a_second_run_changes_nothing(folders):
    """The same folder again: the same files, untouched, and the same sentences."""
    put(folders[0], "s07/homework-05.ipynb", work())
    put(folders[0], "s07/homework-05-copy.ipynb", work(value="other"), time=1_900_000_000)
    put(folders[0], "s08/homework-05.ipynb", work("s99"))
    put(folders[0], "nobody.ipynb", work("s99"))
    put(folders[0], "s09/broken.ipynb", b"{")
    first = run(folders)
    before = tree(folders[1])
    second = run(folders)
    assert tree(folders[1]) == before
    assert second == first


def test_a_hand_in_that_became_clear_leaves_the_unclear_folder(folders):
    """Once it lies in a student's folder, its copy among the unclear ones goes."""
    put(folders[0], "homework-05.ipynb", work("s99"))
    run(folders)
    assert len(list((folders[1] / "hand-ins-unclear").iterdir())) == 1
    (folders[0] / "s07").mkdir()
    (folders[0] / "homework-05.ipynb").rename(folders[0] / "s07" / "homework-05.ipynb")
    run(folders)
    assert list((folders[1] / "hand-ins-unclear").iterdir()) == []


def test_a_time_stamp_beside_the_notebook_counts(folders):
    """As the gradebook's own collection writes it; a class folder's own hand-ins can be taken in, too."""
    put(folders[0], "s07/homework-05/homework-05.ipynb", work())
    put(folders[0], "s07/homework-05/timestamp.txt", b"2027-03-01 10:00:00.5 UTC")
    run(folders)
    taken = hand_in_path(folders[1], "s07", "05")
    assert taken_time(taken) == datetime(2027, 3, 1, 10, 0, 0, 500_000, tzinfo=UTC)
    again = take_in(folders[1] / "hand-ins", folders[1], ROSTER, {"05"})
    assert (list(again.taken), again.troubles) == ([("s07", "05")], [])


def test_a_copy_that_fails_stops_one_file_only(folders, monkeypatch):
    """A copy that fails is a sentence."""
    put(folders[0], "s07/homework-05.ipynb", work())

    def unwritable(*_):
        raise OSError(5, "Input/output error")

    monkeypatch.setattr("coldbench.grading.intake.write_came", unwritable)
    assert "It could not be copied (Input/output error)" in run(folders).troubles[0]


def test_the_class_folder_is_not_searched(tmp_path):
    """A class folder inside the folder of hand-ins is left alone."""
    put(tmp_path, "class/hand-ins/s07/homework-05/homework-05.ipynb", work())
    assert list(collect.collect(tmp_path, tmp_path / "class", lambda parts: [])) == []


def test_one_hand_in_cannot_fill_the_screen(folders):
    """300 files in a student's zip file, two kinds of trouble: a few of each are told, and how many more."""
    files = {f"broken-{n}__homework-05.ipynb": b"{" for n in range(200)}
    files |= {f"strange-{n}__homework-99.ipynb": work(number="77", value=f"{n}") for n in range(100)}
    put(folders[0], "s07.zip", zipped(**files))
    put(folders[0], "s08/homework-05.ipynb", b"{")
    troubles = run(folders).troubles
    assert len(troubles) == 7
    assert [one.partition(" And ")[2] for one in troubles if " And " in one] == [
        "197 more of this kind.",
        "97 more of this kind.",
    ]
    assert sum(one.startswith("s08/") for one in troubles) == 1


def test_many_versions_of_one_hand_in_do_neither(folders):
    """Each with another number typed in it: what the hand-in itself is told of is cut short, too."""
    files = {f"{n}__homework-05.ipynb": work(f"s{n}") for n in range(300, 350)}
    put(folders[0], "s07.zip", zipped(**files))
    troubles = run(folders).taken["s07", "05"].troubles
    assert len(troubles) == 3
    assert troubles[-1].endswith("And 47 more of this kind.")


def test_folders_deeper_than_can_be_named_stop_nobody(folders):
    """Forty in one another, 8,000 letters together: one sentence, and the others are taken in."""
    put(folders[0], "s09/homework-05.ipynb", work("s09"))
    (folders[0] / "s07").mkdir()
    here = os.open(folders[0] / "s07", os.O_RDONLY)
    name = "deep" * 50
    for _ in range(40):
        os.mkdir(name, dir_fd=here)
        inner = os.open(name, os.O_RDONLY, dir_fd=here)
        os.close(here)
        here = inner
    os.close(here)
    intake = run(folders)
    assert list(intake.taken) == [("s09", "05")]
    assert len(intake.troubles) == 1
    assert f"s07/{name}/…: Folders lie in folders, too deep" in intake.troubles[0]
