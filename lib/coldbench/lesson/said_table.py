"""A small table for a notebook, with a plain-text copy: `SaidTable`."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape


class SaidTable:
    """Rows of words under a heading; a notebook shows it as a table.

    Parameters: ``heading`` the columns' names; ``rows`` their words.
    """

    def __init__(self, heading: Sequence[str], rows: Sequence[Sequence[str]]):
        self.heading, self.rows = tuple(heading), [tuple(row) for row in rows]

    def __repr__(self) -> str:
        return "\n".join(" | ".join(row) for row in [self.heading, *self.rows])

    def _repr_html_(self) -> str:
        head = "".join(f'<th scope="col" {_LEFT}>{escape(text)}</th>' for text in self.heading)
        body = "".join(
            "<tr>"
            + "".join(f"<td {_SHORT}>{escape(text)}</td>" for text in short)
            + f"<td {_LEFT}>{escape(last)}</td></tr>"
            for *short, last in self.rows
        )
        return f'<table style="max-width:52em"><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>'


_LEFT = 'style="text-align:left;vertical-align:top"'
_SHORT = 'style="text-align:left;vertical-align:top;white-space:nowrap"'
