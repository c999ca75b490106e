"""Charts: two axes with lines, markers, rules and bands.

No two lines differ by colour alone: each style has its own dash and marker shape too, and each line
and marker carries its label. `Axis` says what is drawn along one edge; `Chart` draws and gives a
`Picture`.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from coldbench.lesson.picture import STYLES, Picture, colour, sketch, words

MARGIN_LEFT, MARGIN_RIGHT, MARGIN_TOP, MARGIN_BOTTOM = 66, 24, 18, 50
GRID = 'stroke="currentColor" stroke-width="0.6" opacity="0.25"'


@dataclass(frozen=True)
class Axis:
    """One axis: its ends, its label with the unit, and the marks on it.

    Parameters
    ----------
    low, high : float
        Ends of the axis [in the unit of the label]
    label : str
        What it shows, with the unit
    marks : sequence of (float, str)
        Where a mark stands [in the unit of the label] and what is written there

    Source
    ------
    Arrangement of this project.
    """

    low: float
    high: float
    label: str
    marks: Sequence[tuple[float, str]]

    def share(self, value: float) -> float:
        """Say how far along the axis a value lies, kept between its two ends.

        Parameters
        ----------
        value : float
            The value [in the unit of the label]

        Returns
        -------
        float
            0 at the low end, 1 at the high end [-]

        Source
        ------
        A straight line between the two ends.
        """
        return min(1.0, max(0.0, (value - self.low) / (self.high - self.low)))


class Chart:
    """A picture with two axes on which lines, markers, rules and bands are drawn.

    Parameters
    ----------
    title : str
        The picture's name
    across, up : Axis
        The two axes
    width, height : int
        Size of the drawing's own coordinates [-]

    Source
    ------
    Arrangement of this project.
    """

    def __init__(self, title: str, across: Axis, up: Axis, width: int = 640, height: int = 400):
        self.title, self.across, self.up, self.width, self.height = title, across, up, width, height
        self._parts: list[str] = []
        self._frame()

    def x(self, value: float) -> float:
        """Turn a value into the drawing's coordinate from the left.

        Parameters
        ----------
        value : float
            Value on the axis across [its unit]

        Returns
        -------
        float
            Coordinate [-]

        Source
        ------
        A straight line between the axis's ends.
        """
        return MARGIN_LEFT + self.across.share(value) * (self.width - MARGIN_LEFT - MARGIN_RIGHT)

    def y(self, value: float) -> float:
        """Turn a value into the drawing's coordinate from the top.

        Parameters
        ----------
        value : float
            Value on the axis up [its unit]

        Returns
        -------
        float
            Coordinate [-]

        Source
        ------
        A straight line between the axis's ends.
        """
        return self.height - MARGIN_BOTTOM - self.up.share(value) * (self.height - MARGIN_TOP - MARGIN_BOTTOM)

    def line(
        self,
        points: Iterable[tuple[float, float]],
        style: int,
        label: str = "",
        label_at: tuple[float, float] | None = None,
    ) -> Chart:
        """Draw a line through points; its label stands at the last point unless told where.

        Parameters
        ----------
        points : iterable of (float, float)
            Across and up [units of the axes]
        style : int
            Colour, dash and marker, from 0 to 3 [-]
        label : str
            Written beside the line
        label_at : (float, float), optional
            Where the label starts [units of the axes]

        Returns
        -------
        Chart
            This chart

        Source
        ------
        Arrangement of this project.
        """
        points = list(points)
        path = " ".join(f"{self.x(across):.1f},{self.y(up):.1f}" for across, up in points)
        self._parts.append(
            f'<polyline points="{path}" fill="none" stroke-width="2.5" '
            f'stroke-dasharray="{STYLES[style][2]}" style="stroke:{colour(style)}"/>'
        )
        if label:
            across, up = label_at or points[-1]
            anchor = "start" if label_at else "end"
            self._parts.append(words(self.x(across), self.y(up) - 6, label, anchor, "bold"))
        return self

    def marker(
        self, across: float, up: float, style: int, label: str = "", anchor: str = "start", lift: float = -8
    ) -> Chart:
        """Put a marker of the style's own shape, with a label beside it.

        Parameters
        ----------
        across, up : float
            Where [units of the axes]
        style : int
            Colour and shape, from 0 to 3 [-]
        label : str
            Written beside the marker
        anchor : str
            "start" writes to the right of it, "end" to the left
        lift : float
            How far below the marker the label stands, in drawing coordinates [-]

        Returns
        -------
        Chart
            This chart

        Source
        ------
        Arrangement of this project.
        """
        x, y = self.x(across), self.y(up)
        shape = {
            "circle": f'<circle cx="{x:.1f}" cy="{y:.1f}" r="7"',
            "square": f'<rect x="{x - 6.5:.1f}" y="{y - 6.5:.1f}" width="13" height="13"',
            "triangle": f'<polygon points="{x:.1f},{y - 8:.1f} {x - 8:.1f},{y + 6:.1f} '
            f'{x + 8:.1f},{y + 6:.1f}"',
            "diamond": f'<polygon points="{x:.1f},{y - 9:.1f} {x + 9:.1f},{y:.1f} {x:.1f},{y + 9:.1f} '
            f'{x - 9:.1f},{y:.1f}"',
        }[STYLES[style][3]]
        self._parts.append(f'{shape} stroke="currentColor" stroke-width="1.5" style="fill:{colour(style)}"/>')
        if label:
            aside = 12 if anchor == "start" else -12
            self._parts.append(words(x + aside, y + lift, label, anchor, "bold"))
        return self

    def rule(self, across: float | None = None, up: float | None = None, label: str = "") -> Chart:
        """Draw a thin dotted rule from edge to edge, at one place across or one place up.

        Parameters
        ----------
        across : float, optional
            Where an upright rule stands [unit of the axis across]
        up : float, optional
            Where a level rule lies [unit of the axis up]
        label : str
            Written at the rule's end

        Returns
        -------
        Chart
            This chart

        Source
        ------
        Arrangement of this project.
        """
        left, right, top, bottom = self._edges()
        if up is not None:
            y = self.y(up)
            ends, place = (left, y, right, y), words(right - 6, y + 16, label, "end")
        else:
            x = self.x(across)
            ends, place = (x, top, x, bottom), words(x + 6, top + 14, label, "start")
        x1, y1, x2, y2 = ends
        self._parts.append(
            f'<line x1="{x1:.1f}" y1="{y1:.1f}" x2="{x2:.1f}" y2="{y2:.1f}" '
            'stroke="currentColor" stroke-width="1.2" stroke-dasharray="2 3"/>'
        )
        if label:
            self._parts.append(place)
        return self

    def band(self, low: float, high: float, label: str) -> Chart:
        """Shade a level band, with its name at the right edge.

        Parameters
        ----------
        low, high : float
            Ends of the band [unit of the axis up]
        label : str
            The band's name

        Returns
        -------
        Chart
            This chart

        Source
        ------
        Arrangement of this project.
        """
        left, right, _, _ = self._edges()
        self._parts.append(
            f'<rect x="{left}" y="{self.y(high):.1f}" width="{right - left}" '
            f'height="{self.y(low) - self.y(high):.1f}" opacity="0.1"/>'
            + words(right - 6, self.y(low) - 8, label, "end", more='font-style="italic"')
        )
        return self

    def picture(self, twin: str) -> Picture:
        """Finish: the SVG, described by its twin in words.

        Parameters
        ----------
        twin : str
            What the picture shows, with the numbers

        Returns
        -------
        Picture
            The picture and its twin

        Source
        ------
        Arrangement of this project.
        """
        return Picture(sketch(self.title, twin, self._parts, self.width, self.height), twin)

    def copy(self) -> Chart:
        """Give a chart with the same things on it, so that a fixed background is drawn only once.

        Returns
        -------
        Chart
            The copy

        Source
        ------
        Arrangement of this project.
        """
        twin = object.__new__(Chart)
        twin.__dict__.update(self.__dict__, _parts=list(self._parts))
        return twin

    def _edges(self) -> tuple[float, float, float, float]:
        return MARGIN_LEFT, self.width - MARGIN_RIGHT, MARGIN_TOP, self.height - MARGIN_BOTTOM

    def _frame(self) -> None:
        left, right, top, bottom = self._edges()
        for value, text in self.across.marks:
            x = self.x(value)
            self._parts.append(f'<line x1="{x:.1f}" y1="{top}" x2="{x:.1f}" y2="{bottom}" {GRID}/>')
            self._parts.append(words(x, bottom + 18, text))
        for value, text in self.up.marks:
            y = self.y(value)
            self._parts.append(f'<line x1="{left}" y1="{y:.1f}" x2="{right}" y2="{y:.1f}" {GRID}/>')
            self._parts.append(words(left - 8, y + 5, text, "end"))
        middle = (top + bottom) / 2
        self._parts += [
            f'<path d="M{left},{top}V{bottom}H{right}" fill="none" stroke="currentColor" '
            'stroke-width="1.5"/>',
            words((left + right) / 2, self.height - 10, self.across.label),
            words(16, middle, self.up.label, more=f'transform="rotate(-90 16 {middle})"'),
        ]
