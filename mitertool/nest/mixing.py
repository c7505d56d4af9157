"""Candidates of which some pieces are blanks and the others cut as they are, on as many bars as the pieces take.

First so many are blanks as steel is spare for a share, fewer or more as the bars then took; from the most that they
took, or from bars without blanks, some bars at a time are filled anew. Knows partly and in_place.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import cached_property
from itertools import product
from math import inf
from typing import TYPE_CHECKING, Final

import attrs

from mitertool.base.totals import summed
from mitertool.nest.blanks import Blanks, BySetting, way_of_parts
from mitertool.nest.choice import Candidate
from mitertool.nest.greedy import Found
from mitertool.nest.in_place import in_place
from mitertool.nest.lots import Lot, lots, on_bar
from mitertool.nest.partly import mixed
from mitertool.nest.plan import Group, Item, Rates, Stock
from mitertool.nest.whole import Draft, Means
from mitertool.nest.work import Effort, Goal

if TYPE_CHECKING:
    from mitertool.nest.search import Search

_MOST: Final = 1000
"""Pieces above which it takes too long to look for bars on which so many are blanks as steel is spare for."""
_SHARE: Final = 0.5
_TIMES: Final = 3
"""Of the steel that is spare how much blanks take at first, and how often that is halved towards what the bars take."""
SAME: Final = 1e-6
"""Costs closer than this are one."""

Searched = Callable[[Sequence[Lot], Goal, Sequence[Found]], Sequence["Search"]]
"""Looks for the bars of lots with a goal, from bars that are found already."""

Parted = tuple[Lot, Found]
"""A lot, and bars for it."""


@attrs.frozen(eq=False)
class Mixing:
    """With what some pieces of a job are made blanks; `work` says how much may be done beside `searched`."""

    by_setting: BySetting
    stock: Sequence[Stock]
    shop: Means
    searched: Searched
    work: Callable[[int], Effort]

    def candidates(self, searches: Sequence[Search]) -> Iterator[Candidate]:
        """For all groups of lots as they are found; those that take no more steel go on."""
        whole = [search for search in searches if search.best.whole]
        if not whole:
            return
        begun: dict[Group, Candidate] = {}
        for candidate in self._by_shares(searches):
            yield candidate
            group = candidate[0].group
            more = _blanks_in(candidate) > _blanks_in(begun.get(group, ()))
            if more and steel(candidate) <= steel_of(searches, group) + SAME:
                begun[group] = candidate
        parted = [self._in_place(one, begun.get(one.lot.group, ())) for one in whole]
        yield from of_blanks(parted, self._blanks, self.by_setting)

    def by_rates(self, searches: Sequence[Search]) -> Iterator[Candidate]:
        """Blanks of the marks whose second end takes less time to be recut than to be set on the bar, by the rates."""
        rates = self.shop.measure.rates
        if rates is None:
            return
        as_blank = {blank.mark: blank for blank in self._blanks.items if blank.recut}
        slanted = [item for search in searches for item in search.lot.items if item.mark in as_blank]
        saves = {item.mark for item in slanted if self._minutes(item, rates) > rates.minutes(0, 0, recuts=1)}
        if not saves or len(saves) == len({item.mark for item in slanted}):
            return
        wanted = [as_blank[one.mark] if one.mark in saves else one for search in searches for one in search.lot.items]
        found = self.searched(self.lots(wanted), Goal(), ())
        yield from of_blanks([(one.lot, one.best) for one in found], self._blanks, self.by_setting)

    def _minutes(self, item: Item, rates: Rates) -> float:
        """What is set between the two ends of a piece that is cut bar by bar, at the least; inf where none is made."""
        found, rolls = self.shop.settings, self.shop.rolls(item.piece.section.name)
        laid = [on_bar(item, pose, self.shop.allowance) for pose in item.poses]
        pairs = (product(found.made(one.lead, one.section), found.made(one.trail, one.section)) for one in laid)
        changes = [one.changes(other) for of in pairs for one, other in of]
        return min((rates.minutes(c.swings, c.rolls, c.tilts) for c in changes if rolls or not c.rolls), default=inf)

    def _in_place(self, search: Search, begun: Candidate) -> Parted:
        """Bars of which some are filled anew, from those that are `begun` with, where these are of one lot."""
        start = [(draft.lot, Found(draft.bars, (0,) * len(draft.lot.kinds))) for draft in begun]
        given = start[0] if len(start) == 1 else (search.lot, search.best)
        work = self.work(sum(search.lot.demand))
        return in_place(search, given, self._blanks, self.by_setting, self.lots, work)

    def _by_shares(self, searches: Sequence[Search]) -> Iterator[Candidate]:
        """Some pieces as blanks, of which steel is spare for a share; then fewer or more, as the bars took those."""
        if sum(item.quantity for item in self.by_setting.items) > _MOST:
            return
        groups = dict.fromkeys(search.lot.group for search in searches)
        shares = dict.fromkeys(groups, _SHARE)
        for number in range(_TIMES):
            own = ((search, shares[search.lot.group]) for search in searches)
            items = [item for search, share in own for item in mixed(search, self._blanks, self.by_setting, share)]
            again = self.searched(self.lots(items), Goal(cuts=False), ())
            yield from of_blanks([(one.lot, one.best) for one in again], self._blanks, self.by_setting)
            for group in groups:
                found = [one for one in again if one.lot.group == group]
                fits = all(one.best.whole for one in found)
                fits &= steel_of(found, group) <= steel_of(searches, group) + SAME
                shares[group] += (1 if fits else -1) * _SHARE / 2 ** (number + 1)

    def lots(self, items: Sequence[Item]) -> list[Lot]:
        """What may share bars."""
        return list(lots(items, self.stock, self.shop.allowance, self.shop.rolls))

    @cached_property
    def _blanks(self) -> Blanks:
        """Blanks for the order of settings that is best, and of those that no bar takes the pieces as they are."""
        blanks = self.by_setting.blanks(self.by_setting.orders()[0])
        found = self.lots([blank for blank in blanks.items if blank.recut])
        long = {member.item.mark for lot in found for number in lot.too_long for member in lot.kinds[number].members}
        pairs = zip(self.by_setting.items, blanks.items, strict=True)
        return attrs.evolve(blanks, items=tuple(item if blank.mark in long else blank for item, blank in pairs))


def _blanks_in(candidate: Candidate) -> int:
    return sum(item.quantity for draft in candidate for item in draft.lot.items if item.recut)


def steel(candidate: Candidate) -> float:
    """What the bars of a candidate cost."""
    return summed(draft.lot.price(draft.bars) for draft in candidate)


def steel_of(searches: Sequence[Search], group: Group) -> float:
    """What the bars of a section and grade cost as they are found."""
    return summed(search.cost for search in searches if search.lot.group == group)


def by_group(drafts: Sequence[Draft]) -> Iterator[Candidate]:
    """The lots of each section and grade together."""
    groups: dict[Group, list[Draft]] = {}
    for draft in drafts:
        groups.setdefault(draft.group, []).append(draft)
    yield from (tuple(found) for found in groups.values())


def of_blanks(bars: Sequence[Parted], blanks: Blanks, by_setting: BySetting) -> Iterator[Candidate]:
    """The candidates of bars that hold blanks, of each section and grade for which they hold all."""
    groups: dict[Group, list[Item]] = {}
    for lot, _ in bars:
        groups.setdefault(lot.group, []).extend(lot.items)
    drafts = []
    for lot, found in bars:
        recuts = {item.mark: by_setting.recut_ways(item) for item in lot.items if item.recut}
        drafts.append(Draft(lot, found.bars, way_of_parts(groups[lot.group]), recuts, blanks.order))
    whole = {id(lot) for lot, found in bars if found.whole}
    yield from (one for one in by_group(drafts) if all(id(draft.lot) in whole for draft in one))
