"""Drawings as SVG text, each with its twin in words.

`Picture` is what a lesson shows: the SVG and the sentence that says the same. `sketch` wraps SVG
elements in a picture with a name, `words` writes text that stands clear of lines, `colour` gives one
of four colours that colour-blind readers can tell apart. Text takes the page's own colour, so that
pictures are readable on light and dark pages. Charts with axes: see `coldbench.lesson.chart`.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from html import escape

#: one style a line: variable that a page may set, its colour, dashes, marker shape
STYLES = (
    ("--coldbench-blue", "#0072b2", "none", "circle"),
    ("--coldbench-vermilion", "#d55e00", "10 5", "square"),
    ("--coldbench-green", "#009e73", "3 4", "triangle"),
    ("--coldbench-purple", "#cc79a7", "12 4 3 4", "diamond"),
)


@dataclass(frozen=True)
class Picture:
    """A picture and its twin in words.

    Parameters
    ----------
    svg : str
        The picture, complete with ``role="img"``, title and description
    twin : str
        A sentence or two that say what the picture shows, with the numbers

    Source
    ------
    Arrangement of this project.
    """

    svg: str
    twin: str

    def still(self) -> str:
        """Give picture and twin as HTML that needs neither kernel nor network.

        Returns
        -------
        str
            HTML text

        Source
        ------
        Arrangement of this project.
        """
        return f'<figure style="margin:0">{self.svg}<figcaption>{escape(self.twin)}</figcaption></figure>'


def sketch(title: str, description: str, parts: Iterable[str], width: int = 640, height: int = 400) -> str:
    """Wrap parts of a drawing in an SVG that has a name and a description.

    Parameters
    ----------
    title : str
        The picture's name, read aloud by a screen reader
    description : str
        What it shows, in a sentence
    parts : iterable of str
        SVG elements
    width, height : int
        Size of the drawing's own coordinates [-]

    Returns
    -------
    str
        The SVG as text

    Source
    ------
    SVG Accessibility API Mappings, W3C: ``role="img"`` with title and desc.
    """
    return (
        f'<svg role="img" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" '
        f'style="width:100%;max-width:{width}px;height:auto;display:block" font-family="sans-serif" '
        f'font-size="14" fill="currentColor"><title>{escape(title)}</title>'
        f"<desc>{escape(description)}</desc>{''.join(parts)}</svg>"
    )


def words(
    x: float, y: float, text: str, anchor: str = "middle", weight: str = "normal", more: str = ""
) -> str:
    """Write words into a drawing, with a rim in the page's colour so that they stand clear of lines.

    Parameters
    ----------
    x, y : float
        Where, in the drawing's coordinates [-]
    text : str
        The words
    anchor : str
        "start", "middle" or "end"
    weight : str
        "normal" or "bold"
    more : str
        Further SVG attributes

    Returns
    -------
    str
        An SVG element

    Source
    ------
    Arrangement of this project.
    """
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}" font-weight="{weight}" paint-order="stroke" '
        f'style="stroke:var(--jp-layout-color0,#fff);stroke-width:3px" {more}>{escape(text)}</text>'
    )


def colour(style: int) -> str:
    """Give a style's colour: the page's variable, or the palette's own.

    Parameters
    ----------
    style : int
        Number of the style, from 0 to 3 [-]

    Returns
    -------
    str
        A CSS colour

    Source
    ------
    Okabe and Ito, "Color universal design", 2008.
    """
    variable, plain, _, _ = STYLES[style]
    return f"var({variable},{plain})"
