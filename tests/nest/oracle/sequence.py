"""The order of bars with the fewest changes of the arm, as a whole-number programme for a general solver.

Every bar is cut once, in one of the ways in which it may be laid; an arc leads from one bar to the next and costs the
changes between them. Order numbers along the arcs keep loops of bars from floating free.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import highspy
import numpy as np

from tests.nest.oracle.model import SAME, Shop


@dataclass(frozen=True)
class Laid:
    """A bar as it may be laid: the slopes of its cuts in order."""

    cuts: tuple[float, ...]

    @property
    def changes(self) -> int:
        return sum(abs(a - b) > SAME for a, b in pairwise(self.cuts))


Piece = tuple[float, float, float]
"""A piece on a bar: slopes of its leading and trailing cut, and its centerline."""


def ways(bar: Sequence[Piece], length: float, width: float, shop: Shop) -> list[Laid]:
    """The bar as it is, its pieces the other way round, rolled, and both: as far as it fits its length so."""
    back = [(trail, lead, long) for lead, trail, long in reversed(bar)]
    found = (bar, back, _rolled(bar), _rolled(back))
    return list(dict.fromkeys(Laid(_cuts(one)) for one in found if _used(one, width, shop) <= length + SAME))


def _rolled(bar: Sequence[Piece]) -> list[Piece]:
    return [(-lead, -trail, long) for lead, trail, long in bar]


def _cuts(bar: Sequence[Piece]) -> tuple[float, ...]:
    """A cut that two pieces share is one."""
    cuts: list[float] = []
    for lead, trail, _ in bar:
        cuts += [trail] if cuts and abs(cuts[-1] - lead) <= SAME else [lead, trail]
    return tuple(cut + 0.0 for cut in cuts)


def _used(bar: Sequence[Piece], width: float, shop: Shop) -> float:
    between = sum(shop.joint(one[1], two[0], width) for one, two in pairwise(bar))
    ends = (abs(bar[0][0]) + abs(bar[-1][1])) * width / 2 + shop.along(bar[-1][1])
    return shop.trim + ends + sum(long for _, _, long in bar) + between + shop.grip


def fewest(bars: Sequence[Sequence[Laid]]) -> int:
    """The fewest changes from the first cut to the last over all orders and ways to lay each bar."""
    nodes = [(bar, way) for bar, options in enumerate(bars) for way in options]
    arcs = [(i, j) for i, one in enumerate(nodes) for j, two in enumerate(nodes) if one[0] != two[0]]
    model = _Model(len(bars))
    used = [model.column(way.changes, 1) for _, way in nodes]
    first, last = ([model.column(0, 1) for _ in nodes] for _ in range(2))
    follows = {(i, j): model.column(int(abs(nodes[i][1].cuts[-1] - nodes[j][1].cuts[0]) > SAME), 1) for i, j in arcs}
    place = [model.column(0, len(bars) - 1, whole=False) for _ in bars]
    model.row(1, 1, [(one, 1) for one in first])
    model.row(1, 1, [(one, 1) for one in last])
    for number in range(len(bars)):
        model.row(1, 1, [(used[i], 1) for i, (bar, _) in enumerate(nodes) if bar == number])
    for i in range(len(nodes)):
        model.row(0, 0, [(used[i], -1), (first[i], 1), *((x, 1) for (_, j), x in follows.items() if j == i)])
        model.row(0, 0, [(used[i], -1), (last[i], 1), *((x, 1) for (j, _), x in follows.items() if j == i)])
    many = len(bars)
    for (i, j), x in follows.items():
        model.row(1 - many, many, [(place[nodes[j][0]], 1), (place[nodes[i][0]], -1), (x, -many)])
    return model.least()


class _Model:
    def __init__(self, bars: int) -> None:
        self.bars = bars
        self.highs = highspy.Highs()  # type: ignore[no-untyped-call]
        self.highs.silent()
        self.columns = 0

    def column(self, cost: float, upper: float, whole: bool = True) -> int:
        none = np.zeros(0, dtype=np.int32)
        self.highs.addCol(cost, 0.0, upper, 0, none, np.zeros(0))
        if whole:
            at = np.array([self.columns], dtype=np.int32)
            self.highs.changeColsIntegrality(1, at, np.ones(1, dtype=np.uint8))
        self.columns += 1
        return self.columns - 1

    def row(self, lower: float, upper: float, terms: Sequence[tuple[int, float]]) -> None:
        index = np.array([column for column, _ in terms], dtype=np.int32)
        self.highs.addRow(lower, upper, len(terms), index, np.array([value for _, value in terms], dtype=float))

    def least(self) -> int:
        self.highs.setOptionValue("mip_rel_gap", 0.0)
        self.highs.run()
        assert self.highs.modelStatusToString(self.highs.getModelStatus()) == "Optimal"
        return round(self.highs.getInfo().objective_function_value)
