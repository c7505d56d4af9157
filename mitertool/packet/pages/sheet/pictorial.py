"""The end of a piece as a solid picture, to see which edge of the bar the blade takes off; knows sections and cuts.

A point of the bar is (o, y, z) with o along the bar, outward: at either end the cut is o = p*y + q*z, and a left end
is drawn as a right one, mirrored. The projection is parallel and square to the picture, the eye on the fixed side,
above, and a little beyond the end. Paper mm.
"""

from __future__ import annotations

from cmath import phase
from collections.abc import Iterable, Iterator, Sequence
from functools import cached_property
from graphlib import TopologicalSorter
from itertools import combinations, groupby, pairwise, product
from math import ceil, dist, hypot, inf, radians
from typing import Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.names import among
from mitertool.cut import Cut
from mitertool.cut.ends import Further, end_roof
from mitertool.drawing import OUTLINE, THIN, Arc, Drawing, Entity, Line, Point, Polygon, Text, text_width
from mitertool.drawing.lettering import depth
from mitertool.geometry import Arc as SectionArc
from mitertool.geometry import Line as SectionLine
from mitertool.geometry import Loop
from mitertool.geometry.roof import Roof, Slant
from mitertool.sections import Section
from mitertool.words import phrase

_STEP: Final = radians(6)
"""What a chord of an arc turns at most: it stands off by 0.14 % of the radius, 0.02 mm where that is 15 mm on paper."""

_SHARP, _ROUND, _BEND = radians(10), radians(30), radians(120)
"""A corner that bends by more than the first is an edge, the chords of an arc bend by less; an arc that bends by
between the others is a rounding of two sides, told by a thin line along its middle."""

_LEVEL, _LONG = 1e-6, 1.2
"""Places that reach as far but for so many mm are level; length behind the short point in widths or heights."""

_VIEWS, _WELL = ((0.7, 0.45), (1.1, 0.5), (1.75, 0.55), (3.1, 0.7)), 0.4
"""How far the eye stands beyond the end and above, for 1 to the fixed side; how large a face must be seen."""

_FACE, _HOLE, _SIDE = 0.85, 0.6, 1.0
_LETTERS, _DEEP, _AIR, _STRIP, _DOT = 2.8, depth(2.8), 0.8, 6.0, 0.25
"""mm: lettering and its descenders, what stays free around it, the strips above and below the picture that hold it,
and the dot in which a leader ends on a surface."""

_SHIFTS, _STRAY, _APART = (0.0, -7.0, 7.0, -14.0, 14.0, -21.0, 21.0), 30.0, 1.5
"""mm: how far aside lettering may go, how much longer a leader to the right strip may be, between two leaders' ends."""

_RIM, _SURFACE = ((0.0, 1.0), (0.0,)), ((0.5,), (0.35, 0.5, 0.65))
"""Where a leader may end: shares of a side of the outline, and of the way from the cut to where the stub is broken."""

_Note = tuple[Text, Line]
_Where = tuple[tuple[float, ...], tuple[float, ...]]
_Corner = tuple[float, float, bool]
"""y, z, and whether an edge along the bar is told there."""


def end_picture(
    section: Section, cut: Cut, end: str, width: float, height: float, further: Sequence[Further] = ()
) -> Drawing:
    """The `end` ("left" or "right") of a bar that is cut so, in the box from (0, 0) to (`width`, `height`) paper mm.

    `further` are its other cuts, where it has any.

    The face is light grey, its holes darker; a label that has no room is left out. Raises `BadInput` for another
    end and for a box without room.
    """
    if end not in ("left", "right"):
        raise BadInput("end", end, among(("left", "right")))
    room = (width - 2 * _AIR, height - 2 * _STRIP)
    if not 0 < min(room) <= max(room) < inf:
        raise BadInput(phrase("refuse.picture"), f"{width:g} x {height:g} mm", phrase("refuse.picture-room"))
    roof = end_roof(section, cut, further)
    stub = _Stub(section, roof, _eye(roof, 1.0 if end == "right" else -1.0)).fitted(room)
    return Drawing([*stub.solid(), *_lettered(stub, width, height)])


