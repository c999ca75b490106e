"""Numbers said as in the shop, SI beside them."""

import pytest
from coldbench.lesson.saying import say_absolute, say_difference, say_gauge, say_temperature, signed
from coldbench.units import to_si

# Source: conversions by NIST SP 811, appendix B: −14.9 °F = −26.1 °C, 8.07 psia = 55.6 kPa, 9 °F = 5 K.
SAID = [
    (say_temperature(to_si(-14.9, "degF")), "−14.9 °F (−26.1 °C)"),
    (say_temperature(to_si(20.0, "degF"), 0), "20 °F (−6.7 °C)"),
    (say_absolute(to_si(8.07, "psia")), "8.07 psia (55.6 kPa)"),
    (say_difference(5.0), "9.0 °F (5.0 K)"),
    (say_gauge(to_si(13.5, "inHg vacuum")), "13.5 inHg vacuum"),
    (say_gauge(to_si(6.5, "psig")), "6.5 psig"),
    (say_gauge(to_si(6.5, "psig", 84_307.0), 84_307.0), "6.5 psig"),
]


@pytest.mark.parametrize(("said", "expected"), SAID)
def test_said_as_in_the_shop(said, expected):
    """Number, unit, SI twin."""
    assert said == expected


@pytest.mark.parametrize("hair", [0.0, 1.0, -1.0, -100.0])
def test_a_gauge_near_zero_says_zero_psig(hair):
    """Neither a minus zero nor a vacuum of 0.0."""
    assert say_gauge(101_325.0 + hair) == "0.0 psig"


def test_signed_uses_a_true_minus_and_no_minus_zero():
    """So that a screen reader says minus, and zero is zero."""
    assert [signed(-3.04), signed(-0.04), signed(12345.6, 0)] == ["−3.0", "0.0", "12,346"]
