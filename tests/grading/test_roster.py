"""Roster and due dates: read as people write them, refused where a mark could land with the wrong student."""

from datetime import UTC, datetime

import pytest
from coldbench.errors import CannotStart
from coldbench.grading.roster import read_due, read_roster


def written(tmp_path, text, encoding="utf-8"):
    path = tmp_path / "roster.csv"
    path.write_text(text, encoding=encoding)
    return path


@pytest.mark.parametrize(
    "text",
    [
        "student,name\ns07,Mia Example\ns08,Jörg Sample\n",
        "\ufeffStudent;Name;Shop\r\nS07;Mia  Example;east\r\n\r\nS08;Jörg Sample;west\r\n",
        'name,student number\n"Mia Example",s07\nJörg Sample, s08 \n',
    ],
)
def test_a_roster_is_read(tmp_path, text):
    """Commas or semicolons, a byte-order mark, capital letters, other columns."""
    assert read_roster(written(tmp_path, text)) == {"s07": "Mia Example", "s08": "Jörg Sample"}


def test_without_names_the_number_stands(tmp_path):
    """A roster of numbers is enough."""
    assert read_roster(written(tmp_path, "student\ns07\n")) == {"s07": "s07"}


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "no column “student”"),
        ("who,name\na,b\n", "found: who, name"),
        ("student,name\n", "names no student"),
        ("student,name\ns07,A\ns07,B\n", "line 3: student s07 is there twice"),
        ("student,name\n,A\n", "line 2: .* is not a student number"),
        ("student,name\ns 07,A\n", "line 2: .* is not a student number"),
    ],
)
def test_a_doubtful_roster_is_refused(tmp_path, text, words):
    """The sentence names the line and says what to write."""
    with pytest.raises(CannotStart, match=words):
        read_roster(written(tmp_path, text))


def test_a_missing_or_unreadable_roster_is_refused(tmp_path):
    """With an example of how to write one."""
    with pytest.raises(CannotStart, match="student,name"):
        read_roster(tmp_path / "roster.csv")
    (tmp_path / "roster.csv").write_bytes(b"student,name\ns07,J\xf6rg\n")
    with pytest.raises(CannotStart, match="UTF-8"):
        read_roster(tmp_path / "roster.csv")


def test_due_dates(tmp_path):
    """Times with a zone, and without one in local time; no file, no due dates."""
    assert read_due(tmp_path / "due.csv") == {}
    path = tmp_path / "due.csv"
    path.write_text("homework,due\n05,2027-03-01T18:00+01:00\n1,2027-02-01 18:00\n")
    due = read_due(path)
    assert due["05"] == datetime(2027, 3, 1, 17, tzinfo=UTC)
    assert due["01"] == datetime(2027, 2, 1, 18).astimezone(UTC)
    path.write_text("homework;due\nhomework-05;2027-03-01T18:00+01:00\n")
    assert list(read_due(path)) == ["05"]
    path.write_text("")
    assert read_due(path) == {}


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("homework,due\n05,tomorrow\n", "line 2"),
        ("homework,due\nfifth,2027-03-01\n", "line 2"),
        ("homework,due\n05\n", "line 2"),
        ("05,2027-03-01\n", "no columns “homework” and “due”"),
    ],
)
def test_doubtful_due_dates_are_refused(tmp_path, text, words):
    """Nothing is passed over in silence: neither a line nor a file without its header."""
    with pytest.raises(CannotStart, match=words):
        read_due(written(tmp_path, text))
