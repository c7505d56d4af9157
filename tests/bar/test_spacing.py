"""How far apart two cuts stand on a bar and what its ends take, against numbers worked by hand.

The formulas follow from planes and a kerf square to each: parallel cuts share a kerf k*sec(a); others take two whole
kerfs and a wedge, k*(sec a + sec b) + |a - b|*W/2; a bar starts with trim + |b|*W/2 and ends with
|a|*W/2 + k*sec(a). Slopes of 3/4 have sec = 5/4, slopes (2, 2) have sqrt(1 + 4 + 4) = 3, so every number is exact on
paper; 1e-9 mm is left for the rounding of angles made from slopes.
"""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import mitertool as mt
from mitertool.bar import Allowance, BarPiece
from mitertool.bar.spacing import before, behind, blank_length, gap, gaps, half_kerf

TUBE = mt.rect_tube(40, 30, 3)
Slopes = tuple[float, float]


def piece(left: Slopes = (0, 0), right: Slopes = (0, 0), centerline: float = 500) -> BarPiece:
    return BarPiece("A", TUBE, mt.Cut.from_slopes(*left), mt.Cut.from_slopes(*right), centerline)


def joint(one: BarPiece, two: BarPiece, allowance: Allowance) -> float:
    return gap(one.trail, two.lead, TUBE, allowance)


JOINTS = [
    # right cut of the first piece, left cut of the next (as pieces have them), kerf, least wedge, distance
    ((0, 0), (0, 0), 2, 0, 2.0),
    ((0.75, 0), (-0.75, 0), 2, 0, 2.5),
    ((-0.75, 0), (0.75, 0), 2, 0, 2.5),
    ((0.75, 0), (0.75, 0), 2, 0, 2 * 2.5 + 1.5 * 20),
    ((0.75, 0), (0, 0), 2, 0, 2.5 + 2 + 0.75 * 20),
    ((0, 0), (-0.75, 0), 2, 0, 2 + 2.5 + 0.75 * 20),
    ((0.75, 0), (0.75, 0), 0, 0, 30.0),
    ((2, 2), (-2, -2), 2, 0, 6.0),
    ((2, 2), (0, 0), 2, 0, 6 + 2 + 2 * 20 + 2 * 15),
    ((2, 2), (2, 2), 2, 0, 6 + 6 + 4 * 20 + 4 * 15),
    ((2, 2), (2, -2), 2, 0, 6 + 6 + 4 * 20),
    ((2, 2), (-2, 2), 2, 0, 6 + 6 + 4 * 15),
    ((0.75, 0), (0.75, 0), 2, 5, 35 + 5),
    ((0.75, 0), (-0.75, 0), 2, 5, 2.5),
]


@pytest.mark.parametrize(("right", "left", "kerf", "wedge", "distance"), JOINTS)
def test_distance_of_neighbours(right: Slopes, left: Slopes, kerf: float, wedge: float, distance: float) -> None:
    allowance = Allowance(kerf, wedge_least=wedge)
    assert joint(piece(right=right), piece(left=left), allowance) == pytest.approx(distance, abs=1e-9)
    of_many = gaps(piece(right=right).trail, [piece(left=left).lead] * 2, TUBE, allowance)
    assert of_many == pytest.approx((distance, distance), abs=1e-9)


OVER = [
    # as above with the second kerf where the piece was: the first kerf and the wedge
    ((0.75, 0), (-0.75, 0), 2.5),
    ((0.75, 0), (0.75, 0), 2.5 + 1.5 * 20),
    ((0.75, 0), (0, 0), 2.5 + 0.75 * 20),
    ((0, 0), (-0.75, 0), 2 + 0.75 * 20),
    ((2, 2), (2, -2), 6 + 4 * 20),
]


@pytest.mark.parametrize(("right", "left", "distance"), OVER)
def test_distance_with_the_second_kerf_where_the_piece_was(right: Slopes, left: Slopes, distance: float) -> None:
    allowance = Allowance(2, second_kerf="where the piece was")
    assert joint(piece(right=right), piece(left=left), allowance) == pytest.approx(distance, abs=1e-9)


