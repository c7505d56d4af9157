"""From the bars of the search to the bars of the plan: marks, places, cuts, set-ups, steel; knows lots and setups.

Everything is measured anew from the pieces themselves, in mm.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby, pairwise

import attrs

from mitertool.bar import Allowance, Angles, BarPiece, Kerf, kerfs_of
from mitertool.bar.spacing import before, gap
from mitertool.nest import setups
from mitertool.nest.lots import Lot, Pattern, on_bar
from mitertool.nest.plan import Bar, Item, Placed, SawCut, Steel
from mitertool.sections import Section


@attrs.frozen
class LaidPiece:
    """What lies on a bar: which item, in which pose, and as a piece of the bar in its place."""

    item: Item
    pose: str
    piece: BarPiece


@attrs.frozen
class Loaded:
    """A bar of a length with its pieces."""

    length: float
    price: float
    laid: tuple[LaidPiece, ...]

    @property
    def section(self) -> Section:
        """The section as it lies."""
        return self.laid[0].piece.section

    def kerfs(self, allowance: Allowance) -> tuple[Kerf, ...]:
        """Its kerfs in order."""
        return kerfs_of([one.piece for one in self.laid], allowance.kerf)


def loaded(lot: Lot, bars: Sequence[Pattern], allowance: Allowance) -> Iterator[Loaded]:
    """The bars with marks on them; marks of one kind are used up one after another."""
    waiting = [iter([member for member in kind.members for _ in range(member.item.quantity)]) for kind in lot.kinds]
    for bar in bars:
        laid: list[LaidPiece] = []
        for way in bar.walk:
            member = next(waiting[way.kind])
            pose = member.poses[way.before, way.after]
            piece = on_bar(member.item, pose, allowance)
            at = _next_to(laid[-1].piece, piece, allowance) if laid else before(piece.lead, piece.section, allowance)
            laid.append(LaidPiece(member.item, pose, attrs.evolve(piece, at=at)))
        stock = lot.stock[bar.stock]
        yield Loaded(stock.length, stock.price, tuple(laid))


def _next_to(last: BarPiece, piece: BarPiece, allowance: Allowance) -> float:
    return last.end + gap(last.trail, piece.lead, piece.section, allowance)


def bars_of(work: Sequence[Loaded], settings: Sequence[Sequence[Angles]], allowance: Allowance) -> tuple[Bar, ...]:
    """The bars of the plan; bars cut alike one after another are one entry."""
    single = [_bar(one, setting, allowance) for one, setting in zip(work, settings, strict=True)]
    groups = (list(group) for _, group in groupby(single))
    return tuple(attrs.evolve(group[0], count=len(group)) for group in groups)


def _bar(bar: Loaded, settings: Sequence[Angles], allowance: Allowance) -> Bar:
    section, grade = bar.section, bar.laid[0].item.grade
    cuts = tuple(_saw_cut(kerf, angles, section) for kerf, angles in zip(bar.kerfs(allowance), settings, strict=True))
    placed = tuple(Placed(one.item.mark, one.pose, one.piece.at) for one in bar.laid)
    found = setups.count(settings)
    steel = _steel(bar, cuts, allowance)
    drop = steel.drops + allowance.grip
    head = (section, grade, bar.length, 1, placed, drop)
    return Bar(*head, found.swings, found.rolls, bar.price, cuts, steel, found.tilts)


def _saw_cut(kerf: Kerf, angles: Angles, section: Section) -> SawCut:
    """Before a first or unshared leading cut the kerf lies in front of the face, else behind it."""
    fixed, moving = kerf.cut.sides(section)
    places = (kerf.face, kerf.face + fixed, kerf.face + moving, kerf.begin, kerf.end)
    return SawCut(*places, kerf.shared, kerf.cut, angles)


def _steel(bar: Loaded, cuts: Sequence[SawCut], allowance: Allowance) -> Steel:
    """The kerf of the first cut lies in the trim; the scrap it leaves of a mitered end counts as a wedge.

    Where two kerfs lie over each other the steel is gone once.
    """
    laid = [one.piece for one in bar.laid]
    kerf = sum(two.kerf_to - max(two.kerf_from, one.kerf_to) for one, two in pairwise(cuts))
    between = sum(two.at - one.end for one, two in pairwise(laid))
    last = cuts[-1].kerf_to - cuts[-1].kerf_from
    wedges = laid[0].lead.half_reach(bar.section) + between - (kerf - last)
    drops = bar.length - cuts[-1].kerf_to - allowance.grip
    pieces = sum(one.centerline for one in laid)
    return Steel(bar.length, pieces, kerf, wedges, allowance.trim, allowance.grip, drops)
