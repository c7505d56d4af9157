"""Walls on the blade, followed from stretch to stretch of its travel; knows travel."""

from __future__ import annotations

from collections.abc import Iterator
from math import copysign, cos, pi, sin
from typing import Final

import attrs

from mitertool.base.tolerances import COINCIDENT
from mitertool.geometry import Arc, Point, Region, Segment
from mitertool.saw.numeric import least_near, places
from mitertool.saw.travel import Crossing, Stretch, Travel

Pair = tuple[Crossing, Crossing]
Part = tuple[Stretch, Pair]

_LIKE: Final = 1e-9
"""mm. Lengths that differ by less are one, up to rounding."""

_STEADY: Final = 1e-3
"""Share of the travel over which a length must stay as it is to be a wall's own, not a moment of its growing."""

_EVEN: Final = 1e-6
"""mm. A length that differs by less from part to part goes on evenly: limits by two forms agree to rounding."""

_STRAIGHT: Final = 1e-9
"""Sine of a turn. Less is a line that goes straight on, up to rounding."""


@attrs.frozen
class Wall:
    """One run of material on the edge, from low positions up, until it ends, parts or joins.

    `free_below` and `free_above` say that nothing lies beyond its ends.
    """

    parts: tuple[Part, ...]
    free_below: bool
    free_above: bool = False


def thinnest_wall(travel: Travel) -> float:
    """The least length of any wall on the edge, mm, the tangent by which the blade enters or leaves left out.

    A solid bar has only its largest contact.
    """
    if _solid(travel.region):
        return travel.largest
    found = [least for wall in walls(travel) if (least := _least(travel, wall)) is not None]
    return min(found, default=travel.largest)


def _solid(region: Region) -> bool:
    """Whether the outline has no hole and never turns inward."""
    for loop in region.loops:
        pairs = zip(loop, loop[1:] + loop[:1], strict=True)
        ways = [(_heading(one, False), _heading(after, True)) for one, after in pairs]
        if any(isinstance(s, Arc) and s.sweep < 0 for s in loop) or any(_inward(*way) for way in ways):
            return False
        if sum(segment.area_term() for segment in loop) < 0:
            return False
    return True


def _heading(segment: Segment, at_start: bool) -> Point:
    """The direction in which a segment is walked at its start or end, of length 1."""
    if isinstance(segment, Arc):
        angle = (segment.begin if at_start else segment.finish) + copysign(pi / 2, segment.sweep)
        return (cos(angle), sin(angle))
    (y0, z0), (y1, z1) = segment.start, segment.end
    return ((y1 - y0) / segment.length, (z1 - z0) / segment.length)


def _inward(before: Point, after: Point) -> bool:
    return before[0] * after[1] - before[1] * after[0] < -_STRAIGHT


def walls(travel: Travel) -> Iterator[Wall]:
    """Every wall of the travel, from low positions up."""
    growing: list[Wall] = []
    for stretch in travel.stretches:
        growing, ended = _continued(travel, growing, stretch)
        yield from ended
    yield from (attrs.evolve(wall, free_above=True) for wall in growing)


def _continued(travel: Travel, growing: list[Wall], stretch: Stretch) -> tuple[list[Wall], list[Wall]]:
    """Walls as they stand in `stretch`, and those that ended below it."""
    pairs = stretch.pairs
    above = [[j for j, pair in enumerate(pairs) if _meet(travel, wall, (stretch, pair))] for wall in growing]
    standing: list[Wall] = []
    for j, pair in enumerate(pairs):
        below = [i for i, met in enumerate(above) if j in met]
        one = growing[below[0]] if len(below) == 1 and len(above[below[0]]) == 1 else None
        part = (stretch, pair)
        standing.append(Wall((*one.parts, part), one.free_below) if one else Wall((part,), not below))
    gone_on = {i for i, met in enumerate(above) if len(met) == 1 and sum(met[0] in other for other in above) == 1}
    ended = [attrs.evolve(wall, free_above=not above[i]) for i, wall in enumerate(growing) if i not in gone_on]
    return standing, ended


