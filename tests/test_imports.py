"""What loads what: heavy packages only where they are first needed, and arrows that point one way."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
HEAVY = ("numpy", "matplotlib", "pint", "ipywidgets", "nbgrader")

FIRST_NUMBERS = """
import coldbench
from coldbench.parts.sensor_board import board_reading
from coldbench.parts.thermistor import beta_temperature, steinhart_hart_resistance
from coldbench.properties import moist_air, refrigerant

assert refrigerant.saturation_pressure("R-600a", 250.0) > 0
assert refrigerant.superheated_enthalpy("R-600a", 60e3, 280.0) > 0
assert moist_air.wet_bulb(298.15, 0.008) > 273.15
assert beta_temperature(28_704.0, 10_000.0, 3435.0) > 273.0
assert steinhart_hart_resistance(273.15, 1.40e-3, 2.37e-4, 9.90e-8) > 10_000
assert board_reading(255.15, 10_000.0, 10_000.0, 3435.0) < 273.15
"""


def loaded(code: str) -> set[str]:
    """Give the heavy packages that a fresh Python has loaded after running some code."""
    code += f"\nimport sys\nprint(*(name for name in {HEAVY} if name in sys.modules))"
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert run.returncode == 0, run.stderr
    return set(run.stdout.split())


def test_numbers_from_floats_load_nothing_heavy():
    """A pressure, a wet bulb and a sensor's reading need only Python itself."""
    assert loaded(FIRST_NUMBERS) == set()


def test_arrays_load_numpy_and_nothing_else():
    """The same equations for an array bring numpy, and numpy alone."""
    code = "import numpy\nfrom coldbench.properties import moist_air\n"
    code += "assert moist_air.saturation_pressure(numpy.array([250.0, 300.0])).shape == (2,)"
    assert loaded(code) == {"numpy"}


def test_a_fit_loads_numpy_where_it_is_needed():
    """The least-squares fit loads numpy itself."""
    code = "from coldbench.parts.thermistor import fit_steinhart_hart\n"
    code += "fit_steinhart_hart([273.15, 293.15, 323.15], [32128.0, 12262.0, 3542.0])"
    assert loaded(code) == {"numpy"}


def test_the_walk_would_see_a_heavy_package():
    """A package that is loaded is told: the other tests can fail."""
    assert loaded("import numpy") == {"numpy"}


def test_arrows_point_one_way():
    """The contracts in pyproject.toml hold: what may import what."""
    command = Path(sys.executable).with_name("lint-imports")
    if not command.exists():
        pytest.fail(f"{command.name} is not beside {sys.executable}: install the developers' lock file")
    run = subprocess.run([command, "--no-cache"], cwd=ROOT, capture_output=True, text=True, check=False)
    assert run.returncode == 0, run.stdout + run.stderr
