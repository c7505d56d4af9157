"""What the blade meets on its way through a section: contact, walls, area cut, load, time; knows arm and blade plane.

The travel is parted where the edge passes an end or a tangent of the outline. Between two such positions the edge
crosses the same lines and arcs, so lengths there are closed forms, and at the ends they are limits by the same forms.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator, Sequence
from functools import cached_property
from math import atan2, hypot, inf, pi, remainder, sqrt
from typing import Final

import attrs

from mitertool.base.tolerances import COINCIDENT
from mitertool.base.totals import summed
from mitertool.cut.blade.arms import BladeArm, turning_point
from mitertool.cut.blade.numeric import crossings, crowded_to_ends, least_near
from mitertool.cut.blade.plane import BladePlane, SectionLine
from mitertool.geometry import Arc, Line, Point, Region

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

    def side(self, start: Point, end: Point, line: SectionLine) -> float:
        """The share of an area that its way from one point on it to another encloses, mm2.

        `line` is the edge at one of them: on an arc angles count from where the arc is furthest along it, so that they
        stay within a quarter or a little more on either side.
        """
        if not isinstance(self.segment, Arc):
            return Line(start, end).area_term()
        (cy, cz), r = self.segment.center, self.segment.radius
        furthest = atan2(-self.branch * line.ny, self.branch * line.nz)
        begin, finish = (remainder(atan2(z - cz, y - cy) - furthest, 2 * pi) for y, z in (start, end))
        return Arc((cy, cz), r, furthest + begin, finish - begin).area_term()


def _numbers(crossing: Crossing) -> tuple[float, float, float, float, float]:
    segment = crossing.segment
    if isinstance(segment, Arc):
        return (crossing.branch, *segment.center, segment.radius, 0.0)
    (y0, z0), (y1, z1) = segment.start, segment.end
    return 0.0, y0, z0, y1 - y0, z1 - z0


def _enclosed(pair: tuple[Crossing, Crossing], below: SectionLine, above: SectionLine) -> float:
    """Area of section between two edges and the two sides of a wall, mm2."""
    near, far = pair
    a, b, c, d = near.point(below), far.point(below), far.point(above), near.point(above)
    return abs(Line(a, b).area_term() + far.side(b, c, below) + Line(c, d).area_term() + near.side(d, a, below))


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

    @cached_property
    def _traced(self) -> tuple[tuple[float, ...], ...]:
        """What is crossed, as numbers: of a line 0, its start and its way, of an arc its side, center and radius."""
        return tuple(map(_numbers, self.crossings))

    def walls(self, line: SectionLine) -> Walls:
        """The walls on the edge, by where it crosses each of them, as `Crossing.point` has it.

        Asked some hundred times a cut.
        """
        ny, nz, c, wy, wz, w0 = line
        size = hypot(ny, nz)
        ahead, beside = (wy * ny + wz * nz) / size, (wy * nz - wz * ny) / size
        found = []
        for branch, y, z, dy, dz in self._traced:
            if branch:
                out = (c - ny * y - nz * z) / size
                within = dy * dy - out * out
                half = branch * sqrt(within) if within > 0.0 else 0.0
                found.append(wy * y + wz * z - w0 + out * ahead + half * beside)
            else:
                before, rise = ny * y + nz * z - c, ny * dy + nz * dz
                share = -before / rise if rise else 0.5
                share = 0.0 if share < 0.0 else 1.0 if share > 1.0 else share
                found.append(wy * (y + share * dy) + wz * (z + share * dz) - w0)
        places = iter(found)
        return tuple(zip(places, places, strict=True))

    @property
    def pairs(self) -> tuple[tuple[Crossing, Crossing], ...]:
        """Where each wall on the edge begins and ends."""
        return tuple(zip(self.crossings[::2], self.crossings[1::2], strict=True))


@attrs.frozen
class Sampled:
    """The walls on the edge at positions of a stretch, from low to high."""

    stretch: Stretch
    positions: tuple[float, ...]
    walls: tuple[Walls, ...]


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
class Passage:
    """The way of the blade through a section, in degrees or mm above rest; it begins at the first touch."""

    region: Region
    plane: BladePlane
    arm: BladeArm

    @cached_property
    def first_touch(self) -> float:
        """The highest position at which the edge touches the section."""
        return turning_point(self.arm, self.plane, self.region.support_point, 1)

    @cached_property
    def through(self) -> float:
        """The position at which the edge leaves the section."""
        return turning_point(self.arm, self.plane, self.region.support_point, -1)

    @property
    def length(self) -> float:
        """From first touch to through."""
        return self.first_touch - self.through

    def line(self, position: float) -> SectionLine:
        """The edge at a position, over the section."""
        return self.arm.edge(position).seen_from(self.plane)

    def spans(self, stretch: Stretch, position: float) -> Walls:
        """The walls on the edge, from w to w, by the stretch's own forms."""
        return stretch.walls(self.line(position))

    @cached_property
    def sampled(self) -> tuple[Sampled, ...]:
        """For each stretch its walls at positions crowded toward both ends."""
        return tuple(self._sampled(stretch, crowded_to_ends(stretch.low, stretch.high)) for stretch in self.stretches)

    def _sampled(self, stretch: Stretch, positions: Sequence[float]) -> Sampled:
        edge, plane, walls = self.arm.edge, self.plane, stretch.walls
        return Sampled(stretch, tuple(positions), tuple([walls(edge(at).seen_from(plane)) for at in positions]))

    def contact_in(self, stretch: Stretch, position: float) -> float:
        """Length of material on the edge, by the stretch's own forms, mm."""
        return _length(self.spans(stretch, position))

    def _swept(self, walls: Walls) -> float:
        """Area cut for a unit of travel, mm2."""
        return summed([self.arm.swept(low, high) for low, high in walls])

    @cached_property
    def stretches(self) -> tuple[Stretch, ...]:
        """The travel from `through` up to the first touch."""
        return tuple(_stretch(self, low, high) for low, high in itertools.pairwise(_events(self)))

    def at(self, position: float) -> tuple[Stretch, ...]:
        """The stretches that hold a position: one, two where they meet, none outside the travel.

        They meet over a width of twice `COINCIDENT`, mm or degrees: a height typed as 77 is the wall's at 80 - 3.
        """
        return tuple(s for s in self.stretches if s.low - COINCIDENT <= position <= s.high + COINCIDENT)

    def contact(self, position: float) -> float:
        """Length of material on the edge at a position, its boundary counted as material, mm."""
        total, reached = 0.0, -inf
        for low, high in sorted(span for stretch in self.at(position) for span in self.spans(stretch, position)):
            total += max(0.0, high - max(low, reached))
            reached = max(reached, high)
        return total

    def walls(self, position: float) -> int:
        """How many walls the edge is in, the fewer where walls part or join."""
        return min((len(stretch.pairs) for stretch in self.at(position)), default=0)

    def _least(self, sign: int) -> float:
        """The least of the contact times `sign` on the way, mm."""
        return min(self._least_in(one, sign) for one in self.sampled)

    def _least_in(self, sampled: Sampled, sign: int) -> float:
        stretch = sampled.stretch
        values = [sign * _length(walls) for walls in sampled.walls]
        return least_near(lambda position: sign * self.contact_in(stretch, position), sampled.positions, values)[0]

    @cached_property
    def largest(self) -> float:
        """The largest contact, a limit from inside the material, mm."""
        return -self._least(-1)

    @cached_property
    def smallest(self) -> float:
        """The least contact on the way, 0 where the blade enters or leaves at nothing, mm."""
        return self._least(1)

    @cached_property
    def mean(self) -> float:
        """The contact averaged over the travel, mm."""
        return self.arm.contact_over(self.region, self.plane) / self.length

    def cut_between(self, low: float, high: float) -> float:
        """Area cut between two positions, mm2."""
        parts = ((s, max(low, s.low), min(high, s.high)) for s in self.stretches)
        return summed(self._cut_in(stretch, a, b) for stretch, a, b in parts if a < b)

    def _cut_in(self, stretch: Stretch, low: float, high: float) -> float:
        """Area cut between two positions of a stretch, mm2: what each wall's two sides and the two edges enclose."""
        below, above = self.line(low), self.line(high)
        return self.plane.area * summed(_enclosed(pair, below, above) for pair in stretch.pairs)

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
        return summed(self._minutes_in(one, area_rate, descent) for one in self.sampled)

    def _minutes_in(self, sampled: Sampled, area_rate: float | None, descent: float | None) -> float:
        """In a stretch, parted where the one rate takes over from the other."""
        stretch = sampled.stretch

        def slower_by_area(position: float, walls: Walls) -> float:
            by_area = self._swept(walls) / area_rate if area_rate else 0.0
            return by_area - (self.arm.lowering(position) / descent if descent else 0.0)

        def slower(position: float) -> float:
            return slower_by_area(position, self.spans(stretch, position))

        values = list(map(slower_by_area, sampled.positions, sampled.walls))
        turns = crossings(slower, sampled.positions, values)
        parts = itertools.pairwise((stretch.low, *turns, stretch.high))
        return summed(self._minutes_between(stretch, *part, area_rate, descent) for part in parts)

    def _minutes_between(
        self, stretch: Stretch, low: float, high: float, area_rate: float | None, descent: float | None
    ) -> float:
        """Between positions of a stretch where one of the rates binds all the way."""
        by_area = self._cut_in(stretch, low, high) / area_rate if area_rate else 0.0
        lowered = self.arm.height(high, 0.0) - self.arm.height(low, 0.0)
        return max(by_area, lowered / descent if descent else 0.0)


