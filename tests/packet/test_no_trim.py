"""Where nobody says a trim the first piece begins at the mill's own end: the row of the first cut says so."""

from __future__ import annotations

from pathlib import Path

import pytest

from mitertool.drawing import Text
from mitertool.job import load, solve
from mitertool.packet.floor.made import floor_of
from mitertool.packet.pages.sheet.bar_block import bar_blocks
from tests.packet.jobs import ROOT, SAWS, head, piece, stock

HINGED = (ROOT / "gallery" / "saws" / "hinged.toml").read_text(encoding="utf-8")
SAYS = "no trim: the raw end is the first face"


def list_of(folder: Path, saw: str, nest: str, more: str = "") -> list[str]:
    """The texts of the block of the one bar, in the order in which they stand."""
    (folder / "saw.toml").write_text(saw, encoding="utf-8")
    text = head(saw="saw.toml" if saw else "") + piece("A", "RHS 80x40x3", "700", more) + stock("RHS 80x40x3", "6 m")
    text = text.replace("[nest]\n", f"[nest]\n{nest}\n")
    assert text.count("[nest]") == 1
    (folder / "job.toml").write_text(text, encoding="utf-8")
    floor = floor_of(solve(load(folder / "job.toml")))
    (work,) = floor.bars
    blocks = bar_blocks(work, floor, 186)
    return [part.says for block in blocks for part in block.drawing.entities if isinstance(part, Text)]


SAWN = {"bar feed": (HINGED, ""), "stop": (SAWS["both ways"], ""), "no saw": ("", "kerf = 2")}


@pytest.mark.parametrize("name", SAWN)
def test_the_row_of_the_first_cut_says_that_nobody_said_a_trim(name: str, tmp_path: Path) -> None:
    saw, nest = SAWN[name]
    found = " ".join(list_of(tmp_path, saw, nest))
    assert found.count(SAYS) == 1
    assert SAYS + ", at its tip" not in found
    before, _, after = found.partition(SAYS)
    assert ("scale reads" if saw else "from square") in before
    assert "A" in after.split()


@pytest.mark.parametrize("name", SAWN)
@pytest.mark.parametrize("trim", ["trim = 0", "trim = 10"])
def test_a_trim_that_is_said_is_not_told_again(name: str, trim: str, tmp_path: Path) -> None:
    saw, nest = SAWN[name]
    assert "no trim" not in " ".join(list_of(tmp_path, saw, f"{nest}\n{trim}"))


def test_a_slanted_first_face_has_the_raw_end_at_its_tip(tmp_path: Path) -> None:
    found = " ".join(list_of(tmp_path, SAWS["both ways"], "", "left = 30"))
    assert f"{SAYS}, at its tip" in found
