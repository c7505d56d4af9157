"""Arcs of circles and ellipses: where they run, how far they reach, as Bezier curves; knows numbers only.

An arc is `center + cos(t) major + sin(t) minor` for t from `start` over `sweep` degrees; a circle has two
perpendicular vectors of the length of its radius.
"""

from __future__ import annotations

import math
from typing import Final

from attrs import frozen

from mitertool.drawing.vectors import Point, angle_of, direction

_SEGMENT: Final = 45.0
"""degrees. A cubic over an eighth of a circle is off by 4e-6 of the radius: under a pixel on any sheet."""


@frozen
class Curve:
    """An arc by its center, the half axes `major` and `minor` (mm), `start` and `sweep` (degrees)."""

    center: Point
    major: Point
    minor: Point
    start: float
    sweep: float

    @property
    def closed(self) -> bool:
        """Whether the arc is a whole circle or ellipse."""
        return abs(self.sweep) >= 360.0

    def at(self, degrees: float) -> Point:
        """The point at the parameter `degrees`, mm."""
        return _combined(self.center, self.major, self.minor, direction(degrees))

    def ends(self) -> tuple[Point, Point]:
        """Where the arc starts and where it ends, mm."""
        return self.at(self.start), self.at(self.start + self.sweep)

    def extremes(self) -> tuple[Point, ...]:
        """The ends and those points of the arc that lie furthest in x and in y; exact."""
        turns = (angle_of((a, b)) for a, b in zip(self.major, self.minor, strict=True))
        furthest = [t + half for t in turns for half in (0.0, 180.0)]
        return (*self.ends(), *(self.at(t) for t in furthest if self.passes(t)))

    def passes(self, degrees: float) -> bool:
        """Whether the parameter `degrees` lies on the arc."""
        ahead = (degrees - self.start) if self.sweep >= 0 else (self.start - degrees)
        return ahead % 360.0 <= abs(self.sweep)

    def beziers(self) -> tuple[tuple[Point, Point, Point], ...]:
        """The arc as cubic Bezier curves from `ends()[0]`: two control points and the end of each, mm."""
        count = max(1, math.ceil(abs(self.sweep) / _SEGMENT - 1e-9))
        step = self.sweep / count
        return tuple(self._bezier(self.start + k * step, step) for k in range(count))

    def _bezier(self, start: float, sweep: float) -> tuple[Point, Point, Point]:
        handle = 4.0 / 3.0 * math.tan(math.radians(sweep) / 4.0)
        (c0, s0), (c1, s1) = direction(start), direction(start + sweep)
        corners = ((c0 - handle * s0, s0 + handle * c0), (c1 + handle * s1, s1 - handle * c1), (c1, s1))
        first, second, end = (_combined(self.center, self.major, self.minor, corner) for corner in corners)
        return first, second, end


def _combined(center: Point, major: Point, minor: Point, factors: Point) -> Point:
    a, b = factors
    return (center[0] + a * major[0] + b * minor[0], center[1] + a * major[1] + b * minor[1])
