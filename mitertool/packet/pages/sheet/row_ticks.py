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

_LARGE, _LARGE_ROW = 4.3, 4
"""Size of a box with a number in it, and how many stand beside each other."""


def ticks(row: CutRow, numbered: bool) -> Drawing:
    """The numbers of the cuts and a box to tick for each, in rounds with its number in it; a blank to count in many."""
    lines = wrap(figures.numbers_told(row.numbers), BOXES - CUTS - 0.5, _NUMBERS)
    texts = [
        cell(line, (CUTS, -6.4 - SMALL * 1.15 * i), BOXES - CUTS - 0.5, _NUMBERS, bold=True)
        for i, line in enumerate(lines)
    ]
    if len(row.numbers) > _BOXED:
        says = phrase("sheet.count-of", count=len(row.numbers))
        return Drawing([*texts, cell(says, (BOXES, -6.4), TURN - BOXES - 1, NOTE)])
    return Drawing([*texts, *(_numbered_boxes(row.numbers) if numbered else _boxes(len(row.numbers)))])


def _boxes(count: int) -> Iterator[Entity]:
    for i in range(count):
        low = -1.0 - (_BOX + 0.7) * (i // _BOX_ROW) - (0 if count > _BOX_ROW else 2.2)
        yield _box(BOXES + (_BOX + 0.8) * (i % _BOX_ROW), low, _BOX)


def _numbered_boxes(numbers: Sequence[int]) -> Iterator[Entity]:
    """Larger boxes, each with the number of its cut in it."""
    deep = -(-len(numbers) // _LARGE_ROW)
    for i, number in enumerate(numbers):
        x, y = BOXES + (_LARGE + 0.6) * (i % _LARGE_ROW), -0.9 - (_LARGE + 0.6) * (i // _LARGE_ROW)
        y -= 1.9 if deep == 1 else 0.0
        yield _box(x, y, _LARGE)
        yield Text((x + _LARGE / 2, y - _LARGE / 2), str(number), LEAST, "center", "middle")


def _box(x: float, top: float, size: float) -> Polygon:
    return Polygon([(x, top), (x + size, top), (x + size, top - size), (x, top - size)], THIN)


def again(rows: Sequence[Block], rounds: str, orders: Sequence[str]) -> list[Block]:
    """Rows that are gone through in turn, kept together, with a bracket at their left, how many rounds and their cuts.

    Of the `orders`, which tell the same in less and less, the first that has room.
    """
    deep = summed(row.height for row in rows)
    fits = next((one for one in orders if text_width(one, LEAST, bold=True) <= deep - _HEAD), "")
    lines = zip((rounds, fits), _BESIDE_BRACKET, strict=True)
    texts = [Text((x, -deep / 2), says, LEAST, "center", "baseline", 90.0, True) for says, x in lines if says]
    bracket = again_arrow(deep - 3).moved(0.3, -1.5)
    first = attrs.evolve(rows[0], drawing=rows[0].drawing + bracket + Drawing(texts))
    return [*(attrs.evolve(row, keep_with_next=True) for row in (first, *rows[1:-1])), rows[-1]]


_BESIDE_BRACKET: Final = (2.95, 6.15)
"""Where the two lines beside a bracket stand."""

_HEAD: Final = 8.0
"""Paper mm of a bracket that its ends take."""
