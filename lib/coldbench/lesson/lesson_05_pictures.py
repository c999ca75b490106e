"""The pictures of lesson 05 about one sensor, each with its twin in words.

`curve` shows ohms against temperature, `in_kelvin` and `with_ln` the formula beside a wrong turn in it,
`between_rows` a table's straight lines beside the curve, `in_ice_bath` what ohms in an ice bath tell, and
`percent_to_degrees` what a tolerance on ohms means in degrees. The sensor of this lesson is `SENSOR`.
The pictures of sensor and board together: `coldbench.lesson.lesson_05_board`.
"""

from __future__ import annotations

import math
from functools import cache
from typing import NamedTuple

from coldbench.lesson.chart import Axis, Chart
from coldbench.lesson.picture import Picture
from coldbench.lesson.saying import say_difference, say_temperature, signed
from coldbench.parts.sensor_board import temperature_tolerance
from coldbench.parts.thermistor import beta_resistance, beta_temperature
from coldbench.units import from_si, to_si


class Sensor(NamedTuple):
    """What stands on a sensor's sheet: ohms at 25 °C [Ohm] and B [K]."""

    resistance_25: float
    beta: float


SENSOR = Sensor(10_000.0, 3435.0)  # invented
AT_25 = to_si(25.0, "degC")
ICE_BATH = to_si(32.0, "degF")
TABLE_COLD, TABLE_WARM = -4, 50  # ends of the printed table [°F]
LABEL_TOLERANCE = 0.03  # on the sensor's label, invented


def ohms_at(temperature: float) -> float:
    """Give the ohms of the lesson's sensor.

    Parameters: ``temperature`` of the sensor [K].
    Returns: resistance [Ohm].
    """
    return beta_resistance(temperature, *SENSOR)


def temperature_from(resistance: float) -> float:
    """Give the temperature of the lesson's sensor.

    Parameters: ``resistance`` measured [Ohm].
    Returns: temperature [K].
    """
    return beta_temperature(resistance, *SENSOR)


def say_ohms(resistance: float) -> str:
    """Say ohms as a meter shows them.

    Parameters: ``resistance`` to be said [Ohm]; more than a hundred megohms count as open.
    Returns: for example "28.7 kΩ", "0.1 Ω" or "OL (open)".
    """
    if resistance > 1e8:
        return "OL (open)"
    return f"{resistance / 1000:,.1f} kΩ" if resistance >= 1000 else f"{resistance:.1f} Ω"


def without_kelvin(resistance: float) -> float:
    """Follow the wrong idea that the formula takes °C.

    Parameters: ``resistance`` measured [Ohm].
    Returns: the wrong temperature [K].
    """
    return to_si(1 / (1 / 25 + math.log(resistance / SENSOR.resistance_25) / SENSOR.beta), "degC")


def with_log_key(resistance: float) -> float:
    """Follow the wrong idea that the calculator's log key is the one in the formula.

    Parameters: ``resistance`` measured [Ohm].
    Returns: the wrong temperature [K].
    """
    return 1 / (1 / AT_25 + math.log10(resistance / SENSOR.resistance_25) / SENSOR.beta)


def fahrenheit_axis(low: int, high: int, step: int, label: str = "Temperature of the sensor (°F)") -> Axis:
    """Make an axis of temperatures.

    Parameters: ``low``, ``high``, ``step`` ends and distance of the marks [°F]; ``label`` its name.
    Returns: the axis.
    """
    return Axis(low, high, label, [(mark, signed(mark, 0)) for mark in range(low, high + 1, step)])


def two_on_a_scale(
    title: str, twin: str, axis: Axis, rows: list[tuple[float, str]], wanted: float | None = None
) -> Picture:
    """Put a few temperatures on one scale, each in a row of its own.

    Parameters: ``title``, ``twin`` of the picture; ``axis`` across [°F]; ``rows`` temperatures [K] and
    what each is; ``wanted`` where a rule stands [K], if anywhere.
    Returns: the picture.
    """
    chart = Chart(title, axis, Axis(0, len(rows) + 1, "", []), height=120 + 50 * len(rows))
    if wanted is not None:
        chart.rule(across=from_si(wanted, "degF"), label="wanted")
    for row, (temperature, name) in enumerate(rows):
        shown = from_si(temperature, "degF")
        side = "end" if axis.share(shown) > 0.5 else "start"
        chart.marker(shown, len(rows) - row, row, f"{name}: {signed(shown)} °F", side, 5)
    return chart.picture(twin)


