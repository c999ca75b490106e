"""The pictures of lesson 01, each with its twin in words.

`zero_ladder` and `air_ladder` show where a gauge's zero lies, `two_curves` the saturation of two
refrigerants, `gauge_to_coil` what a reading means for the refrigerant on the plate, `superheat_scale`
and `subcooling_scale` two lines minus two charts.
"""

from __future__ import annotations

from functools import cache

from coldbench.errors import OutOfRange
from coldbench.lesson.chart import Axis, Chart
from coldbench.lesson.controls import Control
from coldbench.lesson.picture import Picture, colour, sketch, words
from coldbench.lesson.saying import say_absolute, say_difference, say_gauge, say_temperature, signed
from coldbench.properties.moist_air import pressure_at_altitude
from coldbench.properties.refrigerant import saturation_pressure, saturation_temperature
from coldbench.units import STANDARD_ATMOSPHERE, from_si, to_si

LINES = {"R-134a": 0, "R-600a": 1, "R-290": 2}
BOX_AIR = to_si(38.0, "degF")
LADDER_TOP, LADDER_BOTTOM, LADDER_HIGH = 40.0, 380.0, 45.0


def gauge_slider(vacuum_to: float, psig_to: float, start: str) -> Control:
    """Make a slider over the readings of a compound gauge, vacuum on the left, psig on the right.

    Parameters
    ----------
    vacuum_to : float
        Deepest vacuum [inHg vacuum]
    psig_to : float
        Highest reading [psig]
    start : str
        Text of the first stop, for example "6.0 psig"

    Returns
    -------
    Control
        The slider; its value is the reading counted from the air's pressure [Pa]

    Source
    ------
    Common practice of compound gauges, no source.
    """
    vacuums = [half / 2 for half in range(round(2 * vacuum_to), 0, -1)]
    values = [-to_si(vacuum, "delta_inHg") for vacuum in vacuums]
    values += [to_si(half / 2, "psi") for half in range(round(2 * psig_to) + 1)]
    texts = tuple(say_gauge(STANDARD_ATMOSPHERE + value) for value in values)
    return Control("reading", "The needle shows", tuple(values), texts, texts.index(start), "slider")


def zero_ladder(reading: float) -> Picture:
    """Show a gauge reading on two rulers: one from perfect vacuum, one from the air's pressure.

    Parameters
    ----------
    reading : float
        What the needle shows, counted from the air's pressure [Pa]

    Returns
    -------
    Picture
        The two rulers at sea level

    Source
    ------
    Absolute pressure is gauge pressure plus the air's pressure: its definition.
    """
    pressure = STANDARD_ATMOSPHERE + reading
    air = signed(from_si(STANDARD_ATMOSPHERE, "psia"))
    if reading < 0:
        sums = f"{air} − {-from_si(reading, 'delta_inHg'):.1f} ÷ 2.036"
    else:
        sums = f"{air} + {from_si(reading, 'psi'):.1f}"
    twin = (
        f"The needle shows {say_gauge(pressure)}. Counted from perfect vacuum that is {sums} = "
        f"{from_si(pressure, 'psia'):.1f} psia ({pressure / 1000:.1f} kPa)."
    )
    return _ladder("Where zero is: two rulers for one pressure", pressure, STANDARD_ATMOSPHERE, twin)


def air_ladder(altitude: float) -> Picture:
    """Show how the air's pressure, and with it a gauge's zero, sinks with height, at 6 psig of R-134a.

    Parameters
    ----------
    altitude : float
        Height above the sea [m]

    Returns
    -------
    Picture
        The two rulers at this height

    Source
    ------
    Standard atmosphere as in `coldbench.properties.moist_air.pressure_at_altitude`.
    """
    air = pressure_at_altitude(altitude)
    pressure = to_si(6.0, "psig", air)
    coil = saturation_temperature("R-134a", pressure)
    wall_chart = saturation_temperature("R-134a", to_si(6.0, "psig"))
    too_warm = from_si(wall_chart - coil, "delta_degF")
    twin = (
        f"At {signed(from_si(altitude, 'ft'), 0)} ft ({signed(altitude, 0)} m) the air presses with "
        f"{say_absolute(air)}; no vacuum there can be deeper than {from_si(air, 'inHg abs'):.1f} inHg. "
        f"6.0 psig on R-134a is {from_si(pressure, 'psia'):.1f} psia: it boils at {say_temperature(coil)}. "
        f"A wall chart for sea level says {say_temperature(wall_chart)}: "
        + ("that fits." if too_warm < 0.05 else f"{signed(too_warm)} °F too warm.")
    )
    return _ladder("Air has weight: a gauge's zero sinks with height", pressure, air, twin)


