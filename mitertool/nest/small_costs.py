"""What the steps of a small job cost, and what is left of it costs at the least; knows forms and measure."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Sequence
from math import ceil, inf
from typing import Final, NamedTuple

from mitertool.bar.spacing import half_kerf
from mitertool.base.totals import summed
from mitertool.nest.lots import FULL
from mitertool.nest.measure import Work
from mitertool.nest.plan import Group, Rates, Stock
from mitertool.nest.small_changes import least_changes
from mitertool.nest.small_forms import Forms
from mitertool.nest.small_states import FREE, Cost, Form, Label

_ALIKE: Final = Rates(swing_minutes=1, roll_minutes=1, per_hour=0)
"""Where the shop gives no rates, each set-up counts 1 and all else nothing."""

_DIGITS: Final = 7
"""Decimals to which costs are compared: sums in another order are one."""

_UNDER: Final = 1 - 1e-9
"""A bound is never told above what it is by the rounding of a sum."""

_SET_UP: Final = 1e6
_RECUT: Final = 1e3
_ROLLED: Final = 1e-3
"""What set-ups, recuts and rolls count for among plans that cost the same; a cut counts 1."""


class _Bars(NamedTuple):
    """Sets of bars: what they hold, mm, what they cost, both rising; and what the longest bar holds."""

    held: list[float]
    prices: list[float]
    longest: float

    def cost(self, weight: float) -> float:
        """What bars cost at the least that hold so much, mm."""
        at = bisect_left(self.held, weight - FULL)
        return self.prices[at] if at < len(self.held) else inf


def _no_dearer(bars: Iterable[tuple[float, float]]) -> Iterator[tuple[float, float]]:
    """Those of which no others hold as much and cost no more, by what they hold."""
    best, kept = inf, list[tuple[float, float]]()
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
        self.rates = self.measure.rates or _ALIKE
        self.swing, self.tilt = self.rates.minutes(1, 0), self.rates.minutes(0, 0, 1)
        self.roll = self.rates.minutes(0, 1)
        self.weights = [self._weight(forms.all[of_item[0]]) for of_item in forms.of_item]
        self.bars = self._cheapest()
        self.still, self.least = forms.still(), least_changes(forms, self.rates)
        self.cheapest = min((one.price for one in stock), default=0.0)

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
            own, bars = [one for one in self.stock if one.group == group], [(0.0, 0.0)]
            for one in own:
                room = one.length - self.allowance.trim - self.allowance.grip
                most = pieces if one.quantity is None else min(pieces, one.quantity)
                more = ((held + n * room, price + n * one.price) for held, price in bars for n in range(most + 1))
                bars = list(_no_dearer(more)) if room > 0 else bars
            longest = max(one.length for one in own) - self.allowance.trim - self.allowance.grip
            found[group] = _Bars([held for held, _ in bars], [price for _, price in bars], longest)
        return found

    def plus(
        self,
        cost: Cost,
        price: float = 0.0,
        arms: tuple[int, int] | None = None,
        rolls: int = 0,
        loads: int = 0,
        recuts: int = 0,
        cuts: int = 0,
        used: float = 0.0,
    ) -> Cost:
        """A cost and one step more."""
        swings = tilts = 0
        if arms is not None and arms[0] >= 0 and arms[0] != arms[1]:
            one, other = self.forms.places[arms[0]], self.forms.places[arms[1]]
            swings, tilts = int(one[0] != other[0]), int(one[1] != other[1])
        work = self.rates.minutes(swings, rolls, tilts, loads, recuts)
        return self._sum(cost, price, work, _ties(swings + tilts + rolls, recuts, cuts, rolls), used)

    def _sum(self, cost: Cost, price: float, work: float, ties: float, used: float) -> Cost:
        last = cost[2] + ties, round(cost[3] + used, _DIGITS)
        if self.measure.money:
            return round(cost[0] + price + self.rates.money(work), _DIGITS), 0.0, *last
        return round(cost[0] + price, _DIGITS), round(cost[1] + work, _DIGITS), *last

    def of_work(self, work: Work) -> Cost:
        """What a plan that is known costs by the same count; all where a bar of it is too heavy to be rolled."""
        if work.heavy:
            return (float("inf"), 0.0, 0.0, 0.0)
        minutes = self.rates.minutes(work.swings, work.rolls, work.tilts, work.loads, work.recuts)
        ties = _ties(work.setups, work.recuts, work.cuts, work.rolls)
        return self._sum(FREE, work.cost, minutes, ties, work.steel - work.left)

    def at_least(self, label: Label, limit: Cost) -> Cost:
        """What any plan costs that goes on from there and costs less than the limit."""
        state = label.state
        weights: dict[Group, float] = {}
        for number, left in enumerate(state.left):
            if left:
                group = self.forms.items[number].group
                weights[group] = weights.get(group, 0.0) + left * self.weights[number]
        used = label.used + summed(weights.values())
        if state.bar is not None:
            stock = self.stock[state.bar.stock]
            if stock.group in weights:
                weights[stock.group] -= stock.length - self.allowance.grip - label.used
        short = {group: weight for group, weight in weights.items() if weight > FULL}
        steel = summed(self.bars[group].cost(weight) for group, weight in short.items())
        loads = sum(ceil(weight / self.bars[group].longest - FULL) for group, weight in short.items())
        arms = self.still.arm_changes(state.left, state.waits, state.arm)
        own, changes = self.least.of(state.left, self._bars(label, limit), state.bar, state.arm)
        recuts = self.still.recuts(state.left, state.waits)
        set_ups = max(arms * min(self.swing, self.tilt), own)
        cuts = sum(state.left) + recuts + (state.bar is not None) + loads
        ties = _ties(max(arms, changes), recuts, cuts)
        work = set_ups + self.rates.minutes(0, 0, 0, loads, recuts)
        return self._sum(label.cost, steel * _UNDER, work * _UNDER, ties, used * _UNDER)

    def _bars(self, label: Label, limit: Cost) -> float:
        """How many bars more there are at the most in plans below the limit."""
        return (limit[0] - label.cost[0]) / self.cheapest / _UNDER if self.cheapest else inf


def _ties(setups: int, recuts: int, cuts: int, rolls: int = 0) -> float:
    """What is counted among plans that cost the same."""
    return setups * _SET_UP + recuts * _RECUT + cuts + rolls * _ROLLED