def _meet(travel: Travel, wall: Wall, upper: Part) -> bool:
    (low_0, high_0), (low_1, high_1) = _span(travel, wall.parts[-1], upper[0].low), _span(travel, upper, upper[0].low)
    return min(high_0, high_1) - max(low_0, low_1) > COINCIDENT


def _span(travel: Travel, part: Part, position: float) -> tuple[float, float]:
    line = travel.line(position)
    start, end = (line.along(crossing.point(line)) for crossing in part[1])
    return start, end


def _least(travel: Travel, wall: Wall) -> float | None:
    """The wall's least local length: where it is waisted, steady, parts or joins; None where it is only a tip.

    Where the blade enters or leaves counts only for a wall that is nowhere waisted or steady, and never where it is
    nothing.
    """
    parts = list(wall.parts)
    while wall.free_below and parts and _rounded(parts[0]):
        parts.pop(0)
    while wall.free_above and parts and _rounded(parts[-1]):
        parts.pop()
    looks, values = _looks(travel, parts)
    if not looks:
        return None
    runs = _runs(values)
    found = [_closer(travel, looks, values, i) for i, _ in _waists(runs, values)]
    found += [values[i] for i, j in runs if looks[j][1] - looks[i][1] > _STEADY * travel.length]
    ends = [(values[0], wall.free_below), (values[-1], wall.free_above)]
    found += [value for value, free in ends if value > COINCIDENT and not (free and found)]
    return min(found, default=None)


def _runs(values: list[float]) -> list[tuple[int, int]]:
    """From index to index of values that stay as they are."""
    runs = [(0, 0)]
    for i, value in enumerate(values):
        start, _ = runs[-1]
        if abs(value - values[start]) <= _LIKE:
            runs[-1] = (start, i)
        else:
            runs.append((i, i))
    return runs


def _waists(runs: list[tuple[int, int]], values: list[float]) -> list[tuple[int, int]]:
    """Runs with longer walls on both sides."""
    return [
        here
        for before, here, after in zip(runs, runs[1:], runs[2:], strict=False)
        if values[before[0]] > values[here[0]] < values[after[0]]
    ]


def _closer(travel: Travel, looks: list[tuple[Part, float]], values: list[float], i: int) -> float:
    """The least length near a look, within its part."""
    part = looks[i][0]
    near = [k for k in (i - 1, i, i + 1) if looks[k][0] is part]
    at, here = [looks[k][1] for k in near], [values[k] for k in near]
    return least_near(lambda x: _length(travel, part, x), at, here)[0]


def _lengths(travel: Travel, part: Part) -> list[tuple[float, float]]:
    """Places over a part and its lengths there, crowded toward its ends, but not so near that nothing changes."""
    stretch, pair = part
    looked, i = travel.looked[travel.stretches.index(stretch)], stretch.pairs.index(pair)
    found = [(x, at[i][1] - at[i][0]) for x, at in zip(places(stretch.low, stretch.high), looked, strict=True)]
    return [found[0], *found[2:-2], found[-1]]


def _looks(travel: Travel, parts: list[Part]) -> tuple[list[tuple[Part, float]], list[float]]:
    """Places over the parts and the lengths there; where one part goes on evenly from another, their meeting once."""
    looks: list[tuple[Part, float]] = []
    values: list[float] = []
    for part in parts:
        for i, (x, value) in enumerate(_lengths(travel, part)):
            if i or not values or abs(value - values[-1]) > _EVEN:
                looks.append((part, x))
                values.append(value)
    return looks, values


def _rounded(part: Part) -> bool:
    return any(crossing.rounded for crossing in part[1])


def _length(travel: Travel, part: Part, position: float) -> float:
    start, end = _span(travel, part, position)
    return end - start
