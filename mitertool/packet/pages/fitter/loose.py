"""The marks that stand in no frame, told behind the frames so that nobody looks for them there; knows words."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from mitertool.drawing import Drawing, wrap
from mitertool.job import Solution
from mitertool.packet.paper.layout import Block, cell
from mitertool.words import phrase

_LETTERS: Final = 2.8
_PITCH: Final = 4.6
"""mm of capitals, and from line to line."""


def loose_says(solution: Solution) -> str:
    """Each mark of no frame with its number; "" where all stand in one, and where no frame is drawn."""
    loose = [one for one in solution.pieces if not one.order.frame] if solution.frames else []
    if not loose:
        return ""
    marks = (phrase("frame.loose/mark", count=one.quantity, mark=one.mark) for one in loose)
    return phrase("frame.loose", marks=", ".join(marks))


def loose_blocks(solution: Solution, width: float) -> Iterator[Block]:
    """The same on paper, a block a line."""
    for line in wrap(loose_says(solution), width, _LETTERS):
        yield Block(_PITCH, Drawing([cell(line, (0.0, -3.6), width, _LETTERS)]), gap=0.0)
