"""Homework 01, Pressure tells temperature: questions, keys, wrong ideas, worked answers.

Readings of simulated machines lie in the table beside this file, made by
``tests/studies/make_simulated_readings.py``.
"""

from itertools import pairwise
from pathlib import Path

from coldbench import units
from coldbench.homework.declare import Derived, Homework, Steps, Tolerance
from coldbench.homework.kinds import Number, Order, Sentence, Table
from coldbench.homework.tickets import Tickets
from coldbench.properties.moist_air import pressure_at_altitude
from coldbench.properties.refrigerant import saturation_pressure, saturation_temperature

SEA_LEVEL = units.STANDARD_ATMOSPHERE

homework = Homework(
    number="01",
    title="Pressure tells temperature",
    lesson="course/01-pressure-tells-temperature",
    story=(
        "A two-bay shop by a ferry landing keeps two machines on the bench: one with R-134a, one with "
        "R-600a. "
        "You have gauges (your instructor connects them), two clamp thermometers for pipes, a thermometer "
        "for "
        "air, and the saturation chart of lesson 01. The shop stands at sea level: the air around the gauges "
        "has 14.7 psia, which is 29.9 inHg abs, unless a question says otherwise."
    ),
    cautions=(
        "Gauges are connected by a licensed person only. R-600a burns: fresh air, no flame, no spark, and "
        "the "
        "maker's instructions and local code come first. Refrigerant under pressure hurts eyes and skin: "
        "wear "
        "glasses and gloves. The discharge pipe and the compressor are hot."
    ),
)


def psi(pressure: float) -> str:
    return f"{units.from_si(pressure, 'psia'):.1f} psia"


def fahrenheit(temperature: float) -> str:
    return f"{units.from_si(temperature, 'degF'):.1f} °F"


def degrees(difference: float) -> str:
    return f"{units.from_si(difference, 'delta_degF'):.1f} °F"


def without_32(temperature: float) -> float:
    """Turn °C into °F by the factor alone."""
    return temperature - units.to_si(32, "delta_degF")


def inches_as_psi(vacuum: float) -> float:
    """Take inches of vacuum for as many psi above the air."""
    return units.to_si(units.from_si(vacuum, "inHg vacuum"), "psig")


def as_absolute(gauge_pressure: float) -> float:
    """Take the figure on a gauge for the whole pressure."""
    return gauge_pressure - SEA_LEVEL


# ---------------------------------------------------------------------------------------------------------
low_side = homework.question(
    "01.1",
    title="R-134a: from the gauge to the coil",
    points=2,
    kind=Number("temperature", "degF", 1, "12.5 degF"),
    wording=(
        "The bench machine with R-134a runs. Its low-side gauge shows {gauge_pressure}. At what temperature "
        "does the refrigerant boil in the coil? Type a temperature with its unit."
    ),
    read_again="Where zero is: gauge, absolute, vacuum",
    draw=(Steps("gauge_pressure", 5.0, 15.0, 0.1, "psig", "{:.1f} psig"),),
    tolerance=Tolerance("half a psi on the dial is about one degree", within=1.0),
    possible=(-76.0, 120.0),
)


@low_side.key
def _(numbers, earlier):
    return saturation_temperature("R-134a", numbers.gauge_pressure)


@low_side.wrong("gauge_as_absolute")
def _(numbers, earlier):
    return saturation_temperature("R-134a", as_absolute(numbers.gauge_pressure))


@low_side.wrong("wrong_refrigerant_curve")
def _(numbers, earlier):
    return saturation_temperature("R-600a", numbers.gauge_pressure)


@low_side.wrong("offset_32_forgotten")
def _(numbers, earlier):
    return without_32(saturation_temperature("R-134a", numbers.gauge_pressure))


@low_side.worked
def _(numbers, earlier):
    return (
        f"Absolute pressure = gauge + air = {numbers.typed['gauge_pressure']:.1f} + 14.7 = "
        f"{psi(numbers.gauge_pressure)}. The chart of R-134a has {fahrenheit(earlier['01.1'])} at that "
        f"pressure."
    )


