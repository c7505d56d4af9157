"""What an outline adds to the contact of a blade that turns about a hinge, by quadrature around it; knows geometry.

The edge passes every point of the outline once, so the contact summed over its travel is the integral of w over alpha
around the outline. With w = sqrt(r^2 - d^2) and alpha = phi + asin(d/r) that is sqrt(r^2 - d^2) dphi: the rest is
-d/r dr, which adds up to nothing around a loop.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, hypot, pi, sin, sqrt
from typing import Final

from mitertool.base.totals import summed
from mitertool.cut.blade.numeric import integral
from mitertool.cut.blade.plane import BladePlane
from mitertool.geometry import Arc, Point, Segment

_LEAST_PANEL: Final = 1e-3
"""mm. Nothing is parted finer where an outline all but touches the circle about the hinge on which r = d."""


def turn_about(segment: Segment, plane: BladePlane, pin: Point, d: float) -> float:
    """The integral of sqrt(r^2 - d^2) dphi about the pin along a segment as it lies in the plane, mm times radians."""

    def rate(t: float) -> float:
        (u, v), (du, dv) = _moving(segment, plane, pin, t)
        r2 = u * u + v * v
        return sqrt(max(0.0, r2 - d * d)) * (u * dv - v * du) / r2

    begin, end = (segment.begin, segment.finish) if isinstance(segment, Arc) else (0.0, 1.0)
    long = hypot(plane.uy, plane.uz, plane.vz) * segment.length
    return summed(integral(rate, a, b) for a, b in _panels(segment, plane, pin, abs(d), (begin, end, long)))


def _panels(
    segment: Segment, plane: BladePlane, pin: Point, d: float, part: tuple[float, float, float]
) -> Iterator[tuple[float, float]]:
    """Parts of a segment, from t to t and at most so long, that are no longer than their distance from where r = d.

    There the root has its branch; and no arc goes round more than a quarter.
    """
    a, b, long = part
    middle = (a + b) / 2
    apart = hypot(*_moving(segment, plane, pin, middle)[0]) - long / 2 - d
    round_enough = isinstance(segment, Arc) and abs(b - a) > pi / 2
    if not round_enough and long <= max(apart, _LEAST_PANEL):
        yield a, b
        return
    for half in ((a, middle, long / 2), (middle, b, long / 2)):
        yield from _panels(segment, plane, pin, d, half)


def _moving(segment: Segment, plane: BladePlane, pin: Point, t: float) -> tuple[Point, Point]:
    """A point of a segment from the pin, (u, v) mm, and how it moves with t: an angle on an arc, a share of a line."""
    if isinstance(segment, Arc):
        at, moves = segment.at(t), (-segment.radius * sin(t), segment.radius * cos(t))
    else:
        (y, z), (y1, z1) = segment.start, segment.end
        moves = (y1 - y, z1 - z)
        at = (y + t * moves[0], z + t * moves[1])
    u, v = plane.at(at)
    return (u - pin[0], v - pin[1]), (plane.uy * moves[0] + plane.uz * moves[1], plane.vz * moves[1])
