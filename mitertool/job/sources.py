"""Where every bar of a plan comes from: bought, off the rack, off a piece that is recut, or left before; values."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

import attrs

from mitertool import rack as racks
from mitertool.job.recut_pieces import RecutPiece
from mitertool.quantity.compare import same_length

if TYPE_CHECKING:
    from mitertool.nest import Plan
    from mitertool.rack import RackBar


@attrs.frozen
class Source:
    """A bar of a plan by its number, and which of those cut alike: the left-over of the `rack` that it is, or None.

    `recut` is the number of a recut off which it comes, "" for none; `new` whether it is of new steel. `heat` is that
    of either left-over, "" where it is not told.
    """

    number: int
    copy: int
    rack: RackBar | None = None
    recut: str = ""
    new: bool = False
    heat: str = ""


def sources(
    plan: Plan, rack: tuple[RackBar, ...], again: Iterable[RecutPiece]
) -> tuple[tuple[Source, ...], tuple[tuple[RecutPiece, RackBar], ...]]:
    """Every bar of a plan with where it comes from, and the off-cuts of recut pieces that no bar is made of."""
    off = list(_off(again))
    found: list[Source] = []
    for number, copy, own in racks.taken_by(plan, rack):
        bar = plan.bars[number - 1]
        name, grade, length = bar.section.one_bar.name, bar.grade, bar.stock_length
        like = (
            one for one in off if (one[1].section, one[1].grade) == (name, grade) and same_length(one[1].square, length)
        )
        cut = next(like, None) if own is None and not bar.price else None
        if cut:
            off.remove(cut)
        heat = own.heat if own else cut[1].heat if cut else ""
        found.append(Source(number, copy, own, cut[0].called if cut else "", bool(bar.price), heat))
    return tuple(found), tuple(off)


def _off(again: Iterable[RecutPiece]) -> Iterator[tuple[RecutPiece, RackBar]]:
    yield from ((one, bar) for one in again for _ in range(one.offer.count) for bar in one.off_cuts)
