"""Bars side by side and boxed pairs: their plan by hand, every bar of a row by itself, what is refused.

A row of n bars, each W wide, is as wide as n*W; a cut of slope p meets bar j on a line shifted by p*W*(j - (n - 1)/2),
so pieces whose two cuts are parallel come out alike in all of them, which is shown here bar by bar.
"""

from __future__ import annotations

from itertools import pairwise
from math import radians, sqrt, tan
from pathlib import Path
from typing import Any

import pytest

import mitertool as mt
from mitertool.base.errors import BadInput
from mitertool.job import Solution, load, solve
from mitertool.nest import buying_list
from mitertool.packet.floor.made import floor_of
from mitertool.packet.pages import said
from mitertool.packet.pages.labels import label_pages
from mitertool.packet.records import of_plan_file, of_solution
from mitertool.packet.words import lies
from mitertool.sections.abreast import boxed, row

STOCK = '[[stock]]\nsection = "{}"\nlength = 6000\n{}\n'
PIECE = '[[piece]]\nmark = "{}"\nsection = "{}"\nlength = 500\n{}\n'
SLANTED = "left = 45\nright = -45\n"


def made(folder: Path, *tables: str, saw: str = "") -> Solution:
    if saw:
        (folder / "saw.toml").write_text(saw)
    named = 'saw = "saw.toml"\n' if saw else ""
    nest = "[nest]\nkerf = 2\ntrim = 10\n"
    (folder / "job.toml").write_text(f'[job]\nname = "Rows"\n{named}{nest}{"".join(tables)}')
    return solve(load(folder / "job.toml"))


@pytest.fixture
def rows(tmp_path: Path) -> Solution:
    """Six parallelograms of a tube 40 wide, three at once."""
    piece = PIECE.format("A", "SHS 40x40x3", SLANTED + "quantity = 6\nside_by_side = 3")
    return made(tmp_path, piece, STOCK.format("SHS 40x40x3", "cost = 30"))


@pytest.fixture
def box(tmp_path: Path) -> Solution:
    """Four of either hand of an angle brace."""
    piece = PIECE.format("A", "L 50x50x5", SLANTED + "quantity = 4\nopposite = 4\nboxed = true")
    return made(tmp_path, piece, STOCK.format("L 50x50x5", ""))


def test_a_row_is_cut_once(rows: Solution) -> None:
    """The first cut stands 10 + 120/2 from the raw end, the next piece a kerf of 2*sqrt(2) behind 500: two rows of
    pieces, three cuts; three bars at 30 each."""
    assert rows.plan
    (bar,) = rows.plan.bars
    assert (bar.count, bar.section.bars, bar.section.width) == (1, 3, 120)
    assert [one.at for one in bar.pieces] == pytest.approx([70, 570 + 2 * sqrt(2)])
    assert (rows.plan.cuts, rows.plan.cost) == (3, 90)
    assert rows.plan.steel.bought == 3 * 6000
    assert [(one.section, one.count, one.cost) for one in buying_list(rows.plan)] == [("SHS 40x40x3", 3, 90)]


def test_every_bar_of_a_row_gives_the_piece(rows: Solution) -> None:
    """By plan.json: slopes from the tape marks on both sides of the row, then each bar by itself."""
    (bar,) = of_plan_file(rows)["bars"]
    assert (bar["side_by_side"], bar["section"], bar["wide_mm"]) == (3, "3 x SHS 40x40x3", 120)
    planes = [_plane(cut, bar["wide_mm"]) for cut in bar["cuts"]]
    for number in range(3):
        at = [x + p * 40 * (number - 1) for x, p in planes]
        assert min(at[0] - 20, at[0] + 20) >= 10 - 1e-9
        assert [two - one for one, two in pairwise(at)] == pytest.approx([500, 500 + 2 * sqrt(2)])


def _plane(cut: dict[str, Any], wide: float) -> tuple[float, float]:
    """Where a cut crosses the middle of the row, and its slope."""
    return cut["at_mm"], (cut["moving_mm"] - cut["fixed_mm"]) / wide


def test_pieces_come_off_in_rows(rows: Solution) -> None:
    floor = floor_of(rows)
    assert [(fetch.section, fetch.count) for fetch in floor.fetch] == [("SHS 40x40x3", 3)]
    cuts = [(len(row.numbers), said.makes(row)) for bar in floor.bars for row in bar.rows if row.makes == "piece"]
    assert cuts == [(2, "3 A")]
    assert (floor.totals.pieces, floor.totals.bars) == (6, 3)
    assert rows.pieces[0].quantity == 6
    assert len(list(label_pages(rows))) == 1


def test_a_box_of_angles(box: Solution) -> None:
    """Legs of 50, 5 thick: the toes of each at the heel of the other, 55 wide and 50 high, with twice the steel; the
    first cut stands 10 + 55/2 from the raw end, four pairs take five cuts."""
    assert box.plan
    (bar,) = box.plan.bars
    leg = mt.section("L 50x50x5")
    assert (bar.section.width, bar.section.height, bar.section.area) == pytest.approx((55, 50, 2 * leg.area))
    assert bar.section.nominal_mass_per_metre == pytest.approx(2 * leg.nominal_mass_per_metre)
    assert (len(bar.pieces), box.plan.cuts, bar.pieces[0].at) == (4, 5, pytest.approx(37.5))
    floor = floor_of(box)
    assert [said.makes(row) for row in floor.bars[0].rows if row.makes == "piece"] == ["A + A-OH"]
    assert [(row.mark, row.solved.quantity, row.bars) for row in floor.pieces] == [("A", 4, (1,)), ("A-OH", 4, (1,))]
    assert [(fetch.section, fetch.count) for fetch in floor.fetch] == [("L 50x50x5", 2)]


