"""Release: the same bytes on every run, blanks in place of worked answers, nbgrader's own button alike."""

import json
import shutil
from pathlib import Path

import nbformat
import pytest
from coldbench.grading import release
from coldbench.homework import declare

ROOT = Path(__file__).parents[2]
HOMEWORKS = sorted(path.parent for path in (ROOT / "solutions").glob("homework-*/questions.py"))


@pytest.fixture(scope="module", params=HOMEWORKS, ids=lambda folder: folder.name)
def generated(request):
    """What the release would write now, by path."""
    return request.param, release.files_of(request.param)


def test_committed_files_are_what_the_release_writes(generated):
    """Exercises and sources are never edited by hand: a regeneration is byte-identical."""
    _, files = generated
    differing = [str(path) for path, text in files.items() if path.read_bytes() != text.encode("utf-8")]
    assert differing == [], "Run: python -m coldbench.grading.release"


def test_released_notebook_holds_no_worked_answer(generated):
    """Every answer cell of the release holds its blank, none its worked answer; no marker is left."""
    folder, files = generated
    name = f"{folder.name}.ipynb"
    source = nbformat.reads(files[folder / name], as_version=4)
    released = nbformat.reads(files[ROOT / "exercises" / folder.name / name], as_version=4)
    for before, after in zip(source.cells, released.cells, strict=True):
        assert "coldbench" not in after.metadata
        if before.cell_type == "code":
            assert after.source == before.metadata["coldbench"]["blank"] != before.source
            assert after.outputs == []


def test_sheet_holds_only_the_draw_half(generated):
    """The sheet has wording, kinds and draws; no word of keys, tolerances or wrong ideas."""
    folder, files = generated
    text = files[folder / "sheet.json"]
    allowed = {"id", "title", "points", "wording", "read_again", "chain", "kind"}
    assert all(set(question) == allowed for question in json.loads(text)["questions"])
    ideas = declare.wrong_ideas(ROOT / "solutions")
    assert [idea for idea in ideas if idea in text] == []


def test_cells_have_fixed_ids_and_points(generated):
    """Each question has one cell under its fixed id, with its points for nbgrader."""
    folder, files = generated
    released = nbformat.reads(files[ROOT / "exercises" / folder.name / f"{folder.name}.ipynb"], as_version=4)
    graded = {
        cell.id: cell.metadata.nbgrader.points for cell in released.cells if "nbgrader" in cell.metadata
    }
    questions = declare.load(folder).questions.values()
    assert graded == {release.cell_id(question.id): question.points for question in questions}


def test_check_names_what_differs(tmp_path, capsys):
    """A release edited by hand is found and named, and writing mends it."""
    for part in ("solutions", "exercises"):
        shutil.copytree(ROOT / part, tmp_path / part)
    name = HOMEWORKS[0].name
    edited = tmp_path / "exercises" / name / f"{name}.ipynb"
    before = edited.read_bytes()
    edited.write_bytes(before.replace(b"...", b"42", 1))
    assert release.main([str(tmp_path), "--check"]) == 1
    assert f"differs: exercises/{name}/{name}.ipynb" in capsys.readouterr().out
    assert release.main([str(tmp_path)]) == 0
    assert edited.read_bytes() == before
    assert release.main([str(tmp_path), "--check"]) == 0
