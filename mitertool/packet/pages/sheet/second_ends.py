"""Blanks that get their other end, a row each in the order of work, as the cuts of a bar; knows layout. Paper mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import Final

import attrs

from mitertool.drawing import OUTLINE, Drawing, Line, wrap
from mitertool.packet.floor.values import BarWork, FloorSheet, SecondEnds
from mitertool.packet.pages.sheet.bar_rows import row_blocks
from mitertool.packet.pages.sheet.sizes import NOTE, ROW
from mitertool.packet.paper.layout import Block, cell, kept_together
from mitertool.packet.words import section_words
from mitertool.words import phrase

_TITLE: Final = 8.0
_PITCH: Final = 4.0
_GAP: Final = 4.0


def second_end_blocks(after: Sequence[SecondEnds], floor: FloorSheet, width: float) -> list[Block]:
    """How they are made and a row each; nothing where none are."""
    return _blocks(after, _title(phrase("sheet.second-title"), phrase("sheet.second-how"), width), floor, width)


def recut_blocks(floor: FloorSheet, width: float) -> Iterator[Block]:
    """Pieces that are cut already and become others, a row each cut, by their sections."""
    for section, rows in groupby(floor.recut_pieces, key=lambda one: section_words(one.section)):
        title = phrase("rest.recut-title", section=section)
        yield from _blocks(tuple(rows), _title(title, phrase("rest.recut-how"), width), floor, width)


def _blocks(after: Sequence[SecondEnds], title: Block, floor: FloorSheet, width: float) -> list[Block]:
    if not after:
        return []
    work = BarWork(0, after[0].section, after[0].grade, len(after), tuple(one.row for one in after))
    blocks = [title, *row_blocks(work, floor.saw, floor.head.units, width)]
    blocks[-1] = attrs.evolve(blocks[-1], gap=_GAP)
    return kept_together(blocks)


def _title(title: str, how: str, width: float) -> Block:
    lines = wrap(how, width, NOTE)
    texts = [cell(title, (0, -6.2), width, ROW + 1.2, bold=True)]
    texts += [cell(line, (0, -_TITLE - _PITCH * (i + 1) + 1.0), width, NOTE) for i, line in enumerate(lines)]
    rule = Line((0, 0), (width, 0), OUTLINE)
    return Block(_TITLE + _PITCH * len(lines), Drawing([rule, *texts]), keep_with_next=True, gap=0.0)
