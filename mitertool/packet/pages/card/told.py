"""Rows of the card: a small picture and a sentence beside it, under a title; knows paper only."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from mitertool.drawing import Drawing, Text, wrap
from mitertool.packet.paper.layout import Block, cell

ROW: Final = 3.5
NOTE: Final = 2.8
"""mm of capitals, 14 and 11 pt."""

_PICTURE: Final = 34.0
_PITCH: Final = 5.4
_NOTE_PITCH: Final = 4.4
_LOW: Final = 8.6
"""mm. A row is at least so high, for its picture."""


def titled(says: str, width: float) -> Block:
    """A title over rows."""
    return Block(8.5, Drawing([cell(says, (0, -6), width, 4.5, bold=True)]), keep_with_next=True, gap=0.0)


def row(picture: Drawing, says: str, width: float) -> Block:
    """A picture about the middle of its box, which is 34 mm wide, and a sentence beside it."""
    _, low, _, top = picture.bounds()
    lines = wrap(says, width - _PICTURE - 3, ROW)
    high = max(_LOW, 2 * max(-low, top), _PITCH * len(lines) + 0.8)
    first = -(high - _PITCH * (len(lines) - 1)) / 2 - ROW / 2
    texts = [Text((_PICTURE + 3, first - _PITCH * i), line, ROW) for i, line in enumerate(lines)]
    return Block(high, picture.moved(_PICTURE / 2, -high / 2) + Drawing(texts), gap=0.3)


def notes(sentences: Sequence[str], width: float) -> list[Block]:
    """Sentences, each with a dash before it."""
    return [_note(wrap(says, width - 5, NOTE)) for says in sentences]


def _note(lines: Sequence[str]) -> Block:
    texts = [Text((4, -_NOTE_PITCH * (i + 1) + 0.9), line, NOTE) for i, line in enumerate(lines)]
    return Block(_NOTE_PITCH * len(lines) + 0.2, Drawing([Text((0, -_NOTE_PITCH + 0.9), "-", NOTE), *texts]), gap=0.0)
