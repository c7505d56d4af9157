"""Some pieces as blanks and the others as they are, on the same bars, as far as steel is spare; knows blanks.

All as blanks may take a bar more than they do as pieces, and with none of them each piece has a set-up of its own.
Between the two those are blanks that take the least more of the bars for each set-up that they save.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

import attrs

from mitertool.base.totals import summed
from mitertool.nest.blanks import Blanks, BySetting
from mitertool.nest.plan import Item
from mitertool.nest.spared import taken

if TYPE_CHECKING:
    from mitertool.nest.search import Search


def mixed(search: Search, blanks: Blanks, by_setting: BySetting, share: float) -> list[Item]:
    """The pieces of a lot, those as blanks that take a share of what its pieces leave of their bars."""
    items, lot = list(search.lot.items), search.lot
    spare = share * (summed(lot.capacity[bar.stock] for bar in search.best.bars) - lot.weight)
    as_blank = {blank.mark: blank for blank in blanks.items}
    found: Counter[str] = Counter()
    for _, mark, more, count in sorted(_offers(items, as_blank, by_setting)):
        found[mark] = min(count, int(spare / more))
        spare -= found[mark] * more
    return [part for item in items for part in _parted(item, as_blank[item.mark], found[item.mark])]


def _parted(item: Item, blank: Item, count: int) -> Iterator[Item]:
    """So many pieces of a mark as blanks, the others as they are."""
    if count:
        yield attrs.evolve(blank, quantity=count)
    if count < item.quantity:
        yield attrs.evolve(item, quantity=item.quantity - count)


def _offers(
    items: Sequence[Item], as_blank: dict[str, Item], by_setting: BySetting
) -> Iterator[tuple[float, str, float, int]]:
    """What the blanks of a mark take more for each set-up that they save; mark, what each takes more (mm), how many."""
    uses = Counter(arm for item in by_setting.items for ends in by_setting.ends(item) for arm in ends)
    for item in items:
        blank = as_blank[item.mark]
        if not blank.recut:
            continue
        more = taken(blank.piece, by_setting.allowance) - taken(item.piece, by_setting.allowance)
        anew = all(uses[way.arm] == 1 for way in by_setting.recut_ways(blank))
        if saved := item.quantity - anew:
            yield more * item.quantity / saved, item.mark, more, item.quantity