# ---------------------------------------------------------------------------------------------------------
vacuum = homework.question(
    "01.2",
    title="R-600a: from the vacuum to the coil",
    points=2,
    kind=Number("temperature", "degF", 1, "12.5 degF"),
    wording=(
        "The bench machine with R-600a runs. Its low-side gauge shows {vacuum}. At what temperature does the "
        "refrigerant boil in the coil? Type a temperature with its unit."
    ),
    read_again="Where zero is: gauge, absolute, vacuum",
    draw=(Steps("vacuum", 4.0, 12.0, 0.1, "inHg vacuum", "{:.1f} inHg vacuum"),),
    tolerance=Tolerance("a quarter inch of mercury, on the gauge and again on the chart", within=1.5),
)


@vacuum.key
def _(numbers, earlier):
    return saturation_temperature("R-600a", numbers.vacuum)


@vacuum.wrong("vacuum_as_pressure_above")
def _(numbers, earlier):
    return saturation_temperature("R-600a", 2 * SEA_LEVEL - numbers.vacuum)


@vacuum.wrong("vacuum_as_pressure_above")
def _(numbers, earlier):
    """Read the inches as psig."""
    return saturation_temperature("R-600a", inches_as_psi(numbers.vacuum))


@vacuum.wrong("gauge_as_absolute")
def _(numbers, earlier):
    return saturation_temperature("R-600a", SEA_LEVEL - numbers.vacuum)


@vacuum.wrong("wrong_refrigerant_curve")
def _(numbers, earlier):
    return saturation_temperature("R-134a", numbers.vacuum)


@vacuum.wrong("offset_32_forgotten")
def _(numbers, earlier):
    return without_32(saturation_temperature("R-600a", numbers.vacuum))


@vacuum.worked
def _(numbers, earlier):
    below = units.from_si(SEA_LEVEL - numbers.vacuum, "psia")
    return (
        f"A vacuum counts down from the air: {numbers.shown['vacuum']} is {numbers.typed['vacuum']:.1f} / "
        f"2.036 = "
        f"{below:.1f} psi less than the air. Absolute pressure = 14.7 − {below:.1f} = {psi(numbers.vacuum)}. "
        f"The chart of R-600a has {fahrenheit(earlier['01.2'])} at that pressure."
    )


# ---------------------------------------------------------------------------------------------------------
mountain = homework.question(
    "01.3",
    title="The same work, high up",
    points=2,
    kind=Number("temperature", "degF", 1, "12.5 degF"),
    wording=(
        "A hotel at {altitude} has a machine with R-134a. The gauge read 0 in the open air up there; on the "
        "low side it shows {mountain_gauge_pressure}. At what temperature does the refrigerant boil in the "
        "coil? Lesson 01 has the formula and the slider for the air's pressure. Type a temperature with its "
        "unit."
    ),
    read_again="Air has weight: what height does to a gauge",
    draw=(
        Steps("altitude", 3500, 7500, 100, "ft", "{:,.0f} ft"),
        Steps("mountain_gauge_pressure", 5.0, 15.0, 0.1, "psig", "{:.1f} psig"),
    ),
    tolerance=Tolerance("the height shifts this answer by more than 2.5 °F, and that must show", within=0.8),
)


def air_at(numbers) -> float:
    return pressure_at_altitude(numbers.altitude)


@mountain.key
def _(numbers, earlier):
    absolute = as_absolute(numbers.mountain_gauge_pressure) + air_at(numbers)
    return saturation_temperature("R-134a", absolute)


@mountain.wrong("altitude_ignored")
def _(numbers, earlier):
    return saturation_temperature("R-134a", numbers.mountain_gauge_pressure)


@mountain.wrong("gauge_as_absolute")
def _(numbers, earlier):
    return saturation_temperature("R-134a", as_absolute(numbers.mountain_gauge_pressure))


@mountain.wrong("wrong_refrigerant_curve")
def _(numbers, earlier):
    absolute = as_absolute(numbers.mountain_gauge_pressure) + air_at(numbers)
    return saturation_temperature("R-600a", absolute)


@mountain.wrong("offset_32_forgotten")
def _(numbers, earlier):
    absolute = as_absolute(numbers.mountain_gauge_pressure) + air_at(numbers)
    return without_32(saturation_temperature("R-134a", absolute))


@mountain.worked
def _(numbers, earlier):
    air = air_at(numbers)
    absolute = as_absolute(numbers.mountain_gauge_pressure) + air
    return (
        f"The air at {numbers.shown['altitude']} has 14.7 × (1 − 0.0000068754 × "
        f"{numbers.typed['altitude']:.0f})^5.2559 = {psi(air)}. Absolute pressure = "
        f"{numbers.typed['mountain_gauge_pressure']:.1f} + {units.from_si(air, 'psia'):.1f} = "
        f"{psi(absolute)}. "
        f"The chart of R-134a has {fahrenheit(earlier['01.3'])} at that pressure."
    )


