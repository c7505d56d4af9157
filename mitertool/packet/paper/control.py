"""A line to measure on paper at 1:1, which tells whether a printer kept its size; knows units and words. Paper mm."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from mitertool.drawing import OUTLINE, THIN, Line, Point, Text
from mitertool.packet.paper.layout import cell
from mitertool.quantity import Units
from mitertool.quantity.units import MM_PER_INCH
from mitertool.words import phrase

_LONG: Final = 100.0
_INCHES: Final = 4.0
"""mm, and inches: the line, as long as a tape of the shop reads in whole figures."""

_LETTERS: Final = 3.0


def control_line(at: Point, width: float, units: Units) -> Iterator[Line | Text]:
    """The line from a point to the right, with its ends and what it must read behind it, `width` wide in all."""
    x, y = at
    long, says = (_LONG, "100 mm") if units == "mm" else (_INCHES * MM_PER_INCH, '4"')
    yield Line(at, (x + long, y), OUTLINE)
    for end in (x, x + long):
        yield Line((end, y - 1.5), (end, y + 1.5), THIN)
    yield cell(phrase("wrap.control", length=says), (x + long + 3, y - 1.2), width - long - 3, _LETTERS)
