"""The rows of a bar, one a way of cutting: what is ticked, rolled, set, keyed or stopped; knows layout. Paper mm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import product
from typing import Final

import attrs

from mitertool.base.totals import summed
from mitertool.drawing import FRAME, THIN, Drawing, Line, Text, text_width, wrap, wrap_evenly
from mitertool.packet.floor.values import BarWork, CutRow
from mitertool.packet.pages import said
from mitertool.packet.pages.sheet import figures
from mitertool.packet.pages.sheet.arrows import from_side, sign_of, slant, tilt_arrow
from mitertool.packet.pages.sheet.rolls import rolled
from mitertool.packet.pages.sheet.row_ticks import BOXES, CUTS, SMALL, TALL, TURN, again, ticks, under_ticks
from mitertool.packet.pages.sheet.sizes import KEYED, NOTE, ROW, SET, keyed_height
from mitertool.packet.paper.layout import LEAST, Anchor, Block, cell
from mitertool.packet.paper.stand import feed_way
from mitertool.packet.words import few_places, worked_lines
from mitertool.quantity import Units, show_length
from mitertool.saw import Machine
from mitertool.words import phrase

_READ, _KEY, _HOW, _MARK = 54.6, 99.8, 133.2, 150.2
"""Where further columns begin. A length to key ends where what is told of its cycle begins, a stop at the mark."""

_STOP_END: Final = _MARK - 3
"""Where the figure of a stop ends, and that of a bar that is moved by hand."""

_WORDS: Final = 118.0
"""Where words begin that stand beside the blanks of the first piece."""

_UNDER_RULE: Final = 1.2
"""What is free in a row above what is keyed."""

_BELOW: Final = -13.4
"""Where small lines begin that have no room beside a figure."""

_MOVED, _WANDERS = 36.0, 45.0
"""Width of the words before a figure that tells where the end of the bar stands, and of those of a shaving by tape."""

_TITLES: Final = 5.0
_BLANK: Final = 6.0
"""Pitch of a line that is written on."""

_ARROW, _AFTER_ARROW = 6.2, 7.3
"""Height of the arrow of a reading, and what it takes before the figure."""

_APART: Final = 4.0
"""Between the words beside a reading and what is right of them, so that no eye reads on from one into the other."""

_BESIDE: Final = (2, 3)
"""Small lines beside a figure: as many as make its row no taller, and at most."""


OnPage = Mapping[str, int]
"""On which page the frame of a mark is, with a table of all that lands along it."""

NOWHERE: Final[OnPage] = {}


@attrs.frozen
class _Sheet:
    """What all rows of a bar ask for: the saw, the units, how wide the page is, and where places along it are told."""

    work: BarWork
    saw: Machine | None
    units: Units
    width: float
    marked: OnPage

    @property
    def keyed(self) -> bool:
        """Whether lengths are keyed into a feed; second ends of blanks are cut against a stop on any saw."""
        return self.saw is not None and self.saw.feed is not None and not any(row.stop for row in self.work.rows)


def row_blocks(work: BarWork, saw: Machine | None, units: Units, width: float, marked: OnPage = NOWHERE) -> list[Block]:
    """The rows under their titles; a row of zeros where the control wants one at the end."""
    sheet = _Sheet(work, saw, units, width, marked)
    heading = _titles(sheet)
    rows = [_row(row, sheet) for row in work.rows]
    for loop in work.loops:
        rows[loop.begins : loop.ends] = again(rows[loop.begins : loop.ends], figures.rounds_told(loop, work)[0])
    if saw and saw.feed and saw.feed.ends_with_zero and work.run:
        rows.append(_end_of_program(sheet))
    return [heading, *(attrs.evolve(row, heading=heading) for row in rows)]


def _key_title(sheet: _Sheet) -> str:
    if sheet.saw and sheet.keyed:
        return figures.key_title(sheet.saw, sheet.units)
    return figures.stop_title(next((row.stop for row in sheet.work.rows if row.stop), None))


def _titles(sheet: _Sheet) -> Block:
    saw, rows = sheet.saw, sheet.work.rows
    brought = any(row.key is not None or row.stop or row.end_past or row.moved is not None for row in rows)
    titles: list[tuple[str, float, float, Anchor]] = [
        ("sheet.title-cut", CUTS, TURN - CUTS - 1, "left"),
        ("sheet.title-scale" if saw else "sheet.title-square", _READ, _room(saw), "left"),
        ("sheet.title-off", _MARK, sheet.width - _MARK, "left"),
    ]
    titles += [("sheet.title-turn", TURN, _READ - TURN - 1, "left")] if any(row.turn for row in rows) else []
    texts = [cell(phrase(code), (x, -_TITLES + 1.6), width, NOTE, side) for code, x, width, side in titles]
    if brought or any(row.long for row in rows):
        key = _key_title(sheet) if brought else phrase("sheet.title-long-row")
        left = texts[1].at[0] + texts[1].width + 2.0
        texts.append(cell(key, (left, -_TITLES + 1.6), _key_end(sheet) - left, NOTE, "right"))
    rule = Line((0, -_TITLES), (sheet.width, -_TITLES), FRAME)
    return Block(_TITLES, Drawing([*texts, rule]), keep_with_next=True, gap=0.0)


def _room(saw: Machine | None, brought: Drawing | None = None) -> float:
    """Room for a reading: to the figure that is keyed beside it; where no saw is known none is."""
    free = _KEY if saw else _MARK
    begins = brought.bounds()[0] if brought and brought.entities else free
    return begins - _APART - _READ


def _key_end(sheet: _Sheet) -> float:
    return _HOW - 1.5 if sheet.keyed else _STOP_END


def _row(row: CutRow, sheet: _Sheet) -> Block:
    """A row, hanging from (0, 0): its figures, and below them what is told in words and what is written down."""
    brought, lines = _brought(row, sheet)
    read, tall = _reading(row, sheet, _room(sheet.saw, brought), _under(brought))
    made, loop = _made(row, sheet), figures.loop_of(row, sheet.work)
    begins = loop is not None and row is sheet.work.rows[loop.begins]
    ticked = ticks(row, loop is not None)
    ticked += under_ticks(row, ticked, figures.orders_told(loop, sheet.work) if loop and begins else ())
    low = min((text.at[1] for text in brought.entities if isinstance(text, Text)), default=0.0)
    tall = max(tall, 1.0 - made.bounds()[1], 1.6 - low, 1.0 - ticked.bounds()[1])
    turned = rolled(row, sheet.work).moved(_READ, 0)
    tall = max(tall, 0.8 - min((text.at[1] for text in turned.entities if isinstance(text, Text)), default=0.0))
    drawing = ticked + turned + read + brought + made
    below, deep = _below(row, lines, sheet)
    height = tall + deep
    rule = Drawing([Line((CUTS, -height), (sheet.width, -height), THIN)])
    return Block(height, drawing + below.moved(0, -tall) + rule, gap=0.0)


def _under(brought: Drawing) -> float:
    """How far to the right words below a reading may go: before lines that reach as low."""
    texts = [text for text in brought.entities if isinstance(text, Text) and text.at[1] < _BELOW + NOTE + 1.0]
    low = [Drawing([text]).bounds()[0] - _APART for text in texts]
    return min(low, default=_HOW)


def _reading(row: CutRow, sheet: _Sheet, room: float, under: float) -> tuple[Drawing, float]:
    """The figure to set with its arrow, what stands small beside it, the tilt below; and how tall that is."""
    reading = row.reading
    if not reading.ok:
        lines = wrap(phrase("sheet.cannot"), room, ROW, bold=True)
        texts = [cell(line, (_READ, -4.4 - 4.6 * i), room, ROW, bold=True) for i, line in enumerate(lines)]
        return Drawing(texts), max(TALL, 4.6 * len(lines) + 1)
    if not (row.sets or row.stays):
        return Drawing(_staying(row, room - _AFTER_ARROW)), TALL
    return _figure(row, _arrow(row, sheet), _tilted(row, sheet), (room, under))


def _staying(row: CutRow, room: float) -> Iterator[Text]:
    """That the setting stays since the cut before, and small what stands there."""
    left, stays = _READ + _AFTER_ARROW, phrase("sheet.stays")
    yield cell(stays, (left, -6.4), room, ROW)
    beside, standing = left + text_width(stays, ROW) + 2.0, figures.standing_figure(row.reading)
    if text_width(standing, LEAST) <= left + room - beside:
        yield cell(standing, (beside, -6.4), left + room - beside, NOTE)


def _figure(row: CutRow, arrow: Drawing, tilted: Drawing, rooms: tuple[float, float]) -> tuple[Drawing, float]:
    """The figure with its arrow at the left; small lines beside it where they fit, else below; then the tilt.

    `rooms` are how wide it is with what stands beside it, and how far to the right what stands below may go.
    """
    reading, (room, under) = row.reading, rooms
    says, left, free = figures.line_figure(reading), _READ + _AFTER_ARROW, room - _AFTER_ARROW
    beside = left + text_width(says, SET, bold=True) + 1.0
    right, words = _READ + room - beside, (*figures.stays_words(row), *figures.beside_figure(reading, row))
    told, fits = _beside(words, right)
    if not fits:
        told = _beneath(words, under - left)
    x, y, wide = (beside, -3.6 if len(told) > 1 else -6.4, right) if fits else (left, _BELOW, under - left)
    texts = [Text((left, -7.2), says, SET, "left", "baseline", 0.0, bold=True)]
    texts += [cell(line, (x, y - SMALL * i), wide, NOTE) for i, line in enumerate(told)]
    tall = max(TALL, 1.6 - y + SMALL * (len(told) - 1)) if told else TALL
    tilt, way = figures.tilt_figure(reading, row)
    if tilt:
        ways = wrap(way, free, NOTE)
        texts.append(cell(tilt, (left, -tall - 5.4), free, SET, bold=True))
        arrow += tilted.moved(_READ + 3.4, -tall - 5.9)
        texts += [cell(line, (left, -tall - 9.9 - SMALL * i), free, NOTE) for i, line in enumerate(ways)]
        tall += 7.8 + SMALL * len(ways)
    return arrow + Drawing(texts), tall


def _beside(words: Sequence[str], room: float) -> tuple[Sequence[str], bool]:
    """Words in lines for a narrow place, each its own, in as few as make no row taller; and whether they fit there.

    Their letters are made smaller where that saves a line.
    """
    parts = [part for word in words for part in word.split()]
    for most, height in product(_BESIDE, (NOTE, LEAST)):
        told = [line for word in words for line in wrap_evenly(word, room, height)]
        if len(told) <= most and all(text_width(part, height) <= room for part in parts):
            return told, True
    return (), False


def _beneath(words: Sequence[str], room: float) -> Sequence[str]:
    """Words in lines below a figure: each its own, one behind the other where that takes fewer."""
    behind = wrap_evenly(", ".join(words), room, NOTE)
    each = [line for word in words for line in wrap_evenly(word, room, NOTE)]
    return min(each, behind, key=len)


def _arrow(row: CutRow, sheet: _Sheet) -> Drawing:
    """How the blade lies over the bar, as seen from the operator's place; without a saw file how the cut does."""
    reading, at = row.reading, (_READ + 3.4, -7.8)
    if reading.line is not None:
        return sign_of(reading, sheet.saw, _ARROW).moved(*at)
    return slant(figures.lean(row, sheet.work), _ARROW).moved(*at)


