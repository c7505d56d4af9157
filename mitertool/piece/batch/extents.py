"""How far a section reaches in many directions at once: its hull as corners and discs; knows sections and numpy."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache
from itertools import groupby
from math import acos, atan2, cos, hypot, pi, sin
from typing import Final

import attrs
import numpy as np

from mitertool.base.tolerances import SAME_ANGLE
from mitertool.geometry import Arc, Point
from mitertool.piece.batch.given import Array
from mitertool.sections import Section

Disc = tuple[float, float, float]
"""Center (y, z) and radius, mm; a corner is a disc of radius 0."""

_KEPT: Final = 256
"""Hulls kept between calls."""

_ONE: Final = 1e-10
"""mm. Rounding of an outline turned in its lay; corners and centers closer than this are one here, which moves a reach
by no more."""

_DIGITS: Final = 10
"""Decimals of mm by which corners above each other are told from corners beside each other."""


@attrs.frozen
class HullDiscs:
    """The corners and discs whose hull is that of a section, by radius.

    Of a hull that half a turn about `center` maps onto itself one disc of each pair stands in `discs`, as seen from the
    center. `bows` are arcs whose whole discs would reach further than the section does.
    """

    discs: tuple[tuple[float, tuple[Point, ...]], ...]
    center: Point | None
    bows: tuple[Arc, ...]

    def extent(self, p: Array, q: Array) -> tuple[Array, Array]:
        """Smallest and largest p*y + q*z over the material."""
        if self.center is None:
            return -self.furthest(-p, -q), self.furthest(p, q)
        middle, half = self.center[0] * p + self.center[1] * q, self._half(p, q)
        return middle - half, middle + half

    def furthest(self, p: Array, q: Array) -> Array:
        """Largest p*y + q*z over the material."""
        if self.center is not None:
            return self.center[0] * p + self.center[1] * q + self._half(p, q)
        reached = [_most([y * p + z * q for y, z in points]) + r * _slope(r, p, q) for r, points in self.discs]
        furthest = _most(reached)
        for arc in self.bows:
            furthest = _bowed(arc, furthest, p, q)
        return furthest

    def width(self, p: Array, q: Array) -> Array:
        """Largest less smallest p*y + q*z over the material."""
        if self.center is None:
            return self.furthest(p, q) + self.furthest(-p, -q)
        return 2 * self._half(p, q)

    def _half(self, p: Array, q: Array) -> Array:
        """How far the discs reach from the center, to either side."""
        reached = [_far(points, p, q) + radius * _slope(radius, p, q) for radius, points in self.discs]
        return _most(reached)


def _bowed(arc: Arc, furthest: Array, p: Array, q: Array) -> Array:
    """How far in p*y + q*z an arc reaches too: its whole disc where it faces that way."""
    steepest, bisector = np.sqrt(p * p + q * q), arc.begin + arc.sweep / 2
    faces = p * cos(bisector) + q * sin(bisector) >= cos(min(arc.sweep / 2, pi)) * steepest
    reached = p * arc.center[0] + q * arc.center[1] + arc.radius * steepest
    return np.where(faces, np.maximum(furthest, reached), furthest)


def _slope(radius: float, p: Array, q: Array) -> Array | float:
    return np.sqrt(p * p + q * q) if radius else 0.0


def _far(points: tuple[Point, ...], p: Array, q: Array) -> Array:
    """The largest |p*y + q*z| of all points; of a rectangle that lies square it is the sum of both halves."""
    if len(points) == 2 and points[0] in ((points[1][0], -points[1][1]), (-points[1][0], points[1][1])):
        return np.abs(points[0][0] * p) + np.abs(points[0][1] * q)
    return _most([np.abs(y * p + z * q) for y, z in points])


def _most(values: list[Array]) -> Array:
    most = values[0]
    for value in values[1:]:
        most = np.maximum(most, value)
    return most


@lru_cache(maxsize=_KEPT)
def hull_of(section: Section) -> HullDiscs:
    """The hull of a section as it lies; no hole reaches further than the loop about it."""
    outer = [segment for loop in section.region.loops if sum(s.area_term() for s in loop) > 0 for segment in loop]
    points = list(dict.fromkeys(point for segment in outer for point in (segment.start, segment.end)))
    convex = [segment for segment in outer if isinstance(segment, Arc) and segment.sweep > 0]
    discs, bows = [], []
    for (*center, radius), arcs in _circles(convex).items():
        if _inside((center[0], center[1]), radius, arcs, points):
            discs.append((center[0], center[1], radius))
        else:
            bows += arcs
    corners = [point for point in points if not any(_on(disc, point) for disc in discs)]
    found = [*((y, z, 0.0) for y, z in _chain(corners)), *discs]
    paired = None if bows else _paired(found, section)
    return HullDiscs(_by_radius(paired or found), _middle(section) if paired else None, tuple(bows))


def _circles(arcs: Iterable[Arc]) -> dict[Disc, list[Arc]]:
    """Arcs by the circle they lie on."""
    found: dict[Disc, list[Arc]] = {}
    for arc in arcs:
        same = (disc for disc in found if _near(disc, (*arc.center, arc.radius)))
        found.setdefault(next(same, (*arc.center, arc.radius)), []).append(arc)
    return found


def _near(one: Disc, other: Disc) -> bool:
    return max(abs(a - b) for a, b in zip(one, other, strict=True)) <= _ONE


def _inside(center: Point, radius: float, arcs: Iterable[Arc], points: Iterable[Point]) -> bool:
    """Whether the whole disc reaches no further than arcs and points do: each is as far in the directions that lie
    within acos(radius / distance) of its own, and together these leave no gap."""
    seen = [(arc.begin, arc.finish) for arc in arcs]
    for y, z in points:
        away = hypot(y - center[0], z - center[1])
        if away > radius:
            angle, reach = atan2(z - center[1], y - center[0]), acos(radius / away)
            seen.append((angle - reach, angle + reach))
    first = seen[0][0]
    until = first
    for begin, end in sorted(((begin - first) % (2 * pi), end - begin) for begin, end in [*seen, *seen]):
        begin = 0.0 if 2 * pi - begin <= _GAP else begin
        if begin + first > until + _GAP:
            return False
        until = max(until, first + begin + end)
    return until >= first + 2 * pi - _GAP


_GAP: Final = 1e3 * SAME_ANGLE
"""radians. Directions closer than this leave no gap: a disc stands out between them by its radius times the square."""


def _on(disc: Disc, point: Point) -> bool:
    return hypot(point[0] - disc[0], point[1] - disc[1]) <= disc[2] + _ONE


def _chain(points: list[Point]) -> list[Point]:
    """The corners of the convex hull of points, counter-clockwise from the leftmost."""
    ordered = sorted(points, key=lambda point: (round(point[0], _DIGITS), point[1]))
    if len(ordered) < 3:
        return ordered
    return [*_half_chain(ordered), *_half_chain(ordered[::-1])]


def _half_chain(ordered: Iterable[Point]) -> list[Point]:
    chain: list[Point] = []
    for point in ordered:
        while len(chain) > 1 and _turn(chain[-2], chain[-1], point) <= 0.0:
            chain.pop()
        chain.append(point)
    return chain[:-1]


def _turn(a: Point, b: Point, c: Point) -> float:
    """How far b stands out to the right of the line from a to c, mm; 0 where that is rounding."""
    across = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
    out = across / hypot(c[0] - a[0], c[1] - a[1])
    return out if out > _ONE else 0.0


def _middle(section: Section) -> Point:
    return section.width / 2, section.height / 2


def _paired(discs: list[Disc], section: Section) -> list[Disc] | None:
    """One disc of each pair that half a turn about the middle maps onto each other, from the middle; or None."""
    middle, halves = _middle(section), []
    rest = [(y - middle[0], z - middle[1], radius) for y, z, radius in discs]
    while rest:
        disc = rest.pop()
        halves.append(disc)
        if hypot(disc[0], disc[1]) <= _ONE:
            continue
        other = next((one for one in rest if _near(one, (-disc[0], -disc[1], disc[2]))), None)
        if other is None:
            return None
        rest.remove(other)
    return halves


def _by_radius(discs: list[Disc]) -> tuple[tuple[float, tuple[Point, ...]], ...]:
    ordered = sorted(discs, key=lambda disc: disc[2])
    groups: Iterator[tuple[float, Iterator[Disc]]] = groupby(ordered, key=lambda disc: disc[2])
    return tuple((radius, tuple((y, z) for y, z, _ in group)) for radius, group in groups)
