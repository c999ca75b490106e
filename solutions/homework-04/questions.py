"""Homework 04, Round the circuit: questions, keys, wrong ideas, worked answers.

The readings of 04.6 and 04.7 come from simulated machines, run once by
tests/studies/make_readings_of_homework_04.py and kept in the two tables beside this file.
"""

from pathlib import Path

from coldbench import units
from coldbench.homework.declare import Derived, Homework, Steps, Tolerance
from coldbench.homework.kinds import Number, Order, Sentence, Table
from coldbench.homework.tickets import Tickets
from coldbench.properties.refrigerant import (
    latent_heat,
    liquid_enthalpy,
    saturation_pressure,
    saturation_temperature,
    vapor_density,
    vapor_enthalpy,
)

SEA_LEVEL = units.STANDARD_ATMOSPHERE
CUBIC_CENTIMETRE = 1e-6  # [m3]

homework = Homework(
    number="04",
    title="Round the circuit",
    lesson="course/04-round-the-circuit",
    story=(
        "A training shop in a former dairy runs an R-134a machine with a meter at its plug and a "
        "tachometer. You have clamp thermometers, a printed property table of R-134a (the last page of the "
        "bench sheet of lesson 04), and the lesson. The shop stands at sea level. Questions 04.1 to 04.5 "
        "are one machine at one moment: its numbers, and your own answers, go on from question to question."
    ),
    cautions=(
        "Gauges are the licensed instructor's, on every machine; R-600a and R-290 burn: fresh air, no "
        "flame, no spark. The discharge pipe and the shell burn skin. A running compressor is mains, and "
        "its capacitor may hold a charge with the plug out. Nothing in the circuit is opened to find a "
        "fault; local code and the maker's instructions come first."
    ),
)


def fahrenheit(temperature: float) -> str:
    return f"{units.from_si(temperature, 'degF'):.1f} °F"


def psia(pressure: float) -> str:
    return f"{units.from_si(pressure, 'psia'):.1f}"


def kilojoule(energy: float) -> str:
    return f"{energy / 1e3:.1f}"


# ---------------------------------------------------------------------------------------------------------
ratio = homework.question(
    "04.1",
    title="Pressure ratio",
    points=2,
    kind=Number("number", "1", 2, "7.90"),
    wording=(
        "The machine has settled. Clamps: middle of the coil {coil_temperature}, middle of the condenser "
        "{condenser_temperature}, liquid pipe after the condenser {liquid_temperature}. What is the "
        "compressor's pressure ratio? Type a number."
    ),
    read_again="Strokes and ratio",
    draw=(
        Steps("coil_temperature", 3.0, 12.0, 0.1, "degF", "{:.1f} °F"),
        Steps("condenser_temperature", 95.0, 115.0, 0.1, "degF", "{:.1f} °F"),
        Steps("subcooling", 8.0, 15.0, 0.1, "delta_degF", hidden=True),
        Derived(
            "liquid_temperature", 0.1, "degF", "{:.1f} °F",
            lambda drawn: drawn.condenser_temperature - drawn.subcooling,
        ),
    ),
    tolerance=Tolerance(
        "half a degree at each clamp; more would hide which refrigerant's table was read", percent=2.0
    ),
    possible=(1.0, 60.0),
)  # fmt: skip


def pressures(numbers, refrigerant="R-134a") -> tuple[float, float]:
    return (
        saturation_pressure(refrigerant, numbers.condenser_temperature),
        saturation_pressure(refrigerant, numbers.coil_temperature),
    )


@ratio.key
def _(numbers, earlier):
    high, low = pressures(numbers)
    return high / low


@ratio.wrong("gauge_as_absolute")
def _(numbers, earlier):
    high, low = pressures(numbers)
    return (high - SEA_LEVEL) / (low - SEA_LEVEL)


@ratio.wrong("wrong_refrigerant_curve")
def _(numbers, earlier):
    high, low = pressures(numbers, "R-600a")
    return high / low


@ratio.wrong("line_temperature_as_saturated")
def _(numbers, earlier):
    return saturation_pressure("R-134a", numbers.liquid_temperature) / pressures(numbers)[1]


@ratio.slip("upside_down", "The high pressure goes on top: the ratio is larger than 1.")
def _(numbers, earlier):
    high, low = pressures(numbers)
    return low / high


