"""The rates of a shop as the search for bars takes them, and what work costs by them; knows the saw."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from mitertool import nest
from mitertool.base.totals import summed
from mitertool.saw import Machine

if TYPE_CHECKING:
    from mitertool.nest import Rates


def rates_of(saw: Machine | None) -> Rates | None:
    """What set-ups cost, where the saw file tells it all."""
    cost = saw.cost if saw else None
    if cost is None or cost.swing_minutes is None or cost.roll_minutes is None or cost.rate is None:
        return None
    more = (cost.load_minutes or 0.0, cost.recut_minutes or 0.0, cost.tilt_minutes)
    return nest.Rates(cost.swing_minutes, cost.roll_minutes, cost.rate, *more)


def paid(saw: Machine | None, minutes: Iterable[float | None]) -> float | None:
    """What so many minutes cost at the rate of the shop; None where either is not known."""
    rate, spent = saw.cost.rate if saw else None, known_sum(minutes)
    return None if rate is None or spent is None else spent / 60 * rate


def known_sum(parts: Iterable[float | None]) -> float | None:
    """The sum, None where one of the parts is not known."""
    known = list(parts)
    return None if any(part is None for part in known) else summed(part for part in known if part is not None)
