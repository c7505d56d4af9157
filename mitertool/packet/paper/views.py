"""A section, a face or a piece as a drawing in its own mm: views by the rules of projection, arcs exact."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import degrees, pi
from typing import Final

import attrs

from mitertool.base.tolerances import COINCIDENT
from mitertool.cut import Face
from mitertool.cut.plane import CutPlane
from mitertool.drawing import HIDDEN, OUTLINE, THIN, Arc, Drawing, EllipseArc, Layer, Line, Point
from mitertool.drawing.checks import Entity
from mitertool.drawing.vectors import Similarity
from mitertool.geometry import Arc as SectionArc
from mitertool.geometry import EllipseArc as FaceArc
from mitertool.geometry import FaceLine, Region, Segment, image_of
from mitertool.geometry import Line as SectionLine
from mitertool.geometry.roof import Facet, Slant
from mitertool.geometry.sight import edges, rim, roundings
from mitertool.piece import Piece
from mitertool.sections import Section

_ROUND: Final = 1e-9
"""Slopes and lengths (mm) below this are nothing."""

_THINNEST: Final = 1e-6
"""The least ratio of the axes of an ellipse in DXF (group code 40)."""


def end_view(section: Section) -> Drawing:
    """The section in true shape: y to the right, z up."""
    return Drawing(_section_entity(s, OUTLINE) for loop in section.region.loops for s in loop)


def face_view(cut: CutPlane, section: Section, region: Region | None = None) -> Drawing:
    """The face of a cut in true shape: along the blade to the right, up the face upward.

    `region` is the part of the section that the face covers, all of it where it is not given.
    """
    face = Face(section, cut)
    outline = face.outline if region is None else face.outline_of(region)
    return Drawing(face_entity(part, OUTLINE) for loop in outline for part in loop)


def top_view(piece: Piece) -> Drawing:
    """The piece seen from above: x to the right, y up, the moving side at the top of the picture."""
    return _side_of(piece, piece.section.region, lambda slant, region: Facet(slant, region))


def front_view(piece: Piece) -> Drawing:
    """The piece seen from the fixed jaw's side of the bed: x to the right, z up."""

    def looked(slant: Slant, region: Region) -> Facet:
        return Facet(Slant(slant.q, -slant.p, slant.o), region.turned(-pi / 2))

    return _side_of(piece, piece.section.region.turned(-pi / 2), looked)


def x_left(piece: Piece, y: float, z: float) -> float:
    """Where the left end crosses the line at (y, z), mm."""
    return -piece.end_roof("left").at(y, z)


def x_right(piece: Piece, y: float, z: float) -> float:
    """Where the right end crosses the line at (y, z), mm."""
    return piece.end_roof("right").at(y, z, piece.s)


def extreme_places(piece: Piece) -> tuple[Point, Point]:
    """(y, z) of the long and of the short point's line; on the middle where all lines are alike."""
    section = piece.section
    if not piece.further and abs(piece.p) + abs(piece.q) < _ROUND:
        return (section.width, section.height / 2), (0.0, section.height / 2)
    return piece.long_place, piece.short_place


def _side_of(piece: Piece, region: Region, looked: Callable[[Slant, Region], Facet]) -> Drawing:
    """A view with x to the right and a up: what is seen solid, what is hidden dashed.

    `region` is the section in (a, u), across the picture and toward the eye; `looked` turns faces the same way.
    """
    ends = [
        _End(base, way, tuple(looked(facet.slant, facet.region) for facet in piece.end_roof(end).facets))
        for end, base, way in (("left", 0.0, -1.0), ("right", piece.s, 1.0))
    ]
    faces = (part for end in ends for part in _faces(region, end))
    return Drawing([*_long_edges(region, *ends), *faces])


@attrs.frozen
class _End:
    """An end by its faces in (a, u); x is `base` and, the `way` of the end along the bar, how far it stands out."""

    base: float
    way: float
    faces: tuple[Facet, ...]

    def x(self, place: Point) -> float:
        """Where the end crosses the line at a place (a, u)."""
        return self.base + self.way * min(face.slant.at(*place) for face in self.faces)

    def borders(self, face: Facet, segment: Segment) -> bool:
        """Whether a line of a face is where another face of the end begins, and not of the section's outline."""
        middle = tuple((a + b) / 2 for a, b in zip(segment.start, segment.end, strict=True))
        places = (segment.start, (middle[0], middle[1]), segment.end)
        others = (other.slant for other in self.faces if other is not face)
        if not isinstance(segment, SectionLine):
            return False
        return any(all(abs(o.at(*at) - face.slant.at(*at)) < COINCIDENT for at in places) for o in others)


def _long_edges(region: Region, left: _End, right: _End) -> Iterator[Entity]:
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


def _faces(region: Region, end: _End) -> Iterator[Entity]:
    """The faces of an end: a line where one is seen edge-on, else its outline, partly hidden when turned away.

    Where two faces meet the line is seen; it belongs to both and is drawn once.
    """
    shared: set[tuple[float, ...]] = set()
    for face in end.faces:
        a, u, o = (end.way * share for share in (face.slant.p, face.slant.q, face.slant.o))
        start = end.base + o
        at = Similarity(shift=(start, 0.0))
        if _edge_on(face.slant):
            low, _, most, _ = face.region.bounds
            yield Line((start + a * low, low + 0.0), (start + a * most, most), OUTLINE)
            continue
        borders = [segment for segment in face.region.segments if end.borders(face, segment)]
        own = tuple(segment for segment in face.region.segments if segment not in borders)
        parts = rim(region, own) if face.slant.q > 0 else ((segment, True) for segment in own)
        for segment, seen in (*parts, *((border, True) for border in borders if _first(border, shared))):
            layer = OUTLINE if seen else HIDDEN
            yield face_entity(image_of(segment, (a, u, 1.0, 0.0)), layer).under(at)


def _edge_on(slant: Slant) -> bool:
    """Whether a face is seen as a line; a DXF ellipse has a ratio of at least 1e-6."""
    return abs(slant.q) < _THINNEST * (1 + slant.p**2 + slant.q**2)


def _first(segment: Segment, met: set[tuple[float, ...]]) -> bool:
    """Whether a line is met for the first time, walked either way; it is then among those met."""
    ends = sorted((segment.start, segment.end))
    key = tuple(round(value, 6) for end in ends for value in end)
    if key in met:
        return False
    met.add(key)
    return True


def _section_entity(segment: Segment, layer: Layer) -> Entity:
    if isinstance(segment, SectionArc):
        return Arc(segment.center, segment.radius, degrees(segment.begin), degrees(segment.sweep), layer)
    return Line(segment.start, segment.end, layer)


def face_entity(part: FaceLine, layer: Layer) -> Entity:
    """A line or elliptic arc of a face on a layer."""
    if isinstance(part, FaceArc):
        return EllipseArc(part.center, part.major, part.ratio, part.start, part.sweep, layer)
    return Line(part.start, part.end, layer)
