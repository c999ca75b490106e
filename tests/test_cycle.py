"""The circuit at one instant: energy, and the direction in which every part pulls."""

import time

import pytest
from coldbench.cycle import cycle, settled_cycle
from coldbench.errors import CannotRead, OutOfRange
from hypothesis import given
from hypothesis import strategies as st


@given(
    st.sampled_from(["R-600a", "R-134a", "R-290"]), st.floats(238.0, 270.0), st.floats(295.0, 325.0),
    st.floats(0.0, 20.0), st.floats(0.0, 15.0), st.floats(0.6, 1.0), st.floats(0.0, 0.8),
)  # fmt: skip
def test_energy_closes_round_the_circuit(
    name, evaporating, condensing, superheat, subcooling, efficiency, exchange
):
    """What comes in goes out; and no circuit does better than a reversed Carnot cycle."""
    found = cycle(
        name, evaporating, condensing, superheat=superheat, subcooling=subcooling, efficiency=efficiency,
        exchange=exchange, shell_share=0.0 if efficiency > 0.9 else 0.3,
    )  # fmt: skip
    shell = found.power * (0.0 if efficiency > 0.9 else 0.3)
    assert found.capacity + found.power == pytest.approx(found.given_off + shell)
    assert found.coefficient_of_performance < evaporating / (condensing - evaporating)
    assert found.suction.enthalpy - found.coil_outlet.enthalpy == pytest.approx(
        found.condenser_outlet.enthalpy - found.coil_inlet.enthalpy
    )


def test_exchange_moves_heat_from_liquid_to_vapour():
    """The suction-line exchanger warms the suction, and the discharge with it."""
    plain, with_exchange = (cycle("R-600a", 248.15, 315.15, exchange=part) for part in (0.0, 0.8))
    assert with_exchange.suction.temperature > plain.suction.temperature + 50
    assert with_exchange.discharge.temperature > plain.discharge.temperature + 30
    assert with_exchange.capacity > plain.capacity


@pytest.fixture(scope="module")
def usual():
    return settled_cycle("R-600a", 255.15, 298.15)


def test_the_parts_agree_where_they_settle(usual):
    """What the conductances carry is what the refrigerant takes up and gives off."""
    evaporating, condensing = (
        usual.coil_inlet.temperature,
        usual.condenser_outlet.temperature + usual.subcooling,
    )
    assert usual.capacity == pytest.approx(14.0 * (255.15 - evaporating), rel=1e-4)
    assert usual.given_off == pytest.approx(8.0 * (condensing - 298.15), rel=1e-4)
    assert usual.capacity + usual.power * 0.6 == pytest.approx(usual.given_off, rel=1e-9)


@pytest.mark.parametrize(
    ("change", "reading", "way"),
    [
        # Source of the directions: common practice, no source
        ({"speed": 25.0}, lambda found: found.capacity, -1),
        ({"speed": 25.0}, lambda found: found.coefficient_of_performance, 1),
        ({"capillary_length": 4.5}, lambda found: found.subcooling, 1),
        ({"condenser_conductance": 4.0}, lambda found: found.discharge.pressure, 1),
        ({"condenser_conductance": 4.0}, lambda found: found.power, 1),
        ({"coil_conductance": 7.0}, lambda found: found.suction.pressure, -1),
        ({"air_temperature": 265.15}, lambda found: found.capacity, 1),
        ({"room": 308.15}, lambda found: found.coefficient_of_performance, -1),
    ],
)
def test_each_part_pulls_its_way(usual, change, reading, way):
    changed = settled_cycle("R-600a", **({"air_temperature": 255.15, "room": 298.15} | change))
    assert (reading(changed) - reading(usual)) * way > 0


def test_freezer_coil_lies_some_15_fahrenheit_below_its_box(usual):
    """Common practice, no source: about -15 °F for a 0 °F box; accepted 5 °F to either side."""
    fahrenheit = usual.coil_inlet.temperature * 1.8 - 459.67
    assert fahrenheit == pytest.approx(-15, abs=5)


def test_a_solve_is_quick_enough_for_a_slider():
    """Under 5 ms of processor time each is wanted; ten times that here, for a busy machine."""
    begin = time.process_time()
    for room in (283.15, 290.15, 298.15, 305.15):
        settled_cycle("R-600a", 255.15, room)
    assert (time.process_time() - begin) / 4 < 0.05


def test_what_is_refused():
    with pytest.raises(OutOfRange, match="warmer than the coil"):
        cycle("R-600a", 290.0, 285.0)
    with pytest.raises(OutOfRange, match="139"):
        cycle("R-134a", 230.0, 348.0, superheat=40.0, efficiency=0.5)
    with pytest.raises(OutOfRange, match="kelvin"):
        settled_cycle("R-600a", -18.0, 25.0)
    with pytest.raises(OutOfRange, match="settle nowhere"):
        settled_cycle("R-600a", 277.0, 283.15, capillary_length=10.0)
    with pytest.raises(OutOfRange):
        settled_cycle("R-134a", 300.0, 323.15, condenser_conductance=1.0)
    with pytest.raises(CannotRead):
        settled_cycle("R-22", 255.15, 298.15)
