"""How a hopper and a rail are held and cut, as tables on paper and page; figures by hand.

Out 300 over 400 up is 3-4-5: a plate cut across by 0.6 and up by 0.8, as in `tests/frame/test_hoppers.py`.
"""

from __future__ import annotations

from math import acos, asin, atan, cos, degrees, pi, radians, sin
from pathlib import Path

import pytest

from mitertool.drawing import Text
from mitertool.job import Solution, load, solve
from mitertool.packet.pages.browser.frame_part import frames_part
from mitertool.packet.pages.fitter.frame_blocks import frame_blocks
from mitertool.packet.pages.fitter.held import FrameTable, held_tables
from tests.packet.jobs import head

HOPPER = 'shape = "hopper"\nthickness = 5\nsides = 4\nbottom = 200\ntop = 800\nheight = 400\nmeasured = "outside"'
BARS = 'shape = "hopper"\nmembers = "corner bars"\nsection = "L 50x50x5"\n' + HOPPER.split("thickness = 5\n")[1]
RAIL = 'shape = "rail"\nsection = "{}"\nnodes = [[0, 0, 0], [800, 0, 600], [1800, 0, 600], [1800, 900, 600]]'


def solved(tmp_path: Path, block: str) -> Solution:
    (tmp_path / "job.toml").write_text(f'{head()}\n[[frame]]\nmark = "F"\n{block}\n', encoding="utf-8")
    return solve(load(tmp_path / "job.toml"))


def tables(tmp_path: Path, block: str) -> tuple[FrameTable, ...]:
    return held_tables(solved(tmp_path, block).frames[0].assembly, "mm")


def angle(says: str) -> float:
    return float(says.rstrip("°"))


def test_the_pattern_of_a_plate(tmp_path: Path) -> None:
    """The sides' normals look 0.8 out and 0.6 down: between two of them the cosine is 0.36."""
    (row,) = tables(tmp_path, HOPPER)[0].rows
    wanted = degrees(atan(4 / 3)), 180 - degrees(acos(0.36)), 500, 200, 800, 192, 792
    assert row[0] == "F-1"
    assert [angle(cell) for cell in row[1:]] == pytest.approx(wanted, abs=0.0051)


def test_a_plate_flat_on_edge_and_in_a_fixture(tmp_path: Path) -> None:
    flat, edge, fixture = tables(tmp_path, HOPPER)[1].rows
    bevel = degrees(asin(sin(radians(45)) * 0.8))
    wanted = (degrees(atan(0.6)), bevel), (degrees(atan(0.8)), degrees(atan(0.6 * cos(atan(0.8))))), (45.0, 0.0)
    for row, angles in zip((flat, edge, fixture), wanted, strict=True):
        assert [angle(cell) for cell in row[2:4]] == pytest.approx(angles, abs=0.0051)
    assert "rolled 53.13° in a fixture, outside to the moving side" in fixture[1]
    ends = "long point at moving jaw, top", "long point at moving jaw, bottom", "long point at moving jaw"
    assert (flat[4], edge[4], fixture[4]) == ends


def test_bars_of_corners_have_no_pattern(tmp_path: Path) -> None:
    stands, ways = tables(tmp_path, BARS)
    assert len(stands.rows[0]) == 4
    assert "parallel" in ways.says


def test_the_rolls_of_a_rail(tmp_path: Path) -> None:
    """Down onto the level its long point is above, at the corner to the left it is on the right: a quarter clockwise,
    seen from the left, and the bar is rolled a quarter back. Its tips stand out by a third of the radius and by the
    radius."""
    first, level, last = tables(tmp_path, RAIL.format("CHS 42.4x3.2"))[1].rows
    skin = f"{pi * 42.4 / 4:.1f}"
    assert level[1:4] == (f"{1000 + 21.2 * 4 / 3:.1f}", "18.43°", "45°")
    assert level[4:] == ("90° counter-clockwise", skin, "90° clockwise", skin)
    assert first[4:] == last[4:] == ("", "", "", "")
    assert tables(tmp_path, RAIL.format("SHS 50x50x3"))[1].rows[1][4:] == ("90° counter-clockwise", "90° clockwise")


@pytest.mark.parametrize("block", [HOPPER, RAIL.format("CHS 42.4x3.2")])
def test_paper_and_page_have_them_and_no_sentence_repeats_them(tmp_path: Path, block: str) -> None:
    made = solved(tmp_path, block)
    parts = [part for block in frame_blocks(made, 186) for part in block.drawing.entities if isinstance(part, Text)]
    paper = " ".join(part.says for part in parts)
    page = " ".join(map(str, frames_part(made)))
    for one in held_tables(made.frames[0].assembly, "mm"):
        for cell in (cell for row in one.rows for cell in row):
            assert cell in page
            assert set(cell.split()) <= set(paper.split())
    assert "tip to tip 1" not in paper + page
    assert "on edge, its outside to the moving side, both" not in paper + page


def test_a_frame_in_a_plane_has_none(tmp_path: Path) -> None:
    assert tables(tmp_path, 'shape = "bend"\nsection = "CHS 60.3x4"\nradius = 200\nangle = 90\ncuts = 3') == ()
