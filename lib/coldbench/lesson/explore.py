"""The live picture: sliders on top, the picture under them, its twin in words below.

`explore` shows a drawing function with its controls. The physics runs once, here in Python; the
browser receives SVG text and a sentence. The sliders are the browser's own, with a visible label, the
value with its unit read aloud, and the arrow keys let through. The sentence is announced politely a
moment after the last change, so that a held key does not flood a screen reader.
"""

from __future__ import annotations

from collections.abc import Callable

import anywidget
import traitlets

from coldbench.errors import OutOfRange
from coldbench.lesson.browser import STYLE, script, with_still
from coldbench.lesson.controls import Control
from coldbench.lesson.picture import Picture


class Explorer(anywidget.AnyWidget):
    """A live picture.

    Parameters
    ----------
    draw : callable
        Gives a `Picture` from the controls' values, by name
    controls : tuple of Control
        Sliders and choices
    title : str
        Heading of the group, for a screen reader

    Source
    ------
    Arrangement of this project.
    """

    _esm = script("explore.js")
    _css = STYLE
    title = traitlets.Unicode().tag(sync=True)
    rows = traitlets.List().tag(sync=True)
    positions = traitlets.List(traitlets.Int()).tag(sync=True, echo_update=False)
    svg = traitlets.Unicode().tag(sync=True)
    twin = traitlets.Unicode().tag(sync=True)

    def __init__(self, draw: Callable[..., Picture], controls: tuple[Control, ...], title: str):
        self._draw, self._controls = draw, controls
        rows = [{"label": one.label, "texts": one.texts, "form": one.form} for one in controls]
        super().__init__(title=title, rows=rows, positions=[one.start for one in controls])
        self._redraw()
        self.observe(self._redraw, "positions")

    def move(self, **stops: str) -> Explorer:
        """Move controls as a hand would, each to the stop with this text.

        Parameters
        ----------
        **stops : str
            For a control's name, the text of a stop, for example ``"10 °F"``

        Returns
        -------
        Explorer
            This picture, moved

        Raises
        ------
        ValueError
            A control has no such stop.

        Source
        ------
        Arrangement of this project.
        """
        positions = list(self.positions)
        for number, control in enumerate(self._controls):
            if control.name in stops:
                text = stops[control.name]
                if text not in control.texts:
                    raise ValueError(
                        f"{control.label} has no stop {text!r}; "
                        f"its stops go from {control.texts[0]} to {control.texts[-1]}."
                    )
                positions[number] = control.texts.index(text)
        self.positions = positions
        return self

    def _redraw(self, _change: object = None) -> None:
        values = {one.name: one.values[at] for one, at in zip(self._controls, self.positions, strict=True)}
        try:
            picture = self._draw(**values)
        except OutOfRange as error:
            picture = Picture(self.svg, str(error))
        with self.hold_sync():
            self.svg, self.twin = picture.svg, picture.twin

    def _repr_mimebundle_(self, **kwargs):
        still = Picture(self.svg, self.twin).still()
        return with_still(super()._repr_mimebundle_(**kwargs), still, self.twin)


def explore(draw: Callable[..., Picture], *controls: Control, title: str) -> Explorer:
    """Show a picture that follows its sliders.

    Parameters
    ----------
    draw : callable
        Gives a `Picture` from the controls' values, by name [SI]; an `OutOfRange` from the physics is
        shown as its sentence
    *controls : Control
        Made by `slider` and `choice`
    title : str
        What this is, for a screen reader

    Returns
    -------
    Explorer
        The live picture; as the last line of a cell it is shown

    Source
    ------
    Arrangement of this project.
    """
    return Explorer(draw, controls, title)
