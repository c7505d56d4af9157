"""What a job comes to in one line: where its steel goes, and what steel, cuts and set-ups cost; knows the solution."""

from __future__ import annotations

from collections.abc import Iterable

import attrs

from mitertool.job.solution import Solution
from mitertool.nest import Plan


@attrs.frozen
class Report:
    """Lengths are mm on the centerline. `bought` and `from_rack` together are `pieces`, `kerf`, `kept` and `scrap`.

    `kept` goes back on the rack; `spoiled` are pieces of an earlier packet that went wrong and become nothing else.
    Costs are None where a price or a rate is not known; `price` is their sum.
    """

    bought: float = 0.0
    from_rack: float = 0.0
    pieces: float = 0.0
    kerf: float = 0.0
    kept: float = 0.0
    scrap: float = 0.0
    spoiled: float = 0.0
    steel_cost: float | None = None
    cuts_cost: float | None = None
    set_up_cost: float | None = None
    currency: str = ""

    @property
    def price(self) -> float | None:
        """Steel, cuts and set-ups together."""
        return _sum((self.steel_cost, self.cuts_cost, self.set_up_cost))


def report_of(solution: Solution) -> Report:
    """The report of a solved job; nothing but spoiled pieces where it has no stock."""
    spoiled = _spoiled(solution)
    plan = solution.plan
    if plan is None:
        return Report(spoiled=spoiled)
    steel = plan.steel
    free = sum(bar.count * bar.section.bars * bar.stock_length for bar in plan.bars if not bar.price)
    kept = sum(plan.bars[bar.number - 1].drop for bar in solution.on_rack if bar.leaves)
    return Report(
        bought=steel.bought - free,
        from_rack=free,
        pieces=steel.pieces,
        kerf=steel.kerf,
        kept=kept,
        scrap=steel.wedges + steel.trim + steel.grip + steel.drops - kept,
        spoiled=spoiled,
        steel_cost=_steel_cost(solution, plan),
        cuts_cost=_paid(solution, (run.minutes for run in solution.runs)),
        set_up_cost=_paid(solution, [plan.minutes]),
        currency=solution.job.saw.cost.currency if solution.job.saw else "",
    )


def _spoiled(solution: Solution) -> float:
    rest = solution.job.rest
    gone = (one for one in (rest.offers if rest else ()) if one.spoiled and one.fate == "scrap")
    return sum(one.count * one.length for one in gone)


def _steel_cost(solution: Solution, plan: Plan) -> float | None:
    """What the bars cost, where every row of stock bears a price."""
    priced = all(stock.cost is not None for stock in solution.job.stock)
    return plan.cost if priced else None


def _paid(solution: Solution, minutes: Iterable[float | None]) -> float | None:
    """What so many minutes cost at the rate of the shop."""
    rate = solution.job.saw.cost.rate if solution.job.saw else None
    spent = _sum(minutes)
    return None if rate is None or spent is None else spent / 60 * rate


def _sum(parts: Iterable[float | None]) -> float | None:
    known = list(parts)
    return None if any(part is None for part in known) else sum(part for part in known if part is not None)