def _tilted(row: CutRow, sheet: _Sheet) -> Drawing:
    """The blade over the bed as it is tilted, seen from the fixed jaw; without a saw file how the cut lies there."""
    reading = row.reading
    if reading.line is not None:
        return tilt_arrow(feed_way(sheet.saw) * reading.tilt, _ARROW - 1.0)
    return from_side(figures.lean_up(row, sheet.work), _ARROW - 1.0)


def _brought(row: CutRow, sheet: _Sheet) -> tuple[Drawing, list[str]]:
    """The length to key or where the stop stands, as large as there is room; and what is told of it in words."""
    saw = sheet.saw
    if saw is None or (sheet.work.run is None and (sheet.keyed or row.makes != "piece")):
        wanders, words = figures.wander_words(row, sheet.units), [figures.raw_face_words(row)]
        mark = figures.mark_words(row, sheet.work, sheet.units)
        told = Drawing(_moved(wanders or mark, _key_end(sheet), _WANDERS if wanders else _MOVED))
        told += _long(row, sheet)
        return told, [word for word in words if word]
    says = figures.key_figure(row, saw, sheet.units) if sheet.keyed else figures.stop_figure(row, sheet.units)
    moves = row.end_past is not None or row.moved is not None
    words = [figures.brought_words(row, saw, sheet.units), figures.why_words(row, saw)]
    words += [figures.raw_face_words(row), figures.wander_words(row, sheet.units)]
    if sheet.keyed:
        words.append(figures.again_words(row, sheet.work.rows, saw, sheet.units))
    if not says:
        return Drawing(), [word for word in words if word]
    right = _STOP_END if moves else _key_end(sheet)
    room = right - _KEY
    height = SET if moves else keyed_height(says, room)
    texts = [cell(says, (_KEY, -_UNDER_RULE - KEYED / 2 - height / 2), room, height, "right", bold=True)]
    if moves:
        texts += _moved(words.pop(0), right - text_width(says, height, bold=True) - 1.5)
    if sheet.keyed:
        texts += [
            cell(line, (_HOW, -3.9 - SMALL * i), _MARK - _HOW - 2.2, NOTE)
            for i, line in enumerate(figures.how_words(row))
        ]
    return Drawing(texts), [word for word in words if word]


