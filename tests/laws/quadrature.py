"""Integrals over the height of a section and along its outline, by Gauss-Legendre, good to 1e-9 relative.

They read the outline's segments and nothing of the package's own bands or formulas.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable
from functools import cache

import numpy as np

import mitertool as mt
from mitertool.geometry import Arc, Line
from tests.specimens import levels

NODES = 60
"""Nodes between two levels: roots just outside a band, as where an arc ends near its top, need so many for 1e-9."""


@cache
def _gauss(count: int) -> tuple[tuple[float, float], ...]:
    nodes, weights = np.polynomial.legendre.leggauss(count)
    return tuple(zip(nodes.tolist(), weights.tolist(), strict=True))


def integral_over_height(section: mt.Section, of: Callable[[float], float], clear: float = 0.0) -> float:
    """Integral of `of` from the bottom to the top; no line is taken closer than `clear` (mm) to a level.

    Between neighbouring levels every boundary is smooth but for the root of an arc at either end, which a cosine
    makes smooth.
    """
    total = 0.0
    for low, high in itertools.pairwise(levels(section)):
        half = (high - low) / 2
        for node, weight in _gauss(NODES):
            t = (node + 1) * math.pi / 2
            z = low + half * (1 - math.cos(t))
            total += weight * math.pi / 2 * half * math.sin(t) * of(min(max(z, low + clear), high - clear))
    return total


def walked(segment: Line | Arc, p: float, q: float) -> float:
    """Length of a line or arc as it lies in the plane x = p*y + q*z."""
    if isinstance(segment, Line):
        dy, dz = segment.end[0] - segment.start[0], segment.end[1] - segment.start[1]
        return math.sqrt(dy * dy + dz * dz + (p * dy + q * dz) ** 2)
    parts = max(1, math.ceil(abs(segment.sweep) / (math.pi / 16)))
    half = segment.sweep / parts / 2
    total = 0.0
    for i, (node, weight) in itertools.product(range(parts), _gauss(16)):
        t = segment.begin + half * (2 * i + 1 + node)
        total += weight * abs(half) * math.sqrt(1 + (q * math.cos(t) - p * math.sin(t)) ** 2)
    return total * segment.radius
