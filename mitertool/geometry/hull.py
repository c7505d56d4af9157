"""How far a region reaches: its hull as corners and discs, which does not change with the direction; knows segments."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby
from math import acos, atan2, hypot, inf, pi
from typing import Final

import attrs

from mitertool.base.tolerances import SAME_ANGLE
from mitertool.base.totals import summed
from mitertool.geometry.segments import Arc, Point, Segment

Disc = tuple[float, float, float]
"""Center (y, z) and radius, mm; a corner is a disc of radius 0."""

_MANY: Final = 200
"""Arcs above which each is asked for itself: to look which of them share a disc takes every pair."""

_ONE: Final = 1e-10
"""mm. Rounding of an outline turned in its lay; corners and centers closer than this are one here, which moves a reach
by no more."""

_DIGITS: Final = 10
"""Decimals of mm by which corners above each other are told from corners beside each other."""


@attrs.frozen
class HullDiscs:
    """The corners and discs whose hull is that of a region, by radius.

    Of a hull that half a turn about `center` maps onto itself one disc of each pair stands in `discs`, as seen from the
    center. `bows` are arcs whose whole discs would reach further than the region does.
    """

    discs: tuple[tuple[float, tuple[Point, ...]], ...]
    center: Point | None
    bows: tuple[Arc, ...]

    def furthest(self, p: float, q: float) -> float:
        """Largest p*y + q*z over the region."""
        if self.center is not None:
            return self.center[0] * p + self.center[1] * q + self._half(p, q)
        size, furthest = hypot(p, q), -inf
        for radius, points in self.discs:
            furthest = max(furthest, radius * size + max([y * p + z * q for y, z in points]))
        for arc in self.bows:
            reach = p * arc.center[0] + q * arc.center[1] + arc.radius * size
            if reach > furthest and arc.faces(atan2(q, p)):
                furthest = reach
        return furthest

    def extent(self, p: float, q: float) -> float:
        """Largest less smallest p*y + q*z over the region."""
        return self.furthest(p, q) + self.furthest(-p, -q) if self.center is None else 2 * self._half(p, q)

    def _half(self, p: float, q: float) -> float:
        """How far the discs reach from the center, to either side."""
        far = -inf
        for radius, points in self.discs:
            reach = max([abs(y * p + z * q) for y, z in points])
            if radius:
                reach += radius * hypot(p, q)
            if reach > far:
                far = reach
        return far


def hull_of(loops: Iterable[Sequence[Segment]]) -> HullDiscs:
    """The hull of a region by its loops; no hole reaches further than the loop about it."""
    outer = [segment for loop in loops if summed(s.area_term() for s in loop) > 0 for segment in loop]
    points = list(dict.fromkeys(point for segment in outer for point in (segment.start, segment.end)))
    convex = [segment for segment in outer if isinstance(segment, Arc) and segment.sweep > 0]
    discs, bows = [], list(convex) if len(convex) > _MANY else []
    for (*center, radius), arcs in _circles(() if bows else convex).items():
        if _inside((center[0], center[1]), radius, arcs, points):
            discs.append((center[0], center[1], radius))
        else:
            bows += arcs
    corners = [point for point in points if not any(_on(disc, point) for disc in discs)]
    found = [*((y, z, 0.0) for y, z in _chain(corners)), *discs]
    middle = _middle(found) if found and not bows else None
    paired = _paired(found, middle) if middle else None
    return HullDiscs(_by_radius(paired or found), middle if paired else None, tuple(bows))


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


def _middle(discs: Sequence[Disc]) -> Point:
    """The middle of the box about discs."""
    sides = (min(d[i] - d[2] for d in discs) + max(d[i] + d[2] for d in discs) for i in (0, 1))
    y, z = (side / 2 for side in sides)
    return y, z


def _paired(discs: list[Disc], middle: Point) -> list[Disc] | None:
    """One disc of each pair that half a turn about the middle maps onto each other, from the middle; or None."""
    halves: list[Disc] = []
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
