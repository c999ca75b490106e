"""Small notebooks for the tests of grading: what a student hands in, honest or not."""

from __future__ import annotations

import json

START = """
import json, os
def _tell(line): open(os.environ["COLDBENCH_ANSWERS"], "a").write(json.dumps(line) + "\\n")
def answer(question, value): _tell({"question": question, "answer": None if value is ... else value})
def student(number): _tell({"student": number})
"""


def notebook(*sources: str, own: dict | None = None, **more) -> bytes:
    """A notebook of code cells; ``own`` is what our release writes into its metadata."""
    cells = [
        {
            "cell_type": "code",
            "id": f"cell-{n}",
            "source": s,
            "outputs": [],
            "metadata": {},
            "execution_count": None,
        }
        for n, s in enumerate(sources)
    ]
    metadata = {"coldbench": own} if own else {}
    return json.dumps(
        {"nbformat": 4, "nbformat_minor": 5, "metadata": metadata, "cells": cells, **more}
    ).encode()


def homework(number: str, student: str, answers: dict, edition: str = "e1") -> bytes:
    """A filled-in homework as our release makes them: one cell a question, with fixed ids."""
    sources = ["from coldbench.homework import student, answer", f"student({student!r})"]
    ids = ["start", "student"]
    for question, value in answers.items():
        sources.append(f"answer({question!r}, {'...' if value is None else repr(value)})")
        ids.append("question-" + question.replace(".", "-"))
    tree = json.loads(notebook(*sources, own={"homework": number, "edition": edition}))
    for cell, name in zip(tree["cells"], ids, strict=True):
        cell["id"] = name
    return json.dumps(tree).encode()
