"""Blanks that get their other end, a row each in the order of work, as the cuts of a bar; knows layout. Paper mm."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import attrs

from mitertool.drawing import OUTLINE, Drawing, Line, wrap
from mitertool.packet.floor.values import BarWork, FloorSheet, SecondEnds
from mitertool.packet.pages.sheet.bar_rows import row_blocks
from mitertool.packet.pages.sheet.sizes import NOTE, ROW
from mitertool.packet.paper.layout import Block, cell, kept_together
from mitertool.words import phrase

_TITLE: Final = 8.0
_PITCH: Final = 4.0
_GAP: Final = 4.0


def second_end_blocks(after: Sequence[SecondEnds], floor: FloorSheet, width: float) -> list[Block]:
    """How they are made and a row each; nothing where none are."""
    if not after:
        return []
    work = BarWork(0, after[0].section, after[0].grade, len(after), tuple(one.row for one in after))
    blocks = [_title(width), *row_blocks(work, floor.saw, floor.head.units, width)]
    blocks[-1] = attrs.evolve(blocks[-1], gap=_GAP)
    return kept_together(blocks)


def _title(width: float) -> Block:
    lines = wrap(phrase("sheet.second-how"), width, NOTE)
    texts = [cell(phrase("sheet.second-title"), (0, -6.2), width, ROW + 1.2, bold=True)]
    texts += [cell(line, (0, -_TITLE - _PITCH * (i + 1) + 1.0), width, NOTE) for i, line in enumerate(lines)]
    rule = Line((0, 0), (width, 0), OUTLINE)
    return Block(_TITLE + _PITCH * len(lines), Drawing([rule, *texts]), gap=0.0)
