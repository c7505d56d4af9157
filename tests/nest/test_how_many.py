"""How many pieces a bar gives, by hand: a box 40 wide, slopes of 3/4 (sec = 5/4), so every number is exact on paper.

A piece takes its centerline; between neighbours stands one kerf of k*5/4 where the cuts are parallel, else two kerfs
and |a - b|*W/2; the bar begins with trim + |b|*W/2 and ends with |a|*W/2 + k*sec(a) before the grip.
"""

from __future__ import annotations

import pytest

import mitertool as mt
from mitertool.base.errors import BadInput
from mitertool.nest import Allowance, NoBars, how_many

TUBE = mt.rect_tube(40, 40, 3).named("tube", "")
LEG = mt.angle(40, 40, 4).named("leg", "")
SLANT = mt.Cut.from_slopes(0.75, 0)


def piece(section: mt.Section, left: mt.Cut, right: mt.Cut, centerline: float = 300) -> mt.Piece:
    return mt.Piece(section, centerline, left, right, at="centerline")


def test_square_pieces() -> None:
    """300 + 2 each: 1000 - 10 - 50 = 940 takes 3 (906), 3 * 302 + 10 = 916 used; 84 are left with the grip."""
    fit = how_many(piece(TUBE, mt.Cut(), mt.Cut()), 1000, Allowance(2, trim=10, grip=50))
    assert (fit.count, fit.tip_to_tip) == (3, 3)
    assert (fit.used, *fit.left_over) == pytest.approx((916, 84, 84))
    assert [one.at for one in fit.pieces] == pytest.approx([10, 312, 614])


def test_frame_sides_share_their_cuts_where_tip_to_tip_counts_one_less() -> None:
    """Ends |3/4|*20 = 15; n pieces take 15 + 300 n + 2.5 (n - 1) + 15 + 2.5: 1240 for 4 on a bar of 1240.

    Tip to tip each takes 330 and a kerf of 2.5: 3 of 332.5. The drop is 0 at its shortest line and 30 at its longest.
    """
    fit = how_many(piece(TUBE, SLANT, SLANT), 1240, Allowance(2))
    assert (fit.count, fit.tip_to_tip) == (4, 3)
    assert (fit.used, *fit.left_over) == pytest.approx((1240, 0, 30), abs=1e-6)
    assert how_many(piece(TUBE, SLANT, SLANT), 1239.999, Allowance(2)).count == 3


def test_the_order_that_leaves_most_is_taken() -> None:
    """A square and a slanted end. Two pieces share a cut either way: slanted outside, 15 + 300 + 2 + 300 + 15 + 2.5;
    square outside 300 + 2.5 + 300 + 2 = 604.5, which a bar of 604.5 just takes, without a wedge."""
    fit = how_many(piece(TUBE, mt.Cut(), SLANT), 604.5, Allowance(2))
    assert (fit.count, fit.left_over) == (2, pytest.approx((0, 0), abs=1e-6))
    assert how_many(piece(TUBE, mt.Cut(), SLANT), 604.49, Allowance(2)).count == 1


def test_an_angle_lies_one_way_only() -> None:
    """It has no other pose: between two pieces two kerfs and a wedge, 300 + 2.5 + 2 + 15; at the end 300 + 15 + 2.5."""
    leg = piece(LEG, mt.Cut(), SLANT)
    assert how_many(leg, 637, Allowance(2)).count == 2
    assert how_many(leg, 636.99, Allowance(2)).count == 1


def test_the_second_kerf_may_lie_where_the_piece_was() -> None:
    """Then its 2 mm are not between them: 300 + 2.5 + 15 + 300 + 15 + 2.5 = 635."""
    leg = piece(LEG, mt.Cut(), SLANT)
    assert how_many(leg, 635, Allowance(2, second_kerf="where the piece was")).count == 2
    assert how_many(leg, 634.99, Allowance(2, second_kerf="where the piece was")).count == 1


def test_only_the_poses_that_are_allowed() -> None:
    """Held as drawn, two tubes with a square and a slanted end need the bar of the angle."""
    tube = piece(TUBE, mt.Cut(), SLANT)
    assert how_many(tube, 637, Allowance(2), turn=("as-drawn",)).count == 2
    assert how_many(tube, 636.99, Allowance(2), turn=("as-drawn",)).count == 1


def test_a_bar_that_is_too_short() -> None:
    with pytest.raises(NoBars, match="needs a bar of 302 mm"):
        how_many(piece(TUBE, mt.Cut(), mt.Cut()), 301, Allowance(2))


def test_refused_answers() -> None:
    with pytest.raises(BadInput, match="second_kerf"):
        Allowance(2, second_kerf="anywhere")
    with pytest.raises(BadInput, match="wedge_least"):
        Allowance(2, wedge_least=1, second_kerf="where the piece was")
