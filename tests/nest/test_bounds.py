"""A plan's bound found again from what the plan carries, by counting every bar that could be cut. No code is shared.

1e-6 relative is left for the rounding of a linear solver's prices.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cache
from itertools import product
from math import inf, sqrt

import pytest

import mitertool as mt
from mitertool.nest import Allowance, Bound, Item, Plan, Stock
from tests.nest.bar_by_bar import solve
from tests.nest.plan_checker import Mark, Wall, two_walls

LEG = mt.angle(80, 80, 8).named("L", "")
TUBE = mt.rect_tube(80, 80, 4).named("L", "")
ALL = ("as-drawn", "end-for-end", "rolled", "end-for-end-rolled")


def marks_of(items: Sequence[Item], poses: tuple[str, ...]) -> list[Mark]:
    return [
        Mark(
            *(item.mark, "L", "", 80, 80, "", item.piece.centerline),
            *((item.piece.left.p, 0.0), (item.piece.right.p, 0.0), item.quantity, poses),
        )
        for item in items
    ]


def item(mark: str, length: float, left: float, right: float, quantity: int, section: mt.Section = LEG) -> Item:
    return Item(mark, mt.Piece(section, length, mt.Cut(left), mt.Cut(right), at="centerline"), quantity)


def bars(marks: Sequence[Mark], room: float, allowance: Allowance) -> Iterator[tuple[Mark, ...]]:
    """Every sequence of pieces in every pose that a bar with this room takes, any number of each."""
    stack: list[tuple[tuple[Mark, ...], Wall | None]] = [((), None)]
    while stack:
        on_bar, last = stack.pop()
        for mark in marks:
            for pose in mark.poses:
                left, right = two_walls(mark, pose, 0, allowance)
                move = -min(left.places(mark)) if last is None else _step(last, left, mark, allowance)
                placed = Wall(right.at + move, right.p, right.q)
                if max(placed.places(mark)) + placed.kerf(allowance.kerf) <= room + 1e-9:
                    yield (*on_bar, mark)
                    stack.append(((*on_bar, mark), placed))


def _step(last: Wall, left: Wall, mark: Mark, allowance: Allowance) -> float:
    need = last.kerf(allowance.kerf) + (0 if last.parallel(left) else left.kerf(allowance.kerf))
    return max(a + need - b for a, b in zip(last.places(mark), left.places(mark), strict=True))


def recheck(bound: Bound, marks: Sequence[Mark], stock: Sequence[Stock], allowance: Allowance) -> None:
    worth = dict(bound.worth)
    assert set(worth) == {mark.name for mark in marks}
    total = sum(worth[mark.name] * mark.quantity for mark in marks)
    rooms = [one.length - allowance.trim - allowance.grip for one in stock]
    prices = [one.length if one.cost is None else one.cost for one in stock]
    weights = sum(weight(mark, allowance) * mark.quantity for mark in marks)
    if bound.how == "every bar":
        assert bound.cost <= best_of_all(marks, stock, rooms, prices, allowance) * (1 + 1e-6)
        return
    if bound.how == "material":
        assert worth == {mark.name: pytest.approx(weight(mark, allowance)) for mark in marks}
        assert bound.cost <= cheapest(stock, rooms, prices, weights, 0) * (1 + 1e-6)
        return
    given_back = 0.0
    for one, room, price in zip(stock, rooms, prices, strict=True):
        best = max(sum(worth[mark.name] for mark in bar) for bar in bars(marks, room, allowance))
        surplus = max(0.0, best - price)
        assert one.quantity is not None or surplus <= 1e-6 * price
        given_back += surplus * (one.quantity or 0)
    assert bound.plain <= (total - given_back) * (1 + 1e-6)
    assert bound.cost <= cheapest(stock, rooms, prices, weights, bound.plain) * (1 + 1e-6)


def weight(mark: Mark, allowance: Allowance) -> float:
    """c + k*(sec left + sec right)/2: a piece takes half of each kerf along the bar."""
    return mark.centerline + allowance.kerf / 2 * (sqrt(1 + mark.left[0] ** 2) + sqrt(1 + mark.right[0] ** 2))


def cheapest(
    stock: Sequence[Stock], rooms: Sequence[float], prices: Sequence[float], weights: float, least: float
) -> float:
    """Least cost of whole bars that hold the weights and cost at least so much, tried one by one."""
    most = [int(weights / room) + 2 + int(least / price) if one.quantity is None else one.quantity
            for one, room, price in zip(stock, rooms, prices, strict=True)]  # fmt: skip
    best = inf
    for counts in product(*(range(count + 1) for count in most)):
        cost = sum(n * price for n, price in zip(counts, prices, strict=True))
        holds = sum(n * room for n, room in zip(counts, rooms, strict=True))
        if holds >= weights * (1 - 1e-9) and cost >= least * (1 - 1e-6):
            best = min(best, cost)
    return best


def best_of_all(
    marks: Sequence[Mark], stock: Sequence[Stock], rooms: Sequence[float], prices: Sequence[float], allowance: Allowance
) -> float:
    """Least cost of all plans: of what is left the first mark goes on the next bar, on every bar that takes it."""
    kinds = [full_bars(marks, room, allowance) for room in rooms]

    @cache
    def least(left: tuple[int, ...], racks: tuple[int, ...]) -> float:
        if not any(left):
            return 0.0
        first = next(i for i, count in enumerate(left) if count)
        return min((
            prices[kind] + least(tuple(max(0, n - used) for n, used in zip(left, bar, strict=True)),
                                 tuple(n - (i == kind) for i, n in enumerate(racks)))
            for kind, found in enumerate(kinds) if racks[kind] for bar in found if bar[first]
        ), default=inf)  # fmt: skip

    most = sum(mark.quantity for mark in marks)
    return least(
        tuple(mark.quantity for mark in marks),
        tuple(most if one.quantity is None else one.quantity for one in stock),
    )


def full_bars(marks: Sequence[Mark], room: float, allowance: Allowance) -> list[tuple[int, ...]]:
    """How many of each mark a bar takes, without what is less of each than another takes."""
    found = {tuple(bar.count(mark) for mark in marks) for bar in bars(marks, room, allowance)}
    return [one for one in found if not any(one != other and all(map(int.__le__, one, other)) for other in found)]


ANGLES = [item("A", 1100, 45, 0, 5), item("B", 900, -30, 45, 7), item("C", 700, 45, 45, 6), item("D", 1300, 0, 30, 3)]
TUBES = [item(one.mark, one.piece.centerline, one.piece.left.miter, one.piece.right.miter, one.quantity, TUBE)
         for one in ANGLES]  # fmt: skip
ROLLS = [
    item(str(i), n, 0, 0, q) for i, (n, q) in enumerate(zip([20, 45, 50, 55, 75], [48, 35, 24, 10, 8], strict=True))
]
RACK = [Stock("L", 3000, cost=3000), Stock("L", 2500, quantity=2, cost=1500), Stock("L", 4000, quantity=1, cost=2000)]
SHORT_RACK = [
    Stock("L", 2400, cost=2400),
    Stock("L", 1900, quantity=2, cost=1300),
    Stock("L", 2700, quantity=1, cost=1500),
]
CASES = [
    (ANGLES, ("as-drawn",), [Stock("L", 3000)], Allowance(2, 10, 60)),
    (ANGLES, ("as-drawn",), RACK, Allowance(2, 10, 60)),
    (TUBES, ALL, [Stock("L", 3000)], Allowance(2, 10, 60)),
    (TUBES, ALL, SHORT_RACK, Allowance(2, 10, 60)),
    ([item("A", 900, 45, 45, 9, TUBE)], ALL, [Stock("L", 3000)], Allowance(2, 10, 60)),
    (ROLLS, ("as-drawn",), [Stock("L", 110)], Allowance(0)),
]


@pytest.mark.parametrize(("items", "poses", "stock", "allowance"), CASES)
def test_the_bound_found_again(
    items: list[Item], poses: tuple[str, ...], stock: list[Stock], allowance: Allowance
) -> None:
    plan: Plan = solve(items, stock, allowance)
    (bound,) = plan.bounds
    assert bound.cost == plan.lower_bound
    recheck(bound, marks_of(items, poses), stock, allowance)


def test_every_kind_of_bound_is_met() -> None:
    found = {solve(items, stock, allowance).bounds[0].how for items, _, stock, allowance in CASES}
    assert found == {"material", "prices", "every bar"}
