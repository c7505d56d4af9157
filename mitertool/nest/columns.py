"""Column generation: bars that the master's prices ask for, and the bound when none is left; knows pricing, master."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

import attrs

from mitertool.nest import bounds
from mitertool.nest.bounds import Floor
from mitertool.nest.grid import Grid, grid, step_for
from mitertool.nest.lots import Cutting, Lot
from mitertool.nest.master import Column, LinearMaster, Prices, column
from mitertool.nest.pricing import Pricing
from mitertool.nest.work import Work

_CELLS: Final = 24000
_ROUNDS: Final = 400
_STEPS: Final = 200000
_EARNS: Final = 1e-7
"""Relative. A bar must be worth this much more than its cost to be a new column."""


class Generator:
    """Makes columns for a lot; grids are kept between runs."""

    def __init__(self, lot: Lot, work: Work) -> None:
        self.lot, self.work = lot, work
        step = step_for(lot, _CELLS)
        self.tight: Grid = grid(lot, step, "up")
        self.loose: Grid = grid(lot, step, "down")

    def run(self, known: Iterable[Column], wedge: float, open_end: float) -> tuple[list[Column], Floor | None]:
        """New columns, and with no cost of wedges the bound of the prices at the end."""
        master = LinearMaster(self.lot, 10 * max(stock.price for stock in self.lot.stock) + 1)
        for one in known:
            master.add(self._dressed(one, wedge, open_end))
        new: list[Column] = []
        prices = master.solve()
        for _ in range(_ROUNDS):
            if self.work.over:
                break
            found = self._better(prices, wedge, open_end)
            if not found:
                break
            for one in found:
                master.add(one)
            new += found
            prices = master.solve()
            self.work.spend(0.3 + len(self.lot.kinds) * 0.01)
        self.prices = prices
        return new, None if wedge or open_end else self._floor(prices)

    def near(self, most: float) -> list[Column]:
        """All bars that could be in a plan that costs at most `most`, by their reduced costs; at most a share of them."""
        prices = self.prices
        pricing = Pricing(self.lot, self.tight, prices.pieces, every=True)
        found: dict[tuple[int, tuple[tuple[int, int], ...]], Column] = {}
        for stock, one in enumerate(self.lot.stock):
            least = one.price + prices.bars[stock] - (most - prices.value) - 1e-7 * one.price
            for walk in pricing.worthy(stock, least, _STEPS):
                new = column(Cutting(stock, walk), one.price)
                if all(count <= self.lot.demand[kind] for kind, count in new.counts):
                    found.setdefault((stock, new.counts), new)
            self.work.spend(pricing.work)
        return list(found.values())

    def _dressed(self, one: Column, wedge: float, open_end: float) -> Column:
        """The column with the cost of its unshared cuts."""
        walk = one.cutting.walk
        ends = (self.lot.ends[walk[0].before].square, self.lot.ends[walk[-1].after].square).count(False)
        cost = self.lot.stock[one.cutting.stock].price
        return attrs.evolve(one, cost=cost + wedge * (self.lot.mismatches(walk) - ends) + open_end * ends)

    def _better(self, prices: Prices, wedge: float, open_end: float) -> list[Column]:
        """For each stock the bars, one a last slope, that earn more than they cost."""
        pricing = Pricing(self.lot, self.tight, prices.pieces, wedge, open_end)
        self.work.spend(pricing.work)
        found: dict[tuple[int, tuple[tuple[int, int], ...]], Column] = {}
        for stock, one in enumerate(self.lot.stock):
            cost = one.price + prices.bars[stock]
            for worth, slope, place in pricing.best(stock):
                if worth > cost * (1 + _EARNS) + _EARNS:
                    new = self._dressed(column(Cutting(stock, pricing.walk(slope, place)), 0.0), wedge, open_end)
                    found.setdefault((stock, new.counts), new)
        return list(found.values())

    def _floor(self, prices: Prices) -> Floor:
        pricing = Pricing(self.lot, self.loose, prices.pieces)
        return bounds.by_prices(self.lot, prices.pieces, [pricing.most(i) for i in range(len(self.lot.stock))])
