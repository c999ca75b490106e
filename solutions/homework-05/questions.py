"""Homework 05, Resistance tells temperature: questions, keys, wrong ideas, worked answers.

Readings of simulated machines lie in the table beside this file, made by
``tests/studies/make_simulated_readings.py``.
"""

import math
from pathlib import Path

from coldbench import units
from coldbench.homework.declare import Derived, Homework, OneOf, Steps, Tolerance
from coldbench.homework.kinds import Number, Sentence, Table
from coldbench.homework.tickets import Tickets
from coldbench.parts.thermistor import beta_resistance, beta_temperature

RESISTANCE_25 = 10_000.0  # [Ohm], invented
BETA = 3950.0  # [K], invented
AT_25 = 298.15  # [K]

homework = Homework(
    number="05",
    title="Resistance tells temperature",
    lesson="course/05-resistance-tells-temperature",
    story=(
        "A drawer of unmarked sensors lies on the bench of a night-school shop. All are of one kind: 10 kΩ "
        "at "
        "77 °F (25 °C), B = 3950 K. Sort out the good ones, then find out what the board makes of the bad "
        "ones."
    ),
    cautions=(
        "Ohms are measured with the machine's plug out, the board's capacitor checked empty, and the sensor "
        "unplugged from the board. An ice bath stands away from anything live: dry hands, dry bench. On a "
        "real "
        "machine the maker's table of the sensor holds, not this one."
    ),
)


def resistance_at(temperature: float) -> float:
    return beta_resistance(temperature, RESISTANCE_25, BETA)


def temperature_at(resistance: float) -> float:
    return beta_temperature(resistance, RESISTANCE_25, BETA)


def kilohms(resistance: float) -> str:
    return f"{resistance / 1000:.1f} kΩ"


def celsius(temperature: float) -> str:
    return f"{units.from_si(temperature, 'degC'):.1f} °C"


def fahrenheit(temperature: float) -> str:
    return f"{units.from_si(temperature, 'degF'):.1f} °F"


def from_celsius(celsius_figure: float) -> float:
    return units.to_si(celsius_figure, "degC")


def without_kelvin(resistance: float) -> float:
    """Put °C where the formula wants kelvin."""
    return from_celsius(1 / (1 / 25 + math.log(resistance / RESISTANCE_25) / BETA))


def mirrored(resistance: float) -> float:
    """Let the ohms rise with the temperature."""
    return temperature_at(RESISTANCE_25**2 / resistance)


def with_common_logarithm(resistance: float) -> float:
    return 1 / (1 / AT_25 + math.log10(resistance / RESISTANCE_25) / BETA)


def without_32(temperature: float) -> float:
    """Turn °C into °F by the factor alone."""
    return units.to_si(1.8 * units.from_si(temperature, "degC"), "degF")


def by_the_formula(resistance: float) -> str:
    temperature = temperature_at(resistance)
    ratio = resistance / RESISTANCE_25
    return (
        f"1/T = 1/298.15 + ln({resistance / 1000:.1f}/10) / 3950 = 1/298.15 + {math.log(ratio):.3f}/3950, so "
        f"T = {temperature:.1f} K = {celsius(temperature)}, times 1.8 and plus 32: {fahrenheit(temperature)}"
    )


# ---------------------------------------------------------------------------------------------------------
from_ohms = homework.question(
    "05.1",
    title="From ohms to temperature",
    points=2,
    kind=Number("temperature", "degF", 1, "61.5 degF"),
    wording=(
        "The first sensor lies in a cold box, unplugged; the meter shows {resistance}. How cold is the "
        "sensor? "
        "Type a temperature with its unit."
    ),
    read_again="Kelvin counts from true zero",
    draw=(
        Steps("temperature", 0.0, 45.0, 0.1, "degF", hidden=True),
        Derived("resistance", 0.1, "kohm", "{:.1f} kΩ", lambda drawn: resistance_at(drawn.temperature)),
    ),
    tolerance=Tolerance("the meter and a good sensor together are good to about a degree", within=1.0),
)


