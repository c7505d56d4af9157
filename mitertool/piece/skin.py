"""The skin of a tube unrolled: how far an end stands out around it, for a template to wrap; knows pieces.

It is unrolled from the middle of the top and seen from outside with the end up: from the right end that is first toward
the fixed side, from the left end first toward the moving side. Source: the development of an oblique cut, T. Apostol
and M. Mnatsakanian, Unwrapping curves from cylinders and cones, Amer. Math. Monthly 114 (2007), section 2.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from functools import cached_property
from itertools import accumulate
from math import acos, atan2, ceil, cos, hypot, pi, sin
from typing import Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.tolerances import CHORD_ERROR, COINCIDENT
from mitertool.base.totals import summed
from mitertool.geometry import Line, Point, Segment
from mitertool.geometry.roof import Roof
from mitertool.geometry.saddle import Saddle
from mitertool.piece.piece import Piece
from mitertool.sections import Section
from mitertool.words import phrase

SIDES: Final = ("top", "fixed", "bottom", "moving")
"""The lines along a bar by which a template is laid: the middle of each side, as they follow from the right end."""

_PLACED: Final = 1e-3
"""mm around to which the furthest place of an edge is found: a tape reads half a millimetre."""

Spot = tuple[float, float]
"""How far around from the middle of the top, and how far out from the shortest place of the end, mm."""


@attrs.frozen
class Skin:
    """The outside of a tube as it lies, seen from its "left" or "right" end. Raises `BadInput` for what is no tube.

    A tube has an outside and one hollow, and touches all four sides of its box.
    """

    section: Section
    end: str

    def __attrs_post_init__(self) -> None:
        if not has_skin(self.section):
            raise BadInput("section", self.section.name, phrase("refuse.no-tube"))

    @cached_property
    def _outer(self) -> tuple[Segment, ...]:
        return _outside(self.section)

    @cached_property
    def _begins(self) -> tuple[float, ...]:
        return tuple(accumulate((part.length for part in self._outer), initial=0.0))

    @cached_property
    def around(self) -> float:
        """How far it is once around, mm."""
        return self._begins[-1]

    @cached_property
    def lines(self) -> tuple[tuple[str, float], ...]:
        """Each of the four lines and how far around it lies, in the order in which they follow from this end."""
        found = [(side, self._turned(self._where(place))) for side, place in _middles(self.section).items()]
        return tuple(sorted(found, key=lambda one: one[1]))

    def place(self, around: float) -> Point:
        """(y, z) of a place of the skin."""
        way = 1 if self.end == "right" else -1
        along = (self._top + way * around) % self.around
        i = min(max(bisect_right(self._begins, along) - 1, 0), len(self._outer) - 1)
        return _at(self._outer[i], along - self._begins[i])

    def corners(self) -> Iterator[float]:
        """Where one part of the outline ends and the next begins."""
        for begin in self._begins[:-1]:
            yield self._turned(begin)

    @cached_property
    def folds(self) -> tuple[float, ...]:
        """How far around the corners of a tube with flat sides lie, in the middle of their rounding, mm."""
        if self.section.shape.round:
            return ()
        parts = zip(self._begins, self._outer, strict=False)
        rounded = [begin + part.length / 2 for begin, part in parts if not isinstance(part, Line)]
        return tuple(sorted(self._turned(along) for along in rounded or self._begins[:-1]))

    @cached_property
    def _top(self) -> float:
        return self._where(_middles(self.section)["top"])

    def _turned(self, along: float) -> float:
        """From along the outline to around from the top, in the direction of this end."""
        way = 1 if self.end == "right" else -1
        found = (way * (along - self._top)) % self.around
        return 0.0 if self.around - found < COINCIDENT else found

    def _where(self, place: Point) -> float:
        """How far along the outline a place of it lies."""
        found = ((begin, _along(part, place)) for begin, part in zip(self._begins, self._outer, strict=False))
        return next(begin + along for begin, along in found if along is not None)

    def step(self, chord: float) -> float:
        """The longest step around in which no chord stands further off the skin's curve than `chord`, mm."""
        radii = [part.radius for part in self._outer if not isinstance(part, Line)]
        return min((2 * r * acos(1 - min(chord / r, 1.0)) for r in radii), default=self.around)


def has_skin(section: Section) -> bool:
    """Whether a section is a tube whose outside touches its box in the middle of all four sides."""
    if len(section.region.loops) != 2 or section.shape.solid:
        return False
    outside = _outside(section)
    return all(any(_along(part, place) is not None for part in outside) for place in _middles(section).values())


def _outside(section: Section) -> tuple[Segment, ...]:
    """The outer loop, counter-clockwise by (y, z)."""
    return tuple(max(section.region.loops, key=lambda one: summed(part.area_term() for part in one)))


def _middles(section: Section) -> dict[str, Point]:
    """The middle of each side of the box."""
    w, h = section.width, section.height
    return {"top": (w / 2, h), "fixed": (0.0, h / 2), "bottom": (w / 2, 0.0), "moving": (w, h / 2)}


