"""The kept figures: each has a unit, a source and a span in order. Their values: tests/outside."""

import pytest
from coldbench.properties.standards import FIGURES, Figure


@pytest.mark.parametrize("name", FIGURES)
def test_each_figure_is_whole(name):
    """Each figure has an SI unit and a source, and its span runs upward."""
    figure = FIGURES[name]
    assert figure.unit in {"K", "kg", "s", "J", "W"}
    assert len(figure.source) > 10
    assert 0 < figure.lowest <= figure.value <= figure.highest


def test_value_of_a_span_is_its_middle():
    """A span stands for its middle, a single number for itself."""
    assert Figure(5.0, 7.0, "s", "invented").value == 6.0
    assert Figure(5.0, 5.0, "s", "invented").value == 5.0