@from_ohms.key
def _(numbers, earlier):
    return temperature_at(numbers.resistance)


@from_ohms.wrong("celsius_for_kelvin")
def _(numbers, earlier):
    return without_kelvin(numbers.resistance)


@from_ohms.wrong("ohms_rise_with_temperature")
def _(numbers, earlier):
    return mirrored(numbers.resistance)


@from_ohms.wrong("log10_for_ln")
def _(numbers, earlier):
    return with_common_logarithm(numbers.resistance)


@from_ohms.wrong("offset_32_forgotten")
def _(numbers, earlier):
    return without_32(temperature_at(numbers.resistance))


@from_ohms.worked
def _(numbers, earlier):
    return f"{by_the_formula(numbers.resistance)}. More ohms than at 25 °C, so colder than 25 °C."


# ---------------------------------------------------------------------------------------------------------
to_ohms = homework.question(
    "05.2",
    title="From temperature to ohms",
    points=2,
    kind=Number("resistance", "kohm", 1, "15.8 kohm"),
    wording=(
        "A good sensor hangs in a fresh-food box at {box_air_temperature}. What should the meter show across "
        "the unplugged sensor? Type it with its unit."
    ),
    read_again="Negative temperature coefficient",
    draw=(Steps("box_air_temperature", 34.0, 42.0, 0.1, "degF", "{:.1f} °F"),),
    tolerance=Tolerance("one degree Fahrenheit is 2.8 % of the ohms here", percent=3.0),
    possible=(1.0, 1000.0),
)


def exponent(temperature: float) -> float:
    return BETA * (1 / temperature - 1 / AT_25)


@to_ohms.key
def _(numbers, earlier):
    return resistance_at(numbers.box_air_temperature)


@to_ohms.wrong("ohms_rise_with_temperature")
def _(numbers, earlier):
    return RESISTANCE_25 * math.exp(-exponent(numbers.box_air_temperature))


@to_ohms.wrong("log10_for_ln")
def _(numbers, earlier):
    return RESISTANCE_25 * 10 ** exponent(numbers.box_air_temperature)


@to_ohms.wrong("offset_32_forgotten")
def _(numbers, earlier):
    return resistance_at(from_celsius(numbers.typed["box_air_temperature"] / 1.8))


@to_ohms.worked
def _(numbers, earlier):
    temperature = numbers.box_air_temperature
    return (
        f"T = ({numbers.typed['box_air_temperature']:.1f} − 32) / 1.8 + 273.15 = {temperature:.2f} K. "
        f"R = 10 kΩ × e^(3950 × (1/{temperature:.2f} − 1/298.15)) = 10 kΩ × e^{exponent(temperature):.3f} = "
        f"{kilohms(earlier['05.2'])}."
    )


# ---------------------------------------------------------------------------------------------------------
ROWS = {
    fahrenheit_figure: round(resistance_at(units.to_si(fahrenheit_figure, "degF")) / 1000, 1)
    for fahrenheit_figure in range(-4, 51, 9)
}
"""The printed table: °F to kΩ, each row 9 °F (5 K) from the next."""

table_lines = "\n".join(f"   {figure} °F: {kilohm:.1f} kΩ" for figure, kilohm in ROWS.items())

from_table = homework.question(
    "05.3",
    title="From the table, between two rows",
    points=2,
    kind=Number("temperature", "degF", 1, "-1.5 degF"),
    wording=(
        "On the wall hangs a table of this sensor:\n" + table_lines + "\nThe next sensor shows "
        "{table_resistance}. What is its temperature, from the table? Type a temperature with its unit."
    ),
    read_again="Interpolation and its error",
    draw=(
        Steps("table_temperature", 10.0, 36.0, 0.1, "degF", hidden=True),
        Derived(
            "table_resistance", 0.1, "kohm", "{:.1f} kΩ", lambda drawn: resistance_at(drawn.table_temperature)
        ),
    ),
    tolerance=Tolerance("a straight line between neighbouring rows is off by up to 0.4 °F", within=0.8),
)


