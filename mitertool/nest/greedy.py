"""Bar by bar without looking ahead: the longest pieces first, each the way that adds the least; knows lots."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from itertools import pairwise
from math import inf
from typing import Final

import attrs

from mitertool.nest.chain import Chain, from_first
from mitertool.nest.lots import FULL, Lot, Pattern, Way


@attrs.frozen
class Found:
    """Bars, and how many pieces of each kind are on none."""

    bars: tuple[Pattern, ...]
    missing: tuple[int, ...]

    @property
    def whole(self) -> bool:
        """Whether every piece is on a bar."""
        return not any(self.missing)


_TRIED: Final = 40
"""Bars with room for a piece by its least weight that are tried before a new one is begun: more are rarely worth it."""


def first_fit(lot: Lot) -> Found:
    """Longest pieces first, each on the first bar that takes it, the way that adds the least."""
    ends = lot.ends

    def alone(way: Way) -> _Open:
        return _Open(ends[way.before].lead + lot.kinds[way.kind].length, ends[way.after].trail, (way, None))

    def behind(bar: _Open, way: Way) -> _Open:
        used = bar.used + lot.gaps.between(bar.last.after, way.before) + lot.kinds[way.kind].length
        return _Open(used, ends[way.after].trail, (way, bar.chain))

    least = min((end.trail - end.half for end in ends), default=0.0)
    return _Fit(lot, alone, behind, [weight + least for weight in lot.weights]).all()


def tip_to_tip(lot: Lot) -> Found:
    """What counting every piece tip to tip plus its kerf would come to, first fit."""
    sizes = [lot.ends[way.before].lead + kind.length + lot.ends[way.after].trail for kind in lot.kinds
             for way in kind.ways[:1]]  # fmt: skip

    def alone(way: Way) -> _Open:
        return _Open(sizes[way.kind], 0.0, (way, None))

    def behind(bar: _Open, way: Way) -> _Open:
        one_lay = lot.gaps.between(bar.last.after, way.before) < inf
        return _Open(bar.used + sizes[way.kind] if one_lay else inf, 0.0, (way, bar.chain))

    return _Fit(lot, alone, behind, sizes).all()


@attrs.frozen
class _Open:
    """A bar being filled: used up to its last cut, what that takes at a bar's end, and its ways from the last on."""

    used: float
    trail: float
    chain: Chain

    @property
    def needs(self) -> float:
        return self.used + self.trail

    @property
    def last(self) -> Way:
        assert self.chain
        return self.chain[0]


class _Fit:
    """First fit: `alone` and `behind` say what a bar is with a piece more, `sizes` what a kind takes at the least."""

    def __init__(
        self, lot: Lot, alone: Callable[[Way], _Open], behind: Callable[[_Open, Way], _Open], sizes: Sequence[float]
    ) -> None:
        self.lot, self.alone, self.behind, self.sizes = lot, alone, behind, sizes
        self.bars: list[tuple[int, _Open]] = []
        self.rooms = Rooms(sum(lot.demand))
        self.left = [sum(lot.demand) if one.quantity is None else one.quantity for one in lot.stock]
        self.cheapest = cheapest_first(lot)

    def all(self) -> Found:
        """Every piece, the longest first, and what is on no bar."""
        missing = [0] * len(self.lot.kinds)
        for kind in sorted(range(len(self.lot.kinds)), key=lambda k: -self.lot.weights[k]):
            count, first = self.lot.kinds[kind].demand, 0
            while count:
                first = self._place(kind, first)
                if first < 0:
                    missing[kind] = count
                    break
                count -= 1
        return Found(tuple(Pattern(stock, from_first(bar.chain)) for stock, bar in self.bars), tuple(missing))

    def _place(self, kind: int, first: int) -> int:
        """Put one piece on the first bar from number `first`; the number of the bar, -1 where there is none."""
        for _ in range(_TRIED):
            first = self.rooms.first(first, self.sizes[kind])
            if first < 0:
                break
            stock, bar = self.bars[first]
            if self._put(first, stock, [self.behind(bar, way) for way in self.lot.kinds[kind].ways]):
                return first
            first += 1
        return self._on_a_new_bar(kind)

    def _on_a_new_bar(self, kind: int) -> int:
        alone = [self.alone(way) for way in self.lot.kinds[kind].ways]
        for stock in self.cheapest:
            if self.left[stock] and self._put(len(self.bars), stock, alone):
                self.left[stock] -= 1
                return len(self.bars) - 1
        return -1

    def _put(self, number: int, stock: int, options: Sequence[_Open]) -> bool:
        best = min(options, key=lambda one: one.needs)
        if best.needs > self.lot.capacity[stock] + FULL:
            return False
        self.bars[number : number + 1] = [(stock, best)]
        self.rooms.set(number, self.lot.capacity[stock] + FULL - best.used)
        return True