def _length(walls: Walls) -> float:
    length = 0.0
    for low, high in walls:
        length += high - low
    return length


_JUMP: Final = 1e-4
"""mm. A contact that changes by less changes steadily: at a tangent it is the root of rounding, some 1e-6 mm."""


def _steps(stretch: Stretch, count: int) -> Iterator[float]:
    for i in range(count + 1):
        yield stretch.high + (stretch.low - stretch.high) * i / count


def _events(passage: Passage) -> list[float]:
    """Positions at which the edge passes an end or a tangent of the outline, from `through` to the first touch."""
    arm, plane = passage.arm, passage.plane
    low, high = passage.through, passage.first_touch
    found = [arm.position(*plane.at(segment.start)) for segment in passage.region.segments]
    circles = {(s.center, s.radius): s for s in passage.region.segments if isinstance(s, Arc)}
    found += [turning_point(arm, plane, _circle(arc), side) for arc in circles.values() for side in (1, -1)]
    return _distinct([low, *sorted(x for x in found if low < x < high), high], _SAME * max(1.0, abs(high)))


def _distinct(ordered: Sequence[float], apart: float) -> list[float]:
    kept = [ordered[0]]
    for position in ordered[1:-1]:
        if position - kept[-1] > apart and ordered[-1] - position > apart:
            kept.append(position)
    return [*kept, ordered[-1]]


def _circle(arc: Arc) -> Callable[[float, float], Point]:
    return lambda p, q: arc.at(atan2(q, p))


def _stretch(passage: Passage, low: float, high: float) -> Stretch:
    line = passage.line((low + high) / 2)
    found = list(_crossings(passage.region.segments, line))
    found.sort(key=lambda crossing: line.along(crossing.point(line)))
    return Stretch(low, high, tuple(found))


def _crossings(segments: Sequence[Line | Arc], line: SectionLine) -> Iterator[Crossing]:
    ny, nz, c, *_ = line
    size = hypot(ny, nz)
    for segment in segments:
        if isinstance(segment, Line):
            (y0, z0), (y1, z1) = segment.start, segment.end
            if (ny * y0 + nz * z0 > c) != (ny * y1 + nz * z1 > c):
                yield Crossing(segment)
        elif abs(line.above(segment.center)) < segment.radius * size:
            yield from _sides(segment, line)


def _sides(arc: Arc, line: SectionLine) -> Iterator[Crossing]:
    for branch in (1, -1):
        y, z = _on_circle(arc, line, branch)
        if arc.faces(atan2(z - arc.center[1], y - arc.center[0])):
            yield Crossing(arc, branch)
