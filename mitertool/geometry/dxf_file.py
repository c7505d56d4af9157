"""DXF files opened, their unit found, their entities picked and held to one height; knows the file, not the drawing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import count
from pathlib import Path
from typing import Any, Final

from ezdxf.filemanagement import readfile
from ezdxf.lldxf.const import DXFError
from ezdxf.upright import upright

from mitertool.base.errors import BadInput
from mitertool.base.tolerances import LEVEL
from mitertool.geometry.dxf_units import DxfUnit, unit_of
from mitertool.words import phrase


def opened(path: Path, unit: str | None) -> tuple[Any, DxfUnit]:
    """The model space of a file and its unit; `unit` ("mm", "in") serves where its header states none."""
    document, space = _document(path)
    return space, unit_of(document.header.get("$INSUNITS", 0), unit, path.name)


_LARGEST: Final = 25_000_000
"""Bytes of a drawing: the library takes thirty times as much memory."""

_DEEPEST: Final = 16
_MOST_INSERTED: Final = 10_000
"""Blocks inside one another, and what all of them bring: one that inserts itself, or ten of ten of ten, has no end."""


def entities(space: Any, kinds: Sequence[str], layer: str | None) -> Iterator[Any]:
    """Entities of some kinds, those inside inserted blocks too, of one layer or of all (None), seen from above.

    What was mirrored in the drawing has its own axes seen from below; it is turned upright. Raises `BadInput` where
    blocks go too deep, or bring too much.
    """
    inserted = count(1)
    for entity in _with_blocks(space, inserted):
        if entity.dxftype() in kinds and layer in (None, entity.dxf.layer):
            upright(entity)
            yield entity


def _with_blocks(space: Any, inserted: Iterator[int], depth: int = 0) -> Iterator[Any]:
    for entity in space:
        if depth and next(inserted) > _MOST_INSERTED:
            found = phrase("found.more-than", count=_MOST_INSERTED)
            raise BadInput(phrase("what.blocks"), found, phrase("refuse.inserted", most=_MOST_INSERTED))
        if entity.dxftype() != "INSERT":
            yield entity
        elif depth < _DEEPEST:
            yield from _with_blocks(entity.virtual_entities(), inserted, depth + 1)
        else:
            raise BadInput(phrase("what.blocks"), entity.dxf.name, phrase("refuse.block-depth", most=_DEEPEST))


def refuse_slope(drawn: Iterable[Any], scale: float) -> None:
    """Refuse entities that do not all lie at one height, with the place in mm: from above they look shorter."""
    points = sorted((point * scale for entity in drawn for point in _points(entity)), key=_height)
    if points and points[-1].z - points[0].z > LEVEL:
        found = f"{_place(points[-1])}, {_place(points[0])}"
        raise BadInput(phrase("what.drawing"), found, phrase("refuse.sloping"))


def _height(point: Any) -> float:
    return float(point.z)


def _place(point: Any) -> str:
    return phrase("found.high-at", z=point.z, x=point.x, y=point.y)


def _points(entity: Any) -> Iterator[Any]:
    """Points of an entity in space, enough to tell a slope: ends of lines, some places on curves."""
    kind = entity.dxftype()
    if kind == "LINE":
        yield from (entity.dxf.start, entity.dxf.end)
    elif kind in ("LWPOLYLINE", "POLYLINE"):
        for part in entity.virtual_entities():
            yield from _points(part)
    elif kind == "SPLINE":
        yield from entity.construction_tool().control_points
    else:
        yield from entity.flattening(_coarse(entity))


def _coarse(entity: Any) -> float:
    """How far the places may stand off a curve, in the drawing's units; a quarter of a radius gives some on any arc."""
    return (
        float(entity.dxf.radius if entity.dxftype() in ("ARC", "CIRCLE") else entity.dxf.major_axis.magnitude) / 4
    ) or 1.0


def refuse_ends(deposit: Any, what: str) -> None:
    """Refuse an end that meets no other, and a place where more than two meet, with the place in mm.

    `what` has the ends, in a word of the codes that tell it: "frame" or "outline".
    """
    for edge in deposit.edges:
        for vertex in (edge.start, edge.end):
            degree = deposit.degree(vertex)
            if degree != 2:
                place = f"({vertex.x:.3f}, {vertex.y:.3f}) mm"
                fault = f"refuse.{what}-open" if degree < 2 else "refuse.lines-meet"
                raise BadInput(phrase("what.drawing"), place, phrase(fault, count=degree))


def _document(path: Path) -> tuple[Any, Any]:
    """A file and its model space. On a broken file the library ends in whatever its parser meets: a missing tag, an
    empty list, a number without end."""
    _refuse_endless(path)
    try:
        document = readfile(path)
        return document, document.modelspace()
    except OSError as error:
        raise BadInput(phrase("what.dxf"), str(path), _unread(error)) from error
    except (DXFError, UnicodeDecodeError, ValueError) as error:
        raise BadInput(
            phrase("what.dxf"),
            path.name,
            phrase("refuse.no-dxf", why=str(error).removeprefix("DXFStructureError: ").rstrip(".")),
        ) from error
    except (LookupError, StopIteration, ArithmeticError, AttributeError, TypeError, RecursionError) as error:
        raise BadInput(phrase("what.dxf"), path.name, phrase("refuse.broken-dxf")) from error


def _refuse_endless(path: Path) -> None:
    """Refuse a file of more than the library can hold, and a device, which never ends."""
    if not path.exists() or path.is_dir():
        return  # the library says why
    if not path.is_file():
        raise BadInput(phrase("what.dxf"), str(path), phrase("refuse.unread-dxf"))
    if path.stat().st_size > _LARGEST:
        raise BadInput(phrase("what.dxf"), path.name, phrase("refuse.larger-file", most=_LARGEST // 1_000_000))


def _unread(error: OSError) -> str:
    return phrase("refuse.unread", why=error.strerror) if error.strerror else phrase("refuse.unread-dxf")
