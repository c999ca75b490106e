"""Kept work: what a student typed in a lesson, in a small file beside the notebook.

`KeptWork` reads and writes ``kept-work.json``; `kept_work` gives the one of the current folder. The
file is replaced in one step, so that a power cut leaves the old or the new one, never half of each.
A file that cannot be read is set aside under another name with a sentence; nothing is thrown away.
"""

from __future__ import annotations

import json
import os
from collections.abc import Callable
from pathlib import Path

FILE_NAME = "kept-work.json"
FORMAT = 1


class KeptWork:
    """What was typed in the lessons of one folder; each answer under a key such as "01-a".

    Parameters
    ----------
    folder : path
        The folder in which the notebook lies

    Source
    ------
    Arrangement of this project.
    """

    def __init__(self, folder: str | os.PathLike):
        self.path = Path(folder) / FILE_NAME
        self.trouble = ""
        self._listeners: dict[str, list[Callable[[str], None]]] = {}

    def answer(self, key: str) -> str | None:
        """Give what was typed under a key, or None.

        Parameters
        ----------
        key : str
            Which answer, for example "01-a"

        Returns
        -------
        str or None
            The text as it was typed

        Source
        ------
        Arrangement of this project.
        """
        return self._read().get(key)

    def keep(self, key: str, typed: str) -> None:
        """Keep what was typed; ``trouble`` then says in a sentence what went wrong, or is empty.

        Parameters
        ----------
        key : str
            Which answer, for example "01-a"
        typed : str
            The text as it was typed

        Source
        ------
        Arrangement of this project.
        """
        answers = self._read()
        if not (self.trouble and self.path.exists()):
            self._write({**answers, key: typed})
        for listener in self._listeners.get(key, []):
            listener(typed)

    def listen(self, key: str, listener: Callable[[str], None]) -> None:
        """Call a function each time something is kept under a key.

        Parameters
        ----------
        key : str
            Which answer, for example "01-a"
        listener : callable
            Is given the text as it was typed

        Source
        ------
        Arrangement of this project.
        """
        self._listeners.setdefault(key, []).append(listener)

    def _read(self) -> dict[str, str]:
        self.trouble = ""
        try:
            content = self.path.read_text(encoding="utf-8-sig")
        except FileNotFoundError:
            return {}
        except UnicodeDecodeError:
            return self._set_aside()
        except OSError as error:
            self.trouble = f"The file {FILE_NAME} beside this notebook cannot be opened ({error.strerror})."
            return {}
        try:
            work = json.loads(content)
            answers = work["answers"]
            readable = work["format"] == FORMAT and all(isinstance(text, str) for text in answers.values())
        except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
            readable = False
        return answers if readable else self._set_aside()

    def _set_aside(self) -> dict[str, str]:
        number = 1
        while (aside := self.path.with_name(f"kept-work-set-aside-{number}.json")).exists():
            number += 1
        try:
            os.replace(self.path, aside)
            self.trouble = (
                f"The file {FILE_NAME} beside this notebook could not be read. It is set aside as "
                f"{aside.name}, unchanged; new answers go into a new file. Show it to your instructor."
            )
        except OSError as error:
            self.trouble = (
                f"The file {FILE_NAME} beside this notebook can neither be read nor set aside "
                f"({error.strerror}). What you type now is not kept: show this to your instructor."
            )
        return {}

    def _write(self, answers: dict[str, str]) -> None:
        beside = self.path.with_name(f".{FILE_NAME}.{os.getpid()}")
        content = json.dumps({"format": FORMAT, "answers": answers}, ensure_ascii=False, indent=1)
        try:
            with open(beside, "w", encoding="utf-8", newline="\n") as file:
                file.write(content + "\n")
                file.flush()
                os.fsync(file.fileno())
            os.replace(beside, self.path)
        except OSError as error:
            self.trouble = (
                f"Your answer could not be kept ({error.strerror}). You can go on, but it will be gone "
                "when you close this notebook; make room on the disk or ask your instructor."
            )
            beside.unlink(missing_ok=True)


_OPENED: dict[Path, KeptWork] = {}


def kept_work() -> KeptWork:
    """Give the kept work of the current folder, the same object each time.

    Returns
    -------
    KeptWork
        The work kept beside the notebook

    Source
    ------
    Arrangement of this project.
    """
    folder = Path.cwd()
    if folder not in _OPENED:
        _OPENED[folder] = KeptWork(folder)
    return _OPENED[folder]
