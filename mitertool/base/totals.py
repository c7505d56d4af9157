"""Sums of measures, the same to the last digit in every Python; knows nothing."""

from __future__ import annotations

from collections.abc import Iterable
from functools import reduce
from operator import add


def summed(values: Iterable[float]) -> float:
    """The sum, one after the other as they come; 0 of none.

    Python's own `sum` rounds floats so up to 3.11 and otherwise from 3.12 on: it is left to whole numbers.
    """
    return reduce(add, values, 0)
