"""Compressor: work against the refrigerant tables, efficiency, power; what is refused."""

import numpy
import pytest
from coldbench.errors import CannotRead, OutOfRange
from coldbench.parts.compressor import (
    compressor_flow,
    compressor_power,
    isentropic_work,
    volumetric_efficiency,
)
from coldbench.properties import refrigerant as of


def exact_work(name, evaporating, condensing, superheat):
    """Work by the refrigerant tables, whose source is the reference equations of state."""
    low, high = of.saturation_pressure(name, evaporating), of.saturation_pressure(name, condensing)
    start = evaporating + superheat
    entropy = of.superheated_entropy(name, low, start)
    end = of.superheated_temperature(name, high, entropy)
    work = of.superheated_enthalpy(name, high, end) - of.superheated_enthalpy(name, low, start)
    return work, low, high, of.superheated_density(name, low, start)


@pytest.mark.parametrize(("name", "within"), [("R-600a", 0.013), ("R-134a", 0.023), ("R-290", 0.021)])
@pytest.mark.parametrize("evaporating", [228.15, 248.15, 268.15])
@pytest.mark.parametrize("condensing", [298.15, 318.15, 338.15])
def test_work_agrees_with_the_tables(name, within, evaporating, condensing):
    """The quick form stays within what its docstring says of the tables."""
    work, low, high, density = exact_work(name, evaporating, condensing, 30.0)
    assert isentropic_work(name, low, high, density, evaporating, condensing) == pytest.approx(
        work, rel=within
    )


def test_work_needs_a_known_refrigerant():
    with pytest.raises(CannotRead, match="R-600a"):
        isentropic_work("R-12", 1e5, 5e5, 5.0, 250.0, 310.0)


def test_higher_ratio_fills_the_stroke_less_until_nothing_flows():
    """Efficiency falls all the way, and ends at zero, never below."""
    found = volumetric_efficiency(numpy.linspace(1.0, 70.0, 60))
    assert found[0] == pytest.approx(0.88) and found[-1] == 0.0
    assert (numpy.diff(found) <= 0).all()


def test_gauge_pressures_are_refused():
    with pytest.raises(OutOfRange, match="absolute"):
        volumetric_efficiency(0.5)


def test_floats_and_arrays_agree():
    flows = compressor_flow(9e-6, numpy.array([25.0, 50.0]), 1.4, 10.0)
    assert flows[1] == pytest.approx(compressor_flow(9e-6, 50.0, 1.4, 10.0)) == pytest.approx(2 * flows[0])


def test_power_is_work_over_efficiency_and_idling():
    assert compressor_power(0.5e-3, 100e3, 0.5, 8.0) == pytest.approx(108.0)
    with pytest.raises(OutOfRange, match="gram"):
        compressor_power(0.5, 100e3, 0.5)
