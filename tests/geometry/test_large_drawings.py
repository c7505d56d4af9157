"""Drawings that have no end, or that no vise could hold, are refused before they are followed."""

from __future__ import annotations

from collections.abc import Callable
from math import cos, pi, sin
from pathlib import Path
from typing import Any

import ezdxf
import pytest

import mitertool as mt
from mitertool.base.errors import BadInput
from mitertool.geometry import read_outline, read_polygon

Draw = Callable[[Any], object]


def _in_itself(document: Any) -> None:
    document.blocks.new("ROUND").add_blockref("ROUND", (0, 0))
    document.modelspace().add_blockref("ROUND", (0, 0))


def _ten_of_ten(document: Any) -> None:
    """10^9 lines by the ninth block."""
    document.blocks.new("B0").add_line((0, 0), (10, 0))
    for i in range(1, 10):
        block = document.blocks.new(f"B{i}")
        for k in range(10):
            block.add_blockref(f"B{i - 1}", (20 * k, 0))
    document.modelspace().add_blockref("B9", (0, 0))


def _ellipse(document: Any) -> None:
    document.modelspace().add_ellipse((0, 0), major_axis=(1e9, 0), ratio=0.5)


def _spline(document: Any) -> None:
    document.modelspace().add_spline_control_frame([(0, 0), (1e9, 0), (1e9, 1e9), (0, 1)])


def _forty_metres(document: Any) -> None:
    """An RHS of 40 x 20 mm drawn in metres as if they were mm."""
    document.modelspace().add_lwpolyline([(0, 0), (40_000, 0), (40_000, 20_000), (0, 20_000)], close=True)


def _many(document: Any) -> None:
    turns = [2 * pi * i / 2001 for i in range(2001)]
    document.modelspace().add_lwpolyline([(50 * cos(turn), 30 * sin(turn)) for turn in turns], close=True)


OUTLINES = {
    _in_itself: "blocks: found 'ROUND'; blocks may be inserted inside one another 16 deep, and none in itself",
    _ten_of_ten: "blocks: found 'more than 10000'; blocks may bring 10000 entities at most",
    _ellipse: "DXF outline: found '1000000000 mm'; it must be at most 5000 mm wide and high",
    _spline: "DXF outline: found '4690355935.9147 mm'; it must be at most 5000 mm wide and high",
    _many: "DXF outline: found 'more than 2000'; an outline has 2000 lines and arcs at most",
}


def _drawn(draw: Draw, folder: Path) -> Path:
    document = ezdxf.new("R2010", units=4)
    draw(document)
    document.saveas(folder / "own.dxf")
    return folder / "own.dxf"


@pytest.mark.parametrize(("draw", "says"), OUTLINES.items(), ids=lambda one: getattr(one, "__name__", ""))
def test_an_outline_without_end_or_too_large_is_refused(draw: Draw, says: str, tmp_path: Path) -> None:
    with pytest.raises(BadInput) as caught:
        read_outline(_drawn(draw, tmp_path))
    assert str(caught.value).startswith(f"own.dxf: {says}")


def test_a_frame_without_end_is_refused(tmp_path: Path) -> None:
    with pytest.raises(BadInput) as caught:
        read_polygon(_drawn(_in_itself, tmp_path), None, 1.0)
    assert str(caught.value).startswith(f"own.dxf: {OUTLINES[_in_itself]}")


def test_an_outline_in_another_unit_is_refused(tmp_path: Path) -> None:
    with pytest.raises(BadInput) as caught:
        mt.from_dxf(_drawn(_forty_metres, tmp_path))
    assert str(caught.value) == (
        "own.dxf: DXF outline: found '40000 mm'; it must be at most 5000 mm wide and high; look whether the drawing is "
        "in another unit"
    )


def test_a_spline_out_of_its_plane_slopes(tmp_path: Path) -> None:
    """A curve lies at one height where all its control points do."""

    def leaning(document: Any) -> None:
        document.modelspace().add_spline_control_frame([(0, 0, 0), (9, 0, 0), (9, 9, 1), (0, 0, 0)])

    with pytest.raises(BadInput, match=r"own.dxf: drawing: found "):
        read_outline(_drawn(leaning, tmp_path))
