"""nbgrader's own buttons and commands, used in a class folder, take the same way as “coldbench mark”.

Inside: `MarkedOurWay` (autograde: the hand-in is run in the box and marked by us), `OurFeedback`
(generate_feedback: our own page), and `RunsElsewhere`, which stops whatever would still run a hand-in
unguarded. The class folder's configuration puts them in place of nbgrader's own.
"""

from __future__ import annotations

from pathlib import Path

from nbconvert.exporters import HTMLExporter, NotebookExporter
from nbgrader.preprocessors import NbGraderPreprocessor

SENTENCE = (
    "Nothing was run. Hand-ins of this course are run apart from everything else by “coldbench mark”; this "
    "button would run them unguarded. Run “coldbench mark” again: it also restores the page of this hand-in."
)


def _silent(line: str) -> None:
    """Say nothing: nbgrader shows its own lines."""


def _folders(exporter) -> tuple[Path, Path]:
    """The class folder and the project's folder, as the configuration names them."""
    course = exporter.parent.coursedir
    return Path(course.root), Path(course.source_directory).parent


class MarkedOurWay(NotebookExporter):
    """What autograde makes of a hand-in: our own page of it, after it was run in the box and marked by us.

    The file is never opened as a notebook here, so nothing in it can reach nbgrader's steps.
    """

    def from_filename(self, filename: str, resources=None, **more):
        """Mark one hand-in.

        Parameters: ``filename`` the hand-in, or the page that was just made of it; ``resources`` whose it
        is; ``more`` not looked at.
        Returns: the page's text, and ``resources``.
        """
        from coldbench.grading.evening import mark_again

        class_folder, source = _folders(self)
        student, name = resources["nbgrader"]["student"], resources["nbgrader"]["assignment"]
        page = class_folder / "autograded" / student / name / f"{name}.ipynb"
        if not Path(filename).is_relative_to(class_folder / "autograded"):
            mark_again(class_folder, source, student, name.removeprefix("homework-"))
        return page.read_text(encoding="utf-8"), {**resources, "output_extension": ".ipynb", "outputs": {}}


class OurFeedback(HTMLExporter):
    """What generate_feedback gives: the pages that we write ourselves, whatever lies in autograded."""

    def __init__(self, *args, **more):
        super().__init__(*args, **more)
        from coldbench.grading.evening import report

        class_folder, source = _folders(self)
        report(class_folder, source, _silent)
        self._pages = {
            path.relative_to(class_folder / "feedback").parts[:2]: path.read_text(encoding="utf-8")
            for path in class_folder.glob("feedback/*/*/*.html")
        }

    def from_filename(self, filename: str, resources=None, **more):
        """Give one student's page.

        Parameters: ``filename`` not looked at; ``resources`` whose it is; ``more`` not looked at.
        Returns: the page's text, and ``resources``.
        Raises: `RuntimeError` when this hand-in was not marked.
        """
        whose = resources["nbgrader"]["student"], resources["nbgrader"]["assignment"]
        if whose not in self._pages:
            raise RuntimeError(f"{' '.join(whose)} was not marked yet. Run “coldbench mark” first.")
        return self._pages[whose], {**resources, "output_extension": ".html", "outputs": {}}


class RunsElsewhere(NbGraderPreprocessor):
    """A step that stops nbgrader's own autograding with a sentence, should it ever come to that."""

    def preprocess(self, nb, resources):
        """Refuse.

        Parameters: ``nb`` and ``resources`` not looked at.
        Raises: `RuntimeError`, always, with a sentence on what to do instead.
        """
        raise RuntimeError(SENTENCE)
