"""Two drawings of one piece are one piece, and its opposite hand is another; each pair turned by hand.

A piece rolled by a angle a about its bar has the slopes of its ends rolled with it; turned end for end its ends change
places and their slope across changes its sign, which is half a turn about the vertical.
"""

from __future__ import annotations

from math import atan, degrees

import pytest

from mitertool.cut import Cut
from mitertool.piece import Piece
from mitertool.piece.same_piece import same_piece
from mitertool.sections import Section, section

ANGLE, TUBE, SQUARE = section("L 50x50x5"), section("RHS 80x40x3"), section("SHS 50x50x3")


def piece(of: Section, left: Cut, right: Cut, length: float = 900.0) -> Piece:
    return Piece(of, length, left, right, at="centerline")


def test_an_equal_angle_turned_about_its_own_diagonal_is_the_same() -> None:
    """Half a turn about the line of symmetry of its legs: across and up change places, and so do the ends.

    The symmetry of its outline is diagonal, so that none of the four ways to lay a bar shows it.
    """
    one, other = piece(ANGLE, Cut(30), Cut()), piece(ANGLE, Cut(), Cut.from_slopes(0, Cut(30).p))
    assert one.poses == ("as-drawn",)
    assert same_piece(one, other)
    assert not same_piece(one, piece(ANGLE, Cut(), Cut(30)))
    assert not same_piece(one, one.opposite_hand())


@pytest.mark.parametrize("roll", [90, 180, 270])
def test_a_bar_laid_and_drawn_another_way_is_the_same(roll: float) -> None:
    """An angle whose section is rolled by quarters, its slopes with it: (p, q) to (-q, p) for each."""
    p, q = Cut(30, 10).p, Cut(30, 10).q
    for _ in range(round(roll / 90)):
        p, q = -q, p
    one = piece(ANGLE, Cut(30, 10), Cut(20))
    turned = complex(Cut(20).p, 0) * 1j ** round(roll / 90)
    # the middle of the box of an angle lies elsewhere when it is rolled: the length is that at the centroid
    at = ANGLE.centroid
    laid = ANGLE.lay(roll)
    made = piece(laid, Cut.from_slopes(p, q), Cut.from_slopes(turned.real, turned.imag))
    shift = one.length_at(*at) - made.length_at(*laid.centroid)
    made = piece(laid, made.left, made.right, 900.0 + shift)
    assert same_piece(one, made)
    assert not same_piece(one, piece(laid, made.left, made.right, 900.5 + shift))
    assert not same_piece(one, made.opposite_hand())


def test_a_square_tube_rolled_by_a_quarter_is_the_same_and_a_flat_one_is_not() -> None:
    upright = Cut(0, degrees(atan(Cut(45).p)))
    assert same_piece(piece(SQUARE, Cut(45), Cut(45)), piece(SQUARE, upright, upright))
    assert not same_piece(piece(TUBE, Cut(45), Cut(45)), piece(TUBE, upright, upright))
    assert same_piece(piece(TUBE, Cut(45), Cut(45)), piece(TUBE.lay(90), upright, upright))


def test_a_round_tube_is_the_same_however_it_is_rolled() -> None:
    """17 degrees on: both ends go with it; one of them alone is another piece."""
    tube, by = section("CHS 60.3x3.2"), complex(1, 0) * (1j) ** (17 / 90)
    cut = Cut.from_slopes((Cut(30).p * by).real, (Cut(30).p * by).imag)
    assert same_piece(piece(tube, Cut(30), Cut(30)), piece(tube, cut, cut))
    assert not same_piece(piece(tube, Cut(30), Cut(30)), piece(tube, cut, Cut(30)))


def test_square_ends_are_the_same_in_any_lay() -> None:
    assert same_piece(piece(ANGLE, Cut(), Cut()), piece(ANGLE.lay(225), Cut(), Cut()))
    assert not same_piece(piece(ANGLE, Cut(), Cut()), piece(ANGLE, Cut(), Cut(), 901.0))


def test_an_end_of_two_planes_is_the_same_in_whatever_order_they_are_cut() -> None:
    one = Piece(TUBE, 900, (Cut(30), Cut(-30)), Cut())
    other = Piece(TUBE, 900, (Cut(-30), Cut(30)), Cut())
    assert same_piece(one, other)
    assert same_piece(one, Piece(TUBE, 900, Cut(), (Cut(30), Cut(-30))))
    assert not same_piece(one, Piece(TUBE, 900, (Cut(30), Cut(-20)), Cut()))


@pytest.mark.parametrize(("one", "other"), [(20, 50), (50, 20), (0, 33)])
def test_square_ends_are_the_same_however_the_bar_is_rolled(one: float, other: float) -> None:
    """Nothing but how the sections lie tells by how much one is rolled to become the other."""
    assert same_piece(piece(ANGLE.lay(one), Cut(), Cut()), piece(ANGLE.lay(other), Cut(), Cut()))
    assert not same_piece(piece(ANGLE.lay(one), Cut(), Cut()), piece(section("L 60x60x6").lay(other), Cut(), Cut()))