def on_line(kilohm: float, cold: int, warm: int) -> float:
    """Read a temperature [K] on the straight line between two rows, given by their °F."""
    share = (ROWS[cold] - kilohm) / (ROWS[cold] - ROWS[warm])
    return units.to_si(cold + share * (warm - cold), "degF")


def neighbours(kilohm: float) -> tuple[int, int]:
    warm = next(figure for figure, row in ROWS.items() if row <= kilohm)
    return warm - 9, warm


@from_table.key
def _(numbers, earlier):
    kilohm = numbers.typed["table_resistance"]
    return on_line(kilohm, *neighbours(kilohm))


@from_table.wrong("far_straight_line")
def _(numbers, earlier):
    return on_line(numbers.typed["table_resistance"], min(ROWS), max(ROWS))


@from_table.wrong("ohms_rise_with_temperature")
def _(numbers, earlier):
    """Count from the row with fewer ohms."""
    kilohm = numbers.typed["table_resistance"]
    cold, warm = neighbours(kilohm)
    middle = units.to_si((cold + warm) / 2, "degF")
    return 2 * middle - on_line(kilohm, cold, warm)


@from_table.worked
def _(numbers, earlier):
    kilohm = numbers.typed["table_resistance"]
    cold, warm = neighbours(kilohm)
    return (
        f"{kilohm:.1f} kΩ lies between the rows {cold} °F ({ROWS[cold]:.1f} kΩ) and {warm} °F "
        f"({ROWS[warm]:.1f} kΩ). "
        f"From the colder row it is ({ROWS[cold]:.1f} − {kilohm:.1f}) / ({ROWS[cold]:.1f} − "
        f"{ROWS[warm]:.1f}) = "
        f"{(ROWS[cold] - kilohm) / (ROWS[cold] - ROWS[warm]):.2f} of the way, and 9 °F are between the rows: "
        f"{fahrenheit(earlier['05.3'])}."
    )


# ---------------------------------------------------------------------------------------------------------
divider = homework.question(
    "05.4",
    title="What the board's pin sees",
    points=3,
    kind=Number("voltage", "V", 2, "1.85 V"),
    wording=(
        "The sensor of 05.2 is plugged in. On the board {supply_voltage} feeds a fixed resistor of "
        "{fixed_resistance}; from there the sensor goes to ground, and the pin reads the volts between the "
        "two, across the sensor. What voltage does the pin see? Type it with its unit."
    ),
    read_again="Two resistors share the volts",
    draw=(
        OneOf("supply_voltage", (3.3, 5.0), "V", "{:.1f} V"),
        OneOf("fixed_resistance", (6.8, 10.0, 15.0), "kohm", "{:.1f} kΩ"),
    ),
    tolerance=Tolerance(
        "a fixed resistor is good to one percent, and the meter to about as much", percent=2.0
    ),
    uses=("05.2",),
)


@divider.key
def _(numbers, earlier):
    resistance = earlier["05.2"]
    return numbers.supply_voltage * resistance / (resistance + numbers.fixed_resistance)


@divider.wrong("divider_upside_down")
def _(numbers, earlier):
    fixed = numbers.fixed_resistance
    return numbers.supply_voltage * fixed / (earlier["05.2"] + fixed)


@divider.worked
def _(numbers, earlier):
    sensor, fixed = earlier["05.2"] / 1000, numbers.typed["fixed_resistance"]
    return (
        f"The two resistors share the supply, and the pin sees the sensor's share: "
        f"{numbers.typed['supply_voltage']:.1f} V × {sensor:.1f} / ({sensor:.1f} + {fixed:.1f}) = "
        f"{earlier['05.4']:.2f} V."
    )


