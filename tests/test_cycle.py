"""The cycle at one instant: energy, the suction-line exchanger, many at once, refusals."""

import numpy
import pytest
from coldbench.cycle import carnot_coefficient, textbook_cycle
from coldbench.errors import CannotRead, OutOfRange
from hypothesis import given
from hypothesis import strategies as st


@given(
    st.sampled_from(["R-600a", "R-134a", "R-290"]), st.floats(238.0, 270.0), st.floats(295.0, 325.0),
    st.floats(0.0, 20.0), st.floats(0.0, 15.0), st.floats(0.7, 1.0), st.floats(0.0, 0.6),
)  # fmt: skip
def test_energy_closes_round_the_circuit(
    name, evaporating, condensing, superheat, subcooling, efficiency, exchange
):
    """What comes in goes out; what the exchanger gives it takes; no circuit does better than Carnot's."""
    found = textbook_cycle(name, evaporating, condensing, 0.001, superheat, subcooling, efficiency, exchange)
    points = found.points
    assert found.capacity + found.power == pytest.approx(found.heat_rejected + found.shell_heat)
    assert found.coefficient_of_performance < carnot_coefficient(evaporating, condensing)
    assert points["compressor_inlet"].enthalpy - points["coil_outlet"].enthalpy == pytest.approx(
        points["condenser_outlet"].enthalpy - points["capillary_inlet"].enthalpy
    )
    assert found.cooling_effect * 0.001 == pytest.approx(found.capacity)


def test_exchange_moves_heat_from_liquid_to_vapour():
    """The suction-line exchanger warms the suction, and the discharge with it, and cools the liquid."""
    plain, with_exchange = (textbook_cycle("R-600a", 248.15, 315.15, exchange=part) for part in (0.0, 0.8))
    warmer = {
        place: with_exchange.points[place].temperature - plain.points[place].temperature
        for place in plain.points
    }
    assert warmer["compressor_inlet"] > 50 and warmer["compressor_outlet"] > 30
    assert warmer["capillary_inlet"] < -30
    assert with_exchange.cooling_effect > plain.cooling_effect
    assert with_exchange.points["coil_inlet"].quality < plain.points["coil_inlet"].quality


def test_textbook_cycle_of_many_at_once_is_that_of_each():
    """The same numbers for an array and for its elements."""
    cold = numpy.array([240.0, 250.0, 260.0])
    many = textbook_cycle("R-600a", cold, 315.0, superheat=5.0, subcooling=4.0, efficiency=0.7, exchange=0.4)
    for place, one in enumerate(cold):
        single = textbook_cycle("R-600a", float(one), 315.0, 1.0, 5.0, 4.0, 0.7, 0.4)
        assert many.coefficient_of_performance[place] == pytest.approx(single.coefficient_of_performance)
        for name, state in single.points.items():
            assert numpy.broadcast_to(many.points[name].temperature, 3)[place] == pytest.approx(
                state.temperature
            )


@pytest.mark.parametrize(
    ("numbers", "words"),
    [
        ({"evaporating_temperature": -10.0}, "evaporating temperature"),
        ({"condensing_temperature": 400.0}, "condensing temperature"),
        ({"condensing_temperature": 240.0}, "warmer than the coil"),
        ({"mass_flow": -1.0}, "mass flow"),
        ({"superheat": 61.0}, "superheat"),
        ({"subcooling": -1.0}, "subcooling"),
        ({"efficiency": 0.1}, "efficiency"),
        ({"exchange": 1.1}, "exchange"),
        ({"efficiency": 0.3, "condensing_temperature": 340.0}, "more than 140 °C"),
    ],
)
def test_textbook_cycle_refuses(numbers, words):
    with pytest.raises(OutOfRange, match=words):
        textbook_cycle(
            "R-134a", **({"evaporating_temperature": 248.0, "condensing_temperature": 318.0} | numbers)
        )


def test_carnot_refuses_a_condenser_colder_than_the_coil():
    with pytest.raises(OutOfRange, match="warmer than the coil"):
        carnot_coefficient(300.0, 290.0)
    with pytest.raises(OutOfRange, match="evaporating temperature"):
        carnot_coefficient(-10.0, 290.0)


def test_unknown_refrigerant_is_refused():
    with pytest.raises(CannotRead):
        textbook_cycle("R-22", 248.0, 318.0)