def _long(row: CutRow, sheet: _Sheet) -> Drawing:
    """How long the piece is that comes off, where no saw is known, as large as there is room."""
    if not row.long:
        return Drawing()
    says, room = show_length(row.long, sheet.units), _key_end(sheet) - _KEY
    height = keyed_height(says, room)
    return Drawing([cell(says, (_KEY, -_UNDER_RULE - KEYED / 2 - height / 2), room, height, "right", bold=True)])


def _moved(says: str, right: float, wide: float = _MOVED) -> Iterator[Text]:
    """Where the end of the bar stands, before the figure that tells how far, in bold lines that end at the right."""
    lines = wrap(says, wide, NOTE, bold=True)
    top = min(-3.6, -_UNDER_RULE - KEYED / 2 - NOTE / 2 + SMALL * (len(lines) - 1) / 2)
    for i, line in enumerate(lines):
        yield cell(line, (right - wide, top - SMALL * i), wide, NOTE, "right", bold=True)


def _made(row: CutRow, sheet: _Sheet) -> Drawing:
    """What comes off: pieces by their marks, how many in all; trim cut or scrap; below it what goes with it."""
    room, small = sheet.width - _MARK, list(figures.beside_made(row, sheet.work, sheet.units))
    first = -4.7 if small else -6.4
    if row.makes != "piece":
        texts = [cell(said.makes(row), (_MARK, first), room, ROW)]
    elif text_width(says := _marks_told(row, sheet.work), NOTE, bold=True) <= room:
        texts = [cell(says, (_MARK, first), room, ROW + 0.4, bold=True)]
    else:
        lines = wrap(says, room, LEAST, bold=True)
        texts = [cell(line, (_MARK, -3.6 - SMALL * i), room, LEAST, bold=True) for i, line in enumerate(lines)]
    low, told = texts[-1].at[1], [line for says in small for line in wrap(says, room, NOTE)]
    return Drawing([*texts, *(cell(line, (_MARK, low - 4.1 - SMALL * i), room, NOTE) for i, line in enumerate(told))])


