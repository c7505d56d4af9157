"""From the bars of the search to the bars of the plan: marks, places, cuts, set-ups, steel; knows lots and setups.

Everything is measured anew from the pieces themselves, in mm.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Any

import attrs

from mitertool.bar import Allowance, Angles, BarCut, BarPiece, Kerf, kerfs_of, roll_to
from mitertool.bar.spacing import before, gap
from mitertool.base.totals import summed
from mitertool.nest import setups
from mitertool.nest.lots import KindMember, Lot, Pattern, Walk, on_bar
from mitertool.nest.plan import Bar, Item, Placed, SawCut, Steel, Stock
from mitertool.sections import Section


@attrs.frozen
class LaidPiece:
    """What lies on a bar: which item, in which pose, and as a piece of the bar in its place.

    `lay` is how far the bar is rolled (degrees) until it lies as drawn, and `own` the piece as it lies then.
    """

    item: Item
    pose: str
    piece: BarPiece
    own: BarPiece
    lay: float = 0.0


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


class Loader:
    """Bars with marks on them: each piece is laid in a pose once, and each bar put together once."""

    def __init__(self, allowance: Allowance) -> None:
        self.allowance = allowance
        self._own: dict[tuple[int, str], tuple[Item, BarPiece]] = {}
        self._bars: dict[tuple[Any, ...], Loaded] = {}

    def bar(self, stock: Stock, members: Sequence[KindMember], walk: Walk) -> Loaded:
        """A bar of a stock with these marks on it, laid as the walk says."""
        poses = [m.poses[way.before, way.after] for m, way in zip(members, walk, strict=True)]
        key = (stock.length, stock.price, *((id(m.item), pose) for m, pose in zip(members, poses, strict=True)))
        if key not in self._bars:
            owns = [self._as_drawn(m.item, pose) for m, pose in zip(members, poses, strict=True)]
            laid = laid_on([m.item for m in members], poses, owns, self.allowance)
            self._bars[key] = Loaded(stock.length, stock.price, tuple(laid))
        return self._bars[key]

    def _as_drawn(self, item: Item, pose: str) -> BarPiece:
        key = id(item), pose
        if key not in self._own:
            self._own[key] = item, on_bar(item, pose, self.allowance)
        return self._own[key][1]


class Waiting:
    """The marks of a lot that are not on a bar yet; those of one kind are used up one after another."""

    def __init__(self, lot: Lot, loader: Loader) -> None:
        self.lot, self.loader = lot, loader
        self._marks = [iter([m for m in kind.members for _ in range(m.item.quantity)]) for kind in lot.kinds]

    def load(self, bar: Pattern) -> Loaded:
        """A bar with marks on it."""
        return self.loader.bar(self.lot.stock[bar.stock], [next(self._marks[way.kind]) for way in bar.walk], bar.walk)


def laid_on(
    items: Sequence[Item], poses: Sequence[str], owns: Sequence[BarPiece], allowance: Allowance
) -> Iterator[LaidPiece]:
    """Pieces one behind another on a bar that lies as the first of them."""
    section, last = owns[0].section, None
    for item, pose, own in zip(items, poses, owns, strict=True):
        lay = 0.0 if own.section is section else roll_to(section, own.section)
        assert lay is not None, "no roll leads to the lay of a piece on the bar"
        piece = own.lying(section, lay)
        at = before(piece.lead, section, allowance) if last is None else _next_to(last, piece, allowance)
        last = attrs.evolve(piece, at=at)
        yield LaidPiece(item, pose, last, own, lay)


def _next_to(last: BarPiece, piece: BarPiece, allowance: Allowance) -> float:
    return last.end + gap(last.trail, piece.lead, piece.section, allowance)


def turn_of(bar: Loaded, found: setups.Settings, allowance: Allowance, over: bool, heavy: bool) -> setups.Laying:
    """The bar as it is laid on the saw; `over`: laid half a turn over it is the same bar."""
    asked = list(_sides(bar, allowance))
    plain = [[found.of(cut, bar.section, lay) for cut, lay in one] for one in asked]
    stood = setups.odd_rolls(options for one in plain for options in one)
    stood = tuple(dict.fromkeys((0.0, *stood, *(one.lay for one in bar.laid))))
    cuts = (
        tuple(dict.fromkeys(way for cut, lay in one for way in found.of(cut, bar.section, lay, stood))) for one in asked
    )
    return setups.Laying(tuple(cuts), (0.0, 180.0) if over else (0.0,), heavy)


def _sides(bar: Loaded, allowance: Allowance) -> Iterator[list[tuple[BarCut, float]]]:
    """Of each kerf the cuts of the pieces on either side, as those lie, and how far the bar is rolled until they do."""
    by_piece = {id(one.piece): one for one in bar.laid}
    for kerf in bar.kerfs(allowance):
        before, behind = (by_piece.get(id(piece)) for piece in (kerf.before, kerf.behind))
        yield [
            *([(before.own.trail, before.lay)] if before else []),
            *([(behind.own.lead, behind.lay)] if behind else []),
        ]


def bar_of(bar: Loaded, settings: Sequence[Angles], allowance: Allowance) -> Bar:
    """The bar of the plan, its cuts so set."""
    section, grade = bar.section, bar.laid[0].item.grade
    cuts = tuple(_saw_cut(kerf, angles, section) for kerf, angles in zip(bar.kerfs(allowance), settings, strict=True))
    found = setups.count(settings)
    steel = _steel(bar, cuts, allowance)
    drop = steel.drops + allowance.grip
    head = (section, grade, bar.length, 1, tuple(map(_placed, bar.laid)), drop)
    return Bar(*head, found.swings, found.rolls, bar.price, cuts, steel, found.tilts)


def _placed(one: LaidPiece) -> Placed:
    blank = one.piece.centerline if one.item.recut else 0.0
    return Placed(one.item.mark, one.pose, one.piece.at, one.lay, one.item.recut, blank)


def _saw_cut(kerf: Kerf, angles: Angles, section: Section) -> SawCut:
    """Before a first or unshared leading cut the kerf lies in front of the face, else behind it."""
    fixed, moving = kerf.cut.sides(section)
    places = (kerf.face, kerf.face + fixed, kerf.face + moving, kerf.begin, kerf.end)
    return SawCut(*places, kerf.shared, kerf.cut, angles)


def _steel(bar: Loaded, cuts: Sequence[SawCut], allowance: Allowance) -> Steel:
    """The kerf of the first cut lies in the trim; the scrap it leaves of a mitered end counts as a wedge.

    What a recut takes of a blank counts with the bar that the blank is cut from.
    Where two kerfs lie over each other the steel is gone once.
    """
    laid = [one.piece for one in bar.laid]
    kerf = summed(two.kerf_to - max(two.kerf_from, one.kerf_to) for one, two in pairwise(cuts))
    between = summed(two.at - one.end for one, two in pairwise(laid))
    last = cuts[-1].kerf_to - cuts[-1].kerf_from
    wedges = laid[0].lead.half_reach(bar.section) + between - (kerf - last)
    drops = bar.length - cuts[-1].kerf_to - allowance.grip
    pieces = summed(one.centerline for one in laid)
    recut = [_recut(one.item, allowance) for one in bar.laid if one.item.recut]
    off, kerfs = summed(one for one, _ in recut), summed(one for _, one in recut)
    steel = (pieces - off, kerf + kerfs, wedges + off - kerfs)
    return Steel(bar.length, *steel, allowance.trim, allowance.grip, drops)


def _recut(item: Item, allowance: Allowance) -> tuple[float, float]:
    """What a recut takes off a blank on the centerline, and its kerf in it, mm."""
    assert item.whole is not None
    cut = item.whole.left if item.recut == "left" else item.whole.right
    return item.piece.centerline - item.whole.centerline, cut.kerf_along(allowance.kerf)


def counted_together(bars: Sequence[Bar], ends: Sequence[int]) -> tuple[tuple[Bar, ...], tuple[int, ...]]:
    """Bars cut alike one after another as one entry; `ends` are numbers of bars at which none goes on.

    Also how many entries stand before each of `ends`.
    """
    entries: list[Bar] = []
    before: dict[int, int] = {}
    for number, bar in enumerate(bars):
        before[number] = len(entries)
        if entries and number not in ends and attrs.evolve(entries[-1], count=1) == bar:
            entries[-1] = attrs.evolve(entries[-1], count=entries[-1].count + 1)
        else:
            entries.append(bar)
    before[len(bars)] = len(entries)
    return tuple(entries), tuple(before[end] for end in ends)
