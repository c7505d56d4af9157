"""What the steps of a small job cost, and what is left of it costs at the least; knows forms and measure."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Mapping, Sequence
from math import ceil, inf
from operator import add
from sys import maxsize
from typing import Final, NamedTuple

from mitertool.bar.spacing import half_kerf
from mitertool.base.totals import summed
from mitertool.nest.lots import FULL
from mitertool.nest.plan import Group, Rates, Stock
from mitertool.nest.small_blanks import Within, may_be_blanks
from mitertool.nest.small_changes import least_changes
from mitertool.nest.small_forms import Forms
from mitertool.nest.small_states import FREE, Cost, Form, Label, in_units, units
from mitertool.nest.whole import Whole

_ALIKE: Final = Rates(swing_minutes=1, roll_minutes=1, per_hour=0)
"""Where the shop gives no rates, each set-up counts 1 and all else nothing."""

_DIGITS: Final = 7
"""Decimals to which lengths are compared: sums in another order are one."""

_UNDER: Final = 1 - 1e-9
"""A length is never told above what it is by the rounding of a sum."""

_SET_UP: Final = 10**9
_RECUT: Final = 10**6
_CUT: Final = 10**3
"""What set-ups, recuts and cuts count for among plans that cost the same; a roll counts 1 more."""


class _Bars(NamedTuple):
    """Sets of bars: what they hold, mm, what they cost, both rising; and what the longest bar holds."""

    held: list[float]
    prices: list[int]
    longest: float

    def first_with(self, weight: float) -> int:
        """The number of the first set that holds so much, mm."""
        return bisect_left(self.held, weight - FULL)


class _Least(NamedTuple):
    """Of what is left: steel at the least, work within the pieces with as little steel, and what both cost with any.

    None of them where no bars hold it.
    """

    steel: int
    work: int
    cost: int


def _no_dearer(bars: Iterable[tuple[float, int]]) -> Iterator[tuple[float, int]]:
    """Those of which no others hold as much and cost no more, by what they hold."""
    best, kept = inf, list[tuple[float, int]]()
    for held, price in sorted(bars, key=lambda one: (-one[0], one[1])):
        if price < best:
            best = price
            kept.append((held, price))
    return reversed(kept)


class Costs:
    """What steps cost, and what is left costs at the least."""

    def __init__(self, stock: Sequence[Stock], forms: Forms) -> None:
        self.stock, self.forms, self.measure = stock, forms, forms.shop.measure
        self.allowance = forms.shop.allowance
        self.units = in_units(self.measure.rates or _ALIKE, self.measure.money)
        self.prices = [units(one.price) for one in stock]
        self.weights = [self._weight(forms.all[of_item[0]]) for of_item in forms.of_item]
        self.bars = self._cheapest()
        self.still, self.least = forms.still(), least_changes(forms, self.units)
        self.blanks = may_be_blanks(forms, self.least, self._weight)
        self._left: dict[tuple[int, ...], dict[Group, float]] = {}
        self.cheapest = min(self.prices, default=0)

    def _weight(self, form: Form) -> float:
        """What a piece takes of any bar at the least, mm."""
        piece = form.piece
        lead, trail = (half_kerf(cut, piece.section, self.allowance.kerf) for cut in (piece.lead, piece.trail))
        return piece.centerline + (lead + trail)

    def _cheapest(self) -> dict[Group, _Bars]:
        """What bars of each group can be had, each for less than any that hold as much."""
        pieces = sum(item.quantity for item in self.forms.items)
        found: dict[Group, _Bars] = {}
        for group in self.forms.ways:
            own, bars = [one for one in self.stock if one.group == group], [(0.0, 0)]
            for one in own:
                each = units(one.price)
                room = one.length - self.allowance.trim - self.allowance.grip
                most = pieces if one.quantity is None else min(pieces, one.quantity)
                more = ((held + n * room, price + n * each) for held, price in bars for n in range(most + 1))
                bars = list(_no_dearer(more)) if room > 0 else bars
            longest = max(one.length for one in own) - self.allowance.trim - self.allowance.grip
            found[group] = _Bars([held for held, _ in bars], [price for _, price in bars], longest)
        return found

    def plus(
        self,
        cost: Cost,
        price: int = 0,
        arms: tuple[int, int] | None = None,
        rolls: int = 0,
        loads: int = 0,
        recuts: int = 0,
        cuts: int = 0,
    ) -> Cost:
        """A cost and one step more."""
        swings = tilts = 0
        if arms is not None and arms[0] >= 0 and arms[0] != arms[1]:
            one, other = self.forms.places[arms[0]], self.forms.places[arms[1]]
            swings, tilts = int(one[0] != other[0]), int(one[1] != other[1])
        work = self.units.of(swings, rolls, tilts, loads, recuts)
        return self._sum(cost, price, work, _ties(swings + tilts + rolls, recuts, cuts, rolls), 0.0)

    def _sum(self, cost: Cost, price: int, work: int, ties: int, used: float) -> Cost:
        last = cost[2] + ties, round(cost[3] + used, _DIGITS)
        if self.measure.money:
            return cost[0] + price + work, 0, *last
        return cost[0] + price, cost[1] + work, *last

    def of_plan(self, known: Whole) -> Cost:
        """What a plan that is known costs by the same count; all where a bar of it is too heavy to be rolled."""
        work = known.work
        if work.heavy:
            return (maxsize, 0, 0, 0.0)
        minutes = self.units.of(work.swings, work.rolls, work.tilts, work.loads, work.recuts)
        ties = _ties(work.setups, work.recuts, work.cuts, work.rolls)
        return self._sum(FREE, sum(units(bar.price) for bar in known.bars), minutes, ties, work.steel - work.left)

    def at_least(self, label: Label, limit: Cost) -> Cost:
        """What any plan costs that goes on from there and costs less than the limit."""
        state = label.state
        if state.left not in self._left:
            self._left[state.left] = self._weights(state.left)
        weights = self._left[state.left].copy()
        used = label.used + summed(weights.values())
        if state.bar is not None:
            stock = self.stock[state.bar.stock]
            if stock.group in weights:
                weights[stock.group] -= stock.length - self.allowance.grip - label.used
        loads = sum(ceil(weight / self.bars[one].longest - FULL) for one, weight in weights.items() if weight > FULL)
        left = self._of_groups(state.left, weights)
        if left is None:
            return (maxsize, 0, 0, 0.0)
        own, changes = self.least.of(state.left, self._bars(label, limit), state.bar, state.arm)
        if self.measure.rates is None:
            changes += left.work // self.units.swing
        arms = self.still.arm_changes(state.left, state.waits, state.arm)
        recuts = self.still.recuts(state.left)
        cuts = sum(state.left) + recuts + (state.bar is not None) + loads
        ties = _ties(max(arms, changes), recuts, cuts)
        steel, work = self._together(left, arms, own)
        work += self.units.of(0, 0, 0, loads, recuts)
        return self._sum(label.cost, steel, work, ties, used * _UNDER)

    def _weights(self, left: Sequence[int]) -> dict[Group, float]:
        """What the pieces of each group that are left take of any bar at the least, mm."""
        weights: dict[Group, float] = {}
        for number, many in enumerate(left):
            if many:
                group = self.forms.items[number].group
                weights[group] = weights.get(group, 0.0) + many * self.weights[number]
        return weights

    def _together(self, left: _Least, arms: int, own: int) -> tuple[int, int]:
        """Steel and set-ups at the least, as settings that are gone to or as what is set in and between pieces."""
        by_arms = arms * min(self.units.swing, self.units.tilt)
        if self.measure.money:
            return max(left.steel + by_arms, left.cost + own), 0
        return left.steel, max(by_arms, own + left.work)

    def _of_groups(self, left: tuple[int, ...], weights: Mapping[Group, float]) -> _Least | None:
        total: _Least | None = None
        for group, within in self.blanks.of(left).items():
            found = self._of_group(group, weights[group], within)
            if found is None:
                return None
            total = _Least(*map(add, total, found)) if total else found
        return total or _Least(0, 0, 0)

    def _of_group(self, group: Group, weight: float, within: Within) -> _Least | None:
        """For pieces that take so much of any bar, mm."""
        bars = self.bars[group]
        at = bars.first_with(weight)
        if at == len(bars.held):
            return None
        price = bars.prices[at]
        work = within.least(bars.held[at] - weight)
        cost = price + work
        while self.measure.money and (at := at + 1) < len(bars.held) and bars.prices[at] < cost:
            cost = min(cost, bars.prices[at] + within.least(bars.held[at] - weight))
        return _Least(price, work, cost)

    def _bars(self, label: Label, limit: Cost) -> float:
        """How many bars more there are at the most in plans below the limit."""
        return (limit[0] - label.cost[0]) / self.cheapest if self.cheapest else inf


def added(cost: Cost, more: Cost, used: float = 0.0) -> Cost:
    """A cost and that of what is done next, behind which a bar is left with so much used, mm."""
    return cost[0] + more[0], cost[1] + more[1], cost[2] + more[2], round(cost[3] + used, _DIGITS)


def _ties(setups: int, recuts: int, cuts: int, rolls: int = 0) -> int:
    """What is counted among plans that cost the same."""
    return setups * _SET_UP + recuts * _RECUT + cuts * _CUT + rolls