# ---------------------------------------------------------------------------------------------------------
# °C put for T is not declared here: it gives an error of nearly nothing, and so do many other ways.
sensor_tolerance = homework.question(
    "05.5",
    title="How good is a sensor?",
    points=2,
    kind=Number("temperature difference", "delta_degF", 2, "2.40 degF"),
    wording=(
        "The drawer's label says: ohms within ±{ohms_tolerance}. Such a sensor hangs in a freezer at "
        "{freezer_air_temperature}. By how many degrees Fahrenheit may its temperature be off, at most? "
        "Type the size of the error to one side with its unit."
    ),
    read_again="Tolerance, from ohms to degrees",
    draw=(
        OneOf("ohms_tolerance", (1.0, 2.0, 3.0, 5.0), "%", "{:.0f} %"),
        Steps("freezer_air_temperature", -8.0, 8.0, 0.1, "degF", "{:.1f} °F"),
    ),
    accept=lambda drawn: abs(units.from_si(drawn.freezer_air_temperature, "degF")) >= 2,
    tolerance=Tolerance("the slope of the curve may be rounded or read from the table", percent=8.0),
)


@sensor_tolerance.key
def _(numbers, earlier):
    return numbers.ohms_tolerance * numbers.freezer_air_temperature**2 / BETA


@sensor_tolerance.wrong("ohms_percent_is_degree_percent")
def _(numbers, earlier):
    return units.to_si(numbers.ohms_tolerance * abs(numbers.typed["freezer_air_temperature"]), "delta_degF")


@sensor_tolerance.wrong("difference_with_32")
def _(numbers, earlier):
    right = numbers.ohms_tolerance * numbers.freezer_air_temperature**2 / BETA
    return right + units.to_si(32, "delta_degF")


@sensor_tolerance.wrong("offset_32_forgotten")
def _(numbers, earlier):
    temperature = from_celsius(numbers.typed["freezer_air_temperature"] / 1.8)
    return numbers.ohms_tolerance * temperature**2 / BETA


@sensor_tolerance.worked
def _(numbers, earlier):
    temperature = numbers.freezer_air_temperature
    error = earlier["05.5"]
    return (
        f"{numbers.shown['freezer_air_temperature']} is T = {temperature:.1f} K. Error = tolerance × T² / B "
        f"= "
        f"{numbers.ohms_tolerance:.2f} × {temperature:.1f}² / 3950 = {error:.3f} K. It is a difference, so "
        f"times 1.8 and nothing added: {units.from_si(error, 'delta_degF'):.2f} °F."
    )


# ---------------------------------------------------------------------------------------------------------
bad_sensors = homework.question(
    "05.6",
    title="Open, short, wet, loose",
    points=2,
    kind=Table(
        rows={
            "open": "a wire to the sensor is broken",
            "short": "the two wires touch bare metal to bare metal",
            "wet": "water in the connector: a second path beside the sensor",
            "loose": "the sensor is off its clip and lies on the coil",
        },
        options={
            "A": "the right temperature: nothing changes",
            "B": "very hot: the compressor runs on, the box gets too cold",
            "C": "the coil in place of the air: the compressor rests too soon, the box gets too warm",
            "D": "very cold: the compressor rests, the box gets too warm",
            "E": "the air, but somewhat colder than it is: too long rests, the box gets too warm",
            "F": "the air, but somewhat warmer than it is: too long runs, the box gets too cold",
        },
    ),
    wording=(
        "An old board turns ohms into a temperature and believes whatever comes out (newer boards notice an "
        "open or a shorted sensor). It controls a fresh-food box by one sensor in the box's air. What does "
        "the "
        "board see in each case, and what does the box do? Type one letter for each row."
    ),
    read_again="Open, short, wet, loose",
)


@bad_sensors.key
def _(numbers, earlier):
    return {"open": "D", "short": "B", "wet": "F", "loose": "C"}


bad_sensors.wrong("open_hot_short_cold", gives={"open": "B", "short": "D", "wet": "F", "loose": "C"})
bad_sensors.wrong("ohms_rise_with_temperature", gives={"open": "B", "short": "D", "wet": "E", "loose": "C"})
bad_sensors.wrong("parallel_path_ignored", gives={"open": "D", "short": "B", "wet": "A", "loose": "C"})


