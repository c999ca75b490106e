"""The small set of operations in which equations are written once, for plain floats and for arrays.

``operations(*values)`` gives an object with ``exp, log, sqrt, where, minimum, maximum``: for floats
from `math` (fast, and numpy is not even loaded), for arrays from numpy.
"""

from __future__ import annotations

import math


class FloatOperations:
    """The operations on plain floats."""

    exp = staticmethod(math.exp)
    log = staticmethod(math.log)
    sqrt = staticmethod(math.sqrt)
    minimum = staticmethod(min)
    maximum = staticmethod(max)

    @staticmethod
    def where(condition: bool, if_true: float, if_false: float) -> float:
        """Give one of two numbers, both already computed, as numpy's ``where`` does.

        Parameters
        ----------
        condition : bool
            Which one to give
        if_true, if_false : float
            The two numbers [any unit, the same for both]

        Returns
        -------
        float
            ``if_true`` where the condition holds, otherwise ``if_false`` [the same unit]

        Source
        ------
        Behaviour of ``numpy.where`` for one element.
        """
        return if_true if condition else if_false


FLOATS = FloatOperations()


def operations(*values):
    """Choose the operations for these values: `math` when all are plain numbers, else numpy.

    Parameters
    ----------
    *values : float or array
        The numbers that an equation is about to use [any unit]

    Returns
    -------
    FloatOperations or module
        Has ``exp, log, sqrt, where, minimum, maximum`` in either case

    Source
    ------
    Arrangement of this project.
    """
    for value in values:
        if not isinstance(value, (float, int)):
            import numpy

            return numpy
    return FLOATS
