"""Words of strangers inside our sentences: names of files, errors, what was typed.

Inside: `one_line` (nothing in it can steer a terminal or begin a line) and `quoted` (the same, short and
between quotation marks, so that it cannot be taken for words of ours).
"""

from __future__ import annotations

import re

UNFIT = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069\ud800-\udfff\ufffe\uffff]")
"""Characters that neither a page nor a terminal may get: controls, turned writing, halves of characters."""


def one_line(text: str) -> str:
    """Make one line of a text, without characters that steer what shows it.

    Parameters: ``text`` any.
    Returns: the text with blanks for line ends and a sign for each unfit character.
    """
    return UNFIT.sub("�", " ".join(text.split()))


def quoted(text: str, longest: int = 80) -> str:
    """Quote what a stranger wrote.

    Parameters: ``text`` any; ``longest`` how many characters to keep.
    Returns: one line between “ and ”, with no such marks inside.
    """
    line = one_line(text).replace("“", "'").replace("”", "'")
    return f"“{line if len(line) <= longest else line[: longest - 1] + '…'}”"
