"""Costs that no plan can beat: by the material, by joints and by prices; knows lots, flow and master.

By the material: every bar holds at most its usable length of half-kerf weights, so the cheapest bars that hold the sum
are a bound. By prices: where no bar earns more than its cost, the pieces' prices are a bound; a limited bar that
earns more gives the surplus back.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, inf
from typing import TYPE_CHECKING, Final

import attrs

from mitertool import nest
from mitertool.base.totals import summed
from mitertool.nest.lots import Lot

if TYPE_CHECKING:
    from mitertool.nest.flow import Flow

_NEAR: Final = 1e-9
"""Relative. A bound within this above a whole number of bars is that number."""


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
    return nest.master.cheapest_mixture(lot, whole, weight, least)
