"""One bar filled from the pieces that are left, many beginnings of it side by side; knows lots.

Beginnings grow by one piece at a time, all of them by every piece in every way at once, and the best of each length are
followed: those which waste least. Lengths are mm, not cells, and it matters little how many slopes there are.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

import attrs
import numpy as np
from numpy.typing import NDArray

from mitertool.nest.lots import FULL, Lot, Walk, Way
from mitertool.nest.taste import Offer, Taste

Numbers = NDArray[np.int64]
Values = NDArray[np.float64]


@attrs.frozen
class _Front:
    """Beginnings with the same number of pieces: used up to their last cut, its slope, worth, what they are made of."""

    used: Values
    slope: Numbers
    worth: Values
    counts: NDArray[np.int16]
    sets: Numbers
    came: Numbers
    by: Numbers


class Tables:
    """A lot as arrays, made once: joints, ends, and the ways with their kinds and slopes."""

    def __init__(self, lot: Lot) -> None:
        self.lot = lot
        self.gaps: Values = np.array(list(lot.gaps), dtype=np.float64).reshape(len(lot.ends), len(lot.ends))
        self.lead = np.array([end.lead for end in lot.ends])
        self.trail = np.array([end.trail for end in lot.ends])
        self.open = np.array([not end.square for end in lot.ends])
        self.ways: list[Way] = [way for kind in lot.kinds for way in kind.ways]
        self.kind = np.array([way.kind for way in self.ways], dtype=np.int64)
        self.before = np.array([way.before for way in self.ways], dtype=np.int64)
        self.after = np.array([way.after for way in self.ways], dtype=np.int64)
        self.length = np.array([lot.kinds[way.kind].length for way in self.ways])
        self.marks = np.random.default_rng(1).integers(1, 1 << 62, len(lot.kinds), dtype=np.int64)
        self.marks_of_slopes = np.random.default_rng(2).integers(1, 1 << 62, len(lot.ends), dtype=np.int64)


class BarFilling:
    """The search for one bar of a stock; `abreast` beginnings are followed."""

    def __init__(self, tables: Tables, taste: Taste, left: Sequence[int], abreast: int) -> None:
        self.tables, self.taste, self.abreast = tables, taste, abreast
        self.left = np.array(left, dtype=np.int16)
        self.numbers = np.nonzero(self.left[tables.kind] > 0)[0]
        self.looks = self.steps = 0

    @cached_property
    def _worth(self) -> Values:
        return np.array(self.taste.worth)[self.tables.kind[self.numbers]]

    def best(self, stock: int) -> Offer | None:
        """The best bar found, None where no piece goes on it."""
        fronts: list[_Front] = []
        best: tuple[float, int, int] | None = None
        front = self._first(stock)
        while front is not None and len(front.used):
            closed = front.worth - self.taste.open_end * self.tables.open[front.slope]
            at = int(np.argmax(closed))
            if best is None or closed[at] > best[0] + 1e-9:
                best = float(closed[at]), len(fronts), at
            fronts.append(front)
            front = self._longer(front, stock)
        return None if best is None else Offer(best[0], self._walk(fronts, best[1], best[2]))

    def _first(self, stock: int) -> _Front | None:
        t, n = self.tables, self.numbers
        used = t.lead[t.before[n]] + t.length[n]
        worth = self._worth - self.taste.open_end * t.open[t.before[n]]
        fits = used + t.trail[t.after[n]] <= t.lot.capacity[stock] + FULL
        (by,) = np.nonzero(fits)
        if not len(by):
            return None
        blank = np.zeros((1, len(self.left)), dtype=np.int16)
        none = _Front(np.zeros(1), np.zeros(1, dtype=np.int64), np.zeros(1), blank, np.zeros(1, dtype=np.int64),
                      np.zeros(1, dtype=np.int64), np.zeros(1, dtype=np.int64))  # fmt: skip
        return self._kept(none, np.zeros(len(by), dtype=np.int64), by, used[by], worth[by])

    def _longer(self, front: _Front, stock: int) -> _Front | None:
        t, n = self.tables, self.numbers
        self.looks += len(front.used) * len(n)
        self.steps += 1
        room = t.lot.capacity[stock] + FULL
        used = front.used[:, None] + t.gaps[front.slope[:, None], t.before[n][None, :]] + t.length[n]
        fits = (used + t.trail[t.after[n]] <= room) & (front.counts[:, t.kind[n]] < self.left[t.kind[n]])
        if not self.taste.wedges:
            fits &= front.slope[:, None] == t.before[n][None, :]
        came, by = np.nonzero(fits)
        if not len(came):
            return None
        apart = front.slope[came] != t.before[n[by]]
        return self._kept(
            front, came, by, used[came, by], front.worth[came] + self._worth[by] - self.taste.wedge * apart
        )

    def _kept(self, front: _Front, came: Numbers, by: Numbers, used: Values, worth: Values) -> _Front:
        """The best of each set of pieces and last slope, by what it is worth above what it takes."""
        t, n = self.tables, self.numbers
        rank = used + t.trail[t.after[n[by]]] - worth
        if len(rank) > 4 * self.abreast:
            few = np.argpartition(rank, 4 * self.abreast)[: 4 * self.abreast]
            came, by, used, worth, rank = came[few], by[few], used[few], worth[few], rank[few]
        sets = front.sets[came] + t.marks[t.kind[n[by]]]
        alike = sets + t.marks_of_slopes[t.after[n[by]]]
        order = np.lexsort((by, rank))
        _, firsts = np.unique(alike[order], return_index=True)
        kept = order[np.sort(firsts)[: self.abreast]]
        came, by = came[kept], by[kept]
        counts = front.counts[came]
        counts[np.arange(len(kept)), t.kind[n[by]]] += 1
        return _Front(used[kept], t.after[n[by]], worth[kept], counts, sets[kept], came, by)

    def _walk(self, fronts: Sequence[_Front], depth: int, at: int) -> Walk:
        walk: list[Way] = []
        for front in reversed(fronts[: depth + 1]):
            walk.append(self.tables.ways[self.numbers[front.by[at]]])
            at = int(front.came[at])
        return tuple(reversed(walk))