# ---------------------------------------------------------------------------------------------------------
superheat = homework.question(
    "01.4",
    title="Superheat, in kelvin",
    points=3,
    kind=Number("temperature difference", "delta_K", 1, "4.5 K"),
    wording=(
        "Back at the R-134a machine of 01.1 (low side {gauge_pressure}, so its boiling temperature is your "
        "answer there) you write down the rest: suction pipe at the coil's outlet "
        "{suction_line_temperature}, air in the box {box_air_temperature}, high side "
        "{high_gauge_pressure}, liquid pipe at the condenser's outlet {liquid_line_temperature}. How large "
        "is the superheat at the coil's outlet, in kelvin? Type it with its unit."
    ),
    read_again="Superheat belongs to the pipe",
    draw=(
        Steps("superheat", 7.0, 18.0, 0.5, "delta_degF", hidden=True),
        Steps("subcooling", 6.0, 12.0, 0.5, "delta_degF", hidden=True),
        Derived(
            "suction_line_temperature", 0.1, "degF", "{:.1f} °F",
            lambda drawn: saturation_temperature("R-134a", drawn.gauge_pressure) + drawn.superheat,
        ),
        Steps("box_air_temperature", 36.0, 42.0, 0.1, "degF", "{:.1f} °F"),
        Steps("high_gauge_pressure", 100, 150, 1, "psig", "{:.0f} psig"),
        Derived(
            "liquid_line_temperature", 0.1, "degF", "{:.1f} °F",
            lambda drawn: saturation_temperature("R-134a", drawn.high_gauge_pressure) - drawn.subcooling,
        ),
    ),
    accept=lambda drawn: (
        drawn.box_air_temperature - drawn.suction_line_temperature > units.to_si(8, "delta_degF")
    ),
    tolerance=Tolerance("a degree Fahrenheit for chart and clamp together", within=0.6),
    uses=("01.1",),
)  # fmt: skip


@superheat.key
def _(numbers, earlier):
    return numbers.suction_line_temperature - earlier["01.1"]


@superheat.wrong("superheat_from_box")
def _(numbers, earlier):
    return numbers.box_air_temperature - earlier["01.1"]


@superheat.wrong("superheat_subcooling_exchanged")
def _(numbers, earlier):
    condensing_temperature = saturation_temperature("R-134a", numbers.high_gauge_pressure)
    return condensing_temperature - numbers.liquid_line_temperature


@superheat.wrong("difference_with_32")
def _(numbers, earlier):
    difference = numbers.suction_line_temperature - earlier["01.1"]
    return difference - 32 / 1.8


@superheat.wrong("gauge_as_absolute")
def _(numbers, earlier):
    boiling = saturation_temperature("R-134a", as_absolute(numbers.gauge_pressure))
    return numbers.suction_line_temperature - boiling


@superheat.wrong("wrong_refrigerant_curve")
def _(numbers, earlier):
    return numbers.suction_line_temperature - saturation_temperature("R-600a", numbers.gauge_pressure)


@superheat.worked
def _(numbers, earlier):
    difference = earlier["01.4"]
    boiling = f"{units.from_si(earlier['01.1'], 'degF'):.1f}"
    boiling = f"({boiling})" if boiling.startswith("-") else boiling
    return (
        f"From 01.1 the refrigerant boils at {fahrenheit(earlier['01.1'])}. Superheat = pipe − boiling "
        f"point = "
        f"{numbers.typed['suction_line_temperature']:.1f} − {boiling} = "
        f"{degrees(difference)}. It is a difference, so it is only divided by 1.8: "
        f"{units.from_si(difference, 'delta_degF'):.1f} / 1.8 = {difference:.1f} K."
    )


# ---------------------------------------------------------------------------------------------------------
subcooling = homework.question(
    "01.5",
    title="Subcooling",
    points=2,
    kind=Number("temperature difference", "delta_degF", 1, "14.0 degF"),
    wording=(
        "From the same readings as in 01.4 (high side {high_gauge_pressure}, liquid pipe "
        "{liquid_line_temperature}, low side {gauge_pressure}, suction pipe {suction_line_temperature}): how "
        "large is the subcooling at the condenser's outlet, in °F? Type it with its unit."
    ),
    read_again="Subcooling to the liquid",
    tolerance=Tolerance("the chart and the clamp each read to about half a degree", within=1.0),
    shares=("01.4",),
)


