"""The length of a section's outlines in many planes at once; knows sections and numpy."""

from __future__ import annotations

from math import hypot

import numpy as np

from mitertool.geometry.lengths import OutlineLengths
from mitertool.piece.batch import elliptic
from mitertool.piece.batch.given import Array


def perimeters(lines: OutlineLengths, p: Array, q: Array, sec: Array, w: Array) -> Array:
    """Outlines as they lie in x = p*y + q*z, mm; `sec` is sqrt(1 + p^2), `w` sqrt(1 + p^2 + q^2)."""
    total = lines.across * sec
    if lines.up:
        total += lines.up * np.sqrt(1 + q * q)
    for dy, dz in lines.slanting:
        size, rise = hypot(dy, dz), dy * p + dz * q
        total += np.sqrt(size * size + rise * rise)
    if lines.round:
        total += lines.round * elliptic.whole(w)
    if lines.arcs:
        k = np.sqrt(p * p + q * q)
        for begin, sweep, radius in lines.arcs:
            total += radius * elliptic.arc(p, q, k, begin, sweep)
    return total
