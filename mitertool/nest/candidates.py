"""The ways that are offered for each section and grade: bars as found for pieces, and for blanks; knows choice.

A way that the shop's own handling forbids is not offered, which is told with mass and limit.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from itertools import islice
from math import inf
from typing import TYPE_CHECKING, Final

import attrs

from mitertool.nest.blanks import Blanks, BySetting, mass
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
) -> Iterator[Offered]:
    """All ways for the pieces that are on bars, with more and more candidates; `way` fixes one as far as it can be had.

    First the bars that are found and blanks in the best order alone: where nothing can be better, no more is asked for.
    Candidates stay, those that come go behind them. `work` says how much may be done besides `searched` for so many
    pieces.
    """
    gathered = _as_they_stand(searches)
    if way == BAR_BY_BAR:
        yield gathered.offered
        gathered.add(_direct(searches, stock, shop, searched))
        yield gathered.offered
        return
    items = [item for search in searches for item in search.lot.items]
    by_setting = BySetting(items, shop.settings, shop.allowance, shop.handling)
    told = list(_not_offered(items, by_setting, shop, every=way == BY_SETTING))
    rest = [item for item in items if item.group not in {group for group, _ in told}]
    parted = frozenset(item.group for item in rest if by_setting.ways.get(item.mark))
    mixing, remarks = Mixing(by_setting, stock, shop, searched, work), tuple(remark for _, remark in told)
    batches, cut_so = _blanked(rest, mixing, searches), _Gathered()
    for batch in islice(batches, 1):
        cut_so.add(batch)
    if way == BY_SETTING:
        for batch in batches:
            cut_so.add(batch)
        gathered.add(_direct(searches, stock, shop, searched))
        gathered.groups |= cut_so.groups
        yield Offered(gathered.offered.groups, by_setting, remarks, parted & set(cut_so.groups))
        return
    gathered.add(cut_so.all)
    yield Offered(gathered.offered.groups, by_setting, remarks, parted)
    gathered.add(_direct(searches, stock, shop, searched))
    for batch in batches:
        cut_so.add(batch)
    dearer = [one for one in searches if one.lot.group in parted and _dearer(one.lot.group, searches, cut_so.all)]
    gathered.add((*cut_so.all, *mixing.candidates(dearer)))
    gathered.add(mixing.by_rates([one for one in searches if one.lot.group in parted]))
    yield Offered(gathered.offered.groups, by_setting, remarks, parted)


class _Gathered:
    """The candidates of each section and grade, each once."""

    def __init__(self) -> None:
        self.groups: dict[Group, list[Candidate]] = {}

    def add(self, found: Iterable[Candidate]) -> None:
        """Those that are not there yet."""
        for one in found:
            same = self.groups.setdefault(one[0].group, [])
            if not any(_alike(one, other) for other in same):
                same.append(one)

    @property
    def all(self) -> list[Candidate]:
        """Those of every section and grade."""
        return [one for found in self.groups.values() for one in found]

    @property
    def offered(self) -> Offered:
        """As they are offered where nothing is told of them."""
        return Offered({group: tuple(found) for group, found in self.groups.items()}, None, ())


def _alike(one: Candidate, other: Candidate) -> bool:
    return [draft.bars for draft in one] == [draft.bars for draft in other] and one[0].lot is other[0].lot


def as_they_stand(searches: Sequence[Search]) -> Offered:
    """The bars as they are found, and nothing else."""
    return _as_they_stand(searches).offered


def _as_they_stand(searches: Sequence[Search]) -> _Gathered:
    gathered = _Gathered()
    gathered.add(by_group([Draft(s.lot, s.best.bars, BAR_BY_BAR) for s in searches]))
    return gathered


def _direct(searches: Sequence[Search], stock: Sequence[Stock], shop: Means, searched: Searched) -> Iterator[Candidate]:
    """Bars of pieces with other goals than the first."""
    found = [search.best for search in searches]
    for goal in goals(shop, stock, sum(sum(search.lot.demand) for search in searches)):
        others = searched([search.lot for search in searches], goal, found)
        yield from by_group([Draft(s.lot, s.best.bars, BAR_BY_BAR) for s in others if s.best.whole])


def _blanked(items: Sequence[Item], mixing: Mixing, searches: Sequence[Search]) -> Iterator[list[Candidate]]:
    """Blanks for each order of settings that is worth a look: bars that are full, then bars with few set-ups.

    One order and one goal where there are many pieces, or where steel rules out that all are blanks.
    """
    slanted = {item.group for item in items if item.mark in mixing.by_setting.ways}
    many = sum(item.quantity for item in items if item.group in slanted)
    dear = Goal(wedge=max((one.price for one in mixing.stock), default=0.0), pull=200.0)
    orders = mixing.by_setting.orders() if many else []
    for order in orders[:1] if many > _MANY else orders:
        blanks = mixing.by_setting.blanks(order)
        all_lots = mixing.lots([blank for blank in blanks.items if blank.group in slanted])
        short = {lot.group for lot in all_lots if lot.too_long}
        found = [lot for lot in all_lots if lot.group not in short]
        yield _filled(found, blanks, mixing)
        if not mixing.shop.measure.money and _dear_in_any_case(found, searches):
            return
        if many <= _MOST:
            of_lots = mixing.searched(found, dear, ())
            yield list(of_blanks([(one.lot, one.best) for one in of_lots], blanks, mixing.by_setting))


def _filled(found: Sequence[Lot], blanks: Blanks, mixing: Mixing) -> list[Candidate]:
    """Bars of blanks as the search fills them, and as they change the setting as seldom as can be."""
    of_lots, by_setting = mixing.searched(found, Goal(), ()), mixing.by_setting
    candidates = list(of_blanks([(one.lot, one.best) for one in of_lots], blanks, by_setting))
    by_lot = [list(contiguous(one, blanks.order, by_setting, mixing.shop)) for one in of_lots]
    for number in range(max(map(len, by_lot), default=0) if all(by_lot) else 0):
        bars = [(one.lot, of[min(number, len(of) - 1)]) for one, of in zip(of_lots, by_lot, strict=True)]
        candidates += of_blanks(bars, blanks, by_setting)
    return candidates


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


def _not_offered(
    items: Sequence[Item], by_setting: BySetting, shop: Means, every: bool
) -> Iterator[tuple[Group, Remark]]:
    """The sections of which blanks are too heavy to be turned, or cannot be laid so that both ends are cut.

    None of their pieces can, or where `every` piece is to be a blank not all of them.
    """
    most = shop.handling.turn_most
    some = set() if every else {item.group for item in items if by_setting.ways.get(item.mark)}
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
        elif not by_setting.ways[item.mark] and group not in some:
            told.add(group)
            yield group, Remark("plan.no-recut", names(section=group[0], mark=item.mark))
