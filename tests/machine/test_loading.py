"""A machine in time loads nothing heavy."""

import subprocess
import sys

CODE = """
import sys
from coldbench.machine import simulate
record = simulate("Series", 0.5)
assert record.last("freezer_air_temperature") > 240
print(*(name for name in ("numpy", "matplotlib", "pint", "ipywidgets", "nbgrader") if name in sys.modules))
"""


def test_a_run_in_plain_numbers_needs_only_python():
    """numpy comes with the first array that is asked for, not with the run."""
    run = subprocess.run([sys.executable, "-c", CODE], capture_output=True, text=True, check=True)
    assert run.stdout.split() == []
