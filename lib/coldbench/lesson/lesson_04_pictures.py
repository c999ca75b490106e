"""The pictures of lesson 04, each with its twin in words.

What is inside, in the lesson's order: `walk`, six clamps round the circuit; `filling`, what the pressure
ratio does to a stroke; `flow`, strokes per second; `flash`, what leaves the capillary; `enthalpies`, the
pressure-enthalpy picture; `watts`, where they go; `exchanger`, the pipe beside the capillary; `faults`, three
of them on one pair of gauges; `order_of_coils`, which of two starves.
"""

from __future__ import annotations

from functools import cache
from math import log10

from coldbench.cycle import Cycle, State
from coldbench.lesson.chart import Axis, Chart
from coldbench.lesson.lesson_04_machine import (
    BENCH,
    BOX,
    REFRIGERANT,
    ROOM,
    at,
    say_flow,
    say_heat,
    say_per_kilogram,
    two_coils,
)
from coldbench.lesson.picture import Picture, colour, sketch, words
from coldbench.lesson.saying import say_absolute, say_difference, say_gauge, say_temperature, signed
from coldbench.parts.compressor import compressor_flow, volumetric_efficiency
from coldbench.properties.refrigerant import (
    latent_heat,
    liquid_enthalpy,
    saturation_pressure,
    vapor_density,
    vapor_enthalpy,
)
from coldbench.units import from_si, to_si

PLACES = {
    "compressor_inlet": ("A", "suction pipe at the compressor"),
    "compressor_outlet": ("B", "discharge pipe"),
    "condenser_outlet": ("C", "liquid pipe after the condenser"),
    "capillary_inlet": ("D", "liquid, after it gave heat to the suction pipe"),
    "coil_inlet": ("E", "coil inlet"),
    "coil_outlet": ("F", "coil outlet"),
}
PSIA = (5, 10, 20, 50, 100, 200, 400)


def fahrenheit(temperature: float) -> float:
    """Give a temperature in °F.

    Parameters: ``temperature`` [K].
    Returns: float [°F].
    """
    return from_si(temperature, "degF")


def _short(temperature: float) -> str:
    return f"{signed(fahrenheit(temperature), 0)} °F"


# Round the circuit


def walk(box: float = BOX, room: float = ROOM) -> Picture:
    """Show six clamps round the circuit as steps of temperature.

    Parameters: ``box`` and ``room`` temperatures [K].
    Returns: the picture.
    """
    cycle = at(box, room).cycle
    up = Axis(-40, 280, "Temperature (°F)", [(mark, signed(mark, 0)) for mark in range(-40, 281, 40)])
    across = Axis(
        0.4, 7.4, "Place", [(place + 1, letter) for place, (letter, _) in enumerate(PLACES.values())]
    )
    chart = Chart("Round the circuit: six clamps", across, up)
    chart.rule(up=fahrenheit(room), label=f"room {_short(room)}")
    chart.rule(up=fahrenheit(box), label=f"box {_short(box)}")
    points = [(place + 1, fahrenheit(state.temperature)) for place, state in enumerate(cycle.points.values())]
    chart.line([*points], 0)
    below = {5: "end", 6: "start"}  # coil inlet and outlet are often alike
    for (place, degrees), style in zip(points, (1, 1, 2, 2, 0, 0), strict=True):
        side, lift = (below[place], 22) if place in below else ("start", -8)
        chart.marker(place, degrees, style, f"{signed(degrees, 0)} °F", side, lift)
    said = "; ".join(
        f"{PLACES[name][0]} {PLACES[name][1]} {say_temperature(state.temperature, 0)}"
        for name, state in cycle.points.items()
    )
    return chart.picture(
        f"{said}. The middle of the condenser is at {say_temperature(cycle.condensing_temperature, 0)}. Low "
        f"side {say_gauge(cycle.suction_pressure)}, high side {say_gauge(cycle.discharge_pressure)}."
    )


# Strokes and ratio


