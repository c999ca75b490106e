"""How invented students work out homework 01 and 05: rightly, or with something wrong in their heads.

`worked` does the arithmetic of one question with the numbers a student sees. ``ideas`` is the set of what
is wrong in that head: ids of the catalogue (`wrong_ideas.csv`), their other way of going wrong (the id and
`OTHER_WAY`), or one of the phrases of `OUTSIDE`, which no catalogue lists. Inside: refrigerant questions,
sensor questions, the lists of what bears on which question, `worked`, `written`. Written from the wording
of the questions and the catalogue alone, so that the marking can be tried on somebody else's thinking.
"""

from __future__ import annotations

import itertools
import math

from coldbench.properties.refrigerant import saturation_pressure, saturation_temperature

AIR = 14.7  # psia, as the opening of homework 01 says
PSI = 6894.757  # Pa. Source: NIST SP 811, appendix B
INCHES = 2.036  # inHg in a psi, as lesson 01 counts
R25, T25, B = 10.0, 298.15, 3950.0  # kOhm, K, K, as the opening of homework 05 says
TABLE = [(-4, 105.4), (5, 77.9), (14, 58.2), (23, 44.0), (32, 33.6), (41, 25.9), (50, 20.2)]  # of 05.3
OTHER_WAY = " (other way)"
OTHER_REFRIGERANT = {"R-134a": "R-600a", "R-600a": "R-134a"}
NONSENSE = 1e9  # a result above this, nobody copies from the calculator

CATALOGUED = {
    "01.1": ["gauge_as_absolute", "wrong_refrigerant_curve", "offset_32_forgotten"],
    "01.2": [
        "vacuum_as_pressure_above",
        "gauge_as_absolute",
        "wrong_refrigerant_curve",
        "offset_32_forgotten",
    ],
    "01.3": ["altitude_ignored", "gauge_as_absolute", "wrong_refrigerant_curve", "offset_32_forgotten"],
    "01.4": [
        "superheat_from_box",
        "superheat_subcooling_exchanged",
        "difference_with_32",
        "gauge_as_absolute",
        "wrong_refrigerant_curve",
    ],
    "01.5": ["superheat_subcooling_exchanged", "gauge_as_absolute", "wrong_refrigerant_curve"],
    "01.6": ["vacuum_as_pressure_above", "gauge_as_absolute"],
    "01.8": [],
    "01.9": [
        "vacuum_as_pressure_above",
        "gauge_as_absolute",
        "wrong_refrigerant_curve",
        "offset_32_forgotten",
    ],
    "05.1": ["celsius_for_kelvin", "ohms_rise_with_temperature", "log10_for_ln", "offset_32_forgotten"],
    "05.2": ["ohms_rise_with_temperature", "log10_for_ln", "offset_32_forgotten"],
    "05.3": ["far_straight_line", "ohms_rise_with_temperature"],
    "05.4": ["divider_upside_down"],
    "05.5": [
        "ohms_percent_is_degree_percent",
        "difference_with_32",
        "celsius_for_kelvin",
        "offset_32_forgotten",
    ],
    "05.6": ["open_hot_short_cold", "ohms_rise_with_temperature", "parallel_path_ignored"],
    "05.8": [],
    "05.9": [
        "parallel_path_ignored",
        "celsius_for_kelvin",
        "ohms_rise_with_temperature",
        "log10_for_ln",
        "offset_32_forgotten",
    ],
}
TWO_WAYS = {
    ("01.2", "vacuum_as_pressure_above"),
    ("05.9", "parallel_path_ignored"),
}  # where the catalogue's signature says "or" and both ways fit the question
OUTSIDE = {
    "01.1": ["14.0 psi of air", "air taken off", "mean of gauge and air"],
    "01.2": ["14.0 psi of air", "inches taken as psi", "inches left taken as psi"],
    "01.3": ["14.0 psi of air", "one psi a thousand feet", "air heavier up there", "feet taken as metres"],
    "01.4": [
        "liquid pipe minus suction pipe",
        "box minus suction pipe",
        "mean of pipe and box",
        "sign turned round",
        "times 1.8",
        "273 added",
    ],
    "01.5": [
        "liquid pipe minus coil",
        "liquid pipe minus box",
        "sign turned round",
        "mean of both pressures",
    ],
    "01.6": ["highest first", "printed figures", "printed figures, largest first"],
    "01.8": [],
    "01.9": ["minus overlooked", "14.0 psi of air", "five degrees off in the chart"],
    "05.1": ["inverse proportion", "ohms over kilo-ohms", "kelvin left at the end", "first term dropped"],
    "05.2": ["inverse proportion", "freezing point for 25 °C", "second term dropped"],
    "05.3": ["middle of the two rows", "colder row", "one row on", "one row back"],
    "05.4": ["no sum below", "25 °C value of the sensor", "half the supply"],
    "05.5": ["temperature of 25 °C", "both sides together", "not squared"],
    "05.6": ["wet is a short", "open keeps the last value", "loose warms the sensor", "softer words"],
    "05.8": [],
    "05.9": ["mean of both paths", "second path alone", "product over difference", "kelvin left at the end"],
}
CHAINS = {"01.4": ("01.1",), "01.5": ("01.1",), "05.4": ("05.2",), "05.9": ("05.2",)}
DECIMALS = {"05.4": 2, "05.5": 2}  # one decimal elsewhere, as the examples in the notebooks show


