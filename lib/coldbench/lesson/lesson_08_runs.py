"""The pictures of lesson 08 about heat and hours, each with its twin in words.

`hours_of` runs a machine for some hours and shows who worked when; `starving_coils` shows both orders of
coils as the charge goes; `with_fan_off` what still air carries; `two_returns` the mixed air of one coil and
the coil below it; `five_in_a_room` the five machines side by side.
"""

from __future__ import annotations

from functools import cache

from coldbench.lesson.chart import Axis, Chart
from coldbench.lesson.lesson_05_pictures import fahrenheit_axis, two_on_a_scale
from coldbench.lesson.lesson_08_record import FIVE, ORDERS
from coldbench.lesson.picture import Picture, colour, sketch, words
from coldbench.lesson.saying import say_difference, say_temperature, signed
from coldbench.machine import simulate
from coldbench.machine.common import BOXES
from coldbench.units import from_si, to_si

FIRST_HOUR, LAST_HOUR = 1.0, 4.0  # what a run shows; the hour before lets it settle
HEAT_CAPACITY = 18_000.0  # [J/K], of the fresh-food box and what is quick to follow its air; invented
WALLS = BOXES[0].wall_conductance
LANES = {
    "Series": (("compressor_power", "compressor"), ("fresh_food_fan_voltage", "fresh-food fan")),
    "Valve": (
        ("compressor_power", "compressor"),
        ("valve_both", "valve: both coils"),
        ("fresh_food_fan_voltage", "fresh-food fan"),
        ("freezer_fan_voltage", "freezer fan"),
    ),
    "Damper": (("compressor_power", "compressor"), ("damper_position", "damper open")),
    "Two-circuit": (
        ("fresh_food_compressor_power", "fresh-food compressor"),
        ("freezer_compressor_power", "freezer compressor"),
        ("fresh_food_fan_voltage", "fresh-food fan"),
    ),
    "Thermostat": (("compressor_power", "compressor"),),
}


@cache
def run(name: str) -> dict[str, list[float]]:
    """Run a machine in a room at 77 °F, doors shut, and keep what the picture needs.

    Parameters: ``name`` of the machine.
    Returns: hours [h], temperatures of the boxes [K], and for each lane whether the part is at work [-].
    """
    record = simulate(name, hours=LAST_HOUR, room=to_si(77.0, "degF"), interval=60.0)
    rows = [row for row, time in enumerate(record["time"]) if time >= 3600 * FIRST_HOUR]
    found = {"hours": [record["time"][row] / 3600 for row in rows]}
    for box in ("fresh_food", "freezer"):
        found[box] = [float(record[f"{box}_air_temperature"][row]) for row in rows]
    for lane, _ in LANES[name]:
        values = 1 - record["valve_position"] if lane == "valve_both" else record[lane]
        found[lane] = [float(values[row] > 0.01) for row in rows]
    return found


def hours_of(name: str) -> Picture:
    """Show some hours of a machine: temperatures, and below them who worked when.

    Parameters: ``name`` of the machine.
    Returns: two lines and a lane for each part.
    """
    found, lanes = run(name), LANES[name]
    low = -14 - 8 * len(lanes)
    up = Axis(low, 50, "Air (°F)", [(mark, signed(mark, 0)) for mark in range(-10, 51, 10)])
    hours = range(int(FIRST_HOUR), int(LAST_HOUR) + 1)
    chart = Chart(
        f"{name}: hours of it",
        Axis(FIRST_HOUR, LAST_HOUR, "Hours", [(hour, str(hour)) for hour in hours]),
        up,
    )
    said = []
    for style, (box, title) in enumerate((("fresh_food", "fresh food"), ("freezer", "freezer"))):
        line = [from_si(value, "degF") for value in found[box]]
        chart.line(
            list(zip(found["hours"], line, strict=True)), style, title, (FIRST_HOUR + 0.05, max(line) + 2)
        )
        said.append(f"{title} {signed(min(line), 0)} to {signed(max(line), 0)} °F")
    for place, (lane, title) in enumerate(lanes):
        level = -16 - 8 * place
        for begin, end in _spans(found["hours"], found[lane]):
            chart.line([(begin, level), (end, level)], 0)
        share = sum(found[lane]) / len(found[lane])
        chart.line([], 0, title, (FIRST_HOUR + 0.05, level + 1))
        said.append(f"{title} {100 * share:.0f} % of the time")
    return chart.picture(f"{name} in a room at 77 °F, doors shut, three hours: {'; '.join(said)}.")


def _spans(hours, at_work) -> list[tuple[float, float]]:
    """Give begin and end of each stretch of work [h]."""
    spans, begin = [], None
    for hour, works in zip([*hours, hours[-1]], [*at_work, 0.0], strict=True):
        if works and begin is None:
            begin = hour
        elif not works and begin is not None:
            spans.append((begin, hour))
            begin = None
    return spans


