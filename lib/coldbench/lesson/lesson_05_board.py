"""The pictures of lesson 05 about sensor and board together, each with its twin in words.

`shared_volts` shows how two resistors share the supply, `step_of_a_count` how coarse the board's steps are,
`side_by_side` what a meter shows when a second path lies beside the sensor, and `what_board_believes` what
comes of a sensor that is open, short, wet, loose, corroded or aged. `FAULTS` lists these.
"""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from coldbench.lesson.chart import Axis, Chart
from coldbench.lesson.lesson_05_pictures import (
    SENSOR,
    fahrenheit_axis,
    ohms_at,
    say_ohms,
    temperature_from,
    two_on_a_scale,
)
from coldbench.lesson.picture import Picture, colour, sketch, words
from coldbench.lesson.saying import say_temperature, signed
from coldbench.parts.sensor_board import board_temperature, temperature_tolerance
from coldbench.parts.sensor_circuit import (
    NEVER,
    converter_counts,
    divider_voltage,
    sensor_temperature,
    wired_resistance,
)
from coldbench.units import from_si, to_si

PULL_UP = 10_000.0  # invented
FULL_SCALE = 1023  # of ten bits
COIL = to_si(0.0, "degF")
WANTED = to_si(37.0, "degF")
CONTENT = to_si(1.0, "delta_degF")  # how far from the wanted temperature the board is still content


class Fault(NamedTuple):
    """A fault as ohms: in the wires, beside the sensor, a factor on its own; or off its clip."""

    name: str
    series_resistance: float = 0.0
    leak_resistance: float = NEVER
    drift: float = 1.0
    contact_with_coil: float = 0.0


FAULTS = (  # invented sizes
    Fault("none: a good sensor"),
    Fault("open: a wire is broken", series_resistance=NEVER),
    Fault("short: bare wires touch", leak_resistance=0.1),
    Fault("wet: 112 kΩ of water beside the sensor", leak_resistance=112_000.0),
    Fault("loose: it lies on the coil, at 0 °F", contact_with_coil=1.0),
    Fault("corroded contact: 6 kΩ in the wire", series_resistance=6_000.0),
    Fault("aged: 10 % more ohms than its curve", drift=1.1),
)


def shared_volts(temperature: float, pull_up_resistance: float, supply_voltage: float) -> Picture:
    """Show how the fixed resistor and the sensor share the supply.

    Parameters: ``temperature`` of the sensor [K]; ``pull_up_resistance`` fixed resistor on top [Ohm];
    ``supply_voltage`` of the divider [V].
    Returns: the circuit, with the volts over each resistor.
    """
    resistance = ohms_at(temperature)
    pin = divider_voltage(resistance, pull_up_resistance, supply_voltage)
    counts = converter_counts(pin, supply_voltage)
    top = supply_voltage - pin
    twin = (
        f"{supply_voltage:.1f} V over {say_ohms(pull_up_resistance)} fixed and, at "
        f"{say_temperature(temperature, 0)}, {say_ohms(resistance)} of sensor. The pin sees the sensor's "
        f"share: {supply_voltage:.1f} × {resistance / 1000:.1f} ÷ ({resistance / 1000:.1f} + "
        f"{pull_up_resistance / 1000:.1f}) = {pin:.2f} V. The fixed resistor keeps {top:.2f} V. "
        f"The converter makes {counts:.0f} counts of {FULL_SCALE:,}."
    )
    return Picture(sketch("Two resistors share the volts", twin, _divider_parts(
        f"supply {supply_voltage:.1f} V", f"fixed {say_ohms(pull_up_resistance)}",
        f"sensor {say_ohms(resistance)}", top / supply_voltage, f"{top:.2f} V", f"{pin:.2f} V",
        f"{counts:.0f} counts of {FULL_SCALE:,}",
    ), height=360), twin)  # fmt: skip


