"""Which bars to cut, out of many that could be: linear and whole-number masters; knows lots and highspy.

highspy is imported here and only when a master is made; it prints its name as it starts, which is kept off stdout.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING, Final

import attrs
import numpy as np

from mitertool.nest.lots import Lot
from mitertool.nest.priced import PricedPattern, Prices
from mitertool.nest.work import Effort

if TYPE_CHECKING:
    import highspy

_POLL: Final = 0.02
"""s. How often the clock is looked at while a solver runs."""
_NEAR: Final = 1e-7
"""Relative. The solver's own rounding of costs is larger than ours and less than this."""
_ITERATION: Final = 0.015
"""Effort of one iteration of the simplex method."""
_PATIENCE: Final = 1.0
"""s. How long a solver may take to stop."""
_LESS: Final = 1e-9
"""Relative. A sum of lengths or prices that falls short by less is the sum."""
_BAR_NODES: Final = 5000
"""Nodes of the search for the cheapest mixture of bars."""


def quiet_solver() -> highspy.Highs:
    """A solver that prints nothing, on one thread."""
    with _no_stdout():
        import highspy

        solver: highspy.Highs = highspy.Highs()  # type: ignore[no-untyped-call]
        solver.silent()
    solver.resetGlobalScheduler(False)  # another use of the solver with more threads would make this one refuse to run
    solver.setOptionValue("threads", 1)
    solver.setOptionValue("random_seed", 1)
    return solver


@contextmanager
def _no_stdout() -> Iterator[None]:
    """Nothing reaches stdout, also not from below Python; a stdout that is closed stays so."""
    try:
        kept = os.dup(1)
    except OSError:
        yield
        return
    if sys.stdout is not None:
        sys.stdout.flush()
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    try:
        yield
    finally:
        os.dup2(kept, 1)
        os.close(kept)
        os.close(nowhere)


class LinearMaster:
    """Bars in fractions that make every piece, at the least cost. `missing` is the cost of a piece not made."""

    def __init__(self, lot: Lot, missing: float) -> None:
        self.lot = lot
        self.solver = quiet_solver()
        self.columns: list[PricedPattern] = []
        self.limited = [i for i, stock in enumerate(lot.stock) if stock.quantity is not None]
        add_rows(self.solver, lot, self.limited, exact=False)
        for kind in range(len(lot.kinds)):
            self.solver.addCol(missing, 0.0, np.inf, 1, np.array([kind], dtype=np.int32), np.ones(1))

    def add(self, new: PricedPattern) -> None:
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

    def wants(self, left: Sequence[int], bars: Sequence[int]) -> None:
        """Ask for so many pieces of each kind and no bar that holds more; `bars` are those left of each stock."""
        kinds = len(self.lot.kinds)
        for kind, count in enumerate(left):
            self.solver.changeRowBounds(kind, float(count), np.inf)
        for row, stock in enumerate(self.limited):
            self.solver.changeRowBounds(kinds + row, -np.inf, float(bars[stock]))
        for number, one in enumerate(self.columns):
            fits = all(count <= left[kind] for kind, count in one.counts)
            self.solver.changeColBounds(kinds + number, 0.0, np.inf if fits else 0.0)

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


