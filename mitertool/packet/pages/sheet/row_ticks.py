"""The left of a row: the numbers of its cuts, a box to tick for each, and the bracket of rounds. Paper mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import attrs

from mitertool.base.totals import summed
from mitertool.drawing import THIN, Drawing, Entity, Polygon, Text, text_width, wrap
from mitertool.packet.floor.values import CutRow
from mitertool.packet.pages.sheet import figures
from mitertool.packet.pages.sheet.arrows import again_arrow
from mitertool.packet.pages.sheet.sizes import NOTE, ROW
from mitertool.packet.paper.layout import LEAST, Block, cell
from mitertool.words import phrase

CUTS, BOXES, TURN = 7.4, 20.4, 40.6
"""Where the columns of the numbers, the boxes and what is rolled begin."""

TALL, SMALL = 10.4, 3.7
"""Height of a row without small lines, and the pitch of those."""

_NUMBERS: Final = ROW - 0.3

_BOX, _BOXED, _BOX_ROW = 3.2, 10, 5
"""Size of a box to tick; how many stand in a row at most, and beside each other."""

_LARGE, _LARGE_ROW = 4.3, 6
"""Size of a box with a number in it, and how many stand beside each other."""


def ticks(row: CutRow, numbered: bool) -> Drawing:
    """The numbers of the cuts, a box to tick for each, in rounds with its number in it; of many a blank to count in."""
    if numbered and len(row.numbers) <= _BOXED:
        return Drawing(_numbered_boxes(row.numbers))
    lines = wrap(figures.numbers_told(row.numbers), BOXES - CUTS - 0.5, _NUMBERS)
    texts = [
        cell(line, (CUTS, -6.4 - SMALL * 1.15 * i), BOXES - CUTS - 0.5, _NUMBERS, bold=True)
        for i, line in enumerate(lines)
    ]
    if len(row.numbers) > _BOXED:
        says = phrase("sheet.count-of", count=len(row.numbers))
        return Drawing([*texts, cell(says, (BOXES, -6.4), TURN - BOXES - 1, NOTE)])
    return Drawing([*texts, *_boxes(len(row.numbers))])


def under_ticks(row: CutRow, ticked: Drawing, orders: Sequence[str] = ()) -> Drawing:
    """Below the boxes: how a bar is rolled before these cuts, and in which order those of rounds are made.

    The latter is the first of `orders` that has room, which tell the same in less; in lines where the last has none.
    """
    turns = figures.roll_words(row)
    low = min(_UNDER_TURN if turns else _UNDER, ticked.bounds()[1] - _APART)
    texts = [cell(turns, (CUTS, low), _ROLLED_TO - CUTS, NOTE, "right")] if turns else list(_marked(row))
    fits = [says for says in orders if text_width(says, LEAST) <= _ORDER][:1]
    for line in fits or (wrap(orders[-1], _ORDER, NOTE) if orders else ()):
        texts.append(cell(line, (CUTS, low - SMALL * len(texts)), _ORDER, NOTE))
    return Drawing(texts)


def _marked(row: CutRow) -> Iterator[Text]:
    """Before the picture of a roll that is told of no other cut of the row: that the bar is marked for it."""
    left = BOXES + _BOX + 1.5
    for says in () if row.several else figures.mark_round_words(row):
        for i, line in enumerate(wrap(says, _MARKED, NOTE)):
            yield cell(line, (left, -3.9 - SMALL * i), TURN - left - 2.0, NOTE, "right")


_MARKED: Final = 12.0
"""Narrower than all of it, so that it stands in two lines beside the picture."""

_UNDER, _UNDER_TURN, _APART = -10.6, -11.4, 3.5
"""Where lines stand below boxes, and below what is told of a roll, and how far below what is lower than those."""

_ORDER, _ROLLED_TO = 45.0, 53.8
"""How wide the order of rounds is, and where the column of what is rolled ends."""


def _boxes(count: int) -> Iterator[Entity]:
    for i in range(count):
        low = -1.0 - (_BOX + 0.7) * (i // _BOX_ROW) - (0 if count > _BOX_ROW else 2.2)
        yield _box(BOXES + (_BOX + 0.8) * (i % _BOX_ROW), low, _BOX)


def _numbered_boxes(numbers: Sequence[int]) -> Iterator[Entity]:
    """Larger boxes in place of the numbers, each with the number of its cut in it."""
    for i, number in enumerate(numbers):
        x, y = CUTS + (_LARGE + 0.8) * (i % _LARGE_ROW), -2.8 - (_LARGE + 0.8) * (i // _LARGE_ROW)
        yield _box(x, y, _LARGE)
        yield Text((x + _LARGE / 2, y - _LARGE / 2), str(number), LEAST, "center", "middle", 0.0, bold=True)


def _box(x: float, top: float, size: float) -> Polygon:
    return Polygon([(x, top), (x + size, top), (x + size, top - size), (x, top - size)], THIN)


def again(rows: Sequence[Block], rounds: str) -> list[Block]:
    """Rows that are gone through in turn, kept together, with a bracket at their left and how many rounds."""
    deep = summed(row.height for row in rows)
    says = Text((CUTS - 2.4, -deep / 2), rounds, NOTE, "center", "baseline", 90.0, True)
    bracket = again_arrow(deep - 3).moved(0.3, -1.5)
    first = attrs.evolve(rows[0], drawing=rows[0].drawing + bracket + Drawing([says]))
    return [*(attrs.evolve(row, keep_with_next=True) for row in (first, *rows[1:-1])), rows[-1]]
