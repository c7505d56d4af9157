"""The best bar for given prices of the pieces, any number of each: a dynamic programme; knows lots and grid.

With lengths rounded down it gives a bound on the worth of every bar, with lengths rounded up bars that can be cut.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from mitertool.nest.grid import Grid
from mitertool.nest.lots import Lot, Walk, Way

Values = NDArray[np.float64]


class Pricing:
    """Worth of the best walk by slope and place: `left` just after a trailing cut, `right` just before a leading one.

    `unshared` is what a joint that shares no cut costs, and what an end of the bar costs that is not square.
    With `every` also the ways are kept that cannot be on a best bar.
    """

    def __init__(
        self,
        lot: Lot,
        grid: Grid,
        worth: Sequence[float],
        unshared: tuple[float, float] = (0.0, 0.0),
        every: bool = False,
    ) -> None:
        self.lot, self.grid, self.worth = lot, grid, worth
        self.wedge, self.open_end = unshared
        self.ways = [way for kind in lot.kinds for way in kind.ways] if every else self._useful()
        shape = (len(lot.ends), grid.cells)
        self.left: Values = np.full(shape, -np.inf)
        self.right: Values = np.full(shape, -np.inf)
        for slope, lead in enumerate(grid.lead):
            if lead < grid.cells:
                self.right[slope, lead] = -self._end(slope)
        self._sweep()

    @property
    def work(self) -> float:
        """Cells looked at, in millions."""
        return (len(self.ways) + len(self.lot.ends) ** 2) * self.grid.cells / 1e6

    def _end(self, slope: int) -> float:
        return 0.0 if self.lot.ends[slope].square else self.open_end

    def _useful(self) -> list[Way]:
        """Ways of kinds that are worth more than every kind of the same slopes that is no longer."""
        best: dict[tuple[int, int], float] = {}
        ways = []
        for kind in sorted(self.lot.kinds, key=lambda kind: (self._length(kind.ways[0]), -self._worth(kind.ways[0]))):
            for way in kind.ways:
                if self._worth(way) > best.get((way.before, way.after), 0.0):
                    best[way.before, way.after] = self._worth(way)
                    ways.append(way)
        return ways

    def _length(self, way: Way) -> int:
        return self.grid.lengths[way.kind]

    def _worth(self, way: Way) -> float:
        return self.worth[way.kind]

    def _sweep(self) -> None:
        """In blocks no longer than the shortest piece, so that a block needs finished ones only."""
        if not self.ways:
            return
        cells, block = self.grid.cells, min(self._length(way) for way in self.ways)
        for begin in range(0, cells, block):
            end = min(begin + block, cells)
            for way in self.ways:
                self._extend(way, begin, end)
            for before in range(len(self.lot.ends)):
                self._join(before, begin, end)

    def _extend(self, way: Way, begin: int, end: int) -> None:
        length = self.grid.lengths[way.kind]
        first = max(begin, length)
        if first < end:
            into = self.left[way.after, first:end]
            np.maximum(into, self.right[way.before, first - length : end - length] + self.worth[way.kind], out=into)

    def _join(self, before: int, begin: int, end: int) -> None:
        for after, gaps in enumerate(self.grid.gaps):
            move = gaps[before]
            if move is None:
                continue
            first = max(begin, move)
            if first < end:
                into = self.right[before, first:end]
                cost = 0.0 if after == before else self.wedge
                np.maximum(into, self.left[after, first - move : end - move] - cost, out=into)

    def best(self, stock: int) -> list[tuple[float, int, int]]:
        """Worth, last slope and place of the best walk for each last slope, best first."""
        found = []
        for slope, trail in enumerate(self.grid.trail):
            last = self.grid.capacity[stock] - trail + 1
            if last > 0:
                place = int(np.argmax(self.left[slope, :last]))
                found.append((float(self.left[slope, place]) - self._end(slope), slope, place))
        return sorted((one for one in found if one[0] > -np.inf), key=lambda one: (-one[0], one[1]))

    def most(self, stock: int) -> float:
        """Worth of the best walk, 0 where no piece is worth anything."""
        return max((worth for worth, _, _ in self.best(stock)), default=0.0)

    def walk(self, slope: int, place: int) -> Walk:
        """The walk that ends with this slope at this place."""
        walk: list[Way] = []
        while True:
            way = self._last(slope, place)
            walk.append(way)
            place -= self.grid.lengths[way.kind]
            came = self._came_from(way.before, place)
            if came is None:
                return tuple(reversed(walk))
            slope, place = came

    def _last(self, slope: int, place: int) -> Way:
        for way in self.ways:
            start = place - self.grid.lengths[way.kind]
            if way.after != slope or start < 0:
                continue
            if self.right[way.before, start] + self.worth[way.kind] == self.left[slope, place]:
                return way
        raise AssertionError("a place without a way to it")

    def _came_from(self, before: int, place: int) -> tuple[int, int] | None:
        if place == self.grid.lead[before] and self.right[before, place] == -self._end(before):
            return None
        for after, gaps in enumerate(self.grid.gaps):
            move = gaps[before]
            if move is not None and place >= move:
                cost = 0.0 if after == before else self.wedge
                if self.left[after, place - move] - cost == self.right[before, place]:
                    return after, place - move
        raise AssertionError("a place without a cut before it")
