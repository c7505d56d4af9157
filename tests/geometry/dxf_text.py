"""DXF written out as text, group code by group code, so that what is read does not come from the library that reads it.

Only what the format's reference gives for release 12: LINE, ARC, CIRCLE, and POLYLINE with a bulge at each vertex (the
tangent of a quarter of the arc's angle, positive to the right of the way, so that the arc runs counter-clockwise).
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

MM, INCH, NO_UNIT = 4, 1, None

Point = tuple[float, float]
Vertex = tuple[float, float, float]
"""x, y and the bulge on the way to the next vertex."""


def line(start: Point, end: Point, layer: str = "0") -> str:
    return _entity("LINE", layer, 10, start[0], 20, start[1], 11, end[0], 21, end[1])


def arc(center: Point, radius: float, begin: float, end: float, layer: str = "0") -> str:
    """Counter-clockwise between two angles, degrees."""
    return _entity("ARC", layer, 10, center[0], 20, center[1], 40, radius, 50, begin, 51, end)


def circle(center: Point, radius: float, layer: str = "0") -> str:
    return _entity("CIRCLE", layer, 10, center[0], 20, center[1], 40, radius)


def polyline(vertices: Sequence[Point | Vertex], closed: bool = True, layer: str = "0") -> str:
    head = _entity("POLYLINE", layer, 66, 1, 70, int(closed))
    points = (_entity("VERTEX", layer, 10, v[0], 20, v[1], 42, v[2] if len(v) == 3 else 0.0) for v in vertices)
    return "".join([head, *points, _entity("SEQEND", layer)])


def box(x0: float, y0: float, x1: float, y1: float, layer: str = "0") -> str:
    return polyline([(x0, y0), (x1, y0), (x1, y1), (x0, y1)], layer=layer)


def write(path: Path, *entities: str, unit: int | None = MM) -> Path:
    """A drawing of these entities; `unit` is the header's $INSUNITS, left out for None."""
    units = "" if unit is None else _codes(9, "$INSUNITS", 70, unit)
    header = _codes(0, "SECTION", 2, "HEADER", 9, "$ACADVER", 1, "AC1009") + units + _codes(0, "ENDSEC")
    body = _codes(0, "SECTION", 2, "ENTITIES") + "".join(entities) + _codes(0, "ENDSEC", 0, "EOF")
    path.write_text(header + body, encoding="ascii")
    return path


def _entity(kind: str, layer: str, *codes: float) -> str:
    return _codes(0, kind, 8, layer, *codes)


def _codes(*codes: object) -> str:
    pairs = zip(codes[::2], codes[1::2], strict=True)
    return "".join(
        f"{code}\n{value!r}\n" if isinstance(value, float) else f"{code}\n{value}\n" for code, value in pairs
    )