def _marks_told(row: CutRow, work: BarWork) -> str:
    """The marks with how many come off in all; in rounds that stands below them with how many each round gives."""
    count = 1 if figures.loop_of(row, work) else len(row.numbers) * row.each
    marks = [phrase("sheet.blank", mark=mark) if row.recut else mark for mark in row.marks]
    return " + ".join(phrase("sheet.times-mark", count=count, mark=mark) if count > 1 else mark for mark in marks)


def _below(row: CutRow, brought: Sequence[str], sheet: _Sheet) -> tuple[Drawing, float]:
    """Below the figures, hanging from (0, 0): what is proved, how the bar comes there, and the first piece's blanks.

    Which blanks these are and how they lie stands at the left, where the stop or the tape for them is at the right.
    With nothing to say at the left the words at the right may begin where the figure does, if that takes fewer lines.
    """
    loud = sheet.saw is not None and not sheet.keyed and row.makes != "piece"
    told = [*((one, loud) for one in brought), (figures.blank_words(row, sheet.units), False)]
    told += [(figures.laid_by_tape(row, sheet.units), True)]
    lines = [*((one, bold) for one, bold in told if one), *_said(row, sheet)]
    set_words = list(_set_words(row, sheet))
    found = [_below_from(x, row, set_words, lines, sheet) for x in ((_WORDS,) if set_words else (_WORDS, _KEY))]
    return min(found, key=lambda one: one[1])