def to_fahrenheit(celsius: float, ideas: set[str]) -> float:
    return 1.8 * celsius + (0 if "offset_32_forgotten" in ideas else 32)


def to_celsius(fahrenheit: float, ideas: set[str]) -> float:
    return (fahrenheit - (0 if "offset_32_forgotten" in ideas else 32)) / 1.8


# Refrigerant, homework 01. Pressures in psia, temperatures in degrees Fahrenheit.


def chart(refrigerant: str, ideas: set[str]) -> str:
    return OTHER_REFRIGERANT[refrigerant] if "wrong_refrigerant_curve" in ideas else refrigerant


def boils_at(refrigerant: str, absolute: float, ideas: set[str]) -> float:
    kelvin = saturation_temperature(chart(refrigerant, ideas), absolute * PSI)
    return to_fahrenheit(kelvin - 273.15, ideas)


def absolute(gauge: float, ideas: set[str], air: float = AIR) -> float:
    air = 14.0 if "14.0 psi of air" in ideas else air
    if "gauge_as_absolute" in ideas:
        return gauge
    if "air taken off" in ideas:
        return air - gauge
    return (gauge + air) / 2 if "mean of gauge and air" in ideas else gauge + air


def absolute_of_vacuum(inches: float, ideas: set[str]) -> float:
    air = 14.0 if "14.0 psi of air" in ideas else AIR
    if "vacuum_as_pressure_above" + OTHER_WAY in ideas:  # "9.7 inches" goes on as 9.7 psig
        return inches + air
    if "vacuum_as_pressure_above" in ideas:
        return air + inches / INCHES
    if "gauge_as_absolute" in ideas:
        return inches / INCHES
    if "inches taken as psi" in ideas:
        return air - inches
    return 29.9 - inches if "inches left taken as psi" in ideas else air - inches / INCHES


def air_at(feet: float, ideas: set[str]) -> float:
    if "altitude_ignored" in ideas:
        return AIR
    if "one psi a thousand feet" in ideas:
        return AIR - feet / 1000
    share = 2.25577e-5 if "feet taken as metres" in ideas else 6.8754e-6
    thin = 14.696 * (1 - share * feet) ** 5.2559  # the formula of lesson 01
    return 2 * AIR - thin if "air heavier up there" in ideas else thin


def coil_from_gauge(see: dict, earlier: dict, ideas: set[str]):
    return boils_at("R-134a", absolute(see["gauge_pressure"], ideas), ideas), "degF"


