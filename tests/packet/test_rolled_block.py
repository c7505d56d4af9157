"""The picture of a bar that stands rolled for a cut, with its size as it then stands."""

from __future__ import annotations

from math import cos, hypot, radians, sin
from pathlib import Path

import pytest

import mitertool as mt
from mitertool.drawing import Drawing, Point, Polygon, Text
from mitertool.job import load, solve
from mitertool.packet.floor.made import floor_of
from mitertool.packet.pages.setting.vise_view import top_of, vise_view
from mitertool.packet.pages.sheet.rolled_block import rolled_blocks
from tests.packet.jobs import ROOT, head, stock

HOPPER = 'shape = "hopper"\nsection = "FLAT 150x6"\nsides = 4\nbottom = 200\ntop = 380\nmeasured = "outside"'
RAIL = 'shape = "rail"\nsection = "{}"\nnodes = [[0, 0, 0], [900, 0, 0], [1800, 0, 400]]'
FLAT_RAIL = 'shape = "rail"\nsection = "RHS 60x40x3"\nnodes = [[0, 0, 0], [900, 0, 0], [1800, 400, 0]]'


def told(tmp_path: Path, block: str, section: str) -> list[str]:
    """What stands beside the pictures of the first bar of a job."""
    saw = (ROOT / "gallery" / "saws" / "hinged.toml").read_text(encoding="utf-8")
    (tmp_path / "saw.toml").write_text(saw, encoding="utf-8")
    text = f'{head(saw="saw.toml")}{stock(section, "6 m")}\n[[frame]]\nmark = "F"\n{block}\n'
    (tmp_path / "job.toml").write_text(text, encoding="utf-8")
    (work, *_) = floor_of(solve(load(tmp_path / "job.toml"))).bars
    blocks = rolled_blocks(work, "mm", 186)
    return [
        " ".join(part.says for part in block.drawing.entities if isinstance(part, Text) and len(part.says) > 1)
        for block in blocks
    ]


def test_a_plate_of_a_hopper_leans_in_the_vise(tmp_path: Path) -> None:
    """Out 90 over 120 up is 3-4-5, and 45 in plan: cut across by 0.6 and up by 0.8 it is rolled by atan(0.8 / 0.6) or
    by what is left of half a turn, and stands 150 x 0.6 + 6 x 0.8 wide and 150 x 0.8 + 6 x 0.6 high."""
    (says,) = told(tmp_path, HOPPER, "FLAT 150x6")
    assert "94.8 across the jaws, 123.6 up" in says
    assert any(f"for 135° it stands rolled {roll}°" in says for roll in ("53.13", "126.87"))


def test_a_tube_on_its_other_side(tmp_path: Path) -> None:
    (says,) = told(tmp_path, RAIL.format("RHS 60x40x3"), "RHS 60x40x3")
    assert "60 across the jaws, 40 up" in says


@pytest.mark.parametrize(
    ("block", "section"), [(RAIL.format("CHS 48.3x3.2"), "CHS 48.3x3.2"), (FLAT_RAIL, "RHS 60x40x3")]
)
def test_nothing_where_no_roll_shows(tmp_path: Path, block: str, section: str) -> None:
    """A round bar looks alike however it is rolled; a rail in the plan is rolled by half a turn at most."""
    assert told(tmp_path, block, section) == []


def wedges(drawing: Drawing) -> list[tuple[Point, Point]]:
    """Of every filled triangle its tip, which lies on the steel, and the middle of its other side."""
    found = [one.points for one in drawing.entities if isinstance(one, Polygon) and len(one.points) == 3]
    return [(a, ((b[0] + c[0]) / 2, (b[1] + c[1]) / 2)) for a, b, c in found]


@pytest.mark.parametrize("roll", [0.0, 33.02, -123.02, 90.0, 180.0])
def test_the_wedge_stands_on_the_top_that_is_chalked(roll: float) -> None:
    """The top of a square tube of 40, rolled with its top to the moving jaw, which is at the right: 20 from the middle
    that way, out of the steel. All corners are alike, so the middle stays half of its width and height in."""
    tube = mt.rect_tube(40, 40, 3)
    top = top_of(tube, roll)
    way = (sin(radians(roll)), cos(radians(roll)))
    half = 14 * (abs(way[0]) + abs(way[1])) + 6  # corners round by 6 about places 14 from the middle
    assert top.at == pytest.approx((half + 20 * way[0], half + 20 * way[1]), abs=1e-9)
    drawn = vise_view(tube.lay(-roll), 46, 17, None, top)
    ((tip, back),) = wedges(drawn)
    out = (back[0] - tip[0], back[1] - tip[1])
    assert out == pytest.approx((way[0] * hypot(*out), way[1] * hypot(*out)), abs=1e-9)


def test_the_pictures_of_rolls_have_it(tmp_path: Path) -> None:
    saw = (ROOT / "gallery" / "saws" / "hinged.toml").read_text(encoding="utf-8")
    (tmp_path / "saw.toml").write_text(saw, encoding="utf-8")
    text = f'{head(saw="saw.toml")}{stock("FLAT 150x6", "6 m")}\n[[frame]]\nmark = "F"\n{HOPPER}\n'
    (tmp_path / "job.toml").write_text(text, encoding="utf-8")
    (work, *_) = floor_of(solve(load(tmp_path / "job.toml"))).bars
    (block,) = rolled_blocks(work, "mm", 186)
    assert len(wedges(block.drawing)) == 1
