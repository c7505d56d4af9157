"""Points, directions and similarity moves of the plane; knows numbers only."""

from __future__ import annotations

import math
from functools import cached_property
from typing import Final

from attrs import frozen

Point = tuple[float, float]

_QUARTERS: Final[dict[float, Point]] = {
    0.0: (1.0, 0.0),
    90.0: (0.0, 1.0),
    180.0: (-1.0, 0.0),
    270.0: (0.0, -1.0),
}


def direction(degrees: float) -> Point:
    """The unit vector at `degrees` from the x axis; exact at quarter turns, so level lines stay level."""
    quarter = _QUARTERS.get(degrees % 360.0)
    return quarter or (math.cos(math.radians(degrees)), math.sin(math.radians(degrees)))


def angle_of(v: Point) -> float:
    """The angle of a vector from the x axis, degrees, -180 to 180."""
    return math.degrees(math.atan2(v[1], v[0]))


def left_of(v: Point) -> Point:
    """The vector turned a quarter turn to the left."""
    return (-v[1], v[0])


def reverse(v: Point) -> Point:
    """The vector the other way round."""
    return (-v[0], -v[1])


def shifted(p: Point, v: Point, distance: float) -> Point:
    """The point `distance` times `v` away from `p`."""
    return (p[0] + distance * v[0], p[1] + distance * v[1])


def to(a: Point, b: Point) -> Point:
    """The vector from `a` to `b`."""
    return (b[0] - a[0], b[1] - a[1])


def dot(a: Point, b: Point) -> float:
    """The scalar product of two vectors."""
    return a[0] * b[0] + a[1] * b[1]


def unit(v: Point) -> Point:
    """The vector at length 1; `v` is not zero."""
    length = math.hypot(*v)
    return (v[0] / length, v[1] / length)


_LAST_STEP: Final = 2.0**969


@frozen
class Similarity:
    """Scale by `scale` and turn by `turn` degrees about the origin, then shift by `shift` (mm)."""

    scale: float = 1.0
    turn: float = 0.0
    shift: Point = (0.0, 0.0)

    @property
    def keeps_finite(self) -> bool:
        """Whether no finite number becomes endless: a shift by less than half of what the largest double stands from
        the next, 2^970, is rounded away there."""
        return self.scale == 1.0 and not self.turn and all(abs(by) < _LAST_STEP for by in self.shift)

    @cached_property
    def _way(self) -> Point:
        return direction(self.turn)

    def vector(self, v: Point) -> Point:
        """A vector scaled and turned."""
        cos, sin = self._way
        return (self.scale * (cos * v[0] - sin * v[1]), self.scale * (sin * v[0] + cos * v[1]))

    def point(self, p: Point) -> Point:
        """A point scaled, turned and shifted."""
        (x, y), (dx, dy) = self.vector(p) if self.turn or self.scale != 1.0 else p, self.shift
        return (x + dx, y + dy)