def curve(temperature: float) -> Picture:
    """Show the ohms of the lesson's sensor at one temperature, on its curve.

    Parameters: ``temperature`` of the sensor [K].
    Returns: curve and marker.
    """
    resistance = ohms_at(temperature)
    warmer = ohms_at(temperature + to_si(10.0, "delta_degF"))
    chart = _curve_background().copy()
    shown = from_si(temperature, "degF")
    chart.rule(across=shown).rule(up=resistance / 1000)
    chart.marker(shown, resistance / 1000, 1, say_ohms(resistance), "start", -10)
    twin = (
        f"At {say_temperature(temperature, 0)} a good sensor has {say_ohms(resistance)}. "
        f"10 °F warmer it has {say_ohms(warmer)}. Here one °F more takes off "
        f"{_percent_each(temperature):.1f} % of the ohms."
    )
    return chart.picture(twin)


def in_kelvin(resistance: float) -> Picture:
    """Show the formula with kelvin, and what comes out when °C are put in.

    Parameters: ``resistance`` measured [Ohm].
    Returns: both results on one scale.
    """
    wrong = without_kelvin(resistance)
    twin = f"{_formula(resistance)} With °C in place of kelvin (1 ÷ 25) it would be {say_temperature(wrong)}."
    return _two_results("Kelvin counts from true zero", twin, resistance, (wrong, "with °C put in"))


def with_ln(resistance: float) -> Picture:
    """Show the formula with the ln key, and what comes out with the log key.

    Parameters: ``resistance`` measured [Ohm].
    Returns: both results on one scale.
    """
    wrong, ratio = with_log_key(resistance), resistance / SENSOR.resistance_25
    twin = (
        f"{_formula(resistance)} The log key gives {signed(math.log10(ratio), 3)}, and with it the formula "
        f"would say {say_temperature(wrong)}."
    )
    return _two_results("Which log?", twin, resistance, (wrong, "with the log key"))


def between_rows(resistance: float, apart: int) -> Picture:
    """Show a temperature read on a straight line between two rows of a table, beside the curve.

    Parameters: ``resistance`` measured [Ohm]; ``apart`` distance of the rows [°F].
    Returns: curve, straight lines, and both results.
    """
    rows = table_rows(apart)
    line, cold, warm = on_straight_line(resistance, apart)
    exact = temperature_from(resistance)
    chart = Chart(
        "Interpolation: straight lines between the rows of a table",
        fahrenheit_axis(-10, 60, 10),
        Axis(0, 100, "Ohms (kΩ)", [(mark, str(mark)) for mark in range(0, 101, 10)]),
    )
    chart.line(_curve_points(-10, 60), 0, "the sensor's curve", (-8, 12))
    chart.line([(row, ohms_at(to_si(row, "degF")) / 1000) for row in rows], 1)
    for row in rows:
        chart.marker(row, ohms_at(to_si(row, "degF")) / 1000, 1)
    chart.rule(up=resistance / 1000, label=say_ohms(resistance))
    chart.marker(from_si(exact, "degF"), resistance / 1000, 0, "curve", "end", 18)
    chart.marker(from_si(line, "degF"), resistance / 1000, 3, "straight line", "start", -10)
    twin = (
        f"{say_ohms(resistance)} lies between the rows {signed(cold, 0)} °F "
        f"({say_ohms(ohms_at(to_si(cold, 'degF')))}) and {signed(warm, 0)} °F "
        f"({say_ohms(ohms_at(to_si(warm, 'degF')))}). The straight line says {say_temperature(line)}, the "
        f"curve {say_temperature(exact)}: {signed(from_si(line - exact, 'delta_degF'), 2)} °F too warm."
    )
    return chart.picture(twin)


def table_rows(apart: int) -> list[int]:
    """List the rows of the printed table.

    Parameters: ``apart`` their distance [°F].
    Returns: their temperatures [°F].
    """
    return list(range(TABLE_COLD, TABLE_WARM + 1, apart))


def on_straight_line(resistance: float, apart: int) -> tuple[float, int, int]:
    """Read a temperature on the straight line between the neighbouring rows.

    Parameters: ``resistance`` measured [Ohm]; ``apart`` distance of the rows [°F].
    Returns: temperature [K], and the colder and the warmer row [°F].
    """
    rows = table_rows(apart)
    warm = next(row for row in rows[1:] if row == rows[-1] or ohms_at(to_si(row, "degF")) <= resistance)
    cold = warm - apart
    most, least = ohms_at(to_si(cold, "degF")), ohms_at(to_si(warm, "degF"))
    return to_si(cold + (most - resistance) / (most - least) * apart, "degF"), cold, warm


