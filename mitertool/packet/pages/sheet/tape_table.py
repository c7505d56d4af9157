"""Where the tape marks of the cuts of a bar are, and on which side of each the blade takes its kerf. Paper mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import attrs

from mitertool.drawing import Drawing, Entity, text_width, wrap
from mitertool.packet.floor.values import Tape
from mitertool.packet.pages import said
from mitertool.packet.pages.sheet.arrows import kerf_sign
from mitertool.packet.pages.sheet.sizes import NOTE
from mitertool.packet.paper.layout import Block, cell
from mitertool.packet.paper.stand import leads
from mitertool.quantity import Units
from mitertool.saw import Machine
from mitertool.words import phrase

_PITCH: Final = 4.3
_APART: Final = 4.0
"""Between columns of tape places."""

_LINES: Final = 30
"""Lines of tape places in one block, so that it fits any page."""

_SIGN: Final = 8.2
"""What the picture of a mark and its kerf takes before its word."""


@attrs.frozen
class _Columns:
    """The places as they are written, and how wide number, word and place are."""

    cells: tuple[tuple[str, str, str, str], ...]
    number: float
    word: float
    place: float

    @property
    def width(self) -> float:
        """All of them."""
        return self.number + _SIGN + self.word + 2 * self.place


def tape_blocks(
    tapes: Sequence[Tape], saw: Machine | None, units: Units, width: float, needed: bool = False
) -> list[Block]:
    """Where the marks of each cut are, in columns: its number, on which side its kerf lies, fixed side, moving side.

    `needed`: some cut is made by them, so that all are marked before the first takes the end they count from away.
    """
    if not tapes:
        return []
    columns = _columns([(str(tape.number), said.kerf(tape), *said.tape(tape, units)) for tape in tapes])
    across = max(1, min(len(tapes), int((width + _APART) // (columns.width + _APART))))
    deep = -(-len(tapes) // across)
    lefts = [i * (columns.width + _APART) for i in range(-(-len(tapes) // deep))]
    case = _TAPED[needed, any(tape.leans for tape in tapes)]
    heading = _titles(phrase(case), columns, lefts, width)
    rows = [Drawing(_row(i, tape, columns, saw)) for i, tape in enumerate(tapes)]
    blocks = []
    for first in range(0, deep, _LINES):
        placed = Drawing()
        for i, row in enumerate(rows):
            if first <= i % deep < first + _LINES:
                placed += row.moved(lefts[i // deep], -_PITCH * (i % deep - first + 1) + 1.2)
        blocks.append(Block(_PITCH * min(_LINES, deep - first), placed, gap=0.0, heading=heading))
    return [heading, *blocks]


_TAPED: Final = {
    (False, False): "sheet.tape-from",
    (False, True): "sheet.tape-from/bed",
    (True, False): "sheet.tape-from/all",
    (True, True): "sheet.tape-from/all-bed",
}


def _columns(cells: Sequence[tuple[str, str, str, str]]) -> _Columns:
    """As wide as what stands in them and over them."""
    titles = [phrase(f"sheet.tape-{side}") for side in ("fixed", "moving")]
    return _Columns(
        tuple(cells),
        number=max(text_width(one[0], NOTE, bold=True) for one in cells) + 1.5,
        word=max(text_width(one[1], NOTE) for one in cells) + 0.6,
        place=max(text_width(says, NOTE) for says in (*titles, *(says for one in cells for says in one[2:]))) + 2.0,
    )


def _row(i: int, tape: Tape, columns: _Columns, saw: Machine | None) -> Iterator[Entity]:
    """A line of the table with its base line on (0, 0)."""
    number, word, *places = columns.cells[i]
    yield cell(number, (0, 0), columns.number, NOTE, bold=True)
    yield from kerf_sign(tape.past, leads(saw)).moved(columns.number, 0).entities
    left = columns.number + _SIGN
    yield cell(word, (left, 0), columns.word, NOTE)
    for j, says in enumerate(places):
        yield cell(says, (left + columns.word + j * columns.place, 0), columns.place - 0.5, NOTE, "right")


def _titles(says: str, columns: _Columns, lefts: Sequence[float], width: float) -> Block:
    lines = wrap(says, width, NOTE)
    texts = [cell(line, (0, -_PITCH * (i + 1) + 1.2), width, NOTE) for i, line in enumerate(lines)]
    deep = _PITCH * (len(lines) + 1)
    for x in lefts:
        left, y = x + columns.number, -deep + 1.2
        texts.append(cell(phrase("sheet.tape-kerf"), (left, y), _SIGN + columns.word, NOTE))
        left += _SIGN + columns.word
        for j, side in enumerate(("fixed", "moving")):
            at = (left + j * columns.place, y)
            texts.append(cell(phrase(f"sheet.tape-{side}"), at, columns.place - 0.5, NOTE, "right"))
    return Block(deep, Drawing(texts), keep_with_next=True, gap=0.0)
