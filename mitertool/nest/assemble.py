"""From the bars of the search to the bars of the plan: marks, places, cuts, set-ups, steel; knows lots and setups.

Everything is measured anew from the pieces themselves, in mm.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby, pairwise

import attrs

from mitertool.nest import setups
from mitertool.nest.lots import Cutting, Lot, on_bar
from mitertool.nest.plan import Allowance, Bar, Item, Placed, SawCut, Steel
from mitertool.nest.setups import Setting
from mitertool.nest.spacing import Slope, half_reach, joint, left_slope, right_slope, start
from mitertool.piece import Piece


@attrs.frozen
class Laid:
    """A piece as it lies on a bar, its leading cut at `at` (mm, centerline); its leading end counts as the left one."""

    item: Item
    pose: str
    piece: Piece
    at: float

    @property
    def end(self) -> float:
        """Where its trailing cut crosses the centerline, mm."""
        return self.at + self.piece.centerline


@attrs.frozen
class Loaded:
    """A bar of a length with its pieces."""

    length: float
    price: float
    laid: tuple[Laid, ...]


@attrs.frozen
class Plane:
    """A cut of a bar before it is set: where it is, its slope, and whether a piece lies behind or before it."""

    at: float
    slope: Slope
    before: bool
    after: bool


def loaded(lot: Lot, bars: Sequence[Cutting], allowance: Allowance) -> Iterator[Loaded]:
    """The bars with marks on them; marks of one kind are used up one after another."""
    waiting = [iter([member for member in kind.members for _ in range(member.item.quantity)]) for kind in lot.kinds]
    for bar in bars:
        laid: list[Laid] = []
        for way in bar.walk:
            member = next(waiting[way.kind])
            pose = member.poses[way.before, way.after]
            piece = on_bar(member.item, pose, allowance)
            at = laid[-1].end + joint(laid[-1].piece, piece, allowance) if laid else start(piece, allowance)
            laid.append(Laid(member.item, pose, piece, at))
        stock = lot.stock[bar.stock]
        yield Loaded(stock.length, stock.price, tuple(laid))


def planes(bar: Loaded) -> list[Plane]:
    """The cuts of a bar in order, shared ones once."""
    first, last = bar.laid[0], bar.laid[-1]
    found = [Plane(first.at, left_slope(first.piece), False, True)]
    for one, two in pairwise(bar.laid):
        a, b = right_slope(one.piece), left_slope(two.piece)
        if a.parallel(b):
            found.append(Plane(one.end, a, True, True))
        else:
            found += [Plane(one.end, a, True, False), Plane(two.at, b, False, True)]
    return [*found, Plane(last.end, right_slope(last.piece), True, False)]


def bars_of(work: Sequence[Loaded], settings: Sequence[Sequence[Setting]], allowance: Allowance) -> tuple[Bar, ...]:
    """The bars of the plan; bars cut alike one after another are one entry."""
    single = [_bar(one, setting, allowance) for one, setting in zip(work, settings, strict=True)]
    groups = (list(group) for _, group in groupby(single))
    return tuple(attrs.evolve(group[0], count=len(group)) for group in groups)


def _bar(bar: Loaded, settings: Sequence[Setting], allowance: Allowance) -> Bar:
    section, grade = bar.laid[0].piece.section, bar.laid[0].item.grade
    cuts = tuple(_saw_cut(plane, setting, bar, allowance) for plane, setting in zip(planes(bar), settings, strict=True))
    placed = tuple(Placed(one.item.mark, one.pose, one.at) for one in bar.laid)
    found = setups.count(settings)
    steel = _steel(bar, cuts, allowance)
    drop = steel.drops + allowance.grip
    head = (section, grade, bar.length, 1, placed, drop)
    return Bar(*head, found.swings, found.rolls, bar.price, cuts, steel, found.tilts)


def _saw_cut(plane: Plane, setting: Setting, bar: Loaded, allowance: Allowance) -> SawCut:
    """Before a first or unshared leading cut the kerf lies in front of the face, else behind it."""
    section, kerf = bar.laid[0].piece.section, plane.slope.kerf_along(allowance.kerf)
    across, up = plane.slope.p * section.width / 2, plane.slope.q * section.height / 2
    begin = plane.at if plane.before else plane.at - kerf
    shared = plane.before and plane.after
    return SawCut(
        *(plane.at, plane.at - across - up, plane.at + across - up, begin, begin + kerf, shared),
        *(setting.swing, setting.tilt, setting.roll),
    )


def _steel(bar: Loaded, cuts: Sequence[SawCut], allowance: Allowance) -> Steel:
    """The kerf of the first cut lies in the trim; the scrap it leaves of a mitered end counts as a wedge."""
    pieces = sum(one.piece.centerline for one in bar.laid)
    kerf = sum(cut.kerf_to - cut.kerf_from for cut in cuts[1:])
    between = sum(two.at - one.end for one, two in pairwise(bar.laid))
    last = cuts[-1].kerf_to - cuts[-1].kerf_from
    first = half_reach(left_slope(bar.laid[0].piece), bar.laid[0].piece.section)
    wedges = first + between - (kerf - last)
    drops = bar.length - cuts[-1].kerf_to - allowance.grip
    return Steel(bar.length, pieces, kerf, wedges, allowance.trim, allowance.grip, drops)
