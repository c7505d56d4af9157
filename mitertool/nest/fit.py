"""How many pieces of one kind a bar gives, and how they lie on it; knows tight and solver."""

from __future__ import annotations

import attrs

from mitertool.bar import Allowance
from mitertool.nest.assemble import Loader, Waiting
from mitertool.nest.lots import FULL, Lot, Pattern, Walk, lots
from mitertool.nest.plan import Item, Placed, Stock
from mitertool.nest.solver import solve
from mitertool.nest.tight import tightest
from mitertool.piece import Piece


@attrs.frozen
class FullBar:
    """A bar of a length (mm) with as many pieces as it gives, in the order that leaves the most of it.

    `left_over` is what stays behind the last kerf, the grip with it, at its shortest and at its longest line, mm.
    `tip_to_tip` is how many pieces it would be with each counted from tip to tip and its kerf.
    """

    length: float
    pieces: tuple[Placed, ...]
    left_over: tuple[float, float]
    tip_to_tip: int

    @property
    def count(self) -> int:
        """Pieces on the bar."""
        return len(self.pieces)

    @property
    def used(self) -> float:
        """From the bar's leading end to where the last kerf ends, at its furthest, mm."""
        return self.length - self.left_over[0]


def how_many(piece: Piece, length: float, allowance: Allowance, *, turn: tuple[str, ...] = ()) -> FullBar:
    """The most pieces that a bar of a length (mm) gives; of several orders the one with the longest usable left-over.

    `turn` holds the poses that a piece may take (empty: all that its section allows). Raises `NoBars` where the bar is
    too short for one, `BadInput` for poses that the section does not allow.

    >>> flat = mt.flat(80, 12)
    >>> mt.nest.how_many(mt.Piece(flat, 1000), 6000, mt.nest.Allowance(kerf=2)).count
    5
    """
    item, stock = Item(piece.section.name, piece, 1, turn=turn), Stock(piece.section.name, length)
    solve([item], [stock], allowance, effort=0.0)
    (lot,) = lots([item], [stock], allowance)
    walk = _fullest(lot)
    (many,) = lots([attrs.evolve(item, quantity=len(walk))], [stock], allowance)
    bar = Waiting(many, Loader(allowance)).load(Pattern(0, walk))
    last = bar.kerfs(allowance)[-1]
    rest, reach = length - last.end, last.cut.half_reach(piece.section)
    placed = tuple(Placed(one.item.mark, one.pose, one.piece.at) for one in bar.laid)
    return FullBar(length, placed, (rest - reach, rest + reach), _tip_to_tip(lot))


def _fullest(lot: Lot) -> Walk:
    """The walk with the most pieces: no bar takes more by weight, and leaving a piece out never lengthens one."""
    (kind,) = lot.kinds
    fits, too_many = 1, int((lot.capacity[0] + FULL) / lot.weights[0]) + 1
    best = tightest(lot, (kind.ways[0],))
    while too_many - fits > 1:
        middle = (fits + too_many) // 2
        walk = tightest(lot, (kind.ways[0],) * middle)
        fits, too_many = (middle, too_many) if lot.fits(walk, 0) else (fits, middle)
        best = walk if fits == middle else best
    return best


def _tip_to_tip(lot: Lot) -> int:
    """Each piece from tip to tip with a kerf behind it, none shared and none under another."""
    (kind,) = lot.kinds
    alone = min(lot.ends[way.before].lead + kind.length + lot.ends[way.after].trail for way in kind.ways)
    return int((lot.capacity[0] + FULL) / alone)
