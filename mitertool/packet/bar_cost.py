"""What bars cost, in words: money where the job prices its stock, else the length of steel; knows job."""

from __future__ import annotations

from typing import TYPE_CHECKING

import attrs

from mitertool import nest
from mitertool.job import Job
from mitertool.quantity import Units, show_length
from mitertool.quantity.compare import same_length
from mitertool.quantity.show import show_limit
from mitertool.words import phrase

if TYPE_CHECKING:
    from mitertool.nest import Alternative, Plan


@attrs.frozen
class BarCost:
    """How a cost is shown: `priced` as the number it is, else as a length in `units`; `currency` of its rates."""

    priced: bool
    units: Units
    currency: str = ""

    @classmethod
    def of(cls, job: Job, units: Units) -> BarCost:
        """As the job's stock asks: where some have no price all count by length, remnants that cost nothing by 0."""
        given = [bar.cost for bar in job.stock]
        return cls(None not in given, units, job.saw.cost.currency if job.saw else "")

    def show(self, cost: float) -> str:
        """A cost for people."""
        return f"{cost:g}" if self.priced else show_length(cost, self.units)

    def least(self, bound: float) -> str:
        """What no plan is below, rounded down."""
        return f"{bound:g}" if self.priced else show_limit(bound, self.units, "down")

    def word(self, *plans: Plan | Alternative) -> str:
        """What the figure is of; lengths of plans that also use steel which costs nothing are those of new steel."""
        if self.priced:
            return phrase("screen.cost")
        return phrase("screen.steel" if self.all_new(*plans) else "screen.new-steel")

    @property
    def in_all(self) -> str:
        """What steel and work together are counted in."""
        return phrase("nest.money/of", currency=self.currency) if self.currency else phrase("nest.money")

    def all_new(self, *plans: Plan | Alternative) -> bool:
        """Whether the figure is the length of all the steel that the plans use."""
        return not self.priced and all(same_length(one.cost, _bought(one)) for one in plans)

    def so_far(self, cost: float, bound: float) -> str:
        """What stands in a search, and what no plan is below."""
        return phrase("progress.best", cost=self.show(cost), bound=self.least(bound))


def _bought(one: Plan | Alternative) -> float:
    return one.steel.bought if isinstance(one, nest.Plan) else one.steel
