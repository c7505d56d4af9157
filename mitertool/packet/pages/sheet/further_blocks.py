"""The further cuts of pieces with more than one plane at an end, a row each, in the order of work; paper mm."""

from __future__ import annotations

from typing import Final

import attrs

from mitertool.drawing import THIN, Drawing, Line, wrap
from mitertool.job import SolvedPiece
from mitertool.job.further import FurtherRow
from mitertool.packet.floor.readings import reading_for
from mitertool.packet.floor.values import FloorSheet, Reading
from mitertool.packet.pages.sheet import figures
from mitertool.packet.pages.sheet.arrows import sign_of
from mitertool.packet.pages.sheet.pictorial import end_picture
from mitertool.packet.pages.sheet.sizes import NOTE, ROW, SET
from mitertool.packet.paper.layout import Block, boxed, cell, kept_together
from mitertool.packet.words import all_more, as_drawn, back_words, reasons_of, which_way
from mitertool.piece.poses import OTHER_END
from mitertool.quantity import show_length
from mitertool.quantity.problem_words import reason_says
from mitertool.words import phrase

_READ, _WORDS = 52.0, 99.0
_PITCH: Final = 4.2
_PICTURE: Final = 40.0
"""Height of the pictures of both ends of a mark."""


def further_blocks(floor: FloorSheet, width: float) -> list[Block]:
    """How they are made and a row each; nothing where no end has more than one cut."""
    if not floor.further:
        return []
    says = [phrase(f"sheet.further-{n}") for n in (1, 2, 3)]
    blocks: list[Block] = []
    drawn: set[str] = set()
    for row in floor.further:
        if row.mark not in drawn:
            drawn.add(row.mark)
            blocks.append(_pictures(row.solved, width))
        blocks.append(_row(row, floor, width))
    return kept_together([*boxed(phrase("sheet.further"), says, width), *blocks])


def _pictures(solved: SolvedPiece, width: float) -> Block:
    """Both ends of a mark in the round, to see which edge of the bar each cut takes off."""
    piece, half = solved.piece, width / 2
    size = (half - 4, _PICTURE - 6)
    ends = [end_picture(piece.section, piece.end(end)[0], end, *size, piece.end(end)[1]) for end in OTHER_END]
    names = [
        cell(phrase("sheet.end-of-mark", mark=solved.mark, end=phrase(f"sheet.end-{end}")), (x, -4.5), half - 4, NOTE)
        for end, x in zip(OTHER_END, (0.0, half), strict=True)
    ]
    pictures = ends[0].moved(0, -_PICTURE) + ends[1].moved(half, -_PICTURE)
    return Block(_PICTURE + 1, Drawing(names) + pictures, keep_with_next=True, gap=0.0)


def _row(row: FurtherRow, floor: FloorSheet, width: float) -> Block:
    cut, way = row.cut.cut, row.cut.way
    reading = reading_for(way.reach, cut)
    end = phrase("sheet.end-cut", end=phrase(f"sheet.end-{row.cut.end}"), number=row.cut.number)
    room = _WORDS - _READ - 29.5
    words = figures.beside_figure(_unsided(reading)) if reading.line is not None else ()
    beside = [line for word in words for line in wrap(word, room, NOTE)]
    texts = [
        cell(f"{row.quantity} × {row.mark}", (0, -5.2), _READ - 2, ROW + 0.4, bold=True),
        cell(end, (0, -9.6), _READ - 2, NOTE),
        cell(figures.line_figure(reading), (_READ + 8, -6.4), 22, SET, bold=True),
        *(cell(line, (_READ + 29.0, -3.2 - 3.7 * i), room, NOTE) for i, line in enumerate(beside)),
    ]
    told = [line for says in _told(row, floor) for line in wrap(says, width - _WORDS, NOTE)]
    texts += [cell(line, (_WORDS, -_PITCH * (i + 1)), width - _WORDS, NOTE) for i, line in enumerate(told)]
    height = max(12.0, _PITCH * len(told) + 2, 3.7 * len(beside) + 2)
    rule = Drawing([Line((0, -height), (width, -height), THIN)])
    return Block(height, Drawing(texts) + _arrow(reading, floor) + rule, gap=0.0)


def _unsided(reading: Reading) -> Reading:
    """The reading without its side where that is where the arm goes, which is told in words beside it."""
    return attrs.evolve(reading, side="") if reading.side == reading.arm else reading


def _arrow(reading: Reading, floor: FloorSheet) -> Drawing:
    if reading.line is None:
        return Drawing()
    return sign_of(reading, floor.saw, 6.0).moved(_READ + 3.4, -7.4)


def _told(row: FurtherRow, floor: FloorSheet) -> list[str]:
    """Where it is marked, how long the piece then is, how it is laid; or why it cannot be made."""
    units, way = floor.head.units, row.cut.way
    against = [reason_says(reason, units) for reason in reasons_of(way)]
    if against:
        return [phrase("sheet.cannot"), *against]
    long = ", ".join(dict.fromkeys(show_length(x, units) for x in row.cut.edges.values()))
    back = back_words(row.cut.back, units)
    reach = as_drawn(way)
    return [
        *([phrase("sheet.mark-back", places=back)] if back else []),
        *([phrase("sheet.then-long", length=long)] if long else []),
        *(word for word in (which_way(reach, row.cut.cut), all_more(way, row.cut.cut)) if word),
    ]
