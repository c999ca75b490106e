"""One side of a sealed circuit: pressure, liquid and vapour from its mass and temperature.

What is inside: properties at saturation, quick and unchecked; `Side`, the low or the high side at a moment.
"""

from __future__ import annotations

from coldbench.properties.refrigerant_polynomials import (
    closeness,
    degree_8,
    log_pressure_at,
    log_pressure_slope,
)

__all__: list[str] = []

VAPOR_STORE = 0.7  # [-], of the vapour's heat capacity at constant pressure that is stored at constant volume
LEAST_MASS = 1e-5  # [kg]; keeps ratios finite where a side is empty


def saturated(op, table, temperature):
    """Pressure, slope of its logarithm, enthalpy of liquid and vapour, density of vapour; unchecked, SI."""
    x = closeness(table, temperature)
    pressure = op.exp(log_pressure_at(table, temperature))
    density = pressure / (degree_8(table.vapor_compressibility, x) * table.gas_constant * temperature)
    return (
        pressure,
        log_pressure_slope(table, temperature),
        degree_8(table.liquid_enthalpy, x),
        degree_8(table.vapor_enthalpy, x),
        density,
    )


class Side:
    """One side of the circuit, saturated where it holds liquid; worked out from mass and temperature."""

    __slots__ = (
        "density", "energy", "energy_per_mass", "filling", "latent_heat", "liquid", "liquid_enthalpy",
        "pressure", "saturation_pressure", "slope", "store", "two_phase", "vapor_enthalpy", "vapor_mass",
    )  # fmt: skip

    def __init__(self, op, circuit, volume, mass, temperature):
        temperature = op.minimum(temperature, circuit.hottest)
        pressure, slope, liquid_enthalpy, vapor_enthalpy, density = saturated(op, circuit.table, temperature)
        room_for_vapor = volume * density
        beyond = mass - room_for_vapor
        two_phase = op.where(beyond > 0, 1.0, 0.0)
        filling = op.minimum(1.0, mass / room_for_vapor)
        ratio = density / circuit.liquid_density
        liquid = op.maximum(beyond, 0.0) / (1 - ratio)
        vapor_mass = mass - liquid
        latent_heat = vapor_enthalpy - liquid_enthalpy
        self.saturation_pressure = pressure
        self.pressure = pressure * filling
        self.slope = slope
        self.density = density * filling
        self.filling = filling
        self.two_phase = two_phase
        self.liquid, self.vapor_mass = liquid, vapor_mass
        self.liquid_enthalpy, self.vapor_enthalpy, self.latent_heat = (
            liquid_enthalpy,
            vapor_enthalpy,
            latent_heat,
        )
        self.energy = liquid * liquid_enthalpy + vapor_mass * vapor_enthalpy - self.pressure * volume
        self.store = (
            liquid * circuit.liquid_heat_capacity
            + vapor_mass * circuit.vapor_heat_capacity * VAPOR_STORE
            + two_phase * volume * (density * (slope - 1 / temperature) * latent_heat - pressure * slope)
        )
        self.energy_per_mass = op.where(
            beyond > 0,
            (liquid_enthalpy - ratio * vapor_enthalpy) / (1 - ratio),
            vapor_enthalpy - self.pressure * volume / op.maximum(mass, LEAST_MASS),
        )