@attrs.frozen
class _Eye:
    """From where the bar is seen, and where and how large; `hand` is 1 at a right end, -1 at a left one."""

    hand: float
    toward: tuple[float, float, float]
    scale: float = 1.0
    shift: Point = (0.0, 0.0)

    def shows(self, roof: Roof) -> float:
        """How large the faces are seen at least, in areas of the section; below 0 where one turns away."""
        o, y, z = self.toward
        return min(o - slant.p * y - slant.q * z for slant in roof.slants)

    def place(self, o: float, y: float, z: float) -> Point:
        to_o, to_y, to_z = self.toward
        level = hypot(to_o, to_y)
        x, up = self.hand * (y * to_o - o * to_y) / level, z * level - (o * to_o + y * to_y) * to_z / level
        return (self.scale * x + self.shift[0], self.scale * up + self.shift[1])

    def end_on(self, corner: _Corner) -> Point:
        """Seen along the bar: how far across the way to the eye, and how near to the eye."""
        (y, z, _), (_, to_y, to_z) = corner, self.toward
        return (y * to_z - z * to_y, y * to_y + z * to_z)


def _eye(roof: Roof, hand: float) -> _Eye:
    """The first view that shows all faces well; the last stands so far round that each shows half its section."""
    views = (*_VIEWS, (max(1 + 2 * abs(slant.p) + 2 * abs(slant.q) for slant in roof.slants), 1.0))
    eyes = [_Eye(hand, (o / far, -1 / far, z / far)) for o, z in views for far in (hypot(o, 1, z),)]
    return next(eye for eye in eyes if eye.shows(roof) >= _WELL)


@attrs.frozen
class _Stub:
    """The last stretch of a bar as it is seen."""

    section: Section
    roof: Roof
    eye: _Eye

    @cached_property
    def loops(self) -> tuple[tuple[_Corner, ...], ...]:
        return tuple(_bent(_corners(loop), self.roof) for loop in self.section.region.loops)

    def ridges(self) -> Iterator[Line]:
        """The lines over the material along which one face meets another."""
        slants = self.roof.slants
        for facet in self.roof.facets if len(slants) > 1 else ():
            for a, b in ((s.start, s.end) for s in facet.region.segments if isinstance(s, SectionLine)):
                others = [one for one in slants if one is not facet.slant and _level_at(one, facet.slant, a, b)]
                if others and slants.index(facet.slant) < slants.index(others[0]):
                    yield Line(self.along((*a, False)), self.along((*b, False)), OUTLINE)

    def sides(self) -> Iterable[tuple[_Corner, ...]]:
        """What of the outer outline turns to the eye, in runs, far before near.

        Seen along the bar no run folds back on itself and no two cross: so the order has no circle.
        """
        runs = tuple(_runs(self.loops[0], self.eye))
        order = TopologicalSorter(dict.fromkeys(runs, ()))
        for one, other in combinations(runs, 2):
            nearer = _nearer(*(list(map(self.eye.end_on, run)) for run in (one, other)))
            if nearer:
                order.add(*((one, other) if nearer > 0 else (other, one)))
        return order.static_order()

    @cached_property
    def broken_off(self) -> float:
        """How far along the bar the stub ends."""
        return self.roof.lowest - _LONG * max(self.section.width, self.section.height)

    def along(self, corner: _Corner, back: float = 0.0) -> Point:
        """A place on the line along the bar, from the cut (0) to where the stub is broken off (1)."""
        y, z, _ = corner
        return self.eye.place((1 - back) * self.roof.at(y, z) + back * self.broken_off, y, z)

    def fitted(self, room: Point) -> _Stub:
        """As large as the room allows, in the middle of the box around it."""
        points = [self.along(*at) for at in product(self.loops[0], (0.0, 1.0))]
        (x0, x1), (y0, y1) = ((min(values), max(values)) for values in zip(*points, strict=True))
        k = min(room[0] / (x1 - x0), room[1] / (y1 - y0))
        shift = (room[0] / 2 + _AIR - k * (x0 + x1) / 2, room[1] / 2 + _STRIP - k * (y0 + y1) / 2)
        return attrs.evolve(self, eye=attrs.evolve(self.eye, scale=k, shift=shift))

    def solid(self) -> Iterator[Polygon | Line]:
        """Sides from far to near, then the faces, which nothing hides, their holes, and where they meet."""
        for run in self.sides():
            yield Polygon([self.along(c, 1.0) for c in run] + [self.along(c) for c in run[::-1]], THIN, _SIDE)
            yield from (Line(self.along(c, 1.0), self.along(c), THIN) for c in run[1:-1] if c[2])
        outer, *holes = self.loops
        yield Polygon(map(self.along, outer), OUTLINE, _FACE)
        yield from (Polygon(map(self.along, hole), THIN, _HOLE) for hole in holes)
        yield from self.ridges()

    def furthest(self, p: float, q: float, parts: Sequence[float], backs: Sequence[float]) -> list[Point]:
        """Places on the sides that reach furthest toward (p, q), or on the line at the point that does."""
        most, outline = self.section.support(p, q) - _LEVEL, self.loops[0]
        sides = [s for s in pairwise((*outline, outline[0])) if min(p * y + q * z for y, z, _ in s) > most]
        on = [(a[0] + k * (b[0] - a[0]), a[1] + k * (b[1] - a[1]), False) for (a, b), k in product(sides, parts)]
        return [self.along(*at) for at in product(on or [(*self.section.support_point(p, q), False)], backs)]