def coil_from_vacuum(see: dict, earlier: dict, ideas: set[str]):
    return boils_at("R-600a", absolute_of_vacuum(see["vacuum"], ideas), ideas), "degF"


def coil_high_up(see: dict, earlier: dict, ideas: set[str]):
    pressure = absolute(see["mountain_gauge_pressure"], ideas, air_at(see["altitude"], ideas))
    return boils_at("R-134a", pressure, ideas), "degF"


def coil(see: dict, earlier: dict, ideas: set[str]) -> float:
    """The coil's temperature again: from 01.1, or worked out once more by one who reads gauges wrongly."""
    if "01.1" in earlier and not ideas & {"gauge_as_absolute", "wrong_refrigerant_curve"}:
        return earlier["01.1"]
    return coil_from_gauge(see, earlier, ideas)[0]


def condensing(see: dict, ideas: set[str]) -> float:
    pressure = absolute(see["high_gauge_pressure"], ideas)
    if "mean of both pressures" in ideas:
        pressure = (pressure + absolute(see["gauge_pressure"], ideas)) / 2
    return boils_at("R-134a", pressure, ideas)


def superheat(see: dict, earlier: dict, ideas: set[str]):
    suction, box, liquid = (
        see["suction_line_temperature"],
        see["box_air_temperature"],
        see["liquid_line_temperature"],
    )
    if "superheat_subcooling_exchanged" in ideas:
        difference = condensing(see, ideas) - (box if "superheat_from_box" in ideas else liquid)
    elif "liquid pipe minus suction pipe" in ideas:
        difference = liquid - suction
    elif "box minus suction pipe" in ideas:
        difference = box - suction
    else:
        warm = box if "superheat_from_box" in ideas else suction
        warm = (suction + box) / 2 if "mean of pipe and box" in ideas else warm
        difference = warm - coil(see, earlier, ideas)
    difference = -difference if "sign turned round" in ideas else difference
    if "times 1.8" in ideas:
        return difference * 1.8, "K"
    kelvin = (difference - (32 if "difference_with_32" in ideas else 0)) / 1.8
    return kelvin + (273 if "273 added" in ideas else 0), "K"


def subcooling(see: dict, earlier: dict, ideas: set[str]):
    liquid = see["liquid_line_temperature"]
    if "superheat_subcooling_exchanged" in ideas:
        return see["suction_line_temperature"] - coil(see, earlier, ideas), "degF"
    if "liquid pipe minus coil" in ideas:
        return liquid - coil(see, earlier, ideas), "degF"
    if "liquid pipe minus box" in ideas:
        return liquid - see["box_air_temperature"], "degF"
    difference = condensing(see, ideas) - liquid
    return -difference if "sign turned round" in ideas else difference, "degF"


def order(see: dict, earlier: dict, ideas: set[str]) -> str:
    figures = [
        see[name] for name in ("first_vacuum", "second_gauge_pressure", "third_pressure", "fourth_pressure")
    ]
    vacuum, gauge, psia, kilopascal = figures
    pressures = [absolute_of_vacuum(vacuum, ideas), absolute(gauge, ideas), psia, kilopascal * 1000 / PSI]
    if ideas & {"printed figures", "printed figures, largest first"}:
        pressures = figures
    turned = bool(ideas & {"highest first", "printed figures, largest first"})
    return " ".join(letter for _, letter in sorted(zip(pressures, "ABCD", strict=True), reverse=turned))