def two_curves(coil_temperature: float) -> Picture:
    """Show the saturation pressure of R-134a and R-600a at one coil temperature.

    Parameters
    ----------
    coil_temperature : float
        Temperature at which the refrigerant boils [K]

    Returns
    -------
    Picture
        Two curves and two markers

    Source
    ------
    Saturation as in `coldbench.properties.refrigerant`.
    """
    chart = _background(-40, 40, ("R-134a", "R-600a")).copy()
    sayings = []
    fahrenheit = from_si(coil_temperature, "degF")
    chart.rule(across=fahrenheit)
    places = {
        "R-134a": ("end", -10) if fahrenheit > -25 else ("start", -18),
        "R-600a": ("start", 22) if fahrenheit < 25 else ("end", 32),
    }
    for refrigerant, (side, lift) in places.items():
        pressure = saturation_pressure(refrigerant, coil_temperature)
        up = from_si(pressure, "psia")
        chart.marker(fahrenheit, up, LINES[refrigerant], say_gauge(pressure), side, lift)
        sayings.append(f"{refrigerant} reads {say_gauge(pressure)}, which is {say_absolute(pressure)}")
    twin = f"Where it boils at {say_temperature(coil_temperature, 0)}: {'; '.join(sayings)}. Sea level."
    return chart.picture(twin)


def gauge_to_coil(reading: float, refrigerant: str, altitude: float) -> Picture:
    """Show what a low-side reading means for the refrigerant on the plate, at a height.

    Parameters
    ----------
    reading : float
        What the needle shows, counted from the air's pressure [Pa]
    refrigerant : str
        The refrigerant on the plate
    altitude : float
        Height above the sea [m]

    Returns
    -------
    Picture
        The curves with the reading on the right one

    Source
    ------
    Saturation as in `coldbench.properties.refrigerant`.
    """
    air = pressure_at_altitude(altitude)
    pressure = air + reading
    shown = say_gauge(STANDARD_ATMOSPHERE + reading)
    chart = _background(-60, 60, tuple(LINES)).copy()
    try:
        coil = saturation_temperature(refrigerant, pressure)
    except OutOfRange:
        if pressure <= 0:
            reason = f"no vacuum can be deeper than {from_si(air, 'inHg abs'):.1f} inHg"
        else:
            reason = f"the table of {refrigerant} begins at −76 °F (−60 °C)"
        twin = (
            f"{shown} can't be read here: the air presses with {say_absolute(air)}, and {reason}. "
            "Look at the gauge, the plate and the height again."
        )
        return chart.picture(twin)
    across, up = from_si(coil, "degF"), from_si(pressure, "psia")
    chart.rule(up=up).rule(across=across)
    side, lift = ("end", -12) if across > -45 else ("start", -18)
    chart.marker(across, up, LINES[refrigerant], f"{signed(across)} °F", side, lift)
    twin = (
        f"{shown} at {signed(from_si(altitude, 'ft'), 0)} ft is {say_absolute(pressure)}. On the "
        f"{refrigerant} curve, the refrigerant on the plate, it boils at {say_temperature(coil)}."
        f"{_wrong_chart(refrigerant, pressure)}"
    )
    return chart.picture(twin)


