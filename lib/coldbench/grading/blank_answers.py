"""Blanking worked answers: how a source notebook becomes what students get.

`blank` does it for our own release; `BlankAnswers` is the same step for nbgrader's own
``generate_assignment``, so that its button gives the same notebook.
"""

from __future__ import annotations

import copy

from nbgrader.preprocessors import NbGraderPreprocessor


def blank(source):
    """Put the blank text of each cell in place of its worked answer.

    Parameters: ``source`` the source notebook; it stays as it is.
    Returns: a copy without worked answers, outputs and counts.
    """
    released = copy.deepcopy(source)
    for cell in released.cells:
        if cell.cell_type == "code":
            cell.outputs, cell.execution_count = [], None
        own = cell.metadata.pop("coldbench", None)
        if own is not None:
            cell.source = own["blank"]
    return released


class BlankAnswers(NbGraderPreprocessor):
    """`blank` as a step of nbgrader's ``generate_assignment``, in place of its own clearing of solutions."""

    def preprocess(self, nb, resources):
        """Blank a notebook.

        Parameters: ``nb`` the source notebook; ``resources`` handed on unchanged.
        Returns: the released notebook and ``resources``.
        """
        return blank(nb), resources
