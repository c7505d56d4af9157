"""Three proving cuts, each drawn, with what to measure and what it tells; knows paper and words."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from mitertool.drawing import OUTLINE, THIN, Dimension, Drawing, Line, Polygon, Text, wrap
from mitertool.packet.pages.card.told import NOTE, ROW, titled
from mitertool.packet.paper.layout import Block, kept_together
from mitertool.saw import Machine
from mitertool.words import phrase

_HIGH: Final = 14.0
_LONG: Final = 46.0
_PICTURE: Final = 64.0
_PITCH: Final = 4.6


def proving_blocks(saw: Machine | None, width: float) -> Iterator[Block]:
    """The cuts in the order in which they prove the file: square, 45, and a length to a slant."""
    fed = "fed" if saw and saw.feed else "stop"
    cuts = (
        ("square", 0.0, ("W", "L")),
        ("slant", _HIGH, ("W", "L", "S")),
        (f"length/{fed}", _HIGH, ("L",)),
    )
    yield from kept_together(
        [
            titled(phrase("card.prove"), width),
            *(_cut(number, code, lean, blanks, width) for number, (code, lean, blanks) in enumerate(cuts, 1)),
        ]
    )


def _cut(number: int, code: str, lean: float, blanks: tuple[str, ...], width: float) -> Block:
    """A piece from above with its letters, what to do, and lines to write on."""
    x = _PICTURE + 4
    lines = wrap(phrase(f"card.prove.{code}"), width - x, NOTE)
    texts = [Text((x, -5.5 - _PITCH * i), line, NOTE) for i, line in enumerate(lines)]
    low = -5.5 - _PITCH * len(lines) - 5
    written: list[Text | Line] = []
    for i, letter in enumerate(blanks):
        at = x + i * 38
        written += [Text((at, low), letter, ROW, bold=True), Line((at + 6, low - 0.8), (at + 32, low - 0.8), THIN)]
    high = max(34.0, -low + 3)
    drawing = Drawing([Text((0, -5.5), str(number), 5.0, bold=True), *texts, *written])
    return Block(high, drawing + _piece(lean).moved(10, -high / 2 - _HIGH / 2), gap=2.0)


def _piece(lean: float) -> Drawing:
    """A piece, its right end long at the far side by `lean`, with the letters of what is measured."""
    far = _LONG - 4
    outline = Polygon([(0, 0), (far - lean, 0), (far, _HIGH), (0, _HIGH)], OUTLINE, 0.93)
    sizes = [
        Dimension((0, 0), (0, _HIGH), 5, "W", 3.5, 90.0),
        Dimension((0, _HIGH), (far, _HIGH), 6, "L", 3.5, 0.0),
        *([Dimension((0, 0), (far - lean, 0), -6, "S", 3.5, 0.0)] if lean else []),
    ]
    return Drawing([outline, *sizes])
