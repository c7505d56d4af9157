"""A region of the plane bounded by closed loops of lines and arcs; area, moments and support are closed forms."""

from __future__ import annotations

from functools import cached_property
from math import hypot, inf
from typing import Self

import attrs

from mitertool.base.totals import summed
from mitertool.geometry.hull import HullDiscs, hull_of
from mitertool.geometry.lengths import OutlineLengths, outline_lengths
from mitertool.geometry.segments import Line, Point, Segment

Loop = tuple[Segment, ...]


@attrs.frozen(cache_hash=True)
class Region:
    """Closed loops with the material on their left: outer loops counter-clockwise, holes clockwise (mm)."""

    loops: tuple[Loop, ...]

    @cached_property
    def segments(self) -> tuple[Segment, ...]:
        """All lines and arcs of all loops."""
        return tuple(segment for loop in self.loops for segment in loop)

    @cached_property
    def area(self) -> float:
        """Enclosed area, mm2."""
        return summed(segment.area_term() for segment in self.segments)

    @cached_property
    def perimeter(self) -> float:
        """Length of all loops, holes included, mm."""
        return summed(segment.length for segment in self.segments)

    @cached_property
    def centroid(self) -> Point:
        """Centroid of the material (y, z), mm."""
        terms = [segment.moment_terms() for segment in self.segments]
        return (summed(t[0] for t in terms) / self.area, summed(t[1] for t in terms) / self.area)

    @cached_property
    def _outer(self) -> tuple[Segment, ...]:
        """The lines and arcs of outer loops: no hole reaches further than the loop about it."""
        loops = (loop for loop in self.loops if summed(segment.area_term() for segment in loop) > 0)
        return tuple(segment for loop in loops for segment in loop)

    @cached_property
    def bounds(self) -> tuple[float, float, float, float]:
        """Least and greatest extent (y0, z0, y1, z1), mm."""
        left, low, right, high = (self.support_point(*way) for way in ((-1, 0), (0, -1), (1, 0), (0, 1)))
        return float(left[0]), float(low[1]), float(right[0]), float(high[1])

    def support_point(self, p: float, q: float) -> Point:
        """A point of the material with the largest p*y + q*z, exact on arcs too; asked some thousand times a job."""
        found, most, size = self._outer[0].start, -inf, hypot(p, q)
        for segment in self._outer:
            if isinstance(segment, Line):
                start, end = segment.start, segment.end
                at_start, at_end = p * start[0] + q * start[1], p * end[0] + q * end[1]
                point, reached = (start, at_start) if at_start >= at_end else (end, at_end)
            elif segment.short_of(p, q, size, most):
                continue
            else:
                point = segment.support_point(p, q)
                reached = p * point[0] + q * point[1]
            if reached > most:
                found, most = point, reached
        return found

    def support(self, p: float, q: float) -> float:
        """Largest p*y + q*z over the material."""
        y, z = self.support_point(p, q)
        return p * y + q * z

    @cached_property
    def hull(self) -> HullDiscs:
        """The corners and discs that reach furthest in some direction; worth its making where many are asked for."""
        return hull_of(self.loops)

    def oblique_perimeter(self, p: float, q: float) -> float:
        """Length of all loops as they lie in the plane x = p*y + q*z, mm."""
        return self.outlines.length(p, q)

    @cached_property
    def outlines(self) -> OutlineLengths:
        """What all loops add up to by direction of lines and angle of arcs."""
        return outline_lengths(self.segments)

    def moved(self, dy: float, dz: float) -> Self:
        """Shifted by (dy, dz)."""
        return type(self)(tuple(tuple(s.moved(dy, dz) for s in loop) for loop in self.loops))

    def turned(self, radians: float) -> Self:
        """Turned counter-clockwise about the origin."""
        return type(self)(tuple(tuple(s.turned(radians) for s in loop) for loop in self.loops))

    def mirrored(self) -> Self:
        """Mirrored at y = 0, loops still with the material on their left."""
        return type(self)(tuple(tuple(s.mirrored().reversed() for s in loop[::-1]) for loop in self.loops))

    def to_corner(self) -> Self:
        """Shifted so that the bounding box has its lower left corner at (0, 0)."""
        y0, z0, _, _ = self.bounds
        return self.moved(-y0, -z0)