def filling(evaporating_temperature: float, condensing_temperature: float) -> Picture:
    """Show how much of a stroke is filled at a pressure ratio.

    Parameters: ``evaporating_temperature`` and ``condensing_temperature`` [K].
    Returns: the picture.
    """
    low = saturation_pressure(REFRIGERANT, evaporating_temperature)
    high = saturation_pressure(REFRIGERANT, condensing_temperature)
    ratio = high / low
    filled = volumetric_efficiency(ratio)
    across = Axis(1, 25, "Pressure ratio, absolute", [(mark, str(mark)) for mark in (1, 5, 10, 15, 20, 25)])
    up = Axis(
        0, 100, "Share of the stroke that is filled (%)", [(mark, str(mark)) for mark in range(0, 101, 20)]
    )
    chart = Chart("Strokes and ratio", across, up)
    chart.line([(one / 2, 100 * volumetric_efficiency(one / 2)) for one in range(2, 51)], 0)
    chart.rule(across=ratio)
    chart.marker(
        ratio, 100 * filled, 1, f"ratio {ratio:.1f}: {100 * filled:.0f} %", "end" if ratio > 16 else "start"
    )
    gauges = ""
    if low > to_si(1.0, "psig"):
        wrong = from_si(high, "psig") / from_si(low, "psig")
        gauges = f" Dividing the two gauge readings would give {wrong:.1f}, and means nothing."
    return chart.picture(
        f"High side {say_absolute(high)}, low side {say_absolute(low)}: ratio {from_si(high, 'psia'):.2f} ÷ "
        f"{from_si(low, 'psia'):.2f} = {ratio:.1f}. Each stroke fills to {100 * filled:.0f} % of its "
        f"volume.{gauges}"
    )


# Strokes per second


def flow(speed: float, evaporating_temperature: float) -> Picture:
    """Show what the compressor moves, as a line over its speed.

    Parameters: ``speed`` [rev/s]; ``evaporating_temperature`` [K].
    Returns: the picture.
    """
    condensing = to_si(110.0, "degF")
    density = vapor_density(REFRIGERANT, evaporating_temperature)
    ratio = saturation_pressure(REFRIGERANT, condensing) / saturation_pressure(
        REFRIGERANT, evaporating_temperature
    )
    rpm = from_si(speed, "rpm")
    moved = compressor_flow(BENCH.displacement, speed, density, ratio)
    across = Axis(0, 4500, "Speed (rpm)", [(mark, f"{mark:,}") for mark in range(0, 4501, 1000)])
    up = Axis(0, 2.5, "Refrigerant (g/s)", [(mark / 2, str(mark / 2)) for mark in range(6)])
    chart = Chart("Strokes per second", across, up)
    per_turn = moved / speed * 1e3
    chart.line([(0, 0), (4500, per_turn * to_si(4500.0, "rpm"))], 0)
    chart.rule(across=rpm)
    chart.marker(rpm, moved * 1e3, 1, f"{moved * 1e3:.2f} g/s", "end" if rpm > 3000 else "start", 24)
    cubic_inches = BENCH.displacement / 0.0254**3
    return chart.picture(
        f"{BENCH.displacement * 1e6:.1f} cm³ a turn ({cubic_inches:.2f} in³) × {signed(rpm, 0)} ÷ 60 turns "
        f"a second × {volumetric_efficiency(ratio):.2f} filled × {density:.2f} kg/m³ = {say_flow(moved)}. "
        f"Vapour as it boils at {say_temperature(evaporating_temperature, 0)}, condensing at 110 °F."
    )


# What leaves the capillary


def flash(evaporating_temperature: float, liquid_temperature: float) -> Picture:
    """Show how much of each kilogram is vapour already when it leaves the capillary.

    Parameters: ``evaporating_temperature`` and ``liquid_temperature`` before the capillary [K].
    Returns: the picture.
    """
    start = liquid_enthalpy(REFRIGERANT, liquid_temperature)
    liquid = liquid_enthalpy(REFRIGERANT, evaporating_temperature)
    whole = latent_heat(REFRIGERANT, evaporating_temperature)
    share = max(start - liquid, 0.0) / whole
    left, width, top, tall = 40, 560, 70, 60
    edge = left + width * share
    parts = [
        words(left, 40, "One kilogram as it enters the coil", "start", "bold"),
        f'<rect x="{left}" y="{top}" width="{edge - left:.1f}" height="{tall}" style="fill:{colour(1)}" '
        'opacity="0.45"/>',
        f'<rect x="{edge:.1f}" y="{top}" width="{left + width - edge:.1f}" height="{tall}" '
        f'style="fill:{colour(0)}" opacity="0.45"/>',
        f'<rect x="{left}" y="{top}" width="{width}" height="{tall}" fill="none" stroke="currentColor"/>',
        words((left + edge) / 2, top + 35, f"vapour {100 * share:.0f} %", weight="bold"),
        words((edge + left + width) / 2, top + 35, f"liquid {100 * (1 - share):.0f} %", weight="bold"),
        words((left + edge) / 2, top + tall + 22, "boiled off on the way"),
        words(
            (edge + left + width) / 2,
            top + tall + 22,
            f"left to cool the box: {(whole * (1 - share)) / 1e3:.0f} kJ",
        ),
    ]
    twin = (
        f"Liquid at {say_temperature(liquid_temperature, 0)} enters the capillary, the coil boils at "
        f"{say_temperature(evaporating_temperature, 0)}: {100 * share:.0f} % of each kilogram has boiled "
        "off already, to cool the rest. Cooling per kg: "
        f"{vapor_enthalpy(REFRIGERANT, evaporating_temperature) / 1e3:.0f} − {start / 1e3:.0f} = "
        f"{say_per_kilogram(whole * (1 - share))}; the whole latent heat would be {whole / 1e3:.0f} kJ/kg."
    )
    return Picture(sketch("What leaves the capillary", twin, parts, height=180), twin)