def add_column(
    solver: highspy.Highs, new: PricedPattern, lot: Lot, limited: Sequence[int], cost: float | None = None
) -> None:
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

    `start` are the numbers of columns of a plan that is known, one entry a bar; `nodes` limits the search. Costs of
    plans differ by more than `step`, so a plan that close to the solver's own bound is best; none is below `target`.
    With `more` bars may make more pieces than are wanted.
    """

    costs: Sequence[float]
    nodes: int
    budget: float | None = None
    start: Sequence[int] = ()
    step: float = 0.0
    target: float = 0.0
    more: bool = False


@attrs.frozen
class Choice:
    """Numbers of the columns of the best plan found, one entry a bar (None: none); whether no other is better."""

    numbers: list[int] | None
    best: bool = False


def choose(lot: Lot, columns: Sequence[PricedPattern], task: Task, work: Effort) -> Choice:
    """The best plan of these columns, as far as the task lets it be looked for."""
    limited = [i for i, stock in enumerate(lot.stock) if stock.quantity is not None]
    solver = quiet_solver()
    add_rows(solver, lot, limited, exact=not task.more)
    for one, cost in zip(columns, task.costs, strict=True):
        add_column(solver, one, lot, limited, cost)
    numbers = np.arange(len(columns), dtype=np.int32)
    solver.changeColsIntegrality(len(columns), numbers, np.ones(len(columns), dtype=np.uint8))
    if task.budget is not None:
        prices = np.array([lot.stock[one.cutting.stock].price for one in columns])
        solver.addRow(-np.inf, task.budget, len(columns), numbers, prices)
    if task.target > 0:
        solver.addRow(task.target * (1 - _NEAR), np.inf, len(columns), numbers, np.array(task.costs))
    _set_limits(solver, task)
    if task.start:
        solver.setSolution(len(columns), numbers, np.bincount(task.start, minlength=len(columns)).astype(float))
    if not run_watched(solver, work):
        return Choice(None)
    work.spend(_ITERATION * solver.getInfo().simplex_iteration_count)
    status = solver.modelStatusToString(solver.getModelStatus())
    return Choice(_chosen(solver, len(columns)), status in ("Optimal", "Infeasible"))


def _set_limits(solver: highspy.Highs, task: Task) -> None:
    """Without presolve: there the solver counts what a known plan costs twice, and calls a plan best that is not."""
    solver.setOptionValue("presolve", "off")
    solver.setOptionValue("mip_max_nodes", task.nodes)
    solver.setOptionValue("mip_max_stall_nodes", max(1, task.nodes // 2))
    solver.setOptionValue("mip_rel_gap", 0.0)
    solver.setOptionValue("mip_abs_gap", task.step)


def run_watched(solver: highspy.Highs, work: Effort) -> bool:
    """Run a solver beside this thread, so that time and Ctrl-C end it though it looks at neither.

    False where it does not stop when told to; it is then left to itself and must not be asked for anything.
    """
    solver.HandleUserInterrupt = True
    solver.startSolve()
    try:
        while not solver.wait(_POLL)[0]:
            if work.late:
                return _stopped(solver)
    except BaseException:
        _stopped(solver)
        raise
    return True


def _stopped(solver: highspy.Highs) -> bool:
    solver.cancelSolve()  # type: ignore[no-untyped-call]
    return bool(solver.wait(_PATIENCE)[0])


def _chosen(solver: highspy.Highs, count: int) -> list[int] | None:
    solution = solver.getSolution()
    if not solution.value_valid:
        return None
    values = np.asarray(solution.col_value)[:count]
    whole = np.rint(values)
    if np.abs(values - whole).max(initial=0.0) > 1e-4:
        return None
    return [i for i, number in enumerate(whole) for _ in range(int(number))]


def cheapest_mixture(lot: Lot, whole: Sequence[int], weight: float, least: float) -> float:
    """Least cost of bars of the stocks numbered `whole` that hold the weight (mm) and cost at least `least`."""
    prices = np.array([lot.stock[i].price for i in whole])
    lengths = np.array([lot.capacity[i] for i in whole])
    columns = np.arange(len(whole), dtype=np.int32)
    solver = quiet_solver()
    for i, price in zip(whole, prices, strict=True):
        quantity = lot.stock[i].quantity
        solver.addCol(float(price), 0.0, np.inf if quantity is None else quantity, 0, columns[:0], prices[:0])
    solver.changeColsIntegrality(len(whole), columns, np.ones(len(whole), dtype=np.uint8))
    solver.addRow(weight * (1 - _LESS), np.inf, len(whole), columns, lengths)
    solver.addRow(least * (1 - _LESS), np.inf, len(whole), columns, prices)
    solver.setOptionValue("mip_rel_gap", 0.0)
    solver.setOptionValue("mip_max_nodes", _BAR_NODES)
    solver.run()
    if solver.modelStatusToString(solver.getModelStatus()) != "Optimal":
        return least
    return max(least, float(prices @ np.rint(solver.getSolution().col_value)))