@bad_sensors.worked
def _(numbers, earlier):
    return (
        "The sensor's ohms fall as it warms. Open: endless ohms, so very cold (D). Short: no ohms, so very "
        "hot "
        "(B). Wet: a second path lowers the ohms, so warmer than it is (F). On the coil it is the coil's "
        "temperature that is measured, not the air's (C)."
    )


# ---------------------------------------------------------------------------------------------------------
tickets = Tickets(Path(__file__).with_name("sensor_tickets.csv"))

sensor_or_fan = homework.question(
    "05.7",
    title="The sensor, or the fan?",
    points=4,
    kind=Table(
        rows={
            "cause": "what is wrong",
            "proof": "which readings prove it",
            "next": "what you do before you change a part",
        },
        options={
            "A": "the sensor reads warmer than it is",
            "B": "the sensor reads colder than it is",
            "C": "the sensor is off its clip and hangs at the coil",
            "D": "a wire to the sensor is broken",
            "E": "the sensor is good, the fan does not turn",
            "F": "endless ohms, in place and in the ice bath",
            "G": "in the ice bath clearly fewer ohms than 33.6 kΩ",
            "H": "in the ice bath clearly more ohms than 33.6 kΩ",
            "I": "good in the ice bath, but in place its ohms belong to a far colder place than the probe's",
            "J": "good in the ice bath and as warm as the probe in place; the fan has its volts and stands "
            "still",
            "K": "nothing: the part is bad, a new one is the repair",
            "L": "look for what did it (water, ice, rubbing, a broken clip), and mend that, too",
        },
    ),
    wording=(
        "Ticket {ticket}, a Series machine in a room of {room_temperature}; its fresh-food sensor is one of "
        "this kind. You read: a probe beside the sensor {probe_temperature}, the display "
        "{displayed_temperature}, the fresh-food fan {fan_voltage} and {fan_speed}. With the plug out and "
        "the sensor unplugged: in place {resistance_in_place}, in a stirred ice bath "
        "{resistance_in_ice_bath} (a good one has 33.6 kΩ there; 999.0 kΩ is what this meter shows for "
        "endless). Type a letter out of A to E for the cause, F to J for the proof, K or L for what comes "
        "next."
    ),
    read_again="Ice-bath check",
    draw=tickets.draw(
        ("room_temperature", "degF", "{:.0f} °F"),
        ("probe_temperature", "degF", "{:.1f} °F"),
        ("displayed_temperature", "degF", "{:.0f} °F"),
        ("fan_voltage", "V", "{:.1f} V"),
        ("fan_speed", "rpm", "{:.0f} rpm"),
        ("resistance_in_place", "kohm", "{:.1f} kΩ"),
        ("resistance_in_ice_bath", "kohm", "{:.1f} kΩ"),
    ),
)
CAUSE_AND_PROOF = {"too warm": "AG", "too cold": "BH", "loose": "CI", "open": "DF", "fan dead": "EJ"}


@sensor_or_fan.key
def _(numbers, earlier):
    cause, proof = CAUSE_AND_PROOF[tickets.fault(numbers)]
    return {"cause": cause, "proof": proof, "next": "L"}


@sensor_or_fan.wrong("part_replaced_cause_left")
def _(numbers, earlier):
    cause, proof = CAUSE_AND_PROOF[tickets.fault(numbers)]
    return {"cause": cause, "proof": proof, "next": "K"}


