"""Bar by bar without looking ahead: the longest pieces first, each the way that adds the least; knows lots."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from itertools import pairwise
from math import inf

import attrs

from mitertool.nest.lots import FULL, Lot, Pattern, Walk, Way


@attrs.frozen
class Found:
    """Bars, and how many pieces of each kind are on none."""

    bars: tuple[Pattern, ...]
    missing: tuple[int, ...]

    @property
    def whole(self) -> bool:
        """Whether every piece is on a bar."""
        return not any(self.missing)


Needs = Callable[[Walk], float]


def first_fit(lot: Lot, needs: Needs | None = None) -> Found:
    """Longest pieces first, each on the first bar that takes it. `needs` measures a walk, mm."""
    measure = needs or lot.used
    bars: list[Pattern] = []
    missing = [0] * len(lot.kinds)
    for kind in sorted(range(len(lot.kinds)), key=lambda k: -lot.weights[k]):
        ways, count = lot.kinds[kind].ways, lot.kinds[kind].demand
        first = 0
        while count:
            first = _place(lot, bars, ways, measure, first)
            if first < 0:
                missing[kind] = count
                break
            count -= 1
    return Found(tuple(bars), tuple(missing))


def _place(lot: Lot, bars: list[Pattern], ways: tuple[Way, ...], needs: Needs, first: int) -> int:
    """Put one piece on the first bar from number `first`; the number of the bar, -1 where there is none."""
    for number in range(first, len(bars)):
        bar = bars[number]
        best = min(((*bar.walk, way) for way in ways), key=needs)
        if needs(best) <= lot.capacity[bar.stock] + FULL:
            bars[number] = Pattern(bar.stock, best)
            return number
    alone = min(((way,) for way in ways), key=needs)
    for stock in cheapest_first(lot):
        if needs(alone) <= lot.capacity[stock] + FULL and is_left(lot, bars, stock):
            bars.append(Pattern(stock, alone))
            return len(bars) - 1
    return -1


def cheapest_first(lot: Lot) -> list[int]:
    """Numbers of the stock by cost a length, longer bars first among equals."""
    return sorted(range(len(lot.stock)), key=lambda i: (lot.stock[i].price / lot.stock[i].length, -lot.stock[i].length))


def is_left(lot: Lot, bars: Sequence[Pattern], stock: int) -> bool:
    """Whether there is one more bar of the stock."""
    quantity = lot.stock[stock].quantity
    return quantity is None or sum(bar.stock == stock for bar in bars) < quantity


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


def tip_to_tip(lot: Lot) -> Found:
    """What counting every piece tip to tip plus its kerf would come to, first fit."""

    def needs(walk: Walk) -> float:
        one_lay = all(lot.gaps[one.after][two.before] < inf for one, two in pairwise(walk))
        return sum(_overall(lot, way) for way in walk) if one_lay else inf

    return first_fit(lot, needs)


def _overall(lot: Lot, way: Way) -> float:
    return lot.ends[way.before].lead + lot.kinds[way.kind].length + lot.ends[way.after].trail