@attrs.frozen
class Template:
    """An end of a piece on the skin of its tube: by its cuts, or by the true edge where it stands on another.

    `chord` is how far the lines of its curve may stand off it, mm.
    """

    piece: Piece
    end: str
    saddle: Saddle | None = None
    chord: float = CHORD_ERROR

    @cached_property
    def skin(self) -> Skin:
        """The skin as it is seen from this end."""
        return Skin(self.piece.section, self.end)

    @cached_property
    def _roof(self) -> Roof:
        return self.piece.end_roof(self.end)

    def out(self, around: float) -> float:
        """How far the end stands out at a place, from its shortest place on the skin, mm."""
        return self._at(around) - self._lowest

    @cached_property
    def _lowest(self) -> float:
        """On the outside of a tube lies the shortest place of all, but of an end with more planes."""
        return min(self._at(around) for around in self._steps)

    @cached_property
    def furthest(self) -> float:
        """How far around the place lies that stands out furthest, mm."""
        best = max(self._steps, key=self._at)
        step = self.skin.around / (len(self._steps) - 1)
        low, high = best - step, best + step
        while high - low > _PLACED:
            third = (high - low) / 3
            low, high = (low + third, high) if self._at(low + third) < self._at(high - third) else (low, high - third)
        return (low + high) / 2 % self.skin.around

    @property
    def along_top(self) -> float:
        """How long the tube is along the line of its top, from its other end to this edge, mm."""
        y, z = self.skin.place(0.0)
        if self.saddle is None:
            return self.piece.length_at(y, z)
        reached = self.saddle.seat if self.piece.further else -self._at(self.furthest)
        return self.piece.centerline + reached + self._at(0.0)

    @property
    def inside_first(self) -> float:
        """By how much at most the inside of the wall reaches past a run, the edge cut square to the skin; mm."""
        if self.saddle is None:
            return 0.0
        section = self.piece.section
        inside = 1 - 2 * dict(section.dimensions)["wall"] / section.width
        places = ((y - section.width / 2, z - section.height / 2) for y, z in map(self.skin.place, self._steps))
        return max(self.saddle.down(inside * u, inside * v) - self.saddle.down(u, v) for u, v in places)

    def _at(self, around: float) -> float:
        y, z = self.skin.place(around)
        if self.saddle is None:
            return self._roof.at(y, z)
        section = self.piece.section
        return -self.saddle.down(y - section.width / 2, z - section.height / 2)

    @cached_property
    def _steps(self) -> tuple[float, ...]:
        """Places around, corners and the furthest places among them, so close that chords are as good as the curve."""
        whole = self.skin.around
        step = whole / ceil(whole / self.skin.step(self.chord))
        even = [i * step for i in range(round(whole / step))]
        return tuple(sorted({*even, *self.skin.corners(), *(at for _, at in self.skin.lines)}))

    @cached_property
    def curve(self) -> tuple[Spot, ...]:
        """The end unrolled, once around from the middle of the top."""
        spots = [(around, self.out(around)) for around in self._steps]
        return (*spots, (self.skin.around, self.out(0.0)))

    def stations(self, count: int) -> tuple[Spot, ...]:
        """The ordinates at so many equal steps around, the first again at the end."""
        if not 4 <= count <= 360:
            raise BadInput("stations", count, phrase("refuse.allowed", allowed="4 to 360"))
        found = [(self.skin.around * i / count, self.out(self.skin.around * i / count)) for i in range(count)]
        return (*found, (self.skin.around, self.out(0.0)))


def _at(part: Segment, along: float) -> Point:
    """The place so far along a line or an arc."""
    if isinstance(part, Line):
        share = along / part.length if part.length else 0.0
        (y0, z0), (y1, z1) = part.start, part.end
        return y0 + share * (y1 - y0), z0 + share * (z1 - z0)
    return part.at(part.begin + (along / part.radius if part.sweep > 0 else -along / part.radius))


def _along(part: Segment, place: Point) -> float | None:
    """How far along a line or an arc a place lies; None where it does not."""
    if isinstance(part, Line):
        along = hypot(place[0] - part.start[0], place[1] - part.start[1])
        return along if along <= part.length + COINCIDENT and _near(_at(part, along), place) else None
    dy, dz = place[0] - part.center[0], place[1] - part.center[1]
    turn = atan2(dz, dy) - part.begin
    turn = turn % (2 * pi) if part.sweep > 0 else -((-turn) % (2 * pi))
    if 2 * pi - abs(turn) < COINCIDENT:
        turn = 0.0
    found = part.center[0] + part.radius * cos(part.begin + turn), part.center[1] + part.radius * sin(part.begin + turn)
    return abs(turn) * part.radius if abs(turn) <= abs(part.sweep) + COINCIDENT and _near(found, place) else None


def _near(one: Point, other: Point) -> bool:
    return hypot(one[0] - other[0], one[1] - other[1]) < COINCIDENT
