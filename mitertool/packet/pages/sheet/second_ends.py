"""Blanks that get their other end, a row each in the order of work, as the cuts of a bar; knows layout. Paper mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import attrs

from mitertool.drawing import OUTLINE, Drawing, Line, wrap
from mitertool.job.recuts import RecutRun
from mitertool.packet.floor.readings import reading_for
from mitertool.packet.floor.rows import turn_between
from mitertool.packet.floor.values import BarWork, CutRow, FloorSheet, ToMeasure
from mitertool.packet.pages.sheet.bar_rows import row_blocks
from mitertool.packet.pages.sheet.sizes import NOTE, ROW
from mitertool.packet.paper.layout import Block, cell, kept_together
from mitertool.packet.words import pose_words
from mitertool.quantity import Units, show_length
from mitertool.words import phrase

_TITLE: Final = 8.0
_PITCH: Final = 4.0
_GAP: Final = 4.0


def recut_blocks(recuts: Sequence[RecutRun], floor: FloorSheet, width: float) -> list[Block]:
    """How they are made and a row each; nothing where none are."""
    if not recuts:
        return []
    rows = tuple(_row(one, floor) for one in recuts)
    first = recuts[0].recut
    work = BarWork(0, first.section, first.grade, len(rows), rows)
    blocks = [_title(width), *row_blocks(work, floor.saw, floor.head.units, width)]
    blocks[-1] = attrs.evolve(blocks[-1], gap=_GAP)
    return kept_together(blocks)


def _title(width: float) -> Block:
    lines = wrap(phrase("sheet.second-how"), width, NOTE)
    texts = [cell(phrase("sheet.second-title"), (0, -6.2), width, ROW + 1.2, bold=True)]
    texts += [cell(line, (0, -_TITLE - _PITCH * (i + 1) + 1.0), width, NOTE) for i, line in enumerate(lines)]
    rule = Line((0, 0), (width, 0), OUTLINE)
    return Block(_TITLE + _PITCH * len(lines), Drawing([rule, *texts]), gap=0.0)


def _row(one: RecutRun, floor: FloorSheet) -> CutRow:
    """A recut as a row of so many cuts, with what is told of the blank in the place of a note."""
    recut = one.recut
    row = CutRow(
        numbers=tuple(range(1, recut.count + 1)),
        makes="piece",
        mark=recut.mark,
        reading=reading_for(one.reach, recut.cut.plane),
        sets=True,
        turn=turn_between(0.0, recut.angles.roll),
        stop=one.stop,
        first=_measured(recut.mark, floor),
    )
    note = "; ".join(_told(one, floor.head.units))
    return attrs.evolve(row, said=attrs.evolve(row.said, note=note))


def _told(one: RecutRun, units: Units) -> Iterator[str]:
    recut = one.recut
    yield phrase("sheet.second-blank", length=show_length(recut.blank, units))
    yield pose_words(recut.pose) or phrase("sheet.second-as-drawn")
    if one.stop is None or not one.stop.holds:
        fixed, moving = (show_length(x, units) for x in (recut.fixed, recut.moving))
        yield phrase("sheet.second-by-tape", fixed=fixed, moving=moving)


def _measured(mark: str, floor: FloorSheet) -> ToMeasure | None:
    """Its lengths to measure, where no bar finishes a piece of it."""
    if any(row.first and row.mark == mark for bar in floor.bars for row in bar.rows):
        return None
    piece = next(row.solved.piece for row in floor.pieces if row.mark == mark)
    return ToMeasure(mark, piece.long_point, piece.short_point, None)
