"""The blade plane of a cut, and the cutting edge as a line in it that comes down with the arm; knows geometry.

In the plane u runs along the blade from the foot of the swing axis toward the moving jaw, v up from the bed. A bar's
(y, z) lies there by a linear map, so every question about the blade and the face is one about a straight line and
the section's own lines and arcs, and arcs stay arcs.
"""

from __future__ import annotations

from collections.abc import Callable
from math import asin, atan2, cos, degrees, hypot, radians, sin, tan
from typing import Final, NamedTuple, Protocol, Self

import attrs

from mitertool.geometry import Point

Support = Callable[[float, float], Point]
"""The point with the largest p*y + q*z, of a region or of one circle."""

_ROUNDS: Final = 60
_AT_HINGE: Final = 1e-9
"""mm. Nearer than this a point is the hinge itself, and has no direction from it."""

_SETTLED: Final = 1e-13
"""degrees or mm. A position that moves by less is found: it stands at the rounding of double precision."""


class BladePlane(NamedTuple):
    """u = uy*y + uz*z + u0 and v = vz*z, mm."""

    uy: float
    uz: float
    u0: float
    vz: float

    @classmethod
    def of(cls, swing: float, tilt: float, axis: float, offset: float) -> Self:
        """The plane of a blade swung and tilted by degrees, about an axis at y = `axis`, `offset` from it.

        The blade tilts about its own line on the bed.
        """
        m, b = radians(swing), radians(tilt)
        return cls(1 / cos(m), tan(m) * tan(b), offset * tan(m) - axis / cos(m), 1 / cos(b))

    @property
    def area(self) -> float:
        """Area in the plane for 1 mm2 of section."""
        return abs(self.uy) * self.vz

    def at(self, point: Point) -> Point:
        """(u, v) of a point (y, z) of the bar."""
        y, z = point
        return (self.uy * y + self.uz * z + self.u0, self.vz * z)

    def mirrored(self) -> Self:
        """The same plane with u counted the other way."""
        return type(self)(-self.uy, -self.uz, -self.u0, self.vz)


class Edge(NamedTuple):
    """The cutting edge at one position of the arm: nu*u + nv*v = c, larger above it.

    `w0` makes `w`, the place along the edge, count from where the arm's own measure starts.
    """

    nu: float
    nv: float
    c: float
    w0: float = 0.0

    def seen_from(self, plane: BladePlane) -> SectionLine:
        """The same line in the section's own coordinates."""
        nu, nv, c, w0 = self
        uy, uz, u0, vz = plane
        return SectionLine(nu * uy, nu * uz + nv * vz, c - nu * u0, nv * uy, nv * uz - nu * vz, w0 - nv * u0)


class SectionLine(NamedTuple):
    """A cutting edge over the section: ny*y + nz*z = c; a point on it lies at w = wy*y + wz*z - w0 along the edge."""

    ny: float
    nz: float
    c: float
    wy: float
    wz: float
    w0: float

    def above(self, point: Point) -> float:
        """More than 0 above the edge, less below it."""
        return self.ny * point[0] + self.nz * point[1] - self.c

    def along(self, point: Point) -> float:
        """How far along the edge a point of it lies, mm."""
        return self.wy * point[0] + self.wz * point[1] - self.w0


class Path(Protocol):
    """How an edge comes down: a position counts from rest, in degrees or mm."""

    @property
    def unit(self) -> str:
        """What a position is counted in: "degrees" or "mm"."""

    def edge(self, position: float) -> Edge:
        """The cutting edge there."""

    def position(self, u: float, v: float, clear: float = 0.0) -> float:
        """Where the edge passes `clear` mm above a point."""

    def height(self, position: float, u: float) -> float:
        """Height of the edge above the bed at u, mm in the plane."""

    def lowering(self, position: float) -> float:
        """mm that the edge comes down at u = 0 for a unit of position."""

    def swept(self, low: float, high: float) -> float:
        """Area that the edge sweeps from w = `low` to `high`, mm2 for a unit of position."""


@attrs.frozen
class Parallel:
    """A column: the edge comes down parallel, canted by degrees; a position is mm above rest, at u = 0."""

    cant: float
    below_bed: float
    unit: str = "mm"

    def edge(self, position: float) -> Edge:
        """The cutting edge with the blade lifted by `position`."""
        k = radians(self.cant)
        return Edge(-sin(k), cos(k), (position - self.below_bed) * cos(k))

    def position(self, u: float, v: float, clear: float = 0.0) -> float:
        """The lift at which the edge passes `clear` mm, square to it, above a point."""
        k = radians(self.cant)
        return v - u * tan(k) + self.below_bed + clear / cos(k)

    def height(self, position: float, u: float) -> float:
        """Height of the edge at u, mm."""
        return position - self.below_bed + u * tan(radians(self.cant))

    def lowering(self, _position: float) -> float:
        """A mm for each mm of lift."""
        return 1.0

    def swept(self, low: float, high: float) -> float:
        """mm2 a mm of lift."""
        return (high - low) * cos(radians(self.cant))


@attrs.frozen
class Hinged:
    """An arm that turns about (`u`, `v`), u < 0, its edge `d` below the hinge; a position is degrees above rest.

    w counts from the foot of the perpendicular from the hinge, where the edge does not move along itself.
    """

    u: float
    v: float
    d: float
    unit: str = "degrees"

    def edge(self, position: float) -> Edge:
        """The cutting edge with the arm at `position`."""
        s, c = sin(radians(position)), cos(radians(position))
        return Edge(-s, c, c * self.v - s * self.u - self.d, c * self.u + s * self.v)

    def position(self, u: float, v: float, clear: float = 0.0) -> float:
        """alpha = phi + asin((d + clear)/r); for a point nearer to the hinge than d + clear, as if it were that far."""
        du, dv, d = u - self.u, v - self.v, self.d + clear
        return degrees(atan2(dv, du) + asin(d / max(hypot(du, dv), abs(d), _AT_HINGE)))

    def height(self, position: float, u: float) -> float:
        """Height of the edge at u, mm."""
        a = radians(position)
        return self.v + ((u - self.u) * sin(a) - self.d) / cos(a)

    def lowering(self, position: float) -> float:
        """The slope of `height` at u = 0, mm a degree."""
        a = radians(position)
        return radians((-self.u - self.d * sin(a)) / cos(a) ** 2)

    def swept(self, low: float, high: float) -> float:
        """mm2 a degree: an element at w moves w a radian."""
        return radians((high * high - low * low) / 2)


def turning_point(path: Path, plane: BladePlane, support: Support, side: int, clear: float = 0.0) -> float:
    """The highest (`side` 1) or lowest (-1) position at which the edge touches what `support` tells of.

    From the position of one point to that of the point furthest out there, and so on: the positions grow steadily,
    and their steps shrink by squares.
    """
    position = path.position(*plane.at(support(0.0, float(side))), clear)
    for _ in range(_ROUNDS):
        line = path.edge(position).seen_from(plane)
        further = path.position(*plane.at(support(side * line.ny, side * line.nz)), clear)
        if side * (further - position) <= _SETTLED:
            return max(position, further) if side > 0 else min(position, further)
        position = further
    return position
