"""A section, a face or a piece as a drawing in its own mm: views by the rules of projection, arcs exact."""

from __future__ import annotations

from collections.abc import Iterable
from math import degrees

from mitertool.cut import Cut
from mitertool.drawing import HIDDEN, OUTLINE, Arc, Drawing, EllipseArc, Layer, Line, Point
from mitertool.drawing.checks import Entity
from mitertool.geometry import Arc as SectionArc
from mitertool.geometry import EllipseArc as FaceArc
from mitertool.geometry import FaceLine, Segment, image_of
from mitertool.geometry import Line as SectionLine
from mitertool.geometry.ellipse import LinearMap
from mitertool.piece import Piece
from mitertool.sections import Section

_ROUND = 1e-9
"""An ellipse whose axes differ by less than this share is drawn as a circle."""


def end_view(section: Section) -> Drawing:
    """The section in true shape: y to the right, z up."""
    return Drawing(_section_entity(s, OUTLINE) for loop in section.region.loops for s in loop)


def face_view(cut: Cut, section: Section) -> Drawing:
    """The face of a cut in true shape: along the blade to the right, up the face upward."""
    return Drawing(_face_entity(part, OUTLINE) for loop in cut.face(section).outline for part in loop)


def top_view(piece: Piece) -> Drawing:
    """The piece seen from above: x to the right, y up, the moving side at the top of the picture."""
    edges = _long_edges(piece, looking="down")
    return Drawing([*edges, *_end(piece, "left", (0.0, 1.0)), *_end(piece, "right", (0.0, 1.0))])


def front_view(piece: Piece) -> Drawing:
    """The piece seen from the fixed jaw's side of the bed: x to the right, z up."""
    edges = _long_edges(piece, looking="across")
    return Drawing([*edges, *_end(piece, "left", (1.0, 0.0)), *_end(piece, "right", (1.0, 0.0))])


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


def _long_edges(piece: Piece, looking: str) -> Iterable[Entity]:
    """Edges that run along the bar: the outermost ones solid, the others dashed."""
    level = 0 if looking == "down" else 1
    most = piece.section.width if looking == "down" else piece.section.height
    drawn: set[float] = set()
    for y, z in _edge_places(piece.section, level):
        at = y if looking == "down" else z
        if round(at, 6) in drawn:
            continue
        drawn.add(round(at, 6))
        outer = at < 1e-6 or at > most - 1e-6
        yield Line((x_left(piece, y, z), at), (x_right(piece, y, z), at), OUTLINE if outer else HIDDEN)


def _edge_places(section: Section, level: int) -> Iterable[Point]:
    """Places (y, z) of the outline seen as an edge along the bar: extremes first, then faces seen edge-on."""
    across, up = ((1.0, 0.0), (-1.0, 0.0)) if level == 0 else ((0.0, 1.0), (0.0, -1.0))
    yield section.support_point(*across)
    yield section.support_point(*up)
    for segment in section.region.segments:
        if isinstance(segment, SectionLine):
            if abs(segment.start[level] - segment.end[level]) < 1e-9:
                yield max(segment.start, segment.end, key=lambda point: point[1 - level])
        else:
            yield from (segment.support_point(*way) for way in (across, up) if _turns(segment, way))


def _turns(arc: SectionArc, way: Point) -> bool:
    """Whether the arc has a tangent square to `way` inside, as the bore of a round tube has."""
    point = arc.support_point(*way)
    return abs(point[0] - arc.center[0] - way[0] * arc.radius) + abs(point[1] - arc.center[1]) * abs(way[0]) < 1e-9


def _end(piece: Piece, end: str, flat: Point) -> Iterable[Entity]:
    """An end of the piece projected; `flat` is (dz-share, dy-share) of the upward axis of the view."""
    cut = piece.left if end == "left" else piece.right
    sign, shift = (-1.0, 0.0) if end == "left" else (1.0, piece.s)
    up_z, up_y = flat
    linear: LinearMap = (sign * cut.p, sign * cut.q, up_y, up_z)
    if abs(linear[0] * linear[3] - linear[1] * linear[2]) < _ROUND:
        yield _edge_on(piece, sign, shift, up_y)
        return
    for loop in piece.section.region.loops:
        for segment in loop:
            yield _shifted(image_of(segment, linear), shift)


def _edge_on(piece: Piece, sign: float, shift: float, up_y: float) -> Line:
    section = piece.section
    cut = piece.left if sign < 0 else piece.right
    slope, most = (cut.p, section.width) if up_y else (cut.q, section.height)
    return Line((shift, 0.0), (shift + sign * slope * most, most), OUTLINE)


def _shifted(part: FaceLine, dx: float) -> Entity:
    if isinstance(part, SectionLine):
        return Line((part.start[0] + dx, part.start[1]), (part.end[0] + dx, part.end[1]), OUTLINE)
    center = (part.center[0] + dx, part.center[1])
    return EllipseArc(center, part.major, part.ratio, part.start, part.sweep, OUTLINE)


def _section_entity(segment: Segment, layer: Layer) -> Entity:
    if isinstance(segment, SectionArc):
        return Arc(segment.center, segment.radius, degrees(segment.begin), degrees(segment.sweep), layer)
    return Line(segment.start, segment.end, layer)


def _face_entity(part: FaceLine, layer: Layer) -> Entity:
    if isinstance(part, FaceArc):
        return EllipseArc(part.center, part.major, part.ratio, part.start, part.sweep, layer)
    return Line(part.start, part.end, layer)
