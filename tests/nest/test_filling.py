"""A bar filled from beginnings side by side: as much on it as can be, measured; plans mended hold what they held."""

from __future__ import annotations

from collections import Counter
from itertools import pairwise

import pytest

from mitertool.nest import Allowance, Item, Stock
from mitertool.nest.abreast import BarFilling, Tables, joints
from mitertool.nest.filling import Filler, _Bars, _Standing
from mitertool.nest.lots import Lot, Pattern, Way, lots
from mitertool.nest.taste import Instead, Taste
from mitertool.nest.work import Effort, Goal
from tests.bench.nest_jobs import ALLOWANCE, JOBS
from tests.nest.test_bounds import TUBE, item

SAW = Allowance(2, 10, 60)


def lot_of(items: list[Item], length: float) -> Lot:
    return next(lots(items, [Stock("L", length)], SAW))


def test_the_best_two_of_four_lengths() -> None:
    """Room for 2430 with a kerf of 2 behind each piece: of 1400, 1210, 1214 and 1000 the pair 1210 + 1214 fills it."""
    items = [item(name, length, 0, 0, 1, TUBE) for name, length in zip("ABCD", (1400, 1214, 1210, 1000), strict=True)]
    lot = lot_of(items, 2500)
    offer = BarFilling(Tables(lot), Taste(lot.weights), lot.demand, 50).best(0)
    assert offer is not None
    assert sorted(lot.kinds[way.kind].length for way in offer.walk) == [1210, 1214]


def test_more_pieces_than_a_short_number_holds() -> None:
    """40,000 of 1000 are left, and the two that a bar holds are taken: 2 * 1000 and two kerfs in 2430."""
    lot = lot_of([item("A", 1000, 0, 0, 40_000, TUBE)], 2500)
    offer = BarFilling(Tables(lot), Taste(lot.weights), lot.demand, 50).best(0)
    assert offer is not None
    assert [lot.kinds[way.kind].length for way in offer.walk] == [1000, 1000]


def test_a_tube_is_turned_so_that_cuts_are_shared() -> None:
    """Two of 1000 cut 45 at both ends: 40 at either end of the bar, one shared kerf between them."""
    lot = lot_of([item("A", 1000, 45, 45, 2, TUBE)], 2500)
    offer = BarFilling(Tables(lot), Taste(lot.weights, 1.0, 1.0), lot.demand, 50).best(0)
    assert offer is not None
    assert len(offer.walk) == 2
    assert lot.mismatches(offer.walk) == 2
    assert lot.used(offer.walk) == pytest.approx(2000 + 80 + 2 * 2 * 2**0.5)


@pytest.mark.parametrize("name", ["few angles", "free angles", "one pose", "three lengths"])
def test_mended_plans_hold_the_same_pieces_and_get_better(name: str) -> None:
    asked = JOBS[name](40)
    (lot,) = lots(asked.items, asked.stock, ALLOWANCE)
    filler = Filler(lot, Goal(), Effort(60.0))
    first = filler.filled(filler.taste(0.3, 0.0), lot.demand, filler.racks(()), 5)
    assert first.whole
    plans = [first, *filler.mended(first.bars, steel=False)]
    for plan in plans:
        assert Counter(way.kind for bar in plan.bars for way in bar.walk) == Counter(dict(enumerate(lot.demand)))
        assert all(lot.fits(bar.walk, bar.stock) for bar in plan.bars)
    scores = [(lot.price(plan.bars), sum(lot.mismatches(bar.walk) for bar in plan.bars)) for plan in plans]
    assert all(after < before for before, after in pairwise(scores))


