"""The order of bars as a whole-number programme, against orders worked by hand."""

from __future__ import annotations

from tests.nest.oracle.model import Shop
from tests.nest.oracle.sequence import Laid, fewest, ways

SHOP = Shop(kerf=2, trim=10, grip=50)
SIDE = (-1.0, 1.0, 300.0)
"""A frame side: it leads with -1 and trails with 1."""
TURNED = (1.0, -1.0, 300.0)


def test_a_bar_has_up_to_four_ways_to_lie() -> None:
    """Side, turned side, square piece: -1 1 -1 | 0 0, backwards, rolled and both; a side alone only two."""
    square = (0.0, 0.0, 200.0)
    found = ways([SIDE, TURNED, square], 2000, 40, SHOP)
    assert set(found) == {
        Laid((-1, 1, -1, 0, 0)),
        Laid((0, 0, -1, 1, -1)),
        Laid((1, -1, 1, 0, 0)),
        Laid((0, 0, 1, -1, 1)),
    }
    assert set(ways([SIDE], 2000, 40, SHOP)) == {Laid((-1, 1)), Laid((1, -1))}


def test_a_way_that_does_not_fit_is_none() -> None:
    """A slanted end behind takes its kerf, 2.83, where a square one takes 2: 0 300 -1 in 10 + 300 + 20 + 2.83 + 50."""
    assert set(ways([(-1.0, 0.0, 300.0)], 382.1, 40, SHOP)) == {Laid((-1, 0)), Laid((1, 0))}
    assert len(ways([(-1.0, 0.0, 300.0)], 383, 40, SHOP)) == 4


def test_three_sides_are_cut_in_turn() -> None:
    """-1 1 | 1 -1 | -1 1: one change a bar and none between."""
    assert fewest([ways([SIDE], 500, 40, SHOP)] * 3) == 3


def test_a_bar_between_two_angles() -> None:
    """0 0 | 0 1 | 1 1: the middle bar swings once; in another order once more."""
    bars = [[Laid((1.0, 1.0))], [Laid((0.0, 0.0))], [Laid((0.0, 1.0))]]
    assert fewest(bars) == 1
    assert fewest([*bars, [Laid((0.0, 1.0))]]) == 3
