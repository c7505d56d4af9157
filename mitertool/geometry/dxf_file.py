"""DXF files opened, their unit found and their entities picked; knows the file, not what is drawn in it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any, Final

from mitertool.base.errors import BadInput

_MM_PER_UNIT: Final = {1: 25.4, 2: 304.8, 4: 1.0, 5: 10.0, 6: 1000.0}
"""mm by the DXF header variable $INSUNITS: inches, feet, millimetres, centimetres, metres."""


def opened(path: Path, unit: str | None) -> tuple[Any, float]:
    """The model space of a file, and mm for one of its units; `unit` ("mm", "in") serves where it states none."""
    document = _document(path)
    return document.modelspace(), _scale(document, unit, path)


def entities(space: Any, kinds: Sequence[str], layer: str | None) -> Iterator[Any]:
    """Entities of some kinds, those inside inserted blocks too, of one layer or of all (None), seen from above.

    What was mirrored in the drawing has its own axes seen from below; it is turned upright.
    """
    from ezdxf.upright import upright

    for entity in space:
        if entity.dxftype() == "INSERT":
            yield from entities(entity.virtual_entities(), kinds, layer)
        elif entity.dxftype() in kinds and layer in (None, entity.dxf.layer):
            upright(entity)
            yield entity


def refuse_ends(deposit: Any, what: str) -> None:
    """Refuse an end that meets no other, and a place where more than two meet, with the place in mm."""
    for edge in deposit.edges:
        for vertex in (edge.start, edge.end):
            degree = deposit.degree(vertex)
            if degree != 2:
                fault = f"{what} is open there" if degree < 2 else f"{degree} lines meet there"
                place = f"({vertex.x:.3f}, {vertex.y:.3f}) mm"
                raise BadInput("drawing", place, f"{fault}; every end must meet exactly one other")


def _document(path: Path) -> Any:
    from ezdxf.filemanagement import readfile
    from ezdxf.lldxf.const import DXFError

    try:
        return readfile(path)
    except OSError as error:
        raise BadInput("DXF file", str(path), f"cannot be read: {error.strerror or 'it is not DXF'}") from error
    except (DXFError, UnicodeDecodeError, ValueError) as error:
        raise BadInput("DXF file", path.name, f"is not DXF: {error}") from error


def _scale(document: Any, unit: str | None, path: Path) -> float:
    stated = _MM_PER_UNIT.get(document.header.get("$INSUNITS", 0))
    if stated is not None:
        return stated
    if unit is None:
        raise BadInput("DXF units", path.name, "the file states no unit; say units = mm or in beside it")
    if unit not in ("mm", "in"):
        raise BadInput("DXF units", unit, "allowed: mm, in")
    return 25.4 if unit == "in" else 1.0