def vacuum_from_coil(see: dict, earlier: dict, ideas: set[str]):
    fahrenheit = see["coil_temperature"] - (5 if "five degrees off in the chart" in ideas else 0)
    fahrenheit = abs(fahrenheit) if "minus overlooked" in ideas else fahrenheit
    pressure = saturation_pressure(chart("R-600a", ideas), to_celsius(fahrenheit, ideas) + 273.15) / PSI
    gauge = pressure - (14.0 if "14.0 psi of air" in ideas else AIR)
    if "gauge_as_absolute" in ideas:
        return pressure, "psig"
    if "vacuum_as_pressure_above" in ideas:  # the figure of the inches, given as psig
        return abs(gauge) * INCHES, "psig"
    return (gauge, "psig") if gauge >= 0 else (-gauge * INCHES, "inHg vacuum")


# Sensors, homework 05. Resistances in kOhm, temperatures in degrees Fahrenheit.


def logarithm(ratio: float, ideas: set[str]) -> float:
    turned = -1 if "ohms_rise_with_temperature" in ideas else 1
    return turned * (math.log10(ratio) if "log10_for_ln" in ideas else math.log(ratio))


def sensor_temperature(resistance: float, ideas: set[str]) -> float:
    ratio = resistance * (1000 if "ohms over kilo-ohms" in ideas else 1) / R25
    if "celsius_for_kelvin" in ideas:
        return to_fahrenheit(1 / (1 / 25 + logarithm(ratio, ideas) / B), ideas)
    first = 0 if "first term dropped" in ideas else 1 / T25
    kelvin = 1 / (first + logarithm(ratio, ideas) / B)
    return to_fahrenheit(kelvin - (0 if "kelvin left at the end" in ideas else 273.15), ideas)


def sensor_resistance(fahrenheit: float, ideas: set[str]) -> float:
    kelvin = to_celsius(fahrenheit, ideas) + 273.15
    second = 1 / (273.15 if "freezing point for 25 °C" in ideas else T25)
    exponent = B * (1 / kelvin - (0 if "second term dropped" in ideas else second))
    exponent = -exponent if "ohms_rise_with_temperature" in ideas else exponent
    return R25 * (10.0 if "log10_for_ln" in ideas else math.e) ** exponent


def from_ohms(see: dict, earlier: dict, ideas: set[str]):
    if "inverse proportion" in ideas:
        return 77 * R25 / see["resistance"], "degF"
    return sensor_temperature(see["resistance"], ideas), "degF"


def to_ohms(see: dict, earlier: dict, ideas: set[str]):
    if "inverse proportion" in ideas:
        return R25 * 77 / see["box_air_temperature"], "kohm"
    return sensor_resistance(see["box_air_temperature"], ideas), "kohm"


def from_table(see: dict, earlier: dict, ideas: set[str]):
    reading = see["table_resistance"]
    pairs = [(TABLE[0], TABLE[-1])] if "far_straight_line" in ideas else itertools.pairwise(TABLE)
    (cold, more), (warm, less) = next(pair for pair in pairs if pair[1][1] <= reading)
    share = (more - reading) / (more - less)
    if "ohms_rise_with_temperature" in ideas:  # counts up from the row with fewer ohms: more is warmer
        share = 1 - share
    share = 0.5 if "middle of the two rows" in ideas else 0.0 if "colder row" in ideas else share
    rows_off = 1 if "one row on" in ideas else -1 if "one row back" in ideas else 0
    return cold + (share + rows_off) * (warm - cold), "degF"


def pin_voltage(see: dict, earlier: dict, ideas: set[str]):
    supply, fixed = see["supply_voltage"], see["fixed_resistance"]
    sensor = earlier.get("05.2", sensor_resistance(see["box_air_temperature"], set()))
    sensor = R25 if "25 °C value of the sensor" in ideas else sensor
    if "no sum below" in ideas:
        return supply * sensor / fixed, "V"
    if "half the supply" in ideas:
        return supply / 2, "V"
    return supply * (fixed if "divider_upside_down" in ideas else sensor) / (fixed + sensor), "V"


