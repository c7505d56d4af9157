"""What is no outline in a DXF file: each refusal in one line, with the file and the place in mm."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import ezdxf
import pytest

import mitertool as mt
from mitertool.geometry.dxf_outline import read_outline
from tests.geometry.dxf_text import INCH, MM, NO_UNIT, arc, box, circle, line, polyline, write


def refused(folder: Path, *entities: str, header: int | None = MM, layer: str | None = None) -> str:
    path = write(folder / "drawn.dxf", *entities, unit=header)
    with pytest.raises(mt.BadInput) as caught:
        read_outline(path, layer=layer)
    says = str(caught.value)
    assert "\n" not in says
    assert "drawn.dxf" in says
    return says.removeprefix("drawn.dxf: ")


OPEN = "an outline is open there; every end must meet exactly one other"
CROSSES = "an outline must not cross or touch itself"


@pytest.mark.parametrize(
    ("entities", "says"),
    [
        ([polyline([(0, 0), (40, 0), (40, 30), (0, 30)], closed=False)], f"drawing: found '(0.000, 0.000) mm'; {OPEN}"),
        ([arc((0, 0), 20, 0, 180)], f"drawing: found '(20.000, 0.000) mm'; {OPEN}"),
        ([box(0, 0, 40, 30), line((100, 5), (110, 5))], f"drawing: found '(100.000, 5.000) mm'; {OPEN}"),
        ([box(0, 0, 40, 30), line((0, 0), (40, 30))], "drawing: found '(0.000, 0.000) mm'; 3 lines meet there; "),
        ([polyline([(0, 0), (40, 30), (40, 0), (0, 30)])], f"DXF outline: found 'Self-intersection[20 15]'; {CROSSES}"),
        ([polyline([(0, 0), (40, 0, -3.0), (40, 30), (-30, 10)])], CROSSES),
        ([polyline([(0, 0), (40, 0), (40, 30), (20, 0), (0, 30)])], f"[20 0]'; {CROSSES}"),
        (
            [circle((0, 0), 20), circle((15, 0), 15)],
            "mm'; a loop crosses the outer outline; give one outer outline and",
        ),
        ([circle((0, 0), 20), circle((100, 0), 15)], "(100.000, "),
        ([circle((0, 0), 20), circle((100, 0), 15)], "mm'; a loop lies outside the largest outline; give one outer"),
        (
            [circle((0, 0), 20), circle((0, 0), 15), circle((0, 0), 10)],
            "mm'; a loop lies inside a hole; holes lie side by",
        ),
        (
            [circle((0, 0), 30), circle((8, 0), 10), circle((-8, 0), 10)],
            "mm'; a loop crosses another hole; holes lie side",
        ),
        ([line((0, 0), (40, 0)), line((40, 0), (0, 0))], ".000, 0.000) mm'; a loop there encloses nothing"),
        ([circle((5, 5), 0)], "(5.000, 5.000) mm'; a loop there encloses nothing"),
        (
            [],
            "DXF outline: found 'drawn.dxf'; it holds none of LINE, ARC, CIRCLE, LWPOLYLINE, POLYLINE, SPLINE, ELLIPSE",
        ),
    ],
    ids=[
        *("open polyline", "open arc", "stray line", "branch", "bow tie", "bulge over a side", "touching itself"),
        *("crossing", "two outer", "two outer, which", "nested twice", "holes crossing", "there and back"),
        *("no radius", "nothing"),
    ],
)
def test_no_outline(tmp_path: Path, entities: list[str], says: str) -> None:
    assert says in refused(tmp_path, *entities)


def test_places_are_in_mm(tmp_path: Path) -> None:
    assert "(25.400, 50.800) mm" in refused(tmp_path, box(0, 0, 4, 4), line((1, 2), (9, 2)), header=INCH)


SLOPES: dict[str, tuple[Callable[[Any], object], str]] = {
    "side": (
        lambda space: space.add_polyline3d([(0, 0, 1), (40, 0, 1), (40, 30, 20), (0, 30, 1)], close=True),
        "20.000 mm high at (40.000, 30.000) mm, 1.000 mm high at (",
    ),
    "tilted circle": (lambda space: space.add_circle((0, 0), 10, dxfattribs={"extrusion": (0, 1, 1)}), ""),
    "tilted arc": (lambda space: space.add_arc((0, 0), 10, 0, 180, dxfattribs={"extrusion": (0, 1, 1)}), ""),
    "bulges in a tilted plane": (
        lambda space: space.add_lwpolyline(
            [(0, 0, 1), (40, 0, 1)], "xyb", close=True, dxfattribs={"extrusion": (1, 0, 1)}
        ),
        "",
    ),
    "ellipse": (lambda space: space.add_ellipse((0, 0), (20, 0, 5), 0.5), ""),
    "spline": (lambda space: space.add_spline([(0, 0, 0), (10, 10, 10), (20, 0, 0)]), ""),
    "hole higher up": (
        lambda space: [space.add_circle((0, 0), 10), space.add_circle((0, 0, 7), 5)],
        "7.000 mm high at (",
    ),
}
"""Outlines of which some places are higher than others, and how the refusal begins."""


@pytest.mark.parametrize("name", SLOPES)
def test_an_outline_that_slopes(tmp_path: Path, name: str) -> None:
    draw, says = SLOPES[name]
    document = ezdxf.new()  # type: ignore[attr-defined]
    document.header["$INSUNITS"] = MM
    draw(document.modelspace())
    document.saveas(tmp_path / "drawn.dxf")
    with pytest.raises(mt.BadInput, match="all of it must lie at one height") as refusal:
        read_outline(tmp_path / "drawn.dxf")
    assert str(refusal.value).startswith(f"drawn.dxf: drawing: found '{says}")


def test_no_unit(tmp_path: Path) -> None:
    assert refused(tmp_path, box(0, 0, 4, 4), header=NO_UNIT) == (
        "DXF units: found 'drawn.dxf'; the file states no unit; say units = mm or in beside it"
    )
    with pytest.raises(mt.BadInput, match=r"^DXF units: found 'in'; the header of drawn.dxf says millimetres; "):
        read_outline(write(tmp_path / "drawn.dxf", box(0, 0, 4, 4)), "in")
    with pytest.raises(mt.BadInput, match=r"^DXF units: found 'ft'; allowed: mm, in$"):
        read_outline(write(tmp_path / "drawn.dxf", box(0, 0, 4, 4), unit=NO_UNIT), "ft")


@pytest.mark.parametrize("content", [None, b"", b"words\n", b"\0\1\2", b"0\nSECTION\n2\nENTITIES\n0\nLINE\nten\n"])
def test_no_file(tmp_path: Path, content: bytes | None) -> None:
    path = tmp_path / "drawn.dxf"
    if content is not None:
        path.write_bytes(content)
    with pytest.raises(mt.BadInput, match=r"DXF file: found '.*drawn.dxf'; (cannot be read: |is not DXF: )"):
        read_outline(path)


def test_ends_more_than_a_micrometre_apart(tmp_path: Path) -> None:
    drawn = [line((0, 0), (40, 0)), line((40, 0), (40, 30)), line((40, 30), (0, 0.0011))]
    assert refused(tmp_path, *drawn).startswith("drawing: found '(0.000, 0.00")


def test_layers(tmp_path: Path) -> None:
    """All layers together hold two outlines; a layer that is not there holds none."""
    drawn = [circle((0, 0), 10, "CUT"), box(50, 0, 60, 10, "NOTES")]
    assert "outside the largest outline" in refused(tmp_path, *drawn)
    assert refused(tmp_path, *drawn, layer="OTHER").endswith("on layer OTHER")
