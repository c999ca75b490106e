"""Ice making: what the program waits for, the order in which it works, and what it cannot know."""

import pytest
from coldbench.control.ice_making import IceMakingMemory, IceMakingSettings, make_ice
from coldbench.operations import FLOATS

SETTINGS = IceMakingSettings()
COLD, FREEZING_WATER, WARM = 263.15, 272.15, 278.15


def run(mould, minutes, bin_full=lambda time: 0.0, defrosting=lambda time: 0.0, settings=SETTINGS):
    """Call the program every ten seconds; gives (time, outputs) of each call."""
    memory = IceMakingMemory(1.0)
    found = []
    for number in range(minutes * 6):
        time = number * 10.0
        seen = mould(time, found[-1][1] if found else None)
        outputs = make_ice(FLOATS, settings, memory, seen, bin_full(time), defrosting(time), 10.0)
        found.append((time, outputs))
    return found


def on_times(found, name):
    return [time for time, outputs in found if getattr(outputs, name)]


def harvested(time, outputs):
    """A mould that is warm a minute after it has been heated, and cold again half an hour after its fill."""
    phase = time % 3600
    return WARM if 400 < phase < 2400 else COLD


def test_harvest_is_at_18_to_20_fahrenheit():
    """Source: common practice, no source; accepted 18 to 20 °F."""
    assert 18.0 <= SETTINGS.harvest_temperature * 1.8 - 459.67 <= 20.0


def test_it_waits_until_the_mould_has_been_cold_for_minutes():
    """Cold for five minutes on end, not for four and once more: a gust is no ice."""

    def gusty(time, outputs):
        return COLD if time % 300 < 240 else FREEZING_WATER

    assert not on_times(run(gusty, 60), "harvest_heater")
    first = on_times(run(lambda time, outputs: COLD, 20), "harvest_heater")[0]
    assert first == pytest.approx(SETTINGS.cold_time, abs=10.0)


def test_water_that_is_still_freezing_is_not_harvested():
    """At 0 °C the freezing goes on: no harvest, however long it takes."""
    assert not on_times(run(lambda time, outputs: FREEZING_WATER, 600), "harvest_heater")


def test_it_heats_sweeps_fills_in_this_order():
    """Each begins when the one before has ended; the tube's heater spans them all and a drying time."""
    found = run(harvested, 40)
    heat, sweep, fill, tube = (
        on_times(found, name) for name in ("harvest_heater", "sweep", "water_valve", "fill_tube_heater")
    )
    assert heat[-1] < sweep[0] <= heat[-1] + 10 and sweep[-1] < fill[0] <= sweep[-1] + 10
    assert len(sweep) * 10 == SETTINGS.sweep_time and len(fill) * 10 == SETTINGS.fill_time
    assert tube[0] == heat[0] and tube[-1] - fill[-1] == SETTINGS.drying_time - 10
    assert len(tube) == (tube[-1] - tube[0]) / 10 + 1


def test_a_warm_sensor_ends_the_heating_and_a_limit_stands_behind_it():
    """Warm at 400 s it stops at once; never warm, it stops at its limit."""
    warm = on_times(run(harvested, 20), "harvest_heater")
    assert warm[-1] <= 410
    never = on_times(run(lambda time, outputs: COLD, 12), "harvest_heater")
    assert (never[-1] - never[0] + 10) == pytest.approx(SETTINGS.heating_limit, abs=10)


def test_a_full_bin_stops_it():
    """While the lever is up nothing is harvested; once ice was taken it harvests at once."""
    found = run(harvested, 40, bin_full=lambda time: float(time < 1800))
    assert not on_times(found, "harvest_heater")
    found = run(lambda time, outputs: COLD, 40, bin_full=lambda time: float(time < 1800))
    assert on_times(found, "harvest_heater")[0] == 1800


def test_it_waits_while_the_coil_is_defrosted():
    found = run(lambda time, outputs: COLD, 40, defrosting=lambda time: float(time < 1200))
    assert on_times(found, "harvest_heater")[0] == 1200


@pytest.mark.parametrize(("believed", "harvests"), [(233.15, True), (373.15, False)])
def test_a_broken_sensor_misleads_it(believed, harvests):
    """Open, at the cold end of the table, it harvests on and on, ice or not; shorted, at the warm, never."""
    found = run(lambda time, outputs: believed, 60)
    assert (len(on_times(found, "water_valve")) > 4) is harvests
