"""Paper: blocks put one below the other on pages with a head and a foot; knows drawing only."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Final, Literal

import attrs

from mitertool.drawing import (
    FRAME,
    TEXT,
    THIN,
    Drawing,
    Layer,
    Line,
    Page,
    Polygon,
    Text,
    fit,
    shorten,
    text_width,
    wrap,
)
from mitertool.words import phrase

MARGIN: Final = 12.0
LEAST: Final = 2.5
"""mm. The least height of any lettering on a sheet."""

HEAD: Final = 10.0
FOOT: Final = 10.0
_GAP: Final = 4.0

CELL: Final = 3.2
"""mm. Lettering of a table."""

_PITCH: Final = 5.0
_BOX_PITCH: Final = 5.0
_BOX_LINES: Final = 34
"""Lines of one box, so that it fits any page."""

Anchor = Literal["left", "center", "right"]


@attrs.frozen
class Paper:
    """A paper size, mm, and how much higher than usual its head is."""

    width: float
    height: float
    more_head: float = 0.0

    @property
    def inner(self) -> float:
        """Width between the margins."""
        return self.width - 2 * MARGIN

    @property
    def room(self) -> float:
        """Height between head and foot."""
        return self.height - 2 * MARGIN - HEAD - self.more_head - FOOT


@attrs.frozen
class Block:
    """Something `height` mm high that stays together; its drawing hangs from (0, 0) at its upper left corner.

    `heading` stands above it wherever it comes first on a page; `gap` is left free below it. `loosely`: it is kept with
    the next only where a page holds all that is kept together.
    """

    height: float
    drawing: Drawing
    keep_with_next: bool = False
    heading: Block | None = None
    gap: float = _GAP
    loosely: bool = False


@attrs.frozen
class TableColumn:
    """A column of a table: its title, width (mm), on which side its cells are set, and how high."""

    title: str
    width: float
    anchor: Anchor = "left"
    bold: bool = False
    height: float = CELL


def pages(blocks: Sequence[Block], paper: Paper, head: Callable[[int, int], Drawing]) -> tuple[Page, ...]:
    """The blocks in their order on as few pages as they need; `head(n, of)` draws what every page bears."""
    return tuple(each_page(blocks, paper, head))


def each_page(blocks: Sequence[Block], paper: Paper, head: Callable[[int, int], Drawing]) -> Iterator[Page]:
    """The same one by one: a page takes as much memory as the blocks on it, and there may be a thousand."""
    sheets = _divided(blocks, paper.room)
    for n, sheet in enumerate(sheets, 1):
        yield Page(paper.width, paper.height, _stacked(sheet, paper) + head(n, len(sheets)))


def page_numbers(blocks: Sequence[Block], paper: Paper) -> list[int]:
    """On which page each of the blocks comes, counted from 1."""
    found: list[int] = []
    for number, sheet in enumerate(_divided(blocks, paper.room), 1):
        headed = bool(found) and sheet[0].heading is None and sheet[0] is blocks[len(found)].heading
        found += [number] * (len(sheet) - headed)
    return found


def _divided(blocks: Sequence[Block], room: float) -> list[list[Block]]:
    sheets: list[list[Block]] = [[]]
    used, first = 0.0, 0
    for i, block in enumerate(blocks):
        first = first if i and blocks[i - 1].keep_with_next else i
        if sheets[-1] and used + _needed(blocks, first, i, room) > room:
            sheets.append([block.heading] if block.heading else [])
            used = block.heading.height if block.heading else 0.0
        sheets[-1].append(block)
        used += block.height + block.gap
    return sheets


def _needed(blocks: Sequence[Block], first: int, i: int, room: float) -> float:
    """The height that block i asks for, of those that are kept together from the `first` on.

    The first asks for all of them, where no page holds so much for those that may nowhere be parted from it and the
    next few; a later one, if no page holds them all, for those that may nowhere be parted from it.
    """
    whole = _height(blocks, first, room)
    if i == first:
        kept = max(first + 1 + _KEPT, _head_end(blocks, first) + _ROWS)
        return whole if whole <= room else min(_height(blocks[:kept], first, room), room)
    if whole <= room or not blocks[i - 1].loosely:
        return blocks[i].height
    return min(_height(blocks, i, room, tightly=True), room)


def _height(blocks: Sequence[Block], i: int, room: float, tightly: bool = False) -> float:
    """The height from block i to the last that is kept with it, or to where that is more than a page holds."""
    height = blocks[i].height
    while blocks[i].keep_with_next and not (tightly and blocks[i].loosely) and i + 1 < len(blocks) and height <= room:
        height += blocks[i].gap + blocks[i + 1].height
        i += 1
    return height


def _head_end(blocks: Sequence[Block], first: int) -> int:
    """Behind the titles, each nowhere parted from the next, with which what is kept together begins."""
    return next((i for i in range(first, len(blocks)) if blocks[i].loosely or not blocks[i].keep_with_next), first)


_KEPT: Final = 4
_ROWS: Final = 2
"""Blocks that stay below the first title of what is more than a page holds, and those at least below the last."""


def kept_together(blocks: Sequence[Block]) -> list[Block]:
    """The same blocks, on one page where it holds them all; else parted where they may be parted by themselves."""
    loose = (
        attrs.evolve(one, keep_with_next=True, loosely=not one.keep_with_next or one.loosely) for one in blocks[:-1]
    )
    return [*loose, *blocks[-1:]]


def _stacked(sheet: Iterable[Block], paper: Paper) -> Drawing:
    y = paper.height - MARGIN - HEAD - paper.more_head
    whole = Drawing(())
    for block in sheet:
        whole += block.drawing.moved(MARGIN, y)
        y -= block.height + block.gap
    return whole


_BLOCK_TITLE: Final = 4.5


def titled(says: str, width: float) -> Block:
    """A title that stays with what it stands over."""
    return Block(8.0, Drawing([cell(says, (0, -6), width, _BLOCK_TITLE, bold=True)]), keep_with_next=True, gap=0.0)


def cell(
    says: str,
    at: tuple[float, float],
    width: float,
    height: float = 3.0,
    anchor: Anchor = "left",
    bold: bool = False,
) -> Text:
    """A text that never runs out of `width`: made smaller down to the least height, then cut short."""
    fitting = fit(says, width, height, bold, LEAST)
    x = at[0] + {"left": 0.0, "center": width / 2, "right": width}[anchor]
    shown = says if fitting > LEAST else shorten(says, width, fitting, bold)
    return Text((x, at[1]), shown, fitting, anchor, "baseline", 0.0, bold, TEXT)


def boxed(title: str, lines: Sequence[str], width: float) -> list[Block]:
    """Sentences under a title in a box; a long list goes on in further boxes."""
    wrapped = [(i == 0, part) for line in lines for i, part in enumerate(wrap(line, width - 12, 3.0))]
    parts = [wrapped[i : i + _BOX_LINES] for i in range(0, len(wrapped), _BOX_LINES)]
    titles = [title, *[phrase("page.continued", title=title)] * (len(parts) - 1)]
    return [_box_of(one, part, width) for one, part in zip(titles, parts, strict=True)]


def _box_of(title: str, lines: Sequence[tuple[bool, str]], width: float) -> Block:
    """A box of lines; each says whether it begins a sentence."""
    texts = [cell(title, (3, -6), width - 6, 3.8, bold=True)]
    for n, (first, part) in enumerate(lines, 1):
        y = -6 - _BOX_PITCH * n
        texts += [cell("-", (4, y), 3, 3.0)] if first else []
        texts.append(cell(part, (8, y), width - 10, 3.0))
    height = 10 + _BOX_PITCH * len(lines)
    return Block(height, box(width, height) + Drawing(texts))


def in_lines(says: str, width: float, bold: bool = False) -> str:
    """A cell's text broken at its spaces to fit `width`; a long word is set smaller before it is broken."""
    words_fit = all(text_width(word, CELL, bold) <= width for word in says.split())
    return "\n".join(wrap(says, width, CELL if words_fit else LEAST, bold))


