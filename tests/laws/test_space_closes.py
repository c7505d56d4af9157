"""Rails through random points in space close, and none does with a number out; hundreds in `tests/bench`."""

from __future__ import annotations

import math

import pytest

import mitertool as mt
from mitertool.frame import rail
from tests.laws.chain import slopes
from tests.laws.space_loops import SECTIONS, bars_of, faults


def test_rails_close_and_none_does_with_an_angle_or_a_roll_out() -> None:
    assert list(faults(40, seed=7)) == []


@pytest.mark.parametrize("section", SECTIONS[1:4])
def test_the_turn_of_a_piece_is_from_long_point_to_long_point(section: mt.Section) -> None:
    """By the angles of the slopes in the section's plane, y to z, which is clockwise from the left end."""
    made = rail([(0, 0, 0), (900, 0, 0), (1700, 300, 500), (2000, 1200, 400)], section)
    (p, q), (r, t) = (slopes(cut) for cut in (bars_of(made)[1].left, bars_of(made)[1].right))
    wanted = math.degrees(math.atan2(t, r) - math.atan2(q, p))
    assert (made.turns[1].degrees - wanted + 180) % 360 - 180 == pytest.approx(0, abs=1e-9)