def step_of_a_count(temperature: float, pull_up_resistance: float) -> Picture:
    """Show how many degrees one count of the converter is.

    Parameters: ``temperature`` of the sensor [K]; ``pull_up_resistance`` fixed resistor on top [Ohm].
    Returns: degrees per count against temperature, and the place.
    """
    chart = _steps_background(pull_up_resistance).copy()
    shown, step = from_si(temperature, "degF"), degrees_per_count(temperature, pull_up_resistance)
    chart.rule(across=shown)
    chart.marker(shown, step, 1, f"{step:.2f} °F a count", "start" if shown < 80 else "end", -12)
    twin = (
        f"Fixed resistor {say_ohms(pull_up_resistance)}, sensor at {say_temperature(temperature, 0)} with "
        f"{say_ohms(ohms_at(temperature))}: one count of {FULL_SCALE:,} is {step:.2f} °F. "
        "Smaller changes the board can't see."
    )
    return chart.picture(twin)


def degrees_per_count(temperature: float, pull_up_resistance: float) -> float:
    """Give how many degrees one count of a ten-bit converter is.

    Parameters: ``temperature`` of the sensor [K]; ``pull_up_resistance`` fixed resistor on top [Ohm].
    Returns: step [°F].
    """
    chain = temperature_tolerance(temperature, *SENSOR, pull_up_resistance, 0.0, 0.0, 0.0)
    return from_si(2 * chain.converter, "delta_degF")


def side_by_side(resistance: float, path: float) -> Picture:
    """Show what a meter reads when a second path lies beside the sensor.

    Parameters: ``resistance`` of the sensor [Ohm]; ``path`` ohms beside it, infinite for none [Ohm].
    Returns: both paths and the meter.
    """
    together = wired_resistance(resistance, leak_resistance=path)
    alone = path == NEVER
    if alone:
        twin = (
            f"Unplugged, the meter shows the sensor alone: {say_ohms(resistance)}, "
            f"which is {say_temperature(temperature_from(resistance))}."
        )
    else:
        twin = (
            f"{say_ohms(resistance)} of sensor beside {say_ohms(path)}: {resistance / 1000:.1f} × "
            f"{path / 1000:.1f} ÷ ({resistance / 1000:.1f} + {path / 1000:.1f}) = {say_ohms(together)} on "
            f"the meter. Taken for the sensor's ohms that is {say_temperature(temperature_from(together))}; "
            f"the sensor is at {say_temperature(temperature_from(resistance))}."
        )
    parts = [
        f'<circle cx="110" cy="180" r="62" {_WIRE}/>',
        words(110, 165, "meter"),
        words(110, 195, say_ohms(together), weight="bold"),
        f'<path d="M172,180H240M400,180H490V320H110V242" {_WIRE}/>',
        *_resistor(240, 150, 160, 60, 1, f"sensor {say_ohms(resistance)}"),
    ]
    if not alone:
        parts.append(f'<path d="M206,180V70H240M400,70H456V180" {_WIRE}/>')
        parts += _resistor(240, 40, 160, 60, 0, f"path {say_ohms(path)}")
    return Picture(sketch("One lead off: a second path beside the sensor", twin, parts, height=350), twin)


def what_board_believes(air_temperature: float, fault: Fault) -> Picture:
    """Show what the board believes of the box's air, and what it does.

    Parameters: ``air_temperature`` in the box [K]; ``fault`` one of `FAULTS`.
    Returns: the air's temperature and the believed one on one scale.
    """
    resistance, believed = believes(air_temperature, fault)
    twin = (
        f"Air {say_temperature(air_temperature, 0)}; fault: {fault.name}. The board's pins see "
        f"{say_ohms(resistance)}, and it believes {say_temperature(believed)}. It wants "
        f"{say_temperature(WANTED, 0)}, so {what_it_does(believed)}"
    )
    axis = fahrenheit_axis(-60, 240, 20, "Temperature (°F)")
    rows = [(air_temperature, "air in the box"), (believed, "the board believes")]
    return two_on_a_scale("Open, short, wet, loose", twin, axis, rows, WANTED)


