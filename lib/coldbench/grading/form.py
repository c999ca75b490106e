"""The form in which sentences are marked by hand: what it shows, and where it finds the class.

Inside: `form_notebook` (our own release notebook with questions and answers in it as text; nothing else of
a hand-in reaches the form), `write_configuration` (so that the form, started in the class folder, finds
everything, and its buttons take our way), and the names of cells.
"""

from __future__ import annotations

import json
import textwrap
from collections.abc import Iterator
from pathlib import Path

from coldbench.grading.hand_in_file import is_blank
from coldbench.grading.results import write_if_changed

DATABASE = "gradebook.db"
CONFIGURATION = "nbgrader_config.py"
DOOR = "coldbench.grading.second_door"
NO_KERNEL = "none: hand-ins are run by coldbench mark"
WIDTH = 74
"""Characters that fit on a line of the form [-]; what is longer would have to be scrolled sideways."""


def cell_name(question: str) -> str:
    """Name the cell of a question.

    Parameters
    ----------
    question : str
        For example "05.3"

    Returns
    -------
    str
        For example "question-05-3"

    Source
    ------
    Arrangement of this project.
    """
    return "question-" + question.replace(".", "-")


def question_name(cell: str) -> str:
    """Name the question of a cell: the way back from `cell_name`.

    Parameters
    ----------
    cell : str
        For example "question-05-3"

    Returns
    -------
    str
        For example "05.3"

    Source
    ------
    Arrangement of this project.
    """
    return cell.removeprefix("question-").replace("-", ".")


def graded_cells(release: bytes) -> Iterator[tuple[str, float, str]]:
    """List the graded cells of a release notebook.

    Parameters
    ----------
    release : bytes
        The release notebook

    Yields
    ------
    tuple
        Name, points and source of each

    Source
    ------
    nbgrader's own metadata of cells.
    """
    for cell in json.loads(release)["cells"]:
        ours = cell["metadata"].get("nbgrader", {})
        if ours.get("grade"):
            yield ours["grade_id"], float(ours["points"]), "".join(cell["source"])


def form_notebook(release: bytes, wordings: dict[str, str], answers: dict[str, object]) -> bytes:
    """Make the notebook that the form shows: our release with questions and answers in it, as text.

    Parameters
    ----------
    release : bytes
        The release notebook
    wordings : dict of str to str
        Question to its wording with the student's numbers, and what earns full points
    answers : dict
        Question to plain value

    Returns
    -------
    bytes
        A notebook without outputs; every answer stands in a code cell, where it is shown as text

    Source
    ------
    Arrangement of this project.
    """
    tree = json.loads(release)
    for cell in tree["cells"]:
        ours = cell["metadata"].get("nbgrader", {})
        if ours.get("grade"):
            question = question_name(ours["grade_id"])
            lines = wordings.get(question, "").splitlines()
            head = [f"# {part}" for line in lines for part in textwrap.wrap(line, WIDTH - 2) or [""]]
            cell["source"] = "\n".join([*head, _shown(question, answers.get(question))])
    return (json.dumps(tree, indent=1, ensure_ascii=False) + "\n").encode()


def _shown(question: str, answer: object) -> str:
    """Write an answer as it could have been typed, long text in short lines."""
    if is_blank(answer):
        return f'answer("{question}", ...)'
    if isinstance(answer, str) and len(answer) > 60:
        lines = [part for line in answer.splitlines() for part in textwrap.wrap(line, WIDTH) or [""]]
        body = "\n".join(lines).replace('"""', "'''")
        return f'answer("{question}", """\n{body}\n""")'
    return f'answer("{question}", {json.dumps(answer, ensure_ascii=False)})'


def write_configuration(class_folder: Path, source: Path) -> bool:
    """Write the configuration with which the form finds this class, its homeworks and its gradebook.

    Parameters
    ----------
    class_folder : Path
        The class folder
    source : Path
        The project's folder, with ``solutions`` and ``exercises``

    Returns
    -------
    bool
        Whether anything in it changed

    Source
    ------
    nbgrader's own documentation of its options.
    """
    options = {
        "root": str(class_folder.resolve()),
        "db_url": f"sqlite:///{(class_folder / DATABASE).resolve()}",
        "source_directory": str((source / "solutions").resolve()),
        "release_directory": str((source / "exercises").resolve()),
        "submitted_directory": "hand-ins",
        "autograded_directory": "autograded",
        "feedback_directory": "feedback",
        "ignore": [".ipynb_checkpoints", "__pycache__", "*.pyc", "*.py", "*.csv"],
    }
    lines = ["# Written by coldbench, and written again by every marking.", "c = get_config()"]
    lines += [f"c.CourseDirectory.{name} = {value!r}" for name, value in options.items()]
    steps = ("sanitize_preprocessors", "autograde_preprocessors")
    lines += [f"c.Autograde.{name} = ['{DOOR}.RunsElsewhere']" for name in steps]
    lines += [f"c.Autograde.exporter_class = '{DOOR}.MarkedOurWay'"]
    lines += [f"c.GenerateFeedback.exporter_class = '{DOOR}.OurFeedback'"]
    lines += [f"c.Execute.kernel_name = {NO_KERNEL!r}"]
    return write_if_changed(class_folder / CONFIGURATION, ("\n".join(lines) + "\n").encode())
