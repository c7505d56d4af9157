"""Holes in the members around a frame, told from its corners: hinges and latches, on every page and in both leaves."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import pytest

from mitertool.drawing import Text
from mitertool.job import load, solve
from mitertool.packet.pages.fitter.marked import marked_blocks
from tests.frame.runs import HEAD, by_mark, checked, frame, refusal, tube

T = tube("T", 50)
SLOPING = {"width": 1000, "height": 1200, "right_height": 900, "measured": "outside"}


def holed(*holes: tuple[list[int], float, str], shape: str = "sloping", **keys: object) -> str:
    told = (f'{{ corners = {corners}, at = {at}, side = "{side}" }}' for corners, at, side in holes)
    return f"{frame(shape, **{**SLOPING, **keys})}holes = [{', '.join(told)}]\n"


def places(record: dict[str, Any]) -> dict[str, list[tuple[str, float]]]:
    return {
        mark: [(one["side"], round(one["at_mm"], 6)) for one in piece["places"]]
        for mark, piece in by_mark(record).items()
        if piece["places"]
    }


def test_they_are_measured_from_the_corner_and_told_from_the_end_of_the_piece(tmp_path: Path) -> None:
    """The left post runs from corner 1 up to 2: its outside begins in the corner; its inside 50 above it, since that
    corner is square; its front in the middle of both. From corner 2 the same place is 1200 less."""
    holes = (([1, 2], 200, "outside"), ([1, 2], 300, "inside"), ([2, 1], 800, "front"))
    record = checked(tmp_path, T, holed(*holes))
    (found,) = places(record).values()
    assert sorted(found) == [("fixed", 250), ("moving", 200), ("top", 375)]


def test_a_butted_member_begins_later(tmp_path: Path) -> None:
    """Rails run through: a post begins 50 above the corner, with a gap of 2 at 52. Both posts are of one mark, whose
    piece has the hole only where both have it."""
    butt = {"width": 1000, "height": 1200, "right_height": None, "corners": "butt", "root_gap": 2}
    left, right = ([1, 2], 200, "back"), ([3, 4], 200, "back")
    assert places(checked(tmp_path, T, holed(left, right, shape="rectangle", **butt))) == {"F-2": [("bottom", 148)]}
    assert places(checked(tmp_path, T, holed(left, shape="rectangle", **butt))) == {}


def test_a_slanted_member_is_measured_along_its_outer_edge(tmp_path: Path) -> None:
    """The top from corner 2 to 3 is sqrt(1000^2 + 300^2) long outside; 100 from corner 2 is that less 100 from
    corner 3, the lower end, from which its page and its label tell it."""
    record = checked(tmp_path, T, holed(([2, 3], 100, "outside")))
    (found,) = (piece["places"] for piece in record["pieces"] if piece["places"])
    assert [(one["side"], one["end"]) for one in found] == [("moving", "right")]
    assert found[0]["at_mm"] == pytest.approx(math.hypot(1000, 300) - 100, abs=1e-6)


def test_hinges_of_both_leaves(tmp_path: Path) -> None:
    """Of the mirrored leaf the hinge stile is at the right, from corner 4 up to 3, and its piece is of the opposite
    hand; the hinges are as far from the foot of it."""
    leaf = {"opening_width": 2000, "opening_height": 1200, "leaves": 2, "width": None, "height": None}
    text = holed(([1, 2], 200, "outside"), ([1, 2], 900, "outside"), **leaf)
    record = checked(tmp_path, T, text)
    (stile,) = (piece for piece in record["pieces"] if piece["places"])
    assert (stile["quantity"], stile["opposite"]) == (1, 1)
    path = tmp_path / "own.toml"
    path.write_text("\n".join([HEAD, T, text]), encoding="utf-8")
    rows = []
    for hand in solve(load(path)).frames[0].hands:
        blocks = marked_blocks(hand.assembly, hand.out, "mm", 186.0)
        rows += [[part.says for part in block.drawing.entities if isinstance(part, Text)] for block in blocks]
    told = [[word for word in row if word][-6:] for row in rows if "hole" in row]
    mark = stile["mark"]
    left, right = f"{mark}, corners 1 to 2, outside", f"{mark}-OH, corners 4 to 3, outside"
    assert [" ".join(row) for row in told] == [f"{left} hole 200 hole 900", f"{right} hole 200 hole 900"]


@pytest.mark.parametrize(
    ("hole", "says"),
    [
        (([1, 3], 100, "outside"), "holes: found [1, 3]; two neighbors of the corners 1 to 4"),
        (([1, 2], 1300, "outside"), "holes: found '1300 mm'; a place on that side of the member"),
        (([1, 2], 20, "inside"), "holes: found '20 mm'; a place on that side of the member"),
        (([1], 100, "outside"), "two corners, such as [1, 2]"),
        (([1, 2], 100, "above"), "side: found 'above'"),
    ],
    ids=str,
)
def test_what_is_no_hole(tmp_path: Path, hole: tuple[list[int], float, str], says: str) -> None:
    assert says in refusal(tmp_path, T, holed(hole))
