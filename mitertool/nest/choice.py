"""The best of the ways in which a job may be worked off, and what stands beside it; knows the work as a whole.

What is chosen is the best of all that were weighed, and what is shown beside it are others of them: so nothing that is
shown is better.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import cached_property
from math import ceil
from typing import Final

import attrs

from mitertool.base.totals import summed
from mitertool.nest.measure import Measure
from mitertool.nest.plan import Alternative
from mitertool.nest.tight import closer
from mitertool.nest.way_names import BAR_BY_BAR, BY_SETTING, MIXED, WAYS
from mitertool.nest.whole import Arrows, Draft, Means, Whole, whole

_WEIGHED: Final = 20_000
"""Bars that are put in order while ways are weighed, so many plans at least and at most: seconds of a large job. With
less effort than 1 in proportion less, but for one plan of each way."""
_LEAST: Final = 8
_MOST: Final = 80

_SAME: Final = 1e-6
"""Costs closer than this are one."""

Candidate = tuple[Draft, ...]
"""Bars for one section and grade, all worked off in one way."""

Picks = tuple[int, ...]


class Weighing:
    """Plans of a job, a candidate taken for each section and grade; each is put in order once."""

    def __init__(self, shop: Means, effort: float = 1.0) -> None:
        self.shop, self.arrows = shop, Arrows(shop)
        self.share = min(1.0, effort)
        self.groups: Sequence[Sequence[Candidate]] = ()
        self.found: dict[Picks, Whole] = {}
        self.others: list[Whole] = []

    def offer(self, groups: Sequence[Sequence[Candidate]]) -> None:
        """Weigh these from here on; those that were offered before stand first among them."""
        self.groups = groups

    @cached_property
    def most(self) -> float:
        """How many plans are weighed at the most."""
        bars = sum(len(draft.bars) for group in self.groups for draft in group[0])
        return max(_LEAST * self.share, min(_MOST, _WEIGHED * self.share // max(1, bars)))

    @property
    def all(self) -> list[Whole]:
        """Everything that was weighed."""
        return [*self.found.values(), *self.others]

    @property
    def best(self) -> Whole:
        """The best of it."""
        return min(self.all, key=lambda one: self.shop.measure.key(one.work))

    def run(self, stop: Callable[[], bool]) -> None:
        """Every way for all groups alike, then group by group what makes the best of them better."""
        for picks in self._alike():
            if self.found and stop():
                return
            self._weigh(picks)
        self._climb(stop)

    def bring_closer(self, stop: Callable[[], bool]) -> None:
        """Then its bars."""
        if not stop():
            self._bring_closer(min(self.found, key=self._key))

    def one_at_least(self) -> None:
        """Weigh one plan, where none was."""
        if not self.found:
            self._weigh(next(self._alike()))

    def _climb(self, stop: Callable[[], bool]) -> None:
        stands: Picks = ()
        while stands != (stands := min(self.found, key=self._key)):
            for other in self._beside(stands):
                if len(self.found) >= self.most or stop():
                    return
                self._weigh(other)

    def _key(self, picks: Picks) -> tuple[float, ...]:
        return self.shop.measure.key(self.found[picks].work)

    def _weigh(self, picks: Picks) -> None:
        if picks not in self.found:
            drafts = [draft for group, pick in zip(self.groups, picks, strict=True) for draft in group[pick]]
            self.found[picks] = whole(drafts, self.shop, self.arrows)

    def _bring_closer(self, picks: Picks) -> None:
        """The best of them with the pieces of each bar as close as they go without a set-up more."""
        drafts = [draft for group, pick in zip(self.groups, picks, strict=True) for draft in group[pick]]
        closed = [attrs.evolve(draft, bars=tuple(closer(draft.lot, bar) for bar in draft.bars)) for draft in drafts]
        if any(one.bars != other.bars for one, other in zip(drafts, closed, strict=True)):
            self.others.append(whole(closed, self.shop, self.arrows))

    def _alike(self) -> Iterator[Picks]:
        """The same way for every group, as far as each has it."""
        for way in (BAR_BY_BAR, BY_SETTING, MIXED):
            numbers = [[i for i, one in enumerate(group) if _way(one) == way] or [0] for group in self.groups]
            for turn in range(ceil(self.share * max(map(len, numbers), default=1)) or 1):
                yield tuple(of[min(turn, len(of) - 1)] for of in numbers)

    def _beside(self, picks: Picks) -> Iterator[Picks]:
        """Another candidate for one group, where its steel does not cost more than could be saved by it."""
        work, measure = self.found[picks].work, self.shop.measure
        room = (measure.shop_cost(work) or work.cost) - work.cost + _SAME
        for number, group in enumerate(self.groups):
            most = _steel(group[picks[number]]) + room
            for other, candidate in enumerate(group):
                if other != picks[number] and _steel(candidate) <= most:
                    yield (*picks[:number], other, *picks[number + 1 :])


def _steel(one: Candidate) -> float:
    return summed(draft.lot.price(draft.bars) for draft in one)


def _way(one: Candidate) -> str:
    return one[0].way


def way_of(drafts: Iterable[Draft]) -> str:
    """How a job is worked off: by what is told of it only where something is left to be recut."""
    ways = {draft.way for draft in drafts if draft.slanted}
    if len(ways) > 1:
        return MIXED
    return ways.pop() if ways else BAR_BY_BAR


def alternatives(weighed: Sequence[Whole], best: Whole, measure: Measure) -> tuple[Alternative, ...]:
    """The chosen plan, and the best by each name of what was weighed beside it; none that rolls what is too heavy."""

    def key(one: Whole) -> tuple[float, ...]:
        return measure.key(one.work)

    weighed = [one for one in weighed if one.work.heavy <= best.work.heavy]
    shown = [_alternative("chosen", best, measure)]
    for way in WAYS:
        of_way = [one for one in weighed if way_of(one.drafts) == way]
        if of_way:
            shown.append(_alternative(way, min(of_way, key=key), measure))
    shown.append(_alternative("least steel", min(weighed, key=lambda one: (one.work.cost, *key(one))), measure))
    fewest = min(weighed, key=lambda one: (one.work.heavy, one.work.setups, *key(one)))
    return (*shown, _alternative("fewest set-ups", fewest, measure))


def _alternative(name: str, one: Whole, measure: Measure) -> Alternative:
    work = one.work
    minutes = measure.minutes(work)
    return Alternative(
        *(name, way_of(one.drafts), work.cuts, work.recuts, work.swings, work.rolls, work.tilts, work.loads),
        *(work.steel, work.cost, None if minutes is None else minutes + (work.blade or 0.0), measure.shop_cost(work)),
    )