def _below_from(
    begin: float, row: CutRow, set_words: Sequence[str], lines: Sequence[tuple[str, bool]], sheet: _Sheet
) -> tuple[Drawing, float]:
    """The same with the words at the right beginning there; and how deep it is."""
    room, wide = begin - BOXES - 2, sheet.width - begin
    left = [line for says in set_words for line in wrap(says, room, NOTE, bold=True)]
    right = [(line, bold) for says, bold in lines for line in wrap(says, wide, NOTE, bold)]
    texts: list[Text | Line] = [
        *(cell(says, (BOXES, -SMALL * (i + 1) + 0.7), room, NOTE, bold=True) for i, says in enumerate(left)),
        *(cell(says, (begin, -SMALL * (i + 1) + 0.7), wide, NOTE, bold=bold) for i, (says, bold) in enumerate(right)),
    ]
    y = SMALL * len(left) + (0.3 if left else 0.0)
    deep = SMALL * len(right) + (0.4 if right else 0.0)
    if row.first:
        y = (y if _written(row, sheet) < room else max(y, deep)) + _BLANK
        texts += _to_write(row, sheet, y)
    return Drawing(texts), max(y, deep)


def _set_words(row: CutRow, sheet: _Sheet) -> Iterator[str]:
    if row.again:
        yield row.again.in_units(sheet.units)
    yield from figures.laid_words(row.laid, sheet.units)
    yield from figures.guide_words(row, sheet.saw, sheet.units)
    if row.turn and not row.turn.half:
        yield figures.turn_words(row.turn)
        yield figures.tip_words(row.turn)
    if row.proof:
        yield figures.proof_words(row.proof)


def _said(row: CutRow, sheet: _Sheet) -> Iterator[tuple[str, bool]]:
    """What the job says of a mark besides: preparation, process and note."""
    yield from ((word, True) for word in (row.said.prep, row.said.process, row.said.note) if word)
    yield from ((says, True) for says in worked_lines(row.worked, sheet.units))
    yield from ((says, False) for says in few_places(row.places, sheet.units, sheet.marked.get(row.mark)))


def _written(row: CutRow, sheet: _Sheet) -> float:
    """The room that the first piece's lengths with their blanks need."""
    if row.first is None:
        return 0.0
    return summed(text_width(says, NOTE) + _TO_WRITE + 2.5 for says in figures.measured_words(row.first, sheet.units))


def _to_write(row: CutRow, sheet: _Sheet, y: float) -> Iterator[Text | Line]:
    """The first piece's lengths, each with a blank behind it."""
    if row.first is None:
        return
    left = BOXES
    for says in figures.measured_words(row.first, sheet.units):
        text = cell(says, (left, -y + 1.7), sheet.width / 2, NOTE)
        left += text.width + 1.2
        yield text
        yield Line((left, -y + 1.1), (left + _TO_WRITE, -y + 1.1), THIN)
        left += _TO_WRITE + 2.0


_TO_WRITE: Final = 15.0
"""A blank that is written into."""


def _end_of_program(sheet: _Sheet) -> Block:
    """The line of zeros that ends the list of a control whose saw file asks for it."""
    texts = [
        cell("0", (_KEY, -6.4), _key_end(sheet) - _KEY, SET, "right", bold=True),
        cell(phrase("sheet.end-of-program"), (_MARK, -6.4), sheet.width - _MARK, ROW),
    ]
    return Block(TALL, Drawing([*texts, Line((CUTS, -TALL), (sheet.width, -TALL), THIN)]), gap=0.0)
