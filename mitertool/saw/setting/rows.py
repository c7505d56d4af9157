"""What bars side by side in the vise ask of their cuts; knows sections."""

from __future__ import annotations

from mitertool.base.errors import BadInput
from mitertool.base.tolerances import SAME_SLOPE
from mitertool.cut import Cut
from mitertool.sections import Section
from mitertool.sections.abreast import row
from mitertool.words import phrase


def refuse_row(count: int, left: Cut, right: Cut, further: bool = False) -> None:
    """Raise `BadInput` where pieces with these ends cannot be cut in a row: their cuts must be parallel, one an end.

    Where they are not, a bar further from the fixed jaw would come out longer or shorter than its neighbour.
    """
    if count > 1 and further:
        found = phrase("found.row-planes", count=count)
        raise BadInput(phrase("what.side-by-side"), found, phrase("refuse.row-planes"))
    if count > 1 and (abs(left.p + right.p) > SAME_SLOPE or abs(left.q + right.q) > SAME_SLOPE):
        found = phrase("found.row-ends", count=count, left=left.miter, right=right.miter)
        raise BadInput(phrase("what.side-by-side"), found, phrase("refuse.row-ends"))


def lead_in(section: Section, cut: Cut, count: int = 1) -> float:
    """The wedge that the first cut takes off raw square ends of a row: from its nearest to its furthest point, mm."""
    p, q, whole = cut.p, cut.q, row(section, count)
    return whole.support(p, q) + whole.support(-p, -q)
