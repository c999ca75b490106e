"""One side of the circuit for `machine.continuous`: properties with their slopes, energy with its slopes."""

from __future__ import annotations

from typing import NamedTuple

from coldbench.machine.circuit_side import saturated
from coldbench.machine.circuit_state import BELOW_CRITICAL
from coldbench.machine.quick_operations import QUICK_FLOATS
from coldbench.properties.refrigerant_polynomials import closeness, degree_8, superheated_at, table_of


class Saturation(NamedTuple):
    """A refrigerant on its saturation line at a temperature, with slopes [SI units, 1/K]."""

    pressure: float
    liquid_enthalpy: float
    vapor_enthalpy: float
    density: float
    liquid_density: float
    pressure_slope: float
    liquid_enthalpy_slope: float
    vapor_enthalpy_slope: float
    density_slope: float


class OurProperties:
    """This package's tables; the slopes are differences."""

    def __init__(self, refrigerant: str):
        table = self.table = table_of(refrigerant)
        vapor = table.vapor_enthalpy, table.superheated_enthalpy
        self.hottest = table.critical_temperature - BELOW_CRITICAL
        self.liquid_density = degree_8(table.liquid_density, closeness(table, 285.0))
        self.liquid_heat_capacity = (self.saturation(310.0)[1] - self.saturation(290.0)[1]) / 20
        self.vapor_heat_capacity = (
            superheated_at(table, *vapor, 245.0, 275.0) - superheated_at(table, *vapor, 245.0, 245.0)
        ) / 30

    def saturation(self, temperature: float) -> Saturation:
        pressure, slope, liquid, vapor, density = saturated(QUICK_FLOATS, self.table, temperature)
        _, _, liquid_2, vapor_2, density_2 = saturated(QUICK_FLOATS, self.table, temperature + 0.01)
        return Saturation(
            pressure, liquid, vapor, density,
            degree_8(self.table.liquid_density, closeness(self.table, temperature)),
            slope * pressure, (liquid_2 - liquid) * 100, (vapor_2 - vapor) * 100, (density_2 - density) * 100,
        )  # fmt: skip


class Side:
    """One side of the circuit, and its energy's slopes with mass and temperature."""

    def __init__(self, found: Saturation, liquid_density, volume, mass):
        (
            pressure, liquid_enthalpy, vapor_enthalpy, density, _,
            pressure_slope, liquid_slope, vapor_slope, density_slope,
        ) = found  # fmt: skip
        self.saturation = found
        self.latent_heat = latent_heat = vapor_enthalpy - liquid_enthalpy
        beyond = mass - volume * density
        if beyond > 0:
            ratio = density / liquid_density
            self.filling = 1.0
            self.liquid = liquid = beyond / (1 - ratio)
            condensing = density_slope * (liquid / liquid_density - volume) / (1 - ratio)  # [kg/K]
            self.energy_per_mass = (liquid_enthalpy - ratio * vapor_enthalpy) / (1 - ratio)
            self.store = (
                liquid * liquid_slope + (mass - liquid) * vapor_slope
                - condensing * latent_heat - pressure_slope * volume
            )  # fmt: skip
        else:
            self.liquid = 0.0
            self.filling = mass / (volume * density)
            self.energy_per_mass = vapor_enthalpy - pressure / density
            self.store = mass * (
                vapor_slope - (pressure_slope - pressure * density_slope / density) / density
            )
        self.pressure, self.density = pressure * self.filling, density * self.filling

    def warming(self, heat, coming):
        """Rate of temperature for a rate of energy [W] and of mass [kg/s]."""
        return (heat - self.energy_per_mass * coming) / self.store