@subcooling.key
def _(numbers, earlier):
    return saturation_temperature("R-134a", numbers.high_gauge_pressure) - numbers.liquid_line_temperature


@subcooling.wrong("superheat_subcooling_exchanged")
def _(numbers, earlier):
    return numbers.suction_line_temperature - saturation_temperature("R-134a", numbers.gauge_pressure)


@subcooling.wrong("gauge_as_absolute")
def _(numbers, earlier):
    condensing_temperature = saturation_temperature("R-134a", as_absolute(numbers.high_gauge_pressure))
    return condensing_temperature - numbers.liquid_line_temperature


@subcooling.wrong("wrong_refrigerant_curve")
def _(numbers, earlier):
    return saturation_temperature("R-600a", numbers.high_gauge_pressure) - numbers.liquid_line_temperature


@subcooling.slip(
    "sign", "Subcooling is counted from the chart's temperature down to the pipe, so it is positive here."
)
def _(numbers, earlier):
    return numbers.liquid_line_temperature - saturation_temperature("R-134a", numbers.high_gauge_pressure)


@subcooling.worked
def _(numbers, earlier):
    condensing_temperature = saturation_temperature("R-134a", numbers.high_gauge_pressure)
    return (
        f"Absolute pressure = {numbers.typed['high_gauge_pressure']:.0f} + 14.7 = "
        f"{psi(numbers.high_gauge_pressure)}; the chart of R-134a has {fahrenheit(condensing_temperature)} "
        f"there. "
        f"Subcooling = {units.from_si(condensing_temperature, 'degF'):.1f} − "
        f"{numbers.typed['liquid_line_temperature']:.1f} = {degrees(earlier['01.5'])}."
    )


# ---------------------------------------------------------------------------------------------------------
FOUR = {"A": "first_vacuum", "B": "second_gauge_pressure", "C": "third_pressure", "D": "fourth_pressure"}

ranking = homework.question(
    "01.6",
    title="Four readings, one order",
    points=2,
    kind=Order(
        {
            "A": "{first_vacuum}",
            "B": "{second_gauge_pressure}",
            "C": "{third_pressure}",
            "D": "{fourth_pressure}",
        }
    ),
    wording="Put these four readings in order of true pressure, the lowest first. Type the letters.",
    read_again="Where zero is: gauge, absolute, vacuum",
    draw=(
        Steps("first_vacuum", 4.0, 20.0, 0.5, "inHg vacuum", "{:.1f} inHg vacuum"),
        Steps("second_gauge_pressure", 1.0, 6.0, 0.1, "psig", "{:.1f} psig"),
        Steps("third_pressure", 9.0, 13.0, 0.1, "psia", "{:.1f} psia"),
        Steps("fourth_pressure", 115, 140, 1, "kPa", "{:.0f} kPa abs"),
    ),
    accept=lambda drawn: _apart(absolute_pressures(drawn)),
)


def absolute_pressures(numbers) -> dict[str, float]:
    return {letter: getattr(numbers, name) for letter, name in FOUR.items()}


def _apart(pressures: dict[str, float]) -> bool:
    steps = [after - before for before, after in pairwise(sorted(pressures.values()))]
    return min(steps) > units.to_si(1, "psi")


def lowest_first(pressures: dict[str, float]) -> tuple[str, ...]:
    return tuple(sorted(pressures, key=pressures.get))


@ranking.key
def _(numbers, earlier):
    return lowest_first(absolute_pressures(numbers))


@ranking.wrong("vacuum_as_pressure_above")
def _(numbers, earlier):
    return lowest_first(absolute_pressures(numbers) | {"A": 2 * SEA_LEVEL - numbers.first_vacuum})


@ranking.wrong("vacuum_as_pressure_above")
def _(numbers, earlier):
    """Read the inches as psig."""
    return lowest_first(absolute_pressures(numbers) | {"A": inches_as_psi(numbers.first_vacuum)})


@ranking.wrong("gauge_as_absolute")
def _(numbers, earlier):
    figures = {"A": SEA_LEVEL - numbers.first_vacuum, "B": as_absolute(numbers.second_gauge_pressure)}
    return lowest_first(absolute_pressures(numbers) | figures)


