"""Which bars to cut, out of many that could be: linear and whole-number masters; knows lots and highspy.

highspy is imported here and only when a master is made; it prints its name as it starts, which is kept off stdout.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

import attrs
import numpy as np

from mitertool.nest.lots import Cutting, Lot
from mitertool.nest.work import Work

if TYPE_CHECKING:
    import highspy

_POLL: Final = 0.02
"""s. How often a running solver is asked whether it may go on."""


@attrs.frozen
class Prices:
    """Dual prices: of a piece of each kind, and of one more bar of each stock (0 where it is not limited)."""

    pieces: tuple[float, ...]
    bars: tuple[float, ...]
    value: float


@attrs.frozen
class Column:
    """A bar of the master with its pieces by kind and its cost in the goal."""

    cutting: Cutting
    counts: tuple[tuple[int, int], ...]
    cost: float


def column(cutting: Cutting, cost: float) -> Column:
    """The column of a bar."""
    counts: dict[int, int] = {}
    for way in cutting.walk:
        counts[way.kind] = counts.get(way.kind, 0) + 1
    return Column(cutting, tuple(sorted(counts.items())), cost)


def quiet_solver() -> highspy.Highs:
    """A solver that prints nothing, on one thread."""
    sys.stdout.flush()
    kept, nowhere = os.dup(1), os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    try:
        import highspy

        solver = highspy.Highs()
        solver.silent()
    finally:
        os.dup2(kept, 1)
        os.close(kept)
        os.close(nowhere)
    solver.setOptionValue("threads", 1)
    solver.setOptionValue("random_seed", 1)
    return solver


class LinearMaster:
    """Bars in fractions that make every piece, at the least cost. `missing` is the cost of a piece not made."""

    def __init__(self, lot: Lot, missing: float) -> None:
        self.lot = lot
        self.solver = quiet_solver()
        self.columns: list[Column] = []
        self.limited = [i for i, stock in enumerate(lot.stock) if stock.quantity is not None]
        add_rows(self.solver, lot, self.limited, exact=False)
        for kind in range(len(lot.kinds)):
            self.solver.addCol(missing, 0.0, np.inf, 1, np.array([kind], dtype=np.int32), np.ones(1))

    def add(self, new: Column) -> None:
        """One more bar to choose from."""
        self.columns.append(new)
        add_column(self.solver, new, self.lot, self.limited)

    def solve(self) -> Prices:
        """The prices of the best mixture."""
        self.solver.run()
        duals = np.asarray(self.solver.getSolution().row_dual)
        kinds = len(self.lot.kinds)
        bars = [0.0] * len(self.lot.stock)
        for row, stock in enumerate(self.limited):
            bars[stock] = max(0.0, -float(duals[kinds + row]))
        pieces = tuple(max(0.0, float(dual)) for dual in duals[:kinds])
        return Prices(pieces, tuple(bars), float(self.solver.getInfo().objective_function_value))

    def reduced_costs(self) -> list[float]:
        """What each bar costs above its prices."""
        return list(self.solver.getSolution().col_dual)[len(self.lot.kinds) :]

    def shares(self) -> list[float]:
        """How much of each bar is in the mixture."""
        return list(self.solver.getSolution().col_value)[len(self.lot.kinds) :]


def add_rows(solver: highspy.Highs, lot: Lot, limited: Sequence[int], exact: bool) -> None:
    """A row a kind (its demand, at least or exactly), then a row a limited stock (its quantity at most)."""
    none = np.zeros(0, dtype=np.int32)
    for kind in lot.kinds:
        solver.addRow(kind.demand, kind.demand if exact else np.inf, 0, none, np.zeros(0))
    for stock in limited:
        solver.addRow(-np.inf, float(lot.stock[stock].quantity or 0), 0, none, np.zeros(0))


def add_column(solver: highspy.Highs, new: Column, lot: Lot, limited: Sequence[int], cost: float | None = None) -> None:
    """A bar as a column of the rows that `add_rows` makes."""
    rows = [kind for kind, _ in new.counts]
    values = [float(count) for _, count in new.counts]
    if new.cutting.stock in limited:
        rows.append(len(lot.kinds) + limited.index(new.cutting.stock))
        values.append(1.0)
    index = np.array(rows, dtype=np.int32)
    solver.addCol(new.cost if cost is None else cost, 0.0, np.inf, len(rows), index, np.array(values))


@attrs.frozen
class Task:
    """A whole-number master: cost of each column, a `budget` of price that may not be passed, when to stop.

    `start` are the numbers of columns of a plan that is known, one entry a bar; `nodes` limits the search.
    """

    costs: Sequence[float]
    nodes: int
    budget: float | None = None
    start: Sequence[int] = ()
    target: float | None = None
    least_gap: float = 0.0


def choose(lot: Lot, columns: Sequence[Column], task: Task, work: Work) -> list[int] | None:
    """Numbers of the columns of the best plan found, one entry a bar; None where none was found."""
    limited = [i for i, stock in enumerate(lot.stock) if stock.quantity is not None]
    solver = quiet_solver()
    add_rows(solver, lot, limited, exact=True)
    for one, cost in zip(columns, task.costs, strict=True):
        add_column(solver, one, lot, limited, cost)
    numbers = np.arange(len(columns), dtype=np.int32)
    solver.changeColsIntegrality(len(columns), numbers, np.ones(len(columns), dtype=np.uint8))
    if task.budget is not None:
        prices = np.array([lot.stock[one.cutting.stock].price for one in columns])
        solver.addRow(-np.inf, task.budget, len(columns), numbers, prices)
    _set_limits(solver, task)
    if task.start:
        at = np.array(sorted(set(task.start)), dtype=np.int32)
        solver.setSolution(len(at), at, np.array([float(task.start.count(int(i))) for i in at]))
    run_watched(solver, work)
    return _chosen(solver, len(columns))


def _set_limits(solver: highspy.Highs, task: Task) -> None:
    solver.setOptionValue("mip_max_nodes", task.nodes)
    solver.setOptionValue("mip_max_stall_nodes", max(1, task.nodes // 2))
    solver.setOptionValue("mip_rel_gap", 0.0)
    solver.setOptionValue("mip_abs_gap", task.least_gap)
    if task.target is not None:
        solver.setOptionValue("objective_target", task.target)


def run_watched(solver: highspy.Highs, work: Work) -> None:
    """Run a solver beside this thread, so that time and Ctrl-C end it though it looks at neither."""
    solver.HandleUserInterrupt = True
    solver.startSolve()
    try:
        while not solver.wait(_POLL)[0]:
            if work.late:
                solver.cancelSolve()
    except KeyboardInterrupt:
        solver.cancelSolve()
        while not solver.wait(_POLL)[0]:
            pass
        raise


def _chosen(solver: highspy.Highs, count: int) -> list[int] | None:
    solution = solver.getSolution()
    if not solution.value_valid:
        return None
    values = np.asarray(solution.col_value)[:count]
    whole = np.rint(values)
    if np.abs(values - whole).max(initial=0.0) > 1e-4:
        return None
    return [i for i, number in enumerate(whole) for _ in range(int(number))]
