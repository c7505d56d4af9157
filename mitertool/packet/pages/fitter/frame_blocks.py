"""A frame for whoever fits it: picture with numbered corners, check measures, a row a corner, notes; knows words.

Two or more small frames share a page. Paper mm.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import product
from math import ceil
from typing import Final

import attrs

from mitertool.base.totals import summed
from mitertool.drawing import FRAME, THIN, Drawing, Line, Polygon, Text, text_width, wrap
from mitertool.frame import Assembly, SpaceAssembly
from mitertool.frame.setting_out import CheckMeasure, SetCorner, SettingOut, setting_out
from mitertool.job import FrameOrder, Job, Solution
from mitertool.job.fit_up import FrameFit
from mitertool.packet.pages.fitter.details import detail_blocks
from mitertool.packet.pages.fitter.held import held_blocks
from mitertool.packet.pages.fitter.loose import loose_blocks
from mitertool.packet.pages.fitter.marked import marked_blocks, told_above
from mitertool.packet.pages.fitter.pattern import no_saw, pattern_blocks
from mitertool.packet.pages.fitter.picture import FEW_INSIDE, frame_drawing, picture_notes
from mitertool.packet.pages.fitter.seams import SIGN, seam_sign
from mitertool.packet.pages.fitter.stops import stop_blocks
from mitertool.packet.pages.fitter.told import (
    by_tape,
    corners_said,
    joins,
    opens,
    opens_title,
    running_rows,
    running_says,
    sentences,
    title_of,
)
from mitertool.packet.paper.layout import LEAST, Block, TableColumn, cell, in_lines, kept_together, table
from mitertool.quantity import Units, show_angle, show_exact, show_gap, show_length
from mitertool.words import counted, phrase

ROW: Final = 3.5
NOTE: Final = 2.8
"""mm of capitals, 14 and 11 pt: rows and notes of a page that is read standing."""

_TITLE: Final = 9.0
_NOTE_PITCH: Final = 4.6
_TALL: Final = 52.0
_TALLER: Final = 92.0
_WIDE: Final = 80.0
_WIDER: Final = 100.0
_FULL: Final = 130.0
"""mm. The picture of a frame among others, of one that has a page of its own, and how high that of one with many bars
inside is, which takes the whole width."""

_PAGE: Final = 225.0
"""mm between head and foot that every paper has: what is taller goes on over pages."""

_BESIDE: Final = (24.0, 34.0, 44.0, 54.0, 64.0)
_DEEP: Final = (21.0, 26.0)
"""mm of the picture's room for marks and sizes beside it, the first with which all fits; and for those above and below
it."""

_APART: Final = 3.0
"""mm between the picture and what stands beside it."""

_READING: Final = 5.0
"""mm of capitals, 20 pt: what a tape must read."""

_READING_PITCH: Final = 8.6

_BEFORE: Final = 1.0
"""mm between the edge of the table and a seam, which stands before the number of its corner."""

_BOXES: Final = 12
"""Boxes to tick, one a frame; more are counted by hand."""

_ALONG: Final = 5
"""Running measures in a row of their table."""


Lines = tuple[str, ...]
"""A sentence in its lines."""


def frame_blocks(solution: Solution, width: float) -> Iterator[Block]:
    """All frames of a job one after another, each kept on one page where that holds it, then the marks of none."""
    for _, blocks in frames_in_blocks(solution, width):
        yield from blocks
    yield from loose_blocks(solution, width)


def frames_in_blocks(solution: Solution, width: float) -> Iterator[tuple[FrameOrder, list[Block]]]:
    """All frames of a job, each with its blocks."""
    hands = [hand for order in solution.frames for hand in order.hands]
    for order in hands:
        blocks = list(_frame(order, solution, width, alone=len(hands) == 1))
        whole = summed(block.height + block.gap for block in blocks) <= _PAGE
        yield order, list(kept_together(blocks)) if whole else blocks


def _frame(order: FrameOrder, solution: Solution, width: float, alone: bool) -> Iterator[Block]:
    assembly, units = order.assembly, solution.job.head.units
    out, fit = setting_out(assembly), solution.fit.frame(assembly.mark)
    size = _size(assembly, width, alone)
    measures = out.measures if out else ()
    beside, below = _parted(list(sentences(order, solution)), measures, size, width)
    picture = _fitting(assembly, units, size, out)
    meant = _told(picture_notes(picture, assembly), width)
    yield from _undivided(
        [_titled(order, width), *_shown(_Shown(picture, size, meant), beside, measures, solution.job, width)]
    )
    yield from detail_blocks(order, units, width)
    yield from kept_together(list(_corners(order, fit, units, width)))
    more = [*_patterns(assembly, solution, width), *_tables(assembly, out, units, width)]
    yield from kept_together(list(_noted(below, _APART if more else 0.0)))
    yield from more
    yield Block(3.0, Drawing([Line((0, -1.5), (width, -1.5), FRAME)]), gap=0.0)


def _patterns(assembly: Assembly, solution: Solution, width: float) -> Iterator[Block]:
    """The flat patterns of a hopper's plates; how else they are cut out where the saw makes none of them."""
    if isinstance(assembly, SpaceAssembly):
        yield from pattern_blocks(assembly.leaning, solution.job.head.units, width, no_saw(assembly, solution))


