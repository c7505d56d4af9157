"""In place of shavings scraps a trim thick, where a bar has room for all of its own; figures by hand."""

from __future__ import annotations

from math import radians, tan

import attrs
import pytest

import mitertool as mt
from mitertool.nest import Allowance, Item, Plan, Stock, shaving, solve, with_scraps

TUBE = mt.rect_tube(40, 40, 3).named("tube", "")
ALLOWANCE = Allowance(kerf=2, trim=15, grip=50)
WEDGE = 40 * (tan(radians(30.5)) - tan(radians(30)))
"""The thickest of what lies over 40 across between a cut at 30.5 and one at 30."""


def planned(pieces: int = 2, allowance: Allowance = ALLOWANCE) -> Plan:
    """One bar of pieces of 500 that cannot be turned, each from 30 to 30.5 degrees, leaning the same way."""
    item = Item("A", mt.Piece(TUBE, 500, mt.Cut(-30), mt.Cut(30.5), at="centerline"), pieces, turn=("as-drawn",))
    return solve([item], [Stock("tube", 3000)], allowance, way="bar by bar")


def test_a_wedge_thinner_than_the_kerf_is_a_shaving() -> None:
    (bar,) = planned().bars
    one, two = bar.cuts[1:3]
    assert shaving(one, two, bar.section) == pytest.approx(WEDGE)
    assert shaving(one, attrs.evolve(two, kerf_from=two.kerf_from + 2), bar.section) is None


@pytest.mark.parametrize("pieces", [2, 4])
def test_all_behind_a_shaving_stands_a_trim_further(pieces: int) -> None:
    """What is a trim more in each wedge is that much less behind the last kerf; pieces and kerfs take as much."""
    plan = planned(pieces)
    wider = with_scraps(plan, ALLOWANCE, lambda _: 15.0 * (pieces - 1))
    (old,), (new,) = plan.bars, wider.bars
    assert [b.at - a.at for a, b in zip(old.pieces, new.pieces, strict=True)] == pytest.approx(
        [15 * number for number in range(pieces)]
    )
    for name in ("at", "fixed", "moving", "kerf_from", "kerf_to"):
        moved = [getattr(b, name) - getattr(a, name) for a, b in zip(old.cuts, new.cuts, strict=True)]
        assert moved == pytest.approx([15 * (number // 2) for number in range(2 * pieces)])
    more = 15 * (pieces - 1)
    assert (new.drop, new.steel.drops) == pytest.approx((old.drop - more, old.steel.drops - more))
    assert wider.steel == new.steel == attrs.evolve(old.steel, wedges=new.steel.wedges, drops=new.steel.drops)
    assert new.steel.wedges == pytest.approx(old.steel.wedges + more)
    assert all(shaving(*pair, new.section) is None for pair in zip(new.cuts[1::2], new.cuts[2::2], strict=False))


@pytest.mark.parametrize(
    ("allowance", "spare"),
    [
        (ALLOWANCE, 29.9),
        (attrs.evolve(ALLOWANCE, trim=0), 500.0),
        (attrs.evolve(ALLOWANCE, wedge_least=0.5), 500.0),
        (attrs.evolve(ALLOWANCE, second_kerf="where the piece was"), 500.0),
    ],
)
def test_nothing_moves_without_room_for_all_or_where_the_job_says_how_thin_scraps_may_be(
    allowance: Allowance, spare: float
) -> None:
    plan = planned(3, allowance)
    assert with_scraps(plan, allowance, lambda _: spare) is plan
