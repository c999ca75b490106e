"""What a board sees of a sensor: ohms at its pins, counts of its converter, the temperature it believes.

The same chain as `coldbench.parts.sensor_board`, without its checks, for the machines in time, where it runs
at every step; a test holds the two together. Nothing here knows of a broken sensor: an open or shorted one
gives ohms like any other, and the board believes them.
"""

from __future__ import annotations

from coldbench.parts.sensor_board import TABLE_COLDEST, TABLE_WARMEST

__all__ = ["believed_temperature", "resistance_at_pins"]

PULL_UP = 10_000.0  # [Ohm]
FULL_SCALE = 1023  # [-], of a ten-bit converter
REFERENCE = 298.15  # [K]


def resistance_at_pins(op, temperature, resistance_25, beta, drift, series_resistance, leak_resistance):
    """Ohms between the two wires of a sensor, as a meter at the unplugged connector shows them.

    Parameters: ``op`` the operations, math or numpy; ``temperature`` of the sensor [K]; ``resistance_25``
    at 25 °C [Ohm]; ``beta`` its B [K]; ``drift`` factor on its ohms [-]; ``series_resistance`` in its wires,
    endless where broken [Ohm]; ``leak_resistance`` beside it [Ohm].
    Returns: resistance [Ohm].
    Source: B curve of IEC 60539-1, Ohm's law.
    """
    sensor = drift * resistance_25 * op.exp(beta * (1 / temperature - 1 / REFERENCE)) + series_resistance
    return 1 / (1 / sensor + 1 / leak_resistance)


def believed_temperature(op, resistance, expected_resistance_25, expected_beta):
    """Give the temperature that the board takes from the counts of its converter.

    Parameters: ``op`` the operations, math or numpy; ``resistance`` at its pins [Ohm];
    ``expected_resistance_25`` of the curve it holds [Ohm]; ``expected_beta`` B of that curve [K].
    Returns: temperature within the ends of its table, -40 to 100 °C [K].
    Source: `coldbench.parts.sensor_board`.
    """
    counts = (FULL_SCALE / (1 + PULL_UP / resistance) + 0.5) // 1
    counts = op.minimum(op.maximum(counts, 1.0), FULL_SCALE - 1.0)
    relative = PULL_UP * counts / ((FULL_SCALE - counts) * expected_resistance_25)
    temperature = 1 / (1 / REFERENCE + op.log(relative) / expected_beta)
    return op.minimum(op.maximum(temperature, TABLE_COLDEST), TABLE_WARMEST)