def in_ice_bath(resistance: float) -> Picture:
    """Show what a sensor's ohms in an ice bath tell.

    Parameters: ``resistance`` read in the bath [Ohm].
    Returns: the curve near 32 °F, the band of the label, and the reading.
    """
    good, read_as = ohms_at(ICE_BATH), temperature_from(resistance)
    least, most = good * (1 - LABEL_TOLERANCE), good * (1 + LABEL_TOLERANCE)
    up = Axis(20, 40, "Ohms in the ice bath (kΩ)", [(mark, str(mark)) for mark in range(20, 41, 2)])
    chart = Chart("Ice-bath check", fahrenheit_axis(18, 48, 2, "What the board believes (°F)"), up)
    chart.band(least / 1000, most / 1000, "as the label promises (±3 %)")
    chart.line([point for point in _curve_points(18, 48) if 20 <= point[1] <= 40], 0).rule(
        across=32, label="the bath is here"
    )
    shown = from_si(read_as, "degF")
    side, lift = ("start", -10) if shown < 27 else ("end", 22)
    chart.marker(shown, resistance / 1000, 1, f"{say_ohms(resistance)}, {signed(shown)} °F", side, lift)
    off = read_as - ICE_BATH
    by = (
        "as it should"
        if abs(off) < 0.01
        else f"{say_difference(abs(off))} too {'warm' if off > 0 else 'cold'}"
    )
    verdict = (
        f"That is within the label's ±3 % ({say_ohms(least)} to {say_ohms(most)}): the sensor is good"
        if least <= resistance <= most
        else f"That is outside the label's ±3 % ({say_ohms(least)} to {say_ohms(most)}): look at stirring, "
        "ice and plug first, then at the sensor"
    )
    twin = (
        f"The sensor reads {say_ohms(resistance)} in the ice bath; a perfect one {say_ohms(good)}. "
        f"{verdict}. A board would believe {say_temperature(read_as)}, {by}."
    )
    return chart.picture(twin)


def percent_to_degrees(temperature: float, tolerance: float) -> Picture:
    """Show how many degrees a tolerance on ohms is, and how little it has to do with the figure in °F.

    Parameters: ``temperature`` of the sensor [K]; ``tolerance`` of its ohms [-].
    Returns: both lines, and the result.
    """
    chart = Chart(
        "Tolerance: from ohms to degrees",
        fahrenheit_axis(-10, 90, 10),
        Axis(0, 5, "May be off by ± (°F)", [(mark, str(mark)) for mark in range(6)]),
    )
    figures = range(-10, 91, 2)
    right = [(one, from_si(_degrees_off(to_si(one, "degF"), tolerance), "delta_degF")) for one in figures]
    chart.line([(one, tolerance * abs(one)) for one in figures], 1, "percent of the figure: wrong")
    chart.line(right, 0, "right")
    off, shown = _degrees_off(temperature, tolerance), from_si(temperature, "degF")
    off_shown = from_si(off, "delta_degF")
    side = "end" if shown > 45 else "start"
    chart.marker(shown, off_shown, 2, f"±{off_shown:.2f} °F", side, -12)
    twin = (
        f"Ohms within ±{100 * tolerance:.0f} % at {say_temperature(temperature, 0)}: {tolerance:.2f} × "
        f"{temperature:.1f}² ÷ {SENSOR.beta:.0f} = {off:.2f} K, times 1.8 is ±{off_shown:.2f} °F. "
        f"{100 * tolerance:.0f} % of the figure {signed(shown, 0)} would be {tolerance * abs(shown):.2f} °F: "
        "that is another thing altogether."
    )
    return chart.picture(twin)


def _degrees_off(temperature: float, tolerance: float) -> float:
    return temperature_tolerance(temperature, *SENSOR, 10_000.0, tolerance, 0.0, 0.0).resistance_25


def _percent_each(temperature: float) -> float:
    """Give the percent of the ohms that one °F takes off."""
    return 100 * SENSOR.beta / temperature**2 * to_si(1.0, "delta_degF")


def _formula(resistance: float) -> str:
    temperature = temperature_from(resistance)
    logarithm = math.log(resistance / SENSOR.resistance_25)
    sign = "−" if logarithm < 0 else "+"
    return (
        f"{say_ohms(resistance)}: ln({resistance / 1000:.1f} ÷ 10) = {signed(logarithm, 3)}. "
        f"1 ÷ T = 1 ÷ 298.15 {sign} {abs(logarithm):.3f} ÷ {SENSOR.beta:.0f}, so T = {temperature:.2f} K, "
        f"which is {say_temperature(temperature)}."
    )


def _two_results(title: str, twin: str, resistance: float, wrong: tuple[float, str]) -> Picture:
    rows = [(temperature_from(resistance), "right"), (wrong[0], wrong[1])]
    return two_on_a_scale(title, twin, fahrenheit_axis(-10, 110, 10, "Temperature (°F)"), rows)


@cache
def _curve_points(low: int, high: int) -> tuple[tuple[float, float], ...]:
    return tuple((one, ohms_at(to_si(one, "degF")) / 1000) for one in range(low, high + 1))


@cache
def _curve_background() -> Chart:
    up = Axis(0, 100, "Ohms (kΩ)", [(mark, str(mark)) for mark in range(0, 101, 10)])
    chart = Chart("Negative temperature coefficient", fahrenheit_axis(-10, 100, 10), up)
    return chart.line(_curve_points(-10, 100), 0, "10 kΩ at 77 °F, B = 3435 K", (45, 60))