@ratio.slip("air_added_twice", "The table's psia is counted from vacuum already: no 14.7 is added to it.")
def _(numbers, earlier):
    high, low = pressures(numbers)
    return (high + SEA_LEVEL) / (low + SEA_LEVEL)


@ratio.worked
def _(numbers, earlier):
    high, low = pressures(numbers)
    return (
        f"The chart of R-134a holds in the middle of coil and condenser: {psia(low)} psia at "
        f"{numbers.shown['coil_temperature']}, {psia(high)} psia at "
        f"{numbers.shown['condenser_temperature']}. The liquid pipe is subcooled, so it has no say. Ratio = "
        f"{psia(high)} / {psia(low)} = {earlier['04.1']:.2f}."
    )


# ---------------------------------------------------------------------------------------------------------
cooling_per_kilogram = homework.question(
    "04.2",
    title="What a kilogram brings",
    points=3,
    kind=Number("specific enthalpy", "kJ/kg", 1, "166.0 kJ/kg"),
    wording=(
        "The same machine has no suction-line exchanger: its liquid enters the capillary at the "
        "{liquid_temperature} of the liquid pipe, and dry saturated vapour leaves the coil, which boils at "
        "{coil_temperature}. How many kilojoules does one kilogram of R-134a take up in the coil? Type it "
        "with its unit, kJ/kg."
    ),
    read_again="What leaves the capillary",
    tolerance=Tolerance("two rows of a printed table, read to the nearest degree", percent=2.0),
    shares=("04.1",),
    possible=(20.0, 500.0),
)


def cooling_with(numbers, liquid_temperature, refrigerant="R-134a"):
    vapor = vapor_enthalpy(refrigerant, numbers.coil_temperature)
    return vapor - liquid_enthalpy(refrigerant, liquid_temperature)


@cooling_per_kilogram.key
def _(numbers, earlier):
    return cooling_with(numbers, numbers.liquid_temperature)


@cooling_per_kilogram.wrong("flash_gas_forgotten")
def _(numbers, earlier):
    return latent_heat("R-134a", numbers.coil_temperature)


@cooling_per_kilogram.wrong("wrong_refrigerant_curve")
def _(numbers, earlier):
    return cooling_with(numbers, numbers.liquid_temperature, "R-600a")


@cooling_per_kilogram.worked
def _(numbers, earlier):
    vapor = vapor_enthalpy("R-134a", numbers.coil_temperature)
    liquid = liquid_enthalpy("R-134a", numbers.liquid_temperature)
    return (
        f"From the table of R-134a: vapour at {numbers.shown['coil_temperature']} has {kilojoule(vapor)} "
        f"kJ/kg, liquid at {numbers.shown['liquid_temperature']} has {kilojoule(liquid)} kJ/kg (counted "
        "from 200 at 32 °F; another table may count from elsewhere, the difference is the same). Cooling = "
        f"{kilojoule(vapor)} − {kilojoule(liquid)} = {kilojoule(earlier['04.2'])} kJ/kg. The latent heat "
        f"alone would be {kilojoule(latent_heat('R-134a', numbers.coil_temperature))} kJ/kg: the rest "
        "boils off in the capillary."
    )


# ---------------------------------------------------------------------------------------------------------
flow = homework.question(
    "04.3",
    title="Grams in a second",
    points=2,
    kind=Number("mass flow", "g/s", 2, "0.55 g/s"),
    wording=(
        "Its compressor has {displacement} a turn; the tachometer shows {speed}. {filling} of each stroke "
        "is filled, with vapour just as it leaves the coil (saturated, {coil_temperature}). How much "
        "refrigerant does it move? Type a mass flow with its unit."
    ),
    read_again="Strokes per second",
    draw=(
        Steps("displacement", 4.0, 6.0, 0.1, "1", "{:.1f} cm³"),
        Steps("speed", 2000, 4200, 50, "rpm", "{:,.0f} rpm"),
        Steps("filling", 60, 80, 1, "%", "{:.0f} %"),
    ),
    tolerance=Tolerance("the density is read from two rows of a table", percent=2.0),
    shares=("04.2",),
    possible=(0.001, 100.0),
)


def moved(numbers, refrigerant="R-134a"):
    volume = numbers.displacement * CUBIC_CENTIMETRE * numbers.speed * numbers.filling
    return volume * vapor_density(refrigerant, numbers.coil_temperature)


@flow.key
def _(numbers, earlier):
    return moved(numbers)


