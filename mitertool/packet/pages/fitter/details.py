"""What the picture of a frame does not show, side by side below it: openings, rails, open sections. Paper mm."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import attrs

from mitertool.base.totals import summed
from mitertool.drawing import Drawing, text_width, wrap
from mitertool.job import FrameOrder
from mitertool.packet.pages.fitter.cut_through import cut_through_drawing, cuts_through
from mitertool.packet.pages.fitter.in_opening import opening_drawing
from mitertool.packet.pages.fitter.rail_views import rail_views
from mitertool.packet.paper.layout import Block, cell
from mitertool.quantity import Units
from mitertool.words import phrase

_LETTERS: Final = 2.8
_PITCH: Final = 4.2
_BESIDE: Final = 6.0
_TITLE: Final = 70.0
"""mm of a title, from line to line, between two details, and what a title takes at most before it is broken."""


@attrs.frozen
class Detail:
    """A small drawing and what it shows."""

    title: str
    drawing: Drawing


def details(order: FrameOrder, units: Units) -> Iterator[Detail]:
    """Those of a frame: a leaf in its opening, a rail from above and from the side, open sections cut through."""
    if order.opening and not order.image_of:
        yield Detail(phrase("frame.in-opening"), opening_drawing(order, order.opening, units))
    yield from (Detail(title, drawing) for title, drawing in rail_views(order.assembly))
    yield from (Detail(one.title, cut_through_drawing(one)) for one in cuts_through(order.assembly))


def detail_blocks(order: FrameOrder, units: Units, width: float) -> Iterator[Block]:
    """The details in rows, each below its title; one by itself beside its title, where both have room."""
    row: list[tuple[float, Detail]] = []
    for one in details(order, units):
        wide = max(_wide(one.drawing), min(text_width(one.title, _LETTERS, True) + 1.0, _TITLE))
        if row and summed(taken + _BESIDE for taken, _ in row) + wide > width:
            yield _shown(row, width)
            row = []
        row.append((wide, one))
    if row:
        yield _shown(row, width)


def _shown(row: list[tuple[float, Detail]], width: float) -> Block:
    _, only = row[0]
    free = width - _wide(only.drawing) - _BESIDE
    return _beside(only) if len(row) == 1 and min(text_width(only.title, _LETTERS, True), _TITLE) < free else _row(row)


def _beside(one: Detail) -> Block:
    """A detail at the right of its title, which stands at the middle of its height."""
    left, low, _, high = one.drawing.bounds()
    lines = wrap(one.title, _TITLE, _LETTERS, True)
    wide = max(text_width(line, _LETTERS, True) for line in lines) + 1.0
    tall = max(high - low, _PITCH * len(lines))
    top = (_PITCH * len(lines) - tall) / 2
    title = [cell(line, (0.0, top - _PITCH * (i + 1) + 0.6), wide, _LETTERS, bold=True) for i, line in enumerate(lines)]
    return Block(
        tall + 1.0, Drawing(title) + one.drawing.moved(wide + _BESIDE - left, -(tall + high + low) / 2), gap=1.5
    )


def _wide(drawing: Drawing) -> float:
    left, _, right, _ = drawing.bounds()
    return right - left


def _row(row: list[tuple[float, Detail]]) -> Block:
    titles = [wrap(one.title, wide, _LETTERS, True) for wide, one in row]
    above = _PITCH * max(map(len, titles)) + 1.5
    boxes = [one.drawing.bounds() for _, one in row]
    tall = max(high - low for _, low, _, high in boxes)
    whole, x = Drawing(()), 0.0
    for (wide, one), lines, (left, low, right, high) in zip(row, titles, boxes, strict=True):
        texts = [cell(line, (x, -_PITCH * (i + 1) + 0.6), wide, _LETTERS, bold=True) for i, line in enumerate(lines)]
        shift = x - left if right - left > wide else x + (wide - right - left) / 2
        whole += Drawing(texts) + one.drawing.moved(shift, -above - tall + (tall - high - low) / 2)
        x += max(wide, right - left) + _BESIDE
    return Block(above + tall + 1.0, whole, gap=1.5)