def superheat_scale(reading: float, line_temperature: float) -> Picture:
    """Show superheat of R-134a at sea level: the pipe after the coil, minus what the gauge says.

    Parameters
    ----------
    reading : float
        What the low-side needle shows, counted from the air's pressure [Pa]
    line_temperature : float
        Temperature of the pipe where it leaves the coil [K]

    Returns
    -------
    Picture
        Three temperatures on one scale

    Source
    ------
    Superheat is line temperature minus evaporating temperature: its definition.
    """
    pressure = STANDARD_ATMOSPHERE + reading
    coil = saturation_temperature("R-134a", pressure)
    superheat = line_temperature - coil
    if superheat < 0:
        meaning = "A pipe can't be colder than what boils in it: look at the clamp, the gauge and the plate."
    else:
        meaning = f"Superheat, pipe minus evaporating: {say_difference(superheat)}."
    twin = (
        f"{say_gauge(pressure)} on R-134a: it evaporates at {say_temperature(coil)}. The pipe is "
        f"at {say_temperature(line_temperature, 0)}. {meaning} The box air, {say_temperature(BOX_AIR, 0)}, "
        "does not enter the sum."
    )
    return _scale(
        "Superheat belongs to the pipe",
        twin,
        (-40, 60),
        [(coil, 0, "evaporating"), (line_temperature, 1, "pipe after the coil"), (BOX_AIR, 2, "box air")],
        f"superheat {signed(from_si(superheat, 'delta_degF'))} °F",
    )


def subcooling_scale(reading: float, line_temperature: float) -> Picture:
    """Show subcooling of R-134a at sea level: what the high-side gauge says, minus the liquid pipe.

    Parameters
    ----------
    reading : float
        What the high-side needle shows, counted from the air's pressure [Pa]
    line_temperature : float
        Temperature of the pipe after the condenser [K]

    Returns
    -------
    Picture
        Two temperatures on one scale

    Source
    ------
    Subcooling is condensing temperature minus line temperature: its definition.
    """
    pressure = STANDARD_ATMOSPHERE + reading
    condensing = saturation_temperature("R-134a", pressure)
    subcooling = condensing - line_temperature
    if subcooling < 0:
        meaning = (
            "Liquid can't be warmer than where it condensed: look at the clamp, the gauge and the plate."
        )
    else:
        meaning = f"Subcooling, condensing minus pipe: {say_difference(subcooling)}."
    twin = (
        f"{say_gauge(pressure)} on R-134a: it condenses at {say_temperature(condensing)}. The pipe is at "
        f"{say_temperature(line_temperature, 0)}. {meaning}"
    )
    return _scale(
        "Subcooling belongs to the liquid",
        twin,
        (60, 140),
        [(condensing, 0, "condensing"), (line_temperature, 1, "liquid pipe")],
        f"subcooling {signed(from_si(subcooling, 'delta_degF'))} °F",
    )


def _wrong_chart(refrigerant: str, pressure: float) -> str:
    other = "R-600a" if refrigerant == "R-134a" else "R-134a"
    try:
        return f" The {other} chart would say {say_temperature(saturation_temperature(other, pressure))}."
    except OutOfRange:
        return ""


@cache
def _background(low: int, high: int, refrigerants: tuple[str, ...]) -> Chart:
    across = Axis(
        low,
        high,
        "Temperature at which it boils (°F)",
        [(mark, signed(mark, 0)) for mark in range(low, high + 1, 20)],
    )
    up = Axis(0, 60, "Absolute pressure (psia)", [(mark, str(mark)) for mark in range(0, 61, 10)])
    air = from_si(STANDARD_ATMOSPHERE, "psia")
    chart = Chart("Saturation: pressure follows temperature", across, up)
    chart.band(0, air, f"below {air:.1f} psia a gauge at sea level shows vacuum").rule(up=air)
    for refrigerant in refrigerants:
        points = [(low + step, _psia(refrigerant, low + step)) for step in range(high - low + 1)]
        inside = [point for point in points if point[1] <= 57]
        end = inside[-1]
        chart.line(
            [point for point in points if point[1] <= 60],
            LINES[refrigerant],
            refrigerant,
            (end[0] + (1 if end[0] < high else -11), end[1] - (0 if end[0] < high else 4)),
        )
    return chart


def _psia(refrigerant: str, fahrenheit: float) -> float:
    return from_si(saturation_pressure(refrigerant, to_si(fahrenheit, "degF")), "psia")


