"""What is keyed into a control is written as the control takes it: decimals in the units of the saw file, no fraction.

Expected by hand: two square pieces of 10 1/2 in and a kerf of 0.055 in. The bar moves 10.5 + 0.055 = 10.555 from kerf
to kerf, which is 268.097 mm; a control that adds the kerf by itself is given the 10.5, which is 266.7 mm.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from mitertool.drawing import Text
from mitertool.job import load, solve
from mitertool.packet.floor.made import floor_of
from mitertool.packet.pages.sheet.bar_block import bar_blocks

SAW = """[saw]
name = "S"
units = "{units}"
kind = "hinged"
kerf = {kerf}
[scale]
square = 0
positive = "feed-side"
feed_side_most = 60
discharge_side_most = 60
[bed]
swing_axis = {axis}
[vise]
fixed_jaw = "left"
[feed]
stroke = {stroke}
shortest = {shortest}
counts_kerf = {counts}
{decimals}
"""
INCH = {"units": "in", "kerf": "0.055", "axis": "1", "stroke": "20", "shortest": "0.25"}
MM = {"units": "mm", "kerf": "1.397", "axis": "25.4", "stroke": "508", "shortest": "6.35"}
JOB = """[job]
name = "J"
units = "{units}"
saw = "saw.toml"
[nest]
trim = "1 in"
[[stock]]
section = "HSS4x2x3/16"
length = "20 ft"
[[piece]]
mark = "A"
section = "HSS4x2x3/16"
length = "10 1/2 in"
quantity = 2
"""


def said(folder: Path, saw: dict[str, str], units: str, counts: bool, decimals: str = "") -> list[str]:
    """The texts of the block of the one bar."""
    text = SAW.format(**saw, counts=str(counts).lower(), decimals=decimals)
    (folder / "saw.toml").write_text(text, encoding="utf-8")
    (folder / "job.toml").write_text(JOB.format(units=units), encoding="utf-8")
    floor = floor_of(solve(load(folder / "job.toml")))
    (work,) = floor.bars
    blocks = bar_blocks(work, floor, 186)
    return [part.says for block in blocks for part in block.drawing.entities if isinstance(part, Text)]


@pytest.mark.parametrize(
    ("saw", "units", "decimals", "key"),
    [
        (INCH, "ft-in", "", '10.56"'),
        (INCH, "in/16", "decimals = 3", '10.555"'),
        (INCH, "in", "decimals = 1", '10.6"'),
        (INCH, "mm", "", '10.56"'),
        (MM, "mm", "", "268.1"),
        (MM, "mm", "decimals = 2", "268.1"),
        (MM, "mm", "decimals = 3", "268.097"),
        (MM, "ft-in", "", "268.1 mm"),
        (MM, "in", "decimals = 0", "268 mm"),
    ],
)
def test_a_keyed_length(saw: dict[str, str], units: str, decimals: str, key: str, tmp_path: Path) -> None:
    assert key in said(tmp_path, saw, units, False, decimals)


@pytest.mark.parametrize(("saw", "units", "key"), [(INCH, "ft-in", '10.50"'), (MM, "ft-in", "266.7 mm")])
def test_the_kerf_that_the_control_adds_is_not_keyed(saw: dict[str, str], units: str, key: str, tmp_path: Path) -> None:
    assert key in said(tmp_path, saw, units, True)


def test_what_the_control_takes_is_told_in_its_own_units(tmp_path: Path) -> None:
    """The most is never told as more than it is: 10.125 is not 10.13."""
    texts = said(tmp_path, INCH, "ft-in", False, "longest = 10.125")
    assert 'longer than the 10.125" that the control takes' in " ".join(texts)
