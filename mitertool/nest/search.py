"""The search for the bars of one lot: a start, filling bar by bar, columns; knows all its parts.

The best plan so far stands in `best` at any moment, so that whoever stops the search has it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from functools import cached_property
from random import Random
from typing import Final

from mitertool.nest import bounds
from mitertool.nest.bounds import Floor
from mitertool.nest.columns import Generator
from mitertool.nest.fill import Filling, Offer, Taste
from mitertool.nest.flow import Flow
from mitertool.nest.greedy import Found, first_fit, is_left, without_surplus
from mitertool.nest.grid import Grid, grid, step_for
from mitertool.nest.lots import Lot, Pattern
from mitertool.nest.master import Key, PricedPattern, Task, choose, column
from mitertool.nest.work import Effort, Goal

_CELLS: Final = 6000
"""Places on a bar while filling: about a millimetre of a common bar."""
_OFFERED: Final = 150
"""Pieces that are offered to one bar."""
_MANY: Final = 150
"""Kinds above which columns for set-ups alone take longer than they are worth; filling does nearly as well."""
_FILLING: Final = 5.0
"""Effort a piece that filling for other ways of working has at the least."""
_SAME: Final = 1e-9
"""Relative. Costs closer than this are one cost."""
_NODES: Final = 400_000
"""Nodes of a whole-number master, times its columns."""
_TASTES: Final = ((0.1, 1.0, False), (0.1, 1.0, True), (0.3, 1.0, True), (0.05, 2.0, True), (0.6, 0.3, True))
"""Ways to fill: how much more longer pieces are worth, how dear unshared cuts are, whether wedges are looked at."""
_SHARES: Final = (0.01, 0.05)
"""What an unshared cut costs of a bar while columns are made for the fewest of them."""

Report = Callable[[], None]


class Search:
    """Looks for the bars of one lot until the bound is met or the work is used up."""

    def __init__(self, lot: Lot, goal: Goal, work: Effort, report: Report) -> None:
        self.lot, self.goal, self.work, self.report = lot, goal, work, report
        self.random = Random(1)
        self.floor = bounds.material(lot)
        self.best: Found = first_fit(lot)
        self.pool: dict[Key, PricedPattern] = {}
        self.chose_best = False
        self.least: dict[tuple[int, float], int] = {}
        self._keep(self.best.bars)

    @property
    def cost(self) -> float:
        """Cost of the steel of the best plan."""
        return self.lot.price(self.best.bars)

    @property
    def by_material(self) -> float:
        """What the steel costs at the least by the weight of the pieces alone."""
        return bounds.material(self.lot).value

    @property
    def proved(self) -> bool:
        """Whether no plan needs less steel."""
        return self.best.whole and self.cost <= self.floor.value * (1 + _SAME)

    @property
    def finished(self) -> bool:
        """Whether nothing can get better, in steel or in unshared cuts."""
        return self.proved and self._cuts(self.best.bars) <= self._least_cuts

    @property
    def _least_cuts(self) -> int:
        """Unshared cuts at the least in plans that cost no more."""
        asked = len(self.best.bars), self.cost
        if asked not in self.least:
            self.least[asked] = self._flow.unshared(self.best.bars)
        return self.least[asked]

    @cached_property
    def _flow(self) -> Flow:
        return Flow(self.lot)

    def run(self) -> None:
        """All steps, each only while it can help."""
        if not self.lot.kinds:
            return
        if not self.proved:
            self._raise(bounds.by_joints(self.lot, self._flow))
        if self.finished:
            return
        for longer, dear, wedges in _TASTES:
            self.offer(self._filled(self._taste(longer, dear, wedges)))
            if self.work.over or self.finished:
                return
        generator = Generator(self.lot, self.work)
        if not self.proved:
            self._least_steel(generator)
        few = len(self.lot.kinds) <= _MANY
        if few and self.best.whole and not (self.finished or self.work.over):
            self._fewest_cuts(generator)

    # what is best

    def _score(self, found: Found) -> tuple[float, ...]:
        """Pieces on no bar, then cost, then unshared cuts."""
        cuts = self._cuts(found.bars)
        return sum(found.missing), round(self.lot.price(found.bars) + self.goal.wedge * cuts, 9), cuts

    def _cuts(self, bars: Sequence[Pattern]) -> int:
        return sum(self.lot.mismatches(bar.walk) for bar in bars)

    def offer(self, found: Found) -> None:
        """Take a plan if it is better."""
        self._keep(found.bars)
        if self._score(found) < self._score(self.best):
            self.best = found
            self.report()

    def _keep(self, bars: Sequence[Pattern]) -> None:
        """Remember bars as columns; of the same pieces the one with the fewest unshared cuts."""
        for bar in bars:
            new = column(bar, self.lot.stock[bar.stock].price)
            old = self.pool.get(new.key)
            if old is None or self.lot.mismatches(bar.walk) < self.lot.mismatches(old.cutting.walk):
                self.pool[new.key] = new

    @property
    def tastes(self) -> int:
        """In how many ways bars are filled."""
        return len(_TASTES)

    def filled(self, taste: int, start: Sequence[Pattern], demand: Sequence[int]) -> tuple[Pattern, ...]:
        """Bars that stand and bars for so many pieces of each kind, filled in one of the ways."""
        self.work.left = max(self.work.left, _FILLING * sum(demand))
        return self._filled(self._taste(*_TASTES[taste]), start, demand).bars

    # filling bar by bar

    def _taste(self, longer: float, dear: float, wedges: bool) -> Taste:
        longest, pull = max(self.lot.capacity), self.goal.pull * dear
        return Taste([w * (1 + longer * w / longest) for w in self.lot.weights], pull, pull, wedges)

    def _filled(self, taste: Taste, start: Sequence[Pattern] = (), demand: Sequence[int] | None = None) -> Found:
        """A whole plan, bar by bar, from bars that stand; a bar is cut again while its pieces last."""
        left, bars = list(self.lot.demand if demand is None else demand), list(start)
        while any(left) and not self.work.over:
            bar = self._next(taste, left, bars)
            if bar is None:
                break
            counts = Counter(way.kind for way in bar.walk)
            for _ in range(min(left[kind] // n for kind, n in counts.items())):
                if is_left(self.lot, bars, bar.stock):
                    bars.append(bar)
                    for kind, n in counts.items():
                        left[kind] -= n
        return Found(tuple(bars), tuple(left))

    def _next(self, taste: Taste, left: Sequence[int], bars: Sequence[Pattern]) -> Pattern | None:
        filling = Filling(self.lot, self._grid, taste, self._order(left))
        self.work.spend(filling.work)
        found: list[tuple[float, Pattern]] = []
        for stock, one in enumerate(self.lot.stock):
            offers = filling.bars(stock) if is_left(self.lot, bars, stock) else []
            found += [(self._dear(offer, left, one.price), Pattern(stock, offer.walk)) for offer in offers[:1]]
        return min(found, key=lambda one: one[0])[1] if found else None

    @cached_property
    def _grid(self) -> Grid:
        return grid(self.lot, step_for(self.lot, _CELLS), "near")

    def _dear(self, offer: Offer, left: Sequence[int], price: float) -> float:
        """Cost of a bar for what is cut from it; where all that is left fits on it, nothing but its cost counts."""
        worth = max(self.lot.capacity) * 2 if len(offer.walk) == sum(left) else max(offer.worth, _SAME)
        return price / worth

    def _order(self, left: Sequence[int]) -> list[int]:
        """Pieces to offer, the longest first: of each kind no more than a bar holds, of all no more than a share."""
        longest = max(self.lot.capacity)
        most = [max(1, int(longest / weight)) for weight in self.lot.weights]
        copies = [kind for kind, count in enumerate(left) for _ in range(min(count, most[kind]))]
        if len(copies) <= _OFFERED:
            return copies
        share = _OFFERED // 3
        return sorted([*copies[:share], *self.random.sample(copies[share:], _OFFERED - share)])

    # columns

    def _least_steel(self, generator: Generator) -> None:
        """A better bound by the master's prices, and plans out of the master's bars."""
        self._generate(generator, 0.0)
        self._raise(generator.floor())
        if self.goal.wedge:
            self._generate(generator, self.goal.wedge)
        for steps in (self._dived(generator), self._chosen(), self._near(generator)):
            for found in steps:
                self.offer(found)
                if self.proved or self.work.over:
                    return

    def _generate(self, generator: Generator, unshared: float) -> None:
        self._keep([one.cutting for one in generator.run(list(self.pool.values()), unshared, unshared)])

    def _raise(self, floor: Floor) -> None:
        if floor.value > self.floor.value:
            self.floor = floor
            self.report()

    def _dived(self, generator: Generator) -> Iterator[Found]:
        taste = self._taste(*_TASTES[1])
        for bars, left in generator.dive():
            yield self._filled(taste, bars, left)

    def _chosen(self) -> Iterator[Found]:
        columns = list(self.pool.values())
        costs = [one.cost + self.goal.wedge * self.lot.mismatches(one.cutting.walk) for one in columns]
        step = self.lot.stock[0].price if len(self.lot.stock) == 1 and not self.goal.wedge else 0.0
        start, more = self._start(columns), not self.goal.wedge
        yield from self._whole(
            columns, Task(costs, _nodes(columns), None, start, step * (1 - _SAME), self.floor.value, more)
        )

    def _near(self, generator: Generator) -> Iterator[Found]:
        if self.goal.wedge or not self.best.whole:
            return
        step = self.lot.stock[0].price if len(self.lot.stock) == 1 else self.cost * _SAME
        self._generate(generator, 0.0)
        found, every = generator.near(self.cost - step)
        self._keep([one.cutting for one in found])
        yield from self._chosen()
        if every and self.chose_best:
            self._raise(bounds.by_every_bar(self.floor, self.cost))

    def _fewest_cuts(self, generator: Generator) -> None:
        """As little steel, with fewer unshared cuts: columns for which those cost something."""
        price = max(stock.price for stock in self.lot.stock) or 1.0
        for cost in [self.goal.wedge] if self.goal.wedge else [share * price for share in _SHARES]:
            self._generate(generator, cost)
        if self.goal.wedge:
            steps = self._chosen()
        else:
            columns = list(self.pool.values())
            cuts = [float(self.lot.mismatches(one.cutting.walk)) for one in columns]
            least = float(self._least_cuts)
            budget = self.cost * (1 + _SAME)
            steps = self._whole(columns, Task(cuts, _nodes(columns), budget, self._start(columns), 1 - _SAME, least))
        for found in steps:
            self.offer(found)

    def _start(self, columns: Sequence[PricedPattern]) -> tuple[int, ...]:
        if not self.best.whole:
            return ()
        number = {one.key: i for i, one in enumerate(columns)}
        return tuple(number[column(bar, 0.0).key] for bar in self.best.bars)

    def _whole(self, columns: Sequence[PricedPattern], task: Task) -> Iterator[Found]:
        if self.work.over:
            return
        choice = choose(self.lot, columns, task, self.work)
        self.chose_best = choice.best
        if choice.numbers is not None:
            found = without_surplus(self.lot, [columns[i].cutting for i in choice.numbers])
            if found is not None:
                yield found


def _nodes(columns: Sequence[PricedPattern]) -> int:
    return max(50, _NODES // len(columns))
