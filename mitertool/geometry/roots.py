"""Where a function changes its sign, by halving; knows only mathematics."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

HALVINGS: Final = 60
"""Bisections: 2**-60 of an interval, below the spacing of doubles."""


def root(function: Callable[[float], float], low: float, high: float, at_low: float, halvings: int = HALVINGS) -> float:
    """Where `function` changes its sign between `low`, where it is `at_low`, and `high`."""
    for _ in range(halvings):
        middle = (low + high) / 2
        if function(middle) * at_low > 0:
            low = middle
        else:
            high = middle
    return (low + high) / 2