# Pressure-enthalpy picture


@cache
def _dome() -> Chart:
    across = Axis(150, 500, "Heat content (kJ/kg)", [(mark, str(mark)) for mark in range(150, 501, 50)])
    up = Axis(log10(4), log10(500), "Absolute pressure (psia)", [(log10(mark), str(mark)) for mark in PSIA])
    chart = Chart(f"Pressure–enthalpy picture of {REFRIGERANT}", across, up)
    kelvins = [235.0 + 2 * step for step in range(64)]
    for content, label, place in (
        (liquid_enthalpy, "liquid", (170, log10(60))),
        (vapor_enthalpy, "vapour", (440, log10(12))),
    ):
        chart.line(
            [_spot(content(REFRIGERANT, one), saturation_pressure(REFRIGERANT, one)) for one in kelvins], 0
        )
        chart.line([], 0, label, place)
    return chart.line([], 0, "mixture", (275, log10(60)))


def _spot(enthalpy: float, pressure: float) -> tuple[float, float]:
    return enthalpy / 1e3, log10(from_si(pressure, "psia"))


def _loop(chart: Chart, cycle: Cycle, style: int, letters: bool) -> None:
    spots = {name: _spot(state.enthalpy, state.pressure) for name, state in cycle.points.items()}
    chart.line([*spots.values(), spots["compressor_inlet"]], style)
    sides = {"C": ("start", -10), "D": ("end", -10), "E": ("end", 22), "F": ("end", -10), "A": ("start", 22)}
    for name, (across, up) in spots.items():
        letter = PLACES[name][0]
        anchor, lift = sides.get(letter, ("start", -8))
        chart.marker(across, up, style, letter if letters else "", anchor, lift)


def enthalpies(box: float, room: float, speed: float, exchange: float) -> Picture:
    """Show the circuit in the pressure-enthalpy picture.

    Parameters: ``box`` and ``room`` temperatures [K]; ``speed`` [rev/s]; ``exchange`` effectiveness [-].
    Returns: the picture.
    """
    cycle = at(box, room, speed, exchange).cycle
    chart = _dome().copy()
    _loop(chart, cycle, 1, letters=True)
    points = cycle.points
    twin = (
        f"Low side {say_gauge(cycle.suction_pressure)}, boils at "
        f"{say_temperature(cycle.evaporating_temperature, 0)}; high side "
        f"{say_gauge(cycle.discharge_pressure)}, condenses at "
        f"{say_temperature(cycle.condensing_temperature, 0)}; ratio {cycle.pressure_ratio:.1f}. E to F, "
        f"cooling: {_between(points['coil_inlet'], points['coil_outlet'])} × {say_flow(cycle.mass_flow)} = "
        f"{say_heat(cycle.capacity)}. The compressor draws {cycle.power:.0f} W: "
        f"{cycle.coefficient_of_performance:.2f} W of cooling for each watt. Discharge pipe (B) "
        f"{say_temperature(points['compressor_outlet'].temperature, 0)}, superheat "
        f"{say_difference(cycle.superheat)}, subcooling {say_difference(cycle.subcooling)}."
    )
    return chart.picture(twin)


def _between(start: State, end: State) -> str:
    return f"{(end.enthalpy - start.enthalpy) / 1e3:.0f} kJ/kg"


# Where the watts go


def watts(box: float, room: float, speed: float) -> Picture:
    """Show heat and work in, heat out, as two bars of one length.

    Parameters: ``box`` and ``room`` temperatures [K]; ``speed`` [rev/s].
    Returns: the picture.
    """
    cycle = at(box, room, speed).cycle
    scale = 480 / 350.0
    rows = (
        (50, "in", ((cycle.capacity, 0, "from the box"), (cycle.power, 1, "from the socket"))),
        (150, "out", ((cycle.heat_rejected, 2, "condenser"), (cycle.shell_heat, 3, "shell"))),
    )
    parts = []
    for top, name, pieces in rows:
        left = 60.0
        parts.append(words(50, top + 35, name, "end", "bold"))
        for amount, style, label in pieces:
            width = amount * scale
            parts += [
                f'<rect x="{left:.1f}" y="{top}" width="{width:.1f}" height="56" opacity="0.5" '
                f'style="fill:{colour(style)}" stroke="currentColor"/>',
                words(left + width / 2, top - 8, label),
                words(left + width / 2, top + 34, f"{amount:.0f} W", weight="bold"),
            ]
            left += width
    twin = (
        f"In: {say_heat(cycle.capacity)} from the box and {cycle.power:.0f} W from the socket. Out, into "
        f"the room: {say_heat(cycle.heat_rejected)} at the condenser and {cycle.shell_heat:.0f} W at the "
        f"compressor's shell. Both are {cycle.capacity + cycle.power:.0f} W."
    )
    return Picture(sketch("Where the watts go", twin, parts, height=230), twin)