class Rooms:
    """Room by number, where the first number with enough of it is found without looking at all before."""

    def __init__(self, most: int) -> None:
        self.size = 1 << max(0, most - 1).bit_length()
        self.rooms = [-inf] * (2 * self.size)

    def set(self, number: int, room: float) -> None:
        """Say how much room there is."""
        at = self.size + number
        self.rooms[at] = room
        while at > 1:
            at //= 2
            self.rooms[at] = max(self.rooms[2 * at], self.rooms[2 * at + 1])

    def first(self, begin: int, need: float) -> int:
        """The first number from `begin` on with room for the need, -1 where there is none."""
        at = self.size + begin
        if begin >= self.size:
            return -1
        while self.rooms[at] < need:
            while at & 1:
                at >>= 1
            if not at:
                return -1
            at += 1
        while at < self.size:
            at = 2 * at if self.rooms[2 * at] >= need else 2 * at + 1
        return at - self.size


def cheapest_first(lot: Lot) -> list[int]:
    """Numbers of the stock by cost a length, longer bars first among equals."""
    return sorted(range(len(lot.stock)), key=lambda i: (lot.stock[i].price / lot.stock[i].length, -lot.stock[i].length))


def without_surplus(lot: Lot, bars: Sequence[Pattern]) -> Found | None:
    """The bars without the pieces that nobody asked for; None where a bar without one does not hold the others."""
    walks = [list(bar.walk) for bar in bars]
    made = Counter(way.kind for bar in bars for way in bar.walk)
    for kind, count in sorted(made.items()):
        for _ in range(count - lot.demand[kind]):
            _drop(lot, walks, kind)
    kept = [Pattern(bar.stock, tuple(walk)) for bar, walk in zip(bars, walks, strict=True) if walk]
    holds = all(lot.fits(bar.walk, bar.stock) for bar in kept)
    return Found(tuple(kept), (0,) * len(lot.kinds)) if holds else None


def _drop(lot: Lot, walks: Sequence[list[Way]], kind: int) -> None:
    """Take the piece of a kind off that leaves the fewest unshared cuts."""
    places = ((walk, i) for walk in walks for i, way in enumerate(walk) if way.kind == kind)
    walk, i = min(places, key=lambda place: _unshared_after(lot, *place))
    del walk[i]


def _unshared_after(lot: Lot, walk: Sequence[Way], i: int) -> int:
    """How many more cuts are unshared without the piece number i; its bar counts for none where it was alone."""
    one, two = walk[max(0, i - 1) : i], walk[i + 1 : i + 2]
    around = (*one, walk[i], *two)
    was = sum(a.after != b.before for a, b in pairwise(around))
    will = sum(a.after != b.before for a, b in pairwise((*one, *two)))
    if not one:
        was += not lot.ends[walk[i].before].square
        will += bool(two) and not lot.ends[two[0].before].square
    if not two:
        was += not lot.ends[walk[i].after].square
        will += bool(one) and not lot.ends[one[0].after].square
    return will - was
