"""What a whole plan takes and by what it is called best: the shop's cost, else steel and then set-ups; knows plan.

Money and lengths are never added. Where rates are given and every bar has a price, all is money. Else steel goes first,
then the work: by its minutes where the shop gives rates, by its set-ups where not.
"""

from __future__ import annotations

from collections.abc import Sequence

import attrs

from mitertool.nest.plan import Rates, Stock
from mitertool.nest.setups import SetUpPrices
from mitertool.quantity.problem import Remark

_MINUTES: float = 1e-6
"""Set-ups a minute of work that is no set-up counts for while bars are ordered: it only tells equals apart."""

_ROUND = 6
"""Decimals to which costs and minutes are compared: sums in another order are one."""


@attrs.frozen
class Work:
    """What a whole plan takes: bars by their prices, length bought (mm), set-ups, loads, recuts, cuts.

    `blade` is the time of all cuts, minutes (None: not known), `heavy` counts bars that are rolled though too heavy;
    `left` is what is left of all bars behind their last kerf, over the whole section, mm.
    """

    cost: float = 0.0
    steel: float = 0.0
    swings: int = 0
    tilts: int = 0
    rolls: int = 0
    loads: int = 0
    recuts: int = 0
    cuts: int = 0
    blade: float | None = None
    heavy: int = 0
    left: float = 0.0

    @property
    def setups(self) -> int:
        """Swings, tilts and rolls together."""
        return self.swings + self.tilts + self.rolls


Key = tuple[float, ...]
"""What is compared: of two plans the one with the smaller is better."""


@attrs.frozen
class Measure:
    """`rates` are the shop's own, None where it gives none; `money`: steel has a price, so that all is added up."""

    rates: Rates | None = None
    money: bool = False

    @property
    def objective(self) -> str:
        """What is least."""
        return "cost" if self.money else "steel, then set-ups"

    @property
    def setups(self) -> SetUpPrices:
        """What set-ups cost in the order of work; where rates are 0 for all of them one is as dear as another."""
        rates = self.rates
        if rates is None:
            return SetUpPrices()
        swing, tilt, roll = rates.minutes(1, 0), rates.minutes(0, 0, 1), rates.minutes(0, 1)
        scale = rates.per_hour / 60 if self.money else 1.0
        small = _MINUTES * scale
        return SetUpPrices(swing * scale + small, tilt * scale + small, roll * scale + small * SetUpPrices().roll)

    def minutes(self, work: Work) -> float | None:
        """Set-ups, loads and recuts, minutes; None without rates."""
        if self.rates is None:
            return None
        return self.rates.minutes(work.swings, work.rolls, work.tilts, work.loads, work.recuts)

    def shop_cost(self, work: Work) -> float | None:
        """Steel and all work in money; None where they are not added up."""
        if not self.money or self.rates is None:
            return None
        return work.cost + self.rates.money((self.minutes(work) or 0.0) + (work.blade or 0.0))

    def key(self, work: Work) -> Key:
        """By what plans are compared."""
        cost, minutes = self.shop_cost(work), self.minutes(work)
        ties = (work.setups, work.recuts, work.cuts, -round(work.left, _ROUND))
        if cost is not None:
            return (work.heavy, round(cost, _ROUND), *ties)
        if minutes is not None:
            return (work.heavy, round(work.cost, _ROUND), round(minutes + (work.blade or 0.0), _ROUND), *ties)
        return (work.heavy, round(work.cost, _ROUND), *ties)


def measured(stock: Sequence[Stock], rates: Rates | None) -> tuple[tuple[Stock, ...], Measure, tuple[Remark, ...]]:
    """The stock as it counts, the measure of its plans, and what must be told of it.

    Where some bars have a price and others have none, all count by their length; bars that cost nothing still do.
    """
    given = [one.cost for one in stock]
    if None not in given:
        return tuple(stock), Measure(rates, rates is not None), ()
    some = any(given)
    by_length = tuple(attrs.evolve(one, cost=None) if one.cost else one for one in stock)
    told = [Remark("plan.some-priced")] if some else [Remark("plan.no-price")] if rates else []
    return by_length if some else tuple(stock), Measure(rates), tuple(told)
