"""A bar to scale along its length, with its cuts by number and its pieces by name, and its places by tape. Paper mm."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from math import inf
from typing import Final

import attrs

from mitertool.drawing import OUTLINE, THIN, Drawing, Entity, Line, Polygon, Text, text_width, wrap
from mitertool.nest import Bar
from mitertool.packet.floor.rows import ends_of
from mitertool.packet.floor.values import Tape
from mitertool.packet.pages import said
from mitertool.packet.pages.sheet.sizes import NOTE
from mitertool.packet.paper.clear import Edge, is_clear
from mitertool.packet.paper.layout import Block, cell
from mitertool.packet.paper.stand import leads
from mitertool.quantity import Units
from mitertool.saw import Machine
from mitertool.words import phrase

_TALL: Final = 7.0
_ARROW: Final = 5.0
"""Paper mm before the leading end for an arrow."""

_ABOVE: Final = 4.4
"""Above the bar for the numbers of its cuts."""

_LEADER: Final = 4.8
"""Each row of names below the bar that have no room in it."""

_PITCH: Final = 4.3
_AIR: Final = 1.0
_APART: Final = 5.0
"""Between columns of tape places."""

_LINES: Final = 30
"""Lines of tape places in one block, so that it fits any page."""

Name = tuple[float, float, str]
"""From where to where on paper pieces lie that follow each other, and what is written of them."""


@attrs.frozen
class _Strip:
    """A bar on paper, `k` paper mm for one mm of it, its leading end at the side of the paper at which it lies."""

    bar: Bar
    saw: Machine | None
    k: float
    paper: float

    def x(self, place: float) -> float:
        """Where a place counted from the leading end lies on paper, mm."""
        way = 1.0 if leads(self.saw) == "left" else -1.0
        return self.paper / 2 + way * (_ARROW - self.paper / 2 + place * self.k)

    @property
    def ends(self) -> tuple[float, float]:
        """The left and the right end of the bar on paper."""
        low, high = sorted((self.x(0.0), self.x(self.bar.stock_length)))
        return low, high


def strip_block(bar: Bar, saw: Machine | None, width: float, longest: float) -> Block:
    """The bar from above as it runs before the operator, moving side up; the `longest` (mm) as wide as the paper."""
    strip = _Strip(bar, saw, (width - _ARROW) / longest, width)
    low, high = strip.ends
    outline = Polygon([(low, 0), (high, 0), (high, _TALL), (low, _TALL)], THIN)
    cuts = [Line((strip.x(cut.fixed), 0), (strip.x(cut.moving), _TALL), OUTLINE) for cut in bar.cuts]
    names, rows = _names(strip)
    numbers = _numbers(strip)
    picture = Drawing([outline, *cuts, _arrow(strip), *numbers, *names])
    top, deep = max((text.at[1] for text in numbers), default=_TALL) - 1.0 + _ABOVE, _LEADER * rows
    return Block(top + deep + 0.4, picture.moved(0, -top), gap=0.6)


def _arrow(strip: _Strip) -> Polygon:
    """Before the leading end, the way the bar is fed."""
    begin, tip = (strip.x(-share * _ARROW / strip.k) for share in (0.2, 0.85))
    return Polygon([(tip, _TALL / 2), (begin, _TALL / 2 - 1.8), (begin, _TALL / 2 + 1.8)], THIN, fill=0.0)


def _numbers(strip: _Strip) -> list[Text]:
    """The number of each cut above the moving side, near ones in two rows; of many only as many as have room."""
    free = [-inf, -inf]
    found, count = [], len(strip.bar.cuts)
    for number, cut in sorted(enumerate(strip.bar.cuts, 1), key=lambda one: strip.x(one[1].moving)):
        half = text_width(str(number), NOTE) / 2
        x = min(max(strip.x(cut.moving), half), strip.paper - half)
        row = next((i for i, used in enumerate(free) if x - half >= used), None)
        if row is not None and (number in (1, count) or number % _step(strip, count) == 0):
            free[row] = x + half + _AIR
            found.append(Text((x, _TALL + 1.0 + row * _ROW_UP), str(number), NOTE, "center", "baseline"))
    return found


_ROW_UP: Final = 3.8
"""Between the rows of numbers above a bar."""


def _step(strip: _Strip, count: int) -> int:
    """Every how manyth cut is numbered."""
    low, high = strip.ends
    room = (high - low) / (text_width(str(count), NOTE) + 2 * _AIR)
    return next(step for step in (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 10**6) if count / step <= room)


def _names(strip: _Strip) -> tuple[list[Entity], int]:
    """Each run of equal pieces by name: in the bar where it has room, else below it by a leader; and how many rows."""
    found: list[Entity] = []
    below: list[Name] = []
    for begin, end, says in _runs(strip):
        if text_width(says, NOTE) + 2 * _AIR < end - begin:
            found.append(Text(((begin + end) / 2, _TALL / 2), says, NOTE, "center", "middle"))
        else:
            below.append((begin, end, says))
    led, rows = _led(sorted(below), strip.paper)
    return [*found, *led], rows


def _runs(strip: _Strip) -> Iterator[Name]:
    """Equal pieces that follow each other: the room within the slants of one where its name fits, else of all."""
    pairs = zip(strip.bar.pieces, ends_of(strip.bar), strict=True)
    for mark, alike in itertools.groupby(pairs, lambda pair: pair[0].mark):
        spans = [
            sorted((strip.x(max(lead.fixed, lead.moving)), strip.x(min(trail.fixed, trail.moving))))
            for _, (lead, trail) in alike
        ]
        if len(spans) == 1 or min(high - low for low, high in spans) > text_width(mark, NOTE) + 2 * _AIR:
            yield from ((low, high, mark) for low, high in spans)
        else:
            edges = [edge for span in spans for edge in span]
            yield min(edges), min(edges) - 1.0, f"{len(spans)} × {mark}"


def _led(names: Sequence[Name], paper: float) -> tuple[list[Entity], int]:
    """Names below the bar, each with a line up to its pieces, from the right so that no line crosses a name.

    One without a clear place is left out: the rows above name it all the same.
    """
    found: list[Entity] = []
    texts: list[Text] = []
    edges: list[Edge] = []
    rows = 0
    for begin, end, says in reversed(names):
        at = max((begin + end) / 2, begin)
        half = text_width(says, NOTE) / 2
        x = min(at + 0.8 + half, paper - half)
        for row in range(_ROWS_BELOW):
            y = -_LEADER * (row + 1) + 1.2 + NOTE / 2
            text = Text((x, y), says, NOTE, "center", "middle")
            line = ((at, 1.2), (at, y + NOTE * 0.6))
            crossed = any(is_clear(other, [line], ()) is False for other in texts)
            apart = Text((x, y), f"{says}---", NOTE, "center", "middle")
            if not crossed and is_clear(text, edges, ()) and is_clear(apart, (), texts):
                texts.append(text)
                edges.append(line)
                found += [Line(*line, THIN), text]
                rows = max(rows, row + 1)
                break
    return found, rows


_ROWS_BELOW: Final = 4
"""Rows of names below a bar at most."""


def tape_blocks(tapes: Sequence[Tape], units: Units, width: float) -> list[Block]:
    """Where the tape marks of each cut are, in columns: its number, the fixed side, the moving side."""
    if not tapes:
        return []
    cells = [_cells(tape, units) for tape in tapes]
    number = max(text_width(cell[0], NOTE, bold=True) for cell in cells) + 1.5
    place = max(text_width(says, NOTE) for cell in cells for says in cell[1:])
    place = max(place, *(text_width(phrase(f"side.{side}"), NOTE) for side in ("fixed", "moving"))) + 2.5
    column = number + 2 * place
    across = max(1, min(len(cells), int((width + _APART) // (column + _APART))))
    deep = -(-len(cells) // across)
    across = -(-len(cells) // deep)
    at = [(i % deep, (i // deep) * (column + _APART)) for i in range(len(cells))]
    before = ", ".join(str(tape.number) for tape in tapes if not tape.past)
    heading = _tape_titles(before, [i * (column + _APART) + number for i in range(across)], place, width)
    blocks = []
    for first in range(0, deep, _LINES):
        texts = []
        for (row, x), (count, fixed, moving) in zip(at, cells, strict=True):
            if first <= row < first + _LINES:
                y = -_PITCH * (row - first + 1) + 1.2
                texts += [
                    cell(count, (x, y), number, NOTE, bold=True),
                    cell(fixed, (x + number, y), place - 2.0, NOTE, "right"),
                    cell(moving, (x + number + place, y), place - 2.0, NOTE, "right"),
                ]
        blocks.append(Block(_PITCH * min(_LINES, deep - first), Drawing(texts), gap=0.0, heading=heading))
    return [heading, *blocks]


def _cells(tape: Tape, units: Units) -> tuple[str, str, str]:
    return str(tape.number), *said.tape(tape, units)


def _tape_titles(before: str, lefts: Sequence[float], place: float, width: float) -> Block:
    lines = wrap(phrase("sheet.tape-from", cuts=before), width, NOTE)
    texts = [cell(line, (0, -_PITCH * (i + 1) + 1.2), width, NOTE) for i, line in enumerate(lines)]
    deep = _PITCH * (len(lines) + 1)
    for x in lefts:
        texts += [
            cell(phrase(f"side.{side}"), (x + j * place, -deep + 1.2), place - 2.0, NOTE, "right")
            for j, side in enumerate(("fixed", "moving"))
        ]
    return Block(deep, Drawing(texts), keep_with_next=True, gap=0.0)
