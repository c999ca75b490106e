"""What the widgets of a lesson share: their script and style in the browser, and their still copy.

`script` joins the shared helpers with a widget's own part into one module, which needs no network;
`STYLE` is the one style sheet; `with_still` adds a copy in plain HTML for pages without a kernel.
"""

from __future__ import annotations

from pathlib import Path

HERE = Path(__file__).parent
STYLE = HERE / "lesson.css"


def script(name: str) -> str:
    """Give the script of a widget: the shared helpers, then its own part.

    Parameters
    ----------
    name : str
        File name, for example "ask.js"

    Returns
    -------
    str
        A JavaScript module

    Source
    ------
    Arrangement of this project.
    """
    return "".join((HERE / part).read_text(encoding="utf-8") for part in ("shared.js", name))


def with_still(bundle, html: str, plain: str):
    """Add a still copy to what a widget shows, for pages without a kernel and without network.

    Parameters
    ----------
    bundle : dict or tuple
        What the widget shows: a mime bundle, alone or with its metadata
    html : str
        The copy as HTML
    plain : str
        The copy in plain words

    Returns
    -------
    dict or tuple
        The same bundle

    Source
    ------
    Arrangement of this project.
    """
    data = bundle[0] if isinstance(bundle, tuple) else bundle
    data.update({"text/html": html, "text/plain": plain})
    return bundle
