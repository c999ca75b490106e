"""A small linear system solved by elimination, in plain numbers or one system a machine at once."""

from __future__ import annotations

__all__: list[str] = []


def solve(rows, right):
    """Solve a small system in place; its diagonal must be strong, for no rows are exchanged."""
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
    for pivot in range(size - 2, -1, -1):
        row = rows[pivot]
        value = right[pivot]
        for column in range(pivot + 1, size):
            value = value - row[column] * right[column]
        right[pivot] = value
    return right
