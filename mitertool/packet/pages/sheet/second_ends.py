"""Blanks that get their other end, a row each in the order of work, as the cuts of a bar; knows layout. Paper mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import Final

import attrs

from mitertool.drawing import OUTLINE, Drawing, Line, wrap
from mitertool.packet.floor.guides import with_guides
from mitertool.packet.floor.set_backs import set_backs_of
from mitertool.packet.floor.values import BarWork, FloorSheet, SecondEnds
from mitertool.packet.pages import said
from mitertool.packet.pages.sheet.bar_panel import stands_words
from mitertool.packet.pages.sheet.bar_plan import sizes_of
from mitertool.packet.pages.sheet.bar_rows import NOWHERE, OnPage, row_blocks
from mitertool.packet.pages.sheet.rolled_block import rolled_blocks
from mitertool.packet.pages.sheet.sizes import NOTE, ROW
from mitertool.packet.paper.layout import Block, cell, kept_together
from mitertool.packet.words import section_words
from mitertool.quantity import Units
from mitertool.words import phrase

_TITLE: Final = 8.0
_PITCH: Final = 4.0
_GAP: Final = 4.0


def second_end_blocks(
    after: Sequence[SecondEnds], floor: FloorSheet, width: float, marked: OnPage = NOWHERE
) -> list[Block]:
    """How they are made and a row each; nothing where none are. `marked` is as for a bar."""
    return _blocks(
        after, _title(phrase("sheet.second-title"), _how("sheet.second-how", floor), width), floor, width, marked
    )


def recut_blocks(floor: FloorSheet, width: float) -> Iterator[Block]:
    """Pieces that are cut already and become others, a row each cut, by their sections."""
    for section, rows in groupby(floor.recut_pieces, key=lambda one: section_words(one.section)):
        title = phrase("rest.recut-title", section=section)
        yield from _blocks(tuple(rows), _title(title, _how("rest.recut-how", floor), width), floor, width)


def _how(code: str, floor: FloorSheet) -> str:
    """How they lie and against what: without a saw no stop is known."""
    return phrase(code if floor.saw else f"{code}/plain")


def _blocks(
    after: Sequence[SecondEnds], title: Block, floor: FloorSheet, width: float, marked: OnPage = NOWHERE
) -> list[Block]:
    if not after:
        return []
    work, units = second_work(after), floor.head.units
    told = [block for says in set_words(work, units) for block in _told(says, width)]
    blocks = [title, *told, *rolled_blocks(work, units, width), *row_blocks(work, floor.saw, units, width, marked)]
    blocks[-1] = attrs.evolve(blocks[-1], gap=_GAP)
    return kept_together(blocks)


def second_work(after: Sequence[SecondEnds]) -> BarWork:
    """Second ends that are cut one after the other, as the work of one bar, with all that is set for any of them."""
    settings = tuple(one.setting for one in after if one.setting)
    backs = tuple(set_backs_of([one.reach for one in settings if one.reach.ok]))
    rows = tuple(one.row for one in after)
    work = BarWork(0, after[0].section, after[0].grade, len(after), rows, settings=settings, set_backs=backs)
    return with_guides(work)


def set_words(work: BarWork, units: Units) -> Iterator[str]:
    """What must stand back, where the guides stand and how high the arm is lifted, for all of them."""
    saw = work.settings[0].reach.setting.saw if work.settings else None
    names = said.things(saw) if saw else {}
    backs = [
        f"{names[size.back.name]} {shown}"
        for size in sizes_of(work)
        if (shown := said.set_back(size.back, units)) and size.is_set
    ]
    words = [
        *([phrase("sheet.second-back", what=", ".join(backs))] if backs else []),
        *stands_words(work, units),
    ]
    if words:
        yield phrase("sheet.second-set", what="; ".join(words))


def _told(says: str, width: float) -> Iterator[Block]:
    lines = wrap(says, width, NOTE, bold=True)
    texts = [cell(line, (0, -_PITCH * (i + 1) + 1.0), width, NOTE, bold=True) for i, line in enumerate(lines)]
    yield Block(_PITCH * len(lines), Drawing(texts), keep_with_next=True, gap=0.6)


def _title(title: str, how: str, width: float) -> Block:
    lines = wrap(how, width, NOTE)
    texts = [cell(title, (0, -6.2), width, ROW + 1.2, bold=True)]
    texts += [cell(line, (0, -_TITLE - _PITCH * (i + 1) + 1.0), width, NOTE) for i, line in enumerate(lines)]
    rule = Line((0, 0), (width, 0), OUTLINE)
    return Block(_TITLE + _PITCH * len(lines), Drawing([rule, *texts]), keep_with_next=True, gap=0.0)