def _noted(notes: Sequence[Lines], after: float) -> Iterator[Block]:
    """A block a sentence, `after` mm free below the last."""
    for i, lines in enumerate(notes, 1):
        gap = after if i == len(notes) else 0.0
        yield Block(_NOTE_PITCH * len(lines), Drawing(_sentences([lines], 0.0, 0.0)), gap=gap)


def _tables(assembly: Assembly, out: SettingOut | None, units: Units, width: float) -> Iterator[Block]:
    """How its members are held, where its uprights and what lands stand, and its stops."""
    yield from held_blocks(assembly, units, width)
    if assembly.running:
        yield from kept_together([*told_above(running_says(assembly), width), *_running(assembly, units, width)])
    yield from marked_blocks(assembly, out, units, width)
    yield from stop_blocks(assembly, out, units, width)


def _told(notes: Iterable[str], width: float) -> list[Block]:
    """Sentences over the whole width, a block a line."""
    lines = [line for note in notes for line in wrap(note, width, NOTE)]
    return [Block(_NOTE_PITCH, Drawing([cell(line, (0.0, -3.6), width, NOTE)]), gap=0.5) for line in lines]


def _undivided(blocks: Sequence[Block]) -> list[Block]:
    """The same blocks, which no end of a page parts."""
    return [*(attrs.evolve(one, keep_with_next=True) for one in blocks[:-1]), *blocks[-1:]]


def _corners(order: FrameOrder, fit: FrameFit | None, units: Units, width: float) -> Iterator[Block]:
    """The table of corners, below what it means."""
    if not order.corners:
        return
    heading, *rows = table(_columns(fit, width), [_row(one, fit, units, width - 131) for one in order.corners])
    told = _told([corners_said(order.corners)], width)
    yield from (attrs.evolve(one, keep_with_next=True, gap=0.0) for one in told)
    yield heading
    for row, corner in zip(rows, order.corners, strict=True):
        sign = seam_sign(order.assembly, corner).moved(_BEFORE, -(row.height + SIGN) / 2)
        yield attrs.evolve(row, drawing=row.drawing + sign)


def _size(assembly: Assembly, width: float, alone: bool) -> tuple[float, float]:
    """The room of the picture."""
    if len(assembly.inside) > FEW_INSIDE:
        return width, _FULL
    wide, tall = (_WIDER, _TALLER) if alone else (_WIDE, _TALL)
    return (width if assembly.running else wide), tall


@attrs.frozen
class _Shown:
    """The picture in its room, and the lines that tell how its marks are meant."""

    picture: Drawing
    size: tuple[float, float]
    meant: Sequence[Block]


