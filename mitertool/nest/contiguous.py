"""Bars of blanks that keep to the order of settings: each bar has one, or begins with one and ends with the next.

So however many bars there are, each setting is gone to once. The steel that this costs is little: a bar that is not
filled at one setting is filled at the next.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from itertools import product
from typing import TYPE_CHECKING, Final, NamedTuple

import attrs

from mitertool.nest.blanks import Arm, BySetting, arm_of
from mitertool.nest.greedy import Found
from mitertool.nest.lots import Lot, Pattern, Walk, Way, on_bar
from mitertool.nest.whole import Means

if TYPE_CHECKING:
    from mitertool.nest.search import Search


_PIECES: Final = 500
"""Pieces of which bars are filled once; of fewer as much oftener, in other ways."""


class _Carrying(NamedTuple):
    """Which bar goes on to a later setting.

    `strict`: none whose pieces are recut at its own setting, and so longer than for the next one; else steel is saved
    for a setting that comes again. `passing`: a bar goes past settings at which it saves no other bar.
    """

    strict: bool
    passing: bool


_HOW: Final = (_Carrying(True, False), _Carrying(True, True), _Carrying(False, False))


@attrs.frozen
class Places:
    """Of each kind the place in the order of the setting at which it is parted, and of the last that recuts it."""

    first: tuple[int, ...]
    last: tuple[int, ...]

    def waits(self, bar: Pattern, setting: int) -> bool:
        """Whether every piece of a bar gets its other end at a setting that comes later, or has none to come."""
        return all(self.last[way.kind] > setting for way in bar.walk)


def contiguous(search: Search, order: Sequence[Arm], by_setting: BySetting, means: Means) -> Iterator[Found]:
    """Bars filled setting by setting, in some ways to fill them; only whole plans."""
    place = {arm: i for i, arm in enumerate(order)}
    kinds = range(len(search.lot.kinds))
    first = tuple(_first(search.lot, kind, place, means) for kind in kinds)
    places = Places(first, tuple(_last(search.lot, kind, place, by_setting) for kind in kinds))
    tastes = max(1, min(search.tastes, _PIECES // max(1, sum(search.lot.demand))))
    for number, how in product(range(tastes), _HOW):
        bars, left = _filled(search, number, places, how)
        if not any(left):
            yield Found(tuple(bars), tuple(left))


def _last(lot: Lot, kind: int, place: Mapping[Arm, int], by_setting: BySetting) -> int:
    """The place of the setting that comes last of those that recut a kind; past all where it is not recut."""
    blanks = [member.item for member in lot.kinds[kind].members if member.item.recut]
    arms = ([place.get(way.arm, -1) for way in by_setting.recut_ways(blank)] for blank in blanks)
    return min((max(found) for found in arms), default=len(place) + 1)


def _first(lot: Lot, kind: int, place: Mapping[Arm, int], means: Means) -> int:
    """The place in the order of the setting at which a kind is parted."""
    member = lot.kinds[kind].members[0]
    found = len(place)
    for pose in dict.fromkeys(member.poses.values()):
        own = on_bar(member.item, pose, means.allowance)
        for angles in means.settings.made(own.lead, own.section):
            found = min(found, place.get(arm_of(angles), len(place)))
    return found


def _filled(search: Search, taste: int, places: Places, how: _Carrying) -> tuple[list[Pattern], list[int]]:
    """Bars setting by setting, of which one is carried on from each to a later one."""
    lot, bars, rest = search.lot, list[Pattern](), list(search.lot.demand)
    carried: Pattern | None = None
    for setting in range(max(places.first, default=0) + 1):
        left = [n if places.first[kind] == setting else 0 for kind, n in enumerate(lot.demand)]
        if not any(left):
            continue
        alone = _more(search, taste, [*bars, carried], left) if how.passing and carried else None
        if carried is not None:
            topped = _topped(lot, carried, left)
            new = _more(search, taste, [*bars, topped], left)
            if alone is not None and len(alone) <= len(new):
                bars += alone
                continue
            bars.append(topped)
        else:
            new = _more(search, taste, bars, left)
        carried = _to_carry(lot, [bar for bar in new if not how.strict or places.waits(bar, setting)])
        if carried is not None:
            new.remove(carried)
        elif bars and not how.strict:
            carried = bars.pop()
        bars += new
    bars += [carried] if carried is not None else []
    for kind, count in Counter(way.kind for bar in bars for way in bar.walk).items():
        rest[kind] -= count
    return bars, rest


def _more(search: Search, taste: int, bars: Sequence[Pattern], left: Sequence[int]) -> list[Pattern]:
    """Fresh bars for so many pieces of each kind, from what stock `bars` leave."""
    return list(search.filled(taste, bars, left))[len(bars) :]


def _to_carry(lot: Lot, bars: Sequence[Pattern]) -> Pattern | None:
    """The bar that is filled the least, to be filled at the next setting."""
    return min(bars, key=lambda bar: lot.used(bar.walk) / lot.capacity[bar.stock], default=None)


def _topped(lot: Lot, bar: Pattern, left: list[int]) -> Pattern:
    """The bar with pieces of the next setting behind its own, the longest that fit first; takes them out of `left`."""
    walk: Walk = bar.walk
    for kind in sorted(range(len(left)), key=lambda k: -lot.weights[k]):
        while left[kind] and (way := _behind(lot, walk, kind, bar.stock)):
            walk = (*walk, way)
            left[kind] -= 1
    return Pattern(bar.stock, walk)


def _behind(lot: Lot, walk: Walk, kind: int, stock: int) -> Way | None:
    """The way of a kind that takes the least behind a walk, where the bar still takes it."""
    way = min(lot.kinds[kind].ways, key=lambda way: lot.used((*walk, way)))
    return way if lot.fits((*walk, way), stock) else None
