"""Costs that no plan can beat: by the material, by joints and by prices; knows lots, flow and master.

By the material: every bar holds at most its usable length of half-kerf weights, so the cheapest bars that hold the sum
are a bound. By prices: where no bar earns more than its cost, the pieces' prices are a bound; a limited bar that
earns more gives the surplus back.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, inf
from typing import Final

import attrs
import numpy as np

from mitertool.base.totals import summed
from mitertool.nest.flow import Flow
from mitertool.nest.lots import Lot
from mitertool.nest.master import quiet_solver

_NEAR: Final = 1e-9
"""Relative. A bound within this above a whole number of bars is that number."""
_NODES: Final = 5000


@attrs.frozen
class Floor:
    """A bound on the cost of a lot and how it was obtained.

    `how` is "material", "prices" or "every bar"; `prices` are those of the pieces by kind, `earns` what the best bar of
    each stock earns with them at the most; `plain` is the bound before it was raised to what bars can cost.
    """

    value: float
    how: str
    plain: float
    prices: tuple[float, ...] = ()
    earns: tuple[float, ...] = ()


def material(lot: Lot) -> Floor:
    """The bound by half-kerf weights."""
    weight = lot.weight
    rate = min((s.price / c for s, c in zip(lot.stock, lot.capacity, strict=True) if c > 0), default=0.0)
    return Floor(cheapest_bars(lot, weight, 0.0), "material", weight * rate)


def by_prices(lot: Lot, prices: Sequence[float], earns: Sequence[float]) -> Floor:
    """The best bound that the prices give when all are scaled alike.

    With a factor f the bound is f*sum(price*demand) - sum(quantity*max(0, f*earns - cost)), f as large as the bars
    of unlimited stock allow: concave in f, so its maximum lies at a break.
    """
    worth = summed(price * n for price, n in zip(prices, lot.demand, strict=True))
    breaks = [(s.price / earned, s.quantity) for s, earned in zip(lot.stock, earns, strict=True) if earned > 0]
    most = min((f for f, quantity in breaks if quantity is None), default=inf)

    def value(factor: float) -> float:
        surplus = (
            (stock.quantity or 0) * max(0.0, factor * earned - stock.price)
            for stock, earned in zip(lot.stock, earns, strict=True)
            if stock.quantity is not None
        )
        return factor * worth - summed(surplus)

    factor = max((f for f, _ in breaks if f <= most), key=value, default=0.0)
    weight = lot.weight
    plain = value(factor)
    raised = max(plain, cheapest_bars(lot, weight, plain))
    return Floor(raised, "prices", plain, tuple(factor * p for p in prices), tuple(factor * e for e in earns))


def by_joints(lot: Lot, flow: Flow) -> Floor:
    """The bound by the half-kerf weights or by what joints take besides, whichever is higher."""
    weights, fluent = material(lot), flow.steel
    joints = by_prices(lot, fluent.pieces, fluent.earns)
    return joints if joints.value > weights.value else weights


def by_every_bar(floor: Floor, cost: float) -> Floor:
    """No plan is below this cost: every bar that could be in one was looked at, and those make none."""
    return attrs.evolve(floor, value=cost, how="every bar")


def cheapest_bars(lot: Lot, weight: float, least: float) -> float:
    """Least cost of bars that hold the weight (mm) and cost at least `least`."""
    whole = [i for i, capacity in enumerate(lot.capacity) if capacity > 0]
    if not whole:
        return least
    if len(whole) == 1:
        price = lot.stock[whole[0]].price
        count = ceil(weight / lot.capacity[whole[0]] * (1 - _NEAR))
        return price * max(count, ceil(least / price * (1 - _NEAR)) if price > 0 else 0)
    return _cheapest_mixture(lot, whole, weight, least)


def _cheapest_mixture(lot: Lot, whole: Sequence[int], weight: float, least: float) -> float:
    prices = np.array([lot.stock[i].price for i in whole])
    lengths = np.array([lot.capacity[i] for i in whole])
    columns = np.arange(len(whole), dtype=np.int32)
    solver = quiet_solver()
    for i, price in zip(whole, prices, strict=True):
        quantity = lot.stock[i].quantity
        solver.addCol(float(price), 0.0, np.inf if quantity is None else quantity, 0, columns[:0], prices[:0])
    solver.changeColsIntegrality(len(whole), columns, np.ones(len(whole), dtype=np.uint8))
    solver.addRow(weight * (1 - _NEAR), np.inf, len(whole), columns, lengths)
    solver.addRow(least * (1 - _NEAR), np.inf, len(whole), columns, prices)
    solver.setOptionValue("mip_rel_gap", 0.0)
    solver.setOptionValue("mip_max_nodes", _NODES)
    solver.run()
    if solver.modelStatusToString(solver.getModelStatus()) != "Optimal":
        return least
    return max(least, float(prices @ np.rint(solver.getSolution().col_value)))