@flow.wrong("wrong_refrigerant_curve")
def _(numbers, earlier):
    return moved(numbers, "R-600a")


@flow.slip("minutes_for_seconds", "The speed is in turns a minute: divide by 60 to get turns a second.")
def _(numbers, earlier):
    return 60 * moved(numbers)


@flow.slip("filling_left_out", "A stroke is not filled to the top: multiply by the share that is filled.")
def _(numbers, earlier):
    return moved(numbers) / numbers.filling


@flow.worked
def _(numbers, earlier):
    density = vapor_density("R-134a", numbers.coil_temperature)
    return (
        f"Turns a second = {numbers.typed['speed']:.0f} / 60 = {numbers.speed:.1f}. Vapour at "
        f"{numbers.shown['coil_temperature']}: {density:.2f} kg/m³, which is {density / 1000:.5f} g/cm³. "
        f"Flow = {numbers.typed['displacement']:.1f} × {numbers.speed:.1f} × {numbers.filling:.2f} × "
        f"{density / 1000:.5f} = {earlier['04.3'] * 1e3:.2f} g/s."
    )


# ---------------------------------------------------------------------------------------------------------
cooling = homework.question(
    "04.4",
    title="Watts of cooling",
    points=2,
    kind=Number("power", "W", 1, "95.0 W"),
    wording=(
        "Take what each kilogram brings (your 04.2) and what flows (your 04.3): how much heat does the coil "
        "take out of the box? Type a power with its unit."
    ),
    read_again="Pressure–enthalpy picture",
    tolerance=Tolerance("the errors of the two answers before add up", percent=3.0),
    uses=("04.2", "04.3"),
    possible=(1.0, 3000.0),
)


@cooling.key
def _(numbers, earlier):
    return earlier["04.2"] * earlier["04.3"]


@cooling.wrong("flash_gas_forgotten")
def _(numbers, earlier):
    return latent_heat("R-134a", numbers.coil_temperature) * earlier["04.3"]


@cooling.worked
def _(numbers, earlier):
    return (
        f"{kilojoule(earlier['04.2'])} kJ for each kilogram is as many J for each gram: "
        f"{kilojoule(earlier['04.2'])} × {earlier['04.3'] * 1e3:.2f} = {earlier['04.4']:.1f} W."
    )


# ---------------------------------------------------------------------------------------------------------
def drawn_power(drawn) -> float:
    """Give what the compressor draws at the coefficient of performance that was drawn."""
    cooling = cooling_with(drawn, drawn.liquid_temperature) * moved(drawn)
    return cooling / drawn.coefficient_of_performance


rejected = homework.question(
    "04.5",
    title="Heat into the room",
    points=2,
    kind=Number("power", "W", 1, "160.0 W"),
    wording=(
        "Meanwhile the meter at the compressor shows {power}. How much heat do condenser and shell together "
        "give to the room? Type a power with its unit."
    ),
    read_again="Where the watts go",
    draw=(
        Steps("coefficient_of_performance", 1.2, 1.8, 0.01, "1", hidden=True),
        Derived("power", 1.0, "W", "{:.0f} W", drawn_power),
    ),
    tolerance=Tolerance("the meter is good to a watt or two, your 04.4 to a little more", percent=2.0),
    uses=("04.4",),
)  # fmt: skip


@rejected.key
def _(numbers, earlier):
    return earlier["04.4"] + numbers.power


@rejected.wrong("compressor_heat_forgotten")
def _(numbers, earlier):
    return earlier["04.4"]


@rejected.slip("taken_off", "Both flow in, so both must flow out: add the compressor's watts.")
def _(numbers, earlier):
    return abs(earlier["04.4"] - numbers.power)


@rejected.worked
def _(numbers, earlier):
    return (
        f"What flows in flows out: {earlier['04.4']:.1f} W from the box and {numbers.shown['power']} from "
        f"the socket make {earlier['04.5']:.1f} W."
    )


# ---------------------------------------------------------------------------------------------------------
pipe_tickets = Tickets(Path(__file__).with_name("pipe_tickets.csv"))