def table(columns: Sequence[TableColumn], rows: Sequence[Sequence[str]]) -> list[Block]:
    """A table as one block a row under its titles, which come again on every page; a cell may have several lines."""
    heading = attrs.evolve(_row([column.title for column in columns], columns, FRAME), keep_with_next=True)
    found = [attrs.evolve(_row(row, columns, THIN), heading=heading) for row in rows]
    return [heading, *found[:-1], *(attrs.evolve(row, gap=_GAP) for row in found[-1:])]


def _row(row: Sequence[str], columns: Sequence[TableColumn], rule: Layer) -> Block:
    """A row with a rule below it; titles (ruled by a border line) are set bold and a little smaller."""
    title = rule is FRAME
    height = _PITCH * max(says.count("\n") + 1 for says in row) + 1.4
    parts: list[Text | Line] = []
    x = 0.0
    for says, column in zip(row, columns, strict=True):
        for i, line in enumerate(says.split("\n")):
            at = (x + 1.5, -_PITCH * (i + 1) + 0.4)
            bold = title or column.bold
            parts.append(cell(line, at, column.width - 3, 2.8 if title else column.height, column.anchor, bold))
        x += column.width
    return Block(height, Drawing([*parts, Line((0, -height), (x, -height), rule)]), gap=0.0)


def box(width: float, height: float) -> Drawing:
    """A frame hanging from (0, 0)."""
    return Drawing([Polygon([(0, 0), (width, 0), (width, -height), (0, -height)], FRAME)])
