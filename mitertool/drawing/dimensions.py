"""Dimensions between points and between directions; knows what they measure and where their line runs.

Measured points are geometry and scale with it; offsets, radii of angle dimensions and heights are mm on paper
and never scale.
"""

from __future__ import annotations

import math

from attrs import field, frozen

from mitertool.drawing.lettering import clean
from mitertool.drawing.vectors import Point, Similarity, direction, dot, left_of, shifted, to, unit


@frozen
class Dimension:
    """A linear dimension between the points `a` and `b`, with the text `says`.

    `along` is the measured direction in degrees (0 level, 90 upright); None measures straight from `a` to
    `b`. The dimension line runs in that direction, past `a` at the signed distance `offset`: positive to the
    left of the direction, negative to its right.
    """

    a: Point
    b: Point
    offset: float
    says: str = field(converter=clean)
    height: float = 2.5
    along: float | None = None

    @property
    def direction(self) -> Point:
        """The unit vector of the measured direction."""
        return unit(to(self.a, self.b)) if self.along is None else direction(self.along)

    @property
    def measured(self) -> float:
        """The measured length between `a` and `b`, mm."""
        return abs(dot(to(self.a, self.b), self.direction))

    @property
    def feet(self) -> tuple[Point, Point]:
        """Where the dimension line starts beside `a` and ends beside `b`."""
        u = self.direction
        start = shifted(self.a, left_of(u), self.offset)
        return start, shifted(start, u, dot(to(self.a, self.b), u))

    def under(self, move: Similarity) -> Dimension:
        """The dimension after a move, with the same offset and height."""
        turned = None if self.along is None else self.along + move.turn
        return Dimension(move.point(self.a), move.point(self.b), self.offset, self.says, self.height, turned)

    def numbers(self) -> tuple[float, ...]:
        """Its coordinates, offset, height and direction."""
        return (*self.a, *self.b, self.offset, self.height, self.along or 0.0)


@frozen
class AngleDimension:
    """An arc about `apex`, `radius` mm on paper, from the angle `start` over `sweep` degrees, with `says`."""

    apex: Point
    start: float
    sweep: float
    radius: float
    says: str = field(converter=clean)
    height: float = 2.5

    @property
    def length(self) -> float:
        """The length of the arc, mm."""
        return self.radius * math.radians(abs(self.sweep))

    def under(self, move: Similarity) -> AngleDimension:
        """The dimension after a move, with the same radius and height."""
        apex, start = move.point(self.apex), self.start + move.turn
        return AngleDimension(apex, start, self.sweep, self.radius, self.says, self.height)

    def numbers(self) -> tuple[float, ...]:
        """Its coordinates, angles, radius and height."""
        return (*self.apex, self.start, self.sweep, self.radius, self.height)
