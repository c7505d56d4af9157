"""Outlines out of DXF files: closed loops of lines and arcs, the outer one first; knows DXF files and nesting."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import islice, pairwise
from math import hypot, pi, radians
from pathlib import Path
from typing import Any, Final

import attrs
from ezdxf import edgeminer

from mitertool.base.errors import BadInput
from mitertool.base.tolerances import CHORD_ERROR, COINCIDENT, LARGEST_SECTION, SNAP
from mitertool.geometry.dxf_file import entities, opened, refuse_ends, refuse_slope
from mitertool.geometry.dxf_units import DxfUnit
from mitertool.geometry.nesting import nested
from mitertool.geometry.region import Loop, Region
from mitertool.geometry.segments import Arc, Line, Point, Segment
from mitertool.quantity.keys import exact
from mitertool.words import phrase

_READ: Final = ("LINE", "ARC", "CIRCLE", "LWPOLYLINE", "POLYLINE", "SPLINE", "ELLIPSE")

_MOST: Final = 2000
"""Segments of an outline: the blade is followed along each of them, and curves drawn as arcs need few."""


@attrs.frozen
class DrawnOutline:
    """The region (mm) that was drawn, and the unit that its drawing is in."""

    region: Region
    unit: DxfUnit


def read_outline(path: Path, unit: str | None = None, layer: str | None = None) -> Region:
    """The region of `drawn_outline`."""
    return drawn_outline(path, unit, layer).region


def drawn_outline(path: Path, unit: str | None = None, layer: str | None = None) -> DrawnOutline:
    """What the closed outlines of a DXF file bound: one outer loop and its holes.

    Lines, arcs, circles and polylines with bulge are exact; splines and ellipses are flattened with a chord error
    of at most `CHORD_ERROR`. `unit` ("mm" or "in") serves where the file states none and must not gainsay it; `layer`
    picks one layer. Raises `BadInput` naming the place of an open end, a branch, a crossing, a loop nested twice, or a
    height that differs from the first.
    """
    space, drawn_in = opened(path, unit)
    scale = drawn_in.length
    try:
        drawn = list(entities(space, _READ, layer))
        segments = _all_segments(drawn, scale)
        if segments:
            refuse_slope(drawn, scale)
            return DrawnOutline(nested(_loops(segments)), drawn_in)
    except BadInput as error:
        raise error.at(path.name) from None
    allowed = phrase("refuse.no-outline/layer" if layer else "refuse.no-outline", kinds=", ".join(_READ), layer=layer)
    raise BadInput(phrase("what.outline"), path.name, allowed)


def _all_segments(drawn: Sequence[Any], scale: float) -> list[Segment]:
    """Raises `BadInput` where they are too many."""
    found = list(islice((s for entity in drawn for s in _segments(entity, scale)), _MOST + 1))
    if len(found) > _MOST:
        told = phrase("found.more-than", count=_MOST)
        raise BadInput(phrase("what.outline"), told, phrase("refuse.segments", most=_MOST))
    return found


def refuse_huge(size: float, *where: str) -> None:
    """Raise `BadInput` where an outline goes so far (mm) that no vise holds it."""
    if not size <= LARGEST_SECTION:
        raise BadInput(phrase("what.outline"), exact(size), exact(LARGEST_SECTION, "refuse.huge-outline"), where)


def _segments(entity: Any, scale: float) -> Iterator[Segment]:
    kind = entity.dxftype()
    if kind == "LINE":
        yield from _line(entity.dxf.start, entity.dxf.end, scale)
    elif kind == "CIRCLE":
        yield Arc(_point(entity.dxf.center, scale), entity.dxf.radius * scale, 0.0, 2 * pi)
    elif kind == "ARC":
        begin, finish = radians(entity.dxf.start_angle), radians(entity.dxf.end_angle)
        sweep = (finish - begin) % (2 * pi) or 2 * pi
        yield Arc(_point(entity.dxf.center, scale), entity.dxf.radius * scale, begin, sweep)
    elif kind in ("LWPOLYLINE", "POLYLINE"):
        yield from _polyline(entity, scale)
    else:
        refuse_huge(_reach(entity) * scale)
        for start, end in pairwise(entity.flattening(CHORD_ERROR / scale)):
            yield from _line(start, end, scale)


def _reach(entity: Any) -> float:
    """Half the length of an ellipse, or how far the control points of a spline go along an axis, in drawing units."""
    if entity.dxftype() == "ELLIPSE":
        return float(entity.dxf.major_axis.magnitude)
    points = entity.construction_tool().control_points
    return float(max(max(values) - min(values) for values in zip(*points, strict=True)))


def _polyline(entity: Any, scale: float) -> Iterator[Segment]:
    for part in entity.virtual_entities():
        yield from _segments(part, scale)


def _line(start: Any, end: Any, scale: float) -> Iterator[Line]:
    a, b = _point(start, scale), _point(end, scale)
    if hypot(b[0] - a[0], b[1] - a[1]) > SNAP:
        yield Line(a, b)


def _point(vector: Any, scale: float) -> Point:
    return (vector.x * scale, vector.y * scale)


def _loops(segments: Sequence[Segment]) -> list[Loop]:
    """Segments joined end to end into closed loops, in the order met, each end used once."""
    circles = [(s,) for s in segments if isinstance(s, Arc) and abs(s.sweep) >= 2 * pi]
    open_ones = [s for s in segments if not (isinstance(s, Arc) and abs(s.sweep) >= 2 * pi)]
    return [*circles, *(_joined(open_ones) if open_ones else ())]


def _joined(segments: Sequence[Segment]) -> Iterator[Loop]:
    edges = [edgeminer.make_edge(s.start, s.end, payload=s) for s in segments]
    deposit = edgeminer.Deposit(edges, gap_tol=SNAP)
    refuse_ends(deposit, "outline")
    for chain in edgeminer.find_all_simple_chains(deposit):
        parts = [edge.payload.reversed() if edge.is_reverse else edge.payload for edge in chain]
        yield tuple(_bridged(parts))


def _bridged(parts: Sequence[Segment]) -> Iterator[Segment]:
    """The segments with the small gaps between them closed: lines run to where they meet, arcs stay as they are."""
    meets = [_meeting(part, after) for part, after in zip(parts, [*parts[1:], parts[0]], strict=True)]
    for i, part in enumerate(parts):
        yield Line(meets[i - 1], meets[i]) if isinstance(part, Line) else part
        begin = parts[(i + 1) % len(parts)].start
        if isinstance(part, Arc) and hypot(begin[0] - part.end[0], begin[1] - part.end[1]) > COINCIDENT:
            yield Line(part.end, begin)


def _meeting(part: Segment, after: Segment) -> Point:
    """Where a segment and the one after it meet: at the end of an arc, which cannot be moved."""
    return after.start if isinstance(after, Arc) and isinstance(part, Line) else part.end
