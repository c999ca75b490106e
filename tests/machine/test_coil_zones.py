"""A coil in time: its zones use the parts as they stand alone, and lose neither heat nor water."""

import pytest
from coldbench.machine.coil_zones import (
    VAPOR_HEAT,
    ZONES,
    CoilState,
    eliminate,
    moisture_lines,
    put_back,
    renew_air_side,
    settle_moisture,
    warm_vapor,
)
from coldbench.machine.common import FREEZER_COIL
from coldbench.machine.quick_operations import QUICK_FLOATS
from coldbench.parts import coil as part
from coldbench.parts.coil_wetting import boiling_conductance, wet_share
from hypothesis import given
from hypothesis import strategies as st

COLD, AIR, STEP = 250.15, 258.15, 10.0


def frosted(mass=0.0, speed=1.0, temperature=COLD, liquid=None):
    coil = CoilState(FREEZER_COIL, temperature)
    coil.lay_frost(mass)
    coil.liquid = FREEZER_COIL.holding if liquid is None else liquid
    renew_air_side(QUICK_FLOATS, coil, speed)
    return coil


@given(st.floats(0.0, 0.55), st.floats(0.1, 1.0))
def test_an_even_coil_has_the_flow_and_the_conductance_of_the_part(frost, speed):
    """Four zones with a quarter of the frost each are the coil of the part: same flow, same outlet."""
    coil = frosted(frost, speed)
    share = speed * part.frosted_flow(frost, FREEZER_COIL.free_volume)
    assert coil.air_flow == pytest.approx(share * FREEZER_COIL.rated_air_flow)
    conductance = part.frosted_conductance(
        part.conductance_at_flow(FREEZER_COIL.air_conductance, share), frost, FREEZER_COIL.area
    )
    air = AIR
    for zone in reversed(range(ZONES)):
        air -= coil.effectiveness[zone] * (air - COLD)
    assert air == pytest.approx(part.air_outlet_temperature(AIR, COLD, conductance, coil.air_flow), abs=1e-9)


def test_a_wet_coil_at_rest_passes_what_its_conductances_do():
    """In an endless step the air gives what the refrigerant takes: conductance times difference."""
    coil = frosted()
    evaporating = 247.15
    warm_vapor(QUICK_FLOATS, coil, evaporating, evaporating, 0.5, 0.0)
    lines, boiled, drawn = eliminate(coil, evaporating, 0.0, 1e12)
    put_back(QUICK_FLOATS, coil, lines, AIR, evaporating)
    to_boiling = boiled[0] + boiled[1] * AIR + boiled[2] * evaporating
    from_air = drawn[0] + drawn[1] * AIR + drawn[2] * evaporating
    assert from_air == pytest.approx(to_boiling, rel=1e-6)
    inside = boiling_conductance(
        wet_share(coil.liquid, FREEZER_COIL.holding), 1.0, FREEZER_COIL.refrigerant_conductance
    )
    by_zone = [inside / ZONES * (metal - evaporating) for metal in coil.metal]
    assert sum(by_zone) == pytest.approx(to_boiling, rel=1e-6)
    assert coil.metal == sorted(coil.metal)  # the air meets the last zone first and warms it most


@given(st.floats(0.0, 0.4), st.floats(0.0, 0.3), st.floats(240.0, 300.0), st.floats(0.0, 400.0))
def test_melting_keeps_heat_and_water(frost, liquid_part, air, heater):
    """What a step puts into metal, frost and water is what air, heater and refrigerant bring."""
    coil = frosted(frost, liquid=liquid_part * FREEZER_COIL.holding, temperature=272.0)
    warm_vapor(QUICK_FLOATS, coil, 262.0, 262.0, 0.5, 0.0)
    before, water = coil.stored_heat(), sum(coil.frost) + sum(coil.water)
    lines, boiled, drawn = eliminate(coil, 262.0, heater, STEP)
    put_back(QUICK_FLOATS, coil, lines, air, 262.0)
    from_air = drawn[0] + drawn[1] * air + drawn[2] * 262.0
    to_boiling = boiled[0] + boiled[1] * air + boiled[2] * 262.0 + sum(coil.dry_heat)
    brought = STEP * (from_air + heater - to_boiling)
    assert coil.stored_heat() - before == pytest.approx(brought, abs=0.01)
    assert sum(coil.frost) + sum(coil.water) == pytest.approx(water, abs=1e-12)
    assert min(coil.frost) >= 0.0 and min(coil.water) >= 0.0


@given(st.floats(0.0, 0.4), st.floats(245.0, 285.0), st.floats(0.0005, 0.008))
def test_moisture_comes_with_its_heat_and_drips_with_it(frost, metal, humidity):
    """Mass and heat on the coil grow by the vapour that came, less what dripped."""
    coil = frosted(frost, temperature=metal)
    before, water = coil.stored_heat(), sum(coil.frost) + sum(coil.water)
    lines, _, _ = moisture_lines(QUICK_FLOATS, coil, 275.15, humidity)
    came = settle_moisture(QUICK_FLOATS, coil, lines, humidity, 60.0)
    now = sum(coil.frost) + sum(coil.water)
    assert now - water == pytest.approx(came - coil.drained, abs=1e-12)
    heat = coil.stored_heat() - before
    assert heat == pytest.approx(came * VAPOR_HEAT - coil.drained_heat, abs=0.01)
