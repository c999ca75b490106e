"""The refrigerant functions together: accuracy, stated errors, floats and arrays, what is imported."""

import re
import subprocess
import sys

import numpy as np
import pytest
from coldbench.errors import CannotRead, OutOfRange
from coldbench.properties import refrigerant
from coldbench.properties.refrigerant_polynomials import TABLES
from studies.measure_refrigerant_tables import measured, unit_of

SATURATED = [name for name in refrigerant.__all__ if not name.startswith("superheated")]
OF_TEMPERATURE = [name for name in SATURATED if name != "saturation_temperature"]
SUPERHEATED = [name for name in refrigerant.__all__ if name.startswith("superheated")]
OF_STATE = [name for name in SUPERHEATED if name != "superheated_temperature"]
LIMITS = {"saturation_pressure": 0.05, "%": 0.2, "K": 0.02, "kJ/kg": 0.2}  # aims of the project, strict range


@pytest.fixture(scope="module")
def errors():
    # Source: the reference equations of state named in coldbench.properties.refrigerant, by CoolProp.
    return measured(line_points=121, saturation_points=31, superheat_points=15)


@pytest.mark.parametrize("function", refrigerant.__all__)
def test_errors_against_reference_equations_keep_the_aims(errors, function):
    """From -45 to 70 °C every function lies within the limits that the project set itself."""
    limit = LIMITS.get(function, LIMITS[unit_of(function)])
    for name in TABLES:
        assert errors[name, function, "strict"] <= limit


@pytest.mark.parametrize("function", refrigerant.__all__)
def test_docstring_states_the_measured_error(errors, function):
    """What a docstring promises is no less than what is measured, in either range."""
    text = getattr(refrigerant, function).__doc__
    pattern = r"Largest error ([\d.]+) (\S+) from -45 to 70 °C, ([\d.]+) (\S+) over the whole range"
    strict, unit, whole, same = re.search(pattern, text).groups()
    assert unit == same == unit_of(function)
    for name in TABLES:
        assert errors[name, function, "strict"] <= float(strict)
        assert errors[name, function, "whole"] <= float(whole)


@pytest.mark.parametrize("name", TABLES)
def test_reference_state_is_saturated_liquid_at_the_ice_point(name):
    """Enthalpy 200 kJ/kg and entropy 1 kJ/(kg K) at 0 °C: the convention of the refrigeration trade (IIR)."""
    assert refrigerant.liquid_enthalpy(name, 273.15) == pytest.approx(200e3, abs=1)
    assert refrigerant.liquid_entropy(name, 273.15) == pytest.approx(1e3, abs=0.01)


@pytest.mark.parametrize("name", TABLES)
@pytest.mark.parametrize("function", SATURATED)
def test_saturation_line_is_the_same_for_floats_and_arrays(name, function):
    """One set of equations: an array gives what its elements give one by one."""
    states = np.linspace(213.15, 363.15, 31)
    if function == "saturation_temperature":
        states = refrigerant.saturation_pressure(name, states)
    call = getattr(refrigerant, function)
    assert call(name, states) == pytest.approx([call(name, state) for state in states.tolist()], rel=1e-12)


@pytest.mark.parametrize("name", TABLES)
@pytest.mark.parametrize("function", SUPERHEATED)
def test_superheated_vapour_is_the_same_for_floats_and_arrays(name, function):
    """Arrays of pressure and temperature broadcast, and give what their elements give one by one."""
    saturation = np.linspace(215, 363, 9)[:, np.newaxis]
    pressures = refrigerant.saturation_pressure(name, saturation)
    states = saturation + np.linspace(0.0, 1.0, 7) * (413.15 - saturation)
    if function == "superheated_temperature":
        states = refrigerant.superheated_entropy(name, pressures, states)
    call = getattr(refrigerant, function)
    one_by_one = [
        [call(name, pressure, state) for state in row]
        for pressure, row in zip(pressures.ravel().tolist(), states.tolist(), strict=True)
    ]
    assert call(name, pressures, states) == pytest.approx(np.array(one_by_one), rel=1e-11)


@pytest.mark.parametrize("function", refrigerant.__all__)
def test_unknown_refrigerant_is_refused_with_the_names_that_exist(function):
    """A misspelt name gets a sentence that lists the right ones."""
    states = (60e3, 2500.0) if function in SUPERHEATED else (270.0,)
    with pytest.raises(CannotRead, match=r'"R600a".*R-134a, R-600a, R-290, R-12'):
        getattr(refrigerant, function)("R600a", *states)


@pytest.mark.parametrize("function", OF_TEMPERATURE)
@pytest.mark.parametrize("temperature", [213.0, 363.3, 20.0, float("nan"), np.array([280.0, 400.0])])
def test_temperature_outside_the_tables_is_refused_with_the_range(function, temperature):
    """Too cold, too hot, degrees Celsius by mistake, not a number, one bad element of an array."""
    with pytest.raises(OutOfRange, match=r"213\.15 to 363\.15 K\. Give kelvin"):
        getattr(refrigerant, function)("R-290", temperature)


@pytest.mark.parametrize("function", ["saturation_temperature", *SUPERHEATED])
@pytest.mark.parametrize("pressure", [1e3, 5e6, float("nan")])
def test_pressure_outside_the_tables_is_refused_with_the_range(function, pressure):
    """Below the pressure at -60 °C or above that at 90 °C there is no table."""
    rest = () if function == "saturation_temperature" else (300.0,)
    with pytest.raises(OutOfRange, match=r"pressure is .* must lie from .* Pa\. Give absolute pressure"):
        getattr(refrigerant, function)("R-134a", pressure, *rest)


@pytest.mark.parametrize("function", OF_STATE)
def test_vapour_below_saturation_is_refused_and_says_so(function):
    """At 60 kPa R-600a boils near 248.7 K: at 245 K there is no superheated vapour."""
    call = getattr(refrigerant, function)
    with pytest.raises(
        OutOfRange, match=r"245 K.*from 248\.7.* saturation temperature .* liquid or a mixture"
    ):
        call("R-600a", 60e3, 245.0)
    with pytest.raises(
        OutOfRange, match=r"245 K.*from 248\.7.* saturation temperature .* liquid or a mixture"
    ):
        call("R-600a", 60e3, np.array([300.0, 245.0]))
    with pytest.raises(OutOfRange, match=r"to 413\.15 K"):
        call("R-600a", 60e3, 420.0)


def test_plain_floats_load_no_numpy():
    """Importing and using the functions with floats leaves numpy and the units library unloaded."""
    program = (
        "import sys; from coldbench.properties import refrigerant as r, refrigerant_facts;"
        "s = r.superheated_entropy('R-600a', 60e3, 293.15); r.superheated_temperature('R-600a', 600e3, s);"
        "r.saturation_temperature('R-12', 2e5); r.vapor_density('R-290', 260.0);"
        "sys.exit(bool({'numpy', 'pint', 'matplotlib', 'CoolProp'} & set(sys.modules)))"
    )
    assert subprocess.run([sys.executable, "-c", program], check=False).returncode == 0
