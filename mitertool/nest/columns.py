"""Column generation: bars that the master's prices ask for, and the bound when none is left; knows pricing, master."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Final

import attrs

from mitertool.nest import bounds
from mitertool.nest.bounds import Floor
from mitertool.nest.every import EveryBar, Wanted
from mitertool.nest.grid import Grid, grid, step_for
from mitertool.nest.lots import Lot, Pattern
from mitertool.nest.master import LinearMaster
from mitertool.nest.priced import Key, PricedPattern, Prices, column
from mitertool.nest.pricing import Pricing
from mitertool.nest.work import Effort

_CELLS: Final = 24000
_FINE: Final = 120000
"""Places on a bar for new columns, and for the bound."""
_TABLE: Final = 2_000_000
"""Places of all slopes together: with many slopes fewer on a bar, so that the tables stay under 50 MB."""
_ROUNDS: Final = 400
_LINEAR: Final = 0.02
"""Effort of solving the linear master, a kind."""
_WHOLE: Final = 1e-6
"""Bars. A count this close to a whole number is that number."""

_EARNS: Final = 1e-7
"""Relative. A bar must be worth this much more than its cost to be a new column."""


class Generator:
    """Makes columns for a lot; grids are kept between runs."""

    def __init__(self, lot: Lot, work: Effort) -> None:
        self.lot, self.work = lot, work
        step = step_for(lot, _cells(lot, _CELLS))
        self.tight: Grid = grid(lot, step, "up")
        self.master = LinearMaster(lot, 0.0)
        self.prices = Prices((), (), 0.0)

    def run(self, known: Iterable[PricedPattern], wedge: float, open_end: float) -> list[PricedPattern]:
        """New columns at these costs of unshared cuts; the master is kept."""
        self.master = LinearMaster(self.lot, self._missing(wedge + open_end))
        for one in known:
            self.master.add(self._dressed(one, wedge, open_end))
        new: list[PricedPattern] = []
        self.prices = self.master.solve()
        for _ in range(_ROUNDS):
            found = [] if self.work.over else self._better(self.prices, wedge, open_end)
            if not found:
                break
            for one in found:
                self.master.add(one)
            new += found
            self.prices = self.master.solve()
            self.work.spend(_LINEAR * len(self.lot.kinds))
        return new

    def _missing(self, unshared: float) -> float:
        """Cost of a piece that is not made: more than a bar of its own with all its cuts unshared."""
        return 10 * (max(stock.price for stock in self.lot.stock) + 3 * unshared) + 1

    def floor(self) -> Floor:
        """The bound that the prices of a run without costs of unshared cuts give."""
        pricing = Pricing(
            self.lot, grid(self.lot, step_for(self.lot, _cells(self.lot, _FINE)), "down"), self.prices.pieces
        )
        self.work.spend(pricing.work)
        earns = [pricing.most(stock) for stock in range(len(self.lot.stock))]
        return bounds.by_prices(self.lot, self.prices.pieces, earns)

    def dive(self) -> Iterator[tuple[list[Pattern], list[int]]]:
        """Bars fixed step by step where the master takes them whole or nearly so, and the pieces then left."""
        left, bars = list(self.lot.demand), list[Pattern]()
        while any(left) and not self.work.over:
            taken = self._take(left, bars)
            if not taken:
                return
            bars += taken
            yield list(bars), list(left)
            self.master.wants(left, [self._left(stock, bars) for stock in range(len(self.lot.stock))])
            self.master.solve()
            self.work.spend(_LINEAR * len(self.lot.kinds))

    def _left(self, stock: int, bars: Sequence[Pattern]) -> int:
        quantity = self.lot.stock[stock].quantity
        return sum(self.lot.demand) if quantity is None else quantity - sum(bar.stock == stock for bar in bars)

    def _take(self, left: list[int], bars: Sequence[Pattern]) -> list[Pattern]:
        """The whole part of every share, else one bar of the largest; what they hold is taken out of `left`."""
        shares = sorted(zip(self.master.shares(), self.master.columns, strict=True), key=lambda one: -one[0])
        taken: list[Pattern] = []
        for share, one in shares:
            room = min(left[kind] // count for kind, count in one.counts)
            stock_left = self._left(one.cutting.stock, [*bars, *taken])
            times = min(max(int(share + _WHOLE), 0 if taken else share > _WHOLE), room, stock_left)
            taken += [one.cutting] * times
            for kind, count in one.counts:
                left[kind] -= times * count
        return taken

    def _dressed(self, one: PricedPattern, wedge: float, open_end: float) -> PricedPattern:
        """The column with the cost of its unshared cuts."""
        walk = one.cutting.walk
        ends = (self.lot.ends[walk[0].before].square, self.lot.ends[walk[-1].after].square).count(False)
        cost = self.lot.stock[one.cutting.stock].price
        return attrs.evolve(one, cost=cost + wedge * (self.lot.mismatches(walk) - ends) + open_end * ends)

    def _better(self, prices: Prices, wedge: float, open_end: float) -> list[PricedPattern]:
        """For each stock the bars, one a last slope, that earn more than they cost."""
        pricing = Pricing(self.lot, self.tight, prices.pieces, (wedge, open_end))
        self.work.spend(pricing.work)
        found: dict[Key, PricedPattern] = {}
        for stock, one in enumerate(self.lot.stock):
            cost = one.price + prices.bars[stock]
            for worth, slope, place in pricing.best(stock):
                if worth > cost * (1 + _EARNS) + _EARNS:
                    new = self._dressed(column(Pattern(stock, pricing.walk(slope, place)), 0.0), wedge, open_end)
                    found.setdefault(new.key, new)
        return list(found.values())


def near(lot: Lot, prices: Prices, most: float, work: Effort, all_or_none: bool) -> tuple[list[PricedPattern], bool]:
    """Bars that could be in a plan that costs at most `most`, by what they cost above the prices; whether all."""
    above = most - prices.value
    least = [one.price * (1 - _EARNS) + bar - above for one, bar in zip(lot.stock, prices.bars, strict=True)]
    every = EveryBar(lot, Wanted(prices.pieces, 0.0, least, all_or_none), work)
    found = [column(Pattern(stock, walk), one.price) for stock, one in enumerate(lot.stock) for walk in every.of(stock)]
    return found, every.complete


def _cells(lot: Lot, most: int) -> int:
    return min(most, max(2000, _TABLE // len(lot.ends)))
