"""A brace in a cell from corner to corner, of real width: its tips in the corners, or on one side of each."""

from __future__ import annotations

from cmath import exp
from collections.abc import Iterator, Sequence
from math import asin, degrees
from typing import Final

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.names import among
from mitertool.base.tolerances import CLOSES
from mitertool.base.totals import summed
from mitertool.frame.braces import POINT
from mitertool.frame.inside.cells import Border, Cell
from mitertool.frame.inside.strips import Strip
from mitertool.quantity.problem import Remark, angles, lengths
from mitertool.sections import Section

RISING: Final = ("right", "left", "in", "out")
"""Which way a brace rises: to the right, to the left, toward the middle of the frame or away from it."""

LAPPED: Final = "lapped"
CROSSINGS: Final = ("cut", LAPPED)
"""How a brace crosses the bars before it."""

SQUARE: Final = "square"
ENDS: Final = (POINT, "level", "plumb", SQUARE)


@attrs.frozen
class Diagonal:
    """A brace in every cell of four corners or more, from a lower corner to the opposite upper one.

    `ends` are the lower and the upper one: "point", its tip in the corner between both sides; "level" or "plumb", on
    the flatter or the steeper side of the corner with an edge in the corner; "square", its middle on the corner and one
    edge up to a side, as for a gusset. One with a `crossing` runs through the
    cells as they were before the bars put in last: "cut" in pieces that stop on them, or "lapped", all of them whole.
    In and out are toward and from the upright line at `middle`, that of all cells where None is given.
    """

    section: Section
    rising: str = "right"
    ends: tuple[str, str] = (POINT, POINT)
    crossing: str = ""
    middle: float | None = None

    def __attrs_post_init__(self) -> None:
        if self.rising not in RISING:
            raise BadInput("rising", self.rising, among(RISING))
        if self.crossing and self.crossing not in CROSSINGS:
            raise BadInput("crossing", self.crossing, among(CROSSINGS))
        wrong = next((end for end in self.ends if end not in ENDS), None)
        if wrong is not None:
            raise BadInput("ends", wrong, among(ENDS))

    def strips(self, cells: Sequence[Cell]) -> list[list[Strip]]:
        """The strip that may stand in each of the cells; none in a triangle, all of whose corners are neighbours."""
        low, high = min(cell.across(1)[0] for cell in cells), max(cell.across(1)[1] for cell in cells)
        middle = (low + high) / 2 if self.middle is None else self.middle
        return [list(self._strips(cell, middle)) for cell in cells]

    def told(self, cells: Sequence[Cell]) -> Iterator[Remark]:
        """At how many degrees to the level each lies."""
        rises = [abs(strip.way.imag) for strips in self.strips(cells) for strip in strips]
        for rise in sorted({round(degrees(asin(min(1.0, rise))), 9) for rise in rises}):
            yield Remark("note.brace-inside", angles(angle=rise))
        if SQUARE in self.ends:
            yield Remark("note.brace-square")

    def _strips(self, cell: Cell, middle: float) -> Iterator[Strip]:
        leans = self._leans(cell, middle)
        along = [_along(corner, cell, leans) for corner in cell.corners]
        low, high = along.index(min(along)), along.index(max(along))
        if (low - high) % len(along) in (1, len(along) - 1):
            return
        yield self._strip(cell, low, high)

    def _leans(self, cell: Cell, middle: float) -> int:
        """1 where it rises to the right in this cell, -1 to the left."""
        if self.rising in ("right", "left"):
            return 1 if self.rising == "right" else -1
        west = summed(corner.real for corner in cell.corners) / len(cell.corners) < middle
        return 1 if west == (self.rising == "in") else -1

    def _strip(self, cell: Cell, low: int, high: int) -> Strip:
        start, end = cell.corners[low], cell.corners[high]
        y_low, y_high = (self._held(cell, i, word, end - start) for i, word in zip((low, high), self.ends, strict=True))
        reach = abs(end - start)
        if abs(y_high - y_low) >= reach - CLOSES:
            found = Remark("found.wide", lengths(width=self.section.width))
            raise BadInput("brace", found, Remark("refuse.brace-wide", lengths(reach=reach)))
        way = (end - start) / reach * exp(-1j * asin((y_high - y_low) / reach))
        return Strip(start - way * 1j * y_low, way, self.section, (self.ends[0] == SQUARE, self.ends[1] == SQUARE))

    def _held(self, cell: Cell, i: int, word: str, along: complex) -> float:
        """How far from the strip's right edge the corner lies: on the edge that is away from the side it ends on."""
        if word in (POINT, SQUARE):
            return self.section.width / 2
        edges = cell.edges
        sides = sorted((edges[i - 1], edges[i]), key=lambda edge: abs(edge.way.imag))
        side = sides[0] if word == "level" else sides[1]
        return self.section.width if _right(side, cell.corners[i], along) else 0.0


def _along(corner: complex, cell: Cell, leans: int) -> float:
    """How far a corner lies toward the upper end, each direction by the size of the cell there."""
    (x0, x1), (y0, y1) = cell.across(1 + 0j), cell.across(1j)
    return leans * (corner.real - x0) / (x1 - x0) + (corner.imag - y0) / (y1 - y0)


def _right(side: Border, corner: complex, along: complex) -> bool:
    """Whether a side that meets a corner leaves it to the right of a direction."""
    away = side.end if abs(side.start - corner) < abs(side.end - corner) else side.start
    return ((away - corner) * along.conjugate()).imag < 0
