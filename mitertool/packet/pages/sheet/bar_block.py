"""The block of a bar, or of a batch of equal ones: title, what stands about it, its rows, strip and tape places."""

from __future__ import annotations

from typing import Final

import attrs

from mitertool.drawing import OUTLINE, THIN, Drawing, Line, Polygon, Text, text_width
from mitertool.packet.floor.values import BarWork, FloorSheet
from mitertool.packet.pages import said
from mitertool.packet.pages.sheet.bar_panel import panel_block
from mitertool.packet.pages.sheet.bar_rows import NOWHERE, OnPage, row_blocks
from mitertool.packet.pages.sheet.bar_strip import side_block, strip_block
from mitertool.packet.pages.sheet.rolled_block import rolled_blocks
from mitertool.packet.pages.sheet.sizes import NOTE, ROW
from mitertool.packet.pages.sheet.tape_table import tape_blocks
from mitertool.packet.paper.layout import Block, cell, kept_together
from mitertool.packet.words import lies, section_words
from mitertool.words import counted, phrase

_TITLE: Final = 7.7
_GAP: Final = 4.0
_BARS: Final = 8
"""Bars of a batch that have a box each to tick."""


def bar_blocks(work: BarWork, floor: FloorSheet, width: float, marked: OnPage = NOWHERE) -> list[Block]:
    """All of a bar in its order, kept on one page where it fits; `width` paper mm wide.

    `marked` says on which page the places along a mark stand.
    """
    units = floor.head.units
    blocks = [_title(work, floor, width)]
    if not work.told_in:
        blocks.append(panel_block(work, floor.saw, units, width, said_above=_lay_beside(work, floor, width)))
        blocks += rolled_blocks(work, units, width)
    blocks += row_blocks(work, floor.saw, units, width, marked)
    if work.run:
        longest = max(bar.run.bar.stock_length for bar in floor.bars if bar.run)
        blocks.append(strip_block(work.run.bar, floor.saw, width, longest))
        side = side_block(work.run.bar, floor.saw, width, longest)
        blocks += [side] if side else []
        blocks += tape_blocks(work.tapes, floor.saw, units, width, work.by_tape)
    blocks[-1] = attrs.evolve(blocks[-1], gap=_GAP)
    return kept_together(blocks)


def _title(work: BarWork, floor: FloorSheet, width: float) -> Block:
    """Its number, what to lay on the saw, a box for each bar of a batch, and where its settings are told."""
    name, words, count = _title_words(work, floor)
    lay, blank = _lay_beside(work, floor, width), _heat_blank(work, floor, width)
    boxes, taken = _bar_boxes(work, width, blank)
    named = min(text_width(name, ROW + 1.2, bold=True), width * 0.45)
    left, counted_room = 3.5 + named, text_width(count, ROW, bold=True) + 2 if count else 0.0
    right = width - taken - counted_room - 2
    room = right - left - (text_width(lay, NOTE, bold=True) + _BESIDE if lay else 0.0)
    texts = [
        cell(name, (0, -6.2), named, ROW + 1.2, bold=True),
        cell(words, (left, -6.2), room, ROW),
        *([cell(lay, (left, -6.2), right - left, NOTE, "right", bold=True)] if lay else []),
        *([cell(count, (width - taken - counted_room, -6.2), counted_room, ROW, bold=True)] if count else []),
    ]
    rule = Line((0, 0), (width, 0), OUTLINE)
    return Block(_TITLE, Drawing([rule, *texts, *boxes]), keep_with_next=True, gap=0.0)


def _title_words(work: BarWork, floor: FloorSheet) -> tuple[str, str, str]:
    """Its name, what to lay on the saw and where its settings are told, and how many they are."""
    name = phrase("sheet.bar", number=work.number) if work.run else work.rows[-1].mark
    facts = [section_words(work.section), work.grade, said.bar_length(work, floor.head.units)]
    as_bar = phrase("sheet.set-as-bar", number=work.told_in) if work.told_in else ""
    words = ", ".join(fact for fact in (*facts, as_bar) if fact)
    told = work.count > 1 or not work.run
    return name, words, counted("sheet.bars" if work.run else "sheet.pieces", work.count) if told else ""


def _lay_beside(work: BarWork, floor: FloorSheet, width: float) -> str:
    """How the bar lies, where there is room for it in the title: "" where it is told beside the vise."""
    says = lies(work.section)
    return says if text_width(says, NOTE, bold=True) + _BESIDE <= _free(work, floor, width) else ""


def _heat_blank(work: BarWork, floor: FloorSheet, width: float) -> float:
    """How wide a blank is for the heat of each bar of a batch, in its title; 0 where it has no room for them."""
    if not work.run or not 1 < work.count <= _HEATS:
        return 0.0
    lay = _lay_beside(work, floor, width)
    free = _free(work, floor, width) - (text_width(lay, NOTE, bold=True) + _BESIDE if lay else 0.0)
    each = (free - text_width(phrase("sheet.heat"), NOTE) - 2.0) / work.count - 1.5
    return min(each, _BLANK) if each >= _LEAST_BLANK else 0.0


def _free(work: BarWork, floor: FloorSheet, width: float) -> float:
    """What its number, its steel, how many it is and a box a bar leave free of a title."""
    name, words, count = _title_words(work, floor)
    free = width - _bar_boxes(work, width)[1] - text_width(name, ROW + 1.2, bold=True) - text_width(words, ROW) - 5.5
    return free - (text_width(count, ROW, bold=True) + 2 if count else 0.0)


_BESIDE: Final = 4.0
"""Between what a bar is and how it lies."""

_HEATS, _BLANK, _LEAST_BLANK = 3, 16.0, 9.0
"""Bars of a batch that have a blank each for their heat, and how wide it is at most and at least."""


def _bar_boxes(work: BarWork, right: float, blank: float = 0.0) -> tuple[list[Polygon | Text | Line], float]:
    """A box to tick for each bar of a batch, with a blank for its heat, ending at `right`; and the room they take."""
    if not work.run or not 1 < work.count <= _BARS:
        return [], 0.0
    each = 4.2 + (blank + 1.5 if blank else 0.0)
    lefts = [right - each * (work.count - i) for i in range(work.count)]
    boxes: list[Polygon | Text | Line] = [
        Polygon([(x, -6.4), (x + 3.4, -6.4), (x + 3.4, -3.0), (x, -3.0)], THIN) for x in lefts
    ]
    if not blank:
        return boxes, each * work.count + 2
    boxes += [Line((x + 4.2, -6.4), (x + 4.2 + blank, -6.4), THIN) for x in lefts]
    heat = phrase("sheet.heat")
    word = Text((lefts[0] - 1.2, -6.2), heat, NOTE, "right", "baseline")
    return [*boxes, word], each * work.count + text_width(heat, NOTE) + 4.0
