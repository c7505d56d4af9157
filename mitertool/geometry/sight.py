"""What of a bar's outline is seen from one side: edges along the bar, the rim of an end; knows geometry only.

An outline is given in (a, u): `a` across the picture, `u` toward the eye, which is infinitely far away. What lies at
the top of the material over its `a` is seen, all else is hidden.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from itertools import groupby, pairwise
from math import acos, atan2, cos, inf, pi, radians, sin
from typing import Final

from mitertool.base.totals import summed
from mitertool.geometry import Arc, Line, Point, Region, Segment

_BESIDE: Final = 1e-6
"""mm. How far beside an edge the material is looked at: far below any detail of an outline, above rounding."""

_COVERED: Final = 1e-3
"""mm. What lies over a place by less does not cover it: a steep flank rises by less over `_BESIDE`."""

_SHARP: Final = radians(10)
"""A corner that bends by more is an edge; splines that came as short chords and tangent arcs bend by less."""

_ROUNDED: Final = radians(30)
"""A rounding that bends by more, without turning away from the eye, is told by a thin line along its middle."""

_EDGE_ON: Final = 1e-9
"""mm. A wall that leans by less is seen as one line."""

_OUTLINES: Final = 256
"""Outlines whose sight is kept: a job draws many pieces of few sections, each as it lies and from two sides."""

Edge = tuple[Point, Point, bool]
"""The line or wall between two places of one `a`, and whether it is seen."""


@lru_cache(maxsize=_OUTLINES)
def edges(region: Region) -> tuple[Edge, ...]:
    """Corners, walls seen edge-on, and where a rounding turns away from the eye."""
    places = _edge_places(region)
    return tuple((first, last, _seen(region, max(first, last, key=lambda place: place[1]))) for first, last in places)


@lru_cache(maxsize=_OUTLINES)
def roundings(region: Region) -> tuple[Point, ...]:
    """The middle of every rounding between two faces that are both seen, as the toe of a channel from above has."""
    return tuple(_roundings(region))


def _roundings(region: Region) -> Iterator[Point]:
    for segment in region.segments:
        if isinstance(segment, Arc) and abs(segment.sweep) > _ROUNDED:
            middle = _at(segment, 0.5)
            if not (segment.faces(0.0) or segment.faces(pi)) and _on_top(region, middle):
                yield middle


@lru_cache(maxsize=_OUTLINES)
def rim(region: Region, face: tuple[Segment, ...] | None = None) -> tuple[tuple[Segment, bool], ...]:
    """The outline of an end that is turned away from the eye, in parts that are seen or hidden as a whole.

    `face` is what of the region's outline the end has, all of it where it is not given.
    """
    return tuple(_rim(region, region.segments if face is None else face))


def _rim(region: Region, face: tuple[Segment, ...]) -> Iterator[tuple[Segment, bool]]:
    turns = _turns(region)
    for segment in map(_from_the_side, face):
        if _is_edge_on(segment):
            yield segment, _seen(region, _at(segment, 0.5))
            continue
        marks = sorted({0.0, 1.0, *_crossings(segment, turns)})
        spans = [(span, _on_top(region, _at(segment, summed(span) / 2))) for span in pairwise(marks)]
        for seen, run in groupby(spans, key=lambda found: found[1]):
            whole = [span for span, _ in run]
            yield _part(segment, whole[0][0], whole[-1][1]), seen


def _from_the_side(segment: Segment) -> Segment:
    """A whole circle begun where it turns away from the eye, so that its seen half is one part."""
    if isinstance(segment, Arc) and abs(segment.sweep) >= 2 * pi:
        return Arc(segment.center, segment.radius, 0.0, segment.sweep)
    return segment


def _edge_places(region: Region) -> Iterator[tuple[Point, Point]]:
    for loop in region.loops:
        for before, segment in zip((loop[-1], *loop[:-1]), loop, strict=True):
            if isinstance(segment, Arc):
                yield from ((segment.at(turn),) * 2 for turn in (0.0, pi) if segment.faces(turn))
            elif _is_edge_on(segment):
                yield segment.start, segment.end
            if _bend(before, segment) > _SHARP:
                yield segment.start, segment.start


def _bend(before: Segment, after: Segment) -> float:
    """By how much the outline bends from one segment to the next, radians."""
    turn = _heading(after, 0.0) - _heading(before, 1.0)
    return abs((turn + pi) % (2 * pi) - pi)


def _heading(segment: Segment, share: float) -> float:
    if isinstance(segment, Line):
        return atan2(segment.end[1] - segment.start[1], segment.end[0] - segment.start[0])
    return segment.begin + share * segment.sweep + (pi / 2 if segment.sweep > 0 else -pi / 2)


def _is_edge_on(segment: Segment) -> bool:
    return isinstance(segment, Line) and abs(segment.start[0] - segment.end[0]) < _EDGE_ON


def _seen(region: Region, place: Point) -> bool:
    """Whether an edge is free on one of its sides."""
    a, u = place
    return u > min(_top(region, a - _BESIDE), _top(region, a + _BESIDE)) - _COVERED


def _on_top(region: Region, place: Point) -> bool:
    return place[1] > _top(region, place[0]) - _COVERED


def _top(region: Region, a: float) -> float:
    """The highest material over `a`; minus infinity where there is none."""
    heights = [_at(segment, share)[1] for segment in region.segments for share in _crossings(segment, (a,), 0.0)]
    return max(heights, default=-inf)


def _turns(region: Region) -> tuple[float, ...]:
    """Every `a` at which another segment may come to lie on top."""
    ends = [end[0] for segment in region.segments for end in (segment.start, segment.end)]
    arcs = [segment for segment in region.segments if isinstance(segment, Arc)]
    return (*ends, *(arc.at(turn)[0] for arc in arcs for turn in (0.0, pi) if arc.faces(turn)))


def _crossings(segment: Segment, levels: tuple[float, ...], inside: float = 1e-9) -> Iterator[float]:
    """The shares of the segment at which it crosses one of the `levels` of `a`, by `inside` away from its ends."""
    for level in levels:
        for share in _shares(segment, level):
            if inside <= share <= 1 - inside:
                yield share


def _shares(segment: Segment, level: float) -> Iterator[float]:
    if isinstance(segment, Line):
        run = segment.end[0] - segment.start[0]
        if abs(run) >= _EDGE_ON:
            yield (level - segment.start[0]) / run
        return
    across = (level - segment.center[0]) / segment.radius
    if abs(across) <= 1:
        way = 1.0 if segment.sweep > 0 else -1.0
        for angle in (acos(across), -acos(across)):
            yield (way * (angle - segment.begin)) % (2 * pi) / abs(segment.sweep)


def _at(segment: Segment, share: float) -> Point:
    if isinstance(segment, Arc):
        angle = segment.begin + share * segment.sweep
        return (segment.center[0] + segment.radius * cos(angle), segment.center[1] + segment.radius * sin(angle))
    (a0, u0), (a1, u1) = segment.start, segment.end
    return (a0 + share * (a1 - a0), u0 + share * (u1 - u0))


def _part(segment: Segment, first: float, last: float) -> Segment:
    if (first, last) == (0.0, 1.0):
        return segment
    if isinstance(segment, Arc):
        begin = segment.begin + first * segment.sweep
        return Arc(segment.center, segment.radius, begin, (last - first) * segment.sweep)
    return Line(_at(segment, first), _at(segment, last))
