"""Planes over a region, the lowest of which counts at every place, as slopes of a roof; knows regions and clip.

A convex end of a bar is such a roof over its section, and so is the length of a piece over its section. All values
are exact, over arcs too: the region is parted where one slope takes over from another.
"""

from __future__ import annotations

from functools import cached_property
from itertools import combinations
from math import hypot
from typing import NamedTuple

import attrs

from mitertool.base.tolerances import CROSSING, SAME_SLOPE
from mitertool.base.totals import summed
from mitertool.geometry.clip import part_of
from mitertool.geometry.region import Region
from mitertool.geometry.segments import Point


class Slant(NamedTuple):
    """The plane x = o + p*y + q*z."""

    p: float
    q: float
    o: float = 0.0

    def at(self, y: float, z: float, base: float = 0.0) -> float:
        """x over a place, counted from `base`, mm."""
        return base + self.o + self.p * y + self.q * z

    def plus(self, other: Slant) -> Slant:
        """The sum of two planes."""
        return Slant(self.p + other.p, self.q + other.q, self.o + other.o)


@attrs.frozen
class Facet:
    """One slope of a roof and the part of the region that it covers."""

    slant: Slant
    region: Region

    @property
    def highest_point(self) -> Point:
        """The place (y, z) of the part that is highest."""
        return self.region.support_point(self.slant.p, self.slant.q)


@attrs.frozen
class Roof:
    """The lowest of some planes over the material of a region."""

    region: Region
    slants: tuple[Slant, ...]

    def at(self, y: float, z: float, base: float = 0.0) -> float:
        """Height over a place, counted from `base`, mm."""
        if len(self.slants) == 1:
            return self.slants[0].at(y, z, base)
        return min(slant.at(y, z, base) for slant in self.slants)

    @cached_property
    def facets(self) -> tuple[Facet, ...]:
        """The slopes that are lowest somewhere, with what they cover; equal ones once."""
        if len(self.slants) == 1:
            return (Facet(self.slants[0], self.region),)
        found = (Facet(slant, self._covered(i)) for i, slant in enumerate(self.slants))
        return tuple(facet for facet in found if facet.region.loops)

    def _covered(self, i: int) -> Region:
        """Where slope `i` is the lowest; of equal ones the first."""
        one, left = self.slants[i], self.region
        for k, other in enumerate(self.slants):
            if k == i or not left.loops:
                continue
            p, q, most = one.p - other.p, one.q - other.q, other.o - one.o
            if hypot(p, q) > SAME_SLOPE:
                left = part_of(left, p, q, most)
            elif (abs(most) > SAME_SLOPE and most < 0) or (abs(most) <= SAME_SLOPE and k < i):
                left = Region(())
        return left

    def ridges_at(self, z: float) -> tuple[float, ...]:
        """Where along the line at z one slope takes over from another, material there or not, in order."""
        found = set()
        for one, other in combinations(self.slants, 2):
            if abs(one.p - other.p) > SAME_SLOPE:
                y = (other.o - one.o + (other.q - one.q) * z) / (one.p - other.p)
                found |= {y} if one.at(y, z) <= self.at(y, z) + CROSSING else set()
        return tuple(sorted(found))

    @cached_property
    def highest_point(self) -> Point:
        """A place (y, z) of the material where the roof is highest."""
        return max((facet.highest_point for facet in self.facets), key=lambda point: self.at(*point))

    @cached_property
    def lowest_point(self) -> Point:
        """A place (y, z) of the material where the roof is lowest."""
        points = (self.region.support_point(-slant.p, -slant.q) for slant in self.slants)
        return min(points, key=lambda point: self.at(*point))

    @property
    def highest(self) -> float:
        """Largest height over the material, mm."""
        if len(self.slants) == 1:
            p, q, o = self.slants[0]
            return o + self.region.hull.furthest(p, q)
        return max(facet.slant.o + facet.region.support(facet.slant.p, facet.slant.q) for facet in self.facets)

    @property
    def lowest(self) -> float:
        """Smallest height over the material, mm."""
        if len(self.slants) == 1:
            p, q, o = self.slants[0]
            return o - self.region.hull.furthest(-p, -q)
        return min(slant.o - self.region.support(-slant.p, -slant.q) for slant in self.slants)

    def volume(self, base: float) -> float:
        """Volume under the roof, its heights counted from `base`, mm3; below 0 it counts as less than nothing."""
        if len(self.slants) == 1:
            return self.region.area * self.slants[0].at(*self.region.centroid, base)
        return summed(facet.region.area * facet.slant.at(*facet.region.centroid, base) for facet in self.facets)
