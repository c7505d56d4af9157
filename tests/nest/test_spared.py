"""Pieces as blanks as far as steel is spare, and set-ups at the least with as little steel; figures by hand.

A side of a tube 40 wide, 45 at both ends, c on the centerline: it takes c + 2*sqrt(2) of any bar at the least, its half
kerfs. As a blank it is longer by the wedge of 40 and the kerf of its recut, and has the same two half kerfs.
"""

from __future__ import annotations

from math import floor, radians, sqrt, tan

import attrs
import pytest

import mitertool as mt
from mitertool.nest import Allowance, Item, Rates, Stock, solve, solver
from mitertool.nest.blanks import BySetting
from mitertool.nest.lots import lots
from mitertool.nest.plan import ANY_ARM, LIFTS_ALL
from mitertool.nest.setups import Settings
from mitertool.nest.spared import Spared, spared

TUBE = mt.rect_tube(40, 40, 3).named("tube", "")
ALLOWANCE = Allowance(2, 10, 50)
MORE = 40 + 2 * sqrt(2)


def side(mark: str, quantity: int, length: float = 300, ends: tuple[float, float] = (45, 45)) -> Item:
    return Item(mark, mt.Piece(TUBE, length, *map(mt.Cut, ends), at="centerline"), quantity)


def secants(item: Item) -> float:
    """Of both ends: as much as half kerfs of 1 take along the bar."""
    ends = (item.piece.left, item.piece.right)
    return sum(sqrt(1 + tan(radians(end.miter)) ** 2) for end in ends)


def least(items: list[Item], spare: float) -> int:
    """Set-ups at the least where one bar leaves so much."""
    weights = sum(item.quantity * (item.piece.centerline + secants(item)) for item in items)
    stock = [Stock("tube", 10 + weights + spare + 50, cost=1)]
    found = list(lots(items, stock, ALLOWANCE))
    by_setting = BySetting(items, Settings(ANY_ARM), ALLOWANCE, LIFTS_ALL)
    return spared(found, [1.0] * len(found), 1.0, by_setting).setups


@pytest.mark.parametrize(("spare", "expected"), [(0, 6), (MORE + 0.01, 5), (4 * MORE + 0.01, 2), (9 * MORE, 0)])
def test_every_piece_that_is_no_blank_has_a_set_up_of_its_own(spare: float, expected: int) -> None:
    assert least([side("A", 4), side("B", 2, 500)], spare) == expected


@pytest.mark.parametrize(("blanks", "expected"), [(0, 9), (1, 8), (6, 4), (8, 3)])
def test_settings_that_no_piece_joins_are_set_besides(blanks: int, expected: int) -> None:
    """Ends at 10 and 20 of four, at 30 and 40 of four: four settings, so three set-ups however they are cut. Without
    blanks two of those lie within pieces, and so do six more. With room for four blanks of the first and two of the
    second, one is left of the second beside the piece that joins its two settings."""
    first, second = side("A", 4, 300, (10, -20)), side("B", 4, 300, (30, -40))

    def more(item: Item) -> float:
        return 20 * abs(tan(radians(item.piece.left.miter)) + tan(radians(item.piece.right.miter))) + secants(item)

    each = sorted([more(first)] * 4 + [more(second)] * 4)
    assert least([first, second], sum(each[:blanks]) + 0.01) == expected


@pytest.mark.parametrize(
    ("blanks", "recut", "minutes"),
    [(5, 0.5, 2 * 3 + 2 * 1.5 + 5 * 0.5), (9, 0.5, 2 * 3 + 7 * 0.5), (5, 2.0, 2 * 3 + 7 * 1.5)],
)
def test_work_at_the_least(blanks: int, recut: float, minutes: float) -> None:
    """Nine pieces, three settings: two swings of 3 join them and may be within two of the pieces. Each of the others is
    recut or has a roll of 1.5 within it, whichever is less, as far as blanks are allowed."""
    rates = Rates(3, 1.5, 60, recut_minutes=recut)
    least = Spared(9, blanks, 2, 9 - blanks)
    assert least.minutes(rates) == pytest.approx(minutes)
    assert least.minutes(attrs.evolve(rates, recut_minutes=0), recut) == pytest.approx(minutes)


def test_a_left_over_that_costs_nothing_has_room_for_so_many_blanks(monkeypatch: pytest.MonkeyPatch) -> None:
    """Seven bars of 992 take 21 sides, one of them a left-over for nothing. By half kerfs they leave room for thirteen
    blanks, so eight sides have a set-up of their own; left-overs without end would leave room for all."""
    monkeypatch.setattr(solver, "_FOR_SET_UPS", 0.0)
    bars = [Stock("tube", 10 + 992 + 50, quantity=1, cost=0), Stock("tube", 10 + 992 + 50, cost=10)]
    plan = solve([side("A", 21)], bars, ALLOWANCE)
    fits = floor((7 * 992 - 21 * (300 + 2 * sqrt(2))) / MORE)
    assert (fits, plan.cost, plan.loads, plan.setups_bound) == (13, 60, 7, 21 - fits)


@pytest.mark.parametrize("looked_through", [False, True])
def test_some_pieces_are_blanks_where_not_all_have_room(monkeypatch: pytest.MonkeyPatch, looked_through: bool) -> None:
    """A bar takes two sides and a blank of 300 but no two blanks: 20 + 600 + 300 + MORE + 3 kerfs + 20 is 991.3 of 992.
    So of nine sides three are blanks, and six set-ups are left of nine. By half kerfs alone the three bars would leave
    room for five, unless every state is looked at."""
    if not looked_through:
        monkeypatch.setattr(solver, "_FOR_SET_UPS", 0.0)
    plan = solve([side("A", 9)], [Stock("tube", 10 + 992 + 50)], ALLOWANCE)
    fits = floor(3 * (992 - 3 * (300 + 2 * sqrt(2))) / MORE)
    assert (sum(bar.count for bar in plan.bars), plan.setups, plan.setups_bound) == (
        3,
        6,
        6 if looked_through else 9 - fits,
    )
    assert (plan.way, [one.way for one in plan.ways], plan.recut_count) == ("mixed", ["mixed"], 3)