def test_the_second_angle_of_a_box_is_the_other_hand(box: Solution) -> None:
    """Seen half a turn over about the bar's axis, y and z and so both slopes of a plane change sign. The opposite hand
    mirrors x: its left cut has the right one's angle. With parallel cuts (45, -45) that is one piece."""
    drawn, other = box.pieces
    (bar,) = of_plan_file(box)["bars"]
    slope = _plane(bar["cuts"][1], bar["wide_mm"])[1]
    assert abs(slope) == pytest.approx(tan(radians(45)))
    first = {mark.mark: (mark.piece.left.miter, mark.piece.right.miter) for mark in (drawn, other)}
    assert first == {"A": (45, -45), "A-OH": (-45, 45)}
    on_the_first_bar = "A" if slope < 0 else "A-OH"
    trailing = {mark: tan(radians(right)) for mark, (_, right) in first.items()}
    assert trailing[on_the_first_bar] == pytest.approx(slope)
    assert trailing["A-OH" if on_the_first_bar == "A" else "A"] == pytest.approx(-slope)


def test_how_bars_lie_that_are_cut_at_once() -> None:
    """Of a row how each of them lies, of a box one of the two: half a turn over it lies as before."""
    flats, pair = row(mt.flat(80, 12), 3), boxed(mt.angle(50, 40, 5))
    assert (lies(flats), lies(flats.lay(90))) == ("lies on its wide side", "stands on its narrow side")
    assert lies(row(mt.rect_tube(40, 40, 3), 2)) == ""
    assert lies(pair) == "two as a box, one with its heel at the bottom, fixed-jaw side"
    assert lies(pair.lay(180)) == "two as a box, one with its heel at the top, moving-jaw side"


def test_channels_meet_toe_to_toe() -> None:
    """Twice as wide with the webs outside, or twice as high where the toes point up; no steel lies twice in it."""
    channel = mt.channel(50, 100, 6, 8)
    assert (boxed(channel).width, boxed(channel).height) == (100, 100)
    assert (boxed(channel.lay(90)).width, boxed(channel.lay(90)).height) == (100, 100)
    assert boxed(channel).area == pytest.approx(2 * channel.area)
    assert {"half-turn", "left-right", "top-bottom"} <= boxed(channel).symmetry


def test_a_box_lies_the_same_with_its_heels_on_either_side() -> None:
    leg = mt.angle(60, 40, 5)
    assert [(boxed(leg.lay(turn)).width, boxed(leg.lay(turn)).height) for turn in (0, 90, 180, 270)] == [
        pytest.approx(size) for size in ((65, 40), (45, 60), (65, 40), (45, 60))
    ]


def test_a_row_that_is_rolled_is_rolled_bar_by_bar() -> None:
    """Three flats 80 x 12 a quarter over stand 12 wide each."""
    three = row(mt.flat(80, 12), 3)
    assert (three.width, three.height) == (240, 12)
    assert (three.lay(90).width, three.lay(90).height) == pytest.approx((36, 80))


SAW = """[saw]
name = "Narrow"
units = "mm"
kind = "column"
kerf = 2
invented = true
[scale]
square = 0
positive = "feed-side"
feed_side_most = 60
discharge_side_most = 60
[vise]
fixed_jaw = "left"
[bed]
swing_axis = 0
width = 110
height = 200
"""


def test_the_vise_must_take_the_whole_row(tmp_path: Path) -> None:
    """Two bars of 40 fit a bed of 110, three do not, and a square tube has no lay in which they would."""
    for count, codes in ((2, []), (3, ["no-lay", "width"])):
        piece = PIECE.format("A", "SHS 40x40x3", f"quantity = 6\nside_by_side = {count}")
        found = made(tmp_path, piece, STOCK.format("SHS 40x40x3", ""), saw=SAW).found
        assert sorted({problem.code for problem in found}) == codes


REFUSED = [
    ("L 50x50x5", "left = 45\nright = 45\nquantity = 2\nside_by_side = 2", "only pieces with parallel cuts"),
    ("L 50x50x5", SLANTED + "quantity = 5\nside_by_side = 2", "rows of 2"),
    ("L 50x50x5", SLANTED + "quantity = 4\nopposite = 2\nboxed = true", "one of either hand"),
    ("SHS 40x40x3", "quantity = 2\nopposite = 2\nboxed = true", "two angles or two channels"),
    ("L 50x50x5", 'lay = "heel up"\nquantity = 2\nopposite = 2\nboxed = true', "two angles or two channels"),
]


@pytest.mark.parametrize(("section", "keys", "says"), REFUSED)
def test_what_cannot_be_cut_at_once(tmp_path: Path, section: str, keys: str, says: str) -> None:
    with pytest.raises(BadInput, match=says):
        made(tmp_path, PIECE.format("A", section, keys))


def test_limited_bars_go_to_one_of_them(tmp_path: Path) -> None:
    """Of five bars two are the row of both rows of pieces; beside a mark that is cut alone nobody says how many."""
    twos = PIECE.format("A", "SHS 40x40x3", "quantity = 4\nside_by_side = 2")
    limited = STOCK.format("SHS 40x40x3", "quantity = 5")
    plan = made(tmp_path, twos, limited).plan
    assert plan
    assert [(bar.count, bar.section.bars) for bar in plan.bars] == [(1, 2)]
    with pytest.raises(BadInput, match="limited bars"):
        made(tmp_path, twos, PIECE.format("B", "SHS 40x40x3", ""), limited)


def test_the_record_of_a_mark(box: Solution, rows: Solution) -> None:
    assert of_solution(box)["pieces"][0]["boxed"] is True
    assert of_solution(rows)["pieces"][0]["side_by_side"] == 3
