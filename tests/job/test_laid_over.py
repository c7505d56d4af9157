"""One piece, one verdict, however it is drawn: what is refused as drawn is tried laid half a turn over.

A saw that swings to the feed side only makes one of the two miters of a picture-frame piece as it lies and the other
with the bar rolled. Angle with its heel at the bottom does not lie safely so and is packed; it is the same piece
whether the drawing shows its leg up or down.
"""

from __future__ import annotations

from math import cos, radians, sin, tan
from pathlib import Path

import pytest

from mitertool.job import SolvedPiece
from tests.job.test_solve import HEAD, SAW, WITH_SAW, piece, solved, stock

ONE_WAY = SAW.replace("discharge_side_most = 45", "discharge_side_most = 0")
WORDS = [(heel, leg) for heel in ("out", "in") for leg in ("up", "down")]


def rim(heel: str, leg: str, corners: str = "miter") -> str:
    sizes = 'width = 900\nheight = 700\nmeasured = "outside"\n'
    words = f'heel = "{heel}"\nleg = "{leg}"\ncorners = "{corners}"\n'
    return f'[[frame]]\nmark = "RIM"\nshape = "rectangle"\nsection = "L 80x60x7"\n{sizes}{words}'


def drawn_slope(solved_piece: SolvedPiece, end: str) -> float:
    """The slope dx/dy of an end as the drawing has it: + tan(miter) at the right, - tan(miter) at the left."""
    drawn = solved_piece.order.piece
    return tan(radians(drawn.right.miter)) if end == "right" else -tan(radians(drawn.left.miter))


def made_slope(swing: float, roll: float) -> float:
    """The slope that a swung blade leaves on the bar rolled back to how it is drawn, by a turned normal.

    The blade's plane has the normal (cos, -sin, 0) of its swing; the roll turns y and z about x.
    """
    x, y, z = cos(radians(swing)), -sin(radians(swing)), 0.0
    c, s = cos(radians(roll)), sin(radians(roll))
    y, z = c * y - s * z, s * y + c * z
    assert abs(z) < 1e-9
    return -y / x


@pytest.mark.parametrize(("heel", "leg"), WORDS)
def test_a_rim_of_angle_is_made_whichever_way_its_leg_is_drawn(tmp_path: Path, heel: str, leg: str) -> None:
    solution = solved(tmp_path, WITH_SAW + rim(heel, leg) + stock("L 80x60x7"), ONE_WAY)
    assert (solution.problems, solution.problem_marks) == ((), ())
    assert solution.plan is not None
    for one in solution.pieces:
        assert one.left is not None
        assert one.right is not None
        for end, reach in (("left", one.left), ("right", one.right)):
            assert 0 <= reach.swing <= 60
            assert made_slope(reach.swing, reach.roll) == pytest.approx(drawn_slope(one, end))


@pytest.mark.parametrize(("heel", "leg"), WORDS)
def test_one_of_both_cuts_is_packed(tmp_path: Path, heel: str, leg: str) -> None:
    """Heel at the bottom it stays as laid, heel at the top it does not: leg up that is the rolled one, leg down the one
    as drawn."""
    for one in solved(tmp_path, WITH_SAW + rim(heel, leg), ONE_WAY).pieces:
        ends = [reach for reach in (one.left, one.right) if reach]
        assert sorted(abs(reach.roll) for reach in ends) == [0, 180]
        assert [reach.roll != 0 for reach in ends if reach.pack] == [leg == "up"]


@pytest.mark.parametrize(("heel", "leg"), WORDS)
def test_every_cut_on_its_bar_is_within_the_swing(tmp_path: Path, heel: str, leg: str) -> None:
    solution = solved(tmp_path, WITH_SAW + rim(heel, leg) + stock("L 80x60x7"), ONE_WAY)
    cuts = [cut for run in solution.runs for cut in run.cuts]
    assert cuts
    assert [cut.reach.reasons for cut in cuts if not cut.reach.ok] == []
    assert all(-1e-9 <= cut.reach.swing <= 60 for cut in cuts)


OVER = [("45", "45", "-45", "-45"), ("30", "0", "-30", "0"), ("50", "-50", "-50", "50"), ("-20", "35", "20", "-35")]
"""Miters of a left and a right end, and those of the same piece drawn half a turn over about its axis."""


@pytest.mark.parametrize(("left", "right", "over_left", "over_right"), OVER)
def test_a_piece_and_the_same_piece_drawn_over(
    tmp_path: Path, left: str, right: str, over_left: str, over_right: str
) -> None:
    up = piece(section="L 60x60x6", more=f"left = {left}\nright = {right}")
    down = piece(section="L 60x60x6", more=f"lay = 180\nleft = {over_left}\nright = {over_right}")
    found = [solved(tmp_path, WITH_SAW + text + stock("L 60x60x6"), ONE_WAY) for text in (up, down)]
    assert [one.problems for one in found] == [(), ()]


def test_what_no_lay_makes_is_refused_in_both(tmp_path: Path) -> None:
    """62 to either side is past a swing of 60; the bar laid over is as far out."""
    for lay, miter in ((0, 62), (180, -62)):
        text = piece(section="L 60x60x6", more=f"lay = {lay}\nleft = {miter}\nright = {miter}")
        assert solved(tmp_path, WITH_SAW + text, ONE_WAY).problem_marks == ("A",)


def test_on_a_saw_that_swings_both_ways_nothing_is_rolled(tmp_path: Path) -> None:
    for one in solved(tmp_path, WITH_SAW + rim("out", "up")).pieces:
        assert [reach.roll for reach in (one.left, one.right) if reach] == [0, 0]


def test_without_a_saw_nothing_is_set(tmp_path: Path) -> None:
    for one in solved(tmp_path, HEAD + rim("out", "up")).pieces:
        assert (one.left, one.right) == (None, None)