def _shown(
    shown: _Shown, beside: Sequence[Lines], measures: Sequence[CheckMeasure], job: Job, width: float
) -> Iterator[Block]:
    """The picture with what a tape reads and the first sentences beside it, or below it where it takes the width.

    How its marks are meant stands right below it.
    """
    picture, size = shown.picture, shown.size
    if size[0] < width:
        told = _sentences(beside, size[0] + _APART, _top(measures))
        yield _pictured(picture, size, [*_readings(measures, job, size[0], width), *told])
        yield from shown.meant
        return
    _, low, _, high = picture.bounds()
    yield _pictured(picture, (size[0], min(size[1], high - low + _APART)), ())
    yield from shown.meant
    if measures:
        yield _in_columns(measures, job, width)


def _in_columns(measures: Sequence[CheckMeasure], job: Job, width: float) -> Block:
    """What a tape reads over the whole width, more than two measures in two columns."""
    count = 2 if len(measures) > 2 else 1
    rows = ceil(len(measures) / count)
    parts = [measures[i * rows : (i + 1) * rows] for i in range(count)]
    each = (width + 2 * _APART) / count
    told = (_readings(part, job, i * each - _APART, (i + 1) * each - 2 * _APART) for i, part in enumerate(parts))
    return Block(_top(parts[0]), Drawing([one for part in told for one in part]), gap=1.0)


def _titled(order: FrameOrder, width: float) -> Block:
    """The mark and what it is; how many, with a box to tick for each."""
    made = counted("frame.make", order.quantity)
    boxes = order.quantity if order.quantity <= _BOXES else 0
    room = 5.5 * boxes + 1.5
    texts = [
        cell(title_of(order), (0, -6.2), width * 0.6, 5.0, bold=True),
        cell(made, (width * 0.61, -6.2), width * 0.39 - room, ROW, "right", bold=True),
    ]
    squares = [_square(width - 5.5 * (boxes - i) + 1.5, -6.4) for i in range(boxes)]
    return Block(_TITLE, Drawing([*texts, *squares]), keep_with_next=True, gap=0.0)


def _square(x: float, y: float) -> Polygon:
    return Polygon([(x, y), (x + 4, y), (x + 4, y + 4), (x, y + 4)], FRAME)


def _parted(
    notes: Sequence[str], measures: Sequence[CheckMeasure], size: tuple[float, float], width: float
) -> tuple[list[Lines], list[Lines]]:
    """The sentences in lines: those that stand beside the picture below what the tape reads, and the others."""
    room = int((size[1] - _top(measures)) / _NOTE_PITCH) if size[0] < width else 0
    narrow = [wrap(note, width - size[0] - _APART, NOTE) for note in notes] if room else []
    count = next((i for i in range(len(narrow), 0, -1) if sum(map(len, narrow[:i])) <= room), 0)
    return narrow[:count], [wrap(note, width, NOTE) for note in notes[count:]]


def _top(measures: Sequence[CheckMeasure]) -> float:
    """How far below the picture's top the sentences beside it begin."""
    return 7.0 + _READING_PITCH * len(measures) if measures else 1.0


def _sentences(notes: Sequence[Lines], x: float, top: float) -> list[Text]:
    lines = [line for note in notes for line in note]
    return [Text((x, -top - _NOTE_PITCH * (i + 1) + 0.9), line, NOTE) for i, line in enumerate(lines)]


def _fitting(assembly: Assembly, units: Units, size: tuple[float, float], out: SettingOut | None) -> Drawing:
    """The picture as large as its room takes it with all that stands beside it; without marks where it takes none."""
    rooms = [(size[0] - beside, size[1] - deep) for beside, deep in product(_BESIDE, _DEEP)]
    drawn = (frame_drawing(assembly, units, *room, out) for room in rooms)
    found = next((one for one in drawn if _is_within(one, size)), None)
    return found or frame_drawing(assembly, units, *rooms[0], out, marked=False)


