"""A bound by what joints take: all bars of a lot as one flow from cut to cut; knows lots, master and highspy.

A trailing cut is followed by the end of a bar, by a leading cut of its own slope, or by one of another, and then the
wedge between them is as long as the way from slope to slope. Every bar is such a flow, so bars in fractions that keep
only to these sums cost no more than any plan; that is a small linear programme however many slopes there are.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from functools import cached_property
from itertools import pairwise
from math import ceil, hypot, inf
from typing import TYPE_CHECKING, Final

import attrs
import numpy as np

from mitertool.base.tolerances import SAME_SLOPE
from mitertool.base.totals import summed
from mitertool.nest.lots import Lot, Pattern
from mitertool.nest.master import quiet_solver
from mitertool.nest.priced import Prices

if TYPE_CHECKING:
    import highspy

_ROUNDING: Final = 1e-6
"""Relative. The linear solver's prices are exact to less than this."""


@attrs.frozen
class Fluent:
    """Bars in fractions: their cost, the price of a piece of each kind, what the best bar of each stock earns."""

    cost: float
    pieces: tuple[float, ...]
    earns: tuple[float, ...]

    def prices(self, lot: Lot) -> Prices:
        """As the prices of a master: what a limited bar earns above its cost is the price of one more."""
        above = (max(0.0, earned - one.price) for earned, one in zip(self.earns, lot.stock, strict=True))
        return Prices(self.pieces, tuple(above), self.cost * (1 - _ROUNDING))


@attrs.frozen
class _Column:
    """What a unit of something costs, takes of the bars' length, is unshared, adds to which sums; `most` of it.

    `parts` marks what leads from a cut to one of another slope.
    """

    sums: tuple[tuple[int, float], ...]
    length: float = 0.0
    unshared: int = 0
    parts: bool = False
    price: float = 0.0
    most: float = np.inf


