"""Butted corners drawn so that the seam shows which piece runs through, large, and small; knows frames. Paper mm."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import Final

import attrs

from mitertool.drawing import FILL, OUTLINE, THIN, Drawing, Entity, Line, Point, Polygon, Text
from mitertool.frame import Assembly
from mitertool.frame.joints import FIRST_THROUGH, MITER
from mitertool.frame.setting_out import SetCorner, SettingOut
from mitertool.geometry.near import low_and_size
from mitertool.packet.paper.layout import Anchor
from mitertool.words import phrase

_ROOM: Final = 19.0
_STUB: Final = 2.6
"""mm of a corner on paper, and in widths of its wider piece how much of either is drawn."""

SIGN: Final = 5.0
"""mm of a corner as it stands in its row."""

_LETTERS: Final = 2.8
_OFF: Final = 1.4
"""mm of a mark, and between it and the end of its piece."""


@attrs.frozen
class Seam:
    """A butted corner of a frame: its number, the marks before and after it, and the outlines of what is drawn of them.

    Each outline runs from where the stub is broken off along the inner edge, over the end, back along the outer one;
    x + iy, mm.
    """

    number: int
    marks: tuple[str, str]
    stubs: tuple[tuple[complex, complex, complex, complex], ...]

    @property
    def title(self) -> str:
        """Which corner it is."""
        return phrase("frame.seam", number=self.number)


def seams(assembly: Assembly, out: SettingOut | None) -> tuple[Seam, ...]:
    """The butted corners of a frame, of those at which one mark runs through for another the first."""
    found: dict[tuple[str, str], Seam] = {}
    for corner in out.corners if out else ():
        if corner.kind != MITER:
            found.setdefault(_in_turn(corner), _seam(assembly, corner))
    return tuple(found.values())


def seam_sign(assembly: Assembly, corner: SetCorner) -> Drawing:
    """A butted corner as small as fits a row, from (0, 0) on: the piece that runs through dark; nothing if mitered."""
    if corner.kind == MITER:
        return Drawing()
    stubs = _placed(_seam(assembly, corner), SIGN)
    dark, light = stubs if corner.kind == FIRST_THROUGH else stubs[::-1]
    shades = ((light, 1.0), (dark, 0.55))
    return Drawing(Polygon(_points(stub), THIN, shade) for stub, shade in shades).moved(SIGN / 2, 0.0)


def _in_turn(corner: SetCorner) -> tuple[str, str]:
    """The mark that runs through, then the one that butts."""
    first, other = corner.before, corner.after
    return (first, other) if corner.kind == FIRST_THROUGH else (other, first)


def _seam(assembly: Assembly, corner: SetCorner) -> Seam:
    before = corner.joint or 0
    after = (before + 1) % len(assembly.order)
    _, far, outer, inner = assembly.edges[before]
    ends = [(inner, outer, _way(outer, far))]
    inner, outer, far, _ = assembly.edges[after]
    ends.append((inner, outer, _way(outer, far)))
    long = _STUB * max(abs(((inner - outer) * way.conjugate()).imag) for inner, outer, way in ends)
    return Seam(corner.number, (corner.before, corner.after), tuple(_stub(*one, long) for one in ends))


def _way(start: complex, end: complex) -> complex:
    return (end - start) / abs(end - start)


def _stub(inner: complex, outer: complex, way: complex, long: float) -> tuple[complex, complex, complex, complex]:
    """What is drawn of a piece from one of its ends on its way, `long` mm of its outer edge, broken off square."""
    back = ((inner - outer) * way.conjugate()).real
    return inner + (long - back) * way, inner, outer, outer + long * way


def seam_drawing(seam: Seam) -> Drawing:
    """The two stubs with their marks, in the box above y = 0 about x = 0."""
    stubs = _placed(seam, _ROOM)
    return Drawing(part for mark, stub in zip(seam.marks, stubs, strict=True) for part in _drawn(mark, stub))


def _placed(seam: Seam, room: float) -> list[tuple[complex, ...]]:
    """The stubs in a square above y = 0 about x = 0, mm of paper."""
    low, size = low_and_size(point for stub in seam.stubs for point in stub)
    k = room / max(size.real, size.imag)
    return [tuple((point - low - size.real / 2) * k for point in stub) for stub in seam.stubs]


def _points(stub: tuple[complex, ...]) -> list[Point]:
    return [(point.real, point.imag) for point in stub]


def _drawn(mark: str, stub: tuple[complex, ...]) -> Iterator[Entity]:
    """A stub that is open where it is broken off, and its mark there."""
    points = _points(stub)
    yield Polygon(points, FILL, 0.93)
    yield from (Line(a, b, OUTLINE) for a, b in pairwise(points))
    inner_far, inner, _, outer_far = stub
    way = _way(inner, inner_far)
    at = (inner_far + outer_far) / 2 + _OFF * way
    level = abs(way.real) > abs(way.imag)
    anchor: Anchor = "center" if not level else "left" if way.real > 0 else "right"
    down = _LETTERS / 2 if level else 0.0 if way.imag > 0 else _LETTERS
    yield Text((at.real, at.imag - down), mark, _LETTERS, anchor)
