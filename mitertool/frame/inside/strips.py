"""A straight bar laid through a cell, and the piece of it that stands there, cut to what it meets; knows pieces.

A strip has its own directions: x along it from `at`, y from its right edge (0) to its left one, the moving side.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import atan, degrees, hypot, inf, radians, tan
from typing import Final

import attrs

from mitertool.base.tolerances import CLOSES, CROSSING, LEAST_CORNER, SAME_SLOPE
from mitertool.cut import Cut
from mitertool.cut.ends import End, Further
from mitertool.frame.inside.cells import Cell
from mitertool.geometry.roof import Roof, Slant
from mitertool.piece import Piece
from mitertool.piece.piece import given
from mitertool.piece.poses import EndCuts
from mitertool.sections import Section

_STEEPEST: Final = tan(radians(90 - LEAST_CORNER))
"""The slope of the steepest cut: members that meet at less than a least corner do not end on each other."""


@attrs.frozen
class Strip:
    """A bar without ends: a point of its right edge, its direction (a complex number of length 1), its section.

    Its left and right end may be cut `square`, as far out as no corner of them runs into what they come to.
    """

    at: complex
    way: complex
    section: Section
    square: tuple[bool, bool] = (False, False)

    def own(self, point: complex) -> complex:
        """A point in the strip's own directions."""
        return (point - self.at) / self.way

    def there(self, point: complex) -> complex:
        """A point of the strip in those of the frame."""
        return self.at + self.way * point

    def parts(self, cell: Cell, owner: int) -> Iterator[Cell]:
        """What is left of a cell on both sides of it."""
        left = cell.left_of(self.there(complex(0, self.section.width)), self.way, owner)
        right = cell.left_of(self.at, -self.way, owner)
        yield from (one for one in (left, right) if one)


@attrs.frozen
class EndFace:
    """One plane of an end as it stands out along the strip, and the member that it lies on."""

    slant: Slant
    owner: int


@attrs.frozen
class Fitted:
    """A piece in its strip: `start` is the middle of its left end, as the frame lies; its faces by their ends."""

    strip: Strip
    piece: Piece
    start: complex
    left: tuple[EndFace, ...]
    right: tuple[EndFace, ...]


def lying_in(strip: Strip, cell: Cell, gap: float = 0.0) -> Fitted | None:
    """The piece of a strip in a cell, `gap` mm off what it meets; None where it has no room in its whole width."""
    local = [(strip.own(edge.start), strip.own(edge.end), edge.owner) for edge in cell.edges]
    width = strip.section.width
    if min(a.imag for a, _, _ in local) > CLOSES or max(a.imag for a, _, _ in local) < width - CLOSES:
        return None
    left = [face for a, b, owner in local for face in _face(a, b, owner, width, gap, -1)]
    right = [face for a, b, owner in local for face in _face(a, b, owner, width, gap, 1)]
    if not left or not right or any(abs(face.slant.p) > _STEEPEST for face in (*left, *right)):
        return None
    ends = (
        _squared(faces, width) if square else _working(strip.section, faces)
        for faces, square in zip((left, right), strip.square, strict=True)
    )
    return _lying(strip, *ends)


def _face(a: complex, b: complex, owner: int, width: float, gap: float, side: int) -> Iterator[EndFace]:
    """The plane of an edge that ends the strip to this side (1 right, -1 left); an edge that passes it by has none."""
    low, high = sorted((a.imag, b.imag))
    if min(high, width) - max(low, 0.0) <= CLOSES or (b.imag - a.imag) * side <= 0:
        return
    slope = (b - a).real / (b - a).imag
    out = side * (a.real - a.imag * slope) - gap * hypot(1, slope)
    yield EndFace(Slant(side * slope if abs(slope) > SAME_SLOPE else 0.0, 0.0, out), owner)


def _squared(faces: Sequence[EndFace], width: float) -> tuple[EndFace, ...]:
    """The square face at which the first corner of the bar comes to one of these."""
    out, owner = min((face.slant.at(y, 0.0), face.owner) for face in faces for y in (0.0, width))
    return (EndFace(Slant(0.0, 0.0, out), owner),)


def _working(section: Section, faces: Sequence[EndFace]) -> tuple[EndFace, ...]:
    """The faces that end the steel anywhere, the flattest of them first, which parts the bar."""
    working = {facet.slant for facet in Roof(section.region, tuple(face.slant for face in faces)).facets}
    found = sorted((face for face in faces if face.slant in working), key=lambda face: abs(face.slant.p))
    return tuple({face.slant: face for face in found}.values())


def _lying(strip: Strip, left: tuple[EndFace, ...], right: tuple[EndFace, ...]) -> Fitted | None:
    middle = strip.section.width / 2
    low, high = (min((face.slant.at(middle, 0.0) for face in end), default=inf) for end in (left, right))
    shape = Roof(strip.section.region, tuple(a.slant.plus(b.slant) for a in left for b in right))
    if shape.lowest < -CROSSING or low + high <= CROSSING:
        return None
    piece = Piece(strip.section, low + high, _end(strip.section, left), _end(strip.section, right), at="centerline")
    return Fitted(strip, piece, strip.there(complex(-low, middle)), left, right)


def _end(section: Section, faces: Sequence[EndFace]) -> End:
    return given(_cuts(section, faces))


def _cuts(section: Section, end: Sequence[EndFace]) -> EndCuts:
    """The cuts of an end; each further one meets the first where both planes cross."""
    first, *further = (face.slant for face in end)
    cut = _cut(first)
    return cut, tuple(
        Further(_cut(one), ((one.o - first.o) / (first.p - one.p), section.height / 2)) for one in further
    )


def _cut(slant: Slant) -> Cut:
    return Cut(degrees(atan(slant.p)))
