"""The blade plane of a cut, and the cutting edge as a line in it that comes down with the arm; knows geometry.

In the plane u runs along the blade from the foot of the swing axis toward the moving jaw, v up from the bed. A bar's
(y, z) lies there by a linear map, so every question about the blade and the face is one about a straight line and
the section's own lines and arcs, and arcs stay arcs.
"""

from __future__ import annotations

from math import cos, radians, tan
from typing import NamedTuple, Self

from mitertool.geometry import Point


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


class Edge(NamedTuple):
    """The cutting edge at one position of the arm: nu*u + nv*v = c, larger above it.

    w = wu*u + wv*v - w0 is the place along the edge, counted from where the arm's own measure starts, away from it.
    """

    nu: float
    nv: float
    c: float
    wu: float
    wv: float
    w0: float

    def seen_from(self, plane: BladePlane) -> SectionLine:
        """The same line in the section's own coordinates."""
        nu, nv, c, wu, wv, w0 = self
        uy, uz, u0, vz = plane
        return SectionLine(nu * uy, nu * uz + nv * vz, c - nu * u0, wu * uy, wu * uz + wv * vz, w0 - wu * u0)


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
