"""What carries the blade, a hinged arm or a column, as the cutting edge that it brings down; knows the blade plane.

A position of the arm counts from rest. In the blade plane u runs along the blade from the swing axis, z up from the
bed. Lengths mm, angles degrees.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cached_property
from math import asin, atan2, copysign, cos, degrees, hypot, radians, sin, tan
from typing import ClassVar, Final

import attrs

from mitertool.base.totals import summed
from mitertool.cut.blade.about_hinge import turn_about
from mitertool.cut.blade.plane import BladePlane, Edge
from mitertool.geometry import Point, Region
from mitertool.quantity.problem import angles, lengths
from mitertool.quantity.show import Way, show_angle, show_angle_limit, show_length, show_limit
from mitertool.quantity.telling import Numbers
from mitertool.quantity.units import Units

Support = Callable[[float, float], Point]
"""The point with the largest p*y + q*z, of a region or of one circle."""

_ROUNDS: Final = 60
_SETTLED: Final = 1e-13
"""degrees or mm. A position that moves by less is found: it stands at the rounding of double precision."""

_AT_HINGE: Final = 1e-9
"""mm. Nearer than this a point is the hinge itself, and has no direction from it."""


@attrs.frozen
class Column:
    """The blade comes down parallel, canted by `cant` (its moving-jaw end higher where positive); 0: a level blade.

    A position is mm of lift above rest, at u = 0, where the edge at rest stands `below_bed` below the bed.
    `lift_highest` is None where nobody says.
    """

    below_bed: float = 0.0
    lift_highest: float | None = None
    cant: float = 0.0

    kind: ClassVar[str] = "column"
    unit: ClassVar[str] = "mm"
    pin: ClassVar[None] = None
    stop: ClassVar[float] = 0.0

    @property
    def stands_on_axis(self) -> bool:
        """Whether it matters where the swing axis stands: a shift along a level blade changes nothing."""
        return self.cant != 0.0

    def edge(self, position: float) -> Edge:
        """The cutting edge with the blade lifted by `position`."""
        s, c = self._cant
        return Edge(-s, c, (position - self.below_bed) * c, c, s, 0.0)

    @cached_property
    def _cant(self) -> tuple[float, float]:
        k = radians(self.cant)
        return sin(k), cos(k)

    def position(self, u: float, v: float, clear: float = 0.0) -> float:
        """The lift at which the edge passes `clear` mm, square to it, above a point."""
        k = radians(self.cant)
        return v - u * tan(k) + self.below_bed + clear / cos(k)

    def height(self, position: float, u: float) -> float:
        """Height of the edge above the bed at u, mm in the plane."""
        return position - self.below_bed + u * tan(radians(self.cant))

    def lowering(self, _position: float) -> float:
        """mm that the edge comes down at u = 0 for a mm of lift."""
        return 1.0

    def swept(self, low: float, high: float) -> float:
        """Area that the edge sweeps from w = `low` to `high` along it, mm2 for a mm of lift."""
        return (high - low) * cos(radians(self.cant))

    def contact_over(self, region: Region, plane: BladePlane) -> float:
        """The contact summed over the whole way through a region, mm2: the face, over what a mm of lift sweeps."""
        return region.area * plane.area / cos(radians(self.cant))

    def room(self, _region: Region, _plane: BladePlane, _clearance: float) -> None:
        """No hinge stands in the way of a bar."""

    @staticmethod
    def show(position: float, units: Units) -> str:
        """A position or a travel as a person reads it."""
        return show_length(position, units)

    @staticmethod
    def show_limit(position: float, units: Units, way: Way) -> str:
        """A position that is a limit."""
        return show_limit(position, units, way)

    @staticmethod
    def positions(**by_name: float) -> Numbers:
        """Positions by their names, as numbers of a reason."""
        return lengths(**by_name)


@attrs.frozen
class HingedArm:
    """An arm that turns about (`hinge_u`, `hinge_z`); `hinge_u` is less than 0 where that is on the fixed-jaw side.

    A position is degrees above rest, where the edge stands `below_bed` below the bed. `stop_u` is where the height of
    the edge is measured. `lift_highest` and `stop_u` are None where nobody says. w, the place along the edge, counts
    from the foot of the perpendicular from the hinge, where the edge does not move along itself.
    """

    hinge_u: float
    hinge_z: float
    below_bed: float
    lift_highest: float | None = None
    stop_u: float | None = None

    kind: ClassVar[str] = "hinged"
    unit: ClassVar[str] = "deg"
    stands_on_axis: ClassVar[bool] = True

    @property
    def pin(self) -> Point:
        """Where it turns, (u, z)."""
        return (self.hinge_u, self.hinge_z)

    @property
    def stop(self) -> float:
        """u at which the height of the edge is measured; over the swing axis where nobody says."""
        return self.stop_u or 0.0

    @cached_property
    def below_hinge(self) -> float:
        """How far the edge passes below the hinge, square to it."""
        return self.hinge_z + self.below_bed

    @cached_property
    def _out(self) -> float:
        """1 where u grows away from the hinge over the bar, else -1."""
        return -copysign(1.0, self.hinge_u)

    def reach_of(self, u: float) -> float:
        """How far along the blade a place stands from the hinge, on the side of the bar."""
        return self._out * u + abs(self.hinge_u)

    def edge(self, position: float) -> Edge:
        """The cutting edge with the arm at `position`."""
        a, out, far = radians(position), self._out, abs(self.hinge_u)
        s, c = sin(a), cos(a)
        return Edge(-s * out, c, c * self.hinge_z + s * far - self.below_hinge, c * out, s, s * self.hinge_z - c * far)

    def position(self, u: float, v: float, clear: float = 0.0) -> float:
        """alpha = phi + asin((d + clear)/r); for a point nearer to the hinge than d + clear, as if it were that far."""
        du, dv, d = self.reach_of(u), v - self.hinge_z, self.below_hinge + clear
        return degrees(atan2(dv, du) + asin(d / max(hypot(du, dv), abs(d), _AT_HINGE)))

    def height(self, position: float, u: float) -> float:
        """Height of the edge above the bed at u, mm in the plane."""
        a = radians(position)
        return self.hinge_z + (self.reach_of(u) * sin(a) - self.below_hinge) / cos(a)

    def lowering(self, position: float) -> float:
        """The slope of `height` at u = 0, mm a degree."""
        a = radians(position)
        return radians((abs(self.hinge_u) - self.below_hinge * sin(a)) / cos(a) ** 2)

    def swept(self, low: float, high: float) -> float:
        """mm2 a degree: an element at w moves w a radian."""
        return radians((high * high - low * low) / 2)

    def contact_over(self, region: Region, plane: BladePlane) -> float:
        """The contact summed over the whole way through a region, mm times degrees."""
        around = summed(turn_about(segment, plane, self.pin, self.below_hinge) for segment in region.segments)
        return degrees(abs(around))

    def room(self, region: Region, plane: BladePlane, clearance: float) -> tuple[float, float]:
        """How near to the hinge a bar comes along the blade, and how near it may, mm."""
        out = self._out
        nearest = out * plane.u0 - region.support(-out * plane.uy, -out * plane.uz) + abs(self.hinge_u)
        return nearest, abs(self.below_hinge) + clearance

    @staticmethod
    def show(position: float, _units: Units) -> str:
        """A position or a travel as a person reads it."""
        return show_angle(position)

    @staticmethod
    def show_limit(position: float, _units: Units, way: Way) -> str:
        """A position that is a limit."""
        return show_angle_limit(position, way)

    @staticmethod
    def positions(**by_name: float) -> Numbers:
        """Positions by their names, as numbers of a reason."""
        return angles(**by_name)


BladeArm = HingedArm | Column

ARMS: Final[Mapping[str, type[HingedArm] | type[Column]]] = {one.kind: one for one in (HingedArm, Column)}
"""Each kind of arm by its word in a saw file."""


def turning_point(arm: BladeArm, plane: BladePlane, support: Support, side: int, clear: float = 0.0) -> float:
    """The highest (`side` 1) or lowest (-1) position at which the edge touches what `support` tells of.

    From the position of one point to that of the point furthest out there, and so on: the positions grow steadily,
    and their steps shrink by squares.
    """
    position = arm.position(*plane.at(support(0.0, float(side))), clear)
    for _ in range(_ROUNDS):
        line = arm.edge(position).seen_from(plane)
        further = arm.position(*plane.at(support(side * line.ny, side * line.nz)), clear)
        if side * (further - position) <= _SETTLED:
            return max(position, further) if side > 0 else min(position, further)
        position = further
    return position
