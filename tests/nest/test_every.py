"""Every bar that may be in a plan, against all sequences of pieces in all poses tried one by one, and with what work.

The sequences are laid by the checker's walls, which share no code with the search.
"""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

import mitertool as mt
from mitertool.nest import Allowance, Item, Stock, every
from mitertool.nest.every import EveryBar, Wanted
from mitertool.nest.lots import Lot, lots
from mitertool.nest.work import Effort
from tests.bench.nest_jobs import ALLOWANCE, JOBS
from tests.nest.bar_by_bar import solve
from tests.nest.plan_checker import faults
from tests.nest.test_bounds import ALL, LEG, TUBE, bars, item, marks_of

SAW = Allowance(2, 10, 60)
MIXED = [(1100, 45, 0, 2), (900, -30, 45, 2), (700, 45, 45, 3), (620, 0, 30, 1)]


def lot_of(items: list[Item], length: float) -> Lot:
    return next(lots(items, [Stock("L", length)], SAW))


def every_set(lot: Lot, worth: list[float], least: float, unshared: float = 0.0) -> set[tuple[tuple[str, int], ...]]:
    found = EveryBar(lot, Wanted(worth, unshared, [least]), Effort(1e6))
    marks = [kind.members[0].item.mark for kind in lot.kinds]
    walks = [[marks[way.kind] for way in walk] for walk in found.of(0)]
    assert found.complete
    return {tuple((mark, walk.count(mark)) for mark in sorted(marks)) for walk in walks}


@pytest.mark.parametrize("length", [2500, 3000])
@pytest.mark.parametrize(("section", "poses"), [(TUBE, ALL), (LEG, ("as-drawn",))], ids=["tube", "angle"])
def test_the_sets_that_a_bar_takes(section: mt.Section, poses: tuple[str, ...], length: float) -> None:
    items = [item(name, *what, section=section) for name, what in zip("ABCD", MIXED, strict=True)]
    marks = marks_of(items, poses)
    sets = {
        tuple(bar.count(mark) for mark in marks)
        for bar in bars(marks, length - 70, SAW)
        if all(bar.count(mark) <= mark.quantity for mark in marks)
    }
    full = {one for one in sets if not any(one != other and all(map(int.__le__, one, other)) for other in sets)}
    found = every_set(lot_of(items, length), [0.0] * 4, -1.0)
    assert found == {tuple(zip("ABCD", one, strict=True)) for one in full}


def test_only_what_is_worth_it() -> None:
    """Each piece is worth its length, a bar of 2500 has room for 2430 with a kerf for each: 900 + 2*700 is 2300."""
    items = [item(name, length, 0, 0, count) for name, length, count in (("A", 900, 2), ("B", 700, 2))]
    assert every_set(lot_of(items, 2500), [900.0, 700.0], 2299.0) == {(("A", 1), ("B", 2))}
    assert every_set(lot_of(items, 2500), [900.0, 700.0], 2301.0) == set()


def test_unshared_cuts_count_against_a_bar() -> None:
    """An angle cut 45 at both ends lies one way only: of two, no end of the bar and no joint is shared, 3 in all."""
    items = [item("A", 700, 45, 45, 2)]
    assert every_set(lot_of(items, 2500), [700.0], 1400 - 3 * 100.0, 100.0) == {(("A", 2),)}
    assert every_set(lot_of(items, 2500), [700.0], 1401 - 3 * 100.0, 100.0) == set()


def test_a_small_job_is_looked_through_with_little_work() -> None:
    """4 kinds in 4 poses, 20 pieces, three lengths; 300 units of effort are less than a second."""
    asked = JOBS["three lengths"](20)
    (lot,) = lots(asked.items, asked.stock, ALLOWANCE)
    work = Effort(300.0)
    found = EveryBar(lot, Wanted([0.0] * 4, 0.0, [-1.0] * 3), work)
    for stock in range(3):
        assert list(found.of(stock))
    assert found.complete


def test_two_bars_that_hold_it_all_are_found() -> None:
    """Two of 7500 for 74 each are enough; whatever is cheaper holds less than the weights."""
    asked = JOBS["three lengths"](20)
    (lot,) = lots(asked.items, asked.stock, ALLOWANCE)
    weight = sum(w * n for w, n in zip(lot.weights, lot.demand, strict=True))
    assert weight > max(7500 + 6000 - 2 * 92, 12000 - 92)
    plan = solve(asked.items, asked.stock, ALLOWANCE)
    assert faults(plan, asked.marks, asked.stock, ALLOWANCE) == []
    assert (plan.cost, plan.proved) == (2 * 74, True)


@pytest.mark.parametrize("all_or_none", [True, False])
def test_of_too_many_beginnings_those_that_may_be_worth_most_are_gone_on_with(
    all_or_none: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Three of five, of two that are worth the same the first; or none, where only all of them prove something."""
    monkeypatch.setattr(every, "_ABREAST", 3)
    layer: Any = {(i, 0, 0): SimpleNamespace(may_be=worth) for i, worth in enumerate((2.0, 5.0, 3.0, 3.0, 4.0))}
    one: Any = SimpleNamespace(complete=True, wanted=SimpleNamespace(all_or_none=all_or_none))
    kept = EveryBar._best(one, layer)
    assert [number for number, _, _ in kept] == ([] if all_or_none else [1, 4, 2])
    assert not one.complete
