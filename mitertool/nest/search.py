"""The search for the bars of one lot: a start, filling bar by bar, columns; knows all its parts.

The best plan so far stands in `best` at any moment, so that whoever stops the search has it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, Final

from mitertool import nest
from mitertool.nest import bounds
from mitertool.nest.bounds import Floor
from mitertool.nest.filling import Filler
from mitertool.nest.greedy import Found, first_fit, without_surplus
from mitertool.nest.lots import Lot, Pattern
from mitertool.nest.priced import Key, PricedPattern, Prices, column
from mitertool.nest.work import Effort, Goal

if TYPE_CHECKING:
    from mitertool.nest.columns import Generator
    from mitertool.nest.flow import Flow
    from mitertool.nest.master import Task

_FILLING: Final = 5.0
"""Effort a piece that filling for other ways of working has at the least."""
_ABREAST: Final = 60
"""Beginnings of a bar that are followed side by side."""
_EMPTYING: Final = 0.2
"""Share of the effort for emptying bars until one may go, each time."""
_SLOPES: Final = 40
_KINDS: Final = 150
"""Slopes and kinds above which columns take longer than they are worth: every joint of two is a step of theirs."""
_NEAR: Final = 100
"""Slopes above which bars near the prices are not looked for: what the rest of a bar may be worth takes every joint."""
_SAME: Final = 1e-9
"""Relative. Costs closer than this are one cost."""
_NODES: Final = 400_000
"""Nodes of a whole-number master, times its columns."""
_TASTES: Final = ((0.1, 1.0, False), (0.1, 1.0, True), (0.3, 1.0, True), (0.05, 2.0, True), (0.6, 0.3, True))
"""Ways to fill: how much more longer pieces are worth, how dear unshared cuts are, whether wedges are looked at."""
_CLOSE: Final = (((0.05, 0.3, True), _ABREAST), ((0.1, 1.0, True), 150), ((0.05, 0.3, True), 150))
"""Ways to fill for steel alone, each with how many beginnings of a bar are followed."""
Report = Callable[[], None]


class Search:
    """Looks for the bars of one lot until the bound is met or the work is used up."""

    def __init__(self, lot: Lot, goal: Goal, work: Effort, report: Report) -> None:
        self.lot, self.goal, self.work, self.report = lot, goal, work, report
        self.filler = Filler(lot, goal, work)
        self.floor = bounds.material(lot)
        self.best: Found = first_fit(lot)
        self.uneven = self.best
        self.pool: dict[Key, PricedPattern] = {}
        self.chose_best = self.begun = False
        self.least: dict[tuple[int, float], int] = {}
        self._keep(self.best.bars)

    @property
    def cost(self) -> float:
        """Cost of the steel of the best plan."""
        return self.lot.price(self.best.bars)

    @cached_property
    def by_material(self) -> float:
        """What the steel costs at the least by the weight of the pieces alone."""
        return bounds.material(self.lot).value

    @property
    def proved(self) -> bool:
        """Whether no plan needs less steel."""
        return self.best.whole and self.cost <= self.floor.value * (1 + _SAME)

    @property
    def finished(self) -> bool:
        """Whether nothing can get better, in steel or in unshared cuts; a search that was never begun does not know."""
        return self.begun and self.proved and self._cuts(self.best.bars) <= self._least_cuts

    @property
    def _least_cuts(self) -> int:
        """Unshared cuts at the least in plans that cost no more."""
        asked = len(self.best.bars), self.cost
        if asked not in self.least:
            self.least[asked] = self._flow.unshared(self.best.bars)
        return self.least[asked]

    def least_changes(self) -> int:
        """Set-ups at the least in plans that are cut bar by bar; what is within pieces where no search was begun."""
        return self._flow.changes(sum(self.lot.demand)) if self.begun else self.lot.own_changes

    @cached_property
    def _flow(self) -> Flow:
        return nest.flow.Flow(self.lot)

    def run(self) -> None:
        """All steps, each only while it can help; where no work may be done the start is the plan."""
        if not self.lot.kinds or self.work.over:
            return
        self.begun = True
        if not self.proved:
            self._raise(bounds.by_joints(self.lot, self._flow))
        for step in (self._begun, self._least_steel, self._fewest_cuts):
            if self.finished or self.work.over:
                return
            step()

    def _begun(self) -> None:
        """Plans filled bar by bar by several tastes."""
        for longer, dear, wedges in _TASTES:
            self.offer(
                self.filler.filled(
                    self.filler.taste(longer, dear, wedges), self.lot.demand, self.filler.racks(()), _ABREAST
                )
            )
            if self.work.over or self.finished:
                return

    # what is best

    def _score(self, found: Found) -> tuple[float, ...]:
        """Pieces on no bar, then cost, then unshared cuts."""
        cuts = self._cuts(found.bars)
        return sum(found.missing), round(self.lot.price(found.bars) + self.goal.wedge * cuts, 9), cuts

    def _steel(self, found: Found) -> tuple[float, ...]:
        """Pieces on no bar, then cost, then how near a bar is to being empty."""
        return sum(found.missing), *self.filler.by_steel(found.bars)

    def _cuts(self, bars: Sequence[Pattern]) -> int:
        return sum(self.lot.mismatches(bar.walk) for bar in bars)

    def offer(self, found: Found) -> None:
        """Take a plan if it is better."""
        self._keep(found.bars)
        if self._steel(found) < self._steel(self.uneven):
            self.uneven = found
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
        racks = self.filler.racks(start)
        return (*start, *self.filler.filled(self.filler.taste(*_TASTES[taste]), demand, racks, _ABREAST).bars)

    # columns

    def _least_steel(self) -> None:
        """A better bound by the master's prices, and plans out of the master's bars."""
        for steps in self._towards_least_steel():
            for found in steps:
                self.offer(found)
                if self.proved or self.work.over:
                    return

    def _towards_least_steel(self) -> Iterator[Iterator[Found]]:
        if self.proved:
            return
        mending = self.best.whole and not self.goal.wedge
        if mending:
            yield self._close()
            yield self._mended_a_while()
        if self._many:
            prices = self._flow.steel.prices(self.lot)
        else:
            generator = nest.columns.Generator(self.lot, self.work)
            self._generate(generator, 0.0)
            self._raise(generator.floor())
            prices = generator.prices
        if mending:
            yield self._near(prices, all_or_none=True)
            yield self._mended_a_while()
        if not self._many:
            if self.goal.wedge:
                self._generate(generator, self.goal.wedge)
            yield self._dived(generator)
            yield self._chosen()
        if mending:
            yield self._near(prices, all_or_none=False)

    @property
    def _many(self) -> bool:
        """Whether columns take longer than they are worth."""
        return len(self.lot.ends) > _SLOPES or len(self.lot.kinds) > _KINDS

    def _close(self) -> Iterator[Found]:
        """Plans of bars filled as full as they go."""
        for taste, abreast in _CLOSE:
            yield self.filler.filled(self.filler.taste(*taste), self.lot.demand, self.filler.racks(()), abreast)

    def _mended_a_while(self) -> Iterator[Found]:
        share = 2 * _EMPTYING if self._many else _EMPTYING
        return self.filler.mended(self.uneven.bars, steel=True, until=self.work.left * (1 - share))

    def _generate(self, generator: Generator, unshared: float) -> None:
        self._keep([one.cutting for one in generator.run(list(self.pool.values()), unshared, unshared)])

    def _raise(self, floor: Floor) -> None:
        if floor.value > self.floor.value:
            self.floor = floor
            self.report()

    def _dived(self, generator: Generator) -> Iterator[Found]:
        taste = self.filler.taste(*_TASTES[1])
        for bars, left in generator.dive():
            rest = self.filler.filled(taste, left, self.filler.racks(bars), _ABREAST)
            yield Found((*bars, *rest.bars), rest.missing)

    def _chosen(self) -> Iterator[Found]:
        columns = list(self.pool.values())
        costs = [one.cost + self.goal.wedge * self.lot.mismatches(one.cutting.walk) for one in columns]
        step = self.lot.stock[0].price if len(self.lot.stock) == 1 and not self.goal.wedge else 0.0
        start, more = self._start(columns), not self.goal.wedge
        yield from self._whole(
            columns, nest.master.Task(costs, _nodes(columns), None, start, step * (1 - _SAME), self.floor.value, more)
        )

    def _near(self, prices: Prices, all_or_none: bool) -> Iterator[Found]:
        """Plans out of bars near the prices; where these are all that a better plan has, none is below the best."""
        if not self.best.whole or len(self.lot.ends) > _NEAR or len(self.lot.kinds) > _KINDS:
            return
        step = self.lot.stock[0].price if len(self.lot.stock) == 1 else self.cost * _SAME
        found, every = nest.columns.near(self.lot, prices, self.cost - step, self.work, all_or_none)
        if every or not all_or_none:
            self._keep([one.cutting for one in found])
            yield from self._chosen()
            if every and self.chose_best:
                self._raise(bounds.by_every_bar(self.floor, self.cost))

    def _fewest_cuts(self) -> None:
        """As little steel, with fewer unshared cuts."""
        if self.best.whole and self.goal.cuts:
            for found in self.filler.mended(self.best.bars, steel=False):
                self.offer(found)
                if self.finished:
                    return

    def _start(self, columns: Sequence[PricedPattern]) -> tuple[int, ...]:
        if not self.best.whole:
            return ()
        number = {one.key: i for i, one in enumerate(columns)}
        return tuple(number[column(bar, 0.0).key] for bar in self.best.bars)

    def _whole(self, columns: Sequence[PricedPattern], task: Task) -> Iterator[Found]:
        if self.work.over:
            return
        choice = nest.master.choose(self.lot, columns, task, self.work)
        self.chose_best = choice.best
        if choice.numbers is not None:
            found = without_surplus(self.lot, [columns[i].cutting for i in choice.numbers])
            self.chose_best &= found is not None
            if found is not None:
                yield found


def _nodes(columns: Sequence[PricedPattern]) -> int:
    return max(50, _NODES // len(columns))