def _is_within(picture: Drawing, size: tuple[float, float]) -> bool:
    x0, y0, x1, y1 = picture.bounds()
    return x1 - x0 <= size[0] and y1 - y0 <= size[1]


def _pictured(picture: Drawing, size: tuple[float, float], beside: Iterable[Text | Line]) -> Block:
    """The picture in the middle of its room at the left, and what stands beside it."""
    x0, y0, x1, y1 = picture.bounds()
    drawing = picture.moved((size[0] - x1 - x0) / 2, -(size[1] + y1 + y0) / 2)
    return Block(size[1], drawing + Drawing(beside), gap=1.0)


def _readings(measures: Sequence[CheckMeasure], job: Job, left: float, right: float) -> Iterator[Text | Line]:
    """A row a check measure: over which corners, what the tape reads, exactly, and a line to write on."""
    places = [left + _APART + (right - left - _APART) * share for share in (0.0, 0.22, 0.58, 0.8)]
    widths = [b - a - 2 for a, b in zip(places, [*places[1:], right + 2], strict=True)]
    titles = [phrase(f"frame.check.{one}") for one in ("over", "tape", "exact", "found")] if measures else []
    for says, x, room in zip(titles, places, widths, strict=False):
        yield cell(says, (x, -4), room, NOTE, bold=True)
    for i, one in enumerate(measures, 1):
        y = -4 - _READING_PITCH * i
        yield cell(f"{one.first} - {one.second}", (places[0], y), widths[0], _READING, bold=True)
        yield cell(by_tape(one.length, job), (places[1], y), widths[1], _READING, bold=True)
        yield cell(show_gap(one.length, job.head.units), (places[2], y), widths[2], NOTE)
        yield Line((places[3], y - 0.8), (right, y - 0.8), THIN)


def _columns(fit: FrameFit | None, width: float) -> list[TableColumn]:
    return [
        TableColumn(phrase("frame.corner.number"), 14, "right", bold=True, height=ROW),
        TableColumn(phrase("frame.corner.pieces"), width - 128, height=ROW),
        TableColumn(phrase("frame.corner.angle"), 18, "right", height=ROW),
        TableColumn(phrase("frame.corner.gap"), 18, "right", bold=True, height=ROW),
        TableColumn(opens_title(fit), 26, "right", height=ROW),
        TableColumn(phrase("frame.corner.across"), 26, "right", bold=True, height=ROW),
        TableColumn(phrase("frame.corner.up"), 26, "right", bold=True, height=ROW),
    ]


def _row(corner: SetCorner, fit: FrameFit | None, units: Units, room: float) -> list[str]:
    return [
        str(corner.number),
        _in_a_line(joins(corner), room),
        "" if corner.angle is None else show_angle(corner.angle),
        "" if corner.joint is None else show_exact(corner.gap, units) if corner.gap else show_length(0.0, units),
        opens(corner, fit, units),
        show_length(corner.at.real, units),
        show_length(corner.at.imag, units),
    ]


def _in_a_line(says: str, room: float) -> str:
    """In one line, set smaller where it is too long, or in several where it would be too small."""
    return says if text_width(says, LEAST) <= room else in_lines(says, room)


def _running(assembly: Assembly, units: Units, width: float) -> Iterator[Block]:
    """Where each piece of an infill stands, all from one end."""
    numbered = running_rows(assembly, units)
    rows = [numbered[i : i + _ALONG] for i in range(0, len(numbered), _ALONG)]
    filled = [[part for pair in (*row, *[("", "")] * (_ALONG - len(row))) for part in pair] for row in rows]
    each = width / _ALONG
    pair = (
        TableColumn(phrase("frame.running.number"), each * 0.35, "right", height=ROW),
        TableColumn(phrase("frame.running.at"), each * 0.65, "right", bold=True, height=ROW),
    )
    yield from table([*pair] * _ALONG, filled)
