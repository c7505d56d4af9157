"""The flat pattern of a hopper's plates on paper: figures by hand of a frustum, and what is said without a saw."""

from __future__ import annotations

import re
from math import atan2, cos, degrees, hypot, radians
from pathlib import Path

import pytest

from mitertool.drawing import Dimension, Drawing
from mitertool.frame import SpaceAssembly
from mitertool.job import Solution, load, solve
from mitertool.packet.pages.browser.frame_part import frames_part
from mitertool.packet.pages.fitter.frame_blocks import frame_blocks
from mitertool.packet.pages.fitter.pattern import FlatPattern, pattern_blocks
from mitertool.packet.pages.sheet.sheet import cut_sheet
from tests.packet.jobs import ROOT

HOPPER = (
    '[job]\nname = "H"\nunits = "mm"\n{saw}[[frame]]\nmark = "H"\nshape = "hopper"\nthickness = 6\nsides = 4\n'
    'bottom = [300, 200]\ntop = [900, 700]\nheight = 500\nmeasured = "outside"\n'
)


def solved(folder: Path, saw: str = "") -> Solution:
    (folder / "job.toml").write_text(HOPPER.format(saw=saw), encoding="utf-8")
    return solve(load(folder / "job.toml"))


def of_frame(solution: Solution) -> SpaceAssembly:
    assembly = solution.frames[0].assembly
    assert isinstance(assembly, SpaceAssembly)
    return assembly


def said(solution: Solution) -> str:
    whole = sum((block.drawing for block in frame_blocks(solution, 186)), Drawing(()))
    return " ".join(box.says for box in whole.text_boxes())


def test_what_a_rule_and_a_square_find_on_a_plate(tmp_path: Path) -> None:
    """From 200 to 700 over 500 the side of 300 and 900 goes out by 250: it slopes at atan(500 / 250). From corner to
    corner in space the edge is (300, 250, 500) long, the same of both plates."""
    one, other = (FlatPattern.of(plate) for plate in of_frame(solved(tmp_path)).leaning)
    edge = hypot(300, 250, 500)
    assert (one.side, other.side) == pytest.approx((edge, edge), abs=1e-9)
    assert (one.set_in, other.set_in) == (300, 250)
    assert (one.diagonal, other.diagonal) == pytest.approx((hypot(600, 500, 250), hypot(450, 500, 300)), abs=1e-9)
    slopes = [atan2(500, 250), atan2(500, 300)]
    assert (one.higher, other.higher) == pytest.approx([6 * cos(slope) for slope in slopes], abs=1e-9)
    assert (one.level, other.level) == pytest.approx([90 - degrees(slope) for slope in slopes], abs=1e-9)


def test_each_plate_is_drawn_with_its_sizes(tmp_path: Path) -> None:
    found = list(pattern_blocks(of_frame(solved(tmp_path)).leaning, "mm", 186, False))
    sizes = {one.says for block in found for one in block.drawing.entities if isinstance(one, Dimension)}
    assert sizes == {"300", "900", "559", "634.4", "200", "700", "583.1"}
    words = said(solved(tmp_path))
    assert "H-1: blank 900 x 559, set in 300 at either end, diagonal 820.1" in words
    assert f"the inner edge is {6 * cos(radians(63.435)):.1f} higher" in words
    assert "Slanted edges beveled 38.35° from square, under" in words
    assert "This saw does not make" not in words


def test_plates_that_no_saw_makes_are_cut_out_by_their_pattern(tmp_path: Path) -> None:
    (tmp_path / "saw.toml").write_bytes((ROOT / "gallery" / "saws" / "column.toml").read_bytes())
    solution = solved(tmp_path, 'saw = "saw.toml"\n')
    assert solution.refused == {"H-1", "H-2"}
    assert "This saw does not make these plates: cut them out by shear, by plasma or by hand" in said(solution)


def test_the_page_shows_the_pattern_that_paper_has(tmp_path: Path) -> None:
    """Every size of either plate, its blank and its bevels, each below its picture; and what no saw makes."""
    (tmp_path / "saw.toml").write_bytes((ROOT / "gallery" / "saws" / "column.toml").read_bytes())
    shown = "".join(map(str, frames_part(solved(tmp_path, 'saw = "saw.toml"\n'))))
    pictures = re.findall(r"<figure.*?</figure>", shown, flags=re.DOTALL)
    plates = [one for one in pictures if ": blank " in one]
    for plate, sizes in zip(plates, (("300", "900", "559", "634.4"), ("200", "700", "583.1", "634.4")), strict=True):
        assert {*sizes} <= {*re.findall(r">([\d.]+)</text>", plate)}
    assert "H-1: blank 900 x 559, set in 300 at either end, diagonal 820.1" in plates[0]
    assert "Slanted edges beveled 38.35° from square, under" in plates[1]
    assert "This saw does not make these plates: cut them out by shear" in shown


def test_what_a_saw_refuses_of_plates_is_a_table_of_page_one(tmp_path: Path) -> None:
    """Both plates lean 38.35 from square and the blade tilts to 38: one row for both marks, on no other page."""
    (tmp_path / "saw.toml").write_bytes((ROOT / "gallery" / "saws" / "column.toml").read_bytes())
    first, *others = cut_sheet(solved(tmp_path, 'saw = "saw.toml"\n'))
    rows = " | ".join(box.says for box in first.drawing.text_boxes())
    assert "Refused | Marks" in rows
    assert re.search(r"2 marks \| needs a tilt of 38.35 degrees, where the blade( \| )?\s?goes to 38 \| H-1, H-2", rows)
    assert not any("needs a tilt" in box.says for page in others for box in page.drawing.text_boxes())