def _height(pressure: float) -> float:
    return LADDER_BOTTOM - from_si(pressure, "psia") / LADDER_HIGH * (LADDER_BOTTOM - LADDER_TOP)


def _rung(x: float, y: float, text: str, side: int) -> str:
    anchor = "end" if side < 0 else "start"
    return f'<path d="M{x},{y:.1f}h{8 * side}" stroke="currentColor" stroke-width="1.5"/>' + words(
        x + 13 * side, y + 5, text, anchor
    )


def _arrow(x: float, start: float, end: float, style: int, text: str, side: int) -> str:
    tip = -9 if end < start else 9
    head = f"M{x - 6},{end - tip:.1f}L{x},{end:.1f}L{x + 6},{end - tip:.1f}" if abs(end - start) > 9 else ""
    dashes = "none" if style == 0 else "7 4"
    anchor = "end" if side < 0 else "start"
    middle = (start + end) / 2 + 5 if abs(end - start) > 24 else min(start, end) - 8
    return (
        f'<path d="M{x},{start:.1f}V{end:.1f}" stroke-dasharray="{dashes}" stroke-width="4" fill="none" '
        f'style="stroke:{colour(style)}"/>'
        f'<path d="{head}" stroke-width="3" fill="none" style="stroke:{colour(style)}"/>'
        + words(x + 14 * side, middle, text, anchor, "bold")
    )


def _ladder(title: str, pressure: float, air: float, twin: str) -> Picture:
    left, right = 130, 510
    bottom, zero, level = _height(0.0), _height(air), _height(pressure)
    parts = [
        words(left, 20, "From perfect vacuum (psia)", weight="bold"),
        words(right, 20, "Your gauge", weight="bold"),
        f'<path d="M{left},{LADDER_TOP}V{bottom}M{right},{LADDER_TOP}V{bottom}" stroke="currentColor" '
        'stroke-width="2"/>',
        f'<path d="M{left},{zero:.1f}H{right}" stroke="currentColor" stroke-dasharray="2 4"/>',
        words(290, zero + (18 if level <= zero else -8), f"air around you: {from_si(air, 'psia'):.1f} psia"),
        f'<path d="M{left},{level:.1f}H{right}" stroke="currentColor" stroke-width="2"/>',
    ]
    parts += [_rung(left, _height(to_si(mark, "psia")), str(mark), -1) for mark in range(0, 46, 5)]
    parts += [_rung(right, _height(to_si(mark, "psig", air)), f"{mark} psig", 1) for mark in (0, 10, 20, 30)]
    deepest = int(from_si(air, "inHg abs"))
    parts += [
        _rung(right, _height(to_si(mark, "inHg vacuum", air)), f"{mark} inHg vacuum", 1)
        for mark in (10, 20, deepest)
        if mark <= deepest
    ]
    parts += [
        _arrow(left + 30, bottom, level, 0, f"{from_si(pressure, 'psia'):.1f} psia", 1),
        _arrow(right - 30, zero, level, 1, say_gauge(pressure, air), -1),
    ]
    return Picture(sketch(title, twin, parts, height=400), twin)


def _scale(
    title: str, twin: str, ends: tuple[int, int], points: list[tuple[float, int, str]], name: str
) -> Picture:
    low, high = ends
    across = Axis(
        low, high, "Temperature (°F)", [(mark, signed(mark, 0)) for mark in range(low, high + 1, 10)]
    )
    chart = Chart(title, across, Axis(3.9 - len(points), 4, "", []), height=110 + 50 * len(points))
    for row, (temperature, style, label) in enumerate(points):
        fahrenheit = from_si(temperature, "degF")
        end = "end" if fahrenheit > (low + high) / 2 else "start"
        chart.marker(fahrenheit, 3.3 - row, style, f"{label} {signed(fahrenheit)} °F", end, 5)
    first, second = (from_si(point[0], "degF") for point in points[:2])
    chart.line([(first, 3.3), (first, 2.8), (second, 2.8), (second, 2.3)], 3)
    chart.line([(first, 2.8), (second, 2.8)], 3, name, (max(first, second) + 1, 2.65))
    return chart.picture(twin)
