"""The committed tables are exactly what their maker makes."""

import re
from pathlib import Path

import CoolProp
import pytest
from coldbench.properties import refrigerant_tables
from studies import make_refrigerant_tables


def test_tables_name_library_version_and_papers():
    """Whoever opens the numbers sees what they were made from."""
    text = refrigerant_tables.__doc__
    assert re.search(r"CoolProp \d+\.\d+", text)
    for name, (_, paper) in make_refrigerant_tables.FLUIDS.items():
        assert f"{name}: {paper}" in text


def test_a_second_run_gives_the_same_bytes():
    """Making the tables again, with the library version they name, changes nothing."""
    if f"CoolProp {CoolProp.__version__} " not in refrigerant_tables.__doc__:
        pytest.skip(f"The tables name another version of CoolProp than {CoolProp.__version__}")
    committed = Path(refrigerant_tables.__file__).read_text(encoding="utf-8")
    assert make_refrigerant_tables.text() == committed


def test_interpolation_reproduces_a_polynomial():
    """A cubic through its values at Chebyshev points gives its own coefficients back."""
    points = make_refrigerant_tables.chebyshev_points(4)
    found = make_refrigerant_tables.interpolate([2 * x**3 - x**2 + 0.5 * x - 3 for x in points])
    assert found == pytest.approx([2, -1, 0.5, -3])