def _bent(corners: tuple[_Corner, ...], roof: Roof) -> tuple[_Corner, ...]:
    """The polygon with a corner more wherever one of its sides runs over from one face to another."""
    found: list[_Corner] = []
    for (y, z, told), (v, w, _) in pairwise((*corners, corners[0])):
        found.append((y, z, told))
        shares = sorted(
            share
            for one, other in combinations(roof.slants, 2)
            for a, b in ((one.at(y, z) - other.at(y, z), one.at(v, w) - other.at(v, w)),)
            if a * b < 0
            for share in (a / (a - b),)
        )
        found += [(y + share * (v - y), z + share * (w - z), False) for share in shares]
    return tuple(found)


def _level_at(one: Slant, other: Slant, a: Point, b: Point) -> bool:
    """Whether two faces meet along the line from a to b."""
    return all(abs(one.at(*point) - other.at(*point)) < _LEVEL for point in (a, b))


def _corners(loop: Loop) -> tuple[_Corner, ...]:
    """The loop as a polygon; edges are its sharp corners and the middles of its roundings."""
    points: list[_Corner] = []
    for segment in loop:
        if isinstance(segment, SectionArc):
            half = ceil(abs(segment.sweep) / _STEP / 2)
            told = _ROUND < abs(segment.sweep) < _BEND
            turns = (segment.begin + segment.sweep * i / (2 * half) for i in range(2 * half))
            points += [(*segment.at(turn), told and i == half) for i, turn in enumerate(turns)]
        else:
            points.append((*segment.start, False))
    spots = [complex(y, z) for y, z, _ in points]
    threes = zip(spots[-1:] + spots[:-1], spots, spots[1:] + spots[:1], strict=True)
    bends = [abs(phase((after - now) / (now - before))) for before, now, after in threes]
    return tuple((y, z, told or bend > _SHARP) for (y, z, told), bend in zip(points, bends, strict=True))


def _runs(corners: Sequence[_Corner], eye: _Eye) -> Iterator[tuple[_Corner, ...]]:
    """Runs of chords that turn to the eye: with the material on their left they all go one way across."""
    count, across = len(corners), [eye.end_on(corner)[0] for corner in corners]
    seen = [across[(i + 1) % count] < across[i] - _LEVEL for i in range(count)]
    first = seen.index(False)
    for facing, run in groupby(range(first, first + count), key=lambda i: seen[i % count]):
        if facing:
            chords = list(run)
            yield tuple(corners[i % count] for i in (*chords, chords[-1] + 1))


