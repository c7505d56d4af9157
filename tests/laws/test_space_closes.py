"""Rails, elbows and hoppers by lot close, and none does with a number out; five hundred of each in `tests/bench`."""

from __future__ import annotations

import math

import pytest

import mitertool as mt
from mitertool.frame import rail
from tests.laws import elbow_loops, hopper_loops, rail_loops
from tests.laws.chain import slopes
from tests.laws.loop import faults
from tests.laws.rail_loops import SECTIONS, bars_of


def test_rails_close_and_none_does_with_an_angle_or_a_roll_out() -> None:
    assert list(faults("rail", rail_loops.loops(40, seed=7))) == []


def test_elbows_close_and_none_does_with_an_angle_or_a_roll_out() -> None:
    assert list(faults("elbow", elbow_loops.loops(12, seed=7))) == []


def test_hoppers_close_and_none_does_with_an_angle_out_however_it_is_held() -> None:
    assert list(faults("hopper", hopper_loops.loops(4, seed=7))) == []


@pytest.mark.parametrize("section", SECTIONS[1:4])
def test_the_turn_of_a_piece_is_from_long_point_to_long_point(section: mt.Section) -> None:
    """By the angles of the slopes in the section's plane, y to z, which is clockwise from the left end."""
    made = rail([(0, 0, 0), (900, 0, 0), (1700, 300, 500), (2000, 1200, 400)], section)
    (p, q), (r, t) = (slopes(cut) for cut in (bars_of(made)[1].left, bars_of(made)[1].right))
    wanted = math.degrees(math.atan2(t, r) - math.atan2(q, p))
    assert (made.turns[1].degrees - wanted + 180) % 360 - 180 == pytest.approx(0, abs=1e-9)
