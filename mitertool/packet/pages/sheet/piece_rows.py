"""The pieces of a job in the order of cutting, a row a mark: bar, count, both readings, length to key; paper mm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

import attrs

from mitertool.drawing import FRAME, OUTLINE, THIN, Drawing, Line, Polygon, Text, text_width, wrap
from mitertool.packet.floor.values import FloorSheet, PieceRow, Reading
from mitertool.packet.pages.sheet import figures
from mitertool.packet.pages.sheet.arrows import arrow_of
from mitertool.packet.pages.sheet.sizes import NOTE, ROW
from mitertool.packet.paper.layout import LEAST, Anchor, Block, cell
from mitertool.packet.words import keyed
from mitertool.piece import Piece
from mitertool.quantity import show_length
from mitertool.words import phrase

_BAR, _MARK, _COUNT, _SECTION, _LONG, _LEFT, _SHAPE, _RIGHT, _KEY, _PAGE = (
    *(0.0, 10.5, 34.5, 46.5, 73.0, 97.0, 118.8, 133.0, 154.4, 177.0),
)
"""Where the columns begin."""

_TALL: Final = 6.6
_MORE: Final = 4.0
"""Height of a row, and what each further line in a cell adds."""

_PICTURE: Final = (13.0, 4.4)
_STEEPEST: Final = 1.5
"""Slope to which an end is drawn at most: a sign of how the ends lie, not a picture to scale."""


def piece_rows(floor: FloorSheet, width: float, pages: Mapping[int, int]) -> list[Block]:
    """The table with its titles, which come again on every page."""
    heading = attrs.evolve(_titles(floor, width), keep_with_next=True)
    rows = [attrs.evolve(_row(row, floor, width, pages), heading=heading) for row in floor.pieces]
    return [heading, *rows[:-1], *(attrs.evolve(row, gap=2.5) for row in rows[-1:])]


def _titles(floor: FloorSheet, width: float) -> Block:
    saw = floor.saw
    key = "sheet.title-key-short" if saw and saw.feed else "sheet.title-stop-short"
    titles: list[tuple[str, float, float, Anchor]] = [
        ("sheet.title-bar", _BAR, _MARK - _BAR, "left"),
        ("sheet.title-mark", _MARK, _COUNT - _MARK, "left"),
        ("sheet.title-count", _COUNT, _SECTION - _COUNT - 2, "right"),
        ("sheet.title-section", _SECTION, _LONG - _SECTION, "left"),
        ("sheet.title-long", _LONG, _LEFT - _LONG - 2, "right"),
        ("sheet.title-left", _LEFT, _SHAPE - _LEFT, "left"),
        ("sheet.title-right", _RIGHT, _KEY - _RIGHT, "left"),
        ("sheet.title-page", _PAGE, width - _PAGE, "right"),
    ]
    titles += [(key, _KEY, _PAGE - _KEY - 1, "right")] if saw else []
    texts = [cell(phrase(code), (x, -4.0), room - 0.5, NOTE, anchor, bold=True) for code, x, room, anchor in titles]
    return Block(5.6, Drawing([*texts, Line((0, -5.6), (width, -5.6), FRAME)]), gap=0.0)


def _row(row: PieceRow, floor: FloorSheet, width: float, pages: Mapping[int, int]) -> Block:
    units, piece = floor.head.units, row.solved.piece
    on = figures.numbers_told(row.bars) if row.bars else "-"
    page = str(pages[row.bars[0]]) if row.bars and row.bars[0] in pages else ""
    texts = [
        *_cell(wrap(on, _MARK - _BAR - 1, NOTE), _BAR, _MARK - _BAR - 1, NOTE),
        *_cell([*_mark_lines(row.mark), *_hand(row)], _MARK, _MARKED, ROW, bold=True),
        *_cell([str(row.solved.quantity)], _COUNT, _SECTION - _COUNT - 2, ROW, "right", bold=True),
        *_cell(_words_whole(piece.section.name, _LONG - _SECTION - 1), _SECTION, _LONG - _SECTION - 1, NOTE),
        *_cell([show_length(piece.long_point, units)], _LONG, _LEFT - _LONG - 2, ROW, "right"),
        *_cell(_keys(row, floor), _KEY, _PAGE - _KEY - 0.8, ROW, "right", bold=True),
        *_cell([page], _PAGE, width - _PAGE, NOTE, "right"),
    ]
    ends = Drawing([])
    for readings, left in ((row.left, _LEFT), (row.right, _RIGHT)):
        drawn, told = _end(readings, floor, left)
        ends, texts = ends + drawn, [*texts, *told]
    low = min(text.at[1] for text in texts)
    height = max(_TALL, -low + 1.4)
    drawn_so = shape(piece).moved(_SHAPE, -_PICTURE[1] - 0.9)
    return Block(
        height, Drawing(texts) + ends + drawn_so + Drawing([Line((0, -height), (width, -height), THIN)]), gap=0.0
    )


def _cell(
    lines: Sequence[str], x: float, room: float, height: float, anchor: Anchor = "left", bold: bool = False
) -> list[Text]:
    """Lines under one another; all but the first of a bold cell plain and small."""
    return [
        cell(says, (x, -4.6 - _MORE * i), room, height if not i else min(height, NOTE), anchor, bold and not i)
        for i, says in enumerate(lines)
        if says
    ]


def _words_whole(says: str, room: float) -> Sequence[str]:
    """A name broken at its spaces; one line that is set smaller where a word of it is too wide."""
    whole = all(text_width(word, NOTE) <= room for word in says.split())
    return wrap(says, room, NOTE) if whole else (says,)


_MARKED: Final = _COUNT - _MARK + 3.5
"""Room for a mark: counts are short, and stand at the right of theirs."""


def _mark_lines(mark: str) -> Sequence[str]:
    """A mark in one line where it fits, else broken."""
    return (mark,) if text_width(mark, LEAST, bold=True) <= _MARKED else wrap(mark, _MARKED, NOTE, bold=True)


def _hand(row: PieceRow) -> Iterator[str]:
    if row.solved.hand == "opposite":
        yield phrase("sheet.opposite")


def _end(readings: Sequence[Reading], floor: FloorSheet, x: float) -> tuple[Drawing, list[Text]]:
    """Every reading of an end with the arrow of the first, and what lies past or short of each line."""
    room, lines = _SHAPE - _LEFT - 6.2, list(_told(readings))
    texts = [
        cell(says, (x + 5.6, -4.6 - _MORE * i), room, ROW if bold else NOTE, bold=bold)
        if bold or text_width(says, NOTE) <= room
        else cell(says, (x, -4.6 - _MORE * i), room + 5.6, NOTE)
        for i, (says, bold) in enumerate(lines)
    ]
    if readings[0].line is None or not readings[0].ok:
        return Drawing(), texts
    return arrow_of(readings[0], floor.saw, 4.2).moved(x + 2.6, -5.0), texts


def _told(readings: Sequence[Reading]) -> Iterator[tuple[str, bool]]:
    """Each reading in lines, and whether a line is the figure to set."""
    for reading in readings:
        if not reading.ok:
            yield from ((line, False) for line in wrap(phrase("sheet.cannot"), 14.0, NOTE))
            continue
        yield figures.line_figure(reading), True
        yield from ((line, False) for line in figures.beside_line(reading)[:1])
        tilt, _ = figures.tilt_figure(reading)
        yield from (((tilt, False),) if tilt else ())


def _keys(row: PieceRow, floor: FloorSheet) -> list[str]:
    """The lengths to key, or where the stop stands; of more than three the least and the most."""
    saw, units = floor.saw, floor.head.units
    if saw is None:
        return []
    found = [keyed(key, saw, units) for key in row.keys] if saw.feed else [show_length(x, units) for x in row.stops]
    told = list(dict.fromkeys(found))
    return told if len(told) <= _FEW else [phrase("sheet.to", first=min(told, key=len), last=told[-1])]


_FEW: Final = 3


def shape(piece: Piece) -> Drawing:
    """How the ends lie to each other, seen from above with the moving side up; on (0, 0)."""
    long, tall = _PICTURE
    left, right = (max(-_STEEPEST, min(_STEEPEST, p)) for p in (piece.left.p, piece.right.p))
    corners = [(-left * y, y) for y in (0.0, tall)]
    ends = [(right * y, y) for y in (tall, 0.0)]
    inset, beyond = max(0.0, *(-x for x, _ in corners)), max(0.0, *(x for x, _ in ends))
    start, end = inset, long - beyond
    points = [*((start + x, y) for x, y in corners), *((end + x, y) for x, y in ends)]
    return Drawing([Polygon(points, OUTLINE)])
