"""The pieces of a job in the order of cutting, a row a mark: bar, count, both readings, length to key; paper mm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

import attrs

from mitertool.drawing import FRAME, OUTLINE, THIN, Drawing, Line, Polygon, Text, text_width, wrap
from mitertool.packet.floor.values import AsCut, FloorSheet, PieceRow, Reading
from mitertool.packet.pages.sheet import figures
from mitertool.packet.pages.sheet.arrows import sign_of
from mitertool.packet.pages.sheet.sizes import NOTE, ROW
from mitertool.packet.paper.layout import LEAST, Anchor, Block, cell
from mitertool.packet.paper.stand import leads
from mitertool.packet.words import keyed
from mitertool.quantity import show_length
from mitertool.saw import Machine
from mitertool.words import phrase

_BAR, _MARK, _COUNT, _SECTION, _LONG, _LEFT, _SHAPE, _RIGHT, _KEY, _PAGE = (
    *(0.0, 10.5, 34.5, 46.5, 73.0, 97.0, 118.8, 133.0, 154.4, 177.0),
)
"""Where the columns begin."""

_TALL: Final = 6.6
_MORE: Final = 4.0
"""Height of a row, and what each further line in a cell adds."""

_NEXT: Final = 5.0
"""Pitch to a second figure that is set, the tilt, which is as large as the swing."""

_PICTURE: Final = (13.0, 4.4)
_STEEPEST, _STEEPEST_SIDE = 1.2, 0.45
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
        *((code, x, _SHAPE - _LEFT, "left") for code, x in zip(in_order(saw), (_LEFT, _RIGHT), strict=True)),
        ("sheet.title-page", _PAGE, width - _PAGE, "right"),
    ]
    titles += [(key, _KEY, _PAGE - _KEY - 1, "right")] if saw else []
    texts = [
        cell(phrase(code), (x, -4.0), room - 0.5, NOTE, anchor, bold=code != "sheet.second-cut")
        for code, x, room, anchor in titles
    ]
    return Block(5.6, Drawing([*texts, _fed(saw), Line((0, -5.6), (width, -5.6), FRAME)]), gap=0.0)


def _fed(saw: Machine | None) -> Polygon:
    """Over the pictures of the pieces which way the bar is fed: what goes first is cut first."""
    way, middle = (-1.0 if leads(saw) == "left" else 1.0), _SHAPE + _PICTURE[0] / 2
    return Polygon([(middle + way * x, y - 3.0) for x, y in ((2.1, 0.0), (-2.1, 1.6), (-2.1, -1.6))], THIN, fill=0.0)


def _row(row: PieceRow, floor: FloorSheet, width: float, pages: Mapping[int, int]) -> Block:
    units, piece = floor.head.units, row.solved.piece
    on = figures.numbers_told(row.bars) if row.bars else "-"
    page = str(pages[row.bars[0]]) if row.bars and row.bars[0] in pages else ""
    long = show_length(piece.long_point, units)
    free = _LEFT - 2 - text_width(long, ROW) - _BEFORE - _SECTION
    section = _words_whole(piece.section.name, free)
    texts = [
        *_cell(_numbers(on), _BAR, _MARK - _BAR - 1, NOTE),
        *_cell([*_mark_lines(row.mark), *_hand(row)], _MARK, _MARKED, ROW, bold=True),
        *_same(row, alone=len(section) == 1 and not any(both_ways(row))),
        *_cell([str(row.solved.quantity)], _COUNT, _SECTION - _COUNT - 2, ROW, "right", bold=True),
        *_cell(section, _SECTION, free, NOTE),
        *_cell([long], _LONG, _LEFT - _LONG - 2, ROW, "right"),
        *_cell(_keys(row, floor), _KEY, _PAGE - _KEY - 0.8, ROW, "right", bold=True),
        *_cell([page], _PAGE, width - _PAGE, NOTE, "right"),
        *_cell([*("" for _ in section), *both_ways(row)], _SECTION, _IN, NOTE),
    ]
    ends, told = _ends(row, floor)
    drawn = ends + shapes(row)
    low = min(*(text.at[1] - 1.4 for text in (*texts, *told)), drawn.bounds()[1] - 0.9)
    height = max(_TALL, -low)
    return Block(height, Drawing([*texts, *told, Line((0, -height), (width, -height), THIN)]) + drawn, gap=0.0)


def _cell(
    lines: Sequence[str], x: float, room: float, height: float, anchor: Anchor = "left", bold: bool = False
) -> list[Text]:
    """Lines under one another; all but the first of a bold cell plain and small."""
    return [
        cell(says, (x, -4.6 - _MORE * i), room, height if not i else min(height, NOTE), anchor, bold and not i)
        for i, says in enumerate(lines)
        if says
    ]


def _numbers(on: str) -> Sequence[str]:
    """The numbers of bars in one line where they fit, else broken."""
    room = _MARK - _BAR - 1
    return (on,) if text_width(on, LEAST) <= room else wrap(on, room, NOTE)


def _words_whole(says: str, room: float) -> Sequence[str]:
    """A name in one line, set smaller where it has no room else; broken at its spaces, or between its sizes, where it
    is too wide for that."""
    if text_width(says, LEAST) <= room:
        return (says,)
    return (
        wrap(says, room, NOTE)
        if all(text_width(word, NOTE) <= room for word in says.split())
        else _between_sizes(says, room)
    )


def _between_sizes(says: str, room: float) -> Sequence[str]:
    """A name in lines that end with the sign between two sizes, HSS1-1/2x and 1-1/2x1/8."""
    lines = [""]
    for part in says.replace("x", "x\n").split("\n"):
        if text_width(lines[-1] + part, NOTE) <= room:
            lines[-1] += part
        else:
            lines.append(part)
    return [line for line in lines if line]


_MARKED: Final = _COUNT - _MARK + 3.5
"""Room for a mark: counts are short, and stand at the right of theirs."""


def _mark_lines(mark: str) -> Sequence[str]:
    """A mark in one line where it fits, else broken."""
    return (mark,) if text_width(mark, LEAST, bold=True) <= _MARKED else wrap(mark, _MARKED, NOTE, bold=True)


_IN: Final = _LONG - _SECTION - 1
"""Room for a word below a section."""

_BEFORE: Final = 1.5
"""Paper mm free between a section and the long point."""


def both_ways(row: PieceRow) -> Iterator[str]:
    """A word where other pieces of it, whose ends differ, lie end for end to the one that is shown."""
    first, *others = map(_both, row.cut)
    if first[0] != first[1] and first[::-1] in others:
        yield phrase("sheet.both-ways")


def _same(row: PieceRow, alone: bool) -> list[Text]:
    """Below the mark, of which other mark it is the same piece; below the section too where that has nothing there."""
    above, room = len([*_mark_lines(row.mark), *_hand(row)]), (_LONG if alone else _SECTION) - _MARK - 1
    says = same_words(row)
    return _cell([*[""] * above, *wrap(says, room, LEAST)], _MARK, room, NOTE) if says else []


def same_words(row: PieceRow) -> str:
    """That a mark is the same piece as one of a row before, which lies turned to it; "" of any other."""
    return phrase("sheet.same-piece", mark=row.same_as) if row.same_as else ""


def _hand(row: PieceRow) -> Iterator[str]:
    if row.solved.hand == "opposite":
        yield phrase("sheet.opposite")


def in_order(saw: Machine | None) -> tuple[str, str]:
    """What the ends at the left and at the right of a picture are called: by which of them is cut first."""
    first, second = "sheet.first-cut", "sheet.second-cut"
    return (first, second) if leads(saw) == "left" else (second, first)


def _ends(row: PieceRow, floor: FloorSheet) -> tuple[Drawing, list[Text]]:
    """Both readings of a piece with their arrows, and below them those of pieces that are cut otherwise.

    One that lies end for end has the same in the other order: the rows of its bar show it.
    """
    first, *others = row.cut
    met = (_both(first), _both(first)[::-1])
    ways = [first, *(one for one in others if _both(one) not in met)]
    drawn, texts, y = Drawing(), list[Text](), 0.0
    for way in ways:
        found = [_end(reading, floor, x) for reading, x in ((way.left, _LEFT), (way.right, _RIGHT))]
        drawn += found[0][0].moved(0, y) + found[1][0].moved(0, y)
        texts += [attrs.evolve(text, at=(text.at[0], text.at[1] + y)) for _, told in found for text in told]
        y -= _TALL - 4.6 - min(text.at[1] for _, told in found for text in told)
    return drawn, texts


def _both(way: AsCut) -> tuple[list[tuple[str, bool]], ...]:
    """What is told of both ends."""
    return list(_told(way.left)), list(_told(way.right))


def _end(reading: Reading, floor: FloorSheet, x: float) -> tuple[Drawing, list[Text]]:
    """A reading of an end with its arrow, and what lies past or short of its line."""
    room, y = _SHAPE - _LEFT - 6.2, -4.6
    texts: list[Text] = []
    for says, bold in _told(reading):
        y -= 0.0 if not texts else _NEXT if bold else _MORE
        height = ROW if bold else NOTE
        beside = text_width(says, height, bold) <= room or (bold and not texts)
        texts.append(cell(says, (x + 5.6 if beside else x, y), room if beside else room + 5.6, height, bold=bold))
    if reading.line is None or not reading.ok:
        return Drawing(), texts
    return sign_of(reading, floor.saw, 4.2).moved(x + 2.6, -5.0), texts


def _told(reading: Reading) -> Iterator[tuple[str, bool]]:
    """A reading in lines, and whether a line is the figure to set."""
    if not reading.ok:
        yield from ((line, False) for line in wrap(phrase("sheet.cannot"), 14.0, NOTE))
        return
    yield figures.line_figure(reading), True
    yield from ((line, False) for line in figures.beside_line(reading)[:1])
    tilt, _ = figures.tilt_figure(reading)
    yield from (((tilt, True),) if tilt else ())


def _keys(row: PieceRow, floor: FloorSheet) -> list[str]:
    """The lengths to key, or where the stop stands; of more than three the least and the most."""
    saw, units = floor.saw, floor.head.units
    if saw is None:
        return []
    found = [keyed(key, saw, units) for key in row.keys] if saw.feed else [show_length(x, units) for x in row.stops]
    told = list(dict.fromkeys(found))
    return told if len(told) <= _FEW else [phrase("sheet.to", first=min(told, key=len), last=told[-1])]


_FEW: Final = 3


def shapes(row: PieceRow) -> Drawing:
    """A piece as it lies on its bar, from above; where an end is slanted up and down also from the side, on the bed."""
    (across, up), y = zip(*row.cut[0].leans, strict=True), -_PICTURE[1] - 0.9
    drawn = shape(across[0], across[1]).moved(_SHAPE, y)
    if max(map(abs, up)) > _UPRIGHT:
        y -= _PICTURE[1] + 1.4
        drawn += _from_side(up[0], up[1]).moved(_SHAPE, y)
    return drawn


def shape(left: float, right: float, steepest: float = _STEEPEST) -> Drawing:
    """A piece whose ends lean so far to the right over its height, a sign on (0, 0)."""
    long, tall = _PICTURE
    ends = [tall * max(-steepest, min(steepest, lean)) for lean in (left, right)]
    start, end = max(0.0, -ends[0]), long - max(0.0, ends[1])
    return Drawing([Polygon([(start, 0), (start + ends[0], tall), (end + ends[1], tall), (end, 0)], OUTLINE)])


def _from_side(left: float, right: float) -> Drawing:
    """The same seen from the fixed jaw, the top up, lying on the bed; so little slanted that the word stands in it."""
    drawn = shape(left, right, _STEEPEST_SIDE)
    word = cell(phrase("sheet.side-view"), (_PICTURE[0] / 2 - 4.3, 1.0), 8.6, LEAST, "center")
    return drawn + Drawing([Line((-0.6, 0), (_PICTURE[0] + 0.6, 0), OUTLINE), word])


_UPRIGHT: Final = 1e-9
"""Slope below which an end stands upright."""
