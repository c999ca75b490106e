"""Homework 08, One circuit, several boxes: questions, keys, wrong ideas, worked answers.

Readings of simulated machines lie in the tables beside this file, made by
``tests/studies/make_simulated_readings.py``.
"""

import csv
from pathlib import Path

from coldbench import units
from coldbench.homework.declare import Homework, OneOf, Steps, Tolerance
from coldbench.homework.kinds import Choice, Number, Sentence, Table
from coldbench.homework.tickets import Tickets

HERE = Path(__file__).parent

homework = Homework(
    number="08",
    title="One circuit, several boxes",
    lesson="course/08-one-circuit-several-boxes",
    story=(
        "Five invented machines stand in a row in the evening shop: Series, Valve, Damper, Two-circuit and "
        "Thermostat. A new colleague says: “They all work alike.” Show what answers which box in which "
        "machine, with numbers. All of them are built as in lesson 08."
    ),
    cautions=(
        "Fans, valves and dampers are looked at with the plug out. Voltage on a running board is measured by "
        "your instructor or under his eyes: mains stands beside the few volts of a fan. Fingers stay out of "
        "fan blades and off the coils, whose edges cut. R-600a burns, and the sealed circuit is for licensed "
        "hands. Food that got warm: when in doubt, throw it out."
    ),
)