def _nearer(one: Sequence[Point], other: Sequence[Point]) -> float:
    """By how much one run, seen along the bar, is nearer than another; 0 where neither can hide the other."""
    low, high = max(one[-1][0], other[-1][0]), min(one[0][0], other[0][0])
    if high - low < _LEVEL:
        return 0.0
    at = (low + high) / 2
    chords = (next(chord for chord in pairwise(run) if chord[1][0] <= at <= chord[0][0]) for run in (one, other))
    near, far = (u + (at - a) / (b - a) * (v - u) for (a, u), (b, v) in chords)
    return near - far


def _lettered(stub: _Stub, width: float, height: float) -> Iterator[Entity]:
    """Labels in the order of their importance, each with its leader; one that finds no room is left out."""
    placed: list[_Note] = []
    for says, way, strip, where in _labels(stub.roof):
        targets = stub.furthest(*way, *where) if any(way) else [stub.along((*stub.roof.highest_point, False))]
        notes = _notes(says, strip, targets, width, height)
        best = next((note for _, note in notes if not any(_meet(note, other) for other in placed)), None)
        if best:
            placed.append(best)
            yield from best
            if where is _SURFACE:
                yield Arc(best[1].b, _DOT, 0.0, 360.0, OUTLINE)


def _labels(roof: Roof) -> Iterator[tuple[str, Point, float, _Where]]:
    """Every label, toward where it lies, its strip (above 0: the upper, below: the lower) and where its leader ends.

    The tip between several faces lies toward nothing.
    """
    first, *others = roof.slants
    if others:
        yield phrase("pictorial.tip"), (0.0, 0.0), 1.0, _RIM
    elif first.p or first.q:
        yield phrase("pictorial.long"), (first.p, first.q), first.q, _RIM
    yield phrase("side.fixed"), (-1.0, 0.0), -1.0, _SURFACE
    yield phrase("side.moving"), (1.0, 0.0), 0.0, _RIM
    yield phrase("pictorial.top"), (0.0, 1.0), 1.0, _SURFACE


def _notes(says: str, strip: float, targets: list[Point], width: float, height: float) -> list[tuple[float, _Note]]:
    """A label with its leader in every place it may have, and how bad that is, the best first."""
    wide = text_width(says, _LETTERS)
    least, most = _AIR, width - _AIR - wide
    notes: list[tuple[float, _Note]] = []
    for to, shift, above in product(targets if least <= most else (), _SHIFTS, (False, True)):
        x = min(max(to[0] - wide / 2 + shift, least), most)
        y, edge = (height - _AIR - _LETTERS, -_DEEP - _AIR / 2) if above else (_AIR + _DEEP, _LETTERS + _AIR / 2)
        start = (min(max(to[0], x + _AIR), x + wide - _AIR), y + edge)
        stray = strip < 0 if above else strip > 0
        notes.append((dist(start, to) + _STRAY * stray, (Text((x, y), says, _LETTERS), Line(start, to, THIN))))
    return sorted(notes, key=lambda found: found[0])


def _meet(one: _Note, other: _Note) -> bool:
    """Whether leaders cross, or in one strip lettering stands on lettering or leaders end in one upright."""
    (text, leader), (beside, led) = one, other
    apart = abs(text.at[0] - beside.at[0] + (text.width - beside.width) / 2) - (text.width + beside.width) / 2
    close = apart < 2 * _AIR or abs(leader.b[0] - led.b[0]) < _APART
    return (close and text.at[1] == beside.at[1]) or (_parts(leader, led) and _parts(led, leader))


def _parts(line: Line, other: Line) -> bool:
    """Whether the ends of the other line lie on both sides of the first."""
    (x, y), (u, v) = line.a, line.b
    c, d = ((u - x) * (b - y) - (v - y) * (a - x) for a, b in (other.a, other.b))
    return c * d < 0
