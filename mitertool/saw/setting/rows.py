"""Bars side by side in the vise, cut at once; knows sections and geometry.

Everything that grows with the number of bars (width, opening, set-backs, contact) follows from the row as one section.
"""

from __future__ import annotations

import attrs

from mitertool.base.errors import BadInput
from mitertool.base.tolerances import SAME_SLOPE
from mitertool.cut import Cut
from mitertool.geometry import Region
from mitertool.sections import Section


def row(section: Section, count: int) -> Section:
    """`count` bars of `section` side by side, each against the next, as one section."""
    if isinstance(count, bool) or not isinstance(count, int) or count < 1:
        raise BadInput("bars side by side", count, "a whole number, 1 or more")
    if count == 1:
        return section
    width = section.width
    loops = tuple(loop for i in range(count) for loop in section.region.moved(i * width, 0.0).loops)
    return attrs.evolve(section, region=Region(loops), name=f"{count} x {section.name}")


def refuse_row(count: int, left: Cut, right: Cut, further: bool = False) -> None:
    """Raise `BadInput` where pieces with these ends cannot be cut in a row: their cuts must be parallel, one an end.

    Where they are not, a bar further from the fixed jaw would come out longer or shorter than its neighbour.
    """
    if count > 1 and further:
        found = f"{count} with more than one cut at an end"
        raise BadInput("bars side by side", found, "only pieces with one cut an end come out alike in a row")
    if count > 1 and (abs(left.p + right.p) > SAME_SLOPE or abs(left.q + right.q) > SAME_SLOPE):
        found = f"{count} with ends of {left.miter:g} and {right.miter:g} degrees"
        raise BadInput("bars side by side", found, "only pieces with parallel cuts come out alike in a row")


def lead_in(section: Section, cut: Cut, count: int = 1) -> float:
    """The wedge that the first cut takes off raw square ends of a row: from its nearest to its furthest point, mm."""
    p, q, whole = cut.p, cut.q, row(section, count)
    return whole.support(p, q) + whole.support(-p, -q)
