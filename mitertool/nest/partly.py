"""Some marks as blanks and the others as they are, on the same bars, as far as steel is spare; knows blanks.

All marks as blanks may take a bar more than their pieces do, and with none of them each piece has a set-up of its own.
Between the two those marks are blanks that take the least more of the bars for each set-up that they save.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from mitertool.nest.blanks import Blanks, BySetting
from mitertool.nest.plan import Item
from mitertool.nest.spared import taken

if TYPE_CHECKING:
    from mitertool.nest.search import Search


def mixed(search: Search, blanks: Blanks, by_setting: BySetting, share: float) -> list[Item]:
    """The marks of a lot, those as blanks that take a share of what its pieces leave of their bars."""
    items, lot = list(search.lot.items), search.lot
    spare = share * (sum(lot.capacity[bar.stock] for bar in search.best.bars) - lot.weight)
    as_blank = {blank.mark: blank for blank in blanks.items}
    found = set()
    for _, mark, more in sorted(_offers(items, as_blank, by_setting)):
        if more <= spare:
            spare -= more
            found.add(mark)
    return [as_blank[item.mark] if item.mark in found else item for item in items]


def _offers(
    items: Sequence[Item], as_blank: dict[str, Item], by_setting: BySetting
) -> Iterator[tuple[float, str, float]]:
    """What each mark takes more as blanks for each set-up that they save, and what in all, mm."""
    uses = Counter(arm for item in by_setting.items for ends in by_setting.ends(item) for arm in ends)
    for item in items:
        blank = as_blank[item.mark]
        if not blank.recut:
            continue
        more = item.quantity * (taken(blank.piece, by_setting.allowance) - taken(item.piece, by_setting.allowance))
        anew = all(uses[way.arm] == 1 for way in by_setting.recut_ways(blank))
        if saved := item.quantity - anew:
            yield more / saved, item.mark, more
