"""Quadrature, extremes and changes of sign of a smooth function on an interval; knows only mathematics.

But for quadrature a function may rise from an end of its interval like a square root, as a chord does at a tangent.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Sequence
from math import cos, pi
from typing import Final

from mitertool.base.totals import summed
from mitertool.geometry.roots import root

Function = Callable[[float], float]
Place = tuple[float, float]
"""(value, argument)."""

GAUSS: Final = (
    (0.1252334085114689, 0.2491470458134027),
    (0.3678314989981802, 0.2334925365383546),
    (0.5873179542866175, 0.20316742672306573),
    (0.7699026741943047, 0.16007832854334642),
    (0.9041172563704748, 0.10693932599531907),
    (0.9815606342467192, 0.04717533638651141),
)
"""Nodes and weights of Gauss and Legendre with 12 nodes on -1 to 1, those above 0; the others are their mirror."""

_STEPS: Final = 16
"""Looks for a turn in 16 steps: a chord through one and the same lines and arcs turns once or twice."""

_FIRST_LOOK: Final = 1e-3
"""Steps from either end: beside an end where an arc runs level a length may turn at once."""

_NEAR: Final = 4e-9
"""Share of an interval to which a turn is found: a value near its turn is out by the square of that."""

_TURNS: Final = 60
"""Steps at most: golden sections alone need 40 for that."""

_HALVINGS: Final = 30
"""1e-9 of an interval: where two rates change over, an integral of the larger is out by the square of that."""

_GOLDEN: Final = (5**0.5 - 1) / 2
_FLAT: Final = 1e-13
"""Share of the value. A turn of less is rounding."""


def integral(function: Function, low: float, high: float) -> float:
    """The integral from `low` to `high` of a function that is smooth there, and beyond both for half the interval.

    1e-12 of the largest value there times the interval: the ellipse of convergence then has half axes that sum to over
    3.4, and 3.4 to the power of minus twice the nodes is 2e-13.
    """
    middle, half = (low + high) / 2, (high - low) / 2
    return half * summed(weight * (function(middle - half * x) + function(middle + half * x)) for x, weight in GAUSS)


_CROWDED: Final = tuple((1 - cos(pi * i / _STEPS)) / 2 for i in (_FIRST_LOOK, *range(1, _STEPS), _STEPS - _FIRST_LOOK))


def crowded_to_ends(low: float, high: float) -> list[float]:
    """From `low` to `high`, crowded toward both."""
    return [low, *[low + (high - low) * share for share in _CROWDED], high]


def least_near(function: Function, at: Sequence[float], values: Sequence[float]) -> Place:
    """The least value near the least of `values`, which the function has `at` those arguments in order."""
    i = min(range(len(at)), key=values.__getitem__)
    best = (values[i], at[i])
    if not 0 < i < len(at) - 1 or max(values[i - 1], values[i + 1]) - values[i] <= _FLAT * abs(values[i]):
        return best
    return min(best, _turn(function, at[i - 1], at[i + 1], best))


def _turn(function: Function, low: float, high: float, begun: Place) -> Place:
    """The least value between, by parabolas through the three best places, by golden section where they leave.

    R. P. Brent, "Algorithms for Minimization without Derivatives" (1973), chapter 5. `begun` stands within.
    """
    near = _NEAR * (high - low)
    best = second = third = begun
    step = before = 0.0
    for _ in range(_TURNS):
        x, middle = best[1], (low + high) / 2
        if abs(x - middle) <= 2 * near - (high - low) / 2:
            break
        way = _vertex(best, second, third) if abs(before) > near else None
        if way is None or abs(way) >= abs(before) / 2 or not low - x < way < high - x:
            before = (low if x >= middle else high) - x
            way = (1 - _GOLDEN) * before
        else:
            before = step
        step = way if abs(way) >= near else near if way > 0 else -near
        met = (function(x + step), x + step)
        if met[0] <= best[0]:
            low, high = (x, high) if met[1] >= x else (low, x)
            best, second, third = met, best, second
        else:
            low, high = (low, met[1]) if met[1] >= x else (met[1], high)
            if met[0] <= second[0] or second[1] == x:
                second, third = met, second
            elif met[0] <= third[0] or third[1] in (x, second[1]):
                third = met
    return best


def _vertex(best: Place, second: Place, third: Place) -> float | None:
    """From the best of three places to the vertex of the parabola through them; None where they lie on a line."""
    (fx, x), (fw, w), (fv, v) = best, second, third
    r, q = (x - w) * (fx - fv), (x - v) * (fx - fw)
    p, twice = (x - v) * q - (x - w) * r, 2 * (q - r)
    return -p / twice if twice else None


def crossings(function: Function, at: Sequence[float], values: Sequence[float]) -> list[float]:
    """Where the function, which has these `values` `at` those arguments in order, changes its sign between them."""
    pairs = zip(itertools.pairwise(at), itertools.pairwise(values), strict=True)
    return [root(function, a, b, fa, _HALVINGS) for (a, b), (fa, fb) in pairs if fa * fb < 0]
