"""Fan in a duct: where the curves cross, with the fan laws, and with a way that narrows."""

import numpy as np
import pytest
from coldbench.errors import OutOfRange
from coldbench.parts import fan_laws
from coldbench.parts.coil import frosted_flow
from coldbench.parts.fan_flow import PATH_SHARE, flow_against_resistance, narrowed_flow
from hypothesis import given
from hypothesis import strategies as st

flows = st.floats(0.001, 0.1)
pressures = st.floats(1.0, 100.0)
resistances = st.floats(0.0, 1e6)


@given(flows, pressures, resistances)
def test_the_flow_lies_on_both_curves(free, blocked, resistance):
    """What the fan gives at this flow is what the way takes at it.

    Source: crossing of fan curve and system curve, ASHRAE Handbook, HVAC Systems and Equipment, fans.
    """
    flow = flow_against_resistance(free, blocked, resistance)
    assert blocked * (1 - (flow / free) ** 2) == pytest.approx(resistance * flow**2, abs=1e-9 * blocked)


@given(flows, pressures, resistances, st.floats(0.1, 2.0))
def test_in_one_duct_flow_follows_speed(free, blocked, resistance, speed):
    """The fan laws hold for the crossing: free flow by speed and pressure by its square move it by speed.

    Source: fan affinity laws, ASHRAE Handbook, HVAC Systems and Equipment, fans.
    """
    faster = flow_against_resistance(
        fan_laws.flow_at_speed(free, 1.0, speed), fan_laws.pressure_at_speed(blocked, 1.0, speed), resistance
    )
    assert faster == pytest.approx(speed * flow_against_resistance(free, blocked, resistance))


@given(flows, pressures, st.floats(1.0, 1e5), st.floats(0.0, 1e5), st.floats(0.0, 50.0))
def test_narrowing_is_the_same_crossing(free, blocked, piece, rest, narrowing):
    """One piece of the way grown by a factor gives the flow of the way with that piece grown."""
    before = flow_against_resistance(free, blocked, piece + rest)
    after = flow_against_resistance(free, blocked, piece * narrowing + rest)
    share = piece / (piece + rest + blocked / free**2)
    assert narrowed_flow(share, narrowing) == pytest.approx(after / before, rel=1e-9)


def test_a_coils_fan_blows_half_as_much_again_without_the_duct():
    """Where the way takes 60 % of what resists, a fan held free gives 1.6 times the flow (share assumed)."""
    assert narrowed_flow(PATH_SHARE, 0.0) == pytest.approx(1.58, abs=0.005)


def test_an_iced_coil_is_a_narrowed_way():
    """A coil half full of frost resists eight times as much: its fan gives what such a way lets through."""
    half_full = 220.0 * 0.0029 / 2
    assert frosted_flow(half_full, 0.0029) == pytest.approx(narrowed_flow(0.21, 8.0))


def test_arrays_and_floats_agree():
    """An array goes through the same equations as each of its floats, and a float gives a float."""
    resistance = np.array([0.0, 1e4, 1e6])
    one_by_one = [flow_against_resistance(0.03, 27.0, float(one)) for one in resistance]
    assert all(type(one) is float for one in one_by_one)
    assert flow_against_resistance(0.03, 27.0, resistance).tolist() == one_by_one
    assert narrowed_flow(np.array([0.21, 0.3]), 8.0).tolist() == [
        narrowed_flow(0.21, 8.0),
        narrowed_flow(0.3, 8.0),
    ]


@pytest.mark.parametrize(
    ("function", "arguments", "words"),
    [
        (flow_against_resistance, (-1.0, 27.0, 1e4), "free flow"),
        (flow_against_resistance, (0.03, 0.0, 1e4), "blocked pressure"),
        (flow_against_resistance, (0.03, 27.0, -1.0), "path resistance"),
        (narrowed_flow, (20.0, 8.0), "20 % is 0.2"),
        (narrowed_flow, (0.2, -8.0), "1 is as it was"),
        (narrowed_flow, (1.0, 0.0), "resists its own flow"),
    ],
)
def test_out_of_range_is_refused_in_a_sentence(function, arguments, words):
    with pytest.raises(OutOfRange, match=words):
        function(*arguments)
