"""Quadrature, extremes and changes of sign of a smooth function on an interval; knows only mathematics.

Every function here may rise from an end of its interval like a square root, as a chord does at a tangent.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable, Sequence
from math import cos, pi, sin
from typing import Final

from mitertool.geometry.roots import root

Function = Callable[[float], float]
Place = tuple[float, float]
"""(value, argument)."""

_NODES: Final = 24
"""Of Gauss and Legendre in the angle of the interval, where square roots at its ends are smooth: 1e-12 and better."""

_STEPS: Final = 16
"""Looks for a turn in 16 steps: a chord through one and the same lines and arcs turns once or twice."""

_FIRST_LOOK: Final = 1e-3
"""Steps from either end: beside an end where an arc runs level a length may turn at once."""

_TURNS: Final = 40
"""Golden sections: 4e-9 of an interval, and a value near its turn is out by the square of that."""

_HALVINGS: Final = 30
"""1e-9 of an interval: where two rates change over, an integral of the larger is out by the square of that."""

_GOLDEN: Final = (5**0.5 - 1) / 2
_FLAT: Final = 1e-13
"""Share of the value. A turn of less is rounding."""


def _legendre(count: int) -> tuple[tuple[float, float], ...]:
    """Nodes and weights on -1 to 1 (Newton's method on the three-term recurrence)."""
    found = []
    for i in range(1, count + 1):
        x, slope = cos(pi * (i - 0.25) / (count + 0.5)), 1.0
        for _ in range(8):
            before, value = 1.0, x
            for k in range(2, count + 1):
                before, value = value, ((2 * k - 1) * x * value - (k - 1) * before) / k
            slope = count * (x * value - before) / (x * x - 1)
            x -= value / slope
        found.append((x, 2 / ((1 - x * x) * slope * slope)))
    return tuple(found)


_RULE: Final = tuple((sin(x * pi / 2), w * cos(x * pi / 2) * pi / 4) for x, w in _legendre(_NODES))
"""Nodes on -1 to 1 and weights that sum to 1."""


def nodes(low: float, high: float) -> list[float]:
    """Where `integral` takes its values."""
    middle, half = (low + high) / 2, (high - low) / 2
    return [middle + half * node for node, _ in _RULE]


def integral_of(values: Iterable[float], low: float, high: float) -> float:
    """The integral from `low` to `high` of what has these values at its `nodes`."""
    return (high - low) * sum(weight * value for (_, weight), value in zip(_RULE, values, strict=True))


def integral(function: Function, low: float, high: float) -> float:
    """The integral from `low` to `high`."""
    return integral_of(map(function, nodes(low, high)), low, high)


def places(low: float, high: float) -> list[float]:
    """From `low` to `high`, crowded toward both."""
    inner = (_FIRST_LOOK, *range(1, _STEPS), _STEPS - _FIRST_LOOK)
    return [low, *(low + (high - low) * (1 - cos(pi * i / _STEPS)) / 2 for i in inner), high]


def extremes(function: Function, at: Sequence[float], values: Sequence[float]) -> tuple[Place, Place]:
    """The least and the largest value, each with where it stands, near those `values` that the function has `at`."""
    least = least_near(function, at, values)
    value, place = least_near(lambda x: -function(x), at, [-v for v in values])
    return least, (-value, place)


def least_near(function: Function, at: Sequence[float], values: Sequence[float]) -> Place:
    """The least value near the least of `values`, which the function has `at` those arguments in order."""
    i = min(range(len(at)), key=values.__getitem__)
    best = (values[i], at[i])
    if not 0 < i < len(at) - 1 or max(values[i - 1], values[i + 1]) - values[i] <= _FLAT * abs(values[i]):
        return best
    return min(best, _golden(function, at[i - 1], at[i + 1]))


def _golden(function: Function, low: float, high: float) -> Place:
    a, b = high - _GOLDEN * (high - low), low + _GOLDEN * (high - low)
    fa, fb = function(a), function(b)
    for _ in range(_TURNS):
        if fa < fb:
            high, b, fb = b, a, fa
            a = high - _GOLDEN * (high - low)
            fa = function(a)
        else:
            low, a, fa = a, b, fb
            b = low + _GOLDEN * (high - low)
            fb = function(b)
    return min((fa, a), (fb, b))


def crossings(function: Function, at: Sequence[float], values: Sequence[float]) -> list[float]:
    """Where the function, which has these `values` `at` those arguments in order, changes its sign between them."""
    pairs = zip(itertools.pairwise(at), itertools.pairwise(values), strict=True)
    return [root(function, a, b, fa, _HALVINGS) for (a, b), (fa, fb) in pairs if fa * fb < 0]