class Flow:
    """The columns: bars, pieces by way, ends of bars, joints; the sums: pieces by kind, cuts, places between slopes."""

    def __init__(self, lot: Lot) -> None:
        self.lot = lot
        self.bars = [self._bar(stock) for stock in range(len(lot.stock))]
        self.others = [*self._pieces(), *self._ends(), *self._shared(), *self._between()]

    # what is looked for

    @cached_property
    def steel(self) -> Fluent:
        """The least cost of steel."""
        solver = self._solver([one.price for one in self._columns])
        solver.run()
        solution, cost = solver.getSolution(), float(solver.getInfo().objective_function_value)
        kinds, stock = len(self.lot.kinds), self.lot.stock
        duals = list(solution.row_dual)[:kinds]
        over = [one.price - left for one, left in zip(stock, list(solution.col_dual), strict=False)]
        earns = (max(0.0, earned) + one.price * _ROUNDING for earned, one in zip(over, stock, strict=True))
        return Fluent(cost, tuple(max(0.0, float(dual)) for dual in duals), tuple(earns))

    def unshared(self, bars: Sequence[Pattern]) -> int:
        """Unshared cuts and open ends at the least in plans that cost no more; of one stock, on as many bars."""
        solver = self._solver([float(one.unshared) for one in self._columns])
        for kind, count in enumerate(self.lot.demand):
            solver.changeRowBounds(kind, float(count), float(count))
        numbers = np.arange(len(self.bars), dtype=np.int32)
        prices = np.array([one.price for one in self.lot.stock])
        if len(self.bars) == 1:
            solver.addRow(len(bars), np.inf, 1, numbers, np.ones(1))
        solver.addRow(-np.inf, self.lot.price(bars) * (1 + _ROUNDING), len(self.bars), numbers, prices)
        solver.run()
        if solver.modelStatusToString(solver.getModelStatus()) != "Optimal":
            return 0
        return ceil(float(solver.getInfo().objective_function_value) - _ROUNDING * (1 + sum(self.lot.demand)))

    def changes(self, bars: int) -> int:
        """Set-ups at the least where all is cut bar by bar, on no more than so many bars.

        One between the two cuts of a piece that are not parallel; and of all pieces in one row, wherever it is parted
        into bars, one between neighbours that share no slope, but where a bar begins only if their cuts are not set
        alike however the bar is laid. Slopes that neither pieces nor a bar laid otherwise join are a set-up apart.
        """
        solver = self._solver([float(one.parts) for one in self._columns])
        for kind, count in enumerate(self.lot.demand):
            solver.changeRowBounds(kind, float(count), float(count))
        solver.changeRowBounds(self._sums, -np.inf, np.inf)
        for stock in range(len(self.bars)):
            solver.changeColBounds(stock, float(stock == 0), float(stock == 0))
        self._allow_other_lays(solver, bars - 1 if self._laid_anew else 0)
        solver.run()
        joints = ceil(float(solver.getInfo().objective_function_value) - _ROUNDING * (1 + sum(self.lot.demand)))
        return self.lot.own_changes + max(joints, self._apart - 1)

    def _allow_other_lays(self, solver: highspy.Highs, most: int) -> None:
        """So many times a cut may follow one that leans as much, whichever way."""
        first = self._sums + 1
        none, leaning = np.zeros(0, dtype=np.int32), self._leaning
        for bound in [0.0] * (max(leaning) + 1):
            solver.addRow(bound, bound, 0, none, np.zeros(0))
        solver.addRow(-np.inf, float(most), 0, none, np.zeros(0))
        for slope, how in enumerate(leaning):
            leave, reach = [self._trailing(slope), first + how], [self._leading(slope), first + how]
            leave.append(first + max(leaning) + 1)
            solver.addCol(0.0, 0.0, np.inf, 3, np.array(leave, dtype=np.int32), np.array([-1.0, 1.0, 1.0]))
            solver.addCol(0.0, 0.0, np.inf, 2, np.array(reach, dtype=np.int32), np.array([-1.0, -1.0]))

    @cached_property
    def _laid_anew(self) -> bool:
        """Whether a fresh bar may be laid in another way without a roll that is told."""
        sections = [item.piece.section for item in self.lot.items]
        one_lay = len({(section.rotation, section.turned) for section in sections}) == 1
        return not one_lay or sections[0].looks_like(sections[0].lay(180.0))

    @cached_property
    def _leaning(self) -> list[int]:
        """For every slope a number; those that lean as much, whichever way, have one where bars are laid anew."""
        if not self._laid_anew:
            return list(range(len(self.lot.ends)))
        leans = [hypot(end.cut.p, end.cut.q) for end in self.lot.ends]
        different = [lean for lean, after in pairwise([*sorted(leans), inf]) if after - lean > 2 * SAME_SLOPE]
        return [bisect_left(different, lean) for lean in leans]

    @cached_property
    def _apart(self) -> int:
        """Sets of slopes that no piece joins, those that lean as much in one."""
        sets = [{how} for how in range(max(self._leaning) + 1)]
        for way in (way for kind in self.lot.kinds for way in kind.ways):
            joined = (self._leaning[way.before], self._leaning[way.after])
            one, two = (next(each for each in sets if how in each) for how in joined)
            if one is not two:
                one |= two
                sets.remove(two)
        return len(sets)

    # columns

    @property
    def _columns(self) -> list[_Column]:
        return [*self.bars, *self.others]

    def _bar(self, stock: int) -> _Column:
        one, capacity = self.lot.stock[stock], self.lot.capacity[stock]
        quantity = np.inf if one.quantity is None else float(one.quantity)
        return _Column(((self._starts, -1.0),), -capacity, 0, False, one.price, quantity if capacity > 0 else 0.0)

    def _pieces(self) -> Iterator[_Column]:
        for kind in self.lot.kinds:
            for way in kind.ways:
                sums = ((way.kind, 1.0), (self._trailing(way.after), 1.0), (self._leading(way.before), 1.0))
                yield _Column(sums, kind.length)

    def _ends(self) -> Iterator[_Column]:
        for number, end in enumerate(self.lot.ends):
            open_end = int(not end.square)
            yield _Column(((self._starts, 1.0), (self._leading(number), -1.0)), end.lead, open_end)
            yield _Column(((self._trailing(number), -1.0),), end.trail, open_end)

    def _shared(self) -> Iterator[_Column]:
        for number, end in enumerate(self.lot.ends):
            yield _Column(((self._trailing(number), -1.0), (self._leading(number), -1.0)), end.trail - end.lead)

    def _between(self) -> Iterator[_Column]:
        """A trailing cut left and a leading one reached at its slope, and the ways from slope to slope."""
        for number, end in enumerate(self.lot.ends):
            places = self._places[number]
            yield _Column(
                ((self._trailing(number), -1.0), *((place, 1.0) for place in places)), end.trail - end.lead, 1, True
            )
            yield _Column(
                ((self._leading(number), -1.0), *((place, -1.0) for place in places)), self._second_kerf(number)
            )
        for line in self._lines:
            for (one, here), (two, there) in pairwise(line):
                yield _Column(((one, -1.0), (two, 1.0)), there - here)
                yield _Column(((two, -1.0), (one, 1.0)), there - here)

    def _second_kerf(self, number: int) -> float:
        """What a leading cut takes besides the wedge behind a cut that is not parallel."""
        ends = self.lot.ends
        before = (a for a in range(len(ends)) if a != number and ends[a].section is ends[number].section)
        a = next(before, None)
        if a is None:
            return 0.0
        wedge = summed(abs(x - y) for x, y in zip(_reach(self.lot, a), _reach(self.lot, number), strict=True))
        return max(0.0, self.lot.gaps.between(a, number) - (ends[a].trail - ends[a].lead) - wedge)

    # sums

    def _trailing(self, slope: int) -> int:
        return len(self.lot.kinds) + 2 * slope

    def _leading(self, slope: int) -> int:
        return len(self.lot.kinds) + 2 * slope + 1

    @cached_property
    def _starts(self) -> int:
        return len(self.lot.kinds) + 2 * len(self.lot.ends)

    @cached_property
    def _sums(self) -> int:
        """How many sums there are before that of the length."""
        return max((line[-1][0] for line in self._lines), default=self._starts) + 1

    @cached_property
    def _lines(self) -> list[list[tuple[int, float]]]:
        """For every lay, across and up, the places of its slopes in order: number of their sum, half reach in mm."""
        lines: list[list[tuple[int, float]]] = []
        number = self._starts + 1
        for members in self._lays:
            for axis in range(2):
                places = sorted({_reach(self.lot, slope)[axis] for slope in members})
                lines.append([(number + i, place) for i, place in enumerate(places)])
                number += len(places)
        return lines

    @cached_property
    def _lays(self) -> list[list[int]]:
        """The slopes that may follow one another."""
        lays: dict[int, list[int]] = {}
        for slope, end in enumerate(self.lot.ends):
            lays.setdefault(id(end.section), []).append(slope)
        return list(lays.values())

    @cached_property
    def _places(self) -> list[tuple[int, int]]:
        """For every slope the numbers of its sums across and up."""
        found: dict[int, tuple[int, int]] = {}
        for lay, members in enumerate(self._lays):
            across, up = ({place: number for number, place in line} for line in self._lines[2 * lay : 2 * lay + 2])
            for slope in members:
                one, two = _reach(self.lot, slope)
                found[slope] = across[one], up[two]
        return [found[slope] for slope in range(len(self.lot.ends))]

    def _solver(self, costs: Sequence[float]) -> highspy.Highs:
        """The programme: pieces at least as many as wanted, other sums 0, and no more length than the bars have."""
        columns, kinds = self._columns, len(self.lot.kinds)
        length = self._sums
        rows: list[list[tuple[int, float]]] = [[] for _ in range(length + 1)]
        for number, one in enumerate(columns):
            for row, value in (*one.sums, (length, one.length)):
                rows[row].append((number, value))
        wanted = [*(float(count) for count in self.lot.demand), *[0.0] * (length - kinds), -np.inf]
        most = [*[np.inf] * kinds, *[0.0] * (length + 1 - kinds)]
        entries = [entry for row in rows for entry in row]
        starts = np.cumsum([0, *(len(row) for row in rows[:-1])], dtype=np.int32)
        index = np.array([number for number, _ in entries], dtype=np.int32)
        none = np.zeros(0, dtype=np.int32)
        count, upper = len(columns), np.array([one.most for one in columns])
        solver = quiet_solver()
        solver.addCols(count, np.array(costs), np.zeros(count), upper, 0, none, none, np.zeros(0))
        values = np.array([value for _, value in entries])
        solver.addRows(len(rows), np.array(wanted), np.array(most), len(entries), starts, index, values)
        return solver


def _reach(lot: Lot, slope: int) -> tuple[float, float]:
    """Half of how far the slope reaches along the bar, across and up, mm with its sign."""
    end = lot.ends[slope]
    return end.cut.p * end.section.width / 2, end.cut.q * end.section.height / 2
