"""The part of a region on one side of a straight line, its arcs cut where the line crosses them; knows regions."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import acos, atan2, hypot, pi

import attrs

from mitertool.base.tolerances import COINCIDENT, CROSSING
from mitertool.geometry.region import Loop, Region
from mitertool.geometry.segments import Arc, Line, Point, Segment


def part_of(region: Region, p: float, q: float, most: float) -> Region:
    """The part of the region where p*y + q*z is at most `most`; without loops where it has none. p or q is not 0."""
    size = hypot(p, q)
    edge = _Edge(p / size, q / size, most / size)
    if region.support(p, q) <= most + COINCIDENT * size:
        return region
    if -region.support(-p, -q) >= most - COINCIDENT * size:
        return Region(())
    whole: list[Loop] = []
    chains: list[Loop] = []
    for loop in region.loops:
        for run in _inside(loop, edge):
            (whole if _closed(run) else chains).append(run)
    return Region((*whole, *_joined(chains, edge)))


@attrs.frozen
class _Edge:
    """The line a*y + b*z = c with (a, b) of length 1; what is kept lies below it, on its left."""

    a: float
    b: float
    c: float

    def above(self, point: Point) -> float:
        """How far a point lies outside, mm."""
        return self.a * point[0] + self.b * point[1] - self.c

    def along(self, point: Point) -> float:
        """Where a point lies along the line, mm."""
        return self.a * point[1] - self.b * point[0]

    def parts(self, segment: Segment) -> Iterator[Segment]:
        """The segment cut where the line crosses it."""
        shares = (0.0, *sorted(share for share in self._crossings(segment) if 0 < share < 1), 1.0)
        return (_between(segment, *ends) for ends in pairwise(shares)) if len(shares) > 2 else iter((segment,))

    def _crossings(self, segment: Segment) -> list[float]:
        """Shares of the segment's way at which it crosses the line."""
        if isinstance(segment, Line):
            start, end = self.above(segment.start), self.above(segment.end)
            return [start / (start - end)] if start * end < 0 else []
        cosine = -self.above(segment.center) / segment.radius
        if abs(cosine) >= 1:
            return []
        facing, half = atan2(self.b, self.a), acos(cosine)
        way = 1 if segment.sweep > 0 else -1
        return [
            (way * (angle - segment.begin) % (2 * pi)) / abs(segment.sweep) for angle in (facing - half, facing + half)
        ]


def _between(segment: Segment, first: float, last: float) -> Segment:
    """The stretch of a segment between two shares of its way."""
    if isinstance(segment, Arc):
        begin = segment.begin + first * segment.sweep
        return Arc(segment.center, segment.radius, begin, (last - first) * segment.sweep)
    (y, z), (v, w) = segment.start, segment.end
    places = ((y + share * (v - y), z + share * (w - z)) for share in (first, last))
    return Line(*places)


def _middle(segment: Segment) -> Point:
    if isinstance(segment, Arc):
        return segment.at(segment.begin + segment.sweep / 2)
    return ((segment.start[0] + segment.end[0]) / 2, (segment.start[1] + segment.end[1]) / 2)


def _inside(loop: Loop, edge: _Edge) -> Iterator[Loop]:
    """The runs of the loop that lie inside, each whole; a loop that is inside from end to end is one run."""
    parts = [part for segment in loop for part in edge.parts(segment)]
    kept = [edge.above(_middle(part)) < -CROSSING for part in parts]
    if all(kept):
        yield loop
        return
    first = kept.index(False)
    run: list[Segment] = []
    for i in (*range(first, len(parts)), *range(first + 1)):
        if kept[i]:
            run.append(parts[i])
        elif run:
            yield tuple(run)
            run = []


def _closed(run: Loop) -> bool:
    (y, z), (v, w) = run[-1].end, run[0].start
    return hypot(y - v, z - w) <= COINCIDENT


def _joined(chains: Sequence[Loop], edge: _Edge) -> Iterator[Loop]:
    """Loops of the runs: along the line each goes on to where the next one begins.

    Walked with the material on its left the line is within it from a run's end to the next beginning, so that the
    ends and the beginnings follow each other in turn along it.
    """
    ends = sorted(range(len(chains)), key=lambda i: edge.along(chains[i][-1].end))
    begins = sorted(range(len(chains)), key=lambda i: edge.along(chains[i][0].start))
    following = dict(zip(ends, begins, strict=True))
    while following:
        now = next(iter(following))
        loop: list[Segment] = []
        while now in following:
            after = following.pop(now)
            loop += chains[now]
            start, end = chains[now][-1].end, chains[after][0].start
            if hypot(end[0] - start[0], end[1] - start[1]) > COINCIDENT:
                loop.append(Line(start, end))
            now = after
        yield tuple(loop)
