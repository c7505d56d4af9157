"""Bars put together again in space from their lengths and angles alone.

Nothing is imported from the package. A bar runs along its own x; y and z are the directions of its section. An end of
miter m and bevel b has the slopes p = tan m and q = tan b / cos m, and its long point on the side of (p, q). Where
two bars meet with their long points together, the second goes off from the first, away from that side, by what both
lean: atan of hypot(p, q) of each. Turns are 3 x 3 matrices.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

Matrix = npt.NDArray[np.float64]


@dataclass(frozen=True)
class Bar:
    """The length of its middle, mm, and miter and bevel of both ends, degrees."""

    length: float
    left: tuple[float, float]
    right: tuple[float, float]


def slopes(cut: tuple[float, float]) -> tuple[float, float]:
    miter, bevel = map(math.radians, cut)
    return math.tan(miter), math.tan(bevel) / math.cos(miter)


def about_x(angle: float) -> Matrix:
    c, s = math.cos(angle), math.sin(angle)
    return np.array([[1, 0, 0], [0, c, -s], [0, s, c]])


def about_z(angle: float) -> Matrix:
    c, s = math.cos(angle), math.sin(angle)
    return np.array([[c, -s, 0], [s, c, 0], [0, 0, 1]])


def joint(before: tuple[float, float], after: tuple[float, float]) -> Matrix:
    """From the first bar's own directions to the second's."""
    (p, q), (r, t) = slopes(before), slopes(after)
    fold = math.atan(math.hypot(p, q)) + math.atan(math.hypot(r, t))
    return about_x(math.atan2(q, p)) @ about_z(-fold) @ about_x(-math.atan2(t, r))


def walk(bars: Sequence[Bar], at: Matrix, turn: Matrix) -> list[tuple[Matrix, Matrix]]:
    """Where each bar begins and how it is turned; last of all where the chain ends, turned as its last bar."""
    found = [(at, turn)]
    for i, bar in enumerate(bars):
        at = at + turn @ np.array([bar.length, 0, 0])
        if i + 1 < len(bars):
            turn = turn @ joint(bar.right, bars[i + 1].left)
        found.append((at, turn))
    return found
