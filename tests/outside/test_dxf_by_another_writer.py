"""Outlines in DXF files of another hand: dxfwrite 1.2.2 (MIT) writes release 12 and shares no code with the reader.

Areas in closed form, to 1e-9 relative.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

import mitertool as mt
from tests.frame.runs import around, checked, frame, tube

pytestmark = pytest.mark.outside

Draw = Callable[[Any, Any], None]
Vertex = tuple[tuple[float, float], float]
"""A point and the bulge on the way to the next."""

QUARTER = math.tan(math.pi / 8)
SLOT: list[Vertex] = [((0, 0), 0.0), ((40, 0), 1.0), ((40, 30), 0.0), ((0, 30), 1.0)]
BITTEN: list[Vertex] = [
    ((0, 0), 0.0),
    ((40, 0), 0.0),
    ((40, 30), 0.0),
    ((30, 30), -1.0),
    ((10, 30), 0.0),
    ((0, 30), 0.0),
]
FIN: list[Vertex] = [((0, 0), 0.0), ((40, 0), QUARTER), ((0, 40), 0.0)]


def polyline(vertices: list[Vertex]) -> Draw:
    def draw(drawing: Any, engine: Any) -> None:
        line = engine.polyline(flags=1)
        for point, bulge in vertices:
            line.add_vertex(point, bulge=bulge)
        drawing.add(line)

    return draw


def draw_slot(drawing: Any, engine: Any) -> None:
    drawing.add(engine.line((0, 0), (40, 0)))
    drawing.add(engine.line((0, 30), (40, 30)))
    drawing.add(engine.arc(15, (40, 15), -90, 90))
    drawing.add(engine.arc(15, (0, 15), 90, 270))


def draw_rings(drawing: Any, engine: Any) -> None:
    for radius, center in ((30, (100, 100)), (10, (112, 100)), (5, (88, 100))):
        drawing.add(engine.circle(radius, center))


def written(folder: Path, *draws: Draw) -> Path:
    from dxfwrite import DXFEngine

    drawing = DXFEngine.drawing(str(folder / "drawn.dxf"))
    for draw in draws:
        draw(drawing, DXFEngine)
    drawing.save()
    return folder / "drawn.dxf"


@pytest.mark.parametrize(
    ("draw", "area"),
    [
        (draw_slot, 1200 + 225 * math.pi),
        (polyline(SLOT), 1200 + 225 * math.pi),
        (polyline(BITTEN), 1200 - 50 * math.pi),
        (polyline(FIN), 400 * math.pi),
        (draw_rings, (900 - 100 - 25) * math.pi),
    ],
    ids=["slot of lines and arcs", "slot", "bitten", "quarter", "rings"],
)
@pytest.mark.parametrize(("unit", "mm"), [("mm", 1.0), ("in", 25.4)])
def test_area(tmp_path: Path, draw: Draw, area: float, unit: str, mm: float) -> None:
    assert mt.from_dxf(written(tmp_path, draw), unit).area == pytest.approx(area * mm**2, rel=1e-9)


def test_it_states_no_unit(tmp_path: Path) -> None:
    with pytest.raises(mt.BadInput, match=r"^DXF units: found 'drawn.dxf'; the file states no unit; "):
        mt.from_dxf(written(tmp_path, draw_slot))


def test_a_frame(tmp_path: Path) -> None:
    """900 by 600 in lines that run any way, on a layer of their own."""

    def draw(drawing: Any, engine: Any) -> None:
        for a, b in (((0, 0), (900, 0)), ((0, 0), (0, 600)), ((900, 600), (0, 600)), ((900, 600), (900, 0))):
            drawing.add(engine.line(a, b, layer="FRAME"))
        draw_rings(drawing, engine)

    written(tmp_path, draw)
    keys = {"file": "drawn.dxf", "layer": "FRAME", "line": "outside", "units": "mm"}
    record = checked(tmp_path, tube("T", 50), frame("drawing", **keys))
    assert sorted(piece["long_point_mm"] for piece in around(record)) == pytest.approx([600, 600, 900, 900])
