"""The best order of a few bars, by trying all of them."""

from __future__ import annotations

from itertools import pairwise, permutations, product
from random import Random

import pytest

from mitertool.nest.few import Course, best_order


def cost(order: list[Course], change: list[list[float]]) -> float:
    return sum(way.cost for way in order) + sum(change[one.end][two.start] for one, two in pairwise(order))


@pytest.mark.parametrize("seed", range(60))
def test_no_order_costs_less(seed: int) -> None:
    lot = Random(seed)
    arms = range(3)
    change = [[0.0 if one == other else lot.choice((1.0, 2.0)) for other in arms] for one in arms]
    counts = [lot.randint(1, 2) for _ in range(lot.randint(1, 3))]
    ways = [
        [Course(lot.choice(arms), lot.choice(arms), float(lot.randint(0, 2))) for _ in range(lot.randint(1, 3))]
        for _ in counts
    ]
    kinds = [kind for kind, count in enumerate(counts) for _ in range(count)]
    every = (
        cost(list(order), change)
        for kinds_in_order in set(permutations(kinds))
        for order in product(*(ways[kind] for kind in kinds_in_order))
    )
    found = best_order(counts, ways, change)
    assert found is not None
    assert sorted(kind for kind, _ in found) == kinds
    assert cost([ways[kind][number] for kind, number in found], change) == pytest.approx(min(every))


def test_too_many_are_left_alone() -> None:
    """Twenty different bars have a million sets."""
    assert best_order([1] * 20, [[Course(0, 0, 0.0)]] * 20, [[0.0]]) is None
    assert best_order([], [], []) is None
