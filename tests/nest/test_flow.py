"""The bound by joints, in closed form for pieces that share no cut, and never above a plan that holds.

A leg of 80, kerf 2: a piece cut 45 at both ends lies one way, its leading slope -1 and its trailing slope 1. A joint of
two takes two kerfs of 2*sqrt(2) and a wedge of 80, a bar's start 40, its end 40 and a kerf.
"""

from __future__ import annotations

from math import sqrt

import pytest

from mitertool.nest import Allowance, Item, Stock
from mitertool.nest import bounds as nest_bounds
from mitertool.nest.flow import Flow
from mitertool.nest.greedy import first_fit
from mitertool.nest.lots import lots
from tests.bench.nest_jobs import ALLOWANCE, JOBS
from tests.nest.bar_by_bar import solve
from tests.nest.plan_checker import faults
from tests.nest.test_bounds import TUBE, item, marks_of, recheck

KERF = 2 * sqrt(2)
SAW = Allowance(2)


def flow_of(items: list[Item], stock: list[Stock]) -> Flow:
    (lot,) = lots(items, stock, SAW)
    return Flow(lot)


@pytest.mark.parametrize("quantity", [1, 6, 11])
def test_pieces_that_share_no_cut(quantity: int) -> None:
    """On B bars n pieces take n*1000 + (n - B)*(2*kerf + 80) + B*(80 + kerf); all bars together B*2000."""
    flow = flow_of([item("A", 1000, 45, 45, quantity)], [Stock("L", 2000, cost=1.0)])
    joint = 2 * KERF + 80
    assert flow.steel.cost == pytest.approx(quantity * (1000 + joint) / (2000 + joint - 80 - KERF))


def test_every_cut_of_theirs_is_unshared() -> None:
    """Six on bars that take one each: two ends a bar; on bars that take two: one joint and two ends a bar."""
    items = [item("A", 1000, 45, 45, 6)]
    for length, unshared in ((1200, 12), (2400, 9)):
        (lot,) = lots(items, [Stock("L", length)], SAW)
        assert Flow(lot).unshared(first_fit(lot).bars) == unshared


def test_what_may_be_turned_shares_cuts() -> None:
    """A parallelogram follows itself in one kerf, so only the ends of each bar are unshared: 3 bars of 2, 6 ends."""
    (lot,) = lots([item("A", 1000, 45, -45, 6)], [Stock("L", 2400)], SAW)
    assert Flow(lot).unshared(first_fit(lot).bars) == 6


@pytest.mark.parametrize("name", ["few angles", "one pose", "free angles", "one pose, free angles", "three lengths"])
@pytest.mark.parametrize("pieces", [12, 30])
def test_no_plan_is_below(name: str, pieces: int) -> None:
    asked = JOBS[name](pieces)
    (lot,) = lots(asked.items, asked.stock, ALLOWANCE)
    flow = Flow(lot)
    plan = solve(asked.items, asked.stock, ALLOWANCE, way="bar by bar")
    assert faults(plan, asked.marks, asked.stock, ALLOWANCE) == []
    assert nest_bounds.material(lot).value <= nest_bounds.by_joints(lot, flow).value <= plan.cost
    found = first_fit(lot)
    assert flow.unshared(found.bars) <= sum(lot.mismatches(bar.walk) for bar in found.bars)


def test_the_prices_of_joints_hold_for_every_bar() -> None:
    """Nine of 900 and seven of 700 in one pose: by weight 8 bars of 2000 would do, by joints more are needed."""
    items = [item("A", 900, 45, 45, 9), item("B", 700, 30, 45, 7)]
    stock = [Stock("L", 2000)]
    (bound,) = solve(items, stock, SAW).bounds
    assert bound.how == "prices"
    recheck(bound, marks_of(items, ("as-drawn",)), stock, SAW)


def changes(items: list[Item], length: float = 2400) -> int:
    (lot,) = lots(items, [Stock("L", length)], SAW)
    return Flow(lot).changes(len(first_fit(lot).bars))


def test_changes_of_what_is_cut_square_are_none() -> None:
    assert changes([item("A", 1000, 0, 0, 6)]) == 0


def test_a_leg_cut_alike_at_both_ends_is_set_anew_for_every_cut_but_the_first() -> None:
    """Five pieces that lie one way have ten cuts, each of another slope than the one before."""
    assert changes([item("A", 1000, 45, 45, 5)]) == 9


def test_a_tube_cut_alike_at_both_ends_is_set_anew_once_a_piece() -> None:
    """Turned end for end each begins where the one before ends."""
    assert changes([item("A", 1000, 45, 45, 5, TUBE)]) == 5


def test_slopes_that_no_piece_joins_are_a_change_apart() -> None:
    """All 45, all square, all 30: two changes however the bars are ordered."""
    items = [item(name, 1000, angle, -angle, 3) for name, angle in (("A", 45), ("B", 0), ("C", 30))]
    assert changes(items) == 2


def test_a_bar_laid_half_a_turn_over_finds_the_arm_where_it_stood() -> None:
    """Of two parallelograms, one cut 45 and one -45, a tube's bar may be laid over; a leg lies one way only."""
    items = [(900.0, 45.0, -45.0), (1000.0, -45.0, 45.0)]
    turned = [item(name, *what, 2, TUBE) for name, what in zip("AB", items, strict=True)]
    assert changes(turned) == 0
    assert changes([item(name, *what, 2) for name, what in zip("AB", items, strict=True)]) == 1


@pytest.mark.parametrize("name", sorted({*JOBS} - {"three sections"}))
@pytest.mark.parametrize("pieces", [8, 20])
def test_no_plan_changes_less(name: str, pieces: int) -> None:
    asked = JOBS[name](pieces)
    plan = solve(asked.items, asked.stock, ALLOWANCE, effort=0.2, way="bar by bar")
    bars = sum(bar.count for bar in plan.bars)
    (lot,) = lots(asked.items, asked.stock, ALLOWANCE)
    assert Flow(lot).changes(bars) <= plan.setups
    assert plan.setups_bound <= plan.setups
