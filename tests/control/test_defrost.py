"""Defrost: when it begins, what ends it, the limit behind that, the wait after it."""

import pytest
from coldbench.control.defrost import DefrostMemory, DefrostSettings, defrost
from coldbench.operations import FLOATS

SETTINGS = {"interval": 3600.0, "time_limit": 1200.0, "drip_time": 300.0, "end_temperature": 281.15}


def run(settings, coil, running, minutes):
    """Call the program every ten seconds; gives (time, heater, pause) of each call."""
    memory = DefrostMemory(settings, 1.0)
    found = []
    for number in range(minutes * 6):
        time = number * 10.0
        heater, pause = defrost(FLOATS, settings, memory, coil(time), running(time), 10.0)
        found.append((time, heater, pause))
    return found, memory


def spans(found, place):
    """Begin and end of every time that the heater (1) or the pause (2) is on."""
    edges = [
        (now[0], now[place])
        for before, now in zip([(0, 0.0, 0.0), *found], found, strict=False)
        if before[place] != now[place]
    ]
    return [(begin[0], end[0]) for begin, end in zip(edges[::2], edges[1::2], strict=False)]


@pytest.mark.parametrize(("counting", "begins"), [("clock", 3590.0), ("run time", 7190.0)])
def test_it_counts_the_clock_or_the_running_time(counting, begins):
    """A compressor that runs half the time doubles the wait of the program that counts running."""
    settings = DefrostSettings(counting=counting, **SETTINGS)
    found, _ = run(settings, lambda time: 255.0, lambda time: float(time % 1200 < 600), 160)
    assert spans(found, 1)[0][0] == pytest.approx(begins, abs=650)


def test_its_sensor_ends_it():
    """The heater stops at the first call that finds the coil warm, and cooling waits for the drips."""
    settings = DefrostSettings(counting="clock", **SETTINGS)
    found, _ = run(settings, lambda time: 255.0 if time < 4000 else 285.0, lambda time: 1.0, 100)
    (begin, end), (_, wait_end) = spans(found, 1)[0], spans(found, 2)[0]
    assert end == 4000.0 and begin < end
    assert wait_end - end == pytest.approx(300.0, abs=10)


def test_a_sensor_that_never_warms_is_overruled_by_the_limit():
    settings = DefrostSettings(counting="clock", **SETTINGS)
    found, _ = run(settings, lambda time: 233.15, lambda time: 1.0, 120)
    begin, end = spans(found, 1)[0]
    assert end - begin == pytest.approx(1200.0, abs=20)


@pytest.mark.parametrize(("seconds", "change"), [(100.0, 1), (1150.0, -1)])
def test_by_need_a_short_melting_lengthens_the_wait(seconds, change):
    """Little frost, long wait; much frost, short wait."""
    settings = DefrostSettings(counting="need", **SETTINGS)
    _, memory = run(settings, lambda time: 285.0 if time > 3600 + seconds else 255.0, lambda time: 1.0, 90)
    assert (memory.interval - settings.interval) * change > 0
