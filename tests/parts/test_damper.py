"""Damper: which part of the air goes up; what is refused."""

import numpy as np
import pytest
from coldbench.errors import OutOfRange
from coldbench.parts.damper import damper_air_share
from hypothesis import given
from hypothesis import strategies as st

shares = st.floats(0.0, 1.0)


@given(shares, shares, shares)
def test_share_lies_between_leak_and_wide_open(share, position, leak):
    """No position gives more than the open duct, or less than the leak."""
    found = damper_air_share(share, position, leak)
    shut, wide = damper_air_share(share, 0.0, leak), damper_air_share(share, 1.0, leak)
    assert shut - 1e-12 <= found <= wide + 1e-12 <= share + 1e-12
    assert shut == pytest.approx(leak * wide)


def test_without_the_fan_nothing_goes_up():
    """A standing fan sends nothing through an open damper; one at a fifth of its speed nine tenths."""
    found = damper_air_share(0.15, 1.0, 0.05, np.array([0.0, 0.2, 1.0]))
    assert found[0] == 0.0 and found[1] == pytest.approx(0.15 * 0.2 / 0.22)
    assert found[2] == damper_air_share(0.15, 1.0, 0.05)


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ((15.0, 1.0, 0.05), "15 % is 0.15"),
        ((0.15, 2.0, 0.05), "Half open is 0.5"),
        ((0.15, 1.0, 5.0), "5 % is 0.05"),
        ((0.15, 1.0, 0.05, 40.0), "Full speed is 1"),
    ],
)
def test_out_of_range_is_refused_in_a_sentence(arguments, words):
    with pytest.raises(OutOfRange, match=words):
        damper_air_share(*arguments)
