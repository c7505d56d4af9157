"""Where nobody says a trim the first piece begins at the mill's own end: the row of the first cut says so."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable
from pathlib import Path

import pytest

from mitertool.drawing import Text
from mitertool.job import load, solve
from mitertool.packet.floor.made import floor_of
from mitertool.packet.pages.sheet.bar_block import bar_blocks
from mitertool.packet.pages.sheet.first_page import OnPages, first_cut
from mitertool.packet.pages.sheet.sheet import cut_sheet
from tests.cli.conftest import Said, call
from tests.packet.jobs import ROOT, SAWS, head, piece, stock
from tests.virtual_saw import machine
from tests.virtual_saw.lays import Stock
from tests.virtual_saw.packets import sheet
from tests.virtual_saw.random_jobs import made_long, planes_of
from tests.virtual_saw.sheet_reader import Sheet
from tests.virtual_saw.steel import Solid, error, rect_tube
from tests.virtual_saw.walk import walk

__all__ = ["call"]

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
    assert "no trim: the tip of the first face is the raw end" in found
    assert "first cut" in found


def test_a_raw_end_that_is_a_face_is_laid_at_the_blade_and_not_keyed(tmp_path: Path) -> None:
    """From the pivot line it would be -1.23 / 2, less the 1.23 that this control adds: it takes 6 at least, and a hand
    adds no kerf. Level with the blade's far side, the whole kerf is off the bar, so that the next key holds: 700."""
    found = list_of(tmp_path, HINGED, "")
    assert "no cut" in found
    assert "trim cut" not in found
    told = " ".join(found)
    assert "raw end past the blade" in told
    assert "0" in found[: found.index("no cut") + 8]
    assert not any(one in found for one in ("1.8", "0.6", "pull back"))
    assert f"{SAYS}, level with the blade's feed side" in told
    assert "700" in found


def test_a_trim_that_the_control_takes_is_keyed(tmp_path: Path) -> None:
    """8 off the raw end: the middle of the kerf 8 - 1.23 / 2 from it, less the 1.23 that the control adds: 6.155."""
    found = list_of(tmp_path, HINGED, "trim = 8")
    assert "6.2" in found
    assert "raw end at the pivot line first" in found


def test_a_trim_that_the_control_does_not_take_is_told_from_the_blade(tmp_path: Path) -> None:
    """7: the control would be given 7 - 0.615 - 1.23 = 5.155, and takes 6."""
    found = list_of(tmp_path, HINGED, "trim = 7")
    assert found[found.index("trim cut") - 4 :].count("7")
    assert "raw end past the" in " ".join(found)
    assert "5.2" not in found


def test_what_the_feed_cannot_push_goes_by_hand_with_its_kerf(tmp_path: Path) -> None:
    """650 of a bar of 800 is cut within the last 190: a hand pushes it 650 + 1.23, which the control would add."""
    (tmp_path / "saw.toml").write_text(HINGED, encoding="utf-8")
    job = head(saw="saw.toml") + piece("A", "RHS 80x40x3", "650") + stock("RHS 80x40x3", "800")
    (tmp_path / "job.toml").write_text(job.replace("[nest]\n", "[nest]\ntrim = 8\n"), encoding="utf-8")
    floor = floor_of(solve(load(tmp_path / "job.toml")))
    found = [
        part.says
        for one in bar_blocks(floor.bars[0], floor, 186)
        for part in one.drawing.entities
        if isinstance(part, Text)
    ]
    assert "651.2" in found
    assert "push on by hand" in " ".join(found)
    assert "within the last 190 mm of the bar, which the feed cannot push" in " ".join(found)


def test_page_one_names_no_key_where_none_is_keyed_first(tmp_path: Path) -> None:
    list_of(tmp_path, HINGED, "")
    assert (
        first_cut(floor_of(solve(load(tmp_path / "job.toml"))), OnPages({1: 2}))
        == "cut first: bar 1, page 2, 90°, raw end by hand, then key 700"
    )


def test_page_one_calls_no_trim_what_is_the_first_cut(tmp_path: Path) -> None:
    """The first face is slanted, and cut at the tip of the mill's end: nobody trims."""
    list_of(tmp_path, HINGED, "", "left = 30")
    told = first_cut(floor_of(solve(load(tmp_path / "job.toml"))), OnPages({1: 2}))
    assert re.fullmatch(r"cut first: bar 1, page 2, 120°, key [\d.]+ \(first cut\), then [\d.]+", told)


@pytest.mark.parametrize("left", [0, 30])
def test_the_words_of_a_raw_first_face_make_the_piece_on_the_saw(left: int, tmp_path: Path) -> None:
    """Only the control's own lengths are keyed, and what falls off is the piece as drawn, by the sheet alone."""
    list_of(tmp_path, HINGED, "", f"left = {left}\nright = 20")
    solved = solve(load(tmp_path / "job.toml"))
    (told,) = Sheet(sheet(solved), "mm").bars
    stock_bar = Stock("rect-tube", rect_tube(40, 80, 3, 6))
    saw = machine.read(tmp_path / "saw.toml", tomllib.loads((tmp_path / "job.toml").read_text()))
    made = walk(saw, stock_bar, told, "key", near=0.1)
    assert made.wrong == []
    low, high = planes_of((left, 0.0), (20.0, 0.0))
    wanted = made_long(Solid(stock_bar.section, (low,), (high,)), "long-point", 700)
    assert error(made.pieces[0][1], wanted) < 0.12


@pytest.mark.parametrize(("trim", "told"), [("", True), ("trim = 0", False), ("trim = 10", False)])
def test_check_and_page_one_say_that_raw_ends_become_ends_of_pieces(
    tmp_path: Path, call: Callable[..., Said], trim: str, told: bool
) -> None:
    list_of(tmp_path, HINGED, trim)
    says = "No trim is said: raw ends of bars become ends of pieces"
    assert (says in call("check", str(tmp_path / "job.toml")).out) == told
    first = cut_sheet(solve(load(tmp_path / "job.toml")))[0]
    assert (says in " ".join(box.says for box in first.drawing.text_boxes())) == told
