"""Sums of measures, the same to the last digit in every Python; knows nothing.

Python's own `sum` adds floats one after the other up to 3.11 and otherwise from 3.12 on, complex numbers otherwise from
3.14 on: it is left to whole numbers.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import reduce
from operator import add


def summed(values: Iterable[float]) -> float:
    """The sum, one after the other as they come; 0 of none."""
    return reduce(add, values, 0)


def summed_points(points: Iterable[complex]) -> complex:
    """The sum of places or ways in a plane, one after the other as they come; 0 of none."""
    return reduce(add, points, 0j)
