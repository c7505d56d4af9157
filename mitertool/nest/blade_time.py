"""How long the blade is in the steel at the least, whichever plan is taken; knows whole and lots.

Each piece has two faces, and a cut makes one or two. So a piece takes half of the time of each of its faces at the
least, as that is cut in the way that takes the least time; and a recut makes one alone.
"""

from __future__ import annotations

from collections.abc import Sequence

from mitertool.bar import BarCut
from mitertool.base.totals import summed
from mitertool.nest.blanks import is_parallel
from mitertool.nest.lots import Lot, lay_of, on_bar
from mitertool.nest.plan import Item
from mitertool.nest.whole import Means
from mitertool.sections import Section


def blade_least(lot: Lot, shop: Means) -> float:
    """Minutes for all pieces of a lot; 0 where they lie in several ways, and for cuts whose time is not known."""
    if len({lay_of(item) for item in lot.items}) > 1:
        return 0.0
    return summed(item.quantity * _halves(item, shop) for item in lot.items)


def recut_least(lots: Sequence[Lot], shop: Means) -> float:
    """Minutes that a recut takes above half of its face, of any piece that may be a blank, at the least."""
    items = (item for lot in lots for item in lot.items if not is_parallel(item))
    laid = (on_bar(item, pose, shop.allowance) for item in items for pose in item.poses)
    return min((_time(cut, one.section, shop) for one in laid for cut in (one.lead, one.trail)), default=0.0) / 2


def _halves(item: Item, shop: Means) -> float:
    laid = [on_bar(item, pose, shop.allowance) for pose in item.poses]
    both = (_time(one.lead, one.section, shop) + _time(one.trail, one.section, shop) for one in laid)
    return min(both) / 2


def _time(cut: BarCut, section: Section, shop: Means) -> float:
    asks = shop.settings.arm.minutes
    return min(asks(section, angles) or 0.0 for angles in shop.settings.of(cut, section, 0.0))
