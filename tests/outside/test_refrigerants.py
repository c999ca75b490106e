"""Published refrigerant values: each row of checks.csv names its source and tolerance."""

import re

import pytest
from coldbench.properties import refrigerant
from coldbench.properties.refrigerant_facts import refrigerant_facts
from outside.published import INCH_OF_MERCURY, PSI, celsius, fahrenheit, rows

NUMBER = r"(-?[\d.]+) "
FROM_SI = {
    "psia": lambda pascal: pascal / PSI,
    "psig": lambda pascal: pascal / PSI - 14.696,
    "inHg vacuum": lambda pascal: 29.921 - pascal / INCH_OF_MERCURY,
    "degF": lambda kelvin: kelvin * 1.8 - 459.67,
    "degC": lambda kelvin: kelvin - 273.15,
    "MPa": lambda pascal: pascal / 1e6,
    "kg/m3": float,
    "m/s": float,
    "kJ/kg": lambda joule: joule / 1e3,
    "kJ/(kg K)": lambda joule: joule / 1e3,
    "g/mol": lambda kilogram: kilogram * 1e3,
    "kg CO2e/kg": float,
}


def read(text: str, unit: str) -> float:
    return float(re.search(NUMBER + re.escape(unit), text)[1])


def absolute_pressure(text: str) -> float:
    if "inHg vacuum" in text:
        return (29.921 - read(text, "inHg vacuum")) * INCH_OF_MERCURY
    return (read(text, "psig") + 14.696) * PSI


@pytest.mark.parametrize("row", rows("refrigerant saturation"))
def test_saturation_agrees_with_published_values(row):
    name = row.quantity.split()[0]
    if "temperature" in row.quantity:
        found = refrigerant.saturation_temperature(name, absolute_pressure(row.input))
    else:
        found = refrigerant.saturation_pressure(name, fahrenheit(read(row.input, "degF")))
    row.check(FROM_SI[row.unit](found))


SATURATED = {
    "saturated liquid density": refrigerant.liquid_density,
    "saturated vapour density": refrigerant.vapor_density,
    "saturated liquid enthalpy": refrigerant.liquid_enthalpy,
    "saturated vapour enthalpy": refrigerant.vapor_enthalpy,
    "saturated vapour entropy": refrigerant.vapor_entropy,
    "latent heat of vaporisation": refrigerant.latent_heat,
}


@pytest.mark.parametrize("row", rows("refrigerant saturated state"))
def test_saturated_states_agree_with_published_values(row):
    name, quantity = row.quantity.split(maxsplit=1)
    found = SATURATED[quantity](name, fahrenheit(read(row.input, "degF")))
    row.check(FROM_SI[row.unit](found))


SUPERHEATED = {
    "superheated vapour density": refrigerant.superheated_density,
    "superheated vapour enthalpy": refrigerant.superheated_enthalpy,
    "superheated vapour speed of sound": refrigerant.superheated_speed_of_sound,
}


@pytest.mark.parametrize("row", rows("refrigerant superheated vapour"))
def test_superheated_vapour_agrees_with_published_values(row):
    name, quantity = row.quantity.split(maxsplit=1)
    pressure, temperature = read(row.input, "kPa abs") * 1e3, celsius(read(row.input, "degC"))
    row.check(FROM_SI[row.unit](SUPERHEATED[quantity](name, pressure, temperature)))


@pytest.mark.parametrize("row", rows("refrigerant constants"))
def test_constants_agree_with_published_values(row):
    name, quantity = row.quantity.split(maxsplit=1)
    row.check(FROM_SI[row.unit](getattr(refrigerant_facts(name), quantity.replace(" ", "_"))))


@pytest.mark.parametrize("row", rows("refrigerant safety and climate"))
def test_safety_and_climate_agree_with_published_values(row):
    name, quantity = row.quantity.split(maxsplit=1)
    facts = refrigerant_facts(name)
    if quantity == "ASHRAE 34 safety class":
        found = facts.safety_class
    elif quantity.startswith("lower flammability limit"):
        found = facts.lower_flammability_limit["ISO 817"]
    else:
        found = facts.global_warming_potential[re.search(r"IPCC (AR\d)", quantity)[1]]
    row.check(found)