def sensor_error(see: dict, earlier: dict, ideas: set[str]):
    tolerance, fahrenheit = see["ohms_tolerance"] / 100, see["freezer_air_temperature"]
    if "ohms_percent_is_degree_percent" in ideas:
        return tolerance * abs(fahrenheit), "degF"
    celsius = 25.0 if "temperature of 25 °C" in ideas else to_celsius(fahrenheit, ideas)
    degrees = celsius if "celsius_for_kelvin" in ideas else celsius + 273.15
    error = tolerance * degrees ** (1 if "not squared" in ideas else 2) / B
    error *= 2 if "both sides together" in ideas else 1
    return error * 1.8 + (32 if "difference_with_32" in ideas else 0), "degF"


def what_the_board_does(see: dict, earlier: dict, ideas: set[str]) -> str:
    letters = {"open": "D", "short": "B", "wet": "F", "loose": "C"}
    for idea, changed in {
        "open_hot_short_cold": {"open": "B", "short": "D"},
        "ohms_rise_with_temperature": {"open": "B", "short": "D", "wet": "E"},
        "parallel_path_ignored": {"wet": "A"},
        "wet is a short": {"wet": "B"},
        "open keeps the last value": {"open": "A"},
        "loose warms the sensor": {"loose": "F"},
        "softer words": {"open": "E", "short": "F"},
    }.items():
        letters |= changed if idea in ideas else {}
    return ", ".join(f"{row}: {letter}" for row, letter in letters.items())


def wet_connector(see: dict, earlier: dict, ideas: set[str]):
    path = see["path_resistance"]
    sensor = earlier.get(
        "05.2", sensor_resistance(see["box_air_temperature"], ideas - {"celsius_for_kelvin"})
    )
    if "parallel_path_ignored" in ideas:
        return see["box_air_temperature"], "degF"
    seen = sensor * path / (sensor + path)
    if "parallel_path_ignored" + OTHER_WAY in ideas:
        seen = sensor + path
    elif "mean of both paths" in ideas:
        seen = (sensor + path) / 2
    elif "second path alone" in ideas:
        seen = path
    elif "product over difference" in ideas:
        seen = sensor * path / abs(sensor - path)
    return sensor_temperature(seen, ideas), "degF"


WAYS = {
    "01.1": coil_from_gauge,
    "01.2": coil_from_vacuum,
    "01.3": coil_high_up,
    "01.4": superheat,
    "01.5": subcooling,
    "01.6": order,
    "01.9": vacuum_from_coil,
    "05.1": from_ohms,
    "05.2": to_ohms,
    "05.3": from_table,
    "05.4": pin_voltage,
    "05.5": sensor_error,
    "05.6": what_the_board_does,
    "05.9": wet_connector,
}


def worked(question: str, see: dict, earlier: dict, ideas: set[str] = frozenset()):
    """Work a question out.

    Parameters: ``question`` id; ``see`` numbers as the student reads them [units of the sheet]; ``earlier``
    the student's own earlier answers [unit in which each is asked]; ``ideas`` what is wrong in the head.
    Returns: number and unit, or letters as text; None where the arithmetic leads nowhere.
    """
    try:
        result = WAYS[question](see, earlier, set(ideas))
    except (ValueError, OverflowError, ZeroDivisionError):
        return None
    if not isinstance(result, str) and not abs(result[0]) < NONSENSE:
        return None
    return result


def written(question: str, result, figures: int = 0) -> str | None:
    """Write a result as a student types it.

    Parameters: ``question`` id; ``result`` from `worked`; ``figures`` significant figures, 0 for the
    decimals that the example in the notebook has (two figures at least in 05.5).
    Returns: text; None when there is nothing to write.
    """
    if result is None or isinstance(result, str):
        return result
    number, unit = result
    size = math.floor(math.log10(abs(number))) if number else 0
    decimals = figures - 1 - size if figures else DECIMALS.get(question, 1)
    if question == "05.5" and not figures:
        decimals = max(decimals, 1 - size)
    return f"{round(number, decimals) + 0.0:.{max(decimals, 0)}f} {unit}".rstrip()
