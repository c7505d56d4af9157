"""Pieces of a plan as blanks on as many bars as it has, as far as these have room; knows blanks and filling.

Steel stays what it is, however many pieces there are. Of pieces of one kind that lie side by side some become blanks of
the slope that the others begin or end with, so that all of them share their cuts; then a few bars at a time are filled
anew, each piece whole or as a blank, so that room that some of them have saves set-ups on others.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import groupby, pairwise
from typing import TYPE_CHECKING, Final

import attrs

from mitertool.nest.blanks import Blanks, BySetting
from mitertool.nest.greedy import Found
from mitertool.nest.lots import KindMember, Lot, Pattern, PieceKind, Walk, Way
from mitertool.nest.plan import Item
from mitertool.nest.taste import Instead
from mitertool.nest.work import Effort

if TYPE_CHECKING:
    from mitertool.nest.filling import Filler
    from mitertool.nest.search import Search

_LEAST: Final = 1.0
"""mm. What takes less of a bar is as good as free: then it counts how many set-ups it saves."""

_Poses = dict[str, tuple[int, int]]
"""The slopes of each pose."""

_Parted = tuple[Lot, Found]


def in_place(
    search: Search,
    begun: _Parted,
    blanks: Blanks,
    by_setting: BySetting,
    sharing: Callable[[Sequence[Item]], Sequence[Lot]],
    work: Effort,
) -> _Parted:
    """The lot with some pieces as blanks, and its bars; as they were where it cannot be one lot any more.

    It is `begun` with its bars as they are found, or with others of which some hold blanks already. `sharing` tells
    which items may share bars.
    """
    lot, found = begun
    as_blank = {blank.mark: blank for blank in blanks.items if blank.recut}
    items = list(search.lot.items)
    both = sharing([*items, *_blanks_of(items, as_blank)])
    if len(both) != 1 or not as_blank:
        return lot, found
    parting = _Parting(search.lot, both[0], _once(items, by_setting, as_blank))
    filler = search.filler.beside(both[0], parting.instead(), work)
    return parting.result(mended([parting.bar(lot, bar) for bar in found.bars], filler))


def _blanks_of(items: Iterable[Item], as_blank: dict[str, Item]) -> Iterator[Item]:
    return (attrs.evolve(as_blank[item.mark], quantity=item.quantity) for item in items if item.mark in as_blank)


def _once(items: Iterable[Item], by_setting: BySetting, as_blank: dict[str, Item]) -> set[str]:
    """The marks whose other end asks for a setting that nothing else is cut at: to recut them it is gone to again."""
    uses = Counter(arm for item in by_setting.items for ends in by_setting.ends(item) for arm in ends)
    marks = (item.mark for item in items if item.mark in as_blank)
    return {mark for mark in marks if all(uses[way.arm] == 1 for way in by_setting.recut_ways(as_blank[mark]))}


class _Parting:
    """The bars of a lot, in a lot that has each of its pieces whole and as a blank."""

    def __init__(self, lot: Lot, both: Lot, once: set[str]) -> None:
        self.lot, self.both = lot, both
        self.numbers: dict[tuple[str, bool], tuple[int, _Poses]] = {}
        for number, kind in enumerate(both.kinds):
            for member in kind.members:
                poses = {pose: pair for pair, pose in member.poses.items()}
                self.numbers[member.item.mark, bool(member.item.recut)] = number, poses
        marks = [kind.members[0].item.mark for kind in lot.kinds]
        self.blank: dict[int, int] = {}
        self.plain: list[int] = [self.numbers[mark, False][0] for mark in marks]
        for mark, plain in zip(marks, self.plain, strict=True):
            blank = self.numbers.get((mark, True), (plain, {}))[0]
            if blank not in {*self.plain, *self.blank.values()}:
                self.blank[plain] = blank
        self.once = {plain for mark, plain in zip(marks, self.plain, strict=True) if mark in once}
        self.whole = {blank: plain for plain, blank in self.blank.items()}
        self.parted: Counter[int] = Counter()

    def bar(self, lot: Lot, bar: Pattern) -> Pattern:
        """A bar of a lot with as many of its pieces as blanks as saves set-ups and as it has room for."""
        walk = tuple(self._way(lot, way) for way in bar.walk)
        self.parted.update(self.whole[way.kind] for way in walk if way.kind in self.whole)
        while (better := self._better(walk, bar.stock)) is not None:
            walk, kind, count = better
            self.parted[kind] += count
        return Pattern(bar.stock, walk)

    def _way(self, lot: Lot, way: Way) -> Way:
        member = lot.kinds[way.kind].members[0]
        number, poses = self.numbers[member.item.mark, bool(member.item.recut)]
        return Way(number, *poses[member.poses[way.before, way.after]])

    def _better(self, walk: Walk, stock: int) -> tuple[Walk, int, int] | None:
        """The change that saves most set-ups for each mm more, with the kind and how many become blanks."""
        stands, used, found = self._setups(walk), self.both.used(walk), None
        best = 0.0
        for begin, end in self._runs(walk):
            kind = walk[begin].kind
            anew = int(kind in self.once and not self.parted[kind])
            for count, run in self._variants(kind, end - begin):
                new = (*walk[:begin], *run, *walk[end:])
                saved = stands - self._setups(new) - anew
                if saved <= 0 or not self.both.fits(new, stock):
                    continue
                rate = saved / max(_LEAST, self.both.used(new) - used)
                if rate > best:
                    best, found = rate, (new, kind, count)
        return found

    def _runs(self, walk: Walk) -> Iterator[tuple[int, int]]:
        """Where pieces of one kind begin that may be blanks, and where they end."""
        at = 0
        for kind, same in groupby(walk, key=lambda way: way.kind):
            many = len(list(same))
            if kind in self.blank:
                yield at, at + many
            at += many

    def _variants(self, kind: int, many: int) -> Iterator[tuple[int, Walk]]:
        """So many pieces of a kind with some as blanks, how many of them: all, or those that lie before or behind."""
        blanks = {way.before: way for way in self.both.kinds[self.blank[kind]].ways}
        yield from ((many, (way,) * many) for way in blanks.values())
        for count in range(1, many):
            for first in self.both.kinds[kind].ways:
                others = self._sharing(first, many - count)
                if others[-1].after in blanks:
                    yield count, (*others, *(blanks[others[-1].after],) * count)
                if first.before in blanks:
                    yield count, (*(blanks[first.before],) * count, *others)

    def _sharing(self, first: Way, many: int) -> Walk:
        """Pieces of one kind behind one another, each so that it shares its cut with the one before where it can."""
        walk = [first]
        while len(walk) < many:
            ways = self.both.kinds[first.kind].ways
            walk.append(next((way for way in ways if way.before == walk[-1].after), first))
        return tuple(walk)

    def _setups(self, walk: Walk) -> int:
        within = sum(way.before != way.after for way in walk)
        return within + sum(one.after != two.before for one, two in pairwise(walk))

    def instead(self) -> Instead:
        """Which pieces a blank is cut in the place of, and what is set within each."""
        kinds = [self.whole.get(number, number) for number in range(len(self.both.kinds))]
        return Instead(kinds, {way: self._within(way) for kind in self.both.kinds for way in kind.ways})

    def _within(self, way: Way) -> float:
        """What is set within a piece; a blank whose setting nothing else is cut at has its share of going there."""
        kind = self.whole.get(way.kind, way.kind)
        again = 1 / self.both.kinds[kind].demand if kind in self.once and kind != way.kind else 0.0
        return (way.before != way.after) + again

    def result(self, bars: Sequence[Pattern]) -> _Parted:
        """The lot as it is parted so, and its bars."""
        made = (self.whole[way.kind] for bar in bars for way in bar.walk if way.kind in self.whole)
        quantities = dict(self._quantities(Counter(made)))
        members = [[_with(one, quantities) for one in kind.members] for kind in self.both.kinds]
        kept = [tuple(one for one in of_kind if one.item.quantity) for of_kind in members]
        number = {old: new for new, old in enumerate(old for old, of_kind in enumerate(kept) if of_kind)}
        kinds = tuple(_kind(self.both.kinds[old], number[old], kept[old]) for old in number)
        walks = (tuple(attrs.evolve(way, kind=number[way.kind]) for way in bar.walk) for bar in bars)
        patterns = tuple(Pattern(bar.stock, walk) for bar, walk in zip(bars, walks, strict=True))
        return attrs.evolve(self.both, kinds=kinds), Found(patterns, (0,) * len(kinds))

    def _quantities(self, parted: Counter[int]) -> Iterator[tuple[tuple[str, bool], int]]:
        """Of every mark how many are whole, and how many are blanks."""
        for kind, plain in zip(self.lot.kinds, self.plain, strict=True):
            left = parted[plain]
            for member in kind.members:
                item = member.item
                blanks = min(left, item.quantity)
                left -= blanks
                yield (item.mark, False), item.quantity - blanks
                yield (item.mark, True), blanks


def mended(bars: Sequence[Pattern], filler: Filler) -> Sequence[Pattern]:
    """Bars that cost no more, on which fewer set-ups are counted, as far as effort goes."""
    for found in filler.mended(bars, steel=False):
        bars = found.bars
    return bars


def _with(member: KindMember, quantities: dict[tuple[str, bool], int]) -> KindMember:
    quantity = quantities.get((member.item.mark, bool(member.item.recut)), 0)
    return attrs.evolve(member, item=attrs.evolve(member.item, quantity=quantity))


def _kind(kind: PieceKind, number: int, members: tuple[KindMember, ...]) -> PieceKind:
    ways = tuple(attrs.evolve(way, kind=number) for way in kind.ways)
    return PieceKind(kind.length, sum(member.item.quantity for member in members), ways, members)
