"""What the blade meets on its way through a section: contact, walls, area cut, load; knows the blade plane.

The travel is parted where the edge passes an end or a tangent of the outline. Between two such positions the edge
crosses the same lines and arcs, so lengths there are closed forms, and at the ends they are limits by the same forms.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator, Sequence
from functools import cached_property
from math import atan2, hypot, sqrt
from typing import Final

import attrs

from mitertool.geometry import Arc, Line, Point, Region
from mitertool.saw.numeric import crossings, extremes, integral, integral_of, nodes, places
from mitertool.saw.plane import BladePlane, Path, SectionLine, turning_point

_SAME: Final = 1e-10
"""Share of the first touch's position. Positions closer than this are one: rounding of one level wall's two ends."""


Walls = tuple[tuple[float, float], ...]
"""The walls on the edge, each from w to w along it."""


@attrs.frozen
class Crossing:
    """A line of the outline, or one side (1 or -1) of an arc, that the edge crosses."""

    segment: Line | Arc
    branch: int = 0

    @property
    def rounded(self) -> bool:
        """Whether it is an arc."""
        return self.branch != 0

    def point(self, line: SectionLine) -> Point:
        """Where the edge crosses it, (y, z); the nearest end where it does not quite."""
        segment = self.segment
        if isinstance(segment, Arc):
            return _on_circle(segment, line, self.branch)
        (y0, z0), (y1, z1), (ny, nz, c, *_) = segment.start, segment.end, line
        before, after = ny * y0 + nz * z0 - c, ny * y1 + nz * z1 - c
        share = before / (before - after) if before != after else 0.5
        share = 0.0 if share < 0.0 else 1.0 if share > 1.0 else share
        return (y0 + share * (y1 - y0), z0 + share * (z1 - z0))


def _on_circle(arc: Arc, line: SectionLine, branch: int) -> Point:
    size = hypot(line.ny, line.nz)
    ny, nz = line.ny / size, line.nz / size
    out = -line.above(arc.center) / size
    half = branch * sqrt(max(0.0, arc.radius**2 - out * out))
    return (arc.center[0] + out * ny + half * nz, arc.center[1] + out * nz - half * ny)


@attrs.frozen
class Stretch:
    """A part of the travel, position `low` to `high`, with what the edge crosses there in order along it."""

    low: float
    high: float
    crossings: tuple[Crossing, ...]

    @property
    def pairs(self) -> tuple[tuple[Crossing, Crossing], ...]:
        """Where each wall on the edge begins and ends."""
        return tuple(zip(self.crossings[::2], self.crossings[1::2], strict=True))


@attrs.frozen
class Jump:
    """Where the load changes at once: the position, and the contact before and after as the blade comes down, mm."""

    position: float
    before: float
    after: float


@attrs.frozen
class Sample:
    """One point of the chart of load against travel: position, contact (mm) and number of walls."""

    position: float
    contact: float
    walls: int


@attrs.frozen
class Travel:
    """The way of the blade through a section, in degrees or mm above rest; it begins at the first touch."""

    region: Region
    plane: BladePlane
    path: Path

    @cached_property
    def first_touch(self) -> float:
        """The highest position at which the edge touches the section."""
        return turning_point(self.path, self.plane, self.region.support_point, 1)

    @cached_property
    def through(self) -> float:
        """The position at which the edge leaves the section."""
        return turning_point(self.path, self.plane, self.region.support_point, -1)

    @property
    def length(self) -> float:
        """From first touch to through."""
        return self.first_touch - self.through

    def line(self, position: float) -> SectionLine:
        """The edge at a position, over the section."""
        return self.path.edge(position).seen_from(self.plane)

    def spans(self, stretch: Stretch, position: float) -> Walls:
        """The walls on the edge, from w to w, by the stretch's own forms."""
        line = self.line(position)
        ws = [line.along(crossing.point(line)) for crossing in stretch.crossings]
        return tuple(zip(ws[::2], ws[1::2], strict=True))

    @cached_property
    def looked(self) -> tuple[tuple[Walls, ...], ...]:
        """For each stretch the walls at its `places`."""
        return tuple(tuple(self.spans(s, x) for x in places(s.low, s.high)) for s in self.stretches)

    @cached_property
    def _at_nodes(self) -> tuple[tuple[Walls, ...], ...]:
        """For each stretch the walls at its `nodes`."""
        return tuple(tuple(self.spans(s, x) for x in nodes(s.low, s.high)) for s in self.stretches)

    def contact_in(self, stretch: Stretch, position: float) -> float:
        """Length of material on the edge, by the stretch's own forms, mm."""
        return _length(self.spans(stretch, position))

    def swept_in(self, stretch: Stretch, position: float) -> float:
        """Area cut for a unit of travel, mm2, by the stretch's own forms."""
        return self._swept(self.spans(stretch, position))

    def _swept(self, walls: Walls) -> float:
        return sum(self.path.swept(a, b) for a, b in walls)

    @cached_property
    def stretches(self) -> tuple[Stretch, ...]:
        """The travel from `through` up to the first touch."""
        return tuple(_stretch(self, low, high) for low, high in itertools.pairwise(_events(self)))

    def at(self, position: float) -> tuple[Stretch, ...]:
        """The stretches that hold a position: one, two where they meet, none outside the travel."""
        return tuple(s for s in self.stretches if s.low <= position <= s.high)

    def contact(self, position: float) -> float:
        """Length of material on the edge at a position, the longer one at a jump, mm."""
        return max((self.contact_in(stretch, position) for stretch in self.at(position)), default=0.0)

    def walls(self, position: float) -> int:
        """How many walls the edge is in, the fewer where walls part or join."""
        return min((len(stretch.pairs) for stretch in self.at(position)), default=0)

    @cached_property
    def _extremes(self) -> tuple[tuple[float, float], tuple[float, float]]:
        """(contact, position) where it is least and where it is largest."""
        found = [
            extremes(self._contact_of(stretch), places(stretch.low, stretch.high), list(map(_length, looked)))
            for stretch, looked in zip(self.stretches, self.looked, strict=True)
        ]
        return min(low for low, _ in found), max(high for _, high in found)

    def _contact_of(self, stretch: Stretch) -> Callable[[float], float]:
        return lambda position: self.contact_in(stretch, position)

    @property
    def largest(self) -> float:
        """The largest contact, a limit from inside the material, mm."""
        return self._extremes[1][0]

    @property
    def smallest(self) -> float:
        """The least contact on the way, 0 where the blade enters or leaves at nothing, mm."""
        return self._extremes[0][0]

    @cached_property
    def mean(self) -> float:
        """The contact averaged over the travel, mm."""
        parts = zip(self.stretches, self._at_nodes, strict=True)
        total = sum(integral_of(map(_length, walls), s.low, s.high) for s, walls in parts)
        return total / self.length

    @cached_property
    def area(self) -> float:
        """Area cut over the whole travel, mm2: the face."""
        return self.cut_between(self.through, self.first_touch)

    def cut_between(self, low: float, high: float) -> float:
        """Area cut between two positions, mm2."""
        parts = [(s, max(low, s.low), min(high, s.high)) for s in self.stretches]
        return sum(integral(self._swept_of(s), a, b) for s, a, b in parts if a < b)

    def _swept_of(self, stretch: Stretch) -> Callable[[float], float]:
        return lambda position: self.swept_in(stretch, position)

    @cached_property
    def jumps(self) -> tuple[Jump, ...]:
        """Where the contact changes at once, in the order in which the blade meets them."""
        down = self.stretches[::-1]
        befores = [0.0, *(self.contact_in(s, s.low) for s in down)]
        afters = [*(self.contact_in(s, s.high) for s in down), 0.0]
        positions = [down[0].high, *(s.low for s in down)]
        found = itertools.starmap(Jump, zip(positions, befores, afters, strict=True))
        return tuple(jump for jump in found if abs(jump.after - jump.before) > _JUMP)

    def samples(self, count: int = 8) -> tuple[Sample, ...]:
        """The chart of the load as the blade comes down: `count` steps to each stretch, both limits at a jump."""
        return tuple(
            Sample(position, self.contact_in(stretch, position), len(stretch.pairs))
            for stretch in self.stretches[::-1]
            for position in _steps(stretch, count)
        )

    def minutes(self, area_rate: float | None, descent: float | None) -> float | None:
        """How long the cut takes where neither rate (mm2/min) nor descent (mm/min over the axis) is passed.

        None where neither is given.
        """
        if area_rate is None and descent is None:
            return None
        parts = zip(self.stretches, self.looked, self._at_nodes, strict=True)
        return sum(self._minutes_in(*part, area_rate, descent) for part in parts)

    def _minutes_in(
        self,
        stretch: Stretch,
        looked: Sequence[Walls],
        at_nodes: Sequence[Walls],
        area_rate: float | None,
        descent: float | None,
    ) -> float:
        def by_area(walls: Walls) -> float:
            return self._swept(walls) / area_rate if area_rate else 0.0

        def by_descent(position: float) -> float:
            return self.path.lowering(position) / descent if descent else 0.0

        def slower(position: float) -> float:
            return by_area(self.spans(stretch, position)) - by_descent(position)

        low, high = stretch.low, stretch.high
        at = places(low, high)
        turns = crossings(slower, at, [by_area(walls) - by_descent(x) for walls, x in zip(looked, at, strict=True)])
        if not turns:
            both = zip(at_nodes, nodes(low, high), strict=True)
            return integral_of((max(by_area(walls), by_descent(x)) for walls, x in both), low, high)
        parts = itertools.pairwise((low, *turns, high))
        return sum(integral(lambda x: max(by_area(self.spans(stretch, x)), by_descent(x)), a, b) for a, b in parts)


