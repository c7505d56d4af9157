"""Outlines out of DXF files: closed loops of lines and arcs, outer one first; the one place where DXF is read."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import hypot, pi, radians
from pathlib import Path
from typing import Any, Final

from mitertool.base.errors import BadInput
from mitertool.base.tolerances import CHORD_ERROR, SNAP
from mitertool.geometry.nesting import nested
from mitertool.geometry.region import Loop, Region
from mitertool.geometry.segments import Arc, Line, Point, Segment

_MM_PER_UNIT: Final = {1: 25.4, 2: 304.8, 4: 1.0, 5: 10.0, 6: 1000.0}
"""mm by the DXF header variable $INSUNITS: inches, feet, millimetres, centimetres, metres."""

_READ: Final = ("LINE", "ARC", "CIRCLE", "LWPOLYLINE", "POLYLINE", "SPLINE", "ELLIPSE")
_INSIDE: Final = ("INSERT",)


def read_outline(path: Path, unit: str | None = None, layer: str | None = None) -> Region:
    """The region that the closed outlines of a DXF file bound: one outer loop and its holes, mm.

    Lines, arcs, circles and polylines with bulge are exact; splines and ellipses are flattened with a chord error
    of at most `CHORD_ERROR`. `unit` ("mm" or "in") serves where the file states none; `layer` picks one layer.
    Raises `BadInput` naming the place of an open end, a branch, a crossing, or a loop nested twice.
    """
    document = _document(path)
    scale = _scale(document, unit, path)
    entities = _entities(document.modelspace(), layer)
    segments = [s for entity in entities for s in _segments(entity, scale)]
    if not segments:
        raise BadInput(
            "DXF outline", path.name, f"it holds none of {', '.join(_READ)}{f' on layer {layer}' if layer else ''}"
        )
    try:
        return nested(_loops(segments))
    except BadInput as error:
        raise error.at(path.name) from None


def _document(path: Path) -> Any:
    from ezdxf.filemanagement import readfile
    from ezdxf.lldxf.const import DXFError

    try:
        return readfile(path)
    except OSError as error:
        raise BadInput("DXF file", str(path), f"cannot be read: {error.strerror or 'it is not a DXF file'}") from error
    except (DXFError, UnicodeDecodeError, ValueError) as error:
        raise BadInput("DXF file", path.name, f"is not DXF: {error}") from error


def _scale(document: Any, unit: str | None, path: Path) -> float:
    stated = _MM_PER_UNIT.get(document.header.get("$INSUNITS", 0))
    if stated is not None:
        return stated
    if unit is None:
        raise BadInput("DXF units", path.name, "the file states no unit; say units = mm or in beside it")
    return 25.4 if unit == "in" else 1.0


def _entities(space: Any, layer: str | None) -> Iterator[Any]:
    for entity in space:
        if entity.dxftype() in _INSIDE:
            yield from _entities(entity.virtual_entities(), layer)
        elif entity.dxftype() in _READ and layer in (None, entity.dxf.layer):
            yield entity


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
        points = list(entity.flattening(CHORD_ERROR / scale))
        for start, end in pairwise(points):
            yield from _line(start, end, scale)


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
    return [*circles, *_joined(open_ones)]


def _joined(segments: Sequence[Segment]) -> Iterator[Loop]:
    from ezdxf import edgeminer

    edges = [edgeminer.make_edge(s.start, s.end, payload=s) for s in segments]
    deposit = edgeminer.Deposit(edges, gap_tol=SNAP)
    _refuse_ends(deposit)
    for chain in edgeminer.find_all_simple_chains(deposit):
        parts = [edge.payload.reversed() if edge.is_reverse else edge.payload for edge in chain]
        yield tuple(_bridged(parts))


def _refuse_ends(deposit: Any) -> None:
    """Refuse an end that meets no other, and a place where more than two meet."""
    for edge in deposit.edges:
        for vertex in (edge.start, edge.end):
            degree = deposit.degree(vertex)
            if degree != 2:
                fault = "an outline is open there" if degree < 2 else f"{degree} lines meet there"
                place = f"({vertex.x:.3f}, {vertex.y:.3f}) mm"
                raise BadInput("DXF outline", place, f"{fault}; every end must meet exactly one other")


def _bridged(parts: Sequence[Segment]) -> Iterator[Segment]:
    """The segments with the small gaps between them closed by lines."""
    for part, after in zip(parts, [*parts[1:], parts[0]], strict=True):
        yield part
        if part.end != after.start:
            yield Line(part.end, after.start)
