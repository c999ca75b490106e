"""Pictures carry their name and words; lines differ by more than colour."""

import re
from xml.etree import ElementTree

import pytest
from coldbench.lesson import Axis, Chart, Picture, sketch, words
from coldbench.lesson.browser import STYLE
from coldbench.lesson.picture import STYLES

SVG = "{http://www.w3.org/2000/svg}"


def chart():
    across = Axis(0.0, 100.0, "Temperature (°F)", [(0.0, "0"), (100.0, "100")])
    return Chart("Pressure <and> temperature", across, Axis(0.0, 50.0, "Pressure (psia)", [(0.0, "0")]))


def drawn():
    built = chart()
    for style in range(4):
        built.line([(0, style), (50, 10 + style)], style, f"line {style}").marker(
            50, 10, style, f"point {style}"
        )
    return (
        built.rule(up=14.7, label="air")
        .rule(across=50, label="coil")
        .band(0, 14.7, "vacuum")
        .picture("A & B")
    )


def test_picture_is_well_formed_and_has_name_and_description():
    """role=img, title and desc, escaped."""
    root = ElementTree.fromstring(drawn().svg)  # noqa: S314 (our own text)
    assert root.get("role") == "img"
    assert root.find(f"{SVG}title").text == "Pressure <and> temperature"
    assert root.find(f"{SVG}desc").text == "A & B"


def test_lines_differ_by_dash_and_markers_by_shape():
    """Nothing is told by colour alone."""
    root = ElementTree.fromstring(drawn().svg)  # noqa: S314
    dashes = [line.get("stroke-dasharray") for line in root.iter(f"{SVG}polyline")]
    assert len(set(dashes)) == 4
    assert len({style[3] for style in STYLES}) == 4


def test_coordinates_run_along_the_axes_and_stay_inside():
    """Low end left and bottom, high end right and top; outside is held at the edge."""
    built = chart()
    assert built.x(0) < built.x(100) and built.y(0) > built.y(50)
    assert built.x(50) == pytest.approx((built.x(0) + built.x(100)) / 2)
    assert built.x(500) == built.x(100) and built.y(-5) == built.y(0)


def test_a_copy_does_not_change_the_first():
    """The fixed background is drawn once and reused."""
    first = chart()
    before = first.picture("x").svg
    first.copy().marker(10, 10, 0, "new")
    assert first.picture("x").svg == before


def test_still_copy_holds_picture_and_escaped_twin():
    """For pages without a kernel."""
    assert Picture("<svg></svg>", "3 < 4").still().endswith("<figcaption>3 &lt; 4</figcaption></figure>")


def test_words_and_sketch_escape():
    """Text never becomes markup."""
    assert "&lt;" in words(0, 0, "<") and "&amp;" in sketch("a & b", "c", [])


def luminance(code):
    """Relative luminance by WCAG 2.2, from "#rrggbb"."""
    parts = [int(pair, 16) / 255 for pair in re.findall("..", code[1:])]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one, other):
    """Contrast ratio by WCAG 2.2."""
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_colours_stand_out_on_light_and_dark_pages():
    """Source: WCAG 2.2, 1.4.11: graphics need a contrast of 3 to 1. Pages: white, and a dark #111111."""
    css = STYLE.read_text(encoding="utf-8")
    light, dark = css.split('[data-jp-theme-light="false"]')
    find = re.compile(r"--coldbench-(?:blue|vermilion|green|purple): (#[0-9a-f]{6})")
    assert len(find.findall(light)) == len(find.findall(dark)) == 4
    assert all(contrast(code, "#ffffff") >= 3 for code in find.findall(light))
    assert all(contrast(code, "#111111") >= 3 for code in find.findall(dark))
