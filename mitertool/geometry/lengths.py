"""The outlines of a region by direction of lines and angle of arcs, and how long they are in a plane; knows segments.

Lines of one direction stretch alike in every plane, and so do arcs that stand half a turn apart: what is added up so
is far less than the segments, and it does not change with the plane.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import accumulate
from math import atan2, hypot, pi, sqrt

import attrs

from mitertool.base.tolerances import SAME_ANGLE
from mitertool.base.totals import summed
from mitertool.geometry.elliptic import oblique_arc, whole_ellipse
from mitertool.geometry.segments import Arc, Line, Point, Segment


@attrs.frozen
class OutlineLengths:
    """All outlines of a region, mm: lines `across` the bed and `up` it, lines of other directions as vectors of their
    length, `round` the radius of whole circles, `arcs` as (begin, sweep, radius) of what is left, angles in radians.

    Arcs that stand half a turn apart show alike in every plane, so they are added by their angles within half a turn.
    """

    across: float
    up: float
    slanting: tuple[Point, ...]
    round: float
    arcs: tuple[tuple[float, float, float], ...]

    def length(self, p: float, q: float) -> float:
        """As they lie in the plane x = p*y + q*z, mm."""
        total = self.across * sqrt(1 + p * p) + self.up * sqrt(1 + q * q)
        for dy, dz in self.slanting:
            total += hypot(dy, dz, dy * p + dz * q)
        if self.round:
            total += self.round * whole_ellipse(sqrt(1 + p * p + q * q))
        for begin, sweep, radius in self.arcs:
            total += radius * oblique_arc(p, q, begin, begin + sweep)
        return total


def outline_lengths(segments: Iterable[Segment]) -> OutlineLengths:
    """What segments add up to."""
    kept = tuple(segments)
    lines = _directions(segment for segment in kept if isinstance(segment, Line))
    halves, arcs = _added(segment for segment in kept if isinstance(segment, Arc))
    return OutlineLengths(
        across=summed(y for y, z in lines if z == 0),
        up=summed(z for y, z in lines if y == 0),
        slanting=tuple((y, z) for y, z in lines if y and z),
        round=halves / 2,
        arcs=tuple(arcs),
    )


def _directions(lines: Iterable[Line]) -> list[Point]:
    """Lines of one direction as one vector, however they run."""
    steps = sorted(((atan2(z, y), y, z) for y, z in map(_step, lines)), key=lambda one: one[0])
    return [(y, z) for _, y, z in _merged(steps)]


def _step(line: Line) -> Point:
    """From one end to the other, to the right or straight up."""
    y, z = line.end[0] - line.start[0], line.end[1] - line.start[1]
    return (-y, -z) if y < 0 or (y == 0 and z < 0) else (y, z)


def _added(arcs: Iterable[Arc]) -> tuple[float, list[tuple[float, float, float]]]:
    """The radii of half circles, and what lies on them within half a turn as (begin, sweep, radius)."""
    ends: list[tuple[float, float]] = []
    halves = 0.0
    for arc in arcs:
        begin = min(arc.begin, arc.finish)
        for angle, radius in ((begin, arc.radius), (begin + abs(arc.sweep), -arc.radius)):
            turns = (angle + SAME_ANGLE) // pi
            halves -= turns * radius
            ends.append((max(angle - turns * pi, 0.0), radius))
    steps = _merged([(0.0, 0.0), *sorted(ends)])
    begins = [angle for angle, _ in steps]
    radii = accumulate(radius for _, radius in steps)
    cells = [(a, b - a, radius) for a, b, radius in zip(begins, [*begins[1:], pi], radii, strict=True)]
    base = _widest(cells)
    return halves + base, _joined([(a, s, r - base) for a, s, r in cells if s > SAME_ANGLE and not _same(r, base)])


def _merged(steps: Iterable[tuple[float, ...]]) -> list[tuple[float, ...]]:
    """Of steps in the order of their angles those of one angle as one, what stands behind the angle added up."""
    found: list[tuple[float, ...]] = []
    for angle, *values in steps:
        if found and angle - found[-1][0] <= SAME_ANGLE:
            first, *before = found[-1]
            found[-1] = (first, *(one + other for one, other in zip(before, values, strict=True)))
        else:
            found.append((angle, *values))
    return found


def _widest(cells: Iterable[tuple[float, float, float]]) -> float:
    """The radius that stands over most of the half turn, the smallest of equals."""
    wide: dict[float, float] = {}
    for _, sweep, radius in cells:
        same = next((one for one in wide if _same(one, radius)), radius)
        wide[same] = wide.get(same, 0.0) + sweep
    most = max(wide.values())
    return min(radius for radius, sweep in wide.items() if sweep >= most - SAME_ANGLE)


def _joined(cells: Iterable[tuple[float, float, float]]) -> list[tuple[float, float, float]]:
    found: list[tuple[float, float, float]] = []
    for begin, sweep, radius in cells:
        if found and _same(found[-1][2], radius) and begin - (found[-1][0] + found[-1][1]) <= SAME_ANGLE:
            found[-1] = (found[-1][0], found[-1][1] + sweep, radius)
        else:
            found.append((begin, sweep, radius))
    return found


def _same(one: float, other: float) -> bool:
    return abs(one - other) <= SAME_ANGLE * max(abs(one), abs(other), 1.0)