def believes(air_temperature: float, fault: Fault) -> tuple[float, float]:
    """Follow a fault from the sensor to what the board believes.

    Parameters: ``air_temperature`` in the box [K]; ``fault`` one of `FAULTS`.
    Returns: ohms at the board's pins [Ohm] and the temperature believed [K].
    """
    sound = ohms_at(sensor_temperature(COIL, air_temperature, fault.contact_with_coil))
    at_pins = wired_resistance(sound, fault.series_resistance, fault.leak_resistance, fault.drift)
    counts = converter_counts(divider_voltage(at_pins, PULL_UP, 5.0), 5.0)
    return at_pins, board_temperature(counts, PULL_UP, *SENSOR)


def what_it_does(believed: float) -> str:
    """Say what an old board does that believes any temperature.

    Parameters: ``believed`` temperature [K].
    Returns: the rest of a sentence.
    """
    if believed < WANTED - CONTENT:
        return "it lets the compressor rest, and the box gets warmer."
    if believed > WANTED + CONTENT:
        return "it keeps the compressor running, and the box gets colder."
    return "it is content and changes nothing."


_WIRE = 'fill="none" stroke="currentColor" stroke-width="2"'


def _resistor(x: float, y: float, width: float, height: float, style: int, text: str) -> list[str]:
    dashes = "none" if style == 0 else "8 4"
    return [
        f'<rect x="{x}" y="{y}" width="{width}" height="{height}" fill="none" stroke-width="3" '
        f'stroke-dasharray="{dashes}" style="stroke:{colour(style)}"/>',
        words(x + width / 2, y + height / 2 + 5, text, weight="bold"),
    ]


def _divider_parts(
    supply: str, fixed: str, sensor: str, top_share: float, top: str, pin: str, counts: str
) -> list[str]:
    bar_top, bar_height = 40.0, 280.0
    split = bar_top + top_share * bar_height
    return [
        words(130, 28, supply, weight="bold"),
        f'<path d="M130,40V60M130,140V220M130,300V324M100,324H160M112,331H148M122,338H138" {_WIRE}/>',
        *_resistor(45, 60, 170, 80, 0, fixed),
        *_resistor(45, 220, 170, 80, 1, sensor),
        words(130, 355, "ground"),
        f'<path d="M130,180H290" {_WIRE}/><circle cx="130" cy="180" r="5"/>',
        words(300, 172, f"pin {pin}", "start", "bold"),
        words(300, 196, counts, "start"),
        f'<rect x="470" y="{bar_top}" width="40" height="{split - bar_top:.1f}" opacity="0.85" '
        f'style="fill:{colour(0)}"/>',
        f'<rect x="470" y="{split:.1f}" width="40" height="{bar_top + bar_height - split:.1f}" fill="none" '
        f'stroke-width="3" stroke-dasharray="8 4" style="stroke:{colour(1)}"/>',
        words(522, (bar_top + split) / 2 + 5, f"fixed {top}", "start"),
        words(522, (split + bar_top + bar_height) / 2 + 5, f"sensor {pin}", "start"),
        words(490, 340, "shares"),
    ]


@cache
def _steps_background(pull_up_resistance: float) -> Chart:
    up = Axis(0, 2, "One count (°F)", [(mark / 4, f"{mark / 4:.2f}") for mark in range(9)])
    chart = Chart("Where the steps are coarse", fahrenheit_axis(-40, 200, 20), up)
    steps = [(one, degrees_per_count(to_si(one, "degF"), pull_up_resistance)) for one in range(-40, 201, 2)]
    inside = [point for point in steps if point[1] <= 2]
    return chart.line(inside, 0, f"fixed resistor {signed(pull_up_resistance / 1000)} kΩ", (60, 1.85))
