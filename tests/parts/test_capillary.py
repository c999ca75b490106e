"""Capillary: choking, vapour in its way, subcooling; what is refused."""

import numpy
import pytest
from coldbench.errors import CannotRead, OutOfRange
from coldbench.parts.capillary import capillary_flow, flashing_number
from coldbench.properties import refrigerant as of
from hypothesis import given
from hypothesis import strategies as st

TUBE = {"refrigerant": "R-600a", "diameter": 0.66e-3, "length": 2.6}
WARM = 317.15


def test_a_lower_outlet_pressure_draws_no_more_once_choked():
    """Below the choking pressure the flow stays the same to a thousandth."""
    flows = capillary_flow(
        **TUBE, condensing_temperature=WARM, outlet_pressure=numpy.array([30e3, 60e3, 100e3])
    )
    assert flows == pytest.approx(flows[0], rel=1e-3)


def test_nothing_flows_between_equal_pressures():
    pressure = of.saturation_pressure("R-600a", WARM)
    assert capillary_flow(**TUBE, condensing_temperature=WARM, outlet_pressure=pressure) == pytest.approx(
        0, abs=1e-9
    )


@given(st.floats(285.0, 340.0), st.floats(0.0, 15.0), st.floats(0.0, 0.9))
def test_subcooling_helps_and_vapour_hinders(condensing, subcooling, quality):
    """Flow rises with subcooling and falls with vapour at the inlet, at every condensing temperature."""
    at = TUBE | {"condensing_temperature": condensing, "outlet_pressure": 50e3}
    plain = capillary_flow(**at)
    assert capillary_flow(**at, subcooling=subcooling) >= plain >= capillary_flow(**at, quality=quality) > 0


def test_vapour_alone_passes_at_about_a_fifth():
    """Liquid needs the tube; vapour chokes it: common practice, no source (an unsealed tube gurgles)."""
    at = TUBE | {"condensing_temperature": WARM, "outlet_pressure": 50e3}
    assert 0.1 < capillary_flow(**at, quality=1.0) / capillary_flow(**at, subcooling=5.0) < 0.35


def test_swelling_follows_the_properties():
    """The flashing number gives a mixture's volume at half the pressure to 15 %: it is a tangent."""
    name = "R-600a"
    pressure = of.saturation_pressure(name, WARM)
    number = flashing_number(
        0.0, of.liquid_density(name, WARM), of.vapor_density(name, WARM), of.latent_heat(name, WARM),
        2450.0, WARM, pressure,
    )  # fmt: skip
    colder = of.saturation_temperature(name, pressure / 2)
    quality = (of.liquid_enthalpy(name, WARM) - of.liquid_enthalpy(name, colder)) / of.latent_heat(
        name, colder
    )
    volume = (1 - quality) / of.liquid_density(name, colder) + quality / of.vapor_density(name, colder)
    assert 1 + number == pytest.approx(volume * of.liquid_density(name, WARM), rel=0.15)


def test_what_is_refused():
    with pytest.raises(OutOfRange, match=r"0\.00066"):
        capillary_flow("R-600a", 0.66, 2.6, WARM, 50e3)
    with pytest.raises(CannotRead):
        capillary_flow("R-22", 0.66e-3, 2.6, WARM, 50e3)
    with pytest.raises(OutOfRange, match="quality"):
        flashing_number(1.5, 530.0, 15.0, 3e5, 2400.0, WARM, 6e5)
