"""One bar filled as well as can be from the pieces that are left: a dynamic programme; knows lots and grid.

State: the place reached and the slope of the last cut. Pieces are offered one after another, so each is used once at
most; what is best over all orders is not claimed. Every bar that comes out is measured in mm before it is used.
"""

from __future__ import annotations

from collections.abc import Sequence

import attrs
import numpy as np
from numpy.typing import NDArray

from mitertool.nest.grid import Grid
from mitertool.nest.lots import Lot, Walk, Way

Values = NDArray[np.float64]
Sources = NDArray[np.int16]

_NONE = -1
_START = -2
_TRIES = 6
"""Ends of a bar that are tried until one holds in mm."""


@attrs.frozen
class Taste:
    """What the filling goes for: the worth of a piece of each kind, and what an unshared cut costs.

    `open_end` is the cost of a bar end that is not square. Without `wedges` only shared cuts are looked at.
    """

    worth: Sequence[float]
    wedge: float = 0.0
    open_end: float = 0.0
    wedges: bool = True


@attrs.frozen
class Offer:
    """A filled bar: its walk and its worth less its costs."""

    worth: float
    walk: Walk


_Step = list[tuple[Way, Sources]]


class Filling:
    """The programme for one offer of pieces; `bars` reads the best bars out of it."""

    def __init__(self, lot: Lot, grid: Grid, taste: Taste, order: Sequence[int]) -> None:
        self.lot, self.grid, self.taste = lot, grid, taste
        self.values: Values = np.full((len(lot.ends), grid.cells), -np.inf)
        self.reached: set[int] = set()
        self.steps: list[_Step] = []
        for kind in order:
            self._offer(kind)

    @property
    def work(self) -> float:
        """Cells looked at, in millions."""
        sources = len(self.lot.ends) if self.taste.wedges else 1
        return sum(len(step) for step in self.steps) * self.grid.cells * (sources + 2) / 1e6

    def _offer(self, kind: int) -> None:
        length, worth = self.grid.lengths[kind], self.taste.worth[kind]
        reached: dict[int, tuple[Values, Sources]] = {}
        candidates: list[tuple[Way, Values, Sources]] = []
        for way in self.lot.kinds[kind].ways:
            if way.before not in reached:
                reached[way.before] = self._reach(way.before)
            values, sources = reached[way.before]
            candidates.append((way, values[:-length] + worth, sources))
        taken = (self._take(way, length, values, sources) for way, values, sources in candidates)
        self.steps.append([step for step in taken if step])

    def _take(self, way: Way, length: int, values: Values, sources: Sources) -> tuple[Way, Sources] | None:
        now = self.values[way.after, length:]
        better = values > now + 1e-9
        if not better.any():
            return None
        self.reached.add(way.after)
        np.copyto(now, values, where=better)
        taken = np.full(self.grid.cells, _NONE, dtype=np.int16)
        np.copyto(taken[length:], sources[: len(better)], where=better)
        return way, taken

    def _reach(self, slope: int) -> tuple[Values, Sources]:
        """The best way to stand before a leading cut of this slope, by place, and the slope it comes from."""
        values: Values = np.full(self.grid.cells, -np.inf)
        sources = np.full(self.grid.cells, slope, dtype=np.int16)
        for other, gaps in enumerate(self.grid.gaps):
            move = gaps[slope]
            if move is not None and other in self.reached and (self.taste.wedges or other == slope):
                self._join(values, sources, other, move, 0.0 if other == slope else self.taste.wedge)
        lead = self.grid.lead[slope]
        worth = 0.0 if self.lot.ends[slope].square else -self.taste.open_end
        if lead < self.grid.cells and values[lead] < worth:
            values[lead], sources[lead] = worth, _START
        return values, sources

    def _join(self, values: Values, sources: Sources, other: int, move: int, cost: float) -> None:
        size = len(values) - move
        if size <= 0:
            return
        candidate = self.values[other, :size] - cost
        better = candidate > values[move:]
        np.copyto(values[move:], candidate, where=better)
        np.copyto(sources[move:], np.int16(other), where=better)

    def bars(self, stock: int) -> list[Offer]:
        """The best bar of this stock for every slope it may end with, best first; each holds in mm."""
        found = (self._best(slope, self.grid.capacity[stock], stock) for slope in range(len(self.lot.ends)))
        return sorted((one for one in found if one), key=lambda one: -one.worth)

    def _best(self, slope: int, capacity: int, stock: int) -> Offer | None:
        last = capacity - self.grid.trail[slope] + 1
        cost = 0.0 if self.lot.ends[slope].square else self.taste.open_end
        values = self.values[slope]
        for _ in range(_TRIES):
            if last <= 0:
                return None
            place = int(np.argmax(values[:last]))
            if values[place] == -np.inf:
                return None
            walk = self._trace(slope, place)
            if self.lot.fits(walk, stock):
                return Offer(float(values[place]) - cost, walk)
            last = place
        return None

    def _trace(self, slope: int, place: int) -> Walk:
        walk: list[Way] = []
        for step in reversed(self.steps):
            for way, sources in reversed(step):
                source = int(sources[place])
                if way.after != slope or source == _NONE:
                    continue
                walk.append(way)
                place -= self.grid.lengths[way.kind]
                if source == _START:
                    return tuple(reversed(walk))
                place -= self.grid.gaps[source][way.before] or 0
                slope = source
                break
        raise AssertionError("a walk without a start")
