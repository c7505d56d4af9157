"""What a fitter sets a frame out and proves it by: its corners, check measures and coordinates; knows assemblies.

Corners are numbered from 1 at the lower left one, clockwise as the frame is walked. Lengths mm, angles degrees; x to
the right and y up, as the assembly lies.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import degrees
from typing import Final

import attrs

from mitertool.frame.assembly import Assembly
from mitertool.frame.joints import FIRST_THROUGH, MITER, Joint
from mitertool.frame.rings import Ring

FEW: Final = 8
"""Corners of a frame whose check measures all run from one corner; with more they would crowd there."""

_ACROSS: Final = 6
"""Check measures at most across a frame of many corners."""


@attrs.frozen
class SetCorner:
    """A corner: the place `at` where the outer edges cross, from the first corner, and its joint.

    `over` is where a tape lies that is held over it: the outer end of the steel, or the middle of the root gap between
    two points. `before` and `after` are the marks that meet, "" at a free end, which has no `joint` and no `angle`
    (inside the frame). `kind` is that of its joint: where it is butted, which of both runs through.
    """

    number: int
    at: complex
    over: complex
    before: str
    after: str
    joint: int | None
    angle: float | None
    gap: float
    kind: str = MITER


@attrs.frozen
class CheckMeasure:
    """The length that a tape must read from over one corner to over another, mm.

    The angle at `corner` is out by `turn` degrees where it reads 1 mm more and all sides are true.
    """

    first: int
    second: int
    length: float
    corner: int
    turn: float


@attrs.frozen
class SettingOut:
    """The corners of a frame, the first of them at `origin` as the assembly lies."""

    origin: complex
    corners: tuple[SetCorner, ...]
    closed: bool

    @property
    def measures(self) -> tuple[CheckMeasure, ...]:
        """What proves the shape beside the sides: the diagonals of four corners, a fan of few, some across many."""
        count = len(self.corners)
        if count < 3 or (count == 3 and self.closed):
            return ()
        return tuple(self._measure(a, b) for a, b in _pairs(count, self.closed))

    @property
    def lean(self) -> float | None:
        """How far the corner that moves most is out, degrees, where the diagonals of four differ by 1 mm too much.

        While all sides keep their lengths the angles change as the areas of the triangles that the other three corners
        make, one after the other with opposite signs, and a diagonal by twice the area of its triangle over its length.
        None for any other number of corners.
        """
        return max(self.leans, default=None)

    @property
    def leans(self) -> tuple[float, ...]:
        """How far each corner of four is out, degrees, where their diagonals differ by 1 mm too much; () of others."""
        if not self.closed or len(self.corners) != 4:
            return ()
        a, b, c, d = (corner.over for corner in self.corners)
        abc, bcd, cda, dab = _area(a, b, c), _area(b, c, d), _area(c, d, a), _area(d, a, b)
        differs = 2 * abc * cda / abs(c - a) + 2 * dab * bcd / abs(d - b)
        return tuple(degrees(area / differs) for area in (bcd, cda, dab, abc))

    def _measure(self, a: int, b: int) -> CheckMeasure:
        start, corner, end = (self.corners[i].over for i in (a, b - 1, b))
        length = abs(end - start)
        return CheckMeasure(a + 1, b + 1, length, b, degrees(length / (2 * _area(start, corner, end))))


def _area(a: complex, b: complex, c: complex) -> float:
    """The area of a triangle, mm2."""
    return abs(((b - a).conjugate() * (c - a)).imag) / 2


def setting_out(assembly: Assembly) -> SettingOut | None:
    """How a frame that was solved as a ring is set out; None for any other."""
    ring = assembly.ring
    if ring is None or len(assembly.places) != len(assembly.order):
        return None
    found = list(_corners(assembly, ring))
    first = min(range(len(found)), key=lambda i: _leftmost_low(found[i])) if ring.closed else 0
    origin = found[first].at
    turned = enumerate([*found[first:], *found[:first]], 1)
    corners = (attrs.evolve(one, number=n, at=one.at - origin, over=one.over - origin) for n, one in turned)
    return SettingOut(origin, tuple(corners), ring.closed)


def _pairs(count: int, closed: bool) -> Iterator[tuple[int, int]]:
    if count > FEW:
        apart = max(1, -(-count // (2 * _ACROSS)))
        yield from ((i, i + count // 2) for i in range(0, count - count // 2, apart))
        return
    last = count - 1 if closed else count
    yield from ((0, i) for i in range(2, last))
    if closed:
        yield 1, count - 1


def _leftmost_low(corner: SetCorner) -> tuple[float, float]:
    """Nearest to the lower left: by x + y to a hundredth of a mm, then by x."""
    return round(corner.at.real + corner.at.imag, 2), corner.at.real


def _corners(assembly: Assembly, ring: Ring) -> Iterator[SetCorner]:
    """Every corner, the one before the first side first; an open frame ends with a free end."""
    count = len(assembly.order)
    for i in range(count if ring.closed else count + 1):
        if ring.closed or 0 < i < count:
            yield _joined(assembly, ring, (i - 1) % count)
        else:
            yield _free(assembly, i)


def _free(assembly: Assembly, i: int) -> SetCorner:
    """The outer end of an open frame before side i."""
    last = len(assembly.order)
    at = assembly.edges[0][1] if i == 0 else assembly.edges[last - 1][2]
    before, after = ("", assembly.order[0]) if i == 0 else (assembly.order[last - 1], "")
    return SetCorner(0, at, at, before, after, None, None, 0.0)


def _joined(assembly: Assembly, ring: Ring, i: int) -> SetCorner:
    """The corner of the joint after side i."""
    after = (i + 1) % len(assembly.order)
    end, start = assembly.edges[i][2], assembly.edges[after][1]
    joint = assembly.joints[i]
    at = _crossing(end, ring.sides[i], start, ring.sides[after])
    over = _over(joint, end, start)
    return SetCorner(0, at, over, assembly.order[i], assembly.order[after], i, ring.angle(i), joint.gap, joint.kind)


def _over(joint: Joint, end: complex, start: complex) -> complex:
    """Where a tape lies over a joint: between both points, or at the end of the member that runs through."""
    if joint.kind == MITER:
        return (end + start) / 2
    return end if joint.kind == FIRST_THROUGH else start


def _crossing(a: complex, along_a: complex, b: complex, along_b: complex) -> complex:
    """Where two outer edges cross; none of a frame run straight on."""
    return a + ((b - a).conjugate() * along_b).imag / (along_a.conjugate() * along_b).imag * along_a
