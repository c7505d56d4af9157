"""One bar filled from the pieces that are left, many beginnings of it side by side; knows lots.

Beginnings grow by one piece at a time, all of them by every piece in every way at once, and the best of each length are
followed: those which waste least. Lengths are mm, not cells, and it matters little how many slopes there are.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from typing import Final

import attrs
import numpy as np
from numpy.typing import NDArray

from mitertool.bar.spacing import CLEAR
from mitertool.base.tolerances import SAME_SLOPE
from mitertool.nest.lots import FULL, Lot, Walk, Way
from mitertool.nest.taste import Instead, Offer, Taste

Numbers = NDArray[np.int64]
Values = NDArray[np.float64]

_SLOPES: Final = 200
"""Slopes of which the joints to all that is left are put side by side for each bar; of more they would be too many."""


@attrs.frozen
class _Front:
    """Beginnings with the same number of pieces: used up to their last cut, its slope, worth, what they are made of."""

    used: Values
    slope: Numbers
    worth: Values
    counts: NDArray[np.int32]
    sets: Numbers
    came: Numbers
    by: Numbers


class Tables:
    """A lot as arrays, made once: joints, ends, and the ways with their kinds and slopes."""

    def __init__(self, lot: Lot, instead: Instead | None = None) -> None:
        self.lot = lot
        kinds = range(len(lot.kinds)) if instead is None else instead.kinds
        self.gaps = joints(lot)
        self.lead = np.array([end.lead for end in lot.ends])
        self.trail = np.array([end.trail for end in lot.ends])
        self.open = np.array([not end.square for end in lot.ends])
        self.ways: list[Way] = [way for kind in lot.kinds for way in kind.ways]
        self.kind = np.array([kinds[way.kind] for way in self.ways], dtype=np.int64)
        self.within = np.array([instead.within[way] if instead else 0.0 for way in self.ways])
        self.before = np.array([way.before for way in self.ways], dtype=np.int64)
        self.after = np.array([way.after for way in self.ways], dtype=np.int64)
        self.length = np.array([lot.kinds[way.kind].length for way in self.ways])
        self.marks = np.random.default_rng(1).integers(1, 1 << 62, len(lot.kinds), dtype=np.int64)
        self.marks_of_slopes = np.random.default_rng(2).integers(1, 1 << 62, len(lot.ends), dtype=np.int64)


class BarFilling:
    """The search for one bar of a stock; `abreast` beginnings are followed."""

    def __init__(self, tables: Tables, taste: Taste, left: Sequence[int], abreast: int) -> None:
        self.tables, self.taste, self.abreast = tables, taste, abreast
        self.left = np.array(left, dtype=np.int32)
        self.numbers = np.nonzero(self.left[tables.kind] > 0)[0]
        self.looks = self.steps = 0
        self.kind, self.before, self.after = (of[self.numbers] for of in (tables.kind, tables.before, tables.after))
        self.length, self.tail, self.most = (
            tables.length[self.numbers],
            tables.trail[self.after],
            self.left[self.kind],
        )
        self.worth = np.array(taste.worth)[self.kind] - taste.wedge * tables.within[self.numbers]

    @cached_property
    def _gaps(self) -> Values:
        """The joint from each slope to each way that is left."""
        return self.tables.gaps[:, self.before]

    def _joints(self, slopes: Numbers) -> Values:
        """Of many slopes only those are looked up that are asked for."""
        few = len(self.tables.gaps) <= _SLOPES
        return self._gaps[slopes] if few else self.tables.gaps[slopes[:, None], self.before]

    def best(self, stock: int) -> Offer | None:
        """The best bar found, None where no piece goes on it."""
        fronts: list[_Front] = []
        best: tuple[float, int, int] | None = None
        front = self._first(stock)
        while front is not None and len(front.used):
            closed = front.worth - self.taste.open_end * self.tables.open[front.slope]
            at = int(closed.argmax())
            if best is None or closed[at] > best[0] + 1e-9:
                best = float(closed[at]), len(fronts), at
            fronts.append(front)
            front = self._longer(front, stock)
        return None if best is None else Offer(best[0], self._walk(fronts, best[1], best[2]))

    def _first(self, stock: int) -> _Front | None:
        t = self.tables
        used = t.lead[self.before] + self.length
        worth = self.worth - self.taste.open_end * t.open[self.before]
        (by,) = (used + self.tail <= t.lot.capacity[stock] + FULL).nonzero()
        if not len(by):
            return None
        blank = np.zeros((1, len(self.left)), dtype=np.int32)
        none = _Front(np.zeros(1), np.zeros(1, dtype=np.int64), np.zeros(1), blank, np.zeros(1, dtype=np.int64),
                      np.zeros(1, dtype=np.int64), np.zeros(1, dtype=np.int64))  # fmt: skip
        return self._kept(none, np.zeros(len(by), dtype=np.int64), by, used[by], worth[by])

    def _longer(self, front: _Front, stock: int) -> _Front | None:
        self.looks += len(front.used) * len(self.numbers)
        self.steps += 1
        used = self._joints(front.slope)
        used += front.used[:, None]
        used += self.length
        fits = used + self.tail <= self.tables.lot.capacity[stock] + FULL
        fits &= front.counts[:, self.kind] < self.most
        if not self.taste.wedges:
            fits &= front.slope[:, None] == self.before
        came, by = fits.nonzero()
        if not len(came):
            return None
        apart = front.slope[came] != self.before[by]
        worth = front.worth[came] + self.worth[by] - self.taste.wedge * apart
        return self._kept(front, came, by, used[came, by], worth)

    def _kept(self, front: _Front, came: Numbers, by: Numbers, used: Values, worth: Values) -> _Front:
        """The best of each set of pieces and last slope, by what it is worth above what it takes."""
        t = self.tables
        rank = used + self.tail[by] - worth
        if len(rank) > 4 * self.abreast:
            few = rank.argpartition(4 * self.abreast)[: 4 * self.abreast]
            came, by, used, worth, rank = came[few], by[few], used[few], worth[few], rank[few]
        sets = front.sets[came] + t.marks[self.kind[by]]
        alike = (sets + t.marks_of_slopes[self.after[by]]).tolist()
        kept = self._firsts(np.lexsort((by, rank)).tolist(), alike)
        came, by, used, worth, sets = came[kept], by[kept], used[kept], worth[kept], sets[kept]
        counts = front.counts[came]
        counts[np.arange(len(kept)), self.kind[by]] += 1
        return _Front(used, self.after[by], worth, counts, sets, came, by)

    def _firsts(self, order: Sequence[int], alike: Sequence[int]) -> list[int]:
        """The first of each that are alike, as many as are followed."""
        seen: dict[int, int] = {}
        for at in order:
            if alike[at] not in seen:
                seen[alike[at]] = at
                if len(seen) == self.abreast:
                    break
        return list(seen.values())

    def _walk(self, fronts: Sequence[_Front], depth: int, at: int) -> Walk:
        walk: list[Way] = []
        for front in reversed(fronts[: depth + 1]):
            walk.append(self.tables.ways[self.numbers[front.by[at]]])
            at = int(front.came[at])
        return tuple(reversed(walk))


def joints(lot: Lot) -> Values:
    """The joint from each slope to each, as `Lot.gaps` has it, all at once."""
    ends, allowance = lot.ends, lot.allowance
    if any(end.section is not ends[0].section for end in ends) or not ends:
        return np.array(list(lot.gaps), dtype=np.float64).reshape(len(ends), len(ends))
    kerf = np.array([end.cut.kerf_along(allowance.kerf) for end in ends])
    apart = [np.abs(np.subtract.outer(of, of)) for of in np.array([(end.cut.p, end.cut.q) for end in ends]).T]
    wedge = (apart[0] * ends[0].section.width + apart[1] * ends[0].section.height) / 2
    second = kerf if allowance.second_kerf == CLEAR else np.zeros(len(ends))
    found = kerf[:, None] + second + wedge + allowance.wedge_least
    shared = (apart[0] <= SAME_SLOPE) & (apart[1] <= SAME_SLOPE)
    return np.where(shared, kerf[:, None], found)
