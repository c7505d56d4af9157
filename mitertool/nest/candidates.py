"""The ways that are offered for each section and grade: bars as found for pieces, and for blanks; knows choice.

A way that the shop's own handling forbids is not offered, which is told with mass and limit.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from math import inf
from typing import TYPE_CHECKING, Final

import attrs

from mitertool.nest.blanks import BySetting, mass
from mitertool.nest.choice import Candidate
from mitertool.nest.contiguous import contiguous
from mitertool.nest.lots import Lot
from mitertool.nest.mixing import SAME, Mixing, Searched, by_group, of_blanks, steel, steel_of
from mitertool.nest.plan import Group, Item, Stock
from mitertool.nest.way_names import BAR_BY_BAR, BY_SETTING, MIXED
from mitertool.nest.whole import Draft, Means
from mitertool.nest.work import Effort, Goal
from mitertool.quantity.compare import longer
from mitertool.quantity.problem import Remark, masses, names

if TYPE_CHECKING:
    from mitertool.nest.search import Search

_MANY: Final = 150
"""Pieces above which one order of settings is looked at: bars can then be filled in any."""
_MOST: Final = 1000
"""Pieces above which it takes too long to look for bars with another goal than the first."""


@attrs.frozen(eq=False)
class Offered:
    """The candidates of each section and grade, those by setting that there are, and what is told of the others.

    `blanked` are the groups of which some pieces may be blanks, whether or not there are bars for all of them.
    """

    groups: Mapping[Group, tuple[Candidate, ...]]
    by_setting: BySetting | None
    remarks: tuple[Remark, ...]
    blanked: frozenset[Group] = frozenset()

    @property
    def ways(self) -> dict[Group, str]:
        """Of each group the way that is offered, `MIXED` where there are several."""
        found = {group: {one[0].way for one in candidates} for group, candidates in self.groups.items()}
        plain = {group: BY_SETTING if ways == {BY_SETTING} else BAR_BY_BAR for group, ways in found.items()}
        return plain | {group: MIXED for group in self.blanked if BAR_BY_BAR in found[group]}


def goals(shop: Means, stock: Sequence[Stock], pieces: int) -> list[Goal]:
    """What bars are looked for besides the best: the least steel where that is not it, and the fewest set-ups.

    Of many pieces bars with fewer set-ups are more, so where steel goes first they are not looked for.
    """
    if pieces > _MOST and not shop.measure.money:
        return []
    dear = Goal(wedge=10 * max((one.price for one in stock), default=0.0), pull=200.0)
    return [Goal(), dear] if shop.measure.money else [dear]


def offered(
    searches: Sequence[Search],
    way: str | None,
    stock: Sequence[Stock],
    shop: Means,
    searched: Searched,
    work: Callable[[int], Effort],
) -> Offered:
    """All ways for the pieces that are on bars; `way` fixes one as far as it can be had.

    `work` says how much may be done besides `searched` for so many pieces.
    """
    direct = list(_direct(searches, stock, shop, searched))
    if way == BAR_BY_BAR:
        return Offered({group: tuple(found) for group, found in _by_group(direct).items()}, None, ())
    items = [member.item for search in searches for kind in search.lot.kinds for member in kind.members]
    by_setting = BySetting(items, shop.settings, shop.allowance, shop.handling)
    told = list(_not_offered(items, by_setting, shop))
    out = {group for group, _ in told}
    rest = [item for item in items if item.group not in out]
    mixing = Mixing(by_setting, stock, shop, searched, work)
    blanks = list(_blanked(rest, mixing, searches))
    groups: dict[Group, tuple[Candidate, ...]] = {}
    parted = {item.group for item in items if by_setting.ways.get(item.mark)} - out
    if way != BY_SETTING:
        dearer = [one for one in searches if one.lot.group in parted and _dearer(one.lot.group, searches, blanks)]
        blanks += mixing.candidates(dearer)
    of_blanks = _by_group(blanks)
    for group, found in _by_group(direct).items():
        cut_so = of_blanks.get(group, [])
        groups[group] = tuple(cut_so if way == BY_SETTING and cut_so else [*found, *cut_so])
    blanked = parted if way != BY_SETTING else parted & set(of_blanks)
    return Offered(groups, by_setting, tuple(remark for _, remark in told), frozenset(blanked))


def as_they_stand(searches: Sequence[Search]) -> Offered:
    """The bars as they are found, and nothing else."""
    found = _by_group(by_group([Draft(s.lot, s.best.bars, BAR_BY_BAR) for s in searches]))
    return Offered({group: tuple(candidates) for group, candidates in found.items()}, None, ())


def _direct(searches: Sequence[Search], stock: Sequence[Stock], shop: Means, searched: Searched) -> Iterator[Candidate]:
    found = [search.best for search in searches]
    yield from by_group([Draft(s.lot, s.best.bars, BAR_BY_BAR) for s in searches])
    for goal in goals(shop, stock, sum(sum(search.lot.demand) for search in searches)):
        others = searched([search.lot for search in searches], goal, found)
        yield from by_group([Draft(s.lot, s.best.bars, BAR_BY_BAR) for s in others if s.best.whole])


def _by_group(found: Iterable[Candidate]) -> dict[Group, list[Candidate]]:
    """The candidates of each section and grade, each once."""
    groups: dict[Group, list[Candidate]] = {}
    for one in found:
        same = groups.setdefault(one[0].group, [])
        if not any([d.bars for d in one] == [d.bars for d in other] and one[0].lot is other[0].lot for other in same):
            same.append(one)
    return groups


def _blanked(items: Sequence[Item], mixing: Mixing, searches: Sequence[Search]) -> Iterator[Candidate]:
    """Blanks for each order of settings that is worth a look, on bars that change the setting as seldom as can be.

    One order and one goal where there are many pieces, or where steel rules out that all are blanks.
    """
    by_setting, shop = mixing.by_setting, mixing.shop
    slanted = {item.group for item in items if item.mark in by_setting.ways}
    items = [item for item in items if item.group in slanted]
    dear = max((one.price for one in mixing.stock), default=0.0)
    orders = by_setting.orders() if items else []
    many = sum(item.quantity for item in items)
    both = (Goal(),) if many > _MOST else (Goal(wedge=dear, pull=200.0), Goal())
    for order in orders[:1] if many > _MANY else orders:
        blanks = by_setting.blanks(order)
        all_lots = mixing.lots([blank for blank in blanks.items if blank.group in slanted])
        short = {lot.group for lot in all_lots if lot.too_long}
        found = [lot for lot in all_lots if lot.group not in short]
        out = not shop.measure.money and _dear_in_any_case(found, searches)
        for goal in both[-1:] if out else both:
            of_lots = mixing.searched(found, goal, ())
            yield from of_blanks([(one.lot, one.best) for one in of_lots], blanks, by_setting)
        by_lot = [list(contiguous(one, blanks.order, by_setting, shop)) for one in of_lots]
        for number in range(max(map(len, by_lot), default=0) if all(by_lot) else 0):
            bars = [(one.lot, of[min(number, len(of) - 1)]) for one, of in zip(of_lots, by_lot, strict=True)]
            yield from of_blanks(bars, blanks, by_setting)
        if out:
            return


def _dear_in_any_case(blanks: Sequence[Lot], searches: Sequence[Search]) -> bool:
    """Whether blanks of every section and grade weigh more than the steel that its pieces take can hold."""
    least: dict[Group, float] = {}
    for lot in blanks:
        rate = min(
            (one.price / room for one, room in zip(lot.stock, lot.capacity, strict=True) if room > 0), default=0.0
        )
        least[lot.group] = least.get(lot.group, 0.0) + rate * lot.weight
    return all(cost > steel_of(searches, group) + SAME for group, cost in least.items())


def _dearer(group: Group, searches: Sequence[Search], blanks: Iterable[Candidate]) -> bool:
    """Whether all bars of blanks for a section and grade take more steel than its pieces do, or there are none."""
    costs = [steel(one) for one in blanks if one[0].group == group]
    return min(costs, default=inf) > steel_of(searches, group) + SAME


def _not_offered(items: Sequence[Item], by_setting: BySetting, shop: Means) -> Iterator[tuple[Group, Remark]]:
    """The sections of which blanks are too heavy to be turned, or cannot be laid so that both ends are cut."""
    most = shop.handling.turn_most
    told: set[Group] = set()
    for item in sorted((item for item in items if item.mark in by_setting.ways), key=mass, reverse=True):
        group = item.group
        if group in told:
            continue
        if item.piece.section.bars > 1:
            told.add(group)
            yield group, Remark("plan.rows", names(section=group[0]))
        elif most is not None and longer(mass(item), most):
            told.add(group)
            yield group, Remark("plan.turn-heavy", masses(need=mass(item), have=most) + names(section=group[0]))
        elif not by_setting.ways[item.mark]:
            told.add(group)
            yield group, Remark("plan.no-recut", names(section=group[0], mark=item.mark))
