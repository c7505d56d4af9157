"""Steel in space: a bar as a section and the planes that bound it along its axis, cut by half spaces.

Material stands where d lies between the highest of the `low` planes and the lowest of the `high` planes, for (y, z) in
the section; a plane is d = c + p*y + q*z. A blade that swings and tilts less than a right angle never cuts otherwise.
A section is convex cells. Arcs are corners of a many-sided figure in the cells (the same figure in what is wanted and
in what falls off, so that it takes no part in a comparison); how far a section reaches in a direction is exact.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise
from math import atan2, cos, degrees, hypot, pi, radians, sin

Point = tuple[float, float]
Plane = tuple[float, float, float]
Cell = tuple[Point, ...]

SAME = 1e-6
"""mm. Corners that lie so near are one."""

_SIDES = 24
"""Sides of the figure that stands for a circle: its chords lie up to radius * (1 - cos(pi / 24)) inside, 0.9 %."""


def at(plane: Plane, point: Point) -> float:
    """d of a plane over a place of the section."""
    return plane[0] + plane[1] * point[0] + plane[2] * point[1]


def less(plane: Plane) -> Plane:
    return (-plane[0], -plane[1], -plane[2])


def minus(one: Plane, other: Plane) -> Plane:
    return (one[0] - other[0], one[1] - other[1], one[2] - other[2])


def clipped(cell: Cell, above: Plane) -> Cell:
    """The part of a convex cell where a plane is 0 or more."""
    kept: list[Point] = []
    for one, two in pairwise((*cell, *cell[:1])):
        a, b = at(above, one), at(above, two)
        if a >= 0:
            kept.append(one)
        if (a > 0 > b) or (a < 0 < b):
            share = a / (a - b)
            kept.append((one[0] + share * (two[0] - one[0]), one[1] + share * (two[1] - one[1])))
    return tuple(kept)


def area_and_middle(cell: Cell) -> tuple[float, Point]:
    """Area of a convex cell and its center of gravity."""
    if len(cell) < 3:
        return 0.0, (0.0, 0.0)
    (y0, z0), area, my, mz = cell[0], 0.0, 0.0, 0.0
    for (y1, z1), (y2, z2) in pairwise(cell[1:]):
        part = ((y1 - y0) * (z2 - z0) - (y2 - y0) * (z1 - z0)) / 2
        area, my, mz = area + part, my + part * (y0 + y1 + y2) / 3, mz + part * (z0 + z1 + z2) / 3
    return area, (my / area, mz / area) if area else (y0, z0)


@dataclass(frozen=True)
class Turn:
    """A motion of a section in its own plane: y turned over first where `over`, then turned, then moved.

    `angle` is degrees, the top going toward +y. A bar turned end for end has y turned over, and its d too.
    """

    angle: float
    over: bool = False
    dy: float = 0.0
    dz: float = 0.0

    def __call__(self, point: Point) -> Point:
        y, z = (-point[0] if self.over else point[0]), point[1]
        c, s = cos(radians(self.angle)), sin(radians(self.angle))
        return (y * c + z * s + self.dy, z * c - y * s + self.dz)

    def plane(self, plane: Plane) -> Plane:
        """The same plane over the moved section; d turned over too where the bar is."""
        k, p, q = plane
        c, s = cos(radians(self.angle)), sin(radians(self.angle))
        p = -p if self.over else p
        p, q = p * c + q * s, q * c - p * s
        moved = (k - p * self.dy - q * self.dz, p, q)
        return less(moved) if self.over else moved

    def back(self, plane: Plane) -> Plane:
        """A plane over the moved section, over the section as it was; only for a turn that is not over."""
        k, p, q = plane
        c, s = cos(radians(self.angle)), sin(radians(self.angle))
        return (k + p * self.dy + q * self.dz, p * c - q * s, p * s + q * c)


@dataclass(frozen=True)
class Section:
    """Convex cells of material, and the circles (y, z, radius) whose hull is the hull of the material."""

    cells: tuple[Cell, ...]
    hull: tuple[tuple[float, float, float], ...]
    round: bool = False

    def reach(self, p: float, q: float) -> float:
        """The largest p*y + q*z over the material."""
        return max(p * y + q * z + r * hypot(p, q) for y, z, r in self.hull)

    def furthest(self, p: float, q: float) -> Point:
        """Where p*y + q*z is largest."""
        y, z, r = max(self.hull, key=lambda circle: p * circle[0] + q * circle[1] + circle[2] * hypot(p, q))
        steep = hypot(p, q) or 1.0
        return (y + r * p / steep, z + r * q / steep)

    @cached_property
    def width(self) -> float:
        return self.reach(1, 0) + self.reach(-1, 0)

    @cached_property
    def height(self) -> float:
        return self.reach(0, 1) + self.reach(0, -1)

    @cached_property
    def area(self) -> float:
        return sum(area_and_middle(cell)[0] for cell in self.cells)

    @cached_property
    def corners(self) -> tuple[Point, ...]:
        return tuple(point for cell in self.cells for point in cell)

    def least(self, plane: Plane) -> float:
        """The lowest d of a plane over the material."""
        return plane[0] - self.reach(-plane[1], -plane[2])

    def most(self, plane: Plane) -> float:
        return plane[0] + self.reach(plane[1], plane[2])

    def turn(self, angle: float, over: bool = False) -> Turn:
        """That turn, and back against the fixed jaw and down on the bed."""
        free = Turn(angle, over)
        hull = [(*free((y, z)), r) for y, z, r in self.hull]
        return replace(free, dy=-min(y - r for y, _, r in hull), dz=-min(z - r for _, z, r in hull))

    def turned(self, turn: Turn) -> Section:
        cells = (tuple(turn(point) for point in cell) for cell in self.cells)
        hull = tuple((*turn((y, z)), r) for y, z, r in self.hull)
        return Section(tuple(tuple(reversed(c)) if turn.over else c for c in cells), hull, self.round)

    def laid(self, angle: float) -> Section:
        return self.turned(self.turn(angle))

    def looks_like(self, other: Section) -> bool:
        """Whether the same material stands in the same place."""
        if self.round and other.round:
            return abs(self.width - other.width) < SAME
        return _near(self.corners, other.corners) and _near(other.corners, self.corners)


def _near(some: Iterable[Point], others: Sequence[Point]) -> bool:
    return all(any(hypot(y - v, z - w) < SAME for v, w in others) for y, z in some)


def box(y0: float, z0: float, y1: float, z1: float) -> Cell:
    return ((y0, z0), (y1, z0), (y1, z1), (y0, z1))


def of_cells(*cells: Cell) -> Section:
    return Section(cells, tuple((y, z, 0.0) for cell in cells for y, z in cell))


def rounded(section: Section, hull: Sequence[tuple[float, float, float]]) -> Section:
    """The same material where its outer corners are round: the circles of its hull."""
    return replace(section, hull=tuple(hull))


def flat(width: float, height: float) -> Section:
    return of_cells(box(0, 0, width, height))


def angle(width: float, height: float, thickness: float) -> Section:
    """The heel at y = 0, z = 0; the two legs meet at the line from the heel to the root."""
    w, h, t = width, height, thickness
    return of_cells(((0.0, 0.0), (w, 0.0), (w, t), (t, t)), ((0.0, 0.0), (t, t), (t, h), (0.0, h)))


def channel(width: float, height: float, web: float, flange: float) -> Section:
    """The web on y = 0, the toes to +y."""
    low, high = box(web, 0, width, flange), box(web, height - flange, width, height)
    return of_cells(box(0, 0, web, height), low, high)


def z_section(height: float, flange_width: float, thickness: float, inner_radius: float) -> Section:
    """The web upright, its lower flange to +y and its upper one to y = 0; its bends round the hull alone."""
    h, b, t = height, flange_width, thickness
    r, back = inner_radius + t, b - t
    cells = (box(back, r, b, h - r), box(back + r, 0, back + b, t), box(0, h - t, b - r, h))
    toes = ((back + b, 0, 0), (back + b, t, 0), (0, h, 0), (0, h - t, 0))
    return Section(cells, ((back + r, r, r), (b - r, h - r, r), *toes))


def i_section(width: float, height: float, web: float, flange: float) -> Section:
    w, h, t = width, height, flange
    return of_cells(box(0, 0, w, t), box(0, h - t, w, h), box((w - web) / 2, t, (w + web) / 2, h - t))


def rect_tube(width: float, height: float, wall: float, radius: float) -> Section:
    """The four sides without their rounded corners, which bound lengths by their radius alone."""
    w, h, r = width, height, radius
    cells = (box(0, r, wall, h - r), box(w - wall, r, w, h - r), box(r, 0, w - r, wall), box(r, h - wall, w - r, h))
    return Section(cells, tuple((y, z, r) for y in (r, w - r) for z in (r, h - r)))


def round_section(diameter: float, wall: float = 0.0) -> Section:
    """A tube, or a bar where the wall is 0."""
    r = diameter / 2
    outer = [(r + r * cos(2 * pi * i / _SIDES), r + r * sin(2 * pi * i / _SIDES)) for i in range(_SIDES)]
    hull = ((r, r, r),)
    if not wall:
        return Section((tuple(outer),), hull, True)
    share = (r - wall) / r
    inner = [(r + (y - r) * share, r + (z - r) * share) for y, z in outer]
    ring = zip(outer, [*outer[1:], outer[0]], [*inner[1:], inner[0]], inner, strict=True)
    return Section(tuple(ring), hull, True)


@dataclass(frozen=True)
class Solid:
    """Steel of one section between `low` and `high` planes."""

    section: Section
    low: tuple[Plane, ...]
    high: tuple[Plane, ...]

    def begins(self, point: Point) -> float:
        return max(at(plane, point) for plane in self.low)

    def ends(self, point: Point) -> float:
        return min(at(plane, point) for plane in self.high)

    def length(self, point: Point) -> float:
        """Steel along the bar over a place of the section, 0 where there is none."""
        return max(0.0, self.ends(point) - self.begins(point))

    def before(self, plane: Plane) -> Solid:
        return replace(self, high=(*self.high, plane))

    def behind(self, plane: Plane) -> Solid:
        return replace(self, low=(*self.low, plane))

    def parts(self) -> Iterator[tuple[Cell, Plane, Plane]]:
        """Cells of the section over each of which one low and one high plane bound the steel."""
        for cell in self.section.cells:
            for i, low in enumerate(self.low):
                under = _where(cell, [minus(low, other) for j, other in enumerate(self.low) if j != i])
                for k, high in enumerate(self.high):
                    over = [minus(other, high) for j, other in enumerate(self.high) if j != k]
                    part = _where(under, [*over, minus(high, low)])
                    if area_and_middle(part)[0] > 0:
                        yield part, low, high

    @cached_property
    def volume(self) -> float:
        return sum(area * at(minus(high, low), middle) for area, middle, low, high in self._weighed())

    def _weighed(self) -> Iterator[tuple[float, Point, Plane, Plane]]:
        for part, low, high in self.parts():
            yield (*area_and_middle(part), low, high)

    @cached_property
    def places(self) -> tuple[Point, ...]:
        """Every place of the section over which the steel has a corner."""
        return tuple(point for part, _, _ in self.bare.parts() for point in part)

    @cached_property
    def bare(self) -> Solid:
        """Without the planes that bound no steel."""
        used = [(low, high) for _, low, high in self.parts()]
        low = tuple(plane for plane in dict.fromkeys(self.low) if any(plane == one for one, _ in used))
        high = tuple(plane for plane in dict.fromkeys(self.high) if any(plane == one for _, one in used))
        return replace(self, low=low, high=high)

    def moved(self, turn: Turn) -> Solid:
        low, high = (tuple(turn.plane(plane) for plane in planes) for planes in (self.low, self.high))
        return Solid(self.section.turned(turn), high if turn.over else low, low if turn.over else high)

    def mirrored(self) -> Solid:
        """Its image in a mirror square to the bar; the same steel where d is counted the other way."""
        low, high = (tuple(less(plane) for plane in planes) for planes in (self.high, self.low))
        return replace(self, low=low, high=high)


def _where(cell: Cell, above: Iterable[Plane]) -> Cell:
    for plane in above:
        cell = clipped(cell, plane)
        if len(cell) < 3:
            return ()
    return cell


def error(made: Solid, wanted: Solid) -> float:
    """How far the steel is from what is wanted at its worst corner (mm), laid on it in the best way; inf for none.

    Only motions: turned about the bar's axis and end for end, moved along it. A mirror image fits nowhere.
    """
    if not made.volume or not wanted.volume:
        return float("inf")
    made, wanted = made.bare, wanted.bare
    return min((apart(made.moved(turn), wanted) for turn in _motions(made, wanted)), default=float("inf"))


def _motions(made: Solid, wanted: Solid) -> Iterator[Turn]:
    for over in (False, True):
        for angle in _angles(made, wanted, over) if made.section.round else (0.0, 90.0, 180.0, 270.0):
            turn = made.section.turn(angle, over)
            if made.section.turned(turn).looks_like(wanted.section):
                yield turn


def _angles(made: Solid, wanted: Solid, over: bool) -> Iterator[float]:
    """Turns of a round bar that bring the steepest end of one to an end of the other."""
    free = Turn(0.0, over)
    yield 0.0
    ends = [free.plane(plane) for plane in (*made.low, *made.high)]
    steep = max(ends, key=lambda plane: hypot(plane[1], plane[2]))
    for plane in (*wanted.low, *wanted.high):
        yield degrees(atan2(steep[2], steep[1]) - atan2(plane[2], plane[1]))


def apart(made: Solid, wanted: Solid) -> float:
    """How far two pieces are apart at their worst corner, moved along the bar only, mm."""
    places = (*made.places, *wanted.places)
    begins = [made.begins(point) - wanted.begins(point) for point in places]
    ends = [made.ends(point) - wanted.ends(point) for point in places]
    shift = (min(begins + ends) + max(begins + ends)) / 2
    return max(abs(value - shift) for value in begins + ends)
