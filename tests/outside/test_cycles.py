"""Published worked cycles: each row of checks.csv names its source and tolerance."""

import re

import pytest
from coldbench.cycle import carnot_coefficient, textbook_cycle
from coldbench.properties import refrigerant as of
from outside.published import celsius, fahrenheit, rows

TON = 211e3 / 60  # [W], 211 kJ a minute: the ton of these two books
MEGAPASCAL = 1e6  # [Pa]


def number(pattern: str, text: str) -> float:
    return float(re.search(pattern, text)[1])


def worked(row):
    """The cycle that the row's input describes."""
    text, name = row.input, next(name for name in ("R-134a", "R-600a") if name in row.input + row.quantity)
    flow = number(r"([\d.]+) kg/s", text) if "kg/s" in text else 1.0
    if "MPa" in text:
        low, high = re.search(r"([\d.]+)/([\d.]+) MPa", text).groups()
        evaporating = of.saturation_temperature(name, float(low) * MEGAPASCAL)
        condensing = of.saturation_temperature(name, float(high) * MEGAPASCAL)
    elif "degF" in text:
        evaporating = fahrenheit(number(r"evap (-?[\d.]+) degF", text))
        condensing = fahrenheit(number(r"cond (-?[\d.]+) degF", text))
    else:
        evaporating = celsius(number(r"sat\. vapour (-?[\d.]+) degC", text))
        if "bar" in text:
            condensing = of.saturation_temperature(name, number(r"sat\. liquid ([\d.]+) bar", text) * 1e5)
        else:
            condensing = celsius(number(r"sat\. liquid (-?[\d.]+) degC", text))
    return textbook_cycle(name, evaporating, condensing, mass_flow=flow)


def above_minus_40(enthalpy: float) -> float:
    """Enthalpy counted from saturated R-134a liquid at -40 °C, as the book does [kJ/kg]."""
    return (enthalpy - of.liquid_enthalpy("R-134a", celsius(-40.0))) / 1e3


def suction_density(found, row):
    name = "R-600a" if "R-600a" in row.quantity else "R-134a"
    return of.vapor_density(name, found.evaporating_temperature)


READ = {
    "h1 compressor inlet enthalpy": lambda found, row: above_minus_40(
        found.points["compressor_inlet"].enthalpy
    ),
    "h2 compressor outlet enthalpy": lambda found, row: above_minus_40(
        found.points["compressor_outlet"].enthalpy
    ),
    "h3=h4 enthalpy": lambda found, row: above_minus_40(found.points["condenser_outlet"].enthalpy),
    "refrigeration capacity": lambda found, row: found.capacity / 1e3,
    "refrigeration capacity (1 ton = 211 kJ/min)": lambda found, row: found.capacity / TON,
    "compressor power": lambda found, row: found.power / 1e3,
    "heat rejected": lambda found, row: found.heat_rejected / 1e3,
    "COP": lambda found, row: found.coefficient_of_performance,
    "ideal cycle COP": lambda found, row: found.coefficient_of_performance,
    "condenser pressure": lambda found, row: found.discharge_pressure / 1e5,
    "specific refrigerating effect": lambda found, row: found.capacity / 1e3,
    "isentropic specific work": lambda found, row: found.power / 1e3,
    "isentropic discharge temperature": lambda found, row: (
        found.points["compressor_outlet"].temperature - 273.15
    ),
    "volumetric refrigerating capacity": lambda found, row: (
        found.capacity / 1e3 * suction_density(found, row)
    ),
}


@pytest.mark.parametrize("row", rows("vapour-compression cycle"))
def test_worked_cycles_agree_with_published_values(row):
    quantity = re.sub(r"^R-\w+ ", "", row.quantity)
    if "Carnot" in quantity:
        cold, warm = re.search(r"(\d+) K ?/ ?(\d+) K", quantity).groups()
        row.check(carnot_coefficient(float(cold), float(warm)))
        return
    row.check(READ[quantity](worked(row), row))