@ranking.worked
def _(numbers, earlier):
    values = ", ".join(
        f"{letter} ({numbers.shown[name]}) = {psi(getattr(numbers, name))}" for letter, name in FOUR.items()
    )
    return f"All four as absolute pressure: {values}. Lowest first: {' '.join(earlier['01.6'])}."


# ---------------------------------------------------------------------------------------------------------
tickets = Tickets(Path(__file__).with_name("leak_tickets.csv"))

is_it_a_leak = homework.question(
    "01.7",
    title="Is it a leak?",
    points=4,
    kind=Table(
        rows={"cause": "what is wrong with the circuit", "proof": "which readings prove it"},
        options={
            "A": "nothing",
            "B": "refrigerant has leaked out",
            "C": "the compressor pumps too little",
            "D": "the low side is in vacuum",
            "E": "hardly any superheat, and both pressures are those of the new machine",
            "F": "much superheat, hardly any subcooling, and a deeper vacuum than when it was new",
            "G": "hardly any superheat, a higher low side and a lower high side than when it was new",
            "H": "the low side has not come up, as it would after a leak",
        },
    ),
    wording=(
        "Ticket {ticket}, a Series machine with R-600a in a room of {room_temperature}. “It hums all day. Is "
        "it a leak?” At the end of a run your instructor reads: low side {suction_vacuum}, high side "
        "{discharge_pressure}; your clamps show {suction_line_temperature} on the pipe right after the last "
        "coil, {liquid_line_temperature} on the liquid pipe; the compressor draws {compressor_power}; the "
        "boxes are at {fresh_food_air_temperature} and {freezer_air_temperature}. When it was new, the same "
        "gauges showed {new_suction_vacuum} and {new_discharge_pressure} in such a room. What is wrong with "
        "the circuit, and what proves it? Type a letter out of A to C for the cause, out of D to H for the "
        "proof."
    ),
    read_again="Two refrigerants, one coil temperature, two gauge readings",
    draw=tickets.draw(
        ("room_temperature", "degF", "{:.0f} °F"),
        ("suction_vacuum", "inHg vacuum", "{:.1f} inHg vacuum"),
        ("discharge_pressure", "psig", "{:.0f} psig"),
        ("suction_line_temperature", "degF", "{:.1f} °F"),
        ("liquid_line_temperature", "degF", "{:.1f} °F"),
        ("compressor_power", "W", "{:.0f} W"),
        ("fresh_food_air_temperature", "degF", "{:.0f} °F"),
        ("freezer_air_temperature", "degF", "{:.0f} °F"),
        ("new_suction_vacuum", "inHg vacuum", "{:.1f} inHg vacuum"),
        ("new_discharge_pressure", "psig", "{:.0f} psig"),
    ),
)
LEAK_KEYS = {
    "none": {"cause": "A", "proof": "E"},
    "low charge": {"cause": "B", "proof": "F"},
    "weak compressor": {"cause": "C", "proof": "G"},
}


@is_it_a_leak.key
def _(numbers, earlier):
    return LEAK_KEYS[tickets.fault(numbers)]


is_it_a_leak.wrong("vacuum_is_a_leak", gives={"cause": "B", "proof": "D"})


@is_it_a_leak.wrong("low_charge_raises_suction")
def _(numbers, earlier):
    """Look for a low side that has come up; where it has, call it a leak."""
    return {
        "none": {"cause": "A", "proof": "H"},
        "low charge": {"cause": "C", "proof": "H"},
        "weak compressor": {"cause": "B", "proof": "G"},
    }[tickets.fault(numbers)]


@is_it_a_leak.worked
def _(numbers, earlier):
    coil = saturation_temperature("R-600a", numbers.suction_vacuum)
    condensing = saturation_temperature("R-600a", numbers.discharge_pressure)
    superheat = numbers.suction_line_temperature - coil
    subcooling = condensing - numbers.liquid_line_temperature
    hardly_any = subcooling < units.to_si(1.0, "delta_degF")  # a gauge read to whole psi tells no finer
    said = "less than 1 °F, as good as none" if hardly_any else degrees(subcooling)
    shown = numbers.shown
    verdict = {
        "none": "pressures as when it was new, and the coil is wet to its end: nothing is wrong. A vacuum is "
        "normal for R-600a",
        "low charge": "the coil runs dry and no liquid stands in the condenser: refrigerant has leaked out",
        "weak compressor": "the coil is wet, the low side has come up and the high side has gone down: the "
        "compressor pumps too little",
    }[tickets.fault(numbers)]
    return (
        f"{shown['suction_vacuum']} is {psi(numbers.suction_vacuum)}, so the coil boils at "
        f"{fahrenheit(coil)}: superheat {degrees(superheat)}. {shown['discharge_pressure']} condenses at "
        f"{fahrenheit(condensing)}: subcooling {said}. New: {shown['new_suction_vacuum']} and "
        f"{shown['new_discharge_pressure']}. So {verdict} ({' and '.join(earlier['01.7'].values())})."
    )