ENDS = [
    # cut (as the piece has it), where a bar starts with it at trim 10, what the bar's end takes at kerf 2
    ((0, 0), 10.0, 2.0),
    ((0.75, 0), 10 + 15, 15 + 2.5),
    ((-0.75, 0), 10 + 15, 15 + 2.5),
    ((2, 2), 10 + 2 * 20 + 2 * 15, 2 * 20 + 2 * 15 + 6),
    ((2, -2), 10 + 2 * 20 + 2 * 15, 2 * 20 + 2 * 15 + 6),
]


@pytest.mark.parametrize(("cut", "starts", "takes"), ENDS)
def test_ends_of_a_bar(cut: Slopes, starts: float, takes: float) -> None:
    allowance = Allowance(kerf=2, trim=10, grip=80)
    assert before(piece(left=cut).lead, TUBE, allowance) == pytest.approx(starts, abs=1e-9)
    assert behind(piece(right=cut).trail, TUBE, 2) == pytest.approx(takes, abs=1e-9)


def test_half_kerf_weight() -> None:
    """c + k*(sec left + sec right)/2 = 500 + 2*(5/4 + 3)/2."""
    one = piece((0.75, 0), (2, 2))
    halves = (half_kerf(end, one.section, 2) for end in (one.lead, one.trail))
    assert one.centerline + sum(halves) == pytest.approx(504.25, abs=1e-9)


def test_slopes_that_differ_by_rounding_are_parallel() -> None:
    """45 degrees by its slope and by its angle: one kerf of 2*sqrt(2)."""
    one = BarPiece("A", TUBE, mt.Cut(), mt.Cut(45), 500)
    other = piece(left=(-1, 0))
    assert joint(one, other, Allowance(2)) == pytest.approx(2 * 2**0.5, abs=1e-9)


slopes = st.tuples(st.floats(-3, 3), st.sampled_from([0.0, 0.0, 0.5, -1.0]))


@settings(deadline=None, derandomize=True)
@given(st.lists(slopes, min_size=6, max_size=6), st.floats(0, 5), st.floats(0, 20), st.floats(0, 500), st.booleans())
def test_leaving_a_piece_out_never_lengthens_a_bar(
    cuts: list[Slopes], kerf: float, wedge: float, more: float, over: bool
) -> None:
    """The triangle inequality; 1e-9 mm for the rounding of sums of up to 1000 mm."""
    (p_l, q_l), (p_r, q_r) = cuts[2], cuts[3]
    shortest = abs(p_l + p_r) * 20 + abs(q_l + q_r) * 15
    middle = piece(cuts[2], cuts[3], shortest + more + 0.1)
    first, last = piece(cuts[0], cuts[1]), piece(cuts[4], cuts[5])
    allowance = Allowance(kerf, second_kerf="where the piece was") if over else Allowance(kerf, wedge_least=wedge)
    way = joint(first, middle, allowance) + middle.centerline + joint(middle, last, allowance)
    assert joint(first, last, allowance) <= way + 1e-9


BLANKS = [
    # left and right cut (as the piece has them), what a blank is longer than the piece of 500 at kerf 2
    ((0, 0), (0, 0), 0.0),
    ((0.75, 0), (-0.75, 0), 0.0),
    ((0.75, 0), (0.75, 0), 1.5 * 20 + 2.5),
    ((0, 0), (2, 2), 2 * 20 + 2 * 15 + 6),
    ((2, 2), (2, -2), 4 * 20 + 6),
]


@pytest.mark.parametrize(("left", "right", "more"), BLANKS)
def test_a_blank_holds_its_piece_the_wedge_and_the_kerf_of_the_recut(left: Slopes, right: Slopes, more: float) -> None:
    """Both ends of a blank have the slope of the leading cut: the wedge to the trailing one, |dp|*W/2 + |dq|*H/2, and
    its kerf along the bar."""
    assert blank_length(piece(left, right), 2) == pytest.approx(500 + more, abs=1e-9)
