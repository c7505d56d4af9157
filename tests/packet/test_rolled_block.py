"""The picture of a bar that stands rolled for a cut, with its size as it then stands."""

from __future__ import annotations

from pathlib import Path

import pytest

from mitertool.drawing import Text
from mitertool.job import load, solve
from mitertool.packet.floor.made import floor_of
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