def rows_of(name: str) -> list[dict[str, str]]:
    """Read a table beside this file."""
    with (HERE / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def fahrenheit(temperature: float) -> str:
    return f"{units.from_si(temperature, 'degF'):.1f} °F"


# ---------------------------------------------------------------------------------------------------------
who_brings_cold = homework.question(
    "08.1",
    title="Who brings cold upstairs?",
    points=3,
    kind=Table(
        rows={
            "series": "Series",
            "valve": "Valve",
            "damper": "Damper",
            "two_circuit": "Two-circuit",
            "thermostat": "Thermostat",
        },
        options={
            "A": "a compressor that only the fresh food has",
            "B": "a damper: it opens, and the fan blows cold air up from the freezer",
            "C": "a fan at the fresh-food coil: it takes the cold that the coil holds",
            "D": "nothing: it must wait until the freezer calls",
            "E": "a valve: it sends refrigerant to the fresh-food coil too, and the compressor starts",
        },
    ),
    wording=(
        "In all five machines the fresh-food box has become too warm while the freezer is cold enough and "
        "calls nothing. What answers the fresh food's call? Type one letter for each machine."
    ),
    read_again="Who answers whom",
)


@who_brings_cold.key
def _(numbers, earlier):
    return {"series": "C", "valve": "E", "damper": "B", "two_circuit": "A", "thermostat": "D"}


@who_brings_cold.wrong("satisfied_box_stops_compressor")
def _(numbers, earlier):
    """Let nothing answer where one compressor serves both; with two, either answer fits the idea."""
    return dict.fromkeys(("series", "valve", "damper", "thermostat"), "D") | {"two_circuit": "A"}


@who_brings_cold.worked
def _(numbers, earlier):
    return (
        "Series: its own fan (C); in this machine only the freezer calls the compressor. Valve: the valve "
        "turns and the compressor starts (E). Damper: the damper opens (B). Two-circuit: its own compressor "
        "(A). Thermostat: nobody asks the fresh food, it waits for the freezer (D)."
    )


# ---------------------------------------------------------------------------------------------------------
MACHINES = {1.0: "Series", 2.0: "Valve", 3.0: "Damper", 4.0: "Two-circuit", 5.0: "Thermostat"}
COMMANDS = {row.pop("machine"): row for row in rows_of("commands.csv")}
LETTERS = {"on": "A", "off": "B", "shut": "C", "open": "D", "none": "E"}

who_runs = homework.question(
    "08.2",
    title="Who runs now?",
    points=2,
    kind=Table(
        rows={
            "compressor": "the compressor that serves the freezer",
            "fresh_food_fan": "the fan at the fresh-food coil",
            "freezer_fan": "the fan at the freezer's coil",
            "condenser_fan": "the condenser fan",
            "valve_or_damper": "the valve or the damper",
        },
        options={
            "A": "runs",
            "B": "stands still",
            "C": "shut: no refrigerant, or no air, to the fresh food",
            "D": "open: refrigerant, or air, to the fresh food too",
            "E": "this machine has no such part",
        },
    ),
    wording=(
        "Your machine is number {machine} of the row (1 Series, 2 Valve, 3 Damper, 4 Two-circuit). The fresh "
        "food stands at {fresh_food_air_temperature} and has been satisfied for hours, its coil (if it has "
        "one) is warm and dry; the freezer stands at {freezer_air_temperature} and calls. All parts are "
        "good, no defrost is on. What does each part do? Type one letter for each row."
    ),
    read_again="Who answers whom",
    draw=(
        OneOf("machine", (1.0, 2.0, 3.0, 4.0), "1", "{:.0f}"),
        Steps("fresh_food_air_temperature", 33.0, 35.5, 0.1, "degF", "{:.1f} °F"),
        Steps("freezer_air_temperature", 7.0, 15.0, 0.1, "degF", "{:.1f} °F"),
    ),
)


@who_runs.key
def _(numbers, earlier):
    return {row: LETTERS[state] for row, state in COMMANDS[MACHINES[numbers.machine]].items()}


@who_runs.wrong("satisfied_box_stops_compressor")
def _(numbers, earlier):
    right = COMMANDS[MACHINES[numbers.machine]]
    return {row: "B" if state == "on" else LETTERS[state] for row, state in right.items()}


@who_runs.worked
def _(numbers, earlier):
    name = MACHINES[numbers.machine]
    satisfied = {
        "Series": "the fan at the fresh-food coil stands still",
        "Valve": "the valve feeds the freezer alone, and the fresh-food fan stands still",
        "Damper": "the damper is shut; there is one coil and one fan",
        "Two-circuit": "the fresh-food compressor and its fan stand still",
    }
    return (
        f"{name}: the freezer calls, so its compressor, its fan and the condenser fan run. The fresh food is "
        f"satisfied, so {satisfied[name]}."
    )


# ---------------------------------------------------------------------------------------------------------
coil_order = homework.question(
    "08.3",
    title="Which coil starves?",
    points=2,
    kind=Choice(
        {
            "A": "both boxes warm alike",
            "B": "the fresh food warms first, the freezer stays cold",
            "C": "the freezer warms first, the fresh food stays cold",
            "D": "neither: less refrigerant only takes longer",
        }
    ),
    wording=(
        "A Series machine was built to order: its refrigerant meets the coil of box {first_coil} first (1 "
        "fresh food, 2 freezer), then the other. It has lost charge: {charge_left} of it is left, in a room "
        "of {room_temperature}. What do the boxes do? Type one letter."
    ),
    read_again="Order of coils",
    draw=(
        OneOf("first_coil", (1.0, 2.0), "1", "{:.0f}"),
        Steps("charge_left", 30.0, 40.0, 1.0, "%", "{:.0f} %"),
        Steps("room_temperature", 68.0, 86.0, 1.0, "degF", "{:.0f} °F"),
    ),
)


@coil_order.key
def _(numbers, earlier):
    return "C" if numbers.first_coil == 1 else "B"


coil_order.wrong("coil_order_does_not_matter", gives="A")


@coil_order.worked
def _(numbers, earlier):
    first, last = ("fresh-food", "freezer's") if numbers.first_coil == 1 else ("freezer's", "fresh-food")
    return (
        f"The liquid that is left boils in the {first} coil; hardly any reaches the {last} coil, which comes "
        f"last. So the box of the last coil warms first: {earlier['08.3']}."
    )


# ---------------------------------------------------------------------------------------------------------
still_air = homework.question(
    "08.4",
    title="The fan is off. How much does the box warm?",
    points=3,
    kind=Number("temperature difference", "delta_degF", 1, "12.5 degF"),
    wording=(
        "The fan at the fresh-food coil stands still; the coil stays cold because the freezer calls. Through "
        "the walls come {wall_conductance} from a room at {room_temperature} into a box at "
        "{box_air_temperature}. Still air carries {still_conductance} from the box to the coil at "
        "{coil_temperature}. Box and contents take {heat_capacity}. By how many °F does the box warm in one "
        "hour, if both flows stay as they are? Type it with its unit."
    ),
    read_again="Still air carries some",
    draw=(
        Steps("wall_conductance", 1.0, 1.6, 0.1, "1", "{:.1f} W/K"),
        Steps("still_conductance", 0.3, 0.7, 0.1, "1", "{:.1f} W/K"),
        Steps("room_temperature", 70.0, 90.0, 1.0, "degF", "{:.0f} °F"),
        Steps("box_air_temperature", 36.0, 40.0, 1.0, "degF", "{:.0f} °F"),
        Steps("coil_temperature", -20.0, 0.0, 1.0, "degF", "{:.0f} °F"),
        Steps("heat_capacity", 12.0, 24.0, 1.0, "1", "{:.0f} kJ/K"),
    ),
    accept=lambda drawn: gained(drawn) - carried(drawn) >= 8 / 1.8 and carried(drawn) >= 0.2 * gained(drawn),
    tolerance=Tolerance(
        "the conductances and the answer have one figure after the point", within=0.15, percent=4.0
    ),
)


def gained(numbers) -> float:
    """Heat through the walls [W]."""
    return numbers.wall_conductance * (numbers.room_temperature - numbers.box_air_temperature)


def carried(numbers) -> float:
    """Heat that still air carries to the coil [W]."""
    return numbers.still_conductance * (numbers.box_air_temperature - numbers.coil_temperature)


def in_an_hour(heat: float, numbers) -> float:
    """Change of the box's temperature [K] from a flow of heat [W]."""
    return 3.6 * heat / numbers.heat_capacity


@still_air.key
def _(numbers, earlier):
    return in_an_hour(gained(numbers) - carried(numbers), numbers)


@still_air.wrong("fan_off_means_no_cooling")
def _(numbers, earlier):
    return in_an_hour(gained(numbers), numbers)


@still_air.wrong("difference_with_32")
def _(numbers, earlier):
    """Take 32 off both differences on the way to kelvin."""
    off = 32 / 1.8 * (numbers.wall_conductance - numbers.still_conductance)
    return in_an_hour(gained(numbers) - carried(numbers) - off, numbers)


@still_air.wrong("difference_with_32")
def _(numbers, earlier):
    """Add 32 to the result on the way back to °F."""
    return in_an_hour(gained(numbers) - carried(numbers), numbers) + 32 / 1.8


@still_air.slip("still_air_added", "Still air takes heat out of the box: its flow is taken off, not added.")
def _(numbers, earlier):
    return in_an_hour(gained(numbers) + carried(numbers), numbers)


@still_air.worked
def _(numbers, earlier):
    walls, coil = gained(numbers), carried(numbers)
    drift = earlier["08.4"]
    return (
        f"Through the walls: {numbers.wall_conductance:.1f} × ({numbers.shown['room_temperature']} − "
        f"{numbers.shown['box_air_temperature']}) / 1.8 = {walls:.1f} W. To the coil: "
        f"{numbers.still_conductance:.1f} × ({numbers.shown['box_air_temperature']} − "
        f"({numbers.shown['coil_temperature']})) / 1.8 = {coil:.1f} W. What stays: {walls - coil:.1f} W, in "
        f"an hour {3.6 * (walls - coil):.1f} kJ, over {numbers.shown['heat_capacity']} that is {drift:.2f} "
        f"K, times 1.8: {units.from_si(drift, 'delta_degF'):.1f} °F."
    )


# ---------------------------------------------------------------------------------------------------------
two_returns = homework.question(
    "08.5",
    title="One coil, two returns",
    points=2,
    kind=Number("temperature", "degF", 1, "21.5 degF"),
    wording=(
        "In a Damper machine the damper stands open. Of the air that comes back to the coil "
        "{fresh_food_share} comes from the fresh food at {fresh_food_air_temperature}, the rest from the "
        "freezer at {freezer_air_temperature}. How warm is the mixed air that enters the coil? Type a "
        "temperature with its unit."
    ),
    read_again="One coil, two returns",
    draw=(
        Steps("fresh_food_share", 10.0, 35.0, 1.0, "%", "{:.0f} %"),
        Steps("fresh_food_air_temperature", 36.0, 40.0, 0.1, "degF", "{:.1f} °F"),
        Steps("freezer_air_temperature", -4.0, 4.0, 0.1, "degF", "{:.1f} °F"),
    ),
    tolerance=Tolerance("thermometers in moving air agree to half a degree", within=0.5),
    possible=(-40.0, 60.0),
)


def mixed(share: float, numbers) -> float:
    return share * numbers.fresh_food_air_temperature + (1 - share) * numbers.freezer_air_temperature


@two_returns.key
def _(numbers, earlier):
    return mixed(numbers.fresh_food_share, numbers)


@two_returns.wrong("midpoint_is_average")
def _(numbers, earlier):
    return mixed(0.5, numbers)


@two_returns.slip("shares_swapped", "The two shares are swapped: the larger one belongs to the freezer.")
def _(numbers, earlier):
    return mixed(1 - numbers.fresh_food_share, numbers)


@two_returns.worked
def _(numbers, earlier):
    share = numbers.fresh_food_share
    typed = numbers.typed
    return (
        f"Each air counts by its share: {share:.2f} × {typed['fresh_food_air_temperature']:.1f} + "
        f"{1 - share:.2f} × {typed['freezer_air_temperature']:.1f} = {fahrenheit(earlier['08.5'])}."
    )


# ---------------------------------------------------------------------------------------------------------
coil_below_air = homework.question(
    "08.6",
    title="And the coil?",
    points=2,
    kind=Number("temperature", "degF", 1, "9.0 degF"),
    wording=(
        "The coil of 08.5 must be {coil_to_air_difference} apart from the mixed air that enters it, or no "
        "heat flows. How cold or warm is the coil? Type a temperature with its unit."
    ),
    read_again="Heat flows downhill",
    draw=(Steps("coil_to_air_difference", 10.0, 14.0, 0.1, "delta_degF", "{:.1f} °F"),),
    tolerance=Tolerance("half a degree of 08.5, and rounding", within=0.6),
    uses=("08.5",),
)


@coil_below_air.key
def _(numbers, earlier):
    return earlier["08.5"] - numbers.coil_to_air_difference


@coil_below_air.wrong("temperature_difference_added")
def _(numbers, earlier):
    return earlier["08.5"] + numbers.coil_to_air_difference


@coil_below_air.wrong("coil_as_cold_as_box")
def _(numbers, earlier):
    return earlier["08.5"]


@coil_below_air.worked
def _(numbers, earlier):
    return (
        f"Heat flows from the air to the coil, so the coil is colder: {fahrenheit(earlier['08.5'])} − "
        f"{numbers.shown['coil_to_air_difference']} = {fahrenheit(earlier['08.6'])}."
    )


# ---------------------------------------------------------------------------------------------------------
FAILING = {(row["machine"], row["part"]) for row in rows_of("failing_parts.csv")}
PARTS = ("fan", "sensor", "valve", "damper", "compressor")

failing_parts = homework.question(
    "08.7",
    title="Parts that can fail, counted",
    points=2,
    kind=Table(
        rows={
            "fan": "a fan at a fresh-food coil",
            "sensor": "a fresh-food sensor that the board asks",
            "valve": "a switching valve",
            "damper": "a damper that the board moves",
            "compressor": "a compressor for the fresh food alone",
        },
        options={
            "A": "in the first machine only",
            "B": "in the second machine only",
            "C": "in both",
            "D": "in neither",
        },
    ),
    wording=(
        "Two machines of the row: the first is number {first_machine}, the second number {second_machine} (1 "
        "Series, 2 Valve, 3 Damper, 4 Two-circuit, 5 Thermostat). Each part below, where a machine has it, "
        "can fail so that the fresh food gets warm while the freezer stays cold. In which of your two "
        "machines is there such a part? Type one letter for each row."
    ),
    read_again="Parts that can fail, counted",
    draw=(
        OneOf("first_machine", tuple(MACHINES), "1", "{:.0f}"),
        OneOf("second_machine", tuple(MACHINES), "1", "{:.0f}"),
    ),
    accept=lambda drawn: drawn.first_machine != drawn.second_machine,
)


@failing_parts.key
def _(numbers, earlier):
    first, second = MACHINES[numbers.first_machine], MACHINES[numbers.second_machine]
    letters = {(True, False): "A", (False, True): "B", (True, True): "C", (False, False): "D"}
    return {part: letters[(first, part) in FAILING, (second, part) in FAILING] for part in PARTS}


@failing_parts.worked
def _(numbers, earlier):
    def listed(name):
        found = [part for part in PARTS if (name, part) in FAILING]
        if not found:
            return f"{name}: none, its one thermostat serves both boxes"
        return f"{name}: {len(found)} ({', '.join(found)})"

    return f"{listed(MACHINES[numbers.first_machine])}. {listed(MACHINES[numbers.second_machine])}."


# ---------------------------------------------------------------------------------------------------------
tickets = Tickets(HERE / "valve_tickets.csv")

warm_above = homework.question(
    "08.8",
    title="Warm above, cold below",
    points=4,
    alike=(frozenset(("dead_fan_as_low_charge", "vacuum_is_a_leak")),),
    kind=Table(
        rows={"cause": "what is wrong", "proof": "which readings prove it"},
        options={
            "A": "the fan does not turn though it is fed",
            "B": "the board's output for the fan is dead",
            "C": "a wire of the fresh-food sensor is broken",
            "D": "the valve is stuck on the freezer's side",
            "E": "the machine has lost refrigerant",
            "F": "fan fed and turning, board calls for both coils, but the fresh-food coil is as warm as its "
            "box",
            "G": "endless ohms at the sensor: the display shows the cold end of its table, and nothing calls",
            "H": "the board calls for both coils and the coil is cold, but at the fan there are no volts",
            "I": "the low side is deep in vacuum while the fresh food is warm",
            "J": "the board calls, the coil is cold and the fan has its volts, but it does not turn",
        },
    ),
    wording=(
        "Ticket {ticket}, a Valve machine with R-600a in a room of {room_temperature}: “Warm above, cold "
        "below.” Read while the compressor runs: fresh food {fresh_food_air_temperature}, freezer "
        "{freezer_air_temperature}, display for the fresh food {displayed_temperature}; signal to the valve "
        "{valve_signal} (1 for both coils, 0 for the freezer alone); at the fresh-food fan {fan_voltage} and "
        "{fan_speed}; fresh-food coil {fresh_food_coil_temperature}; low side {suction_vacuum} (on the "
        "instructor's gauge). With the plug out: fresh-food sensor, unplugged, {sensor_resistance} (999.0 kΩ "
        "is what this meter shows for endless). What is wrong, and what proves it? Type a letter out of A to "
        "E for the cause, out of F to J for the proof."
    ),
    read_again="Commanded against seen",
    draw=tickets.draw(
        ("room_temperature", "degF", "{:.0f} °F"),
        ("fresh_food_air_temperature", "degF", "{:.1f} °F"),
        ("freezer_air_temperature", "degF", "{:.1f} °F"),
        ("displayed_temperature", "degF", "{:.0f} °F"),
        ("valve_signal", "1", "{:.0f}"),
        ("fan_voltage", "V", "{:.1f} V"),
        ("fan_speed", "rpm", "{:.0f} rpm"),
        ("fresh_food_coil_temperature", "degF", "{:.1f} °F"),
        ("suction_vacuum", "inHg vacuum", "{:.1f} inHg vacuum"),
        ("sensor_resistance", "kohm", "{:.1f} kΩ"),
    ),
)
KEYS = {
    "fan dead": {"cause": "A", "proof": "J"},
    "fan output dead": {"cause": "B", "proof": "H"},
    "sensor open": {"cause": "C", "proof": "G"},
    "valve stuck": {"cause": "D", "proof": "F"},
}


@warm_above.key
def _(numbers, earlier):
    return KEYS[tickets.fault(numbers)]


for idea in ("dead_fan_as_low_charge", "vacuum_is_a_leak"):
    warm_above.wrong(idea, gives={"cause": "E", "proof": "I"})


@warm_above.worked
def _(numbers, earlier):
    shown = numbers.shown
    return {
        "fan dead": f"The board calls (valve at both coils), the coil is at "
        f"{shown['fresh_food_coil_temperature']}, "
        f"the fan has {shown['fan_voltage']} and {shown['fan_speed']}: it is fed and stands still.",
        "fan output dead": f"The board calls and the coil is at {shown['fresh_food_coil_temperature']}, but "
        "the fan "
        f"has {shown['fan_voltage']}: the board's output gives nothing.",
        "sensor open": f"The sensor shows {shown['sensor_resistance']}, so the board believes "
        f"{shown['displayed_temperature']} in a box at {shown['fresh_food_air_temperature']} and calls "
        f"nothing.",
        "valve stuck": f"The board calls for both coils, the fan turns, but the coil is at "
        f"{shown['fresh_food_coil_temperature']} in a box at {shown['fresh_food_air_temperature']}: no "
        f"refrigerant "
        "gets there.",
    }[tickets.fault(numbers)] + f" Cause and proof: {' and '.join(earlier['08.8'].values())}."


# ---------------------------------------------------------------------------------------------------------
cold_garage = homework.question(
    "08.9",
    title="For a cold garage",
    points=3,
    kind=Sentence(),
    wording=(
        "A customer wants a machine for a garage that has 40 °F in winter. Which of the five would you give "
        "her, which one not, and why? Two or three sentences."
    ),
    read_again="Five machines compared",
    full_marks=(
        "1 point: a machine in which the fresh food has a sensor of its own, and something of its own that "
        "answers it: Valve, Damper or Two-circuit. 1 point: not Thermostat: in a cold room its one "
        "thermostat runs the machine too little or too much for the other box, here the fresh food falls "
        "below freezing (nor Series, whose cold coil goes on cooling the fresh food through still air). 1 "
        "point: the maker's range of room temperatures decides, and in doubt the food is checked with a "
        "thermometer."
    ),
)
