"""A compact whole-number model of bars, given to a general solver: shares no code with the package.

For each bar: how often each mark lies each way, where the bar starts and ends, and which slope follows which. What goes
into a slope comes out of it, and a flow from the start uses up one unit a piece, so that no loop of pieces floats free.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import inf, sqrt

import highspy
import numpy as np

from mitertool.nest import Allowance, Stock
from tests.nest.plan_checker import Mark, Slopes

Term = tuple[int, float]


@dataclass
class Answer:
    """What the solver says: cost of its best plan (inf: none) and its bound."""

    cost: float
    bound: float


@dataclass
class Model:
    """Columns and rows as they are put together."""

    costs: list[float] = field(default_factory=list)
    upper: list[float] = field(default_factory=list)
    whole: list[bool] = field(default_factory=list)
    rows: list[tuple[float, float, list[Term]]] = field(default_factory=list)

    def column(self, cost: float = 0.0, upper: float = inf, whole: bool = True) -> int:
        self.costs.append(cost)
        self.upper.append(upper)
        self.whole.append(whole)
        return len(self.costs) - 1

    def row(self, lower: float, upper: float, terms: list[Term]) -> None:
        self.rows.append((lower, upper, terms))

    def solve(self, seconds: float, highs: highspy.Highs) -> Answer:
        none = np.zeros(0, dtype=np.int32)
        for cost, upper in zip(self.costs, self.upper, strict=True):
            highs.addCol(cost, 0.0, upper, 0, none, np.zeros(0))
        kinds = np.array([int(whole) for whole in self.whole], dtype=np.uint8)
        highs.changeColsIntegrality(len(kinds), np.arange(len(kinds), dtype=np.int32), kinds)
        for lower, upper, terms in self.rows:
            index = np.array([number for number, _ in terms], dtype=np.int32)
            highs.addRow(lower, upper, len(terms), index, np.array([value for _, value in terms]))
        highs.setOptionValue("time_limit", seconds)
        highs.setOptionValue("mip_rel_gap", 0.0)
        highs.run()
        found = highs.getSolution().value_valid
        info = highs.getInfo()
        return Answer(info.objective_function_value if found else inf, info.mip_dual_bound)


def best_cost(
    marks: Sequence[Mark], bars: Sequence[Stock], allowance: Allowance, seconds: float, highs: highspy.Highs
) -> Answer:
    """Marks of one section, lay and grade on the bars given one by one, each used or not."""
    model = Model()
    made: list[list[Term]] = [[] for _ in marks]
    before: int | None = None
    for number, bar in enumerate(bars):
        used = _bar(model, marks, bar, allowance, made)
        if before is not None and bar == bars[number - 1]:
            model.row(0.0, inf, [(before, 1.0), (used, -1.0)])
        before = used
    for mark, terms in zip(marks, made, strict=True):
        model.row(mark.quantity, mark.quantity, terms)
    return model.solve(seconds, highs)


def _on_bar(mark: Mark, pose: str) -> tuple[Slopes, Slopes]:
    (p, q), right = mark.ends(pose)
    return _near((-p, -q)), _near(right)


def _near(slope: Slopes) -> Slopes:
    return round(slope[0], 9) + 0.0, round(slope[1], 9) + 0.0


def _kerf(slope: Slopes, allowance: Allowance) -> float:
    return allowance.kerf * sqrt(1 + slope[0] ** 2 + slope[1] ** 2)


def _reach(slope: Slopes, mark: Mark) -> float:
    return (abs(slope[0]) * mark.width + abs(slope[1]) * mark.height) / 2


def _gap(a: Slopes, b: Slopes, mark: Mark, allowance: Allowance) -> float:
    if a == b:
        return _kerf(a, allowance)
    wedge = _reach((a[0] - b[0], a[1] - b[1]), mark) + allowance.wedge_least
    return _kerf(a, allowance) + _kerf(b, allowance) + wedge


def _bar(model: Model, marks: Sequence[Mark], bar: Stock, allowance: Allowance, made: list[list[Term]]) -> int:
    """Columns and rows of one bar; the column that says whether it is used."""
    one, most = marks[0], float(sum(mark.quantity for mark in marks))
    ways = {(number, _on_bar(mark, pose)) for number, mark in enumerate(marks) for pose in mark.poses}
    leading, trailing = sorted({way[0] for _, way in ways}), sorted({way[1] for _, way in ways})
    used = model.column(bar.price, 1.0)
    x = {way: model.column(0.0, float(marks[way[0]].quantity)) for way in sorted(ways)}
    first, last = {b: model.column(0.0, 1.0) for b in leading}, {a: model.column(0.0, 1.0) for a in trailing}
    joints = {(a, b): model.column(0.0, most) for a in trailing for b in leading}
    for (number, _), column in x.items():
        made[number].append((column, 1.0))
    model.row(0.0, 0.0, [*((column, 1.0) for column in first.values()), (used, -1.0)])
    model.row(0.0, 0.0, [*((column, 1.0) for column in last.values()), (used, -1.0)])
    for b in leading:
        comes = [(first[b], 1.0), *((joints[a, b], 1.0) for a in trailing)]
        model.row(0.0, 0.0, [*comes, *((column, -1.0) for (_, way), column in x.items() if way[0] == b)])
    for a in trailing:
        goes = [(last[a], -1.0), *((joints[a, b], -1.0) for b in leading)]
        model.row(0.0, 0.0, [*goes, *((column, 1.0) for (_, way), column in x.items() if way[1] == a)])
    length = [(column, marks[number].centerline) for (number, _), column in x.items()]
    length += [(column, _reach(b, one)) for b, column in first.items()]
    length += [(column, _reach(a, one) + _kerf(a, allowance)) for a, column in last.items()]
    length += [(column, _gap(a, b, one, allowance)) for (a, b), column in joints.items()]
    model.row(-inf, 0.0, [*length, (used, allowance.trim + allowance.grip - bar.length)])
    _connected(model, x, first, joints, most)
    return used


def _connected(
    model: Model,
    x: dict[tuple[int, tuple[Slopes, Slopes]], int],
    first: dict[Slopes, int],
    joints: dict[tuple[Slopes, Slopes], int],
    most: float,
) -> None:
    """A flow that starts with the bar, passes its pieces and joints only, and loses a unit at every piece."""
    pairs: dict[tuple[Slopes, Slopes], list[int]] = {}
    for (_, way), column in x.items():
        pairs.setdefault(way, []).append(column)
    start = {b: model.column(0.0, most, whole=False) for b in first}
    along = {way: model.column(0.0, most, whole=False) for way in pairs}
    between = {joint: model.column(0.0, most, whole=False) for joint in joints}
    for b, column in start.items():
        model.row(-inf, 0.0, [(column, 1.0), (first[b], -most)])
        comes = [(column, 1.0), *((flow, 1.0) for (_, to), flow in between.items() if to == b)]
        model.row(0.0, 0.0, [*comes, *((flow, -1.0) for way, flow in along.items() if way[0] == b)])
    for joint, flow in between.items():
        model.row(-inf, 0.0, [(flow, 1.0), (joints[joint], -most)])
    for way, columns in pairs.items():
        model.row(-inf, 0.0, [(along[way], 1.0), *((column, -most) for column in columns)])
        model.row(0.0, inf, [(along[way], 1.0), *((column, -1.0) for column in columns)])
    for a in {way[1] for way in pairs}:
        arrives = [(flow, 1.0) for way, flow in along.items() if way[1] == a]
        lost = [(column, -1.0) for way, columns in pairs.items() if way[1] == a for column in columns]
        goes = [(flow, -1.0) for (frm, _), flow in between.items() if frm == a]
        model.row(0.0, 0.0, [*arrives, *lost, *goes])
