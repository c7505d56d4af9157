"""The straight lines of a frame out of a DXF file, joined at their nodes; knows DXF files."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any, Final

import attrs
from ezdxf import edgeminer

from mitertool.base.errors import BadInput
from mitertool.base.totals import summed
from mitertool.geometry.dxf_file import entities, opened, refuse_ends, refuse_slope
from mitertool.geometry.dxf_units import DxfUnit
from mitertool.words import phrase

_LINES: Final = ("LINE", "LWPOLYLINE", "POLYLINE")
_CURVES: Final = ("ARC", "CIRCLE", "ELLIPSE", "SPLINE")


@attrs.frozen
class DrawnPolygon:
    """The corners (x + iy, mm) of a polygon that was drawn, and the unit that its drawing is in."""

    corners: tuple[complex, ...]
    unit: DxfUnit


def read_polygon(path: Path, layer: str | None, node: float, unit: str | None = None) -> DrawnPolygon:
    """The one closed polygon that the lines of a layer make; ends within `node` mm meet.

    A corner is the middle of the ends that meet in it. Raises `BadInput` with the place of a loose end, of a node
    where more than two lines meet, of a curve, or of a height that differs from the first; and where there is none or
    more than one polygon. `unit` ("mm" or "in") serves where the file states none and must not gainsay it.
    """
    space, drawn_in = opened(path, unit)
    scale = drawn_in.length
    try:
        refuse_slope(entities(space, (*_LINES, *_CURVES), layer), scale)
        edges = list(_edges(space, layer, scale))
        _refuse_curves(space, layer, scale)
        loops = list(_loops(edges, node))
        if len(loops) != 1:
            raise BadInput(
                phrase("what.drawing"), phrase("found.outlines", count=len(loops)), phrase("refuse.outlines")
            )
    except BadInput as error:
        raise error.at(path.name) from None
    return DrawnPolygon(_from_lowest(loops[0]), drawn_in)


def _from_lowest(corners: tuple[complex, ...]) -> tuple[complex, ...]:
    """The corners from the lowest, then leftmost one, counter-clockwise: one order, however the lines were drawn."""
    pairs = zip(corners, (*corners[1:], corners[0]), strict=True)
    turning = corners if summed((a.conjugate() * b).imag for a, b in pairs) > 0 else corners[::-1]
    first = min(range(len(turning)), key=lambda i: (round(turning[i].imag, 6), round(turning[i].real, 6)))
    return (*turning[first:], *turning[:first])


def _edges(space: Any, layer: str | None, scale: float) -> Iterator[tuple[complex, complex]]:
    for entity in entities(space, _LINES, layer):
        parts = [entity] if entity.dxftype() == "LINE" else entity.virtual_entities()
        for part in parts:
            if part.dxftype() != "LINE":
                raise _curve(part.dxftype(), complex(part.dxf.center.x, part.dxf.center.y) * scale)
            start, end = part.dxf.start, part.dxf.end
            yield complex(start.x, start.y) * scale, complex(end.x, end.y) * scale


def _refuse_curves(space: Any, layer: str | None, scale: float) -> None:
    for entity in entities(space, _CURVES, layer):
        place = next(iter(entity.flattening(1.0))) if entity.dxftype() == "SPLINE" else entity.dxf.center
        raise _curve(entity.dxftype(), complex(place[0], place[1]) * scale)


def _curve(kind: str, place: complex) -> BadInput:
    found = phrase("found.curve", kind=kind, x=place.real, y=place.imag)
    return BadInput(phrase("what.drawing"), found, phrase("refuse.curve"))


def _loops(edges: list[tuple[complex, complex]], node: float) -> Iterator[tuple[complex, ...]]:
    made = [edgeminer.make_edge((a.real, a.imag), (b.real, b.imag)) for a, b in edges if abs(b - a) > node]
    if not made:
        return
    deposit = edgeminer.Deposit(made, gap_tol=node)
    refuse_ends(deposit, "frame")
    for chain in edgeminer.find_all_simple_chains(deposit):
        before = [chain[-1], *chain[:-1]]
        yield tuple(
            (complex(last.end.x, last.end.y) + complex(edge.start.x, edge.start.y)) / 2
            for last, edge in zip(before, chain, strict=True)
        )