@pytest.mark.parametrize("name", ["free angles", "three lengths"])
def test_emptying_bars_costs_no_more_and_tells_last_how_far_it_came(name: str) -> None:
    """Room as a share of the longest bar, squared and summed: one bar nearly empty is worth more than two half full."""
    asked = JOBS[name](40)
    (lot,) = lots(asked.items, asked.stock, ALLOWANCE)
    filler = Filler(lot, Goal(), Effort(30.0))
    plans = [first := filler.filled(filler.taste(0.3, 0.0), lot.demand, filler.racks(()), 5)]
    plans += filler.mended(first.bars, steel=True)
    assert len(plans) > 1
    for plan in plans:
        assert Counter(way.kind for bar in plan.bars for way in bar.walk) == Counter(dict(enumerate(lot.demand)))
        assert all(lot.fits(bar.walk, bar.stock) for bar in plan.bars)
    longest = max(lot.capacity)
    scores = [
        (lot.price(plan.bars), -sum(((lot.capacity[b.stock] - lot.used(b.walk)) / longest) ** 2 for b in plan.bars))
        for plan in plans
    ]
    assert all(after[0] <= before[0] + 1e-9 for before, after in pairwise(scores))
    assert min(scores) == scores[-1]


def test_the_work_for_a_plan_grows_as_the_pieces_do() -> None:
    """Four times the pieces on four times the bars: no more than five times the work."""
    spent = []
    for pieces in (1000, 4000):
        asked = JOBS["few angles"](pieces)
        (lot,) = lots(asked.items, asked.stock, ALLOWANCE)
        work = Effort(1e6)
        filler = Filler(lot, Goal(), work)
        assert filler.filled(filler.taste(0.1, 1.0), lot.demand, filler.racks(()), 20).whole
        spent.append(1e6 - work.left)
    assert spent[1] < 5 * spent[0]


@pytest.mark.parametrize("allowance", [Allowance(2.5), Allowance(2.5, second_kerf="where the piece was")])
def test_all_joints_at_once_are_those_of_each_two(allowance: Allowance) -> None:
    asked = JOBS["free angles"](12)
    (lot,) = lots(asked.items, asked.stock, allowance)
    numbers = range(len(lot.ends))
    assert joints(lot).tolist() == [[lot.gaps.between(one, two) for two in numbers] for one in numbers]


@pytest.mark.parametrize("steel", [True, False])
def test_bars_that_are_alike_are_not_tried_one_by_one(steel: bool) -> None:
    """Ten times the bars of one pattern, and the work for mending them is the same but for a few steps."""
    spent = []
    for pieces in (400, 4000):
        lot = lot_of([item("A", 1000, 45, 0, pieces, TUBE)], 2500)
        work = Effort(1e6)
        filler = Filler(lot, Goal(), work)
        bars = filler.filled(filler.taste(0.1, 1.0), lot.demand, filler.racks(()), 20).bars
        before = work.left
        assert all(len(plan.bars) == pieces // 2 for plan in filler.mended(bars, steel))
        spent.append(before - work.left)
    assert spent[1] < 2 * spent[0]


def test_bars_that_are_changed_are_counted_by_stock_and_pattern() -> None:
    """Of a pattern ten bars count: of twelve alike ten; with two patterns all twelve; ten again when one is gone."""
    one, other = (_Standing(Pattern(stock, (Way(0, 0, 0),) * many), 0.0, 0) for stock, many in ((0, 2), (1, 1)))
    plan = _Bars([one] * 12)
    assert (plan.used, plan.unlike) == ({0: 12}, 10)
    plan.change([0, 11], [other, one])
    assert (plan.standing[-2:], plan.used, plan.unlike) == ([other, one], {0: 11, 1: 1}, 12)
    plan.change([10], [one])
    assert (plan.standing, plan.unlike) == ([one] * 12, 10)


@pytest.mark.parametrize(("left", "right", "alone", "beside"), [(45, -45, 2, 0), (45, 45, 2, 1), (0, 45, 1, 1)])
def test_between_bars_that_hold_blanks_too_nothing_is_set(left: float, right: float, alone: int, beside: int) -> None:
    """A bar of one piece: its ends that are not square count, but where blanks may lie only what is set within it."""
    lot = lot_of([item("A", 1000, left, right, 1, TUBE)], 2500)
    bar = Pattern(0, (lot.kinds[0].ways[0],))
    within = {way: float(way.before != way.after) for way in lot.kinds[0].ways}
    filler = Filler(lot, Goal(), Effort(1.0))
    assert filler._standing(bar).cuts == alone
    assert filler.beside(lot, Instead([0], within), Effort(1.0))._standing(bar).cuts == beside
