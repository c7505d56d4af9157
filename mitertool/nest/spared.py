"""Set-ups at the least where steel goes first: how many pieces the steel that is spare lets be blanks; knows blanks.

Between the two cuts of a piece that is cut bar by bar lies a set-up. A blank saves it, but takes more of a bar, so with
as little steel only some pieces can be blanks. What lies between settings that no such piece joins is set besides.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from math import inf
from typing import Final

import attrs

from mitertool.bar import Allowance, BarPiece, ways
from mitertool.bar.spacing import half_kerf
from mitertool.base.totals import summed
from mitertool.nest.blanks import Arm, BySetting, arm_of, blanked
from mitertool.nest.lots import FULL, Lot, on_bar
from mitertool.nest.plan import Item, Rates
from mitertool.piece import Piece
from mitertool.piece.poses import TURNED

_NEAR: Final = 1e-9
"""Bars. Money for so little less than a whole one is for the whole one: a sum of prices in another order."""


@attrs.frozen
class _Sort:
    """Pieces that each have a set-up of their own unless they are blanks: how many, how much `more` a blank takes of a
    bar (mm), and whether their two cuts are set `apart`, so that one of them joins two settings."""

    count: int
    more: float
    apart: bool


def _more_as_blank(item: Item, by_setting: BySetting) -> float:
    """What a piece takes more of any bar as a blank than as it is, mm at the least; inf where no blank is offered."""
    allowance = by_setting.allowance
    ends = {way.finished for way in by_setting.ways.get(item.mark, ())}
    blanks = (blanked(item, finished, (), allowance.kerf).piece for finished in ends)
    return min((taken(blank, allowance) for blank in blanks), default=inf) - taken(item.piece, allowance)


def taken(piece: Piece, allowance: Allowance) -> float:
    """What a piece takes of any bar at the least, mm."""
    laid = BarPiece.of("", piece)
    return laid.centerline + summed(half_kerf(cut, laid.section, allowance.kerf) for cut in (laid.lead, laid.trail))


@attrs.frozen
class Spared:
    """What plans that cost no more can do: of the `pieces` with a set-up of their own so many are `blanks` at the most.

    `setups` are those at the least, `joins` of them between settings that must be gone to, wherever they are made.
    """

    pieces: int
    blanks: int
    joins: int
    setups: int

    def minutes(self, rates: Rates, recut_blade: float = 0.0) -> float:
        """Set-ups and recuts at the least: one that joins settings is a swing or a tilt and may be within a piece.

        `recut_blade` are minutes that the blade is longer in the steel for each recut.
        """
        recut = rates.recut_minutes + recut_blade
        joining = min(rates.minutes(1, 0), rates.minutes(0, 0, 1))
        cheapest = min(joining, rates.minutes(0, 1))
        whole = max(self.pieces - self.blanks, min(self.joins, self.pieces))
        if cheapest < recut:
            whole = self.pieces
        beside = max(0, whole - self.joins) * cheapest + (self.pieces - whole) * recut
        return max(self.joins * joining + beside, self.setups * cheapest)


def spared(lots: Sequence[Lot], floors: Sequence[float], cost: float, by_setting: BySetting) -> Spared:
    """What so much steel allows; `floors` is what each lot costs at the least.

    Where one piece of a kind joins two settings that is a set-up either way, so only the others of its kind count above
    one for each setting that must be gone to; or all count and the settings do not.
    """
    places = _Places(by_setting)
    joins = max(0, places.count - 1)
    joined, alone, pieces = joins, 0, 0
    for group in dict.fromkeys(lot.group for lot in lots):
        own = [lot for lot in lots if lot.group == group]
        money = cost - summed(floor for lot, floor in zip(lots, floors, strict=True) if lot.group != group)
        spare = _length_for(own[0], money) - summed(lot.weight for lot in own)
        sorts = [one for lot in own for one in _sorts(lot, by_setting, places)]
        pieces += sum(one.count for one in sorts)
        alone += _left(((one.more, one.count) for one in sorts), spare)
        joined += _left(((one.more, one.count - one.apart) for one in sorts), spare)
    return Spared(pieces, pieces - alone, joins, max(joined, alone))


def _length_for(lot: Lot, money: float) -> float:
    """Usable length of the bars that can be had for so much, mm: those that cost least a length first, the last of them
    in part where there are several kinds."""
    bars = [(one.price, room, one.quantity) for one, room in zip(lot.stock, lot.capacity, strict=True) if room > 0]
    length = 0.0
    for price, room, quantity in sorted(bars, key=lambda bar: bar[0] / bar[1]):
        had = money / price + _NEAR if price > 0 else inf
        count = min(inf if quantity is None else quantity, had // 1 if len(bars) == 1 and had < inf else had)
        length += count * room
        money -= count * price if price > 0 else 0.0
    return length


def _sorts(lot: Lot, by_setting: BySetting, places: _Places) -> Iterator[_Sort]:
    for kind in lot.kinds:
        if kind.ways[0].before != kind.ways[0].after:
            more = min(_more_as_blank(member.item, by_setting) for member in kind.members)
            yield _Sort(kind.demand, more, any(places.joined_by(member.item) for member in kind.members))


def _left(sorts: Iterable[tuple[float, int]], spare: float) -> int:
    """Pieces that are no blanks at the least, of pairs of what a blank takes more and how many there are."""
    left = 0
    for more, count in sorted(sorts):
        blanks = count if more * count <= spare + FULL else int((spare + FULL) // more) if more < inf else 0
        spare -= blanks * more if blanks else 0.0
        left += count - blanks
    return left


class _Places:
    """The settings that are gone to, however the pieces lie; those that cut one end as well as each other are one."""

    def __init__(self, by_setting: BySetting) -> None:
        self._allowance, self._tilts = by_setting.allowance, by_setting.found.arm.tilts
        self._of: dict[Arm, int] = {}
        for number, ends in enumerate(ends for item in by_setting.items for ends in self._ends(item)):
            old = {self._of[arm] for arm in ends if arm in self._of}
            self._of.update({arm: number for arm, at in self._of.items() if at in old} | dict.fromkeys(ends, number))

    @property
    def count(self) -> int:
        """How many there are."""
        return len(set(self._of.values()))

    def joined_by(self, item: Item) -> bool:
        """Whether the two ends of a piece are set in different ones."""
        return len({self._of[arm] for ends in self._ends(item) for arm in ends}) > 1

    def _ends(self, item: Item) -> list[set[Arm]]:
        found: dict[bool, set[Arm]] = {True: set(), False: set()}
        for pose in item.poses:
            own = on_bar(item, pose, self._allowance)
            for cut, leads in ((own.lead, True), (own.trail, False)):
                found[leads != (pose in TURNED)].update(arm_of(one) for one in ways(cut, self._tilts))
        return list(found.values())
