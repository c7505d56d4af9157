"""Walls on the blade, followed from stretch to stretch of its travel; knows the passage."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import copysign, cos, pi, sin
from typing import Final

import attrs

from mitertool.base.tolerances import COINCIDENT
from mitertool.base.totals import summed
from mitertool.cut.blade.numeric import least_near
from mitertool.cut.blade.passage import Crossing, Passage, Sampled
from mitertool.geometry import Arc, Point, Region, Segment

Part = tuple[Sampled, int]
"""A stretch of the passage, and which of the walls on the edge there."""

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


def thinnest_wall(passage: Passage) -> float:
    """The least length of any wall on the edge, mm, the tangent by which the blade enters or leaves left out.

    A solid bar has only its largest contact.
    """
    if _solid(passage.region):
        return passage.largest
    found = [least for wall in walls(passage) if (least := _least(passage, wall)) is not None]
    return min(found, default=passage.largest)


def _solid(region: Region) -> bool:
    """Whether the outline has no hole and never turns inward."""
    for loop in region.loops:
        pairs = zip(loop, loop[1:] + loop[:1], strict=True)
        ways = [(_heading(one, False), _heading(after, True)) for one, after in pairs]
        if any(isinstance(s, Arc) and s.sweep < 0 for s in loop) or any(_inward(*way) for way in ways):
            return False
        if summed(segment.area_term() for segment in loop) < 0:
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


def walls(passage: Passage) -> Iterator[Wall]:
    """Every wall of the passage, from low positions up."""
    growing: list[Wall] = []
    for sampled in passage.sampled:
        growing, ended = _continued(growing, sampled)
        yield from ended
    yield from (attrs.evolve(wall, free_above=True) for wall in growing)


def _continued(growing: list[Wall], sampled: Sampled) -> tuple[list[Wall], list[Wall]]:
    """Walls as they stand in a stretch, and those that ended below it."""
    here = range(len(sampled.stretch.pairs))
    above = [[j for j in here if _meet(wall, (sampled, j))] for wall in growing]
    standing: list[Wall] = []
    for j in here:
        below = [i for i, met in enumerate(above) if j in met]
        one = growing[below[0]] if len(below) == 1 and len(above[below[0]]) == 1 else None
        part = (sampled, j)
        standing.append(Wall((*one.parts, part), one.free_below) if one else Wall((part,), not below))
    gone_on = {i for i, met in enumerate(above) if len(met) == 1 and sum(met[0] in other for other in above) == 1}
    ended = [attrs.evolve(wall, free_above=not above[i]) for i, wall in enumerate(growing) if i not in gone_on]
    return standing, ended


def _meet(wall: Wall, upper: Part) -> bool:
    (below, i), (above, j) = wall.parts[-1], upper
    (low_0, high_0), (low_1, high_1) = below.walls[-1][i], above.walls[0][j]
    return min(high_0, high_1) - max(low_0, low_1) > COINCIDENT


def _pair(part: Part) -> tuple[Crossing, Crossing]:
    sampled, number = part
    return sampled.stretch.pairs[number]


def _least(passage: Passage, wall: Wall) -> float | None:
    """The wall's least local length: where it is waisted, steady, parts or joins; None where it is only a tip.

    Where the blade enters or leaves counts only for a wall that is nowhere waisted or steady, and never where it is
    nothing.
    """
    parts = list(wall.parts)
    while wall.free_below and parts and _rounded(parts[0]):
        parts.pop(0)
    while wall.free_above and parts and _rounded(parts[-1]):
        parts.pop()
    samples, values = _samples(parts)
    if not samples:
        return None
    runs = _runs(values)
    found = [_closer(passage, samples, values, i) for i, _ in _waists(runs, values)]
    found += [values[i] for i, j in runs if samples[j][1] - samples[i][1] > _STEADY * passage.length]
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


def _closer(passage: Passage, samples: list[tuple[Part, float]], values: list[float], i: int) -> float:
    """The least length near a sample, within its part."""
    part = samples[i][0]
    near = [k for k in (i - 1, i, i + 1) if samples[k][0] is part]
    at, here = [samples[k][1] for k in near], [values[k] for k in near]
    return least_near(lambda x: _length(passage, part, x), at, here)[0]


def _lengths(part: Part) -> tuple[list[float], list[float]]:
    """Places over a part and its lengths there, crowded toward its ends, but not so near that nothing changes."""
    sampled, number = part
    pairs = [walls[number] for walls in sampled.walls]
    return _thinned(sampled.positions), _thinned([high - low for low, high in pairs])


def _thinned(values: Sequence[float]) -> list[float]:
    return [values[0], *values[2:-2], values[-1]]


def _samples(parts: list[Part]) -> tuple[list[tuple[Part, float]], list[float]]:
    """Places over the parts and the lengths there; where one part goes on evenly from another, their meeting once."""
    samples: list[tuple[Part, float]] = []
    values: list[float] = []
    for part in parts:
        places, lengths = _lengths(part)
        begin = int(bool(values) and abs(lengths[0] - values[-1]) <= _EVEN)
        samples += [(part, x) for x in places[begin:]]
        values += lengths[begin:]
    return samples, values


def _rounded(part: Part) -> bool:
    return any(crossing.rounded for crossing in _pair(part))


def _length(passage: Passage, part: Part, position: float) -> float:
    line = passage.line(position)
    start, end = (line.along(crossing.point(line)) for crossing in _pair(part))
    return end - start
