"""A cut as a square and a tape mark it on the faces of a bar, and an angle as two tape readings prove it."""

from __future__ import annotations

from math import radians, sin
from typing import Literal

import attrs

from mitertool.base.tolerances import SAME_SLOPE
from mitertool.cut.cut import Cut
from mitertool.sections import Section


@attrs.frozen
class HandLine:
    """How far a line leaves the square line over the size of a face, mm: `back` over `over`.

    The bar is long on the side `long`: "moving" and "fixed" are marked on top and bottom, "top" and "bottom" on both
    sides.
    """

    long: Literal["moving", "fixed", "top", "bottom"]
    back: float
    over: float


def set_backs(section: Section, cut: Cut) -> tuple[HandLine, ...]:
    """What is marked for a cut: one line where it is plain, one across and one up where it is compound.

    Over the width W of the section's box a cut sets back by W p, over its height H by H q. None for a square cut, and
    for a round section, which has no face to mark.
    """
    if section.shape.round:
        return ()
    across = HandLine("moving" if cut.p > 0 else "fixed", abs(cut.p) * section.width, section.width)
    up = HandLine("top" if cut.q > 0 else "bottom", abs(cut.q) * section.height, section.height)
    return tuple(one for one, slope in ((across, cut.p), (up, cut.q)) if abs(slope) > SAME_SLOPE)


def across_legs(angle: float, leg: float) -> float:
    """What a tape reads across an angle (degrees) from `leg` along one side to `leg` along the other, mm."""
    return 2 * leg * sin(radians(angle / 2))