pipes = homework.question(
    "04.6",
    title="Five clamps without labels",
    points=2,
    kind=Order(
        {
            "A": "liquid pipe after the condenser",
            "B": "coil inlet",
            "C": "discharge pipe",
            "D": "suction pipe at the compressor, behind the exchanger",
            "E": "middle of the condenser",
        }
    ),
    wording=(
        "Ticket {ticket}: a sound Series machine with R-134a in a room of {room_temperature}, settled. The "
        "labels fell off five clamps; from hot to cold they read {discharge_pipe}, {mid_condenser}, "
        "{liquid_pipe}, {shell_suction_pipe} and {coil_inlet}. Which place does each belong to? Type the "
        "letters, the hottest first."
    ),
    read_again="Round the circuit",
    draw=pipe_tickets.draw(
        ("room_temperature", "degF", "{:.0f} °F"),
        ("discharge_pipe", "degF", "{:.1f} °F"),
        ("mid_condenser", "degF", "{:.1f} °F"),
        ("liquid_pipe", "degF", "{:.1f} °F"),
        ("shell_suction_pipe", "degF", "{:.1f} °F"),
        ("coil_inlet", "degF", "{:.1f} °F"),
    ),
    accept=lambda drawn: (
        drawn.mid_condenser - drawn.liquid_pipe > units.to_si(1.5, "delta_degF")
        and drawn.liquid_pipe > drawn.shell_suction_pipe
    ),
)
pipes.key(lambda numbers, earlier: tuple("CEADB"))
pipes.wrong("superheat_subcooling_exchanged", gives=tuple("CAEBD"))


@pipes.worked
def _(numbers, earlier):
    shown = numbers.shown
    return (
        f"The compressor's work makes the discharge pipe the hottest ({shown['discharge_pipe']}). In the "
        f"condenser the vapour turns liquid at {shown['mid_condenser']}, then the liquid cools a little "
        f"further ({shown['liquid_pipe']}: subcooling). The exchanger warms the suction pipe to "
        f"{shown['shell_suction_pipe']}, far above the coil at {shown['coil_inlet']}. So "
        f"{' '.join(earlier['04.6'])}."
    )


# ---------------------------------------------------------------------------------------------------------
tickets = Tickets(Path(__file__).with_name("series_tickets.csv"))

which_fault = homework.question(
    "04.7",
    title="One pair of gauges, three faults",
    points=4,
    kind=Table(
        rows={
            "cause": "what is wrong with the circuit",
            "proof": "which readings prove it",
            "short": "which coil runs dry first when this machine is short of refrigerant",
        },
        options={
            "A": "nothing",
            "B": "refrigerant is missing",
            "C": "the capillary is partly blocked",
            "D": "the compressor pumps too little",
            "E": "both pressures as when it was new, and the coil wet to its end",
            "F": "low side lower, coil outlet far warmer than its inlet, liquid pipe as warm as the middle "
            "of the condenser",
            "G": "low side lower, coil outlet far warmer than its inlet, liquid pipe much colder than the "
            "middle of the condenser",
            "H": "low side higher and high side lower than when it was new, and the coil wet to its end",
            "I": "the low side: it comes up where refrigerant is missing, and only there",
            "J": "the coil inlet: a colder coil has the higher pressure",
            "K": "the fresh-food coil, which it meets first",
            "L": "the freezer's coil, which it reaches last",
            "M": "both alike",
        },
    ),
    wording=(
        "Ticket {ticket}, a Series machine with R-134a in a room of {room_temperature}, compressor at full "
        "speed, at the end of a long run. Refrigerant meets the fresh-food coil first, then the freezer's. "
        "The instructor has added the air to his gauges: low side {suction_pressure}, high side "
        "{discharge_pressure}; when it was new, in such a room, {new_suction_pressure} and "
        "{new_discharge_pressure}. Clamps: coil inlet {coil_inlet}, outlet of the last coil "
        "{coil_outlet_pipe}, suction pipe at the compressor {shell_suction_pipe}, discharge pipe "
        "{discharge_pipe}, middle of the condenser {mid_condenser}, liquid pipe {liquid_pipe}. The "
        "compressor draws {compressor_power} (new: {new_compressor_power}). Type a letter out of A to D for "
        "the cause, out of E to J for the proof, out of K to M for the coil."
    ),
    read_again="Three faults, one pair of gauges",
    draw=tickets.draw(
        ("room_temperature", "degF", "{:.0f} °F"),
        ("suction_pressure", "psia", "{:.1f} psia"),
        ("discharge_pressure", "psia", "{:.0f} psia"),
        ("new_suction_pressure", "psia", "{:.1f} psia"),
        ("new_discharge_pressure", "psia", "{:.0f} psia"),
        ("coil_inlet", "degF", "{:.1f} °F"),
        ("coil_outlet_pipe", "degF", "{:.1f} °F"),
        ("shell_suction_pipe", "degF", "{:.1f} °F"),
        ("discharge_pipe", "degF", "{:.1f} °F"),
        ("mid_condenser", "degF", "{:.1f} °F"),
        ("liquid_pipe", "degF", "{:.1f} °F"),
        ("compressor_power", "W", "{:.0f} W"),
        ("new_compressor_power", "W", "{:.0f} W"),
    ),
)


