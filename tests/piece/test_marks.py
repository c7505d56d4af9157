"""Places along a side: how long a piece is along the middle of each, and what lies past its end."""

from __future__ import annotations

import pytest

import mitertool as mt
from mitertool.base.errors import BadInput
from mitertool.piece.marks import PieceMark, refuse_beyond, side_length

PIECE = mt.Piece(mt.rect_tube(40, 80, 3), 1000, right=mt.Cut.from_slopes(0.5, 0.25), at="centerline")
SIDES = {"fixed": 990.0, "moving": 1010.0, "bottom": 990.0, "top": 1010.0}
"""1000 in the middle and 1 in 2 across 40, 1 in 4 up 80: 20 / 2 and 40 / 4 less or more at the sides."""


@pytest.mark.parametrize("side", SIDES)
def test_along_the_middle_of_a_side(side: str) -> None:
    assert side_length(PIECE, side) == pytest.approx(SIDES[side])
    assert PieceMark(100, "left", side).from_left(PIECE) == 100
    assert PieceMark(100, "right", side).from_left(PIECE) == pytest.approx(SIDES[side] - 100)


@pytest.mark.parametrize("side", SIDES)
def test_a_place_lies_on_its_side(side: str) -> None:
    refuse_beyond(PIECE, [PieceMark(at, "left", side) for at in (0.0, 500.0, SIDES[side])])
    for at in (-0.5, SIDES[side] + 0.5):
        with pytest.raises(BadInput, match="holes"):
            refuse_beyond(PIECE, [PieceMark(10.0, "left", side), PieceMark(at, "left", side)])