def _length(walls: Walls) -> float:
    return sum(b - a for a, b in walls)


_JUMP: Final = 1e-4
"""mm. A contact that changes by less changes steadily: at a tangent it is the root of rounding, some 1e-6 mm."""


def _steps(stretch: Stretch, count: int) -> Iterator[float]:
    for i in range(count + 1):
        yield stretch.high + (stretch.low - stretch.high) * i / count


def _events(travel: Travel) -> list[float]:
    """Positions at which the edge passes an end or a tangent of the outline, from `through` to the first touch."""
    path, plane = travel.path, travel.plane
    low, high = travel.through, travel.first_touch
    found = [path.position(*plane.at(segment.start)) for segment in travel.region.segments]
    circles = {(s.center, s.radius): s for s in travel.region.segments if isinstance(s, Arc)}
    found += [turning_point(path, plane, _circle(arc), side) for arc in circles.values() for side in (1, -1)]
    return _distinct([low, *sorted(x for x in found if low < x < high), high], _SAME * max(1.0, abs(high)))


def _distinct(ordered: Sequence[float], apart: float) -> list[float]:
    kept = [ordered[0]]
    for position in ordered[1:-1]:
        if position - kept[-1] > apart and ordered[-1] - position > apart:
            kept.append(position)
    return [*kept, ordered[-1]]


def _circle(arc: Arc) -> Callable[[float, float], Point]:
    return lambda p, q: arc.at(atan2(q, p))


def _stretch(travel: Travel, low: float, high: float) -> Stretch:
    line = travel.line((low + high) / 2)
    found = [c for segment in travel.region.segments for c in _crossings(segment, line)]
    found.sort(key=lambda crossing: line.along(crossing.point(line)))
    return Stretch(low, high, tuple(found))


def _crossings(segment: Line | Arc, line: SectionLine) -> Iterator[Crossing]:
    if isinstance(segment, Line):
        if (line.above(segment.start) > 0) != (line.above(segment.end) > 0):
            yield Crossing(segment)
        return
    if abs(line.above(segment.center)) >= segment.radius * hypot(line.ny, line.nz):
        return
    for branch in (1, -1):
        y, z = _on_circle(segment, line, branch)
        if segment.faces(atan2(z - segment.center[1], y - segment.center[0])):
            yield Crossing(segment, branch)
