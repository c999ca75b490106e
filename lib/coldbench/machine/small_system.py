"""A small linear system solved by elimination, in plain numbers or one system a machine at once."""

from __future__ import annotations

__all__: list[str] = []


def solve(rows, right, bounded=None):
    """Solve a small system in place; its diagonal must be strong, for no rows are exchanged.

    ``bounded``, if given, is called with the place and value of each unknown as it is found, last one first,
    and gives the value to go on with: so the rows before still hold when a later unknown is held back.
    """
    size = len(right)
    for pivot in range(size):
        row = rows[pivot]
        scale = 1 / row[pivot]
        value = right[pivot] = right[pivot] * scale
        for column in range(pivot + 1, size):
            row[column] = row[column] * scale
        for below in range(pivot + 1, size):
            other = rows[below]
            factor = other[pivot]
            for column in range(pivot + 1, size):
                other[column] = other[column] - factor * row[column]
            right[below] = right[below] - factor * value
    for pivot in range(size - 1, -1, -1):
        row = rows[pivot]
        value = right[pivot]
        for column in range(pivot + 1, size):
            value = value - row[column] * right[column]
        right[pivot] = bounded(pivot, value) if bounded else value
    return right