# Suction-line exchange


def exchanger(exchange: float) -> Picture:
    """Show the circuit with and without the pipe beside the capillary.

    Parameters: ``exchange`` effectiveness [-].
    Returns: the picture.
    """
    found, bare = at(exchange=exchange).cycle, at(exchange=0.0).cycle
    chart = _dome().copy()
    _loop(chart, bare, 2, letters=False)
    _loop(chart, found, 1, letters=True)
    suction, liquid = found.points["compressor_inlet"], found.points["capillary_inlet"]
    twin = (
        f"Suction pipe at the compressor {say_temperature(suction.temperature, 0)}, liquid before the "
        f"capillary {say_temperature(liquid.temperature, 0)}, vapour behind it "
        f"{100 * found.points['coil_inlet'].quality:.0f} %. Cooling per kg "
        f"{say_per_kilogram(found.cooling_effect)}, flow {say_flow(found.mass_flow)}, cooling "
        f"{say_heat(found.capacity)}, {found.power:.0f} W; discharge pipe "
        f"{say_temperature(found.points['compressor_outlet'].temperature, 0)}. Without exchanger (dotted): "
        f"{bare.cooling_effect / 1e3:.0f} kJ/kg, {bare.mass_flow * 1e3:.2f} g/s, {bare.capacity:.0f} W."
    )
    return chart.picture(twin)


# Three faults, one pair of gauges


def faults(fault: str) -> Picture:
    """Show a fault of the circuit beside the sound one.

    Parameters: ``fault`` a name of `coldbench.lesson.lesson_04_machine.FAULTS`.
    Returns: the picture.
    """
    balance, sound = at(fault=fault), at().cycle
    sick = balance.cycle
    chart = _dome().copy()
    _loop(chart, sound, 2, letters=False)
    _loop(chart, sick, 1, letters=True)
    twin = (
        f"Wrong: {fault}. Low side {say_gauge(sick.suction_pressure)} (sound "
        f"{say_gauge(sound.suction_pressure)}), high side {say_gauge(sick.discharge_pressure)} "
        f"({say_gauge(sound.discharge_pressure)}), superheat {say_difference(sick.superheat)}, subcooling "
        f"{say_difference(sick.subcooling)} (sound {say_difference(sound.subcooling)}). "
        f"{100 * balance.wet_share[0]:.0f} % of the coil is wet; cooling {say_heat(sick.capacity)} (sound "
        f"{sound.capacity:.0f} W), {sick.power:.0f} W ({sound.power:.0f} W)."
    )
    return chart.picture(twin)


# Order of coils


def order_of_coils(first: str, charge_share: float) -> Picture:
    """Show how two coils in one loop share the cooling.

    Parameters: ``first`` the coil that refrigerant meets first, "fresh food" or "freezer"; ``charge_share``
    of its charge [-].
    Returns: the picture.
    """
    balance = two_coils(first == "fresh food", charge_share)
    names = ("fresh food", "freezer") if first == "fresh food" else ("freezer", "fresh food")
    parts, said = [], []
    for place, (name, heat, wet) in enumerate(zip(names, balance.coil_heat, balance.wet_share, strict=True)):
        top = 60 + 110 * place
        parts += [
            words(30, top - 10, f"{('first', 'second')[place]}: {name} coil", "start", "bold"),
            f'<rect x="30" y="{top}" width="{500 * wet:.1f}" height="46" opacity="0.5" '
            f'style="fill:{colour(place)}"/>',
            f'<rect x="30" y="{top}" width="500" height="46" fill="none" stroke="currentColor"/>',
            words(280, top + 28, f"{100 * wet:.0f} % wet"),
            words(540, top + 28, f"{heat:.0f} W", "start", "bold"),
        ]
        said.append(f"{name} coil {100 * wet:.0f} % wet, {say_heat(heat)}")
    twin = (
        f"With {100 * charge_share:.0f} % of the charge, {first} coil first: {said[0]}; then {said[1]}. It "
        f"boils at {say_temperature(balance.cycle.evaporating_temperature, 0)}."
    )
    return Picture(sketch("Order of coils", twin, parts, height=250), twin)