# ---------------------------------------------------------------------------------------------------------
leak = homework.question(
    "01.8",
    title="A leak that draws air in",
    points=3,
    kind=Sentence(),
    wording=(
        "Explain to a colleague, in two or three sentences: why can a healthy R-600a machine draw air in "
        "through a leak on its low side, and what must nobody do about it without a licence?"
    ),
    read_again="Where people are hurt",
    full_marks=(
        "1 point: the low side runs below the pressure of the air (a vacuum on the gauge is normal there), "
        "so "
        "air flows in. 1 point: the reason, a cold coil of R-600a has a saturation pressure below 14.7 psia. "
        "1 point: not open the circuit, connect gauges, charge or braze: R-600a burns; ventilate, keep "
        "sparks "
        "and flames away, call a licensed person."
    ),
)


# ---------------------------------------------------------------------------------------------------------
expected_vacuum = homework.question(
    "01.9",
    title="Is that vacuum right?",
    points=2,
    kind=Number("pressure", "inHg vacuum", 1, "16.0 inHg vacuum"),
    wording=(
        "A colleague rings from another R-600a machine: “My low-side gauge is below zero!” Before you "
        "tell him what to think of it: the middle of its coil is at {coil_temperature}, the boxes are cold. "
        "What should a low-side gauge show "
        "at sea level when liquid boils at that temperature? Type it as inHg vacuum or as psig."
    ),
    read_again="Two refrigerants, one coil temperature, two gauge readings",
    draw=(Steps("coil_temperature", -14.0, 2.0, 0.1, "degF", "{:.1f} °F"),),
    tolerance=Tolerance(
        "one degree at the coil is about 0.4 inHg, and the dial is read to a quarter", within=0.6
    ),
    shares=("01.2",),
    alike=(frozenset(("gauge_as_absolute", "unit")), frozenset(("vacuum_as_pressure_above", "unit"))),
)


@expected_vacuum.key
def _(numbers, earlier):
    return saturation_pressure("R-600a", numbers.coil_temperature)


@expected_vacuum.wrong("wrong_refrigerant_curve")
def _(numbers, earlier):
    return saturation_pressure("R-134a", numbers.coil_temperature)


@expected_vacuum.wrong("vacuum_as_pressure_above")
def _(numbers, earlier):
    """Give as many psi above the air as it lies below."""
    return 2 * SEA_LEVEL - saturation_pressure("R-600a", numbers.coil_temperature)


@expected_vacuum.wrong("vacuum_as_pressure_above")
def _(numbers, earlier):
    """Give the inches as psig."""
    return inches_as_psi(saturation_pressure("R-600a", numbers.coil_temperature))


@expected_vacuum.wrong("gauge_as_absolute")
def _(numbers, earlier):
    """Give the chart's absolute pressure as psig."""
    return SEA_LEVEL + saturation_pressure("R-600a", numbers.coil_temperature)


@expected_vacuum.wrong("offset_32_forgotten")
def _(numbers, earlier):
    celsius = numbers.typed["coil_temperature"] / 1.8
    return saturation_pressure("R-600a", units.to_si(celsius, "degC"))


@expected_vacuum.worked
def _(numbers, earlier):
    pressure = earlier["01.9"]
    below = units.from_si(SEA_LEVEL - pressure, "psia")
    return (
        f"The chart of R-600a has {psi(pressure)} at {numbers.shown['coil_temperature']}. That is 14.7 − "
        f"{units.from_si(pressure, 'psia'):.1f} = {below:.1f} psi below the air, or {below:.1f} × 2.036 = "
        f"{units.from_si(pressure, 'inHg vacuum'):.1f} inHg vacuum. A vacuum alone is no sign of a leak here."
    )
