"""Many troubles of one hand-in, cut short: one hand-in must not fill the instructor's screen.

Inside: `cut_short` and `cut_short_at`, which let a few of each kind stand and say how many more there were.
"""

from __future__ import annotations

import re

MOST_OF_A_KIND = 3
"""So many troubles of one kind are told of one hand-in."""

TOLD_APART_BY = 50
"""Characters at the beginning of a sentence, without what differs from case to case, that tell its kind."""

DIFFERS = re.compile(r"“[^”]*”|\d+")


def cut_short(troubles: list[str]) -> list[str]:
    """Keep a few troubles of each kind, the last of them with how many more there were.

    Parameters: ``troubles`` sentences about one hand-in.
    Returns: the sentences that are told, each once.
    """
    return cut_short_at([("", trouble) for trouble in troubles])


def cut_short_at(troubles: list[tuple[str, str]]) -> list[str]:
    """Do the same with troubles that lie in different places of one hand-in.

    Parameters: ``troubles`` place and sentence of each.
    Returns: the sentences that are told, each with its place and once.
    """
    by_kind: dict[str, list[str]] = {}
    for place, sentence in dict.fromkeys(troubles):
        kind = DIFFERS.sub("", sentence)[:TOLD_APART_BY]
        by_kind.setdefault(kind, []).append(f"{place}: {sentence}" if place else sentence)
    told = []
    for alike in by_kind.values():
        told += alike[:MOST_OF_A_KIND]
        if len(alike) > MOST_OF_A_KIND:
            told[-1] += f" And {len(alike) - MOST_OF_A_KIND} more of this kind."
    return told
