"""What a plan claims: its cost, what none of its ways can cost less than, whether it is proved; knows whole."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from math import ceil
from typing import TYPE_CHECKING, Final

import attrs

from mitertool.base.totals import summed
from mitertool.nest.blade_time import blade_least, recut_least
from mitertool.nest.candidates import Offered
from mitertool.nest.choice import alternatives, way_of
from mitertool.nest.greedy import tip_to_tip
from mitertool.nest.lots import FULL
from mitertool.nest.plan import Bound, GroupWay, Plan, Rates, Steel
from mitertool.nest.spared import Spared, spared
from mitertool.nest.whole import Whole
from mitertool.quantity.problem import Remark

if TYPE_CHECKING:
    from mitertool.nest.search import Search

_STEPS: Final = 50
"""Bars more than the least of which the work is asked."""
_BELOW: Final = 1 - 1e-6
"""Of the price of a bar: so much does not buy it, whatever sums are rounded to."""


@attrs.frozen(eq=False)
class PlanClaim:
    """What the plan is told of: the searches for pieces, what was offered and weighed, and why a search ended early."""

    searches: Sequence[Search]
    offered: Offered
    weighed: Sequence[Whole]
    best: Whole
    stopped: str
    exact: bool

    @property
    def proved(self) -> bool:
        """Whether no plan costs less."""
        work = self.best.work
        cost, least = self.best.shop.measure.shop_cost(work), self.money_least
        return work.cost <= self.floor * _NEAR if cost is None or least is None else cost <= least * _NEAR

    @cached_property
    def floor(self) -> float:
        """What the steel costs at the least, whichever of the offered ways is taken."""
        if self.exact and not self.best.shop.measure.money:
            return self.best.work.cost
        return summed(self._floor(search) for search in self.searches)

    def _floor(self, search: Search) -> float:
        """Blanks hold their pieces, so a bar of blanks holds the pieces too, but for a least wedge between these."""
        if search.lot.group not in self.offered.blanked or not self._closer:
            return search.floor.value
        return min(search.floor.value, search.by_material)

    @property
    def _closer(self) -> bool:
        """Whether blanks may lie closer on a bar than their pieces would."""
        return self.best.shop.allowance.wedge_least > 0

    @cached_property
    def setups_least(self) -> int:
        """Swings, tilts and rolls at the least: of pieces cut bar by bar, and from setting to setting over all.

        Where steel goes first those of plans with as little steel; where every state was looked at those of the plan.
        """
        measure = self.best.shop.measure
        if self.exact and measure.rates is None:
            return self.best.work.setups
        return max(self._setups_of_any, 0 if measure.money else self._setups_of(self.best.work.cost))

    def _setups_of(self, cost: float) -> int:
        """The same in plans whose steel costs no more.

        A piece that becomes a blank saves the set-up within it and at most one on either side.
        """
        found = self._spared(cost)
        if found is None:
            return 0
        saved = 3 * found.blanks
        if len(self.searches) != 1 or saved >= sum(self.searches[0].lot.demand):
            return found.setups
        return max(found.setups, self.searches[0].least_changes() - saved)

    def _spared(self, cost: float) -> Spared | None:
        """What so much steel allows; None where no blanks are offered."""
        if not self.offered.by_setting:
            return None
        lots, floors = [search.lot for search in self.searches], [self._floor(search) for search in self.searches]
        return spared(lots, floors, cost, self.offered.by_setting)

    @property
    def _setups_of_any(self) -> int:
        within_bars = sum(
            self._changes(search) for search in self.searches if search.lot.group not in self.offered.blanked
        )
        by_setting = self.offered.by_setting
        return max(within_bars, by_setting.least_changes if by_setting else 0)

    def _changes(self, search: Search) -> int:
        """Set-ups of a lot at the least; where there are others only those within its pieces."""
        return search.least_changes() if len(self.searches) == 1 else search.lot.own_changes

    @cached_property
    def money_least(self) -> float | None:
        """What steel and work cost at the least; None where they are not added up.

        Dearer steel lets more pieces be blanks. From step to step of it a plan has at least the work that the next step
        lets it have, as long as that costs less than the best plan.
        """
        measure = self.best.shop.measure
        known, rates = measure.shop_cost(self.best.work), measure.rates
        if known is None or rates is None or self.exact:
            return known
        always = self._always(rates)
        least = rates.money(self._minutes_least(rates) + always)
        prices = (stock.price for search in self.searches for stock in search.lot.stock if stock.price > 0)
        steel, step, found = self.floor, min(prices, default=0.0), known
        for _ in range(_STEPS if step else 0):
            if steel + least >= known:
                break
            work = rates.money(self._minutes_of(steel + step * _BELOW, rates) + always)
            found, steel = min(found, steel + max(least, work)), steel + step
        return min(found, steel + least)

    def _minutes_of(self, cost: float, rates: Rates) -> float:
        """Work at the least in plans whose steel costs no more."""
        found = self._spared(cost)
        return max(found.minutes(rates, self._recut_blade) if found else 0.0, self._setups_of(cost) * _cheapest(rates))

    @cached_property
    def _recut_blade(self) -> float:
        if self.best.work.blade is None:
            return 0.0
        return recut_least([search.lot for search in self.searches], self.best.shop)

    def _minutes_least(self, rates: Rates) -> float:
        cheapest, minutes = _cheapest(rates), 0.0
        for search in self.searches:
            blanked = search.lot.group in self.offered.blanked
            recut = min(cheapest, rates.recut_minutes)
            minutes += search.lot.own_changes * recut if blanked else self._changes(search) * cheapest
        by_setting = self.offered.by_setting
        if by_setting:
            minutes = max(minutes, by_setting.least_changes * cheapest)
        return minutes

    def _always(self, rates: Rates) -> float:
        """Minutes at the least for bars laid on the feed, the longest filled, and for the blade in all cuts."""
        bars = sum(ceil(search.lot.weight / max(search.lot.capacity) - FULL) for search in self.searches)
        known = self.best.work.blade is not None
        blade = summed(blade_least(search.lot, self.best.shop) for search in self.searches) if known else 0.0
        return bars * rates.load_minutes + blade


def _cheapest(rates: Rates) -> float:
    """Minutes of the set-up that takes the least."""
    return min(rates.minutes(1, 0), rates.minutes(0, 1), rates.minutes(0, 0, 1))


def plan_of(found: PlanClaim, remarks: Sequence[Remark]) -> Plan:
    """The plan, with what it claims; `remarks` are told before those of the ways."""
    best, measure = found.best, found.best.shop.measure
    work, (bars, recuts) = best.work, best.told
    steel = Steel()
    for bar in bars:
        steel = steel.plus(bar.steel, bar.count * bar.section.bars)
    return Plan(
        *(bars, work.cost, found.floor, found.proved, work.swings, work.rolls, measure.objective),
        bounds=tuple(_bound(search) for search in found.searches),
        setups_bound=found.setups_least,
        steel=steel,
        tip_to_tip=_tip_to_tip(found.searches),
        shop_cost=measure.shop_cost(work),
        shop_bound=found.money_least,
        minutes=measure.minutes(work),
        stopped=found.stopped,
        tilts=work.tilts,
        way=way_of(best.drafts),
        ways=tuple(dict.fromkeys(GroupWay(*draft.group, draft.way) for draft in best.drafts)),
        recuts=recuts,
        loads=work.loads,
        remarks=(*remarks, *found.offered.remarks),
        blade_minutes=work.blade,
        alternatives=alternatives(found.weighed, best, measure),
    )


_NEAR = 1 + 1e-9
"""A cost so little above its bound is at it: sums of prices in another order."""


def _tip_to_tip(searches: Sequence[Search]) -> float | None:
    found = [(search.lot, tip_to_tip(search.lot)) for search in searches]
    if not all(one.whole for _, one in found):
        return None
    return summed(lot.price(one.bars) for lot, one in found)


def _bound(search: Search) -> Bound:
    lot, floor = search.lot, search.floor
    worth = floor.prices or lot.weights
    by_mark = tuple(
        (member.item.mark, value) for kind, value in zip(lot.kinds, worth, strict=True) for member in kind.members
    )
    return Bound(*lot.group, floor.value, floor.how, floor.plain, by_mark)
