"""Bars filled to their end: the order that takes the least of a bar, by trying all of them and by hand.

A leg 40 wide that lies one way only; kerf 2; slopes of 3/4 have sec = 5/4 and reach 15 past the centerline.
"""

from __future__ import annotations

from itertools import pairwise, permutations, product
from random import Random

import pytest

import mitertool as mt
from mitertool.nest import BAR_BY_BAR, Allowance, Item, Stock, solve
from mitertool.nest.greedy import first_fit
from mitertool.nest.lots import Lot, Pattern, lots
from mitertool.nest.tight import closer, tightest
from tests.nest.oracle.model import SAME, Piece, Shop

TUBE = mt.rect_tube(40, 40, 3).named("S", "")
LEG = mt.angle(40, 40, 4).named("S", "")
SLOPES = (0.0, 0.0, 0.75, -0.75, 2.0)
SHOP = Shop(kerf=2, trim=0, grip=0)


def item(mark: str, section: mt.Section, piece: Piece, quantity: int = 1) -> Item:
    ends = (mt.Cut.from_slopes(slope, 0) for slope in (piece.left, piece.right))
    return Item(mark, mt.Piece(section, piece.length, *ends, at="centerline"), quantity)


def lot_of(pieces: list[Piece], section: mt.Section) -> Lot:
    items = [item(f"M{number}", section, piece) for number, piece in enumerate(pieces)]
    (lot,) = lots(items, [Stock("S", 9000)], Allowance(2))
    return lot


def by_lot(seed: int) -> tuple[list[Piece], mt.Section]:
    lot = Random(seed)
    section, poses = lot.choice([(TUBE, "IZXY"), (LEG, "I")])
    count = lot.randint(1, 4)
    return [
        Piece("S", float(lot.choice((200, 300, 455))), lot.choice(SLOPES), lot.choice(SLOPES), poses)
        for _ in range(count)
    ], section


def used(order: list[tuple[float, float, float]]) -> float:
    """Tip of the first piece to the end of the last kerf: slopes of both cuts and centerline of each piece."""
    between = sum(SHOP.joint(one[1], two[0], 40) for one, two in pairwise(order))
    ends = (abs(order[0][0]) + abs(order[-1][1])) * 20 + SHOP.along(order[-1][1])
    return ends + between + sum(length for _, _, length in order)


@pytest.mark.parametrize("seed", range(60))
def test_the_least_of_all_orders_and_poses(seed: int) -> None:
    pieces, section = by_lot(seed)
    every = (
        used([(*piece.lying(pose), piece.length) for piece, pose in zip(order, poses, strict=True)])
        for order in permutations(pieces)
        for poses in product(*(piece.poses for piece in order))
    )
    lot = lot_of(pieces, section)
    (start,) = first_fit(lot).bars
    found = tightest(lot, start.walk)
    assert sorted(way.kind for way in found) == sorted(way.kind for way in start.walk)
    assert lot.used(found) == pytest.approx(min(every), abs=1e-9)


@pytest.mark.parametrize("seed", range(60))
def test_closer_keeps_the_ends_and_no_set_up_more(seed: int) -> None:
    pieces, section = by_lot(seed)
    lot = lot_of(pieces, section)
    (start,) = first_fit(lot).bars
    found = closer(lot, start)
    assert lot.used(found.walk) <= lot.used(start.walk)
    assert (found.walk[0].before, found.walk[-1].after) == (start.walk[0].before, start.walk[-1].after)
    assert changes(lot, found) <= changes(lot, start)


def changes(lot: Lot, bar: Pattern) -> int:
    """How often the slope changes from the first cut to the last."""
    slopes = [lot.ends[number].cut.p for way in bar.walk for number in (way.before, way.after)]
    return sum(abs(a - b) > SAME for a, b in pairwise(slopes))


SQUARE, RIGHT, LEFT = (0.0, 0.0), (0.0, 0.75), (-0.75, 0.0)

FULL = [
    # pieces as left and right slope and length, and what the best order takes
    # the slanted end behind: 200 + 2 + 300 + 15 + 2.5; the long piece first would take 2 more
    ([(RIGHT, 300), (SQUARE, 200)], 519.5),
    # both slanted ends on one cut: 300 + 2.5 + 300 + 2 + 200 + 2
    ([(RIGHT, 300), (SQUARE, 200), (LEFT, 300)], 806.5),
    # one slanted cut shared, one at the end: 300 + 2.5 + 300 + 2 + 250 + 15 + 2.5
    ([(RIGHT, 300), (LEFT, 300), (RIGHT, 250)], 872.0),
]


@pytest.mark.parametrize(("pieces", "need"), FULL)
def test_a_bar_that_just_takes_them_is_enough(pieces: list[tuple[tuple[float, float], float]], need: float) -> None:
    """One bar to the hundredth of a millimetre, and two where it is a hundredth shorter."""
    items = [item(f"M{number}", LEG, Piece("S", length, *ends, "I")) for number, (ends, length) in enumerate(pieces)]
    for length, bars in ((need, 1), (need + 0.01, 1), (need - 0.01, 2)):
        plan = solve(items, [Stock("S", length)], Allowance(2))
        assert sum(bar.count for bar in plan.bars) == bars


@pytest.mark.parametrize("seed", range(40))
def test_ties_go_to_the_longer_left_over(seed: int) -> None:
    """All on one bar, bar by bar: of the plans with the fewest set-ups, then cuts, the one that uses the least."""
    pieces, section = by_lot(seed)
    items = [item(f"M{number}", section, piece) for number, piece in enumerate(pieces)]
    plan = solve(items, [Stock("S", 9000)], Allowance(2), way=BAR_BY_BAR)
    (bar,) = plan.bars
    last = bar.cuts[-1]
    least = min(
        worth([(*piece.lying(pose), piece.length) for piece, pose in zip(order, poses, strict=True)])
        for order in permutations(pieces)
        for poses in product(*(piece.poses for piece in order))
    )
    assert (plan.setups, plan.cuts) == least[:2]
    assert last.kerf_to + last.cut.half_reach(section) == pytest.approx(least[2], abs=1e-6)


def worth(order: list[tuple[float, float, float]]) -> tuple[int, int, float]:
    """Swings, cuts and what is used of the bar; a cut that two pieces share is one."""
    cuts: list[float] = []
    for lead, trail, _ in order:
        cuts += [trail] if cuts and abs(cuts[-1] - lead) <= SAME else [lead, trail]
    return sum(abs(a - b) > SAME for a, b in pairwise(cuts)), len(cuts), round(used(order), 6)
