"""The small linear system, and the quick operations: as numpy has them."""

import numpy
import pytest
from coldbench.machine.quick_operations import QUICK_FLOATS, QuickArrays
from coldbench.machine.small_system import solve
from hypothesis import given
from hypothesis import strategies as st

NUMBER = st.floats(-1.0, 1.0)


@given(st.lists(NUMBER, min_size=20, max_size=20))
def test_it_solves_systems_with_a_strong_diagonal(numbers):
    """Against numpy's solver, four unknowns."""
    matrix = numpy.array(numbers[:16]).reshape(4, 4) + 5 * numpy.eye(4)
    right = numpy.array(numbers[16:])
    found = solve(matrix.tolist(), right.tolist())
    assert found == pytest.approx(numpy.linalg.solve(matrix, right), abs=1e-9)


@given(NUMBER, NUMBER, NUMBER)
def test_quick_operations_are_those_of_numpy(value, one, other):
    low, high = sorted((one, other))
    arrays = QuickArrays()
    assert QUICK_FLOATS.clamp(value, low, high) == numpy.clip(value, low, high)
    assert QUICK_FLOATS.maximum(one, other) == numpy.maximum(one, other)
    assert QUICK_FLOATS.minimum(one, other) == numpy.minimum(one, other)
    assert arrays.clamp(numpy.array([value]), low, high)[0] == numpy.clip(value, low, high)
