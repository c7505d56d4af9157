"""How far apart two cuts on one bar must stand, and what the ends of a bar take; knows cut and plan.

Lengths are on the centerline. A left cut of a piece has the slopes (-p, -q) on the bar, a right cut (p, q).
"""

from __future__ import annotations

from math import hypot

import attrs

from mitertool.base.tolerances import SAME_SLOPE
from mitertool.nest.plan import Allowance
from mitertool.piece import Piece
from mitertool.sections import Section


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


SQUARE = Slope(0.0, 0.0)
"""A cut straight across the bar."""


def left_slope(piece: Piece) -> Slope:
    """The leading cut of a piece on the bar."""
    return Slope(-piece.left.p, -piece.left.q)


def right_slope(piece: Piece) -> Slope:
    """The trailing cut of a piece on the bar."""
    return Slope(piece.right.p, piece.right.q)


def half_reach(slope: Slope, section: Section) -> float:
    """How far a cut reaches past its place on the centerline, mm."""
    return (abs(slope.p) * section.width + abs(slope.q) * section.height) / 2


def wedge(a: Slope, b: Slope, section: Section, allowance: Allowance) -> float:
    """Length on the centerline of the scrap between two cuts that are not parallel, without kerfs, mm."""
    if a.parallel(b):
        return 0.0
    return half_reach(Slope(a.p - b.p, a.q - b.q), section) + allowance.wedge_least


def gap(a: Slope, b: Slope, section: Section, allowance: Allowance) -> float:
    """Distance between a right cut of slope `a` and the next left cut of slope `b`, mm."""
    if a.parallel(b):
        return a.kerf_along(allowance.kerf)
    return a.kerf_along(allowance.kerf) + b.kerf_along(allowance.kerf) + wedge(a, b, section, allowance)


def behind(a: Slope, section: Section, allowance: Allowance) -> float:
    """What a last cut of slope `a` takes behind its place on the centerline before the grip, mm."""
    return half_reach(a, section) + a.kerf_along(allowance.kerf)


def half_kerf(slope: Slope, section: Section, allowance: Allowance) -> float:
    """The share of a kerf that a piece takes of any bar at the least, mm.

    The two ends of a bar take that much only where it is as wide and as high as the kerf, so no more is counted.
    """
    return slope.kerf_along(min(allowance.kerf, section.width, section.height)) / 2


def joint(before: Piece, after: Piece, allowance: Allowance) -> float:
    """Distance between the right cut of one piece and the left cut of the next, mm."""
    return gap(right_slope(before), left_slope(after), before.section, allowance)


def start(piece: Piece, allowance: Allowance) -> float:
    """Where the first cut of a bar may stand, mm from the raw end."""
    return allowance.trim + half_reach(left_slope(piece), piece.section)


def tail(piece: Piece, allowance: Allowance) -> float:
    """What the last cut takes behind its place on the centerline before the grip, mm."""
    return behind(right_slope(piece), piece.section, allowance)