@sensor_or_fan.worked
def _(numbers, earlier):
    shown = numbers.shown
    why = {
        "too warm": f"In the ice bath {shown['resistance_in_ice_bath']} in place of 33.6 kΩ: fewer ohms, so "
        "it reads "
        f"too warm; the display says {shown['displayed_temperature']} where the probe says "
        f"{shown['probe_temperature']}",
        "too cold": f"In the ice bath {shown['resistance_in_ice_bath']} in place of 33.6 kΩ: more ohms, so "
        "it reads "
        f"too cold; the display says {shown['displayed_temperature']} where the probe says "
        f"{shown['probe_temperature']}",
        "loose": f"Good in the ice bath, but in place {shown['resistance_in_place']} belong to "
        f"{fahrenheit(temperature_at(numbers.resistance_in_place))}, and the probe says "
        f"{shown['probe_temperature']}: it hangs at the coil",
        "open": "Endless ohms everywhere: a wire is broken, and the board believes "
        f"{shown['displayed_temperature']}",
        "fan dead": f"Good in the ice bath, and in place {shown['resistance_in_place']} belong to "
        f"{fahrenheit(temperature_at(numbers.resistance_in_place))}, as the probe says. The fan has "
        f"{shown['fan_voltage']} and {shown['fan_speed']}",
    }[tickets.fault(numbers)]
    letters = ", ".join(earlier["05.7"].values())
    return f"{why}. Then look for what did it, before a new part meets the same end ({letters})."


# ---------------------------------------------------------------------------------------------------------
ice_bath = homework.question(
    "05.8",
    title="Why an ice bath",
    points=3,
    kind=Sentence(),
    wording=(
        "A new colleague checks a sensor, still plugged into the live board, by holding an ice cube against "
        "it. Explain in two or three sentences what is wrong: why an ice bath, stirred, and why plug out and "
        "sensor unplugged?"
    ),
    read_again="Ice-bath check",
    full_marks=(
        "1 point: crushed ice in water, stirred, is 32 °F all around the sensor; a cube touches one side "
        "and may "
        "be colder than 32 °F. 1 point: connected to the board, the meter sees the sensor and the board's "
        "resistors side by side, so fewer ohms. 1 point: plug out, because water and mains voltage kill."
    ),
)


# ---------------------------------------------------------------------------------------------------------
wet_connector = homework.question(
    "05.9",
    title="A wet connector",
    points=3,
    kind=Number("temperature", "degF", 1, "66.0 degF"),
    wording=(
        "Water has crept into the connector of the sensor of 05.2. The box is still at "
        "{box_air_temperature}, "
        "but a second path of {path_resistance} now lies beside the sensor. What temperature does the board "
        "see? Type a temperature with its unit."
    ),
    read_again="One lead off",
    draw=(Steps("path_resistance", 20.0, 100.0, 1.0, "kohm", "{:.0f} kΩ"),),
    tolerance=Tolerance("3 % of the ohms of 05.2, and the same again for rounding on the way", within=1.5),
    uses=("05.2",),
)


def side_by_side(numbers, earlier) -> float:
    resistance = earlier["05.2"]
    return resistance * numbers.path_resistance / (resistance + numbers.path_resistance)


@wet_connector.key
def _(numbers, earlier):
    return temperature_at(side_by_side(numbers, earlier))


@wet_connector.wrong("parallel_path_ignored")
def _(numbers, earlier):
    return temperature_at(earlier["05.2"])


@wet_connector.wrong("parallel_path_ignored")
def _(numbers, earlier):
    """Add the two, as if they were in series."""
    return temperature_at(earlier["05.2"] + numbers.path_resistance)


@wet_connector.wrong("celsius_for_kelvin")
def _(numbers, earlier):
    return without_kelvin(side_by_side(numbers, earlier))


@wet_connector.wrong("ohms_rise_with_temperature")
def _(numbers, earlier):
    return mirrored(side_by_side(numbers, earlier))


@wet_connector.wrong("log10_for_ln")
def _(numbers, earlier):
    return with_common_logarithm(side_by_side(numbers, earlier))


@wet_connector.wrong("offset_32_forgotten")
def _(numbers, earlier):
    return without_32(temperature_at(side_by_side(numbers, earlier)))


@wet_connector.worked
def _(numbers, earlier):
    sensor, path = earlier["05.2"] / 1000, numbers.typed["path_resistance"]
    together = side_by_side(numbers, earlier)
    return (
        f"Two paths side by side: {sensor:.1f} × {path:.0f} / ({sensor:.1f} + {path:.0f}) = "
        f"{kilohms(together)}. "
        f"{by_the_formula(together)}. Fewer ohms, so the board believes that the box is warmer than it is."
    )
