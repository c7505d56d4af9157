"""A frame put together again from what stands on a cut sheet: lengths along the outside, widths and miters.

Nothing is imported from the package. Outer edges are laid one after the other; at a corner the way turns right by the
sum of the two miters there, and both faces stand half the root gap off the line between them.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True)
class Plate:
    """A side in plan: its length along the outside and its width, mm, and its miters, degrees from square."""

    outside: float
    width: float
    left: float
    right: float


def outer_corners(plates: Sequence[Plate], root_gap: float = 0.0) -> list[complex]:
    """Where the outer edges cross, from the first corner back to where the walk ends, mm.

    A face `root_gap`/2 off the seam, square to it, leaves `root_gap`/2/cos(miter) of the outer edge to the crossing.
    """
    place, heading = 0j, 0.0
    found = [place]
    for i, plate in enumerate(plates):
        beyond = sum(root_gap / 2 / math.cos(math.radians(miter)) for miter in (plate.left, plate.right))
        place += (plate.outside + beyond) * complex(math.cos(heading), math.sin(heading))
        heading -= math.radians(plate.right + plates[(i + 1) % len(plates)].left)
        found.append(place)
    return found


def misfit(plates: Sequence[Plate], root_gap: float = 0.0) -> float:
    """How far the frame is from closing, mm.

    The largest of: what the last corner misses of the first, what the turns miss of a full one over the longest side,
    and what the two faces at a corner differ in length.
    """
    corners = outer_corners(plates, root_gap)
    turned = sum(math.radians(p.left + p.right) for p in plates)
    skew = abs(2 * math.pi - turned) * max(p.outside for p in plates)
    seams = [
        abs(_face(a.width, a.right) - _face(b.width, b.left))
        for a, b in zip(plates, [*plates[1:], plates[0]], strict=True)
    ]
    return max(abs(corners[-1] - corners[0]), skew, *seams)


def _face(width: float, miter: float) -> float:
    return width / math.cos(math.radians(miter))
