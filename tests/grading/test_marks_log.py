"""The log of marks: only ever added to, readable after any crash, no secret of how it is written."""

import json

import pytest
from coldbench.grading import marks_log
from coldbench.grading.marks_log import Log, digests, same_answers
from hypothesis import given
from hypothesis import strategies as some

DROP = {"kind": "change", "number": 1, "what": "drop", "homework": "05", "question": "05.3", "reason": "ö"}


def test_entries_carry_time_who_and_command(tmp_path):
    """What is added is there for the next reader, with when and by what."""
    Log(tmp_path, "change").add([DROP])
    (entry,) = Log(tmp_path).entries
    assert DROP.items() <= entry.items()
    assert (entry["by"], bool(entry["who"]), entry["time"][:2]) == ("change", True, "20")


def test_nothing_to_add_makes_no_file(tmp_path):
    """A log begins with its first entry."""
    Log(tmp_path).add([])
    assert not (tmp_path / "log.jsonl").exists()


def test_nobody_knows_who(tmp_path, monkeypatch):
    """A machine that does not tell who works there still keeps a log."""

    def unknown():
        raise OSError

    monkeypatch.setattr(marks_log.getpass, "getuser", unknown)
    Log(tmp_path).add([DROP])
    assert Log(tmp_path).entries[0]["who"] == "unknown"


@given(cut=some.integers(0, 400), strange=some.binary(max_size=30))
def test_a_cut_line_costs_only_itself(tmp_path_factory, cut, strange):
    """Wherever writing stopped, and whatever lies there: earlier bytes stay, later entries are read."""
    folder = tmp_path_factory.mktemp("log")
    Log(folder).add([DROP, {**DROP, "number": 2}])
    path = folder / "log.jsonl"
    whole = path.read_bytes()
    left = whole[: min(cut, len(whole))] + strange
    path.write_bytes(left)
    Log(folder).add([{**DROP, "number": 3}])
    assert path.read_bytes().startswith(left)
    assert Log(folder).entries[-1]["number"] == 3
    whole_lines = whole[: len(left)].count(b"\n") if left == whole[: len(left)] else 0
    assert len(Log(folder).entries) >= 1 + whole_lines


@pytest.mark.parametrize("line", ["", "null", "[1]", "7", '{"kind": "mark"}', "{"])
def test_lines_that_are_no_entries_are_passed_over(tmp_path, line):
    """Whoever writes into the log by hand does not stop the marking."""
    (tmp_path / "log.jsonl").write_text(f"{line}\n{json.dumps(DROP)}\n", encoding="utf-8")
    assert [entry["number"] for entry in Log(tmp_path).entries] == [1]


def test_an_answers_name_tells_answers_apart():
    """Equal values, equal names; others, others: None is not the word None."""
    values = [None, "None", 1, 1.5, "1", [1], {"a": 1}, {"a": 2}]
    assert len({digests({"05.1": value})["05.1"] for value in values}) == len(values)
    assert digests({"05.1": {"a": 1, "b": 2}}) == digests({"05.1": {"b": 2, "a": 1}})


def test_only_what_both_marks_were_made_from_is_compared():
    """Building on another answer is no change of an answer; another answer behind it is."""
    one, other = digests({"05.2": 1, "05.1": 2}), digests({"05.2": 1, "05.1": 3})
    alone = digests({"05.2": 1})
    assert same_answers(one, alone)
    assert same_answers(alone, other)
    assert not same_answers(one, other)


def test_entries_of_an_older_form_are_passed_over(tmp_path):
    """A mark whose answer has one name for all that it builds on is noted once more, in the new form."""
    old = {"points": 1, "answer": "4f2a"}
    entry = {"kind": "mark", "student": "s07", "homework": "05", "question": "05.1", "held": False}
    entry |= {"old": None, "new": old, "reason": "first marking"}
    lines = [entry, entry | {"new": old | {"answers": "4f2a"}}]
    (tmp_path / "log.jsonl").write_text("\n".join(map(json.dumps, lines)), encoding="utf-8")
    assert Log(tmp_path).marks == {}
