"""The homeworks of the course as the marking needs them: declaration, sheet, release notebook, wrong ideas.

Inside: `Course`, found in the project's folder, each homework loaded when it is first needed.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from coldbench.errors import CannotStart
from coldbench.homework import declare
from coldbench.homework.sheet import FILE_NAME, load

if TYPE_CHECKING:
    from coldbench.homework.declare import Homework
    from coldbench.homework.sheet import Sheet


@dataclass(frozen=True)
class HomeworkFiles:
    """One homework, both halves.

    Parameters
    ----------
    declaration : Homework
        Questions with keys and wrong ideas: the instructor's half
    sheet : Sheet
        What students hold
    sheet_bytes, release : bytes
        The sheet as a file, and the release notebook

    Source
    ------
    Arrangement of this project.
    """

    declaration: Homework
    sheet: Sheet
    sheet_bytes: bytes
    release: bytes

    def answers_behind(self, question: str, answers: dict[str, object]) -> dict[str, object]:
        """Give the answer to a question with those that it builds on.

        Parameters: ``question`` its id; ``answers`` all of a student's.
        Returns: question to answer; the same means that the mark depends on the question alone.
        """
        behind, wanted = {}, [question]
        while wanted:
            one = wanted.pop()
            behind[one] = answers.get(one)
            declared = self.declaration.questions.get(one)
            wanted += declared.uses if declared else ()
        return behind


class Course:
    """All homeworks of the course.

    Parameters
    ----------
    source : Path
        The project's folder, with ``solutions`` and ``exercises``

    Raises
    ------
    CannotStart
        There is no homework in it.

    Source
    ------
    Arrangement of this project.
    """

    def __init__(self, source: Path):
        self.source = Path(source).resolve()
        self._loaded: dict[str, HomeworkFiles] = {}
        declared = {path.parent.name for path in (self.source / "solutions").glob("homework-??/questions.py")}
        released = {path.parent.name for path in (self.source / "exercises").glob(f"homework-??/{FILE_NAME}")}
        self.numbers = sorted(name.removeprefix("homework-") for name in declared & released)
        if not self.numbers:
            raise CannotStart(
                f"There is no homework in {self.source}: “solutions” and “exercises” are needed side by "
                "side. Give the project's folder with --source."
            )

    def homework(self, number: str) -> HomeworkFiles:
        """Give a homework, loading it once.

        Parameters
        ----------
        number : str
            For example "05"

        Returns
        -------
        HomeworkFiles
            Both halves

        Source
        ------
        Arrangement of this project.
        """
        if number not in self._loaded:
            name = f"homework-{number}"
            exercise = self.source / "exercises" / name
            self._loaded[number] = HomeworkFiles(
                declaration=declare.load(self.source / "solutions" / name),
                sheet=load(exercise),
                sheet_bytes=(exercise / FILE_NAME).read_bytes(),
                release=(exercise / f"{name}.ipynb").read_bytes(),
            )
        return self._loaded[number]

    @cached_property
    def ideas(self) -> dict[str, dict[str, str]]:
        """The catalogue of wrong ideas."""
        return declare.wrong_ideas(self.source / "solutions")
