"""The form's own Autograde button would run hand-ins unguarded: in our class folders it refuses instead.

Inside: `RunsElsewhere`, which the class folder's configuration puts in place of nbgrader's steps.
"""

from __future__ import annotations

from nbgrader.preprocessors import NbGraderPreprocessor

SENTENCE = (
    "Nothing was run. Hand-ins of this course are run apart from everything else by “coldbench mark”; this "
    "button would run them unguarded. Run “coldbench mark” again: it also restores the page of this hand-in."
)


class RunsElsewhere(NbGraderPreprocessor):
    """A step that stops nbgrader's own autograding with a sentence.

    Source
    ------
    Arrangement of this project.
    """

    def preprocess(self, nb, resources):
        """Refuse.

        Parameters
        ----------
        nb : NotebookNode
            The hand-in, not looked at
        resources : dict
            Not looked at

        Raises
        ------
        RuntimeError
            Always, with a sentence on what to do instead.

        Source
        ------
        Arrangement of this project.
        """
        raise RuntimeError(SENTENCE)
