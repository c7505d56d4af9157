"""The search for the bars of one lot: start, filling bar by bar, columns, reworking a few bars; knows all its parts.

The best plan so far stands in `best` at any moment, so that whoever stops the search has it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from random import Random
from typing import Final

import attrs

from mitertool.nest import bounds
from mitertool.nest.bounds import Floor
from mitertool.nest.columns import Generator
from mitertool.nest.fill import Filling, Offer, Taste
from mitertool.nest.greedy import Found, first_fit, is_left
from mitertool.nest.grid import grid, step_for
from mitertool.nest.lots import Cutting, Lot
from mitertool.nest.master import Column, Task, choose, column
from mitertool.nest.work import Work

_CELLS: Final = 6000
"""Places on a bar while filling: about a millimetre of a common bar."""
_OFFERED: Final = 220
"""Pieces that are offered to one bar."""
_SAME: Final = 1e-9
"""Relative. Costs closer than this are one cost."""


@attrs.frozen
class Goal:
    """What is least: cost of steel plus `wedge` for every unshared cut; with 0 steel first, then unshared cuts.

    `pull` is how much of a bar's length an unshared cut may cost while bars are filled, mm.
    """

    wedge: float = 0.0
    pull: float = 25.0
    setups: bool = True


Report = Callable[[], None]


class Search:
    """Looks for the bars of one lot until the bound is met or the work is used up."""

    def __init__(self, lot: Lot, goal: Goal, work: Work, report: Report) -> None:
        self.lot, self.goal, self.work, self.report = lot, goal, work, report
        self.random = Random(1)
        self.floor = bounds.material(lot)
        self.best: Found = first_fit(lot)
        self.pool: dict[tuple[int, tuple[tuple[int, int], ...]], Column] = {}
        self.keep(self.best.bars)
        self.grid = grid(lot, step_for(lot, _CELLS), "near")

    # what is best

    def score(self, found: Found) -> tuple[float, ...]:
        """Pieces on no bar, then cost, then unshared cuts."""
        cuts = sum(self.lot.mismatches(bar.walk) for bar in found.bars)
        return (sum(found.missing), round(self.lot.price(found.bars) + self.goal.wedge * cuts, 9), cuts)

    @property
    def cost(self) -> float:
        """Cost of the steel of the best plan."""
        return self.lot.price(self.best.bars)

    @property
    def proved(self) -> bool:
        """Whether no plan needs less steel."""
        return self.best.whole and self.cost <= self.floor.value * (1 + _SAME)

    @property
    def cuts(self) -> int:
        """Unshared cuts of the best plan."""
        return sum(self.lot.mismatches(bar.walk) for bar in self.best.bars)

    @property
    def smooth(self) -> bool:
        """Whether no plan of as many bars has fewer unshared cuts."""
        return not self.goal.setups or self.cuts <= bounds.mismatches(self.lot, len(self.best.bars))

    def offer(self, found: Found) -> bool:
        """Take a plan if it is better."""
        self.keep(found.bars)
        if self.score(found) >= self.score(self.best):
            return False
        self.best = found
        self.report()
        return True

    def keep(self, bars: Sequence[Cutting]) -> None:
        """Remember bars as columns; of the same pieces the one with the fewest unshared cuts."""
        for bar in bars:
            new = column(bar, self.lot.stock[bar.stock].price)
            key = (bar.stock, new.counts)
            old = self.pool.get(key)
            if old is None or self.lot.mismatches(bar.walk) < self.lot.mismatches(old.cutting.walk):
                self.pool[key] = new

    # the steps

    def run(self) -> None:
        """All steps, each only while it can help."""
        if not self.lot.kinds or (self.proved and self.smooth):
            return
        for taste, repeat in self._tastes():
            self.offer(self.filled(taste, repeat))
            if self.work.over or (self.proved and self.smooth):
                return
        self._columns()
        self._rework()

    def _tastes(self) -> Iterator[tuple[Taste, bool]]:
        """Ways to fill, from the plain one on: longer pieces worth more, unshared cuts dearer, alike bars or not."""
        longest = max(self.lot.capacity)
        pull = self.goal.pull if self.goal.setups else 0.0
        for repeat, longer, cost in ((True, 0.1, 1), (False, 0.1, 1), (False, 0.3, 1), (False, 0.05, 2), (False, 0.6, 0.3)):
            worth = [w * (1 + longer * w / longest) for w in self.lot.weights]
            yield Taste(worth, cost * pull, cost * pull), repeat

    def filled(self, taste: Taste, repeat: bool) -> Found:
        """A whole plan, bar by bar."""
        left = list(self.lot.demand)
        bars: list[Cutting] = []
        while any(left) and not (self.work.over and bars):
            bar = self._next(taste, left, bars)
            if bar is None:
                break
            counts = Counter(way.kind for way in bar.walk)
            times = min(left[kind] // n for kind, n in counts.items()) if repeat else 1
            for _ in range(times):
                if is_left(self.lot, bars, bar.stock):
                    bars.append(bar)
                    for kind, n in counts.items():
                        left[kind] -= n
        return Found(tuple(bars), tuple(left))

    def _next(self, taste: Taste, left: Sequence[int], bars: Sequence[Cutting]) -> Cutting | None:
        filling = Filling(self.lot, self.grid, taste, self._order(left))
        self.work.spend(filling.work)
        found: list[tuple[float, Cutting]] = []
        for stock, one in enumerate(self.lot.stock):
            offers = filling.bars(stock) if is_left(self.lot, bars, stock) else []
            found += [(self._dear(offer, left, one.price, stock), Cutting(stock, offer.walk)) for offer in offers[:1]]
        return min(found, key=lambda one: one[0])[1] if found else None

    def _dear(self, offer: Offer, left: Sequence[int], price: float, stock: int) -> float:
        """Cost of a bar for what is cut from it; where all that is left fits on it, nothing but its cost counts."""
        if len(offer.walk) == sum(left):
            return price / self.lot.capacity[stock] * 1e-6
        return price / max(offer.worth, 1e-6)

    def _order(self, left: Sequence[int]) -> list[int]:
        """Pieces to offer, the longest first: of each kind no more than a bar holds, of all no more than a share."""
        longest = max(self.lot.capacity)
        copies = [
            kind
            for kind, count in enumerate(left)
            for _ in range(min(count, max(1, int(longest / self.lot.weights[kind]))))
        ]
        if len(copies) > _OFFERED:
            share = _OFFERED // 3
            copies = sorted([*copies[:share], *self.random.sample(copies[share:], _OFFERED - share)])
        return copies

    # columns

    def _columns(self) -> None:
        """Bars by their worth at the master's prices: a better bound, and a plan out of them."""
        if self.best.whole and self.proved and self.smooth:
            return
        generator = Generator(self.lot, self.work)
        if not self.proved:
            new, floor = generator.run(self.pool.values(), 0.0, 0.0)
            self.keep([one.cutting for one in new])
            if floor is not None and floor.value > self.floor.value:
                self.floor = floor
                self.report()
            self._choose_steel()
            if not self.proved and not self.work.over and len(self.lot.stock) == 1:
                near = generator.near(self.cost - self.lot.stock[0].price)
                self.keep([one.cutting for one in near])
                self._choose_steel()
        if self.goal.setups and not self.smooth and not self.work.over:
            price = min(stock.price for stock in self.lot.stock)
            for share in (0.01, 0.05):
                cost = self.goal.wedge or share * price
                new, _ = generator.run(self.pool.values(), cost, cost)
                self.keep([one.cutting for one in new])
            self._choose_cuts()

    def _choose_steel(self) -> None:
        if self.proved or self.work.over:
            return
        columns = list(self.pool.values())
        costs = [one.cost + self.goal.wedge * self.lot.mismatches(one.cutting.walk) for one in columns]
        least = min(stock.price for stock in self.lot.stock) if len(self.lot.stock) == 1 else 0.0
        self._take(columns, Task(costs, 4000, None, self._start(columns), self.floor.value + least * 1e-6, least * 0.99))

    def _choose_cuts(self) -> None:
        columns = list(self.pool.values())
        if not self.best.whole:
            return
        cuts = [float(self.lot.mismatches(one.cutting.walk)) for one in columns]
        if self.goal.wedge:
            costs = [one.cost + self.goal.wedge * n for one, n in zip(columns, cuts, strict=True)]
            self._take(columns, Task(costs, 2000, None, self._start(columns)))
        else:
            target = float(bounds.mismatches(self.lot, len(self.best.bars)))
            self._take(columns, Task(cuts, 2000, self.cost * (1 + _SAME), self._start(columns), target, 0.99))

    def _start(self, columns: Sequence[Column]) -> tuple[int, ...]:
        if not self.best.whole:
            return ()
        number = {(one.cutting.stock, one.counts): i for i, one in enumerate(columns)}
        return tuple(number[bar.stock, column(bar, 0.0).counts] for bar in self.best.bars)

    def _take(self, columns: Sequence[Column], task: Task) -> None:
        chosen = choose(self.lot, columns, task, self.work)
        self.work.spend(len(columns) * 0.05)
        if chosen is not None:
            self.offer(Found(tuple(columns[i].cutting for i in chosen), (0,) * len(self.lot.kinds)))

    # reworking

    def _rework(self) -> None:
        """Take a few bars apart and fill them anew, while that may help."""
