"""How a fresh bar is laid on the saw: where its section looks the same half a turn over, as its first cut is set.

Nobody can roll such a bar before its first cut: it has no top yet. So no roll is told then, and the pieces are said to
lie as they come off; strip and tape marks are those of the bar on the saw.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import attrs

from mitertool.bar import Allowance, Angles, short_way
from mitertool.base.tolerances import SAME_SETTING
from mitertool.nest.assemble import LaidPiece, Loaded
from mitertool.nest.lots import on_bar
from mitertool.nest.plan import Item
from mitertool.nest.setups import rolled_on
from mitertool.piece.poses import HALF_OVER
from mitertool.sections import Section

_HALF: Final = 180.0


def as_first_set(bar: Loaded, settings: Sequence[Angles], allowance: Allowance) -> tuple[Loaded, Sequence[Angles]]:
    """The bar and the settings of its cuts, half a turn over where that spares a roll that nobody would see."""
    if not alike_over(bar) or abs(abs(short_way(settings[0].roll)) - _HALF) > SAME_SETTING:
        return bar, settings
    laid = tuple(_over(one, allowance) for one in bar.laid)
    return attrs.evolve(bar, laid=laid), [rolled_on(setting, _HALF) for setting in settings]


def alike_over(bar: Loaded) -> bool:
    """Whether a bar laid half a turn over about its own axis is the same bar, its pieces in other poses."""
    return all(may_lie_over(one.item, one.pose, bar.section) for one in bar.laid)


def may_lie_over(item: Item, pose: str, section: Section) -> bool:
    """Whether a piece in a pose on a bar that lies as `section` may lie half a turn over, and that looks the same."""
    return "half-turn" in section.symmetry and HALF_OVER[pose] in item.poses


def _over(one: LaidPiece, allowance: Allowance) -> LaidPiece:
    pose = HALF_OVER[one.pose]
    own = on_bar(one.item, pose, allowance)
    piece = attrs.evolve(own.lying(one.piece.section, one.lay), at=one.piece.at)
    return attrs.evolve(one, pose=pose, piece=piece, own=own)