def marked(cause: str, proof: str, short: str = "L") -> dict[str, str]:
    return {"cause": cause, "proof": proof, "short": short}


CAUSE_AND_PROOF = {
    "none": "AE",
    "low charge": "BF",
    "restricted capillary": "CG",
    "weak compressor": "DH",
}


@which_fault.key
def _(numbers, earlier):
    return marked(*CAUSE_AND_PROOF[tickets.fault(numbers)])


@which_fault.wrong("low_charge_raises_suction")
def _(numbers, earlier):
    """Look for a low side that has come up; where it has, call it missing refrigerant."""
    cause = {"none": "A", "low charge": "C", "restricted capillary": "C", "weak compressor": "B"}
    return marked(cause[tickets.fault(numbers)], "I")


@which_fault.wrong("colder_means_higher_pressure")
def _(numbers, earlier):
    """Take a colder coil for a higher low side, and so for a weak compressor; a warmer one the other way."""
    cause = {"none": "A", "low charge": "D", "restricted capillary": "D", "weak compressor": "B"}
    return marked(cause[tickets.fault(numbers)], "J")


@which_fault.wrong("colder_means_higher_pressure")
def _(numbers, earlier):
    """Judge the cause by other readings, and prove it by the coil."""
    return marked(CAUSE_AND_PROOF[tickets.fault(numbers)][0], "J")


@which_fault.wrong("coil_order_does_not_matter")
def _(numbers, earlier):
    return marked(*CAUSE_AND_PROOF[tickets.fault(numbers)], "M")


@which_fault.worked
def _(numbers, earlier):
    shown = numbers.shown
    boiling = saturation_temperature("R-134a", numbers.suction_pressure)
    superheat = max(units.from_si(numbers.coil_outlet_pipe - boiling, "delta_degF"), 0.0)
    subcooling = max(units.from_si(numbers.mid_condenser - numbers.liquid_pipe, "delta_degF"), 0.0)
    verdict = {
        "none": "pressures as when it was new and a coil that is wet to its end: nothing is wrong",
        "low charge": "the coil runs dry, and no liquid is left to stand and cool in the condenser: "
        "refrigerant is missing",
        "restricted capillary": "the coil runs dry while liquid stands in the condenser and gets cold "
        "there: the capillary keeps it back",
        "weak compressor": "the coil is wet, the low side has come up and the high side gone down: the "
        "compressor pumps too little",
    }[tickets.fault(numbers)]
    return (
        f"{shown['suction_pressure']} boils at {fahrenheit(boiling)}; the outlet of the last coil is "
        f"{superheat:.0f} °F above that. The liquid pipe is {subcooling:.0f} °F below the middle of the "
        f"condenser. Low side {shown['suction_pressure']}, new {shown['new_suction_pressure']}; high side "
        f"{shown['discharge_pressure']}, new {shown['new_discharge_pressure']}. So {verdict}. The coil that "
        f"is reached last runs dry first ({', '.join(earlier['04.7'].values())})."
    )


# ---------------------------------------------------------------------------------------------------------
homework.question(
    "04.8",
    title="The pipe beside the capillary",
    points=3,
    kind=Sentence(),
    wording=(
        "An apprentice says: “They solder the warm capillary to the cold suction pipe. That heats what we "
        "have just cooled, what a waste!” Explain to him, in two or three sentences, why it is no waste."
    ),
    read_again="Suction-line exchange",
    full_marks=(
        "1 point: the heat stays in the circuit; what the suction vapour gets, the liquid loses. 1 point: "
        "colder liquid before the capillary means that less of it boils off on the way, so each kilogram "
        "brings more cooling. 1 point, for one of: the last drops boil before the compressor, which liquid "
        "would break; the suction pipe is warm outside and neither sweats nor ices. Not asked for, but "
        "worth a word: the vapour gets thinner and the discharge hotter, so that the gain is small."
    ),
)
