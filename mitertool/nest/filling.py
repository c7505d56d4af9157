"""Plans bar by bar, and plans of which a few bars are emptied and filled anew; knows lots and how a bar is filled."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from functools import cached_property
from itertools import pairwise
from random import Random
from typing import TYPE_CHECKING, Final

import attrs

from mitertool import nest
from mitertool.base.totals import summed
from mitertool.nest.greedy import Found
from mitertool.nest.lots import Lot, Pattern
from mitertool.nest.taste import Instead, Taste
from mitertool.nest.work import Effort, Goal

if TYPE_CHECKING:
    from mitertool.nest.abreast import Tables

_OFFERED: Final = 150
"""Kinds that are offered to one bar."""
_LOOK: Final = 1e-5
"""Effort of one piece tried behind one beginning: no tolerance."""
_STEP: Final = 0.05
"""Effort of one piece more on all beginnings."""
_FEW: Final = (2, 2, 3, 3, 4, 5, 6)
"""How many bars are emptied at a time beside the first."""
_MANY: Final = 100
_PAIRS: Final = (2, 2, 3)
"""Where a plan has more bars than that, fewer are emptied at a time, and more often."""
_STALLED: Final = (60, 6)
_EMPTIED: Final = 20
"""Steps without a better plan after which no more are tried: so many, and so many a bar; more a bar where a plan has
many bars and one of them is to go."""
_UNLIKE: Final = 10
"""Of bars that are alike only so many for each pattern count there: which of them are emptied makes no difference."""
_LONGER: Final = (0.02, 0.05, 0.1, 0.2, 0.4)
_DEAR: Final = (0.3, 1.0, 1.0, 2.0, 4.0)
"""What a filling may go for: how much more longer pieces are worth, how dear unshared cuts are."""
_TRIED: Final = 40
"""Bars of which the one with the most room is emptied."""
_ABREAST: Final = (12, 25, 50)
_WITHOUT: Final = 0.4
"""How often the bars are filled anew without one of the stocks: what is cheapest a length is not always best."""

_ROOMY: Final = 0.5
"""How often the bar with the most room is among those that are emptied, where room is of use to others."""

Score = tuple[float, ...]


@attrs.frozen(eq=False)
class _Standing:
    """A bar of a plan that is mended: its room as a share of the longest bar, its unshared cuts.

    Where pieces may be cut as others what is set within them counts as cuts too.
    """

    bar: Pattern
    room: float
    cuts: float


class _Bars:
    """The bars of a plan that is mended, in their order; how many of each stock and of each pattern are among them."""

    def __init__(self, standing: list[_Standing]) -> None:
        self.standing = standing
        self.used = Counter(one.bar.stock for one in standing)
        self.alike = Counter(one.bar for one in standing)

    @property
    def unlike(self) -> int:
        """How many bars there are, of those of one pattern only some."""
        return min(len(self.standing), _UNLIKE * len(self.alike))

    def change(self, numbers: Sequence[int], new: Sequence[_Standing]) -> None:
        """Take the bars of these numbers out, in rising order, and put new ones behind the others."""
        for number in reversed(numbers):
            bar = self.standing.pop(number).bar
            self.used[bar.stock] -= 1
            self.alike[bar] -= 1
            if not self.alike[bar]:
                del self.alike[bar]
        self.standing += new
        self.used.update(one.bar.stock for one in new)
        self.alike.update(one.bar for one in new)


class Filler:
    """Fills bars of a lot from what is left of its pieces."""

    def __init__(self, lot: Lot, goal: Goal, work: Effort, instead: Instead | None = None) -> None:
        self.lot, self.goal, self.work, self.instead = lot, goal, work, instead
        self.kinds = range(len(lot.kinds)) if instead is None else instead.kinds
        self.random = Random(1)

    def beside(self, lot: Lot, instead: Instead, work: Effort) -> Filler:
        """One for the same goal, of a lot whose kinds may be cut in the place of others."""
        return Filler(lot, self.goal, work, instead)

    @cached_property
    def _tables(self) -> Tables:
        return nest.abreast.Tables(self.lot, self.instead)

    def taste(self, longer: float, dear: float, wedges: bool = True) -> Taste:
        """How much more longer pieces are worth, how dear unshared cuts are, whether wedges are looked at."""
        longest, pull = max(self.lot.capacity), self.goal.pull * dear
        open_end = pull if self.instead is None else 0.0
        return Taste([w * (1 + longer * w / longest) for w in self.lot.weights], pull, open_end, wedges)

    def filled(self, taste: Taste, left: Sequence[int], racks: Sequence[int], abreast: int) -> Found:
        """Bars for what is left, so many of each stock at the most; a bar is cut again while its pieces last."""
        left, racks, bars = list(left), list(racks), list[Pattern]()
        while any(left) and not self.work.over:
            bar = self._next(taste, left, racks, abreast)
            if bar is None:
                break
            counts = Counter(self.kinds[way.kind] for way in bar.walk)
            times = min(*(left[kind] // n for kind, n in counts.items()), racks[bar.stock], sum(left))
            bars += [bar] * times
            racks[bar.stock] -= times
            for kind, n in counts.items():
                left[kind] -= n * times
        return Found(tuple(bars), tuple(left))

    def racks(self, standing: Sequence[Pattern]) -> list[int]:
        """Bars left of each stock beside those that stand."""
        return self._left_beside(Counter(bar.stock for bar in standing))

    def _left_beside(self, used: Counter[int]) -> list[int]:
        most = sum(self.lot.demand)
        return [most if one.quantity is None else one.quantity - used[i] for i, one in enumerate(self.lot.stock)]

    def _next(self, taste: Taste, left: Sequence[int], racks: Sequence[int], abreast: int) -> Pattern | None:
        filling = nest.abreast.BarFilling(self._tables, taste, self._offered(left), abreast)
        found: list[tuple[float, int, Pattern]] = []
        for stock, one in enumerate(self.lot.stock):
            offer = filling.best(stock) if racks[stock] > 0 else None
            if offer:
                dear = self._dear(offer.worth, len(offer.walk) == sum(left), one.price)
                found.append((dear, stock, Pattern(stock, offer.walk)))
        self.work.spend(_LOOK * filling.looks + _STEP * filling.steps)
        return min(found, key=lambda one: one[:2])[2] if found else None

    def _dear(self, worth: float, all_of_it: bool, price: float) -> float:
        """Cost of a bar for what is cut from it; where all that is left fits on it, nothing but its cost counts."""
        return price / (max(self.lot.capacity) * 2 if all_of_it else max(worth, 1e-9))

    def _offered(self, left: Sequence[int]) -> Sequence[int]:
        """The pieces to offer: of many kinds the longest and some by lot."""
        kinds = [kind for kind, count in enumerate(left) if count]
        if len(kinds) <= _OFFERED:
            return left
        share = _OFFERED // 3
        chosen = {*kinds[:share], *self.random.sample(kinds[share:], _OFFERED - share)}
        return [count if kind in chosen else 0 for kind, count in enumerate(left)]

    # a few bars anew

    def mended(self, bars: Sequence[Pattern], steel: bool, until: float = 0.0) -> Iterator[Found]:
        """Better plans, each out of the one before: less dear ones, of the same cost with fewer unshared cuts.

        With `steel` unshared cuts count for nothing, and bars that are alike are made unlike, so that one may go; the
        last is what that has come to, to be gone on with. Ends where no more effort than `until` is left.
        """
        plan, quiet = _Bars([self._standing(bar) for bar in bars]), 0
        each = _EMPTIED if steel and len(bars) > _MANY else _STALLED[1]
        while quiet < _STALLED[0] + each * plan.unlike and self.work.left > until and not self.work.late:
            chosen = sorted(self._few(plan.standing, steel))
            old = [plan.standing[number] for number in chosen]
            again = self._again([one.bar for one in old], plan.used, steel)
            new = [self._standing(bar) for bar in again.bars]
            before, after = self._score(old, steel), self._score(new, steel)
            quiet += 1
            if again.whole and after <= before:
                plan.change(chosen, new)
                if self._counts(after, before, steel):
                    quiet = 0
                    yield self._whole(plan)
        if steel:
            yield self._whole(plan)

    def _whole(self, plan: _Bars) -> Found:
        return Found(tuple(one.bar for one in plan.standing), (0,) * len(self.lot.kinds))

    def _again(self, old: Sequence[Pattern], used: Counter[int], steel: bool) -> Found:
        """Other bars for what is cut from the old ones; so many of each stock are `used`, these among them."""
        left = [0] * len(self.lot.kinds)
        for bar in old:
            for way in bar.walk:
                left[self.kinds[way.kind]] += 1
        dear = self.random.choice(_DEAR) * (0.5 if steel else 1.0)
        taste = self.taste(self.random.choice(_LONGER), dear)
        racks = self._left_beside(used - Counter(bar.stock for bar in old))
        if len(racks) > 1 and self.random.random() < _WITHOUT:
            racks[self.random.randrange(len(racks))] = 0
        return self.filled(taste, left, racks, self.random.choice(_ABREAST))

    def _few(self, bars: Sequence[_Standing], steel: bool) -> set[int]:
        """Some bars: one that is worth emptying, and others."""
        count = min(len(bars), self.random.choice(_FEW if len(bars) <= _MANY else _PAIRS))
        numbers = range(len(bars))
        tried = self.random.sample(numbers, min(len(bars), _TRIED if steel else 4))
        first = max(tried, key=lambda n: bars[n].room if steel else bars[n].cuts)
        others = self.random.sample(numbers, count)
        if self.instead and self.random.random() < _ROOMY:
            others[-1] = max(numbers, key=lambda n: bars[n].room)
        return {first, *others}

    def _standing(self, bar: Pattern) -> _Standing:
        room = (self.lot.capacity[bar.stock] - self.lot.used(bar.walk)) / max(self.lot.capacity)
        return _Standing(bar, room, self._cuts(bar))

    def _cuts(self, bar: Pattern) -> float:
        """Unshared cuts and open ends; where pieces may be cut as others what is set from the first cut to the last.

        There bars that begin and end at one setting follow each other, whichever it is.
        """
        if self.instead is None:
            return self.lot.mismatches(bar.walk)
        within = summed(self.instead.within[way] for way in bar.walk)
        return within + sum(one.after != two.before for one, two in pairwise(bar.walk))

    def by_steel(self, bars: Sequence[Pattern]) -> Score:
        """What is least where steel goes first: cost, then how evenly the room lies, so that one may go; then cuts."""
        return self._score([self._standing(bar) for bar in bars], steel=True)

    def _score(self, bars: Sequence[_Standing], steel: bool) -> Score:
        cuts = round(summed(one.cuts for one in bars), 6)
        uneven = -summed(one.room**2 for one in bars)
        cost = round(self.lot.price([one.bar for one in bars]) + self.goal.wedge * cuts, 9)
        return (cost, uneven, cuts) if steel else (cost, cuts, uneven)

    def _counts(self, after: Score, before: Score, steel: bool) -> bool:
        """Whether a plan is better in what counts."""
        return after[:1] < before[:1] if steel else after[:2] < before[:2]
