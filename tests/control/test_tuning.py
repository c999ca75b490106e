"""Tuning rules: the loop really swings at its ultimate gain; what is refused."""

import math

import pytest
from coldbench.control.tuning import simc, ultimate_point
from coldbench.errors import OutOfRange
from hypothesis import given
from hypothesis import strategies as st


@given(st.floats(0.1, 10.0), st.floats(1.0, 1000.0), st.floats(1.0, 1000.0))
def test_the_loop_turns_half_round_with_gain_one(gain, lag, dead):
    """At the ultimate point the open loop has magnitude one and a phase of half a turn."""
    ultimate, period = ultimate_point(gain, lag, dead)
    turning = 2 * math.pi / period
    assert ultimate * gain / math.hypot(1, turning * lag) == pytest.approx(1)
    assert math.atan(turning * lag) + turning * dead == pytest.approx(math.pi)


def test_a_slower_wish_gives_a_smaller_gain():
    assert simc(1.0, 10.0, 2.0, 8.0)[0] < simc(1.0, 10.0, 2.0, 2.0)[0]


@pytest.mark.parametrize("rule", [ultimate_point, lambda *process: simc(*process, 2.0)])
def test_no_dead_time_is_refused(rule):
    with pytest.raises(OutOfRange, match="never swings"):
        rule(1.0, 10.0, 0.0)
