"""Small random jobs: the same optimum as a compact model in a general solver, for one length of stock and several.

The solver works to 1e-6 relative; costs of bars here differ by far more.
"""

from __future__ import annotations

from math import radians, tan
from random import Random

import highspy
import pytest

import mitertool as mt
from mitertool.nest import Allowance, Item, Stock
from tests.nest.bar_by_bar import solve
from tests.nest.compact import best_cost
from tests.nest.plan_checker import Mark, faults
from tests.often import times

ALL = ("as-drawn", "end-for-end", "rolled", "end-for-end-rolled")
TUBE = mt.rect_tube(60, 60, 4).named("S", "")
LEG = mt.angle(60, 60, 6).named("S", "")
ALLOWANCE = Allowance(kerf=2, trim=8, grip=60)


@pytest.fixture
def highs() -> highspy.Highs:
    solver = highspy.Highs()  # type: ignore[no-untyped-call]
    solver.silent()
    return solver


def job(seed: int, section: mt.Section, poses: tuple[str, ...]) -> tuple[list[Mark], list[Item]]:
    random = Random(seed)
    marks, items = [], []
    for number in range(random.randint(2, 4)):
        angles = [random.choice([0, 45, -45, 30]) for _ in range(2)]
        length, quantity = float(random.randint(250, 900)), random.randint(1, 3)
        piece = mt.Piece(section, length, mt.Cut(angles[0]), mt.Cut(angles[1]), at="centerline")
        left, right = ((tan(radians(angle)), 0.0) for angle in angles)
        items.append(Item(f"M{number}", piece, quantity))
        marks.append(Mark(f"M{number}", "S", "", 60, 60, "", length, left, right, quantity, poses))
    return marks, items


@pytest.mark.parametrize("seed", range(times(8)))
@pytest.mark.parametrize(("section", "poses"), [(TUBE, ALL), (LEG, ("as-drawn",))], ids=["tube", "angle"])
def test_one_length(seed: int, section: mt.Section, poses: tuple[str, ...], highs: highspy.Highs) -> None:
    marks, items = job(seed, section, poses)
    stock = [Stock("S", 2000)]
    plan = solve(items, stock, ALLOWANCE)
    assert faults(plan, marks, stock, ALLOWANCE) == []
    exact = best_cost(marks, stock * sum(bar.count for bar in plan.bars), ALLOWANCE, 60, highs)
    assert plan.cost == pytest.approx(exact.cost)


@pytest.mark.parametrize("seed", range(times(5)))
def test_several_lengths(seed: int, highs: highspy.Highs) -> None:
    marks, items = job(seed, TUBE, ALL)
    stock = [
        Stock("S", 2000, cost=2000),
        Stock("S", 1330, quantity=1, cost=500),
        Stock("S", 1100, quantity=2, cost=450),
    ]
    plan = solve(items, stock, ALLOWANCE)
    assert faults(plan, marks, stock, ALLOWANCE) == []
    bars = [stock[0]] * 4 + [stock[1], stock[2], stock[2]]
    assert plan.cost == pytest.approx(best_cost(marks, bars, ALLOWANCE, 60, highs).cost)
