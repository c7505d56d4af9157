"""What the shop has to buy or take from the rack for a plan; knows plan."""

from __future__ import annotations

from collections.abc import Sequence

import attrs

from mitertool.base.tolerances import SAME_LENGTH
from mitertool.nest.plan import Bar, Plan


@attrs.frozen
class Purchase:
    """`count` bars of one section, grade and length: nominal `mass` (kg) and `cost` of all of them."""

    section: str
    grade: str
    length: float
    count: int
    mass: float
    cost: float


def buying_list(plan: Plan) -> tuple[Purchase, ...]:
    """The bars of a plan by section, grade and length, long ones first; bars that cost differently stand apart."""
    rows: dict[_Key, list[Bar]] = {}
    for bar in plan.bars:
        rows.setdefault(_key(bar), []).append(bar)
    return tuple(_purchase(rows[key]) for key in sorted(rows))


_Key = tuple[str, str, int, float]
_PRICE_DECIMALS = 6


def _key(bar: Bar) -> _Key:
    """What makes bars alike; a length that is typed in feet for one and in inches for the other is one."""
    price = round(bar.price / bar.section.bars, _PRICE_DECIMALS)
    return bar.section.one_bar.name, bar.grade, -round(bar.stock_length / SAME_LENGTH), price


def _purchase(bars: Sequence[Bar]) -> Purchase:
    first, count = bars[0], sum(bar.count * bar.section.bars for bar in bars)
    section, price = first.section.one_bar, first.price / first.section.bars
    mass = section.nominal_mass_per_metre * first.stock_length / 1000 * count
    return Purchase(section.name, first.grade, first.stock_length, count, mass, price * count)
