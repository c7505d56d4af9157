"""A piece recut to another: whether that comes out of it, which end stays, and what comes off; by hand arithmetic.

RHS 80x40x3 is 40 wide. A miter of 45 degrees at one end makes the centerline 20 shorter than the long side, and a kerf
of 2 there takes 2 sqrt 2 along the bar.
"""

from __future__ import annotations

from math import sqrt

import pytest

from mitertool.cut import Cut
from mitertool.job.again import Again, again
from mitertool.piece import Piece
from mitertool.sections import section

KERF = 2.0
INCH = 25.4
TUBE = section("RHS 80x40x3")
ANGLE = section("L 50x50x5")


def found(old: Piece, new: Piece) -> Again:
    return again(old, new, KERF)[0]


def tube(length: float, left: float = 0, right: float = 0) -> Piece:
    return Piece(TUBE, length, Cut(left), Cut(right))


def test_a_piece_of_60_inches_becomes_one_of_58_with_one_cut() -> None:
    how = found(tube(60 * INCH), tube(58 * INCH))
    assert how.cuts == 1
    assert sorted(how.off) == pytest.approx([0, 2 * INCH])


def test_an_end_of_the_same_angle_stays() -> None:
    how = found(tube(1200, 45, 30), tube(1100, 45, 30))
    assert how.cuts == 1
    assert sorted(how.off) == pytest.approx([0, 100])


def test_the_end_that_stays_may_be_the_other_one_of_a_piece_turned_end_for_end() -> None:
    """The right end, 30, stays and becomes the left end of the new one; its right end, 45, is cut anew."""
    how = found(tube(1200, 10, 30), tube(1100, 30, 45))
    assert (how.pose, how.cut_anew) == ("end-for-end-rolled", ("right",))
    assert how.off[1] == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize(("new", "cuts"), [(1198.1, None), (1198, 1), (1196, 1), (1200, 0)])
def test_a_whole_kerf_comes_off(new: float, cuts: int | None) -> None:
    ways = again(tube(1200), tube(new), KERF)
    assert (ways[0].cuts if ways else None) == cuts


@pytest.mark.parametrize(("room", "comes"), [(-0.1, False), (0.1, True)])
def test_a_square_piece_becomes_a_mitered_one_where_both_planes_lie_within(room: float, comes: bool) -> None:
    """Both ends are cut anew at 45: at either the plane begins at the old end, and a kerf of 2 sqrt 2 comes off."""
    old = tube(1000 + 2 * KERF * sqrt(2) + room)
    ways = again(old, tube(1000, 45, 45), KERF)
    assert bool(ways) == comes
    for how in ways:
        assert how.cuts == 2
        assert how.off == pytest.approx((20 + KERF * sqrt(2), 20 + KERF * sqrt(2) + room), abs=1e-9)


def test_a_mitered_piece_holds_a_square_one_no_longer_than_its_short_side() -> None:
    old = tube(1200, 45, 45)
    assert found(old, tube(1120 - 2 * KERF)).cuts == 2
    assert again(old, tube(1120 - 2 * KERF + 0.1), KERF) == ()


def test_a_longer_piece_another_section_or_another_lay_does_not_come_of_it() -> None:
    assert again(tube(1000), tube(1001), KERF) == ()
    assert again(tube(1000), Piece(section("SHS 40x40x3"), 500), KERF) == ()
    assert again(Piece(ANGLE, 1000), Piece(ANGLE.lay(180), 500, Cut(45)), KERF) == ()


def test_ends_of_more_planes_are_left_alone() -> None:
    pointed = Piece(TUBE, 1000, Cut(), (Cut(40), Cut(-30)))
    assert again(pointed, tube(500), KERF) == ()
    assert again(tube(2000), pointed, KERF) == ()


@pytest.mark.parametrize(("left", "right"), [(45, 30), (-20, 10), (0, 60)])
def test_what_comes_off_and_what_stays_make_the_old_piece(left: float, right: float) -> None:
    old, new = tube(1500, right, left), tube(900, left, right)
    how = found(old, new)
    assert old.centerline == pytest.approx(sum(how.off) + new.centerline)
    assert min(how.off) > -1e-9
