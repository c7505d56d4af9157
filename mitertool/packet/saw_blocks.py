"""Blocks of the sheet that a full saw file makes possible: settings a cut, and the feed list; knows saw and layout."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from mitertool.drawing import Drawing, wrap
from mitertool.job import Solution, SolvedPiece
from mitertool.nest import Bar
from mitertool.packet.layout import Block, Column, box, cell, in_lines, table
from mitertool.packet.setting_words import setting_lines
from mitertool.quantity import Units, show_angle, show_length
from mitertool.saw import Saw
from mitertool.saw.feed import BarPiece, FeedLine, FeedList, feed_list

_PITCH: Final = 4.8
_WORD: Final = 52.0


def settings_block(solved: SolvedPiece, width: float, units: Units) -> Iterator[Block]:
    """What must be set for both ends of a mark, in the order of doing; nothing where the saw file tells of none."""
    left, right = (dict(setting_lines(reach, units)) if reach else {} for reach in (solved.left, solved.right))
    words = list(dict.fromkeys((*left, *right)))
    if not words:
        return
    room = (width - _WORD - 9) / 2
    rows = [(["Setting up"], ["left end"], ["right end"])]
    rows += [(list(wrap(word, _WORD - 2, 3.0)), _parts(left, word, room), _parts(right, word, room)) for word in words]
    texts, y = [], 0.0
    for i, (label, one, other) in enumerate(rows):
        bold = i == 0 or label[0] == "WARNING"
        for n in range(max(len(label), len(one), len(other))):
            y -= _PITCH
            shown = ((3.0, _WORD - 2, label), (3 + _WORD, room, one), (6 + _WORD + room, room, other))
            texts += [cell(part[n], (x, y), wide, 3.0, bold=bold) for x, wide, part in shown if n < len(part)]
    yield Block(3 - y, box(width, 3 - y) + Drawing(texts))


def _parts(values: dict[str, str], word: str, room: float) -> list[str]:
    return list(wrap(values.get(word, "-"), room, 3.0))


def feed_blocks(solution: Solution, width: float) -> Iterator[Block]:
    """The list to key for every bar, where the saw has a feed and the job has bars."""
    saw, plan, units = solution.job.saw, solution.plan, solution.job.head.units
    if saw is None or saw.feed is None or plan is None:
        return
    for number, bar in enumerate(plan.bars, 1):
        found = feed_list(saw, bar.section, _on_bar(bar, solution), bar.stock_length, bar.count)
        if found:
            yield from _feed_table(number, bar, found, saw, width, units)


def _on_bar(bar: Bar, solution: Solution) -> list[BarPiece]:
    pieces = {solved.mark: solved.piece for solved in solution.pieces}
    return [
        BarPiece(placed.mark, posed.left, posed.right, posed.centerline, placed.at)
        for placed in bar.pieces
        for posed in (pieces[placed.mark].posed(placed.pose),)
    ]


def _feed_table(number: int, bar: Bar, found: FeedList, saw: Saw, width: float, units: Units) -> Iterator[Block]:
    times = f", run it for {found.count} bars" if found.count > 1 else ""
    how = "the automatic cycle makes it" if found.automatic else "some cuts by hand"
    title = f"Feed list of bar {number}: {bar.section.name}, {show_length(bar.stock_length, units)}{times}; {how}"
    start = f"arm at {show_angle(saw.scale.reading(bar.cuts[0].swing))} for the first cut; " if bar.cuts else ""
    says = f"{start}the key is what the bar moves, the kerf at the angle in it; it is not the long point"
    lines = [cell(title, (0, -5), width, 3.6, bold=True), cell(says, (0, -10), width, 3.0)]
    yield Block(12.0, Drawing(lines), keep_with_next=True, gap=0.0)
    columns = [
        Column(f"Bar {number}: key", 26, "right", bold=True, height=3.5),
        Column("Pieces", 16, "right", bold=True, height=3.5),
        Column("Mark", 34),
        Column("Strokes", 17, "right"),
        Column("Measured on, and what to set before", width - 93),
    ]
    yield from table(columns, [_feed_row(line, width - 96, units) for line in found.lines])
    if found.notes:
        notes = [part for note in found.notes for part in wrap(note, width, 3.0)]
        texts = [cell(part, (0, -_PITCH * (i + 1)), width, 3.0) for i, part in enumerate(notes)]
        yield Block(_PITCH * len(notes) + 1, Drawing(texts))


def _feed_row(line: FeedLine, width: float, units: Units) -> list[str]:
    """A line to key; the lead cut is not counted, and the closing line stops the control."""
    if line.quantity == 0:
        return ["0", "0", "", "", "closing line: the control stops here"]
    told = [*line.set_up, line.on, f"by hand: {line.manual}" if line.manual else ""]
    return [
        "" if line.key is None else show_length(line.key, units),
        str(line.quantity) if line.counted else "lead",
        in_lines(line.mark, 31) or "not counted",
        str(line.strokes),
        "\n".join(wrap("; ".join(word for word in told if word), width, 3.0)),
    ]
