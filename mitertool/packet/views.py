"""A section, a face or a piece as a drawing in its own mm: views by the rules of projection, arcs exact."""

from __future__ import annotations

from collections.abc import Iterator
from math import degrees, pi
from typing import Final

import attrs

from mitertool.cut import Cut
from mitertool.drawing import HIDDEN, OUTLINE, THIN, Arc, Drawing, EllipseArc, Layer, Line, Point
from mitertool.drawing.checks import Entity
from mitertool.geometry import Arc as SectionArc
from mitertool.geometry import EllipseArc as FaceArc
from mitertool.geometry import FaceLine, Region, Segment, image_of
from mitertool.geometry.ellipse import LinearMap
from mitertool.packet.sight import edges, rim, roundings
from mitertool.piece import Piece
from mitertool.sections import Section

_ROUND: Final = 1e-9
"""Slopes and lengths (mm) below this are nothing."""

_THINNEST: Final = 1e-6
"""The least ratio of the axes of an ellipse in DXF (group code 40)."""


def end_view(section: Section) -> Drawing:
    """The section in true shape: y to the right, z up."""
    return Drawing(_section_entity(s, OUTLINE) for loop in section.region.loops for s in loop)


def face_view(cut: Cut, section: Section) -> Drawing:
    """The face of a cut in true shape: along the blade to the right, up the face upward."""
    return Drawing(face_entity(part, OUTLINE) for loop in cut.face(section).outline for part in loop)


def top_view(piece: Piece) -> Drawing:
    """The piece seen from above: x to the right, y up, the moving side at the top of the picture."""
    return _side_of(piece, _Look(piece.section.region, piece.left.p, piece.left.q, piece.right.p, piece.right.q))


def front_view(piece: Piece) -> Drawing:
    """The piece seen from the fixed jaw's side of the bed: x to the right, z up."""
    toward_the_eye = piece.section.region.turned(-pi / 2)
    return _side_of(piece, _Look(toward_the_eye, piece.left.q, -piece.left.p, piece.right.q, -piece.right.p))


def x_left(piece: Piece, y: float, z: float) -> float:
    """Where the left cut crosses the line at (y, z), mm."""
    return -piece.left.p * y - piece.left.q * z


def x_right(piece: Piece, y: float, z: float) -> float:
    """Where the right cut crosses the line at (y, z), mm."""
    return piece.s + piece.right.p * y + piece.right.q * z


def extreme_places(piece: Piece) -> tuple[Point, Point]:
    """(y, z) of the long and of the short point's line; on the middle where all lines are alike."""
    section = piece.section
    if abs(piece.p) + abs(piece.q) < _ROUND:
        return (section.width, section.height / 2), (0.0, section.height / 2)
    return section.support_point(piece.p, piece.q), section.support_point(-piece.p, -piece.q)


@attrs.frozen
class _Look:
    """The outline in (a, u), across the picture and toward the eye, and the slopes of both cuts in a and in u."""

    region: Region
    left_a: float
    left_u: float
    right_a: float
    right_u: float


def _side_of(piece: Piece, look: _Look) -> Drawing:
    """A view with x to the right and a up: what is seen solid, what is hidden dashed."""
    ends = [_Slope(0.0, -look.left_a, -look.left_u), _Slope(piece.s, look.right_a, look.right_u)]
    away = (look.left_u > 0, look.right_u > 0)
    rims = (part for end, turned in zip(ends, away, strict=True) for part in _end(look.region, end, turned))
    return Drawing([*_long_edges(look.region, *ends), *rims])


@attrs.frozen
class _Slope:
    """A cut as x = start + a_share*a + u_share*u."""

    start: float
    a_share: float
    u_share: float

    def x(self, place: Point) -> float:
        """Where the cut crosses the line at a place (a, u)."""
        return self.start + self.a_share * place[0] + self.u_share * place[1]

    @property
    def edge_on(self) -> bool:
        """Whether the face is seen as a line; a DXF ellipse has a ratio of at least 1e-6."""
        return abs(self.u_share) < _THINNEST * (1 + self.a_share**2 + self.u_share**2)


def _long_edges(region: Region, left: _Slope, right: _Slope) -> Iterator[Entity]:
    """Edges that run along the bar; of those that lie behind one another only what shows beyond the front one."""
    spans: dict[float, dict[bool, tuple[float, float]]] = {}
    for first, last, seen in edges(region):
        found = spans.setdefault(round(first[0], 6), {})
        x0, x1 = min(left.x(first), left.x(last)), max(right.x(first), right.x(last))
        was = found.get(seen, (x0, x1))
        found[seen] = (min(was[0], x0), max(was[1], x1))
    for a, found in spans.items():
        for layer, (x0, x1) in _shown(found):
            yield Line((x0, a), (x1, a), layer)
    for place in roundings(region):
        yield Line((left.x(place), place[0]), (right.x(place), place[0]), THIN)


def _shown(found: dict[bool, tuple[float, float]]) -> Iterator[tuple[Layer, tuple[float, float]]]:
    if True in found:
        yield OUTLINE, found[True]
    if False in found:
        x0, x1 = found[False]
        y0, y1 = found.get(True, (x1, x1))
        beyond = ((x0, min(x1, y0)), (max(x0, y1), x1))
        yield from ((HIDDEN, span) for span in beyond if span[1] - span[0] > _ROUND)


def _end(region: Region, end: _Slope, away: bool) -> Iterator[Entity]:
    """The rim of an end: a line where its face is seen edge-on, else its outline, partly hidden when turned away."""
    if end.edge_on:
        _, _, most, _ = region.bounds
        yield Line((end.start, 0.0), (end.start + end.a_share * most, most), OUTLINE)
        return
    linear: LinearMap = (end.a_share, end.u_share, 1.0, 0.0)
    parts = rim(region) if away else ((segment, True) for segment in region.segments)
    for segment, seen in parts:
        layer = OUTLINE if seen else HIDDEN
        yield from Drawing([face_entity(image_of(segment, linear), layer)]).moved(end.start, 0.0).entities


def _section_entity(segment: Segment, layer: Layer) -> Entity:
    if isinstance(segment, SectionArc):
        return Arc(segment.center, segment.radius, degrees(segment.begin), degrees(segment.sweep), layer)
    return Line(segment.start, segment.end, layer)


def face_entity(part: FaceLine, layer: Layer) -> Entity:
    """A line or elliptic arc of a face on a layer."""
    if isinstance(part, FaceArc):
        return EllipseArc(part.center, part.major, part.ratio, part.start, part.sweep, layer)
    return Line(part.start, part.end, layer)
