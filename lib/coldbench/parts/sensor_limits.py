"""What a working thermistor of a household machine can read: the limits that its curves share."""

from __future__ import annotations

from coldbench.errors import check_range

__all__: list[str] = []

COLDEST, WARMEST = 213.15, 423.15  # -60 to 150 °C [K]: the usual span of a household sensor, common practice
LEAST_RESISTANCE, MOST_RESISTANCE = 1e-4, 1e12  # [Ohm]


def check_temperature(temperature):
    """Refuse a temperature that no sensor of a household machine works at."""
    check_range("temperature", temperature, COLDEST, WARMEST, "K")


def check_resistance(resistance):
    """Refuse ohms that no working sensor has."""
    check_range(
        "resistance", resistance, LEAST_RESISTANCE, MOST_RESISTANCE, "Ohm",
        "outside of this the sensor is short or open: look at its connector and cable",
    )  # fmt: skip


def temperature_from_inverse(op, inverse):
    """Turn 1/T into T, refusing what no working sensor in a household machine reads."""
    temperature = 1 / op.maximum(inverse, 1e-6)
    check_range(
        "temperature", temperature, COLDEST - 1e-6, WARMEST + 1e-6, "K",
        "these ohms do not fit this sensor: look for a short, an open or another sensor type",
    )  # fmt: skip
    return temperature
