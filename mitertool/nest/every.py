"""Every bar that may be in a better plan, each set of pieces once; knows lots, grid, pricing and master.

Bars grow from the tail to the leading end. Of the ways to lay the same pieces with the same first cut only that one is
kept which leaves most of the bar, for each number of unshared cuts where those cost something; so orders are not
tried one by one. What the rest of a bar may still be worth is read from a programme whose lengths are rounded down, so
nothing is passed over; what comes out is measured in mm.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cached_property
from math import isfinite
from typing import Final

import attrs
import numpy as np

from mitertool.nest.chain import Chain, from_last
from mitertool.nest.grid import grid, step_for
from mitertool.nest.lots import FULL, Lot, Walk, Way
from mitertool.nest.pricing import Pricing
from mitertool.nest.work import Effort

_CELLS: Final = 4000
"""Places on a bar where it is asked what the rest may be worth."""
_ABREAST: Final = 4000
"""Beginnings of bars with the same number of pieces that are followed; where there are more, the best by what they may
become."""
_LOOK: Final = 0.001
"""Effort of one piece tried before one beginning."""
_OWN: Final = 2
"""As how many pieces it counts that any are tried."""


@attrs.frozen
class Wanted:
    """Which bars are looked for: what pieces are worth, what unshared cuts cost, what a bar must be worth at least.

    With `all_or_none` nothing more is looked for where not all can be found.
    """

    worth: Sequence[float]
    unshared: float
    least: Sequence[float]
    all_or_none: bool = False


@attrs.frozen
class _Tail:
    """The end of a bar from a leading cut on: room left before that cut (mm), worth so far, what it may become."""

    room: float
    worth: float
    may_be: float
    chain: Chain


_Key = tuple[int, int, int]
"""Pieces as a number, slope of the first cut, unshared cuts."""


class EveryBar:
    """Bars of a lot by stock. `complete` says whether none was left out for want of effort."""

    def __init__(self, lot: Lot, wanted: Wanted, work: Effort) -> None:
        self.lot, self.wanted, self.work = lot, wanted, work
        self.complete = True
        self.step = step_for(lot, min(_CELLS, max(500, 400_000 // len(lot.ends))))
        unshared = (wanted.unshared, wanted.unshared)
        self.pricing = Pricing(lot, grid(lot, self.step, "down"), wanted.worth, unshared, every=True)
        work.spend(self.pricing.work)
        self.rest = np.maximum.accumulate(self.pricing.right, axis=1).tolist()

    @cached_property
    def _digits(self) -> list[int]:
        """What one piece of a kind adds to the number that stands for a set of pieces."""
        digits = [1]
        for count in self.lot.demand:
            digits.append(digits[-1] * (count + 1))
        return digits

    @cached_property
    def _shift(self) -> float:
        return max(end.half for end in self.lot.ends)

    @cached_property
    def _leads(self) -> list[float]:
        return [end.lead - end.half + self._shift for end in self.lot.ends]

    @cached_property
    def _joints(self) -> list[list[tuple[int, float, int]]]:
        """For each leading slope the trailing ones that may stand before it, what the joint takes, 1 if unshared."""
        ends, gaps, counted = self.lot.ends, self.lot.gaps, int(self.wanted.unshared > 0)
        return [
            [
                (a, gaps[a][b] - ends[a].half - ends[b].half, counted * (a != b))
                for a in range(len(ends))
                if isfinite(gaps[a][b])
            ]
            for b in range(len(ends))
        ]

    @cached_property
    def _ways(self) -> list[list[Way]]:
        """The ways by the slope of their trailing cut."""
        ways = [way for kind in self.lot.kinds for way in kind.ways]
        return [[way for way in ways if way.after == slope] for slope in range(len(self.lot.ends))]

    def of(self, stock: int) -> Iterator[Walk]:
        """The bars of a stock to which no piece can be added, the best way to lie of each set of pieces.

        With fewer pieces a bar is as dear and makes less, so only what has room for one more is left out.
        """
        layer = self._last_pieces(stock)
        found: dict[int, _Tail] = {}
        while layer and not self.work.over:
            self._keep_whole(layer, stock, found)
            layer = self._longer(self._best(layer), stock)
        if layer:
            self.complete = False
        full = (number for number in found if not any(more in found for more in self._one_more(number)))
        return (from_last(found[number].chain) for number in full)

    def _one_more(self, number: int) -> Iterator[int]:
        kinds = (kind for kind in range(len(self.lot.kinds)) if self._is_left(number, kind))
        return (number + self._digits[kind] for kind in kinds)

    def _last_pieces(self, stock: int) -> dict[_Key, _Tail]:
        layer: dict[_Key, _Tail] = {}
        counted = int(self.wanted.unshared > 0)
        for slope, end in enumerate(self.lot.ends):
            open_end = counted * (not end.square)
            room = self.lot.capacity[stock] + self._shift - end.trail + end.half
            start = _Tail(room, -self.wanted.unshared * open_end, 0.0, None)
            self._add(layer, (0, -1, open_end), start, slope, stock)
        return layer

    def _longer(self, layer: dict[_Key, _Tail], stock: int) -> dict[_Key, _Tail]:
        longer: dict[_Key, _Tail] = {}
        for (number, slope, unshared), tail in layer.items():
            for after, takes, apart in self._joints[slope]:
                room, worth = tail.room - takes, tail.worth - self.wanted.unshared * apart
                moved = _Tail(room, worth, 0.0, tail.chain)
                self._add(longer, (number, slope, unshared + apart), moved, after, stock)
        return longer

    def _add(self, layer: dict[_Key, _Tail], key: _Key, tail: _Tail, after: int, stock: int) -> None:
        """Every piece that may end with the slope put before the tail."""
        number, _, unshared = key
        least = self.wanted.least[stock]
        self.work.spend(_LOOK * (_OWN + len(self._ways[after])))
        for way in self._ways[after]:
            kind = way.kind
            room = tail.room - self.lot.weights[kind]
            if room < self._leads[way.before] - FULL or not self._is_left(number, kind):
                continue
            worth = tail.worth + self.wanted.worth[kind]
            may_be = worth + self._rest_of(way.before, room)
            if may_be < least:
                continue
            new = (number + self._digits[kind], way.before, unshared)
            if not _beaten(layer, new, room):
                layer[new] = _Tail(room, worth, may_be, (way, tail.chain))

    def _is_left(self, number: int, kind: int) -> bool:
        return number // self._digits[kind] % (self.lot.demand[kind] + 1) < self.lot.demand[kind]

    def _rest_of(self, slope: int, room: float) -> float:
        places = self.rest[slope]
        return float(places[min(len(places) - 1, int(room / self.step + 1e-6))])

    def _keep_whole(self, layer: dict[_Key, _Tail], stock: int, found: dict[int, _Tail]) -> None:
        for (number, slope, _), tail in layer.items():
            worth = tail.worth - (0.0 if self.lot.ends[slope].square else self.wanted.unshared)
            if worth < self.wanted.least[stock]:
                continue
            old = found.get(number)
            if old is None or (worth, tail.room) > (old.worth, old.room):
                found[number] = attrs.evolve(tail, worth=worth)

    def _best(self, layer: dict[_Key, _Tail]) -> dict[_Key, _Tail]:
        if len(layer) <= _ABREAST:
            return layer
        self.complete = False
        if self.wanted.all_or_none:
            return {}
        return dict(sorted(layer.items(), key=lambda one: (-one[1].may_be, one[0]))[:_ABREAST])


def _beaten(layer: dict[_Key, _Tail], key: _Key, room: float) -> bool:
    """Whether the same pieces behind the same cut leave as much with no more unshared cuts."""
    number, slope, unshared = key
    return any(
        old is not None and old.room >= room
        for fewer in range(unshared + 1)
        if (old := layer.get((number, slope, fewer))) is not None
    )