def starving_coils(first: int, left: float) -> Picture:
    """Show which box warms as the charge goes, for both orders of coils.

    Parameters: ``first`` coil that the refrigerant meets first, 1 fresh food, 2 freezer; ``left`` part of the
    charge that is left [-].
    Returns: both boxes over the charge, and the place.
    """
    rows = [row[1:] for row in ORDERS if row[0] == first]
    percent = round(100 * left)
    across = Axis(30, 100, "Charge left (%)", [(mark, str(mark)) for mark in range(30, 101, 10)])
    up = Axis(-10, 60, "Air (°F)", [(mark, signed(mark, 0)) for mark in range(-10, 61, 10)])
    chart = Chart("Order of coils", across, up).rule(across=percent)
    for style, title in enumerate(("fresh food", "freezer")):
        points = [(row[0], row[1 + style]) for row in rows]
        chart.line(sorted(points), style, title, (75, rows[0][1 + style] + 3))
    at = next(row for row in rows if row[0] == percent)
    order = (
        "the fresh-food coil first, then the freezer's",
        "the freezer's coil first, then the fresh food's",
    )
    twin = (
        f"Refrigerant meets {order[first - 1]}. With {percent} % of the charge left the fresh food comes to "
        f"{signed(at[1], 0)} °F and the freezer to {signed(at[2], 0)} °F (means of a day, room 77 °F)."
    )
    return chart.picture(twin)


def drift_with_fan_off(still: float, box: float, coil: float, room: float) -> tuple[float, float, float]:
    """Work out how fast a box warms while its coil is cold and the fan stands still.

    Parameters: ``still`` conductance of still air between box and coil [W/K]; ``box``, ``coil``, ``room``
    temperatures [K].
    Returns: heat through the walls [W], heat to the coil [W], drift in an hour [K].
    """
    walls, carried = WALLS * (room - box), still * (box - coil)
    return walls, carried, 3600.0 * (walls - carried) / HEAT_CAPACITY


def with_fan_off(still: float, coil: float, room: float) -> Picture:
    """Show what still air carries while the fan stands still.

    Parameters: ``still`` conductance of still air [W/K]; ``coil``, ``room`` temperatures [K].
    Returns: two bars and the drift.
    """
    box = to_si(37.0, "degF")
    walls, carried, drift = drift_with_fan_off(still, box, coil, room)
    hourly = from_si(drift, "delta_degF")
    parts = []
    for place, (title, heat) in enumerate(
        (("in through the walls", walls), ("to the coil, by still air", carried))
    ):
        top = 40 + 90 * place
        parts += [
            words(20, top - 8, f"{title}: {heat:.1f} W", "start", "bold"),
            f'<rect x="20" y="{top}" width="{max(heat, 0) * 8:.1f}" height="34" stroke="currentColor" '
            f'style="fill:{colour(1 - place)}" fill-opacity="0.8"/>',
        ]
    verdict = "warms" if drift > 0.05 else "cools" if drift < -0.05 else "stays"
    parts.append(words(20, 232, f"The box {verdict}: {signed(hourly)} °F in an hour", "start", "bold"))
    twin = (
        f"Fan off, box {say_temperature(box, 0)}, room {say_temperature(room, 0)}, coil "
        f"{say_temperature(coil, 0)}. Walls: {WALLS:.2f} × {room - box:.1f} = {walls:.1f} W in. Still air: "
        f"{still:.2f} × {box - coil:.1f} = {carried:.1f} W to the coil. The box {verdict}, {signed(hourly)} "
        f"°F in an hour at first; with no still air it would be "
        f"{signed(from_si(3600 * walls / HEAT_CAPACITY, 'delta_degF'))} °F."
    )
    return Picture(sketch("Still air carries some", twin, parts, height=260), twin)


def two_returns(share: float, fresh_food: float, freezer: float, difference: float) -> Picture:
    """Show the mixed air that enters a lone coil, and the coil below it.

    Parameters: ``share`` of the air that comes from the fresh food [-]; ``fresh_food``, ``freezer``
    temperatures [K]; ``difference`` from air to coil [K].
    Returns: four temperatures on one scale.
    """
    mixed = share * fresh_food + (1 - share) * freezer
    coil = mixed - difference
    figures = [from_si(one, "degF") for one in (fresh_food, freezer)]
    twin = (
        f"{100 * share:.0f} % of the air comes from the fresh food: {share:.2f} × {signed(figures[0])} + "
        f"{1 - share:.2f} × {signed(figures[1])} = {say_temperature(mixed)} enters the coil. The coil is "
        f"{say_difference(difference)} colder: {say_temperature(coil)}."
    )
    rows = [(fresh_food, "fresh food"), (mixed, "mixed air"), (freezer, "freezer"), (coil, "coil")]
    return two_on_a_scale(
        "One coil, two returns", twin, fahrenheit_axis(-30, 50, 10, "Temperature (°F)"), rows
    )


def five_in_a_room(room: int) -> Picture:
    """Show the boxes of the five machines in a room.

    Parameters: ``room`` one of the rooms of the record [°F].
    Returns: five rows, and the figures.
    """
    rows = [row for row in FIVE if row[1] == room]
    axis = Axis(20, 70, "Fresh food, mean (°F)", [(mark, str(mark)) for mark in range(20, 71, 5)])
    chart = Chart("Five machines compared", axis, Axis(0, 6, "", []), height=370)
    chart.rule(across=32.0, label="freezes")
    said = []
    for place, (name, _, fresh_food, freezer, coldest, share, energy) in enumerate(rows):
        text = f"{name}: {signed(fresh_food)} °F, runs {100 * share:.0f} %"
        chart.marker(fresh_food, 5 - place, place % 4, text, "start", 5)
        said.append(
            f"{name}: fresh food {signed(fresh_food)} °F (coldest air {signed(coldest)} °F), freezer "
            f"{signed(freezer)} °F, runs {100 * share:.0f} % of the time, {energy:.2f} kWh a day"
        )
    return chart.picture(f"Room {room} °F, doors shut. {'. '.join(said)}.")
