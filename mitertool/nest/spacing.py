"""How far apart two cuts on one bar must stand, and what the ends of a bar take; knows cut and plan.

Lengths are on the centerline. A left cut of a piece has the slopes (-p, -q) on the bar, a right cut (p, q).
"""

from __future__ import annotations

from math import hypot

import attrs

from mitertool.base.tolerances import SAME_SLOPE
from mitertool.nest.plan import Allowance
from mitertool.piece import Piece


@attrs.frozen
class Slope:
    """The slopes dx/dy and dx/dz of a cut on the bar."""

    p: float
    q: float

    def parallel(self, other: Slope) -> bool:
        """Whether one kerf parts both."""
        return abs(self.p - other.p) <= SAME_SLOPE and abs(self.q - other.q) <= SAME_SLOPE

    def kerf_along(self, kerf: float) -> float:
        """What a kerf takes along the bar, mm."""
        return kerf * hypot(1.0, self.p, self.q)


def left_slope(piece: Piece) -> Slope:
    """The leading cut of a piece on the bar."""
    return Slope(-piece.left.p, -piece.left.q)


def right_slope(piece: Piece) -> Slope:
    """The trailing cut of a piece on the bar."""
    return Slope(piece.right.p, piece.right.q)


def half_reach(slope: Slope, piece: Piece) -> float:
    """How far a cut reaches past its place on the centerline, mm."""
    return (abs(slope.p) * piece.section.width + abs(slope.q) * piece.section.height) / 2


def joint(before: Piece, after: Piece, allowance: Allowance) -> float:
    """Distance between the right cut of one piece and the left cut of the next, mm."""
    a, b, kerf = right_slope(before), left_slope(after), allowance.kerf
    if a.parallel(b):
        return a.kerf_along(kerf)
    wedge = half_reach(Slope(a.p - b.p, a.q - b.q), before) + allowance.wedge_least
    return a.kerf_along(kerf) + b.kerf_along(kerf) + wedge


def start(piece: Piece, allowance: Allowance) -> float:
    """Where the first cut of a bar may stand, mm from the raw end."""
    return allowance.trim + half_reach(left_slope(piece), piece)


def tail(piece: Piece, allowance: Allowance) -> float:
    """What the last cut takes behind its place on the centerline before the grip, mm."""
    slope = right_slope(piece)
    return half_reach(slope, piece) + slope.kerf_along(allowance.kerf)


def half_kerf_weight(piece: Piece, allowance: Allowance) -> float:
    """What a piece takes of any bar at the least: its centerline and half of each kerf, mm.

    The two ends of a bar take that much only where it is as wide and as high as the kerf, so no more is counted.
    """
    kerf = min(allowance.kerf, piece.section.width, piece.section.height)
    return piece.centerline + (left_slope(piece).kerf_along(kerf) + right_slope(piece).kerf_along(kerf)) / 2
