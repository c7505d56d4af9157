"""Straight lines and circular arcs, the two things an outline is made of; knows only base.

Coordinates are (y, z) in mm. Integrals along a segment follow Green's theorem, so that sums over a closed
loop with the material on its left are areas and moments.
"""

from __future__ import annotations

from functools import cached_property
from math import atan2, cos, hypot, pi, sin
from typing import Self

import attrs

from mitertool.base.tolerances import COINCIDENT, SAME_ANGLE

Point = tuple[float, float]


@attrs.frozen
class Line:
    """A straight line from `start` to `end` (mm)."""

    start: Point
    end: Point

    @property
    def length(self) -> float:
        """Length, mm."""
        return hypot(self.end[0] - self.start[0], self.end[1] - self.start[1])

    def area_term(self) -> float:
        """Its share of the enclosed area, mm2."""
        (y0, z0), (y1, z1) = self.start, self.end
        return (y0 * z1 - y1 * z0) / 2

    def moment_terms(self) -> Point:
        """Its share of the first moments (integral of y, integral of z), mm3."""
        (y0, z0), (y1, z1) = self.start, self.end
        return (
            (z1 - z0) * (y0 * y0 + y0 * y1 + y1 * y1) / 6,
            -(y1 - y0) * (z0 * z0 + z0 * z1 + z1 * z1) / 6,
        )

    def support_point(self, p: float, q: float) -> Point:
        """The point with the largest p*y + q*z on it."""
        return _further(self.start, self.end, p, q)

    def reversed(self) -> Self:
        """The same line walked the other way."""
        return type(self)(self.end, self.start)

    def moved(self, dy: float, dz: float) -> Self:
        """Shifted by (dy, dz)."""
        return type(self)(_shift(self.start, dy, dz), _shift(self.end, dy, dz))

    def turned(self, radians: float) -> Self:
        """Turned counter-clockwise about the origin."""
        return type(self)(turn(self.start, radians), turn(self.end, radians))

    def mirrored(self) -> Self:
        """Mirrored at y = 0."""
        return type(self)((-self.start[0], self.start[1]), (-self.end[0], self.end[1]))


@attrs.frozen
class Arc:
    """A circular arc about `center` with `radius` (mm), from the angle `begin` through `sweep` (radians).

    A positive sweep runs counter-clockwise; a sweep of 2 pi is a whole circle.
    """

    center: Point
    radius: float
    begin: float
    sweep: float

    def at(self, angle: float) -> Point:
        """The point at an angle from the center, radians."""
        return (self.center[0] + self.radius * cos(angle), self.center[1] + self.radius * sin(angle))

    @property
    def finish(self) -> float:
        """The angle it ends at, radians."""
        return self.begin + self.sweep

    @cached_property
    def start(self) -> Point:
        """First point, mm."""
        return self.at(self.begin)

    @cached_property
    def end(self) -> Point:
        """Last point, mm."""
        return self.at(self.finish)

    @property
    def length(self) -> float:
        """Length, mm."""
        return self.radius * abs(self.sweep)

    def area_term(self) -> float:
        """Its share of the enclosed area, mm2."""
        (cy, cz), r, t0, t1 = self.center, self.radius, self.begin, self.finish
        return r * (r * self.sweep + cy * (sin(t1) - sin(t0)) - cz * (cos(t1) - cos(t0))) / 2

    def moment_terms(self) -> Point:
        """Its share of the first moments (integral of y, integral of z), mm3."""
        (cy, cz), r = self.center, self.radius
        s0, s1, c0, c1 = sin(self.begin), sin(self.finish), cos(self.begin), cos(self.finish)
        swirl = (s1 * c1 - s0 * c0) / 2
        cos2, sin2 = self.sweep / 2 + swirl, self.sweep / 2 - swirl
        cos3 = (s1 - s1**3 / 3) - (s0 - s0**3 / 3)
        sin3 = (c1**3 / 3 - c1) - (c0**3 / 3 - c0)
        return (
            r * (cy * cy * (s1 - s0) + 2 * cy * r * cos2 + r * r * cos3) / 2,
            r * (cz * cz * (c0 - c1) + 2 * cz * r * sin2 + r * r * sin3) / 2,
        )

    def faces(self, angle: float) -> bool:
        """Whether the arc has a point at this angle from its center."""
        way = angle - self.begin if self.sweep > 0 else self.begin - angle
        return way % (2 * pi) <= abs(self.sweep) + SAME_ANGLE or -way % (2 * pi) <= SAME_ANGLE

    def short_of(self, p: float, q: float, size: float, reached: float) -> bool:
        """Whether its whole circle reaches less far in p*y + q*z, (p, q) of length `size`, than something else does."""
        return p * self.center[0] + q * self.center[1] + self.radius * size < reached - COINCIDENT * size

    def support_point(self, p: float, q: float) -> Point:
        """The point with the largest p*y + q*z on it."""
        angle = atan2(q, p)
        if self.faces(angle):
            return self.at(angle)
        return _further(self.start, self.end, p, q)

    def reversed(self) -> Self:
        """The same arc walked the other way."""
        return type(self)(self.center, self.radius, self.finish, -self.sweep)

    def moved(self, dy: float, dz: float) -> Self:
        """Shifted by (dy, dz)."""
        return type(self)(_shift(self.center, dy, dz), self.radius, self.begin, self.sweep)

    def turned(self, radians: float) -> Self:
        """Turned counter-clockwise about the origin."""
        return type(self)(turn(self.center, radians), self.radius, self.begin + radians, self.sweep)

    def mirrored(self) -> Self:
        """Mirrored at y = 0."""
        return type(self)((-self.center[0], self.center[1]), self.radius, pi - self.begin, -self.sweep)


Segment = Line | Arc

_QUARTERS = {0: (1.0, 0.0), 1: (0.0, 1.0), 2: (-1.0, 0.0), 3: (0.0, -1.0)}


def turn(point: Point, radians: float) -> Point:
    """`point` turned about the origin; quarter turns are exact."""
    quarters = radians / (pi / 2)
    if quarters == round(quarters):
        c, s = _QUARTERS[round(quarters) % 4]
    else:
        c, s = cos(radians), sin(radians)
    return (c * point[0] - s * point[1], s * point[0] + c * point[1])


def _further(one: Point, other: Point, p: float, q: float) -> Point:
    """The point with the larger p*y + q*z."""
    return one if p * one[0] + q * one[1] >= p * other[0] + q * other[1] else other


def _shift(point: Point, dy: float, dz: float) -> Point:
    return (point[0] + dy, point[1] + dz)
