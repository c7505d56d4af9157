"""The pieces of one bar in the order and poses that take the least of it; knows lots.

What a bar takes beside its pieces are its joints and its two ends, and they depend on slopes alone. So pieces that may
lie in the same ways are of one class, and a state is how many of each class are laid and at which slope the last ends.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import prod
from typing import Final

import attrs

from mitertool.nest.lots import FULL, Lot, Pattern, Walk, Way

_STATES: Final = 20_000
"""States of one bar above which its order is left as it is: so many are looked at in about a tenth of a second."""

_SAME: Final = 9
"""Decimals of mm to which two orders use the same of a bar: their sums round to less."""

_Slopes = tuple[int, int]


def tightest(lot: Lot, walk: Walk) -> Walk:
    """The pieces of a walk in the order and poses that use the least of a bar; of several with the fewest set-ups."""
    return _Order(lot, walk).best() or walk


def closer(lot: Lot, bar: Pattern) -> Pattern:
    """The bar with its pieces closer together: its first and last slope kept, and no more set-ups on the way.

    Where all cuts between pieces are shared already nothing comes closer.
    """
    if all(one.after == two.before for one, two in pairwise(bar.walk)):
        return bar
    found = _Order(lot, bar.walk, (bar.walk[0].before, bar.walk[-1].after)).best()
    return Pattern(bar.stock, found) if found and lot.used(found) < lot.used(bar.walk) - FULL else bar


@attrs.frozen
class _Step:
    """What leads to a state: set-ups and mm of the bar, the class laid last and its slopes, and what came before."""

    setups: int
    used: float
    number: int
    pair: _Slopes
    before: _Step | None

    @property
    def order(self) -> Iterator[tuple[int, _Slopes]]:
        """All that was laid, from the tail on."""
        step: _Step | None = self
        while step:
            yield step.number, step.pair
            step = step.before


_Layer = dict[tuple[tuple[int, ...], int], _Step]


class _Order:
    """All orders of the pieces of a walk. With `ends` the first and last slope are given and set-ups count first."""

    def __init__(self, lot: Lot, walk: Walk, ends: _Slopes | None = None) -> None:
        self.lot, self.ends = lot, ends
        self.kinds: dict[tuple[_Slopes, ...], list[int]] = {}
        for way in walk:
            self.kinds.setdefault(tuple(_pair(one) for one in lot.kinds[way.kind].ways), []).append(way.kind)
        self.classes = list(self.kinds)
        self.counts = [len(kinds) for kinds in self.kinds.values()]

    def best(self) -> Walk | None:
        """The best order; None where there is too much to look at, or none has those ends."""
        if prod(count + 1 for count in self.counts) * len(self.lot.ends) > _STATES:
            return None
        layer = self._first()
        for _ in range(sum(self.counts) - 1):
            layer = self._next(layer)
        ended = (step for step in layer.values() if self.ends is None or step.pair[1] == self.ends[1])
        last = min(ended, key=self._with_its_end, default=None)
        return self._walk(last) if last else None

    def _first(self) -> _Layer:
        layer: _Layer = {}
        for number, pair in self._options((0,) * len(self.counts)):
            if self.ends is None or pair[0] == self.ends[0]:
                step = _Step(self._setups(*pair), self.lot.ends[pair[0]].lead, number, pair, None)
                self._keep(layer, (0,) * len(self.counts), step)
        return layer

    def _next(self, layer: _Layer) -> _Layer:
        reached: _Layer = {}
        for (laid, slope), step in layer.items():
            for number, pair in self._options(laid):
                setups = step.setups + self._setups(slope, pair[0]) + self._setups(*pair)
                used = step.used + self.lot.gaps.between(slope, pair[0])
                self._keep(reached, laid, _Step(setups, used, number, pair, step))
        return reached

    def _options(self, laid: Sequence[int]) -> Iterator[tuple[int, _Slopes]]:
        for number, pairs in enumerate(self.classes):
            if laid[number] < self.counts[number]:
                yield from ((number, pair) for pair in pairs)

    def _setups(self, one: int, two: int) -> int:
        """Swings and tilts from a slope to another."""
        if one == two:
            return 0
        a, b = (self.lot.ends[number].cut.plane for number in (one, two))
        return int(a.miter != b.miter) + int(a.bevel != b.bevel)

    def _keep(self, layer: _Layer, laid: tuple[int, ...], step: _Step) -> None:
        state = tuple(count + (i == step.number) for i, count in enumerate(laid)), step.pair[1]
        if state not in layer or self._worth(step) < self._worth(layer[state]):
            layer[state] = step

    def _with_its_end(self, step: _Step) -> tuple[float, float]:
        return self._worth(attrs.evolve(step, used=step.used + self.lot.ends[step.pair[1]].trail))

    def _worth(self, step: _Step) -> tuple[float, float]:
        used = round(step.used, _SAME)
        return (used, step.setups) if self.ends is None else (step.setups, used)

    def _walk(self, last: _Step) -> Walk:
        waiting = {pairs: iter(kinds) for pairs, kinds in self.kinds.items()}
        order = reversed(list(last.order))
        return tuple(Way(next(waiting[self.classes[number]]), *pair) for number, pair in order)


def _pair(way: Way) -> _Slopes:
    return way.before, way.after
